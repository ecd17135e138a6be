"""Which side the rain runs to: strips along the fall, from the side above to the side below."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from evenfall.calc.geometry.polygon import Point, Polygon, checked
from evenfall.errors import InvalidInput

TOUCH = 1e-9  # m; narrower is the rounding of a corner, not a strip


@dataclass(frozen=True, slots=True)
class Strip:
    """A strip of roof: the sides at its lower and upper end, its area, its length of upper side.

    ``across`` is where its middle lies across the fall, as `across` measures.
    """

    low: int
    high: int
    area: float  # m2
    high_length: float  # m
    across: float = 0.0  # m


def across(p: Point, downhill: Point) -> float:
    """Measure a place across the fall.

    Parameters
    ----------
    p : (x, y)
        The place [m].
    downhill : (x, y)
        Unit vector of the fall [-].

    Returns
    -------
    float
        Distance from the origin, to the left of one who looks down the fall [m].

    Examples
    --------
    >>> across((2.0, 3.5), (0.0, -1.0))
    2.0
    """
    return downhill[0] * p[1] - downhill[1] * p[0]


def strips(deck: Polygon, downhill: Point, cuts: tuple[float, ...] = ()) -> tuple[Strip, ...]:
    """Divide a roof into strips along the fall; water does not pass an edge.

    Parameters
    ----------
    deck : polygon
        The roof, anticlockwise; side i runs from corner i to the next [m].
    downhill : (x, y)
        Unit vector of the fall [-].
    cuts : tuple of float
        Where strips are cut besides, as `across` measures [m].

    Returns
    -------
    tuple of Strip
        Their areas add up to that of the roof [m2].

    Examples
    --------
    >>> strips(((0, 0), (6.2, 0), (6.2, 4.1), (0, 4.1)), (0.0, -1.0))
    (Strip(low=0, high=2, area=25.42, high_length=6.2, across=3.1),)
    """
    dx, dy = downhill
    if abs(math.hypot(dx, dy) - 1) > 1 / 10**6:
        raise InvalidInput(f"{downhill}", "a unit vector", where="downhill")
    turned = [(across(p, downhill), -dx * p[0] - dy * p[1]) for p in checked(deck)]
    edges = list(zip(turned, (*turned[1:], turned[0]), strict=True))
    at = sorted({u for u, _ in turned} | set(cuts))
    found = []
    for left, right in pairwise(at):
        if right - left <= TOUCH:
            continue
        middle = (left + right) / 2
        hits = sorted(
            (_height(edge, middle), i) for i, edge in enumerate(edges) if _spans(edge, middle)
        )
        for (v0, low), (v1, high) in zip(hits[::2], hits[1::2], strict=True):
            width = right - left
            along = width * math.dist(*edges[high]) / abs(edges[high][1][0] - edges[high][0][0])
            found.append(Strip(low, high, (v1 - v0) * width, along, middle))
    return tuple(found)


def _spans(edge: tuple[Point, Point], u: float) -> bool:
    (u0, _), (u1, _) = edge
    return min(u0, u1) < u < max(u0, u1)


def _height(edge: tuple[Point, Point], u: float) -> float:
    (u0, v0), (u1, v1) = edge
    return v0 + (v1 - v0) * (u - u0) / (u1 - u0)

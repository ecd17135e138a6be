"""Zones F, G, H and I on a plan of any shape, for every wind that is square to its main side.

EN 1991-1-4 knows rectangles alone. The rule taken here for every other plan:

1. The *rectangle round the plan* lies in the direction of the plan's longest side, because that
   side is the best taped one, and because zones have to be marked on a deck by tape from its edges.
   Four winds meet its four sides; each lays its zones F, G, H and I on it (Figure 7.6).
2. *Every side of the plan*, whichever way it runs, is also met square by a wind of its own. That
   wind lays an edge strip G along it, and a corner F at each end that turns outwards by 30 degrees
   or more. b of that wind is the width of the whole plan along the side. So a skewed or cut-off
   side, and the inner side of an L, get what another rectangle would have given them.
3. At each place the worst of all winds governs; nothing is taken off for the shelter of a house
   beside the roof.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, dist, radians

from evenfall.calc.geometry.polygon import Point, Polygon
from evenfall.calc.geometry.polygon import sides as sides_of
from evenfall.calc.geometry.rectangles import bounding_rectangle
from evenfall.calc.loads.limits import positive
from evenfall.calc.loads.roof_zones import Rectangle, WindFrom, zone_length, zones_from
from evenfall.standards import en_1991_1_4 as en

CORNER_TURN_DEG = 30.0
"""A corner that turns less is a bend: an edge taped in two halves, a step of a round bay."""
BEYOND_M = 0.001
"""Zones reach so far past the rectangle, so that rounding leaves no gap at an edge."""

_OUT: dict[WindFrom, Point] = {
    "bottom": (0.0, -1.0), "right": (1.0, 0.0), "top": (0.0, 1.0), "left": (-1.0, 0.0),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Laid:
    """A zone as one wind lays it; ``onto`` points to where that wind comes from."""

    zone: en.Zone
    onto: Point
    ring: Polygon


def laid(plan: Polygon, h: float) -> tuple[Laid, ...]:
    """Lay the zones of every wind over a plan by the rule of this module.

    Parameters
    ----------
    plan : tuple of (x, y)
        Corners, anticlockwise [m].
    h : float
        Height of the finished roof, without its parapet [m].

    Returns
    -------
    tuple of Laid
        Zones that lie over each other; together they cover the plan [m].

    Raises
    ------
    InvalidInput
        A height that is not above 0.

    Examples
    --------
    >>> ell = ((0, 0), (8, 0), (8, 3), (3, 3), (3, 7), (0, 7))
    >>> [z.zone for z in laid(ell, 3.0) if z.onto == (1.0, 0.0)]
    ['F', 'F', 'G', 'H', 'I', 'F', 'F', 'G', 'F']
    """
    positive("h", h, "m")
    return (*_of_rectangle(plan, h), *_of_sides(plan, h))


def longest_side(plan: Polygon) -> Point:
    """Direction of the longest side; of several, that of the first.

    Parameters
    ----------
    plan : tuple of (x, y)
        Corners in order [m].

    Returns
    -------
    (x, y)
        Unit vector along it [-].

    Examples
    --------
    >>> longest_side(((0, 0), (3, 4), (-1, 7), (-4, 3)))
    (0.6, 0.8)
    """
    (ax, ay), (bx, by) = max(sides_of(plan), key=lambda s: round(dist(*s), 6))
    length = dist((ax, ay), (bx, by))
    return (bx - ax) / length, (by - ay) / length


def _of_rectangle(plan: Polygon, h: float) -> Iterator[Laid]:
    """Lay the zones of the four winds square to the longest side."""
    box = bounding_rectangle(plan, longest_side(plan))
    (x, y), (u, v) = box.corners[0], box.direction

    def place(along: float, across: float) -> Point:
        return x + along * u - across * v, y + along * v + across * u

    for side, (a, c) in _OUT.items():
        onto = (a * u - c * v, a * v + c * u)
        for zone in zones_from(side, box.along, box.across, h):
            for at in zone.rectangles:
                x0, y0, x1, y1 = _beyond(at, box.along, box.across)
                ring = (place(x0, y0), place(x1, y0), place(x1, y1), place(x0, y1))
                yield Laid(zone.zone, onto, ring)


def _beyond(at: Rectangle, along: float, across: float) -> Rectangle:
    x0, y0, x1, y1 = at
    return (
        x0 - BEYOND_M * (x0 <= 0), y0 - BEYOND_M * (y0 <= 0),
        x1 + BEYOND_M * (x1 >= along), y1 + BEYOND_M * (y1 >= across),
    )  # fmt: skip


def _of_sides(plan: Polygon, h: float) -> Iterator[Laid]:
    """Lay the edge strip of every side, and its corners that turn outwards."""
    found = sides_of(plan)
    ways = [_unit(a, b) for a, b in found]
    for i, (a, b) in enumerate(found):
        length, (u, v) = dist(a, b), ways[i]
        reach = [x * u + y * v for x, y in plan]
        e = zone_length(max(reach) - min(reach), h)
        depth, corner = e / 10, min(e / 4, length)
        onto = (v, -u)
        at_a = corner if _turns(ways[i - 1], ways[i]) else 0.0
        at_b = corner if _turns(ways[i], ways[(i + 1) % len(ways)]) else 0.0
        if at_a + at_b < length:
            yield Laid("G", onto, _strip(a, ways[i], (at_a, length - at_b), depth))
        if at_a:
            yield Laid("F", onto, _strip(a, ways[i], (0.0, at_a), depth))
        if at_b:
            yield Laid("F", onto, _strip(a, ways[i], (length - at_b, length), depth))


def _unit(a: Point, b: Point) -> Point:
    length = dist(a, b)
    return (b[0] - a[0]) / length, (b[1] - a[1]) / length


def _turns(before: Point, after: Point) -> bool:
    """Tell whether the corner between two sides points out of the roof."""
    (a, b), (c, d) = before, after
    return a * d - b * c > 0 and a * c + b * d <= cos(radians(CORNER_TURN_DEG))


def _strip(a: Point, way: Point, along: tuple[float, float], depth: float) -> Polygon:
    """Rectangle along a side, its outer edge a hair outside the roof."""
    (x, y), (u, v) = a, way

    def place(t: float, s: float) -> Point:
        return x + t * u - s * v, y + t * v + s * u

    low, high = along
    return place(low, -BEYOND_M), place(high, -BEYOND_M), place(high, depth), place(low, depth)

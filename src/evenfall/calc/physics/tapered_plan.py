"""Heat through the tapered plan as it is: its parts cut into rectangles and triangles (ISO 6946).

A part has a convex outline over which the added thickness changes evenly. One that is a rectangle
and falls along two of its sides stays whole; any other is cut into triangles from its first corner.
What no board lies on (an opening) is cut up the same way and taken off.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from evenfall.calc.geometry.polygon import Point, Polygon, area, signed_area
from evenfall.calc.physics.tapered import Shape, corners_differ, rectangle
from evenfall.calc.physics.weighting import mean_by_area
from evenfall.errors import InvalidInput, OutOfScope
from evenfall.standards import iso_6946

ALIKE = 1e-9  # m of taper; less is the rounding of a sum
SQUARE = 1e-6  # cosine between sides that counts as square


@dataclass(frozen=True, slots=True)
class Cut:
    """One rectangle or triangle of the tapered plan.

    Parameters
    ----------
    shape : str
        As in `tapered.Part` [-].
    area : float
        Its area; less than 0 where it is taken off [m2].
    added : tuple of float
        Taper at its corners, the thinnest first; both ends of a rectangle [m].
    """

    shape: Shape
    area: float
    added: tuple[float, ...]

    def U(self, R0: float, lambda_: float) -> float:
        """Mean transmittance over boards that add this taper to a resistance ``R0``, W/(m2K)."""
        least, *more = (t / lambda_ for t in self.added)
        tapers = [R - least for R in more]
        if self.shape == "rectangle":
            return rectangle(R0 + least, tapers[0])
        return corners_differ(R0 + least, tapers[0], tapers[1])


def cut_up(ring: Polygon, added: Sequence[float], *, off: bool = False) -> tuple[Cut, ...]:
    """Cut one part of the tapered plan into rectangles and triangles.

    Parameters
    ----------
    ring : tuple of (x, y)
        Its outline, convex, either way round [m].
    added : sequence of float
        Taper at each corner, on one plane [m].
    off : bool
        Whether it is taken off [-].

    Returns
    -------
    tuple of Cut
        Shapes that fill the outline once [m2].

    Raises
    ------
    OutOfScope
        If the taper is steeper than the annex allows.

    Examples
    --------
    >>> ring = ((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0))
    >>> [(c.shape, c.area, c.added) for c in cut_up(ring, (0.0, 0.0, 0.075, 0.075))]
    [('rectangle', 12.0, (0.0, 0.075))]
    >>> [c.shape for c in cut_up(ring[:3], (0.0, 0.0, 0.075))]
    ['thickest at apex']

    References
    ----------
    ISO 6946 (2007 Annex C, 2017 Annex E), from memory.
    """
    if len(ring) != len(added) or len(ring) < 3 or any(not t >= 0 for t in added):
        raise InvalidInput(f"{len(added)} tapers", "one of 0 or more to a corner", where="taper")
    _gentle(ring, added)
    sign = -1.0 if off else 1.0
    if _is_plain(ring, added):
        return (Cut("rectangle", sign * area(ring), (min(added), max(added))),)
    fan = ((0, i, i + 1) for i in range(1, len(ring) - 1))
    cuts = (_triangle([ring[i] for i in three], [added[i] for i in three], sign) for three in fan)
    return tuple(c for c in cuts if c.area)


def _triangle(at: list[Point], added: list[float], sign: float) -> Cut:
    low, middle, high = sorted(added)
    shape: Shape = "corners differ"
    if middle - low < ALIKE:
        shape = "thickest at apex"
    elif high - middle < ALIKE:
        shape = "thinnest at apex"
    return Cut(shape, sign * area(tuple(at)), (low, middle, high))


def _is_plain(ring: Polygon, added: Sequence[float]) -> bool:
    """Tell whether it is a rectangle that falls along two of its sides."""
    if len(ring) != 4:
        return False
    ways = [(b[0] - a[0], b[1] - a[1]) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)]
    for (u, v), (w, z) in zip(ways, (*ways[1:], ways[0]), strict=True):
        if abs(u * w + v * z) > SQUARE * math.hypot(u, v) * math.hypot(w, z):
            return False
    a, b, c, d = added
    along = abs(a - b) < ALIKE and abs(c - d) < ALIKE
    return along or (abs(b - c) < ALIKE and abs(d - a) < ALIKE)


def _gentle(ring: Polygon, added: Sequence[float]) -> None:
    """Refuse a taper that is steeper than the annex allows; three corners give its plane."""
    limit = iso_6946.TAPER_SLOPE_LIMIT
    spread = [
        (abs(signed_area((ring[0], ring[i], ring[i + 1]))), i) for i in range(1, len(ring) - 1)
    ]
    _, i = max(spread)
    (x0, y0), (x1, y1), (x2, y2) = ring[0], ring[i], ring[i + 1]
    u, v, w, z = x1 - x0, y1 - y0, x2 - x0, y2 - y0
    p, q = added[i] - added[0], added[i + 1] - added[0]
    twice = u * z - v * w
    if not twice:
        raise InvalidInput("corners on one line", "an outline with an area", where="taper")
    slope = math.hypot((p * z - v * q) / twice, (u * q - p * w) / twice)
    if slope > limit + ALIKE:
        raise OutOfScope("slope", round(slope, 4), f"0 to {limit.value:g}", limit.where)


def mean_u(cuts: Iterable[Cut], R0: float, lambda_: float) -> float:
    """Give the transmittance of the whole tapered plan, the mean of U by area.

    Parameters
    ----------
    cuts : iterable of Cut
        All shapes of the plan [m2].
    R0 : float
        Total resistance where the taper has no thickness [m2K/W].
    lambda_ : float
        Conductivity of the tapered boards [W/(m K)].

    Returns
    -------
    float
        Mean transmittance [W/(m2K)].

    Examples
    --------
    >>> cuts = cut_up(((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0)), (0.0, 0.0, 0.0704, 0.0704))
    >>> mean_u(cuts, 1.24, 0.022)
    0.398607

    References
    ----------
    ISO 6946 (2007 Annex C, 2017 Annex E), from memory.
    """
    return mean_by_area((c.U(R0, lambda_), c.area) for c in cuts)

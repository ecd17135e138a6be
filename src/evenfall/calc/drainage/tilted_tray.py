"""Pools on a tilted plan: where water gathers in a tray, and how much of the plan it covers.

Water that stands is level. So from a corner from which the roof rises both ways it covers what lies
no more than its depth above that corner and hangs together with it: the plan cut off by a line
across the fall. A pool that reaches a lower part of the roof runs over into it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import shapely
from shapely.geometry import Polygon as Shape
from shapely.geometry.base import BaseGeometry

from evenfall.calc.geometry.polygon import Point, Polygon, checked

STEPS = 48  # halvings: far below a hair on any roof
TOUCH = 1e-6  # m; corners as high as each other to the rounding of a survey


@dataclass(frozen=True, slots=True)
class Pool:
    """Water from one low corner: what it covers when all the rain has run to it."""

    lowest: Point
    area: float  # m2 of the plan covered
    middle: float  # m up the fall from the lowest place to the middle of that area
    reach: float  # m up the fall to the edge of the water
    longest: float  # m up the fall that this pool could reach at all
    spills: bool  # runs over into a lower part before it holds all the rain


def along(ring: Polygon, downhill: Point) -> tuple[float, ...]:
    """Measure how far up the fall each corner lies, from the lowest.

    Parameters
    ----------
    ring : polygon
        Outline [m].
    downhill : (x, y)
        Unit vector of the fall [-].

    Returns
    -------
    tuple of float
        For each corner [m].

    Examples
    --------
    >>> along(((0.0, 0.0), (5.0, 0.0), (5.0, 6.4), (0.0, 6.4)), (0.0, -1.0))
    (0.0, 0.0, 6.4, 6.4)
    """
    down = [x * downhill[0] + y * downhill[1] for x, y in ring]
    return tuple(max(down) - d for d in down)


def free_area(ring: Polygon, kerbs: tuple[Polygon, ...] = ()) -> float:
    """Measure what a level sheet of water covers.

    Parameters
    ----------
    ring : polygon
        Outline [m].
    kerbs : tuple of polygon
        What stands up in it [m].

    Returns
    -------
    float
        Area [m2].

    Examples
    --------
    >>> tray = ((0.0, 0.0), (5.0, 0.0), (5.0, 6.4), (0.0, 6.4))
    >>> free_area(tray, (((1.0, 1.0), (2.0, 1.0), (2.0, 2.0), (1.0, 2.0)),))
    31.0
    """
    return float(_free(ring, kerbs).area)


def _free(ring: Polygon, kerbs: tuple[Polygon, ...]) -> BaseGeometry:
    whole: BaseGeometry = Shape(checked(ring))
    return whole.difference(shapely.union_all([Shape(k) for k in kerbs])) if kerbs else whole


def pools(
    ring: Polygon, downhill: Point, S: float, V: float, kerbs: tuple[Polygon, ...] = ()
) -> tuple[Pool, ...]:
    """Let all the rain run to each low corner in turn; no corner can hold more.

    Parameters
    ----------
    ring : polygon
        Outline of the tray [m].
    downhill : (x, y)
        Unit vector of the fall [-].
    S : float
        Fall, above 0 [m/m].
    V : float
        Volume of the rain, above 0 [m3].
    kerbs : tuple of polygon
        What stands up in it [m].

    Returns
    -------
    tuple of Pool
        One for each corner from which the roof rises, or runs level, both ways [-].

    Examples
    --------
    >>> tray = ((0.0, 0.0), (5.0, 0.0), (5.0, 6.4), (0.0, 6.4))
    >>> [(round(p.area, 3), round(p.reach, 4)) for p in pools(tray, (0.0, -1.0), 0.0125, 0.8)]
    [(25.298, 5.0596)]
    """
    tray = _Tray(_free(ring, kerbs), ring, along(ring, downhill), downhill)
    found = (_pool(tray, n, S, V) for n in _low_corners(tray.up))
    return tuple(pool for pool in found if pool.reach > TOUCH)  # a film on a ledge is no pool


@dataclass(frozen=True, slots=True)
class _Tray:
    """The plan, its corners, how far up the fall each lies, and the way of the fall."""

    shape: BaseGeometry
    ring: Polygon
    up: tuple[float, ...]
    downhill: Point

    def covered(self, n: int, reach: float) -> BaseGeometry:
        """Cut off what lies up to ``reach`` above corner n, as far as it hangs together with it."""
        (x, y), (u, v) = self.ring[n], self.downhill
        far = 2 * sum(abs(c) for p in self.ring for c in p) + 2 * max(self.up) + 1
        a = (x - u * reach, y - v * reach)
        ends = [
            (a[0] + i * far * v + j * far * u, a[1] - i * far * u + j * far * v)
            for i, j in ((-1, 0), (1, 0), (1, 1), (-1, 1))
        ]
        wet = self.shape.intersection(Shape(ends))
        parts = [p for p in getattr(wet, "geoms", (wet,)) if p.area > 0]
        at = shapely.Point(self.ring[n])
        return min(parts, key=lambda p: p.distance(at), default=Shape())

    def over(self, n: int, wet: BaseGeometry) -> bool:
        """Tell whether water from corner n has reached a lower part of the roof."""
        u, v = self.downhill
        x, y = self.ring[n]
        low = max((p[0] * u + p[1] * v for p in _corners(wet)), default=-1e9)
        return low > x * u + y * v + TOUCH


def _corners(wet: BaseGeometry) -> Iterator[Point]:
    if isinstance(wet, Shape) and not wet.is_empty:
        yield from ((float(x), float(y)) for x, y in wet.exterior.coords)


def _low_corners(up: tuple[float, ...]) -> Iterator[int]:
    """Pick the corners from which the outline rises; of a level run the first."""
    n = len(up)
    for i in range(n):
        if up[i - 1] <= up[i] + TOUCH:
            continue
        j = i
        while up[(j + 1) % n] <= up[j % n] + TOUCH and up[(j + 1) % n] >= up[i] - TOUCH:
            j += 1
        if up[(j + 1) % n] > up[i] + TOUCH:
            yield i


def _pool(tray: _Tray, n: int, S: float, V: float) -> Pool:
    """Raise the water until it holds the rain or runs over."""
    low, high = 0.0, max(tray.up) - tray.up[n]
    longest = high
    if _held(tray.covered(n, high), tray, n, S, high) < V and not tray.over(
        n, tray.covered(n, high)
    ):
        return _at(tray, n, high, longest, False)
    for _ in range(STEPS):
        middle = (low + high) / 2
        wet = tray.covered(n, middle)
        if tray.over(n, wet) or _held(wet, tray, n, S, middle) >= V:
            high = middle
        else:
            low = middle
    return _at(tray, n, low, longest, tray.over(n, tray.covered(n, high)))


def _held(wet: BaseGeometry, tray: _Tray, n: int, S: float, reach: float) -> float:
    return float(wet.area) * S * (reach - _middle(wet, tray, n))


def _middle(wet: BaseGeometry, tray: _Tray, n: int) -> float:
    if wet.is_empty:
        return 0.0
    (x, y), (u, v) = tray.ring[n], tray.downhill
    return float((x - wet.centroid.x) * u + (y - wet.centroid.y) * v)


def _at(tray: _Tray, n: int, reach: float, longest: float, spills: bool) -> Pool:
    wet = tray.covered(n, reach)
    return Pool(tray.ring[n], float(wet.area), _middle(wet, tray, n), reach, longest, spills)

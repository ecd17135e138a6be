"""Contours and arrows of fall of a surface in flat cells."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from evenfall.calc.geometry.polygon import Point, area
from evenfall.calc.geometry.relief import Net, Relief

JOIN = 1e-6  # m; ends of lines nearer than this are one
STEPS = (1, 2, 5)  # contours are told at round levels
LEVEL = 1e-4  # less fall towards a line brings it no water
TINY = 1e-4  # m2; the slope of a smaller cell is that of a rounding


def round_step(height: float, most: int = 10) -> float:
    """Choose a round distance between contours.

    Parameters
    ----------
    height : float
        From the lowest to the highest level, more than 0 [mm].
    most : int
        Contours at most [-].

    Returns
    -------
    float
        1, 2 or 5 times a power of ten [mm].

    Examples
    --------
    >>> round_step(46.0), round_step(130.0)
    (5.0, 20.0)
    """
    power = 10.0 ** math.floor(math.log10(height / most))
    return next(
        step * scale
        for scale in (power, 10 * power)
        for step in STEPS
        if height / (step * scale) <= most
    )


def contour(relief: Relief, level: float) -> tuple[tuple[Point, ...], ...]:
    """Find the lines of one level.

    Parameters
    ----------
    relief : Relief
        The surface [m].
    level : float
        The level [m].

    Returns
    -------
    tuple of lines
        Each from end to end, or round to its start [m].

    Examples
    --------
    >>> from evenfall.calc.geometry.relief import net, relief
    >>> slope = relief(net(((0, 0), (6, 0), (6, 4), (0, 4))), lambda p: tuple(y / 40 for _, y in p))
    >>> [sorted(line) for line in contour(slope, 0.05)]
    [[(0.0, 2.0), (6.0, 2.0)]]
    """
    cuts = [c for cell in relief.net.cells if (c := _cut(relief.net, relief, cell, level))]
    return tuple(_chains(cuts))


def _chains(cuts: list[list[Point]]) -> Iterator[tuple[Point, ...]]:
    """Join stretches end to end into lines."""
    at: dict[Point, list[int]] = {}
    for n, cut in enumerate(cuts):
        for end in cut:
            at.setdefault(_key(end), []).append(n)
    left = set(range(len(cuts)))
    starts = sorted(left, key=lambda n: all(len(at[_key(e)]) == 2 for e in cuts[n]))
    for n in starts:  # lines with an end first, rings after them
        if n in left:
            left.remove(n)
            line = list(cuts[n])
            for _ in range(2):
                while (m := next((m for m in at[_key(line[-1])] if m in left), None)) is not None:
                    left.remove(m)
                    p, q = cuts[m]
                    line.append(q if _key(p) == _key(line[-1]) else p)
                line.reverse()
            yield tuple(line)


def _key(point: Point) -> Point:
    return (round(point[0], 5), round(point[1], 5))


def _cut(net: Net, relief: Relief, cell: tuple[int, ...], level: float) -> list[Point] | None:
    """Where a level line enters and leaves a cell."""
    ends: list[Point] = []
    for i, j in zip(cell, (*cell[1:], cell[0]), strict=True):
        a, b = relief.levels[i] - level, relief.levels[j] - level
        if (a < 0) != (b < 0):
            (xp, yp), (xq, yq), t = net.points[i], net.points[j], a / (a - b)
            ends.append((xp + t * (xq - xp), yp + t * (yq - yp)))
    return ends if len(ends) == 2 and math.dist(*ends) > JOIN else None


def cells_at(relief: Relief, points: tuple[Point, ...]) -> tuple[int | None, ...]:
    """Find the cells in which points lie.

    Parameters
    ----------
    relief : Relief
        The surface [m].
    points : tuple of (x, y)
        The points [m].

    Returns
    -------
    tuple of int, optional
        The cell of each; none beside the roof [-].

    Examples
    --------
    >>> from evenfall.calc.geometry.relief import net, relief
    >>> flat = relief(net(((0, 0), (6, 0), (6, 4), (0, 4))), lambda p: (0.0,) * len(p))
    >>> cells_at(flat, ((1.0, 1.0), (7.0, 1.0)))
    (0, None)
    """
    x, y = np.array(points, float).reshape(-1, 2).T
    found = np.full(len(points), -1)
    for n in range(len(relief.net.cells)):
        ring = relief.ring(n)
        inside = found < 0
        for (px, py), (qx, qy) in zip(ring, (*ring[1:], ring[0]), strict=True):
            inside &= (qx - px) * (y - py) - (qy - py) * (x - px) >= -JOIN
        found[inside] = n
    return tuple(int(n) if n >= 0 else None for n in found)


def back_fall(relief: Relief, downhill: Point) -> float:
    """Return the area that does not fall the way that water should run.

    Parameters
    ----------
    relief : Relief
        The surface [m].
    downhill : (x, y)
        Unit vector of the way [-].

    Returns
    -------
    float
        Area [m2].

    Examples
    --------
    >>> from evenfall.calc.geometry.relief import net, relief
    >>> slope = relief(net(((0, 0), (6, 0), (6, 4), (0, 4))), lambda p: tuple(y / 40 for _, y in p))
    >>> back_fall(slope, (0.0, 1.0)), back_fall(slope, (0.0, -1.0))
    (24.0, 0)
    """
    return sum(
        area(relief.ring(n))
        for n, p in enumerate(relief.planes)
        if p.rise_x * downhill[0] + p.rise_y * downhill[1] > 0 and area(relief.ring(n)) > TINY
    )


def gutters(relief: Relief, leaves: frozenset[int]) -> tuple[tuple[Point, Point, float, bool], ...]:
    """Find the lines in which a surface gathers water, and their fall.

    Parameters
    ----------
    relief : Relief
        The surface [m].
    leaves : set of int
        Corners at which water leaves: an edge between two of them gathers none [-].

    Returns
    -------
    tuple of (upper end, lower end, fall, inner)
        ``inner`` is false along an outer edge or a kerb [m].

    Examples
    --------
    >>> from evenfall.calc.geometry.relief import net, relief
    >>> half = net(((0, 0), (6, 0), (6, 4), (0, 4)), (), [((3, 0), (3, 4))])
    >>> fold = relief(half, lambda p: tuple(abs(x - 3) / 40 + y / 80 for x, y in p))
    >>> [g for g in gutters(fold, frozenset()) if g[3]]
    [((3.0, 4.0), (3.0, 0.0), 0.0125, True)]
    """
    beside: dict[tuple[int, int], list[bool]] = {}
    for n, cell in enumerate(relief.net.cells):
        if area(relief.ring(n)) < TINY:
            continue
        for i, j in zip(cell, (*cell[1:], cell[0]), strict=True):
            (xa, ya), (xb, yb) = relief.net.points[i], relief.net.points[j]
            plane = relief.planes[n]
            out = (-plane.rise_x * (yb - ya) + plane.rise_y * (xb - xa)) / math.hypot(
                xb - xa, yb - ya
            )
            beside.setdefault((min(i, j), max(i, j)), []).append(out > LEVEL)
    found = []
    for (i, j), towards in beside.items():
        if all(towards) and not {i, j} <= leaves:
            up, down = (i, j) if relief.levels[i] >= relief.levels[j] else (j, i)
            a, b = relief.net.points[up], relief.net.points[down]
            fall = (relief.levels[up] - relief.levels[down]) / math.dist(a, b)
            found.append((a, b, fall, len(towards) > 1))
    return tuple(found)

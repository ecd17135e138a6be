"""Contours and arrows of fall of a surface in flat cells."""

from __future__ import annotations

import math

import shapely

from evenfall.calc.geometry.polygon import Point, area
from evenfall.calc.geometry.relief import Net, Relief

JOIN = 1e-6  # m; ends of lines nearer than this are one
STEPS = (1, 2, 5)  # contours are told at round levels
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
    if not cuts:
        return ()
    merged = shapely.line_merge(shapely.union_all(shapely.linestrings(cuts), grid_size=JOIN))
    return tuple(
        tuple((float(x), float(y)) for x, y in line.coords)
        for line in shapely.get_parts(merged)
        if line.geom_type == "LineString"
    )


def _cut(net: Net, relief: Relief, cell: tuple[int, ...], level: float) -> list[Point] | None:
    """Where a level line enters and leaves a cell."""
    ends: list[Point] = []
    for i, j in zip(cell, (*cell[1:], cell[0]), strict=True):
        a, b = relief.levels[i] - level, relief.levels[j] - level
        if (a < 0) != (b < 0):
            (xp, yp), (xq, yq), t = net.points[i], net.points[j], a / (a - b)
            ends.append((xp + t * (xq - xp), yp + t * (yq - yp)))
    return ends if len(ends) == 2 and math.dist(*ends) > JOIN else None


def cell_at(relief: Relief, point: Point) -> int | None:
    """Find the cell in which a point lies.

    Parameters
    ----------
    relief : Relief
        The surface [m].
    point : (x, y)
        The point [m].

    Returns
    -------
    int, optional
        Its cell; none beside the roof [-].

    Examples
    --------
    >>> from evenfall.calc.geometry.relief import net, relief
    >>> flat = relief(net(((0, 0), (6, 0), (6, 4), (0, 4))), lambda p: (0.0,) * len(p))
    >>> cell_at(flat, (1.0, 1.0)), cell_at(flat, (7.0, 1.0))
    (0, None)
    """
    x, y = point
    for n, cell in enumerate(relief.net.cells):
        at = [relief.net.points[i] for i in cell]
        if all(
            (q[0] - p[0]) * (y - p[1]) - (q[1] - p[1]) * (x - p[0]) >= -JOIN
            for p, q in zip(at, (*at[1:], at[0]), strict=True)
        ):
            return n
    return None


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

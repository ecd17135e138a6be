"""Where water stands: a surface filled until it runs over to a drain, exactly and on a grid.

A surface that is flat over convex cells keeps water only where a corner of a cell is lower than all
ways out of it: from any other point a drop runs down, within its cell, to the lowest corner of the
cell. So the corners alone are filled, from the drains up, each to the lowest of the highest levels
on its ways out (the priority flood of raster maps, on some fifty corners in place of a hundred
thousand squares), and over each cell the water stands at the level of its lowest corner.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from evenfall.calc.geometry.polygon import Point, Polygon, area
from evenfall.calc.geometry.relief import Relief
from evenfall.calc.geometry.surface import Plane, plane_level
from evenfall.errors import InvalidInput

FILM = 1e-6  # m; a thinner film is the rounding of a sum
NEAR = 1e-5  # m; corners are that near a drain when they lie on it


@dataclass(frozen=True, slots=True)
class Filled:
    """A surface with the water that stays on it: level and place of overflow at each corner."""

    relief: Relief
    water: tuple[float, ...]
    spills: tuple[int, ...]  # corner over which the water of a corner runs away


@dataclass(frozen=True, slots=True)
class Pool:
    """One pond: its outline with islands, level, greatest depth, where it runs over."""

    rings: tuple[Polygon, ...]  # the outline first
    level: float
    depth: float
    area: float  # m2
    volume: float  # m3
    deepest: Point
    spills_at: Point


def drains(
    relief: Relief, edges: Iterable[tuple[Point, Point]], outlets: Iterable[Point]
) -> tuple[int, ...]:
    """Find the corners of a surface at which water leaves it.

    Parameters
    ----------
    relief : Relief
        The surface [m].
    edges : iterable of (point, point)
        Edges over which water runs into a gutter [m].
    outlets : iterable of (x, y)
        Outlets; each takes the nearest corner [m].

    Returns
    -------
    tuple of int
        Corners of the net [-].

    Examples
    --------
    >>> from evenfall.calc.geometry.relief import net, relief
    >>> flat = relief(net(((0, 0), (6, 0), (6, 4), (0, 4))), lambda p: (0.0,) * len(p))
    >>> sorted(flat.net.points[i] for i in drains(flat, [((0, 0), (6, 0))], []))
    [(0.0, 0.0), (6.0, 0.0)]
    """
    at = np.array(relief.net.points, float)
    found: set[int] = set()
    for a, b in edges:
        p, way = np.array(a, float), np.array(b, float) - np.array(a, float)
        t = np.clip((at - p) @ way / (way @ way), 0, 1)
        found.update(np.flatnonzero(np.hypot(*(at - p - t[:, None] * way).T) < NEAR).tolist())
    for x, y in outlets:
        found.add(int(np.hypot(at[:, 0] - x, at[:, 1] - y).argmin()))
    return tuple(sorted(found))


def fill(relief: Relief, leaves: tuple[int, ...]) -> Filled:
    """Fill a surface until all further water runs away.

    Parameters
    ----------
    relief : Relief
        The surface; what does not touch a drain is filled to nothing [m].
    leaves : tuple of int
        Corners at which water leaves, one or more [-].

    Returns
    -------
    Filled
        Level of the water, or of the dry surface, at each corner [m].

    Examples
    --------
    >>> from evenfall.calc.geometry.relief import spot_relief
    >>> from evenfall.calc.geometry.surface import surface
    >>> dish = surface(((0, 0, 0.1), (6, 0, 0.1), (6, 4, 0.1), (0, 4, 0.1), (3, 2, 0.05)))
    >>> found = spot_relief(dish, ((0, 0), (6, 0), (6, 4), (0, 4)))
    >>> set(fill(found, drains(found, [], [(0, 0)])).water)
    {0.1}
    """
    if not leaves:
        raise InvalidInput("no way out for water", "an edge or an outlet", where="leaves")
    beside = _beside(relief)
    water = [float("inf")] * len(relief.levels)
    spills = list(range(len(water)))
    queue = []
    for i in leaves:
        water[i] = relief.levels[i]
        queue.append((water[i], i))
    heapq.heapify(queue)
    while queue:
        level, i = heapq.heappop(queue)
        if level > water[i]:
            continue
        for j in beside[i]:
            new = max(level, relief.levels[j])
            if new < water[j]:
                water[j] = new
                spills[j] = j if relief.levels[j] > level else spills[i]
                heapq.heappush(queue, (new, j))
    dry = [z if w == float("inf") else w for w, z in zip(water, relief.levels, strict=True)]
    return Filled(relief, tuple(dry), tuple(spills))


def _beside(relief: Relief) -> list[set[int]]:
    """Join the corners of each cell to its lowest corner."""
    beside: list[set[int]] = [set() for _ in relief.levels]
    for cell, low in zip(relief.net.cells, relief.lowest, strict=True):
        for i in cell:
            if i != low:
                beside[i].add(low)
                beside[low].add(i)
    return beside


def pools(filled: Filled, least: float = FILM) -> tuple[Pool, ...]:
    """Cut the ponds out of a filled surface.

    Parameters
    ----------
    filled : Filled
        The surface and its water [m].
    least : float
        Depth from which on water counts as a pond [m].

    Returns
    -------
    tuple of Pool
        The deepest first [m].

    Examples
    --------
    >>> from evenfall.calc.geometry.relief import spot_relief
    >>> from evenfall.calc.geometry.surface import surface
    >>> dish = surface(((0, 0, 0.1), (6, 0, 0.1), (6, 4, 0.1), (0, 4, 0.1), (3, 2, 0.05)))
    >>> found = spot_relief(dish, ((0, 0), (6, 0), (6, 4), (0, 4)))
    >>> [pond] = pools(fill(found, drains(found, [], [(0, 0)])))
    >>> pond.depth, pond.area, pond.volume  # a pyramid
    (0.05, 24.0, 0.4)
    """
    relief, found = filled.relief, dict[int, list[int]]()
    lowest = relief.lowest
    for cell, low in enumerate(lowest):
        if filled.water[low] - relief.levels[low] > FILM:
            found.setdefault(filled.spills[low], []).append(cell)
    wet = [p for spill, cells in found.items() for p in _pools(filled, spill, cells)]
    return tuple(sorted((p for p in wet if p.depth > least), key=lambda p: -p.depth))


def _pools(filled: Filled, spill: int, cells: list[int]) -> Iterable[Pool]:
    """Put the wet parts of cells that run over at one place together."""
    relief = filled.relief
    level = max(filled.water[relief.lowest[c]] for c in cells)
    parts = [(c, below(relief.ring(c), relief.planes[c], level)) for c in cells]
    parts = [(c, ring) for c, ring in parts if len(ring) > 2 and area(ring) > 0]
    shapes = [shapely.Polygon(ring).buffer(0) for _, ring in parts]
    whole = shapely.union_all(shapes, grid_size=FILM)
    for shape in shapely.get_parts(whole):
        mine = [
            (relief.planes[c], ring)
            for (c, ring), own in zip(parts, shapes, strict=True)
            if shape.intersects(own.point_on_surface())
        ]
        yield _pool(shape, level, mine, relief.net.points[spill])


def _pool(
    shape: shapely.Geometry, level: float, parts: list[tuple[Plane, Polygon]], spills: Point
) -> Pool:
    corners = [(level - plane_level(plane, p), p) for plane, ring in parts for p in ring]
    depth, deepest = max(corners, default=(0.0, spills))
    rings = tuple(
        tuple((float(x), float(y)) for x, y in ring.coords[:-1])
        for ring in (shape.exterior, *shape.interiors)
    )
    wet = sum(area(ring) for _, ring in parts)
    held = sum(standing(ring, plane, level) for plane, ring in parts)
    return Pool(rings, level, depth, wet, held, deepest, spills)


def below(ring: Polygon, plane: Plane, level: float) -> Polygon:
    """Cut off what of a convex cell lies above a level.

    Parameters
    ----------
    ring : polygon
        The cell [m].
    plane : Plane
        Its surface [m].
    level : float
        Level of the water [m].

    Returns
    -------
    polygon
        The wet part; without corners where all is dry [m].

    Examples
    --------
    >>> below(((0, 0), (2, 0), (2, 1), (0, 1)), Plane(0.0, 0.1, 0.0), 0.05)
    ((0, 0), (0.5, 0.0), (0.5, 1.0), (0, 1))
    """
    kept = []
    for p, q in zip(ring, (*ring[1:], ring[0]), strict=True):
        d, e = level - plane_level(plane, p), level - plane_level(plane, q)
        if d >= 0:
            kept.append(p)
        if (d > 0 > e) or (d < 0 < e):
            t = d / (d - e)
            kept.append((p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])))
    return tuple(kept)


def standing(ring: Polygon, plane: Plane, level: float) -> float:
    """Return the water that stands on a flat part of a roof.

    Parameters
    ----------
    ring : polygon
        The wet part, anticlockwise [m].
    plane : Plane
        Its surface [m].
    level : float
        Level of the water [m].

    Returns
    -------
    float
        Volume [m3].

    Examples
    --------
    >>> standing(((0, 0), (0.5, 0), (0.5, 1), (0, 1)), Plane(0.0, 0.1, 0.0), 0.05)
    0.0125
    """
    first, total = ring[0], 0.0
    d0 = level - plane_level(plane, first)
    for p, q in pairwise(ring[1:]):
        size = (p[0] - first[0]) * (q[1] - first[1]) - (p[1] - first[1]) * (q[0] - first[0])
        depths = d0 + 2 * level - plane_level(plane, p) - plane_level(plane, q)
        total += size / 2 * depths / 3
    return total


def depth_map(filled: Filled, step: float) -> tuple[NDArray[np.float64], Point]:
    """Give the depth of the water on a grid of squares.

    Parameters
    ----------
    filled : Filled
        The surface and its water [m].
    step : float
        Side of a square, more than 0 [m].

    Returns
    -------
    (array of shape (rows, columns), (x, y))
        Depth at the middle of each square, nan beside the roof; the middle of the first [m].

    Examples
    --------
    >>> from evenfall.calc.geometry.relief import spot_relief
    >>> from evenfall.calc.geometry.surface import surface
    >>> dish = surface(((0, 0, 0.1), (6, 0, 0.1), (6, 4, 0.1), (0, 4, 0.1), (3, 2, 0.05)))
    >>> found = spot_relief(dish, ((0, 0), (6, 0), (6, 4), (0, 4)))
    >>> depths, start = depth_map(fill(found, drains(found, [], [(0, 0)])), 0.5)
    >>> depths.shape, float(depths.sum() * 0.5 ** 2), start
    ((8, 12), 0.4, (0.25, 0.25))
    """
    if step <= 0:
        raise InvalidInput(f"{step}", "a step of more than 0", where="step")
    at = np.array(filled.relief.net.points, float)
    low, high = at.min(axis=0), at.max(axis=0)
    columns, rows = (max(1, int(np.ceil(n - FILM))) for n in (high - low) / step)
    xs = low[0] + step * (np.arange(columns) + 0.5)
    ys = low[1] + step * (np.arange(rows) + 0.5)
    depths = np.full((rows, columns), np.nan)
    for cell, low_corner in zip(
        range(len(filled.relief.net.cells)), filled.relief.lowest, strict=True
    ):
        _paint(depths, xs, ys, filled, cell, filled.water[low_corner])
    return depths, (float(xs[0]), float(ys[0]))


def _paint(
    depths: NDArray[np.float64],
    xs: NDArray[np.float64],
    ys: NDArray[np.float64],
    filled: Filled,
    cell: int,
    water: float,
) -> None:
    """Write the depths over one cell: row by row from its left edge to its right one."""
    ring = np.array(filled.relief.ring(cell))
    step = xs[1] - xs[0] if len(xs) > 1 else 1.0
    r0, r1 = np.searchsorted(ys, [ring[:, 1].min(), ring[:, 1].max()])
    if r0 == r1:
        return
    y = ys[r0:r1]
    left, right = _across(ring, y)
    c0 = np.ceil((left - xs[0]) / step - FILM).astype(int)
    c1 = np.floor((right - xs[0]) / step + FILM).astype(int) + 1
    first, last = max(int(c0.min()), 0), min(int(c1.max()), len(xs))
    if first >= last:
        return
    columns = np.arange(first, last)
    plane = filled.relief.planes[cell]
    depth = (water - plane.level - plane.rise_y * y)[:, None] - plane.rise_x * xs[first:last]
    np.maximum(depth, 0.0, out=depth)
    mine = (columns >= c0[:, None]) & (columns < c1[:, None])
    np.copyto(depths[r0:r1, first:last], depth, where=mine)


def _across(
    ring: NDArray[np.float64], y: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Where rows enter and leave a convex ring."""
    left, right = np.full(len(y), np.inf), np.full(len(y), -np.inf)
    for (xa, ya), (xb, yb) in zip(ring, np.roll(ring, -1, axis=0), strict=True):
        if ya == yb:
            continue
        a, b = np.searchsorted(y, sorted((ya, yb)))
        x = xa + (y[a:b] - ya) * ((xb - xa) / (yb - ya))
        np.minimum(left[a:b], x, out=left[a:b])
        np.maximum(right[a:b], x, out=right[a:b])
    return left, right

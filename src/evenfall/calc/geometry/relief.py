"""A roof surface as a net of flat cells: cut out of the plan, level by level, exactly.

Between spot levels the surface is flat triangle by triangle; beyond their rim it keeps the level of
the nearest rim. Both, the outline of the roof, its openings and the creases of boards cut to falls
divide the plan into convex cells, and the surface is one plane over each.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from evenfall.calc.geometry.polygon import Point, Polygon, signed_area, turn
from evenfall.calc.geometry.surface import Plane, Surface, levels_at
from evenfall.errors import InvalidInput

GRID = 1e-6  # m; corners nearer than this are one
ROUNDS = 4  # cells are cut again while one is not convex
SPECK = 1e-7  # m2; less is the rounding of a corner, not a cell

Line = tuple[Point, Point]
Level = Callable[[tuple[Point, ...]], tuple[float, ...]]


@dataclass(frozen=True, slots=True)
class Net:
    """Corners, and convex cells between them as indices, anticlockwise."""

    points: tuple[Point, ...]
    cells: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True)
class Relief:
    """A net with a level at each corner and a plane over each cell."""

    net: Net
    levels: tuple[float, ...]
    planes: tuple[Plane, ...]

    def ring(self, cell: int) -> Polygon:
        """Outline of a cell."""
        return tuple(self.net.points[i] for i in self.net.cells[cell])

    @property
    def lowest(self) -> tuple[int, ...]:
        """The lowest corner of each cell: every drop in the cell can run down to it."""
        return tuple(min(cell, key=self.levels.__getitem__) for cell in self.net.cells)


def creases(surface: Surface, far: float) -> tuple[Line, ...]:
    """List the lines along which a surface between spots bends, inside its rim and beyond it.

    Parameters
    ----------
    surface : Surface
        Spots and triangles [m].
    far : float
        How far the lines beyond the rim go, more than 0 [m].

    Returns
    -------
    tuple of (point, point)
        Sides of the triangles, and two lines square to the rim at each of its spots [m].

    Examples
    --------
    >>> from evenfall.calc.geometry.surface import surface
    >>> len(creases(surface(((0, 0, 0.1), (6, 0, 0.1), (0, 4, 0.0))), 9.0))
    9
    """
    at = [(x, y) for x, y, _ in surface.spots]
    seen: dict[tuple[int, int], list[int]] = {}
    for n, (i, j, k) in enumerate(surface.triangles):
        for edge in ((i, j), (j, k), (i, k)):
            seen.setdefault((min(edge), max(edge)), []).append(n)
    lines = [(at[i], at[j]) for i, j in seen]
    for (i, j), of in seen.items():
        if len(of) == 1:
            third = next(k for k in surface.triangles[of[0]] if k not in (i, j))
            lines += _beyond(at[i], at[j], at[third], far)
    return tuple(lines)


def _beyond(p: Point, q: Point, inside: Point, far: float) -> list[Line]:
    """Two lines square to an edge of the rim, away from the inside."""
    dx, dy = q[0] - p[0], q[1] - p[1]
    size = (dx * dx + dy * dy) ** 0.5
    sign = 1 if turn(p, q, inside) < 0 else -1
    out = (-dy / size * far * sign, dx / size * far * sign)
    return [(a, (a[0] + out[0], a[1] + out[1])) for a in (p, q)]


def net(plan: Polygon, holes: tuple[Polygon, ...] = (), lines: Iterable[Line] = ()) -> Net:
    """Divide a plan into convex cells along some lines.

    Parameters
    ----------
    plan : polygon
        The roof [m].
    holes : tuple of polygons
        Where there is no roof; what lies outside is cut off [m].
    lines : iterable of (point, point)
        Creases; beyond the roof they do not count [m].

    Returns
    -------
    Net
        Cells that cover the roof without its holes, and do not overlap [m].

    Examples
    --------
    >>> len(net(((0, 0), (6, 0), (6, 3), (2, 3), (2, 5), (0, 5))).cells)  # an L is no convex cell
    2
    """
    roof = shapely.Polygon(plan)
    for hole in holes:
        roof = roof.difference(shapely.Polygon(hole))
    if roof.area <= SPECK:
        raise InvalidInput("a roof without area", "a roof", where="plan")
    parts = [roof.boundary, *(shapely.LineString(line) for line in lines)]
    for _ in range(ROUNDS):
        noded = shapely.union_all(parts, grid_size=GRID)
        found = shapely.get_parts(shapely.polygonize([noded]))
        inside = shapely.contains_properly(roof, shapely.point_on_surface(found))
        found = found[inside & (shapely.area(found) > SPECK)]
        bent = [f for f, more in zip(found, _more_than_convex(found), strict=True) if more]
        if not bent:
            break
        parts = [noded, *(line for face in bent for line in _splits(face))]
    return _numbered(found)


def _more_than_convex(shapes: NDArray[np.object_]) -> NDArray[np.bool_]:
    """Tell which shapes have a corner that turns inwards, or an island."""
    hollow = shapely.area(shapely.convex_hull(shapes)) - shapely.area(shapes)
    found: NDArray[np.bool_] = hollow > SPECK + GRID * shapely.length(shapes)
    found |= shapely.get_num_interior_rings(shapes) > 0
    return found


def _splits(roof: shapely.Geometry) -> list[shapely.Geometry]:
    """Draw lines on from each corner that turns inwards, so that no cell keeps it."""
    lines = []
    x0, y0, x1, y1 = roof.bounds
    far = x1 - x0 + y1 - y0
    for part in shapely.get_parts(roof):
        for n, ring in enumerate((part.exterior, *part.interiors)):
            at = [(float(x), float(y)) for x, y in ring.coords[:-1]]
            inside = 1 if (signed_area(tuple(at)) > 0) == (n == 0) else -1
            lines += _extended(at, inside, far, roof)
    return lines


def _extended(
    at: list[Point], inside: int, far: float, roof: shapely.Geometry
) -> list[shapely.Geometry]:
    found = []
    for before, here, after in zip((at[-1], *at[:-1]), at, (*at[1:], at[0]), strict=True):
        if turn(before, here, after) * inside < 0:
            dx, dy = here[0] - before[0], here[1] - before[1]
            size = (dx * dx + dy * dy) ** 0.5
            end = (here[0] + dx / size * far, here[1] + dy / size * far)
            cut = shapely.intersection(shapely.LineString((here, end)), roof)
            first = min(shapely.get_parts(cut), key=lambda c: c.distance(shapely.Point(here)))
            found.append(first)
    return found


def _numbered(shapes: NDArray[np.object_]) -> Net:
    """Give the corners numbers; each ring comes without its repeated end, anticlockwise."""
    index: dict[Point, int] = {}
    at, of = shapely.get_coordinates(shapes, return_index=True)
    ends = np.searchsorted(of, np.arange(len(shapes) + 1))
    cells = []
    for start, end in pairwise(ends.tolist()):
        ring = [(x, y) for x, y in at[start : end - 1].tolist()]
        ring = ring if signed_area(tuple(ring)) > 0 else ring[::-1]
        cells.append(tuple(index.setdefault(p, len(index)) for p in ring))
    return Net(tuple(index), tuple(cells))


def relief(over: Net, level: Level) -> Relief:
    """Lay a surface over a net; it must be flat over each cell.

    Parameters
    ----------
    over : Net
        Corners and cells [m].
    level : callable
        Gives the levels at some points [m].

    Returns
    -------
    Relief
        Levels and planes [m].

    Examples
    --------
    >>> found = relief(net(((0, 0), (6, 0), (6, 4), (0, 4))), lambda p: tuple(y / 40 for _, y in p))
    >>> found.planes[0].rise_y
    0.025
    """
    z = tuple(float(v) for v in level(over.points))
    planes = tuple(
        _plane([(*over.points[i], z[i]) for i in cell]) for cell in over.cells
    )  # fmt: skip
    return Relief(over, z, planes)


def _plane(ring: list[tuple[float, float, float]]) -> Plane:
    """Plane through the corners of a cell, square to the area that it spans."""
    x0, y0, z0 = ring[0]
    nx = ny = nz = 0.0
    for (xp, yp, zp), (xq, yq, zq) in pairwise(ring[1:]):
        px, py, pz, qx, qy, qz = xp - x0, yp - y0, zp - z0, xq - x0, yq - y0, zq - z0
        nx += py * qz - pz * qy
        ny += pz * qx - px * qz
        nz += px * qy - py * qx
    a, b = -nx / nz, -ny / nz
    return Plane(z0 - a * x0 - b * y0, a, b)


def spot_relief(
    surface: Surface,
    plan: Polygon,
    holes: tuple[Polygon, ...] = (),
    marks: tuple[Point, ...] = (),
    more: Iterable[Line] = (),
    added: Level | None = None,
) -> Relief:
    """Lay the surface between spot levels over a plan, and what is added on it.

    Parameters
    ----------
    surface : Surface
        Spots and triangles [m].
    plan : polygon
        The roof [m].
    holes : tuple of polygons
        Openings round which water runs [m].
    marks : tuple of (x, y)
        Points that must be corners of cells, such as outlets [m].
    more : iterable of (point, point)
        Creases of what is added [m].
    added : callable, optional
        Gives what is added at some points; flat between all these creases [m].

    Returns
    -------
    Relief
        The surface in convex cells [m].

    Examples
    --------
    >>> from evenfall.calc.geometry.surface import surface
    >>> dish = surface(((0, 0, 0.1), (6, 0, 0.1), (6, 4, 0.1), (0, 4, 0.1), (3, 2, 0.05)))
    >>> min(spot_relief(dish, ((0, 0), (6, 0), (6, 4), (0, 4))).levels)
    0.05
    """
    xs, ys = [x for x, _ in plan], [y for _, y in plan]
    far = 2 * (max(xs) - min(xs) + max(ys) - min(ys))
    crossed = ((m, (m[0] + way, m[1] + far)) for m in marks for way in (-far, far))
    cells = net(plan, holes, (*creases(surface, far), *crossed, *more))

    def level(points: tuple[Point, ...]) -> tuple[float, ...]:
        old = levels_at(surface, points)
        if added is None:
            return old
        return tuple(a + b for a, b in zip(old, added(points), strict=True))

    return relief(cells, level)

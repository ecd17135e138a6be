"""Courses of boards over a roof: the roof turned to one side, cut into strips, runs and cells.

Plain arithmetic on trapezoids: within a strip, between two heights at which a corner lies, the
edges of the roof do not cross, so that what lies between them is a row of trapezoids.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, hypot, inf
from typing import NamedTuple

from shapely import MultiPolygon, Polygon, unary_union
from shapely.geometry.polygon import orient

from evenfall.calc.layout.piece_shapes import SLACK, Point, least_width
from evenfall.errors import InvalidInput

Ring = tuple[tuple[int, int], ...]

LEVEL = 1e-6  # an edge that rises less is level [mm]
FLAT = 0.01  # what is smaller is nothing [mm]
REACH = 4.0  # a joint that ends so near to the line of a course reaches it [mm]
TOUCH = 1.0  # parts that share less of a line are not one piece [mm]


class Edge(NamedTuple):
    """An edge of the roof in the turned frame, from its lower end; ``outer`` if on the outside."""

    x0: float
    y0: float
    x1: float
    y1: float
    outer: bool

    def at(self, y: float) -> float:
        """Return x of the edge at a height."""
        return self.x0 + (self.x1 - self.x0) * (y - self.y0) / (self.y1 - self.y0)


class Trapezoid(NamedTuple):
    """What lies between two edges and two heights: x at the lower height, then at the upper."""

    y0: float
    y1: float
    l0: float
    l1: float
    r0: float
    r1: float
    outer_left: bool
    outer_right: bool


class Cell(NamedTuple):
    """One piece before it is drawn: its parts, its box, and whether it lies at the outside."""

    parts: tuple[tuple[Point, ...], ...]
    box: tuple[float, float, float, float]
    outer: bool

    @property
    def size(self) -> tuple[int, int]:
        """Length and width of the rectangle that it is cut from [mm]."""
        x0, y0, x1, y1 = self.box
        return ceil(x1 - x0 - SLACK), ceil(y1 - y0 - SLACK)

    @property
    def least_width(self) -> float:
        """Least width of all rectangles round it, however turned [mm]."""
        x0, y0, x1, y1 = self.box
        box = min(x1 - x0, y1 - y0)
        points = {p for part in self.parts for p in part}
        corners = {(x0, y0), (x1, y0), (x1, y1), (x0, y1)}
        return box if corners <= points else min(box, least_width(tuple(points)))


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of a course without interruption."""

    y0: float
    y1: float
    x0: float
    x1: float
    traps: tuple[Trapezoid, ...]
    marks: tuple[float, ...]  # x of corners inside


@dataclass(frozen=True, slots=True)
class Turned:
    """The roof, less its openings, turned so that one side lies along x."""

    origin: tuple[int, int]
    along: Point  # unit vector of x in the plan
    edges: tuple[Edge, ...]
    level: tuple[tuple[float, float, float], ...]  # outer edges that lie level: y, x0, x1
    heights: tuple[float, ...]  # of all corners
    sills: tuple[tuple[float, bool, bool], ...] = ()  # all level edges: y, roof above, outer

    def plan(self, x: float, y: float) -> tuple[int, int]:
        """Turn a point back into the plan, to the whole millimetre."""
        c, s = self.along
        return round(self.origin[0] + c * x - s * y), round(self.origin[1] + s * x + c * y)


def roof_less_openings(outline: Ring, holes: Sequence[Ring]) -> tuple[Polygon, ...]:
    """Take the openings out of the roof.

    Parameters
    ----------
    outline : tuple of (int, int)
        Corners of the roof, in either sense; a simple polygon [mm].
    holes : sequence of tuple
        Corners of each opening [mm].

    Returns
    -------
    tuple of Polygon
        What boards cover; more than one when openings divide the roof [mm].

    Examples
    --------
    >>> outline = ((0, 0), (6000, 0), (6000, 4000), (0, 4000))
    >>> parts = roof_less_openings(outline, [((1000, 1000), (2000, 1000), (2000, 2000))])
    >>> [part.area for part in parts]
    [23500000.0]
    """
    for name, ring in (("outline", outline), *((f"opening {i}", h) for i, h in enumerate(holes))):
        if len(ring) < 3 or not Polygon(ring).is_valid:
            raise InvalidInput(f"{name} {ring}", "a simple polygon of three or more corners")
    region = Polygon(outline)
    if holes:
        region = region.difference(unary_union([Polygon(h) for h in holes]))
    parts = region.geoms if isinstance(region, MultiPolygon) else (region,)
    found = tuple(p for p in parts if isinstance(p, Polygon) and p.area > TOUCH * TOUCH)
    if not found:
        raise InvalidInput("openings as large as the roof", "a roof with something to cover")
    return found


def turned(parts: Sequence[Polygon], start: tuple[int, int], end: tuple[int, int]) -> Turned:
    """Turn a roof so that a side lies along x.

    Parameters
    ----------
    parts : sequence of Polygon
        What boards cover [mm].
    start, end : tuple of int
        Ends of the side [mm].

    Returns
    -------
    Turned
        The edges in the turned frame [mm].

    Examples
    --------
    >>> frame = turned([Polygon([(0, 0), (0, -40), (30, -40)])], (0, 0), (0, -40))
    >>> frame.plan(40.0, 30.0)
    (30, -40)
    """
    dx, dy = end[0] - start[0], end[1] - start[1]
    c, s = dx / hypot(dx, dy), dy / hypot(dx, dy)
    edges, level, heights, sills = [], [], set(), set()
    for part in (orient(p) for p in parts):  # the roof lies to the left of every edge
        for ring, outer in ((part.exterior, True), *((r, False) for r in part.interiors)):
            points = [
                (c * (x - start[0]) + s * (y - start[1]), c * (y - start[1]) - s * (x - start[0]))
                for x, y in ring.coords
            ]
            for p, q in pairwise(points):
                low, high = (p, q) if p[1] <= q[1] else (q, p)
                heights.add(low[1])
                heights.add(high[1])
                if high[1] - low[1] >= LEVEL:
                    edges.append(Edge(*low, *high, outer))
                    continue
                sills.add((low[1], q[0] > p[0], outer))
                if outer:
                    level.append((low[1], min(p[0], q[0]), max(p[0], q[0])))
    return Turned(
        start, (c, s), tuple(edges), tuple(level), tuple(sorted(heights)), tuple(sorted(sills))
    )


def runs(roof: Turned, y0: float, y1: float) -> tuple[Run, ...]:
    """Cut one course out of the roof.

    Parameters
    ----------
    roof : Turned
        The roof [mm].
    y0, y1 : float
        Lower and upper line of the course [mm].

    Returns
    -------
    tuple of Run
        The stretches of the course, from left to right [mm].

    Examples
    --------
    >>> u_shape = [(0, 0), (9, 0), (9, 5), (6, 5), (6, 2), (3, 2), (3, 5), (0, 5)]
    >>> frame = turned([Polygon(u_shape)], (0, 0), (9, 0))
    >>> [(run.x0, run.x1) for run in runs(frame, 2.0, 4.0)]
    [(0.0, 3.0), (6.0, 9.0)]
    """
    cuts = [y0]
    for y in (*(h for h in roof.heights if y0 < h < y1), y1):
        if y - cuts[-1] >= LEVEL:
            cuts.append(y)
    slabs = [_slab(roof, a, b) for a, b in pairwise(cuts)]
    return tuple(sorted((_run(g, y0, y1) for g in _joined(slabs, -inf, inf)), key=lambda r: r.x0))


def _slab(roof: Turned, a: float, b: float) -> list[Trapezoid]:
    """Pair the edges that cross a slab."""
    middle = (a + b) / 2
    crossing = sorted(
        ((e.at(middle), e) for e in roof.edges if e.y0 < middle < e.y1), key=lambda c: c[0]
    )
    traps = []
    for (_, left), (_, right) in zip(crossing[::2], crossing[1::2], strict=True):
        ends = (
            left.at(a),
            left.at(b),
            max(left.at(a), right.at(a)),
            max(left.at(b), right.at(b)),
        )
        traps.append(Trapezoid(a, b, *ends, left.outer, right.outer))
    return traps


def _joined(slabs: list[list[Trapezoid]], c0: float, c1: float) -> list[list[Trapezoid]]:
    """Group the trapezoids that touch across the lines between slabs, between two joints."""
    inside = [[t for t in slab if max(t.r0, t.r1) > c0 and min(t.l0, t.l1) < c1] for slab in slabs]
    group = {id(t): n for n, t in enumerate(t for slab in inside for t in slab)}
    for below, above in pairwise(inside):
        for low in below:
            for high in above:
                if min(low.r1, high.r0, c1) - max(low.l1, high.l0, c0) > TOUCH:
                    old, new = sorted((group[id(low)], group[id(high)]))[::-1]
                    group = {k: new if n == old else n for k, n in group.items()}
    found: dict[int, list[Trapezoid]] = {}
    for slab in inside:
        for t in slab:
            found.setdefault(group[id(t)], []).append(t)
    return list(found.values())


def _run(group: list[Trapezoid], y0: float, y1: float) -> Run:
    left = min(min(t.l0, t.l1) for t in group)
    right = max(max(t.r0, t.r1) for t in group)
    ends = {x for t in group for x in (t.l0, t.l1, t.r0, t.r1)}
    marks = sorted(x for x in ends if left + FLAT < x < right - FLAT)
    return Run(y0, y1, left, right, tuple(group), tuple(marks))


def cells(run: Run, roof: Turned, joints: Sequence[float]) -> list[Cell]:
    """Cut a run into pieces at its joints.

    Parameters
    ----------
    run : Run
        A stretch of a course [mm].
    roof : Turned
        The roof that it is part of [mm].
    joints : sequence of float
        Joints from left to right [mm].

    Returns
    -------
    list of Cell
        The pieces from left to right; a cell that an opening divides gives more than one [mm].

    Examples
    --------
    >>> frame = turned([Polygon([(0, 0), (900, 0), (900, 500), (0, 470)])], (0, 0), (900, 0))
    >>> [cell.size for cell in cells(runs(frame, 0.0, 500.0)[0], frame, [300.0])]
    [(300, 480), (600, 500)]
    """
    found = []
    ends = (run.x0, *joints, run.x1)
    for c0, c1 in pairwise(ends):
        if len(run.traps) == 1:
            groups = [list(run.traps)]
        else:
            slabs: dict[float, list[Trapezoid]] = {}
            for trap in run.traps:
                slabs.setdefault(trap.y0, []).append(trap)
            groups = _joined([slabs[y] for y in sorted(slabs)], c0, c1)
        for group in groups:
            cell = _cell(group, c0, c1, roof)
            if cell is not None:
                found.append(cell)
    return found


def _cell(group: list[Trapezoid], c0: float, c1: float, roof: Turned) -> Cell | None:
    parts, outer = [], False
    for t in group:
        part = _clipped(t, c0, c1)
        if len(part) < 3:
            continue
        parts.append(part)
        outer = (
            outer
            or (t.outer_left and c0 < max(t.l0, t.l1) + FLAT and c1 > min(t.l0, t.l1))
            or (t.outer_right and c1 > min(t.r0, t.r1) - FLAT and c0 < max(t.r0, t.r1))
            or _on_level(roof, t, c0, c1)
        )
    if not parts:
        return None
    xs = [x for part in parts for x, _ in part]
    ys = [y for part in parts for _, y in part]
    box = (min(xs), min(ys), max(xs), max(ys))
    if box[2] - box[0] < TOUCH or box[3] - box[1] < TOUCH:
        return None
    return Cell(tuple(parts), box, outer)


def _on_level(roof: Turned, t: Trapezoid, c0: float, c1: float) -> bool:
    """Tell whether a level outer edge runs along the foot or the head of a clipped trapezoid."""
    for y, x0, x1 in roof.level:
        for line, left, right in ((t.y0, t.l0, t.r0), (t.y1, t.l1, t.r1)):
            if abs(y - line) < 2 * FLAT:
                shared = min(x1, right, c1) - max(x0, left, c0)
                if shared > TOUCH:
                    return True
    return False


def _clipped(t: Trapezoid, c0: float, c1: float) -> tuple[Point, ...]:
    """Clip a trapezoid between two joints."""
    if c0 >= t.l0 and c0 >= t.l1 and c1 <= t.r0 and c1 <= t.r1:
        return ((c0, t.y0), (c1, t.y0), (c1, t.y1), (c0, t.y1))
    corners = [(t.l0, t.y0), (t.r0, t.y0), (t.r1, t.y1), (t.l1, t.y1)]
    for limit, sign in ((c0, 1.0), (c1, -1.0)):
        kept: list[Point] = []
        for (px, py), (qx, qy) in zip(corners, corners[1:] + corners[:1], strict=True):
            p_in, q_in = sign * (px - limit) >= 0, sign * (qx - limit) >= 0
            if p_in:
                kept.append((px, py))
            if p_in != q_in:
                kept.append((limit, py + (qy - py) * (limit - px) / (qx - px)))
        corners = kept
        if not corners:
            return ()
    return tuple(corners)


def open_joints(run: Run, joints: Sequence[float]) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Tell which joints reach the lower and the upper line of the course.

    A joint may begin at the corner of an opening on the line, where its side leans away.

    Parameters
    ----------
    run : Run
        A stretch of a course [mm].
    joints : sequence of float
        Its joints [mm].

    Returns
    -------
    tuple of (tuple, tuple)
        Joints at the lower line, and at the upper line [mm].

    Examples
    --------
    >>> frame = turned([Polygon([(0, 0), (900, 0), (900, 200), (0, 500)])], (0, 0), (900, 0))
    >>> open_joints(runs(frame, 0.0, 300.0)[0], [400.0, 800.0])
    ((400.0, 800.0), (400.0,))
    """
    near = min(REACH, (run.y1 - run.y0) / 2)
    low, high = (run.y0, run.y0 + near), (run.y1, run.y1 - near)
    return (
        tuple(x for x in joints if any(_within(run, x, y) for y in low)),
        tuple(x for x in joints if any(_within(run, x, y) for y in high)),
    )


def _within(run: Run, x: float, y: float) -> bool:
    """Tell whether a point lies well inside a run."""
    for t in run.traps:
        if t.y0 - FLAT < y < t.y1 + FLAT:
            share = (y - t.y0) / (t.y1 - t.y0)
            if t.l0 + share * (t.l1 - t.l0) + FLAT < x < t.r0 + share * (t.r1 - t.r0) - FLAT:
                return True
    return False

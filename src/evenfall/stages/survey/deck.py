"""The deck as a surface: ponds, contours and arrows of fall, before and after."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from math import dist, hypot
from typing import Literal

from evenfall.calc.drainage.ponds import Filled, drains, fill, pools
from evenfall.calc.drainage.water_ways import Ground
from evenfall.calc.geometry.contours import cells_at, contour, round_step
from evenfall.calc.geometry.polygon import signed_area
from evenfall.calc.geometry.relief import Level, Line, Relief, spot_relief
from evenfall.calc.geometry.surface import Surface, surface
from evenfall.model.surveyed import Arrow, Contour, Plan, Point, Pond, Ring, Slope, SpotAt, WaterRun
from evenfall.working import Table

MM = 1000
LEAST_MM = 1.0  # a shallower pond is less than a staff reads
APART_M = 0.9  # arrows stand that far apart: some five across a small roof
LEVEL_MM_M = 0.5  # a slighter fall is no arrow: 1 in 2000
KEPT = 8  # decks: the old one, and those with the folds of tapered boards
TOLD = 5  # ways of the water on the sheets: the flattest decide
KERBED = ("rooflight", "chimney", "post")
"""Openings round which water runs; pipes and flues are too slim to hold it back."""


def deck_surface(spots: tuple[SpotAt, ...], plane: Slope) -> tuple[Surface, Level]:
    """Lay a surface through spot levels.

    Parameters
    ----------
    spots : tuple of SpotAt
        Levels in their places [mm].
    plane : Slope
        The plane through them: beyond the outermost spots the roof keeps its distance from it [mm].

    Returns
    -------
    (Surface, callable)
        How far the deck lies off its plane, between spots; the plane. Their sum is the deck [m].
    """
    off = tuple((*s.at, (s.z_mm - plane.at(s.at)) / MM) for s in spots)

    def level(points: tuple[Point, ...]) -> tuple[float, ...]:
        return tuple(plane.at(p) / MM for p in points)

    return surface(off), level


def deck_relief(
    spots: tuple[SpotAt, ...], plane: Slope, plan: Plan, more: Iterable[Line] = ()
) -> Relief:
    """Cut the old deck into flat cells.

    Parameters
    ----------
    spots : tuple of SpotAt
        Levels in their places [mm].
    plane : Slope
        The plane through them [mm].
    plan : Plan
        Outline, openings and outlets [m].
    more : iterable of (point, point)
        Further lines along which cells end [m].

    Returns
    -------
    Relief
        The old surface [m].
    """
    holes = tuple(o.ring for o in plan.openings if o.kind in KERBED)
    return _relief(spots, plane, plan.deck, holes, outlets(plan), tuple(more))


@lru_cache(maxsize=KEPT)
def _relief(
    spots: tuple[SpotAt, ...],
    plane: Slope,
    ring: Ring,
    holes: tuple[Ring, ...],
    out: tuple[Point, ...],
    more: tuple[Line, ...],
) -> Relief:
    """Keep the last few: levels, falls and ways ask for the same deck."""
    off, level = deck_surface(spots, plane)
    return spot_relief(off, ring, holes, out, more, level)


def anticlockwise(ring: Ring) -> Ring:
    """Give a ring the turn that the roof has.

    Parameters
    ----------
    ring : ring
        Outline [m].

    Returns
    -------
    ring
        The same, anticlockwise [m].
    """
    return ring if signed_area(ring) > 0 else ring[::-1]


def outlets(plan: Plan) -> tuple[Point, ...]:
    """List where pipes take water off the roof.

    Parameters
    ----------
    plan : Plan
        The plan [m].

    Returns
    -------
    tuple of (x, y)
        Middles of the outlets [m].
    """
    return tuple(o.centre for o in plan.openings if o.kind == "outlet")


def leaves(relief: Relief, plan: Plan, low_side: str | None = None) -> tuple[int, ...]:
    """Find the corners at which water leaves.

    Parameters
    ----------
    relief : Relief
        The surface [m].
    plan : Plan
        Eaves, outlets [m].
    low_side : str, optional
        Side to which it is made to fall; it counts where there is neither [-].

    Returns
    -------
    tuple of int
        Corners of the net; with no way out at all the lowest one [-].
    """
    eaves = [(s.a, s.b) for s in plan.sides if s.kind == "eaves"]
    out = outlets(plan)
    if not eaves and not out and low_side is not None:
        side = plan.side(low_side)
        eaves = [(side.a, side.b)]
    lowest = min(range(len(relief.levels)), key=relief.levels.__getitem__)
    return drains(relief, eaves, out) or (lowest,)


def filled(relief: Relief, plan: Plan, low_side: str | None = None) -> Filled:
    """Fill a roof until the water runs into gutter or outlet.

    Parameters
    ----------
    relief : Relief
        The surface [m].
    plan : Plan
        Eaves, outlets [m].
    low_side : str, optional
        Side to which it is made to fall [-].

    Returns
    -------
    Filled
        The roof and its water [m].
    """
    return fill(relief, leaves(relief, plan, low_side))


def ponds(full: Filled, when: Literal["before", "after"]) -> tuple[Pond, ...]:
    """Give the ponds in millimetres and litres.

    Parameters
    ----------
    full : Filled
        A roof and its water [m].
    when : str
        before or after the work [-].

    Returns
    -------
    tuple of Pond
        The deepest first [mm].
    """
    return tuple(
        Pond(
            f"pond:{when}-{n}", when, p.rings, p.depth * MM, p.area, p.volume * MM, p.deepest,
            p.spills_at,
        )
        for n, p in enumerate(pools(full, LEAST_MM / MM), 1)
    )  # fmt: skip


def standing(found: tuple[Pond, ...]) -> Table:
    """List ponds before and after.

    Parameters
    ----------
    found : tuple of Pond
        Ponds [mm].

    Returns
    -------
    Table
        One row a pond; without rows no water stands [-].
    """
    columns = (
        ("pond", "-"), ("deepest at x", "m"), ("y", "m"), ("depth", "mm"), ("area", "m2"),
        ("volume", "l"),
    )  # fmt: skip
    rows = tuple(
        (p.id.partition(":")[2], *p.deepest, p.depth_mm, p.area_m2, p.volume_l) for p in found
    )
    title = "Water that stands, before and after" if rows else "No water stands, before or after"
    return Table(title, columns, rows, "spot levels, filled to eaves and outlets", "measured")


def contours(relief: Relief) -> tuple[Contour, ...]:
    """Draw contours at round levels, ten or fewer.

    Parameters
    ----------
    relief : Relief
        The surface [m].

    Returns
    -------
    tuple of Contour
        From the lowest up [mm].
    """
    low, high = min(relief.levels) * MM, max(relief.levels) * MM
    if high - low < LEAST_MM:
        return ()
    step = round_step(high - low)
    first = int(low // step) + 1
    levels = [step * n for n in range(first, int(high // step) + 1) if step * n < high]
    found = ((z, contour(relief, z / MM)) for z in levels)
    return tuple(Contour(z, lines) for z, lines in found if lines)


def arrows(relief: Relief, plan: Plan) -> tuple[Arrow, ...]:
    """Give the fall at points of a square grid.

    Parameters
    ----------
    relief : Relief
        The surface [m].
    plan : Plan
        The plan, whose middle the grid has [m].

    Returns
    -------
    tuple of Arrow
        One a point that lies on the roof and is not level [-].
    """
    xs, ys = _grid([x for x, _ in plan.deck]), _grid([y for _, y in plan.deck])
    points = tuple((x, y) for y in ys for x in xs)
    found = zip(points, cells_at(relief, points), strict=True)
    return tuple(a for p, cell in found if cell is not None and (a := _arrow(relief, cell, p)))


def runs(relief: Relief, plan: Plan, low_side: str | None = None) -> tuple[WaterRun, ...]:
    """Follow the water from points of a square grid.

    Parameters
    ----------
    relief : Relief
        The surface [m].
    plan : Plan
        Eaves, outlets [m].
    low_side : str, optional
        Side to which it is made to fall [-].

    Returns
    -------
    tuple of WaterRun
        The flattest first [mm/m].
    """
    ground = Ground(relief, frozenset(leaves(relief, plan, low_side)))
    xs, ys = _grid([x for x, _ in plan.deck]), _grid([y for _, y in plan.deck])
    ways = (ground.way((x, y)) for y in ys[::2] for x in xs[::2])
    found = [WaterRun(w.line, w.mean * MM, w.least * MM, w.ends) for w in ways if w is not None]
    return tuple(sorted(found, key=lambda r: r.least_mm_m))


def flattest(found: tuple[WaterRun, ...]) -> Table:
    """List the flattest ways of the water.

    Parameters
    ----------
    found : tuple of WaterRun
        Ways, the flattest first [mm/m].

    Returns
    -------
    Table
        Start, length, falls and end of the first few [-].
    """
    columns = (
        ("from x", "m"), ("y", "m"), ("long", "m"), ("fall, mean", "mm/m"),
        ("fall, least", "mm/m"), ("ends at a", "-"),
    )  # fmt: skip
    rows = tuple(
        (*r.line[0], sum(map(dist, r.line, r.line[1:])), r.mean_mm_m, r.least_mm_m, r.ends)
        for r in found[:TOLD]
    )  # fmt: skip
    return Table("Flattest ways of the water", columns, rows, "down the finished roof", "measured")


def _grid(values: list[float]) -> list[float]:
    low, high = min(values), max(values)
    count = max(1, round((high - low) / APART_M))
    return [low + (high - low) * (n + 0.5) / count for n in range(count)]


def _arrow(relief: Relief, cell: int, at: Point) -> Arrow | None:
    plane = relief.planes[cell]
    fall = hypot(plane.rise_x, plane.rise_y)
    if fall * MM < LEVEL_MM_M:
        return None
    return Arrow(at, (-plane.rise_x / fall, -plane.rise_y / fall), 1 / fall)

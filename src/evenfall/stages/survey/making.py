"""What makes the fall: firrings for each joist, boards cut to falls, packing; as heights by place.

The top of firrings and of packing is one plane, whatever the old deck does under it: each piece is
as high as the gap over its own joist. Boards cut to falls lie on the deck and keep its dips.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from evenfall.calc.drainage.tapering import (
    Cricket,
    Scheme,
    behind,
    folds,
    four_ways,
    heights,
    pieces,
    to_outlet,
    to_side,
)
from evenfall.calc.geometry.polygon import Point
from evenfall.calc.geometry.relief import GRID, Net, Relief, net, relief
from evenfall.calc.geometry.slopes import crossings, reach
from evenfall.calc.layout.tapered_plan import TaperedBoards, first_cut_mm
from evenfall.model.choice import Tapered
from evenfall.model.job import FallKind, Joists
from evenfall.model.surveyed import Firring, Levels, Plan, Slope, Taper, TaperRows
from evenfall.stages.survey import deck
from evenfall.standards import falls_practice
from evenfall.standards.board_practice import SMALLEST_PERIMETER_PIECE_MM

MM = 1000
ALONG = 0.9  # cosine above which joists count as running with the fall
ALIKE = 1e-6  # a fall that differs by less is the rounding of a sum
BELOW_M = 0.002  # a part of the deck beyond the low side; less is the rounding of corners
BEND_MM = 1.0  # a firring is told where its foot bends by more
NOTHING = Slope(0.0, 0.0, 0.0)
OPEN = ("eaves", "verge", "party_line", "step")
"""Sides over which tapered boards may fall; before a wall or parapet they fall to outlets."""

Run = Literal["along", "across"]


@dataclass(frozen=True, slots=True)
class Wish:
    """How the fall is to be made."""

    kind: FallKind
    low_side: str
    one_in: float
    thin_mm: float
    run: Run = "along"
    sold: tuple[Tapered, ...] = ()  # tapered boards of the rates


@dataclass(frozen=True, slots=True)
class Made:
    """The fall as made: what is added, and the finished surface."""

    wish: Wish
    added_mm_m: float  # towards the low side
    rise: Slope
    patches: tuple[Taper, ...]
    tapers: tuple[Taper, ...]
    firrings: tuple[Firring, ...]
    after: Relief
    rows: TaperRows | None = None

    def added_at(self, point: Point) -> float:
        """Height added at a point, in mm."""
        return added_at(self.patches, self.rise, point)


def added_at(patches: tuple[Taper, ...], rise: Slope, point: Point) -> float:
    """Give the height added at a point.

    Parameters
    ----------
    patches : tuple of Taper
        What is added, place by place [mm].
    rise : Slope
        What is added where there are none [mm].
    point : (x, y)
        The point [m].

    Returns
    -------
    float
        Height [mm].
    """
    if not patches:
        return rise.at(point)
    return max(patches, key=lambda patch: patch.inside(point)).slope.at(point)


def make(wish: Wish, joists: Joists, plan: Plan, levels: Levels, old: Relief) -> Made:
    """Make the fall in one of its ways.

    Parameters
    ----------
    wish : Wish
        The way, the low side, the finished fall [-].
    joists : Joists
        Spacing and direction [-].
    plan : Plan
        The plan [m].
    levels : Levels
        Spots and the plane through them [mm].
    old : Relief
        The old deck in cells [m].

    Returns
    -------
    Made
        Heights by place, pieces, and the finished surface [mm].
    """
    downhill = plan.side(wish.low_side).outwards
    added = _lacking(wish, downhill, levels)
    if wish.kind == "keep":
        return Made(wish, 0.0, NOTHING, (), (), (), old)
    if wish.kind == "tapered":
        rows = rows_of(wish, levels.plane, plan)
        return _tapered(wish, MM / rows.stock.one_in if rows else added, plan, levels, rows)
    rise = _lifted(wish, added, downhill, plan, levels, old)
    top = _sum(rise, levels.plane)
    patches = tuple(_over(old, n, top) for n in range(len(old.net.cells)))
    after = relief(old.net, lambda at: tuple(top.at(p) / MM for p in at))
    found = Made(wish, added, rise, patches, (), (), after)
    return Made(
        wish, added, rise, patches, (), tuple(_firrings(found, joists, plan, downhill)), after
    )


def rise_to(wish: Wish, plan: Plan, levels: Levels) -> Slope:
    """Work out what would be added to fall to a side, as a plane over that of the old deck.

    Parameters
    ----------
    wish : Wish
        The way and the side [-].
    plan : Plan
        The plan [m].
    levels : Levels
        Spots and the plane through them [mm].

    Returns
    -------
    Slope
        Height of firrings or boards; nothing where the fall is kept [mm].
    """
    downhill = plan.side(wish.low_side).outwards
    if wish.kind == "keep":
        return NOTHING
    added = _lacking(wish, downhill, levels)
    if wish.kind == "tapered":
        _, low = reach(plan.deck, downhill)
        rows = rows_of(wish, levels.plane, plan)
        added = MM / rows.stock.one_in if rows else added
        foot = rows.foot_mm if rows else 0.0
        return Slope(added * low + foot, -added * downhill[0], -added * downhill[1])
    old = deck.deck_relief(levels.spots, levels.plane, plan)
    return _lifted(wish, added, downhill, plan, levels, old)


def _lacking(wish: Wish, downhill: Point, levels: Levels) -> float:
    """Fall that the old deck lacks and that is made, mm per m."""
    before = -(levels.plane.x_mm_m * downhill[0] + levels.plane.y_mm_m * downhill[1])
    return max(0.0, MM / wish.one_in - before) if wish.kind in ("firrings", "tapered") else 0.0


def _lifted(
    wish: Wish, added: float, downhill: Point, plan: Plan, levels: Levels, old: Relief
) -> Slope:
    """Lift the plane of the pieces until the thinnest place is as thick as it must be."""
    _, low = reach(plan.deck, downhill)
    thin = wish.thin_mm if wish.kind == "firrings" else 0.0
    rise = Slope(added * low, -added * downhill[0], -added * downhill[1])
    gaps = [rise.at(p) + levels.plane.at(p) - z * MM
            for p, z in zip(old.net.points, old.levels, strict=True)]  # fmt: skip
    return Slope(rise.z_mm + thin - min(gaps), rise.x_mm_m, rise.y_mm_m)


def _sum(one: Slope, other: Slope) -> Slope:
    return Slope(
        one.z_mm + other.z_mm, one.x_mm_m + other.x_mm_m, one.y_mm_m + other.y_mm_m
    )  # fmt: skip


def _over(old: Relief, cell: int, top: Slope) -> Taper:
    """Give the gap between a plane and one cell of the old deck."""
    plane, ring = old.planes[cell], old.ring(cell)
    gap = Slope(
        top.z_mm - plane.level * MM, top.x_mm_m - plane.rise_x * MM, top.y_mm_m - plane.rise_y * MM
    )
    return Taper(ring, tuple(gap.at(p) for p in ring), gap)


def rows_of(wish: Wish, old: Slope, plan: Plan) -> TaperRows | None:
    """Choose the gentlest tapered boards of the rates that give the fall to an open low side.

    Parameters
    ----------
    wish : Wish
        Low side, finished fall and what is sold [-].
    old : Slope
        Plane of the old deck [mm].
    plan : Plan
        The plan [m].

    Returns
    -------
    TaperRows or None
        None where the boards fall to outlets, where a part of the deck lies below the low side,
        or where nothing is sold that is steep enough [mm].
    """
    side = plan.side(wish.low_side)
    if wish.kind != "tapered" or (side.kind not in OPEN and deck.outlets(plan)):
        return None
    u, v = side.outwards
    low = u * side.a[0] + v * side.a[1]
    least, most = reach(plan.deck, side.outwards)
    fall = 1 / wish.one_in + (old.x_mm_m * u + old.y_mm_m * v) / MM
    sold = [t for t in wish.sold if 1 / t.one_in >= fall - ALIKE]
    if most > low + BELOW_M or fall <= ALIKE or not sold:
        return None
    stock = max(sold, key=lambda t: t.one_in)
    boards = TaperedBoards(stock.one_in, stock.width_mm, stock.length_mm, stock.kinds)
    cut = first_cut_mm((low - least) * MM, boards, int(SMALLEST_PERIMETER_PIECE_MM))
    ridges = tuple(name for name, _ in _ridges(wish, plan))
    return TaperRows(stock, side.a, cut, ridges)


def _tapered(wish: Wish, added: float, plan: Plan, levels: Levels, rows: TaperRows | None) -> Made:
    """Cut boards to falls, zone by zone, and lay them on the deck as it is."""
    scheme = scheme_of(wish, levels.plane, plan, rows)
    far = 2 * max(abs(v) for p in plan.deck for v in p) + MM / 100
    lines = folds(scheme, far)
    kerbs = tuple(o.ring for o in plan.openings if o.kind in deck.KERBED)
    whole = net(plan.deck, kerbs, lines)
    open_ = tuple(o.hole for o in plan.openings if o.diameter_mm is None)  # pipes are too small
    boards = net(plan.deck, open_, lines)
    raised = deck.deck_relief(levels.spots, levels.plane, plan, lines)
    up = heights(scheme, raised.net.points)
    after = relief(
        raised.net, lambda _: tuple(z + h for z, h in zip(raised.levels, up, strict=True))
    )
    patches, tapers = _tapers(scheme, whole), _tapers(scheme, boards)
    return Made(wish, added, NOTHING, patches, tapers, (), after, rows)


def scheme_of(wish: Wish, old: Slope, plan: Plan, rows: TaperRows | None = None) -> Scheme:
    """Lay out the zones: to the low side where it is open, else to the outlets; and the crickets.

    Parameters
    ----------
    wish : Wish
        Low side and finished fall; what the old deck falls already need not be added [-].
    old : Slope
        Plane of the old deck [mm].
    plan : Plan
        The plan [m].
    rows : TaperRows, optional
        Boards that are bought: they fall as they are sold, over their thin edge [mm].

    Returns
    -------
    Scheme
        Zones and crickets [m].
    """
    side, out = plan.side(wish.low_side), deck.outlets(plan)

    def lacks(uphill: Point) -> float:
        has = old.x_mm_m * uphill[0] + old.y_mm_m * uphill[1]
        return max(0.0, 1 / wish.one_in - has / MM)

    if rows:
        (plane,) = to_side((side.a, side.b), side.outwards, 1 / rows.stock.one_in)
        lifted = replace(plane, level=plane.level + rows.foot_mm / MM)
        return Scheme(((lifted,),), _crickets(wish, plan))
    if side.kind in OPEN or not out:
        fall = lacks((-side.outwards[0], -side.outwards[1]))
        return Scheme((to_side((side.a, side.b), side.outwards, fall),), _crickets(wish, plan))
    a, b, c, d = map(lacks, four_ways(side.along))
    return Scheme(tuple(to_outlet(at, side.along, (a, b, c, d)) for at in out))


def _crickets(wish: Wish, plan: Plan) -> tuple[Cricket, ...]:
    """Set a ridge behind each kerb that is wide enough to hold water back."""
    return tuple(ridge for _, ridge in _ridges(wish, plan))


def _ridges(wish: Wish, plan: Plan) -> Iterator[tuple[str, Cricket]]:
    """Name each kerb that has a ridge behind it."""
    least, way = float(falls_practice.CRICKET_FROM), plan.side(wish.low_side).outwards
    for o in plan.openings:
        if o.kind in deck.KERBED:
            found = behind(deck.anticlockwise(o.ring), way, 1 / wish.one_in, least)
            if found is not None:
                yield o.name, found


def _tapers(scheme: Scheme, cells: Net) -> tuple[Taper, ...]:
    """Measure each piece just inside its corners: a ridge behind a kerb ends at the kerb."""
    found = []
    for ring in pieces(cells):
        x, y = (sum(p[k] for p in ring) / len(ring) for k in (0, 1))
        within = tuple((p + (x - p) * GRID, q + (y - q) * GRID) for p, q in ring)
        found.append(_taper(ring, heights(scheme, within)))
    return tuple(found)


def _taper(ring: tuple[Point, ...], up: tuple[float, ...]) -> Taper:
    one = relief(
        Net(ring, (tuple(range(len(ring))),)), lambda _: up
    ).planes[0]  # fmt: skip
    slope = Slope(one.level * MM, one.rise_x * MM, one.rise_y * MM)
    return Taper(ring, tuple(h * MM for h in up), slope)


def _firrings(made: Made, joists: Joists, plan: Plan, downhill: Point) -> Iterator[Firring]:
    """One piece for each joist and stretch, or for each line square to the joists."""
    way = plan.side(joists.along).along
    if made.wish.run == "across":
        way = (-way[1], way[0])
    if way[0] * downhill[0] + way[1] * downhill[1] > 0:
        way = (-way[0], -way[1])  # from the low end upwards
    across = (-way[1], way[0])
    least, most = reach(plan.deck, across)
    step, number = joists.spacing_mm / MM, 0
    for n in range(int((most - least) / step) + 1):
        offset = least + step / 2 + n * step
        for start, end in crossings(plan.deck, way, offset):
            number += 1
            ends = (_on(way, across, start, offset), _on(way, across, end, offset))
            yield _firring(made, f"firring-{number}", ends, end - start)


def _firring(made: Made, name: str, ends: tuple[Point, Point], length: float) -> Firring:
    """Measure the gap along one joist, at its ends and wherever the deck bends."""
    profile = sorted({p for patch in made.patches for p in _under(patch, ends, length)})
    told = tuple((round(s), round(h)) for s, h in _needed(profile))
    least, most = min(h for _, h in profile), max(h for _, h in profile)
    return Firring(name, round(length * MM), round(least), round(most), ends, told)


def _under(patch: Taper, ends: tuple[Point, Point], length: float) -> Iterator[tuple[float, float]]:
    """Give place and height where a line enters and leaves one part of the deck."""
    (xa, ya), (xb, yb) = ends
    dx, dy, first, last = xb - xa, yb - ya, 0.0, 1.0
    for (px, py), (qx, qy) in zip(patch.ring, (*patch.ring[1:], patch.ring[0]), strict=True):
        ex, ey = qx - px, qy - py
        inside, gain = ex * (ya - py) - ey * (xa - px), ex * dy - ey * dx
        if abs(gain) < GRID * GRID:
            if inside < -GRID:
                return
        elif gain > 0:
            first = max(first, -inside / gain)
        else:
            last = min(last, -inside / gain)
    if last - first > GRID:
        for t in (first, last):
            yield round(t * length * MM, 3), patch.slope.at((xa + t * dx, ya + t * dy))


def _needed(profile: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Leave out points at which a straight cut is near enough."""
    (s0, h0), (s1, h1) = profile[0], profile[-1]
    off = [abs(h - h0 - (h1 - h0) * (s - s0) / ((s1 - s0) or 1)) for s, h in profile]
    worst = max(range(len(off)), key=off.__getitem__)
    if off[worst] <= BEND_MM:
        return [profile[0], profile[-1]]
    return [*_needed(profile[: worst + 1])[:-1], *_needed(profile[worst:])]


def _on(way: Point, across: Point, along: float, offset: float) -> Point:
    return (along * way[0] + offset * across[0], along * way[1] + offset * across[1])

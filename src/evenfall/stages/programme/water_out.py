"""Where the water of each bay leaves the roof, every evening: down the fall, along what stops it.

A bay whose water meets boards and sheet lower down, or an edge with no way through, is a bath.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil

from shapely import LineString, Polygon

from evenfall.calc.drainage.outlet import slot_length_mm
from evenfall.calc.drainage.run_off import run_off_l_s, wall_area
from evenfall.calc.geometry.polygon import contains
from evenfall.model.programmed import Bay, Cover, Drain, Gap
from evenfall.model.surveyed import Plan, Point, SideAt
from evenfall.stages.programme.roof import FACES
from evenfall.standards import programme_practice as practice

NEAR = 1e-6  # m; closer is the same place
NUDGE = 1e-3  # m; a step off a corner, to see where the roof goes on
LEVEL = 0.05  # cosine; a side that falls less along itself holds the water
TEN = 10  # mm; gaps are told to the next
TOUCHES = 0.05  # m; a bay that shares more of a side lies at it


@dataclass(frozen=True, slots=True)
class Path:
    """Where the water of a bay runs over bare deck: the bays it crosses, and what it leaves by."""

    bay: int
    through: tuple[int, ...]
    leaves_by: str | None  # side or opening


def ways_out(plan: Plan, downhill: Point) -> tuple[str, ...]:
    """Find by what the water of an evening leaves the roof.

    Parameters
    ----------
    plan : Plan
        Sides and openings [m].
    downhill : (x, y)
        The way that the water runs [-].

    Returns
    -------
    tuple of str
        Ids of the eaves that it reaches, and of the outlets [-].
    """
    u, v = downhill
    eaves = (s.id for s in plan.of_kind("eaves") if s.outwards[0] * u + s.outwards[1] * v > FACES)
    return (*eaves, *(o.id for o in plan.openings if o.kind == "outlet"))


def paths(plan: Plan, bays: tuple[Bay, ...], downhill: Point) -> tuple[Path, ...]:
    """Follow the water of each bay to where it leaves the roof.

    Parameters
    ----------
    plan : Plan
        Sides and openings [m].
    bays : tuple of Bay
        The bays [m].
    downhill : (x, y)
        The way that the water runs [-].

    Returns
    -------
    tuple of Path
        One for each bay [-].
    """
    shapes = {b.number: Polygon(b.ring) for b in bays}
    found = []
    for bay in bays:
        inside = shapes[bay.number].representative_point()
        line, out = _run(plan, (inside.x, inside.y), downhill)
        run = LineString(line)
        crossed = [
            (run.project(part.interpolate(0.5, normalized=True)), n)
            for n, shape in shapes.items()
            for part in [run.intersection(shape.buffer(NUDGE))]
            if part.length > TOUCHES
        ]
        through = tuple(n for _, n in sorted(crossed) if n != bay.number)
        found.append(Path(bay.number, (bay.number, *through), out))
    return tuple(found)


def _run(plan: Plan, at: Point, downhill: Point) -> tuple[list[Point], str | None]:
    """Run down the fall, then along what stops it, to a way out or to where it stands."""
    line = [at]
    for _ in range(2 * len(plan.sides)):
        side, hit = _hit(plan, at, downhill)
        line.append(hit)
        at = hit
        while True:
            if _over(side, downhill):
                return line, side.id
            fall = side.along[0] * downhill[0] + side.along[1] * downhill[1]
            if abs(fall) < LEVEL:
                return line, _outlet(plan, at, downhill)
            at = side.b if fall > 0 else side.a
            line.append(at)
            on = (at[0] + NUDGE * downhill[0], at[1] + NUDGE * downhill[1])
            if contains(plan.deck, on):
                at = on
                break
            other = _beside(plan, side, at)
            away = 1 if other.a == at else -1
            if not _over(other, downhill) and _along(other, downhill) * away < LEVEL:
                return line, _outlet(plan, at, downhill)
            side = other
    return line, None


def _along(side: SideAt, downhill: Point) -> float:
    return side.along[0] * downhill[0] + side.along[1] * downhill[1]


def _over(side: SideAt, downhill: Point) -> bool:
    """Whether water runs over a side: eaves, and not uphill of the roof."""
    u, v = side.outwards
    return side.kind == "eaves" and u * downhill[0] + v * downhill[1] > LEVEL


def _hit(plan: Plan, at: Point, way: Point) -> tuple[SideAt, Point]:
    """Find the side that a straight line from a place meets first."""
    best: tuple[float, SideAt] | None = None
    for side in plan.sides:
        (ax, ay), (bx, by) = side.a, side.b
        ex, ey = bx - ax, by - ay
        cross = way[0] * ey - way[1] * ex
        if abs(cross) < NEAR:
            continue
        t = ((ax - at[0]) * ey - (ay - at[1]) * ex) / cross
        s = ((ax - at[0]) * way[1] - (ay - at[1]) * way[0]) / cross
        if t > -NEAR and -NEAR <= s <= 1 + NEAR and (best is None or t < best[0]):
            best = (t, side)
    assert best is not None
    t, side = best
    return side, (at[0] + t * way[0], at[1] + t * way[1])


def _beside(plan: Plan, side: SideAt, corner: Point) -> SideAt:
    """Take the other side at a corner."""
    n, step = plan.sides.index(side), 1 if side.b == corner else -1
    return plan.sides[(n + step) % len(plan.sides)]


def _outlet(plan: Plan, at: Point, downhill: Point) -> str | None:
    """Find an outlet low enough to take water that stands somewhere."""
    low = at[0] * downhill[0] + at[1] * downhill[1]
    for o in plan.openings:
        above = low - (o.centre[0] * downhill[0] + o.centre[1] * downhill[1])
        if o.kind == "outlet" and above <= practice.OUTLET_REACH:
            return o.id
    return None


def drains(paths: tuple[Path, ...], covers: Mapping[int, Cover]) -> tuple[Drain, ...]:
    """Tell where the water of each bay leaves on an evening.

    Parameters
    ----------
    paths : tuple of Path
        Where water runs [-].
    covers : mapping
        What keeps the rain out of each bay [-].

    Returns
    -------
    tuple of Drain
        One for each bay; with nothing that it leaves by, it is a bath [-].
    """
    found = []
    for path in paths:
        high = [n for n in path.through if covers[n] == "sheet"]
        dam = high[0] if high and covers[path.bay] != "sheet" else None
        found.append(Drain(path.bay, None if dam else path.leaves_by, dam))
    return tuple(found)


def gaps(
    plan: Plan, bays: tuple[Bay, ...], drained: tuple[Drain, ...], covers: Mapping[int, Cover],
    rain_l_s_m2: float,
) -> tuple[Gap, ...]:  # fmt: skip
    """Size the gap in the edge timber of each side by which water leaves over VCL.

    Parameters
    ----------
    plan : Plan
        Sides, and the walls that shed rain onto the roof [m].
    bays : tuple of Bay
        The bays [m2].
    drained : tuple of Drain
        Where the water of each bay leaves [-].
    covers : mapping
        What keeps the rain out of each bay [-].
    rain_l_s_m2 : float
        Rainfall intensity [l/(s m2)].

    Returns
    -------
    tuple of Gap
        Flow and length; none where the edge still has its felt, or its sheet [l/s, mm].
    """
    if "vcl" not in covers.values():
        return ()
    walls = sum(wall_area(s.length_m, s.wall_height_m) for s in plan.of_kind("wall", "step"))
    areas = {b.number: b.area_m2 for b in bays}
    found = []
    for side in plan.of_kind("eaves"):
        mine = [d.bay for d in drained if d.leaves_by == side.id]
        edge = LineString((side.a, side.b)).buffer(NUDGE)
        bare = any(
            covers[b.number] == "vcl" and Polygon(b.ring).exterior.intersection(edge).length
            > TOUCHES for b in bays
        )  # fmt: skip
        if mine and bare:
            flow = run_off_l_s(rain_l_s_m2, sum(areas[n] for n in mine) + walls)
            length = ceil(slot_length_mm(flow, practice.EVENING_GAP_HEAD) / TEN) * TEN
            found.append(Gap(side.id, flow, float(length)))
    return tuple(found)

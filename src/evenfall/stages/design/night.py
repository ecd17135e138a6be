"""Night: with its edge timbers up a part-built roof is a bath; what it holds, and the way out."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot, sqrt
from typing import NamedTuple

from evenfall.calc.drainage.bath import bath
from evenfall.calc.drainage.outlet import weir_length_mm
from evenfall.calc.drainage.run_off import run_off_l_s
from evenfall.calc.geometry.slopes import steepest_fall
from evenfall.model.designed import Night
from evenfall.model.finding import Finding
from evenfall.model.surveyed import Falls, Plan, Point, Slope
from evenfall.stages.design.dead_weight import water_weight
from evenfall.stages.design.saying import cure, finding
from evenfall.stages.design.shedding import Shed
from evenfall.stages.survey.deck import KERBED
from evenfall.standards import dead_loads, en_12056_3
from evenfall.working import Cited, Known, Working, formula, measured

MM = 1000
LEVEL_MM_M = 0.5  # a fall that no level shows: the water lies evenly


@formula("S", "m/m", "change of unit")
def per_metre(s: float) -> float:
    """Fall in metres to the metre.

    Parameters
    ----------
    s : float
        Fall [mm/m].

    Returns
    -------
    float
        Fall [m/m].

    Examples
    --------
    >>> per_metre(12.5)
    0.0125
    """
    return s / 1000


class Lies(NamedTuple):
    """How tonight's cover lies: unit vector of its fall, and the fall in mm/m."""

    downhill: Point
    fall: Known | Working


def lies(plane: Slope, falls: Falls) -> Lies:
    """Find the fall of what the VCL lies on before the boards come.

    Firrings raise the deck before the VCL is laid on it: the finished fall holds every evening.
    Tapered boards and packing come over the VCL: under tonight's cover the deck falls as found.

    Parameters
    ----------
    plane : Slope
        The old surface [mm].
    falls : Falls
        What makes the finished fall [mm].

    Returns
    -------
    Lies
        The way down and the fall; no way where it is level [-].
    """
    raised = falls.kind == "firrings" and falls.lifts_deck
    rise, key = falls.rise, "survey.levels, the plane through them"
    x, y = plane.x_mm_m, plane.y_mm_m
    if raised:
        x, y = x + rise.x_mm_m, y + rise.y_mm_m
        key = "survey.levels, and the firrings"
    fall = steepest_fall.show(measured(x, "mm/m", key), measured(y, "mm/m", key))
    if fall.value < LEVEL_MM_M:
        return Lies((0.0, 0.0), fall)
    return Lies((-x / fall.value, -y / fall.value), fall)


def night(
    plan: Plan, downhill: Point, fall_mm_m: Known | Working | float, brim_mm: float, r: Known
) -> Night:
    """Work out the water that tonight's cover can hold between the edge timbers.

    Parameters
    ----------
    plan : Plan
        Outline and walls above [m].
    downhill : (x, y)
        Unit vector of the fall of what the cover lies on [-].
    fall_mm_m : Known or Working or float
        That fall [mm/m].
    brim_mm : float
        Height of the edge timbers [mm].
    r : Known
        Rainfall intensity [l/(s m2)].

    Returns
    -------
    Night
        Depth and load with the way out blocked, the gap it needs, the load with it open [-].
    """
    walls = tuple((side, side.length_m) for side in plan.sides if side.wall_height_m)
    area = Shed(plan.gross.value, walls).area
    rain = dead_loads.NIGHT_RAIN_MM
    deep = Cited(rain / MM, "m", rain.source, rain.where, rain.basis)
    brim = measured(brim_mm / MM, "m", "edge timbers, as high as the boards", "declared")
    level = float(fall_mm_m) < LEVEL_MM_M
    kerbs = tuple(o.ring for o in plan.openings if o.kind in KERBED)
    held = bath(
        deep, area, plan.deck, downhill, 0.0 if level else per_metre.show(fall_mm_m), brim, kerbs
    )
    head = dead_loads.NIGHT_HEAD_MM
    flow = run_off_l_s.show(r, area)
    stands = Cited(head / MM, "m", head.source, head.where, head.basis)
    return Night(
        held.volume, held.depth, water_weight.show(held.depth), held.reach_m, held.far_share, flow,
        weir_length_mm.show(flow, head), water_weight.show(stands),
        (0.0, 0.0) if level else downhill, "" if level else _side_at(plan, held.lowest, downhill),
    )  # fmt: skip


def _side_at(plan: Plan, lowest: Point, downhill: Point) -> str:
    """Name the side at the low corner that faces most down the fall."""
    meet = [s for s in plan.sides if lowest in (s.a, s.b)] or list(plan.sides)
    return max(meet, key=lambda s: s.outwards[0] * downhill[0] + s.outwards[1] * downhill[1]).name


def down(plan: Plan, downhill: Point) -> float:
    """Measure the roof down the fall; the side of a square as large where it is level.

    Parameters
    ----------
    plan : Plan
        Outline [m].
    downhill : (x, y)
        Unit vector of the fall; nought where it is level [-].

    Returns
    -------
    float
        Length [m].
    """
    if hypot(*downhill) == 0:
        return sqrt(plan.gross.value)
    along = [x * downhill[0] + y * downhill[1] for x, y in plan.deck]
    return max(along) - min(along)


def tell(held: Night) -> Iterator[Finding]:
    """Say what the gap is for.

    Parameters
    ----------
    held : Night
        The bath [-].

    Returns
    -------
    iterator of Finding
        A note with the gap [mm].
    """
    rain, deep, gap = dead_loads.NIGHT_RAIN_MM, held.depth.value * MM, _tens(held.way_out)
    place = f"at the low side {held.low_side}" if held.low_side else "on the level deck"
    says = (
        f"With the edge timbers up the roof is a bath: {rain:.0f} mm of rain would stand "
        f"{deep:.0f} mm deep {place}, {held.load.value:.0f} N/m². Leave a way out every "
        f"evening: a gap down to the cover, {gap} mm wide in all."
    )
    by = Cited(gap, "mm", en_12056_3.SOURCE, held.way_out.line, held.way_out.basis)
    ask = cure("Leave the gap, in two places if you can, and look at it before you go home.")
    yield finding("night-way-out", "roof", "note", says, by, deep, ask)


def _tens(gap: Working) -> int:
    return -int(-gap.value // 10) * 10

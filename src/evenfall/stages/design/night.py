"""Night: with its edge timbers up a part-built roof is a bath; what it holds, and the way out."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot, sqrt

from evenfall.calc.drainage.bath import bath
from evenfall.calc.drainage.outlet import weir_length_mm
from evenfall.calc.drainage.run_off import run_off_l_s
from evenfall.model.designed import Night
from evenfall.model.finding import Finding
from evenfall.model.surveyed import Plan, Point
from evenfall.stages.design.dead_weight import water_weight
from evenfall.stages.design.saying import cure, finding
from evenfall.stages.design.shedding import Shed
from evenfall.standards import dead_loads, en_12056_3
from evenfall.working import Cited, Known, Working, measured

MM = 1000
LEVEL_MM_M = 0.5  # a fall that no level shows: the water lies evenly


def night(plan: Plan, downhill: Point, fall_mm_m: float, brim_mm: float, r: Known) -> Night:
    """Work out the water that tonight's cover can hold between the edge timbers.

    Parameters
    ----------
    plan : Plan
        Outline and walls above [m].
    downhill : (x, y)
        Unit vector of the finished fall [-].
    fall_mm_m : float
        Finished fall [mm/m].
    brim_mm : float
        Height of the edge timbers [mm].
    r : Known
        Rainfall intensity [l/(s m2)].

    Returns
    -------
    Night
        Depth and load with the way out blocked, the gap it needs, the load with it open [-].
    """
    length = down(plan, downhill)
    walls = tuple((side, side.length_m) for side in plan.sides if side.wall_height_m)
    area = Shed(plan.gross.value, walls).area
    rain = dead_loads.NIGHT_RAIN_MM
    deep = Cited(rain / MM, "m", rain.source, rain.where, rain.basis)
    brim = measured(brim_mm / MM, "m", "edge timbers, as high as the boards", "declared")
    fall = fall_mm_m / MM if fall_mm_m >= LEVEL_MM_M else 0.0
    held = bath(deep, area, fall, plan.gross.value / length, length, brim)
    head = dead_loads.NIGHT_HEAD_MM
    flow = run_off_l_s.show(r, area)
    stands = Cited(head / MM, "m", head.source, head.where, head.basis)
    return Night(
        held.volume, held.depth, water_weight.show(held.depth), held.reach_m, held.far_share, flow,
        weir_length_mm.show(flow, head), water_weight.show(stands),
    )  # fmt: skip


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
    says = (
        f"With the edge timbers up the roof is a bath: {rain:.0f} mm of rain would stand "
        f"{deep:.0f} mm deep at the low side, {held.load.value:.0f} N/m². Leave a way out every "
        f"evening: a gap down to the cover, {gap} mm wide in all."
    )
    by = Cited(gap, "mm", en_12056_3.SOURCE, held.way_out.line, held.way_out.basis)
    ask = cure("Leave the gap, in two places if you can, and look at it before you go home.")
    yield finding("night-way-out", "roof", "note", says, by, deep, ask)


def _tens(gap: Working) -> int:
    return -int(-gap.value // 10) * 10

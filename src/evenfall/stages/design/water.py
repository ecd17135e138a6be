"""Water: the rain on the roof and its walls, and whether gutters, outlets and pipes carry it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from evenfall.calc.drainage.downpipe import downpipe_flow_l_s
from evenfall.calc.drainage.gutter import half_round_capacity
from evenfall.calc.drainage.outlet import circular_outlet, slot_length_mm
from evenfall.calc.drainage.run_off import run_off_l_s
from evenfall.model.designed import GutterCheck, Water
from evenfall.model.finding import Finding, Remedy
from evenfall.model.job import Gutter
from evenfall.model.surveyed import OpeningAt, Plan, Point, SideAt
from evenfall.stages.design import night
from evenfall.stages.design.saying import cure, finding
from evenfall.stages.design.shedding import Shed, catch, to_gutters
from evenfall.standards import approved_document_h as ad_h
from evenfall.standards import en_12056_3 as en
from evenfall.standards import gutter_practice as practice
from evenfall.working import Cited, Known, Working, formula, measured

MM = 1000
PERCENT = 100
OPEN = ("eaves", "verge")  # sides over which water can leave when all else is blocked


@formula("h", "mm", "share of the depth of the gutter", "from memory")
def head_mm(d_mm: float, share: float = practice.OUTLET_HEAD_SHARE) -> float:
    """Head of water over the outlet of a half-round gutter.

    Parameters
    ----------
    d_mm : float
        Diameter of the gutter, twice its depth [mm].
    share : float
        Share of the depth [-].

    Returns
    -------
    float
        Head [mm].

    Examples
    --------
    >>> head_mm(100.0)
    23.5
    """
    return share * d_mm / 2


@formula("Q", "l/s", "two halves of a gutter")
def both_arms_l_s(Q_arm_l_s: float) -> float:
    """Capacity of a gutter whose outlet is in the middle.

    Parameters
    ----------
    Q_arm_l_s : float
        Capacity of one half [l/s].

    Returns
    -------
    float
        Capacity [l/s].

    Examples
    --------
    >>> both_arms_l_s(0.7778)
    1.5556
    """
    return 2 * Q_arm_l_s


@formula("A", "m2", "roof divided among its outlets", "common practice")
def share_of_outlet(A_all: float, n: float) -> float:
    """Area that one of several outlets drains.

    Parameters
    ----------
    A_all : float
        Effective area of all of them [m2].
    n : float
        Number of outlets [-].

    Returns
    -------
    float
        Area [m2].

    Examples
    --------
    >>> share_of_outlet(34.7, 2.0)
    17.35
    """
    return A_all / n


def work(
    rain_l_s_m2: float,
    gutters: tuple[Gutter, ...],
    plan: Plan,
    downhill: Point,
    fall_mm_m: float,
    brim_mm: float,
) -> Water:
    """Compare the rain with what carries it away.

    Parameters
    ----------
    rain_l_s_m2 : float
        Rainfall intensity [l/(s m2)].
    gutters : tuple of Gutter
        Gutters with their outlets and pipes [mm].
    plan : Plan
        Sides, walls above and outlets [m].
    downhill : (x, y)
        Unit vector of the finished fall [-].
    fall_mm_m : float
        Finished fall [mm/m].
    brim_mm : float
        Height of the edge timbers [mm].

    Returns
    -------
    Water
        A check for each gutter and outlet, and findings [-].
    """
    r = measured(rain_l_s_m2, "l/(s m2)", "site.rain_l_s_m2", "declared")
    outlets = tuple(o for o in plan.openings if o.kind == "outlet")
    shed = catch(plan, downhill)
    runs, rest = to_gutters(shed, gutters, plan, downhill, bool(outlets))
    checks = [check_gutter(g, plan.side(g.side), runs[g.side], r) for g in gutters]
    checks += [_check_outlet(o, rest, len(outlets), r) for o in outlets]
    held = night.night(plan, downhill, fall_mm_m, brim_mm, r)
    findings = (
        *_ways_out(plan, gutters, outlets, shed, downhill),
        *(f for g, c in zip(gutters, checks, strict=False) for f in _gutter(g, c, plan, r)),
        *(f for c in checks[len(gutters):] for f in _outlet(c)),
        *_overflow(plan, outlets, rest, r),
        *night.tell(held),
    )  # fmt: skip
    return Water(tuple(checks), held, findings)


def check_gutter(gutter: Gutter, side: SideAt, shed: Shed, r: Known) -> GutterCheck:
    """Compare one gutter, its outlet and its pipe with the rain that reaches them.

    Parameters
    ----------
    gutter : Gutter
        As hung [mm].
    side : SideAt
        The side along which it hangs [m].
    shed : Shed
        What runs to it [m2].
    r : Known
        Rainfall intensity [l/(s m2)].

    Returns
    -------
    GutterCheck
        Area, flow, capacities and what is spare [l/s].
    """
    key = f"survey.gutters[{gutter.side}]"
    d = measured(gutter.width_mm, "mm", f"{key}.width_mm")
    middle = gutter.outlet_at == "middle"
    reach = min(side.length_m / (2 if middle else 1), _longest(gutter))
    arm = half_round_capacity(
        d, reach, measured(gutter.fall_mm_per_m, "mm/m", f"{key}.fall_mm_per_m"),
        gutter.bend_from_outlet_m,
    )  # fmt: skip
    carries = both_arms_l_s.show(arm) if middle else arm
    head = head_mm.show(d)
    h = Cited(head.value, "mm", head.source, head.line, head.basis)
    outlet = circular_outlet(measured(gutter.outlet_mm, "mm", f"{key}.outlet_mm"), h)
    pipe = downpipe_flow_l_s.show(measured(gutter.pipe_mm, "mm", f"{key}.pipe_mm"))
    area = shed.area
    flow = run_off_l_s.show(r, area)
    least = min(carries.value, outlet.value, pipe.value)
    return GutterCheck(
        f"gutter:{gutter.side}", area, flow, carries, outlet, pipe, _spare(least, flow.value)
    )


def _longest(gutter: Gutter) -> float:
    """Length at which the table of length factors ends, m."""
    return en.LENGTH_FACTORS[-1][0] * gutter.width_mm / 2 / MM


def _spare(carries: float, flow: float) -> float:
    return (carries / flow - 1) * PERCENT if flow else float(PERCENT)


def _check_outlet(outlet: OpeningAt, rest: Shed, count: int, r: Known) -> GutterCheck:
    area = share_of_outlet.show(rest.area, float(count))
    flow = run_off_l_s.show(r, area)
    d = measured(outlet.diameter_mm or 0.0, "mm", f"survey.openings[{outlet.name}].diameter_mm")
    carries = circular_outlet(d, grated=True)
    spare = _spare(carries.value, flow.value)
    return GutterCheck(outlet.id, area, flow, None, carries, None, spare)


def _ways_out(
    plan: Plan,
    gutters: tuple[Gutter, ...],
    outlets: tuple[OpeningAt, ...],
    shed: dict[str, Shed],
    downhill: Point,
) -> Iterator[Finding]:
    """Name every side that water runs to without a gutter."""
    limit = ad_h.DRAINED_AREA
    if not gutters and not outlets:
        if plan.gross.value > limit:
            says = (
                f"The roof has {plan.gross.value:.0f} m² and neither gutter nor outlet; above "
                f"{limit:.0f} m² it must be drained."
            )
            ask = cure("Hang a gutter along the low side and enter it.")
            yield finding("no-drainage", "roof", "stop", says, limit, plan.gross.value, ask)
        return
    guttered = {g.side for g in gutters}
    for name in () if outlets else [n for n in shed if n not in guttered and n != "rest"]:
        side, area = plan.side(name), shed[name].roof
        faces = side.outwards[0] * downhill[0] + side.outwards[1] * downhill[1]
        if area > limit and faces > 0.5:
            says = (
                f"{area:.0f} m² of roof run to {name}, where there is no gutter; above "
                f"{limit:.0f} m² there must be one."
            )
            ask = cure(f"Hang a gutter along {name}, or turn the fall.")
            yield finding("gutter-missing", side.id, "stop", says, limit, area, ask)


def _limit(flow: Working) -> Known:
    return Cited(flow.value, "l/s", flow.source, "rain that reaches it", flow.basis)


def _gutter(gutter: Gutter, check: GutterCheck, plan: Plan, r: Known) -> Iterator[Finding]:
    """Judge gutter, outlet and pipe one by one, each with a size that would do."""
    assert check.gutter is not None
    assert check.pipe is not None
    flow, subject, by = check.flow.value, check.id, _limit(check.flow)
    rain = f"the rain brings {flow:.2f} l/s ({check.area.value:.1f} m² with the walls)"
    if check.gutter.value < flow:
        says = f"Gutter {gutter.side} carries {check.gutter.value:.2f} l/s; {rain}."
        ask = _wider(gutter, check, plan, r)
        yield finding("gutter-small", subject, "stop", says, by, check.gutter.value, ask)
    if check.outlet.value < flow:
        says = f"The outlet of gutter {gutter.side} carries {check.outlet.value:.2f} l/s; {rain}."
        ask = _bigger(gutter, check, plan, r)
        yield finding("outlet-small", subject, "stop", says, by, check.outlet.value, ask)
    if check.pipe.value < flow:
        says = f"The pipe of gutter {gutter.side} carries {check.pipe.value:.2f} l/s; {rain}."
        ask = _pipe(gutter, flow)
        yield finding("pipe-small", subject, "stop", says, by, check.pipe.value, ask)
    if check.spare_percent >= 0:
        least = min(check.gutter.value, check.outlet.value, check.pipe.value)
        says = f"Gutter {gutter.side} carries {least:.2f} l/s; {rain}."
        yield finding("gutter-carries", subject, "fine", says, by, least)


def _tried(gutter: Gutter, check: GutterCheck, plan: Plan, r: Known) -> GutterCheck:
    """Work the same gutter again with other sizes, under the same rain."""
    side = plan.side(gutter.side)
    return replace(check_gutter(gutter, side, Shed(check.area.value), r), area=check.area)


def _wider(gutter: Gutter, check: GutterCheck, plan: Plan, r: Known) -> Remedy:
    """Find the next gutter that carries it; if none does, with the outlet in the middle."""
    key = f"survey.gutters[{gutter.side}]"
    for place in dict.fromkeys((gutter.outlet_at, "middle")):
        for row in ad_h.TABLE_2:
            if row.gutter_mm < gutter.width_mm:
                continue
            changes: dict[str, object] = {"width_mm": row.gutter_mm, "outlet_at": place}
            other = _tried(gutter.model_copy(update=changes), check, plan, r)
            if other.gutter is not None and other.gutter.value >= check.flow.value:
                where = ", outlet in the middle" if place != gutter.outlet_at else ""
                made = {k: v for k, v in changes.items() if getattr(gutter, k) != v}
                return cure(
                    f"Hang a gutter of {row.gutter_mm} mm{where}.",
                    *((f"{key}.{k}", v) for k, v in made.items()),
                )
    return cure("Add a second outlet and pipe, or have the gutter designed.")


def _bigger(gutter: Gutter, check: GutterCheck, plan: Plan, r: Known) -> Remedy:
    for row in ad_h.TABLE_2:
        size = float(row.outlet_mm)
        other = _tried(gutter.model_copy(update={"outlet_mm": size}), check, plan, r)
        if other.outlet.value >= check.flow.value:
            path = f"survey.gutters[{gutter.side}].outlet_mm"
            return cure(f"Fit an outlet of {size:.0f} mm.", (path, size))
    return cure("Hang a deeper gutter, or add a second outlet and pipe.")


def _pipe(gutter: Gutter, flow: float) -> Remedy:
    for size in practice.PIPES_MM:
        if downpipe_flow_l_s(float(size)) >= flow:
            path = f"survey.gutters[{gutter.side}].pipe_mm"
            return cure(f"Fit a pipe of {size:.0f} mm.", (path, float(size)))
    return cure("Add a second outlet and pipe.")


def _outlet(check: GutterCheck) -> Iterator[Finding]:
    flow, name = check.flow.value, check.id.removeprefix("opening:")
    told = f"{name} carries {check.outlet.value:.2f} l/s with its leaf guard"
    by = _limit(check.flow)
    if check.outlet.value < flow:
        says = f"{told}; its share of the rain is {flow:.2f} l/s."
        ask = cure("Fit a larger outlet, or another one.")
        yield finding("roof-outlet-small", check.id, "stop", says, by, check.outlet.value, ask)
    else:
        says = f"{told}; its share of the rain is {flow:.2f} l/s."
        yield finding("roof-outlet-carries", check.id, "fine", says, by, check.outlet.value)


def _overflow(
    plan: Plan, outlets: tuple[OpeningAt, ...], rest: Shed, r: Known
) -> Iterator[Finding]:
    """Ask for the second way out where a blocked outlet would fill the roof."""
    if not outlets:
        return
    least, count = ad_h.OUTLETS_LEAST, len(outlets)
    if count < least:
        says = (
            "The roof has one outlet: when leaves block it, there is no other way. It needs a "
            "second one, or an overflow as large."
        )
        ask = cure("Make a second outlet or an overflow, and keep a photograph of it.")
        yield finding("outlet-alone", outlets[0].id, "agree", says, least, count, ask)
    if not any(s.kind in OPEN for s in plan.sides):
        flow, head = run_off_l_s(r, rest.area.value), en.USUAL_HEAD_MM
        slot = slot_length_mm(flow, float(head))
        says = (
            "Walls or parapets stand all round and no overflow is recorded: blocked outlets would "
            "fill the roof like a bath."
        )
        ask = cure(
            f"Cut an overflow slot {slot:.0f} mm wide, {head:.0f} mm clear below it, under every "
            "threshold."
        )
        by = Cited(slot, "mm", ad_h.NHBC, "7.1.5, overflow", "published")
        yield finding("overflow-missing", "roof", "agree", says, by, 0.0, ask)

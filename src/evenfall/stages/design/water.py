"""Water: the rain on the roof and its walls, and whether gutters, outlets and pipes carry it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from evenfall.calc.drainage.downpipe import downpipe_capacity, downpipe_flow_l_s
from evenfall.calc.drainage.outlet import circular_outlet
from evenfall.calc.drainage.run_off import run_off_l_s
from evenfall.model.designed import GutterCheck, Water
from evenfall.model.drained import Gutter
from evenfall.model.finding import Finding, Remedy
from evenfall.model.surveyed import OpeningAt, Plan, Point
from evenfall.stages.design import blocked, night, overflowing, rain
from evenfall.stages.design.gutters import chosen_of, spare_percent
from evenfall.stages.design.hanging import AS_FOUND, Wanted, added, line, tell_line
from evenfall.stages.design.saying import cure, finding, rain_limit
from evenfall.stages.design.shedding import OWN, Shed, catch, to_gutters, to_outlets
from evenfall.standards import approved_document_h as ad_h
from evenfall.standards import en_12056_3 as en
from evenfall.standards import gutter_practice as practice
from evenfall.working import Known, Table, measured


def work(
    rain_l_s_m2: float | None,
    gutters: tuple[Gutter, ...],
    plan: Plan,
    downhill: Point,
    fall_mm_m: float,
    brim_mm: float,
    wanted: Wanted = AS_FOUND,
) -> Water:
    """Compare the rain with what carries it away.

    Parameters
    ----------
    rain_l_s_m2 : float, optional
        Rainfall intensity; None takes that of the category [l/(s m2)].
    gutters : tuple of Gutter
        Gutters as found, with their outlets and pipes [mm].
    plan : Plan
        Sides, walls above and outlets [m].
    downhill : (x, y)
        Unit vector of the finished fall [-].
    fall_mm_m : float
        Finished fall [mm/m].
    brim_mm : float
        Height of the edge timbers [mm].
    wanted : Wanted
        New gutters, stock, overflows, and how the finished roof lies [mm].

    Returns
    -------
    Water
        A check for each gutter and outlet, the gutters as they will hang, and findings [-].
    """
    r = rain.intensity(rain_l_s_m2, plan, wanted.building)
    outlets = tuple(o for o in plan.openings if o.kind == "outlet")
    shed = catch(plan, downhill)
    runs = to_gutters(shed, gutters, plan, downhill, bool(outlets))
    lines = tuple(
        line(g, chosen_of(wanted.new, g.side), plan.side(g.side), runs[g.side], r, wanted,
             brim_mm + added(plan.side(g.side), wanted.lie))
        for g in gutters
    )  # fmt: skip
    areas = to_outlets(plan, outlets, gutters, downhill) if outlets else {}
    drains = [_check_outlet(o, areas[o.name], r) for o in outlets]
    bare = night.Lies(downhill, measured(fall_mm_m, "mm/m", "the finished fall"))
    if wanted.lie is not None:
        bare = night.lies(wanted.lie.plane, wanted.lie.falls)
    held = night.night(plan, *bare, brim_mm, r)
    full = blocked.blocked(plan, wanted.lie, wanted.overflows, downhill, fall_mm_m, held.flow)
    findings = (
        *rain.tell(rain_l_s_m2, plan, wanted.building),
        *_ways_out(plan, gutters, outlets, shed, downhill),
        *(f for one in lines for f in tell_line(one, r, wanted)),
        *(f for o, c in zip(outlets, drains, strict=True) for f in _outlet(c, o)),
        *overflowing.tell(plan, outlets, drains, full, wanted.lie, wanted.overflows, held.flow),
        *night.tell(held),
    )  # fmt: skip
    return Water(
        r, (*(one.check for one in lines), *drains), held, tuple(one.hung for one in lines),
        tuple(replace(one.old, id=f"found:{one.side.name}") for one in lines if one.hung.new),
        tuple(one.tried for one in lines if one.tried is not None),
        rain.storm(plan, wanted.building), full.held, full.checks,
        catchments(areas) if areas else None, findings,
    )  # fmt: skip


def catchments(areas: dict[str, Shed]) -> Table:
    """Set down which part of the roof and of the walls runs to each outlet.

    Parameters
    ----------
    areas : dict
        What runs to each outlet, by its name [m2].

    Returns
    -------
    Table
        Outlet, roof, half of the walls above, together [m2].
    """
    rows = tuple(
        (name, own.roof, own.area.value - own.roof, own.area.value) for name, own in areas.items()
    )
    columns = (("outlet", "-"), ("roof", "m2"), ("half of the walls above", "m2"),
               ("together", "m2"))  # fmt: skip
    source = f"{en.SOURCE}, effective areas; rule: {OWN}"
    return Table("Which part of the roof runs to which outlet", columns, rows, source,
                 "common practice")  # fmt: skip


def _check_outlet(outlet: OpeningAt, own: Shed, r: Known) -> GutterCheck:
    """Compare an outlet under its leaf guard, and the pipe below it, with its own catchment."""
    area = own.area
    flow = run_off_l_s.show(r, area)
    key = f"survey.openings[{outlet.name}].diameter_mm"
    carries = circular_outlet(measured(outlet.diameter_mm or 0.0, "mm", key), grated=True)
    wide = measured(outlet.diameter_mm or 0.0, "mm", f"{key}: the pipe taken as wide as the outlet")
    pipe = downpipe_flow_l_s.show(wide)
    spare = spare_percent(min(carries.value, pipe.value), flow.value)
    return GutterCheck(outlet.id, area, flow, None, carries, pipe, spare)


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


def _outlet(check: GutterCheck, outlet: OpeningAt) -> Iterator[Finding]:
    assert check.pipe is not None
    flow, name = check.flow.value, check.id.removeprefix("opening:")
    told = (
        f"{name} carries {check.outlet.value:.2f} l/s with its leaf guard, a pipe as wide "
        f"{check.pipe.value:.2f}"
    )
    by = rain_limit(check.flow)
    if check.pipe.value < flow:
        says = f"The pipe under {name} carries {check.pipe.value:.2f} l/s; {flow:.2f} l/s come."
        ask = cure(f"Fit an outlet and a pipe of {least_pipe_mm(flow):.0f} mm.")
        yield finding("roof-pipe-small", check.id, "stop", says, by, check.pipe.value, ask)
    if check.outlet.value < flow:
        says = f"{told}; {flow:.2f} l/s run to it ({check.area.value:.1f} m² with the walls)."
        ask = _larger(outlet, flow)
        yield finding("roof-outlet-small", check.id, "stop", says, by, check.outlet.value, ask)
    else:
        says = (
            f"{told}; {flow:.2f} l/s run to it ({check.area.value:.1f} m² with the walls). A pipe "
            f"of {least_pipe_mm(flow):.0f} mm or more must lead on: measure it below the roof."
        )
        yield finding("roof-outlet-carries", check.id, "fine", says, by, check.outlet.value)


def least_pipe_mm(flow_l_s: float) -> float:
    """Find the smallest pipe sold that carries a flow.

    Parameters
    ----------
    flow_l_s : float
        Flow [l/s].

    Returns
    -------
    float
        Diameter; the largest sold where none carries it [mm].

    Examples
    --------
    >>> least_pipe_mm(1.6), least_pipe_mm(1.8)
    (50.0, 68.0)
    """
    fits = (d for d in practice.PIPES_MM if downpipe_capacity(d).value >= flow_l_s)
    return float(next(fits, practice.PIPES_MM[-1]))


def _larger(outlet: OpeningAt, flow: float) -> Remedy:
    """Name the smallest outlet that is sold and takes its share through its leaf guard."""
    for size in practice.ROOF_OUTLETS_MM:
        if circular_outlet(size, grated=True).value >= flow:
            path = f"survey.openings[{outlet.name}].diameter_mm"
            return cure(f"Fit an outlet of {size:.0f} mm.", (path, float(size)))
    return cure("Make another outlet beside it.")

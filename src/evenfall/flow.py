"""START HERE: survey, design, take-off, programme, price: the worked job, room by room.

`work_out` is pure. A room is one function of narrow arguments to a frozen result; what each room
may see is written in `ROOMS`, in the order of the work. With ``reuse``, a room whose arguments are
equal to last time's is not worked again, and a room that gives an equal answer stops the change.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from types import SimpleNamespace
from typing import Any

from evenfall.model import designed as d
from evenfall.model import edged, priced, programmed, standing, surveyed, taken_off
from evenfall.model.case import Case
from evenfall.model.change import apply
from evenfall.model.choice import build_up
from evenfall.model.finding import Change, Finding, heaviest
from evenfall.model.meta import Meta, meta_of
from evenfall.model.ways import Ways
from evenfall.stages import seen
from evenfall.stages.design import (
    answers,
    drying,
    edge_curves,
    edge_details,
    edge_parts,
    edges,
    fire,
    heat,
    heights,
    joists,
    moisture,
    rise,
    rules,
    thicknesses,
    water,
    ways,
    wind,
    windows,
    zones,
)  # fmt: skip
from evenfall.stages.design.holding import screws_per_m2
from evenfall.stages.papers import drawings, groups, marking, order, quotation, sheets
from evenfall.stages.price import options, price
from evenfall.stages.programme import programme, tasks
from evenfall.stages.survey import falls, levels, plan
from evenfall.stages.takeoff import boards, fixings, items, lengths, rolls, sheet, strip

Seen = Callable[[Case, Any], tuple[object, ...]]


@dataclass(frozen=True, slots=True)
class Room:
    """One room: its key, its function and what it may see of the case and of earlier rooms."""

    key: str
    work: Callable[..., Any]
    sees: Seen


@dataclass(frozen=True, slots=True)
class WorkedJob:
    """The whole job worked out: one field a room, in the order of the papers."""

    meta: Meta
    plan: surveyed.Plan
    levels: surveyed.Levels
    falls: surveyed.Falls
    ways: Ways
    zones: standing.Zones
    rise: d.Rise
    heights: standing.Heights
    windows: standing.Windows
    heat: d.Heat
    edges: edged.Edges
    moisture: d.Moisture
    drying: d.Drying
    wind: d.Wind
    joists: d.Joists
    water: d.Water
    fire: d.Fire
    rules: d.Rules
    boards: taken_off.Boards
    fixings: taken_off.Fixings
    sheet: taken_off.Sheet
    rolls: taken_off.Rolls
    lengths: taken_off.Lengths
    items: taken_off.Items
    strip: taken_off.Strip
    tasks: programmed.Tasks
    programme: programmed.Programme
    price: priced.Price
    options: priced.Options
    findings: tuple[Finding, ...]
    case: Case = field(repr=False)
    thicknesses: d.Thicknesses = field(repr=False)
    edge_curves: edged.EdgeCurves = field(repr=False)
    edge_details: edged.EdgeDetails = field(repr=False)
    worked: tuple[str, ...] = field(compare=False, repr=False)
    seen: dict[str, tuple[object, ...]] = field(compare=False, repr=False)
    beside: dict[str, WorkedJob] = field(compare=False, repr=False)  # the options, by name


KEYS = (
    "meta", "plan", "levels", "falls", "zones", "heights", "windows", "ways", "rise", "heat",
    "edges", "moisture", "drying", "wind", "joists", "water", "fire", "rules", "boards", "fixings",
    "sheet", "rolls", "lengths", "items", "strip", "tasks", "programme", "price", "options",
    "findings",
)  # fmt: skip
"""The top-level keys of a worked job, as ``--json`` gives them."""

DRAWINGS: dict[str, Callable[[WorkedJob], Any]] = {
    "plan": lambda w: drawings.draw_plan(w, marking.marked(w, marking.chalked(w))),
    "survey": drawings.draw_found,
    "quoted": drawings.draw_client_plan,
    "boards": drawings.draw_boards,
    "boards-2": drawings.draw_second_layer,
    "saw": drawings.draw_saw_list,
    "fixings": drawings.draw_fixings,
    "sheet": drawings.draw_sheet,
    "rolls": drawings.draw_rolls,
    "evenings": drawings.draw_evenings,
    "eaves": drawings.draw_eaves_section,
    "edges": drawings.draw_edges,
    "height": drawings.draw_height_section,
    "window": drawings.draw_window_section,
    "drying": drawings.draw_drying,
}
"""Every drawing of a worked job; ``height``, ``drying``, ``boards-2`` (with one layer) and ``saw``
are None where there is nothing to draw."""

PAPERS: dict[str, Callable[[WorkedJob], Any]] = {
    "quotation": quotation.quotation,
    "calculations": sheets.calculations,
    "order": order.order,
}
"""What each paper says, as data; how it looks is the business of `app.papers`."""


def price_groups(worked: WorkedJob) -> tuple[groups.PriceGroup, ...]:
    """Give the price as the client reads it: nothing of what the firm pays or adds.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].

    Returns
    -------
    tuple of PriceGroup
        Groups at selling prices that add up to the net price [pence].
    """
    return groups.price_groups(worked.price.lines, round(worked.price.net.value))


ROOMS: tuple[Room, ...] = (
    Room("plan", plan.work, lambda c, w: (
        c.job.survey.corners, c.job.survey.tapes, c.job.survey.tape_accuracy_mm,
        c.job.survey.sides, c.job.survey.openings, c.job.survey.points, c.job.survey.offsets,
    )),
    Room("levels", levels.work, lambda c, w: (c.job.survey.levels, w.plan)),
    Room("falls", falls.work, lambda c, w: (
        c.job.design.falls, c.job.survey.joists, w.plan, w.levels,
        (c.job.site.snow_zone, c.job.site.altitude_m),
    )),
    Room("thicknesses", thicknesses.work, lambda c, w: (
        w.build, c.job.survey.deck, c.job.survey.below, c.job.survey.covering,
        c.job.survey.joists, c.job.site, c.job.job.nation, c.job.design.target_u, w.plan,
        c.job.survey.sides, c.rates.adhesive, w.falls.tapers,
    )),
    Room("edge_curves", edge_curves.work, lambda c, w: edge_parts.any_mm(c.job, w.plan, w.build)),
    Room("zones", zones.work, lambda c, w: (c.job.design.thin_zones, w.build, w.plan)),
    Room("rise", rise.work, lambda c, w: (
        w.thicknesses, w.build, c.job.survey.covering, c.job.survey.heights,
        c.job.survey.windows, w.plan, w.falls,
        rise.prices(c.rates, c.job.design.board), c.job.survey.deck, w.zones, w.levels.plane,
        w.edge_curves,
        tuple((e.id, e.out_m) for e in edge_parts.edges_of(c.job, w.plan, w.build)),
    )),
    Room("heights", heights.work, lambda c, w: (
        w.rise.chosen_mm, w.build, c.job.survey.covering, c.job.survey.heights,
        c.job.survey.windows, w.plan, w.falls, w.zones, w.levels.plane, seen.turns(c, w),
        w.rise.zone,
    )),
    Room("windows", windows.work, lambda c, w: (
        c.job.survey.windows, w.heights,
        windows.Choice(
            w.build, tuple(r.thickness_mm for r in w.rise.rows if r.passes_u), w.rise.zone,
        ),
        c.rates.windows, c.rates.basis, c.on, c.job.calendar.start_on,
    )),
    Room("ways", ways.work, lambda c, w: (
        c.job.design.falls, c.job.survey.joists, w.plan, w.levels, w.falls, w.heights.items,
        (c.job.site.snow_zone, c.job.site.altitude_m),
        ways.prices_of(c.rates, c.job.design.board, c.job.survey.deck.renew_percent),
    )),
    Room("wind", wind.work, lambda c, w: (
        c.job.site, c.job.survey.sides, c.job.survey.deck, c.job.survey.below,
        w.build, w.rise.chosen_mm, w.plan, c.rates.adhesive,
        tuple(w.falls.added_at(p) for p in w.plan.deck) if w.falls.kind == "tapered" else (),
    )),
    Room("heat", heat.work, lambda c, w: (
        w.rise.chosen_mm, w.build, c.job.survey.deck, c.job.survey.below,
        c.job.survey.covering, c.job.survey.joists, c.job.site, w.thicknesses.target_u, w.plan.net,
        w.thicknesses.before_u, screws_per_m2(w.wind.zones, w.build),
        c.rates.terms.heat_price_pence_kwh, w.zones, w.falls.tapers, w.plan.openings,
    )),
    Room("edge_details", edge_details.work, lambda c, w: (
        edge_parts.at_mm(w.rise.chosen_mm, c.job, w.plan, w.build)
    )),
    Room("edges", edges.work, lambda c, w: (
        w.edge_details, c.job.survey.sides, w.plan, w.heat.u, c.job.site, c.job.survey.below,
        c.job.job.building, c.rates.terms.heat_price_pence_kwh, c.rates.basis,
    )),
    Room("moisture", moisture.work, lambda c, w: (
        w.rise.chosen_mm, w.build, c.job.survey.deck, c.job.survey.below, c.job.survey.joists,
        c.job.survey.covering, c.job.survey.readings, c.job.site,
        tuple((v.name, v.sd_m, v.nights) for v in c.rates.vcls),
    )),
    Room("drying", drying.work, lambda c, w: (
        w.rise.chosen_mm, w.build, c.job.survey.deck, c.job.survey.below, c.job.survey.joists,
        c.job.survey.readings, c.job.site, c.job.calendar.start_on,
    )),
    Room("water", water.work, lambda c, w: (
        c.job.site.rain_l_s_m2, c.job.survey.gutters, w.plan, w.falls.downhill,
        w.falls.finished.value, w.rise.chosen_mm + w.build.overlay_mm, seen.drainage(c, w),
    )),
    Room("joists", joists.work, lambda c, w: (
        c.job.survey.joists, c.job.survey.deck, c.job.survey.covering, c.job.survey.below,
        c.job.site, w.build, w.rise.chosen_mm, w.falls.kind,
        tuple(w.falls.added_at(p) for p in w.plan.deck),
        joists.Around(w.plan, c.job.survey.sides, w.falls.downhill, w.water.night,
                      w.water.blocked),
    )),
    Room("fire", fire.work, lambda c, w: (
        c.job.survey.sides, c.job.job.building, c.job.record.fire_tests, *seen.exposed(c, w),
    )),
    Room("rules", rules.work, lambda c, w: (
        c.job.job.nation, c.job.job.building, c.job.job.listed_or_conservation,
        c.rates.firm.competent_person_scheme, c.job.survey.sides, c.job.survey.covering,
        c.job.survey.deck.kind, c.job.survey.below,
        (tuple(o.name for o in c.job.survey.openings if o.kind == "flue"),
         tuple(h for h in c.job.survey.heights if h.kind == "flue")),
        c.job.site.roof_height_m, c.job.design.vat.case, c.job.calendar.start_on,
        (w.heights.rise_at_edge, w.heights.rise_at_thin), seen.renewed(c, w),
        (w.rise.chosen_mm, tuple((r.thickness_mm, w.build.take(r.boards))
                                 for r in w.rise.rows if r.does_all)),
    )),
    Room("boards", boards.work, lambda c, w: (
        w.plan, w.build.board, w.rise.row.boards, c.thorough, c.rates.basis,
        tuple((z.rings, w.build.boards(z.thickness_mm)) for z in w.zones.zones
              if z.thickness_mm < w.rise.chosen_mm),
    )),
    Room("fixings", fixings.work, lambda c, w: (
        w.boards.uppermost, w.wind, w.build.board, c.job.design.hold_boards_by == "screws",
    )),
    Room("sheet", sheet.work, lambda c, w: (
        w.plan, w.build.rubber, c.rates.basis, c.job.design.kerb_height_mm, w.falls.downhill,
    )),
    Room("rolls", rolls.work, lambda c, w: (
        w.plan, w.falls, w.build.vcl, w.rise.chosen_mm, c.job.survey.deck, c.rates.basis,
    )),
    Room("lengths", lengths.work, lambda c, w: (
        w.plan, w.falls, c.job.survey.sides, c.job.survey.joists, c.job.survey.deck.thickness_mm,
        w.water.hung, c.job.design.fascia == "renew", w.rise.chosen_mm + w.build.overlay_mm,
        tuple(
            lengths.Section(s.name, s.says, s.lengths_mm, s.depth_mm, s.joint_gap_mm, s.width_mm)
            for s in c.rates.lengths
        ),
        c.rates.basis,
    )),
    Room("strip", strip.work, lambda c, w: (
        w.plan, c.job.survey.covering, c.job.survey.deck, c.job.survey.below, c.job.design.quilt,
        tuple((s.name, s.says, s.holds_m3) for s in c.rates.charges),
    )),
    Room("tasks", tasks.work, lambda c, w: (
        seen.time_roof(c, w), seen.when(c), c.rates.outputs, c.rates.basis,
    )),
    Room("programme", programme.work, lambda c, w: (
        w.tasks, w.plan, w.falls.downhill, seen.when(c), w.build.vcl.nights,
        w.water.rain.value, c.weather,
    )),
    Room("items", items.work, lambda c, w: (
        items.Roof(
            w.plan, w.wind.zones, w.fixings, w.build.board, w.wind.screw_mm, w.sheet, w.rolls,
            w.lengths, w.strip, w.programme.bays, w.build.vcl, c.job.design, c.job.survey.deck,
            c.job.survey.joists, c.job.survey.sides, c.job.survey.heights,
            w.heights.rise_at_edge.value, seen.relaid_percent(c, w), seen.zone_screws(c, w),
            seen.screw_limits(c, w),
        ),
        c.rates.items, c.rates.screw, c.rates.basis,
    )),
    Room("price", price.work, lambda c, w: (
        w.boards, w.sheet, w.rolls, w.lengths, w.windows, w.items, w.strip, w.tasks, w.programme,
        w.plan, c.rates, c.job.design.vat, c.on, c.job.survey.covering.asbestos != "not_sampled",
    )),
)  # fmt: skip


def work_out(case: Case, reuse: WorkedJob | None = None) -> WorkedJob:
    """Work a job out, room by room.

    Parameters
    ----------
    case : Case
        Job, rates, weather and date [-].
    reuse : WorkedJob, optional
        The same job as worked before; rooms that see nothing new are taken from it [-].

    Returns
    -------
    WorkedJob
        All rooms; equal to what it would be without ``reuse`` [-].

    Raises
    ------
    InvalidInput
        Something in the job that no roof can be made of; ``where`` names its key.
    """
    w, worked, seen = SimpleNamespace(build=build_up(case.job.design, case.rates)), [], {}
    for room in ROOMS:
        args = room.sees(case, w)
        seen[room.key] = args
        before = getattr(reuse, room.key) if reuse else None
        if reuse and reuse.seen[room.key] == args:
            setattr(w, room.key, before)
            continue
        answer = room.work(*args)
        worked.append(room.key)
        setattr(w, room.key, before if reuse and answer == before else answer)
    del w.build
    beside = _options(case, reuse, SimpleNamespace(**vars(w), seen=seen, beside={}))
    w.options = options.work(
        tuple((o.name, o.says) for o in case.job.design.options), _summary(w),
        tuple(_summary(beside[o.name]) for o in case.job.design.options),
    )  # fmt: skip
    return WorkedJob(
        meta=meta_of(case), **vars(w), findings=_findings(w, case), case=case,
        worked=tuple(worked), seen=seen, beside=beside,
    )  # fmt: skip


def _options(case: Case, reuse: WorkedJob | None, base: Any) -> dict[str, WorkedJob]:
    """Work out each option as a job of its own, which shares rooms with the one as it stands."""
    plain = apply(case.job, (Change("design.options", []),)) if case.job.design.options else None
    found = {}
    for option in case.job.design.options:
        changes = tuple(Change(path, value) for path, value in option.changes.items())
        job = apply(plain, changes) if plain else case.job
        before = (reuse.beside.get(option.name) if reuse else None) or base
        found[option.name] = work_out(replace(case, job=job), before)
    return found


def _summary(w: Any) -> tuple[float, int, float, int]:
    """Total in pence, days, U and the number of stops: what options are compared by."""
    stops = sum(f.level == "stop" for f in _gathered(w))
    return w.price.total.value, len(w.programme.days), w.heat.u.value, stops


def _gathered(w: Any) -> tuple[Finding, ...]:
    return tuple(f for room in ROOMS for f in getattr(getattr(w, room.key), "findings", ()))


def _findings(w: Any, case: Case) -> tuple[Finding, ...]:
    """Gather all findings, the heaviest first; what was agreed in writing becomes a note."""
    agreed = {(a.finding, a.subject): a for a in case.job.record.agreed}
    told = (answers.settled(f, case.job.record.answers) for f in _gathered(w))
    return heaviest(tuple(_settled(f, agreed.get((f.code, f.subject))) for f in told))


def _settled(finding: Finding, agreement: Any) -> Finding:
    """Turn an agreed departure into a note, unless its value has got worse since."""
    if agreement is None or finding.level != "agree":
        return finding
    if agreement.value is not None and agreement.value != finding.value:
        return replace(finding, says=f"{finding.says} What {agreement.by} agreed has changed.")
    says = f"{finding.says} Agreed by {agreement.by} on {agreement.on:%d %b %Y}."
    return replace(finding, level="note", says=says, remedy=None)

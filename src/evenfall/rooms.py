"""The rooms in the order of the work: each a function, and what it may see; `flow` works them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from evenfall.model.case import Case
from evenfall.stages import seen, seen_boards
from evenfall.stages.design import (
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
from evenfall.stages.price import extras, invoices, margins, price
from evenfall.stages.programme import programme, tasks
from evenfall.stages.record import record
from evenfall.stages.survey import falls, levels, plan
from evenfall.stages.takeoff import (
    boards,
    edge_timber,
    fixings,
    items,
    lengths,
    rolls,
    sheet,
    strip,
)

Seen = Callable[[Case, Any], tuple[object, ...]]


@dataclass(frozen=True, slots=True)
class Room:
    """One room: its key, its function and what it may see of the case and of earlier rooms."""

    key: str
    work: Callable[..., Any]
    sees: Seen


ROOMS: tuple[Room, ...] = (
    Room("plan", plan.work, lambda c, w: (
        c.job.survey.corners, c.job.survey.tapes, c.job.survey.tape_accuracy_mm,
        c.job.survey.sides, c.job.survey.openings, c.job.survey.points, c.job.survey.offsets,
        c.job.survey.inner_corners, c.job.survey.windows,
    )),
    Room("levels", levels.work, lambda c, w: (c.job.survey.levels, w.plan)),
    Room("falls", falls.work, lambda c, w: (
        c.job.design.falls, c.job.survey.joists, w.plan, w.levels,
        (c.job.site.snow_zone, c.job.site.altitude_m), w.build.tapers,
    )),
    Room("thicknesses", thicknesses.work, lambda c, w: (
        seen.warmed(w), c.job.survey.deck, c.job.survey.below, c.job.survey.covering,
        c.job.survey.joists, c.job.site, c.job.job.nation, c.job.design.target_u, w.plan,
        c.job.survey.sides, c.rates.adhesive, w.falls.tapers,
        max(w.falls.added_at(p) for p in w.plan.deck),
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
        w.build.tapers,
    )),
    Room("wind", wind.work, lambda c, w: (
        c.job.site, c.job.survey.sides, c.job.survey.deck, c.job.survey.below,
        w.build, w.rise.chosen_mm, w.plan, c.rates.adhesive, w.heights.rise_at_edge,
        tuple(w.falls.added_at(p) for p in w.plan.deck) if w.falls.kind == "tapered" else (),
    )),
    Room("heat", heat.work, lambda c, w: (
        w.rise.chosen_mm, seen.warmed(w), c.job.survey.deck, c.job.survey.below,
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
                      w.water.blocked, seen.relaid_percent(c, w)),
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
        w.falls, c.rates.saw.boards_mm,
    )),
    Room("fixings", fixings.work, lambda c, w: (
        w.boards.uppermost, w.wind, w.build, c.job.design.hold_boards_by == "screws",
        seen_boards.edge_screws(c),
    )),
    Room("sheet", sheet.work, lambda c, w: (
        w.plan, w.build.rubber, c.rates.basis, c.job.design.kerb_height_mm, w.falls.downhill,
        seen_boards.kerbs_above(c, w),
    )),
    Room("rolls", rolls.work, lambda c, w: (
        w.plan, w.falls, w.build.vcl, w.rise.chosen_mm, c.job.survey.deck, c.rates.basis,
        max(v.bridges_mm for v in c.rates.vcls),
    )),
    Room("lengths", lengths.work, lambda c, w: (
        w.plan, w.falls, c.job.survey.sides, c.job.survey.joists, c.job.survey.deck.thickness_mm,
        w.water.hung, seen_boards.renewed_boards(c), w.rise.chosen_mm + w.build.overlay_mm,
        tuple(
            lengths.Section(s.name, seen_boards.made_of(c, s), s.lengths_mm, s.depth_mm,
                            s.joint_gap_mm, s.width_mm, seen_boards.paint_thick_mm(c, s),
                            tuple((f.name, f.says) for f in s.fittings),
                            seen_boards.kerf_of(c, s))
            for s in c.rates.lengths
        ),
        c.rates.basis, edge_timber.under(c.job.survey.deck, c.job.survey.below.cables_in_void),
        seen_boards.kerbs_asked(c, w),
    )),
    Room("strip", strip.work, lambda c, w: (
        w.plan, c.job.survey.covering, c.job.survey.deck, c.job.survey.below, c.job.design.quilt,
        tuple((s.name, s.says, s.holds_m3) for s in c.rates.charges),
    )),
    Room("tasks", tasks.work, lambda c, w: (
        seen.time_roof(c, w), seen.when(c, w), c.rates.outputs, c.rates.basis, c.thorough,
        float(c.rates.terms.labour_pence_hour),
    )),
    Room("programme", programme.work, lambda c, w: (
        w.tasks, w.plan, w.falls.downhill, seen.when(c, w), w.build.vcl.nights,
        w.water.rain.value, seen.rain(c), c.rates.basis,
    )),
    Room("items", items.work, lambda c, w: (
        items.Roof(
            w.plan, w.wind.zones, w.fixings, w.build.board, seen.screws_of(c, w), w.sheet, w.rolls,
            w.lengths, w.strip, w.programme.bays, w.build.vcl, c.job.design, c.job.survey.deck,
            c.job.survey.joists, c.job.survey.sides, c.job.survey.heights,
            w.heights.rise_at_edge.value, seen.relaid_percent(c, w),
            c.job.survey.covering.asbestos, seen.zone_screws(c, w), w.boards.tapered,
        ),
        c.rates.items, c.rates.screw, c.rates.basis,
    )),
    Room("price", price.work, lambda c, w: (
        w.boards, w.sheet, w.rolls, w.lengths, w.windows, w.items, w.strip, w.tasks, w.programme,
        w.plan, c.rates, c.job.design.vat, c.on, c.job.survey.covering.asbestos != "not_sampled",
        c.job.design.fascia_finish, c.job.record.begun,
    )),
    Room("margins", margins.work, lambda c, w: (
        w.price, w.plan, c.job.survey.deck, c.job.crew, w.programme, c.rates,
    )),
    Room("extras", extras.work, lambda c, w: (
        c.job.record.extras, c.job.record.accepted, w.price, w.plan,
        extras.Site(c.job.crew, c.job.calendar, c.job.job.nation, w.programme.finish_on,
                    c.job.survey.deck.renew_percent),
        c.job.design.vat.case, c.rates.provisional, c.rates.basis,
    )),
    Room("invoices", invoices.work, lambda c, w: (
        c.job.record.invoices, w.extras, c.job.design.vat.case,
        c.rates.terms.stages,
    )),
    Room("record", record.work, lambda c, w: (
        c.job.record.log, w.tasks.tasks, tuple(r.name for r in c.rates.provisional),
        tuple(p.name for p in c.job.survey.levels), c.job.job.nation,
        c.rates.firm.emergency,
    )),
)  # fmt: skip

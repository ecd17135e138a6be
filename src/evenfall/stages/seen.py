"""What some rooms see of the case and of earlier rooms, where it must be gathered first."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from math import ceil
from typing import Any

from evenfall.calc.loads.fixings import embedment_mm
from evenfall.model.case import Case
from evenfall.model.choice import BuildUp
from evenfall.model.designed import ScrewBand
from evenfall.model.surveyed import OpeningAt, Plan
from evenfall.model.weather import Weather
from evenfall.stages.design import fire, heights, nation, thicknesses, ways
from evenfall.stages.design.blocked import Lie
from evenfall.stages.design.gutters import stock
from evenfall.stages.design.hanging import Wanted
from evenfall.stages.design.holding import point_limit_mm
from evenfall.stages.programme import tasks
from evenfall.stages.programme.booking import bookings
from evenfall.stages.seen_boards import paints
from evenfall.stages.survey.falls import wish
from evenfall.stages.survey.making import rise_to
from evenfall.stages.takeoff.fascias import soffit_widths
from evenfall.stages.takeoff.linings import lined
from evenfall.stages.takeoff.packings import joist_ends
from evenfall.stages.takeoff.screws import Screwed
from evenfall.stages.takeoff.tapered_boards import tapered_m2
from evenfall.stages.weather import gates
from evenfall.standards import programme_practice as practice
from evenfall.standards.weather_practice import RainClimate, rain_climate

MM = 1000


def when(c: Case, w: Any) -> tasks.When:
    """Gather who works, when, where the sun stands, and what the work waits for.

    Parameters
    ----------
    c : Case
        The case [-].
    w : namespace
        The rooms worked so far: plan and windows [-].

    Returns
    -------
    When
        Crew, calendar, place and bookings [-].
    """
    site = c.job.site
    place = (site.latitude_deg, site.longitude_deg)
    asked = {
        "always": True,
        "rooflight": c.job.design.rooflight_glass == "renew"
        and any(o.kind == "rooflight" for o in w.plan.openings),
        "not_in_scheme": not c.rates.firm.competent_person_scheme,
        "felt_not_sampled": c.job.survey.covering.asbestos == "not_sampled",
    }
    awaited = c.job.record.finished_on is None  # a finished roof waits for nothing
    booked = bookings(
        tuple(b for b in c.rates.bookings if awaited and asked[b.when]),
        tuple((p.name, p.lead_days) for p in w.windows.windows if awaited and p.lead_days),
        c.job.record.booked, c.on,
        frozenset((*(b.name for b in c.rates.bookings), *(p.name for p in w.windows.windows))),
        c.job.job.nation,
    )  # fmt: skip
    permits = gates.permits_of(c.forecast, *place)
    covers = tuple((one.length_m, one.width_m) for one in c.job.record.covers) or None
    return tasks.When(c.job.crew, c.job.calendar, c.job.job.nation, *place, permits, booked, covers)


def rain(c: Case) -> Weather | RainClimate:
    """Take the days of weather that were brought, or the rain climate of the region.

    Parameters
    ----------
    c : Case
        The case [-].

    Returns
    -------
    Weather or RainClimate
        How often it rains [-].
    """
    return c.weather or rain_climate(c.job.site.climate_region)


def time_roof(c: Case, w: Any) -> tasks.Roof:
    """Gather everything about the roof that takes time.

    Parameters
    ----------
    c : Case
        The case [-].
    w : namespace
        The rooms worked so far [-].

    Returns
    -------
    Roof
        What the tasks are counted from [-].
    """
    survey, design = c.job.survey, c.job.design
    below, vcl = survey.below, w.build.vcl
    fill = design.wall_head == "fill"
    return tasks.Roof(
        plan=w.plan,
        downhill=w.falls.downhill,
        firrings_m=sum(f.length_mm for f in w.falls.firrings) / 1000,
        relaid_percent=relaid_percent(c, w),
        seam_m=w.sheet.chosen.seam_mm / 1000,
        screws_m2=w.fixings.screws.value / w.plan.net.value,
        layers=survey.covering.layers,
        chippings=survey.covering.chippings,
        renew_percent=survey.deck.renew_percent,
        quilt_mm=below.quilt_mm if design.quilt == "remove" else 0.0,
        wall_heads=tuple(
            s.side for s in survey.sides if fill and s.wall_head and s.wall_head.state != "filled"
        ),
        close_vents=design.vents == "close" and below.old_vents > 0,
        screwed=design.hold_boards_by == "screws",
        board_layers=design.layers,
        overlay_mm=design.overlay_mm,
        new_fascia=design.fascia == "renew",
        gutters=tuple(
            (hung.side, hung.pipe_length_m * hung.pipes) for hung in w.water.hung if hung.new
        ),
        overflows=len(design.overflows),
        doors_m=tuple(h.width_m for h in survey.heights if h.drained_channel),
        joist_ends=_repaired(c, w),
        lined_m=_lined(c, w),
        painted=paints(c),
        soffits_m=tuple(
            (name, w.plan.side(name).length_m)
            for name in soffit_widths(w.plan, survey.sides)
            if design.soffit == "renew"
        ),
        sheet_hands=ceil(w.sheet.hands.value),
        tapered_m2=tapered_m2(w.boards.tapered),
        vcl=vcl,
        other_vcls=tuple((v.name, v.kind, v.nights) for v in c.rates.vcls if v.name != vcl.name),
    )


def _repaired(c: Case, w: Any) -> float:
    """Count the ends of joists that a repair is allowed for; the bare deck shows the rest."""
    joists = c.job.survey.joists
    share = practice.ENDS_REPAIRED.get(joists.ends, 0.0)
    return float(ceil(share * joist_ends(w.plan, joists)))


def _lined(c: Case, w: Any) -> tuple[tuple[str, float], ...]:
    """Name the parapets that are lined, each with the height of its face and top in metres."""
    rise = w.heights.rise_at_edge.value
    faces = dict(lined(w.plan, c.job.survey.sides, c.job.design, rise))
    parapets = w.plan.of_kind("parapet")
    return tuple((s.name, faces[s.name] / s.length_m) for s in parapets if s.name in faces)


def relaid_percent(c: Case, w: Any) -> float:
    """Tell how much of the old deck is lifted for firrings and laid again.

    Parameters
    ----------
    c : Case
        The case [-].
    w : namespace
        The rooms worked so far: falls [-].

    Returns
    -------
    float
        Share of the deck [%].
    """
    return ways.relaid_percent(c.job.survey.deck.renew_percent) if w.falls.lifts_deck else 0.0


def drainage(c: Case, w: Any) -> Wanted:
    """Gather what the design asks of the drainage, what is sold, and how the roof will lie.

    Parameters
    ----------
    c : Case
        The case [-].
    w : namespace
        The rooms worked so far: levels, falls and rise [-].

    Returns
    -------
    Wanted
        For the water room [-].
    """
    design, survey = c.job.design, c.job.survey
    sold = stock(tuple((s.name, s.width_mm, s.depth_mm) for s in c.rates.lengths), c.rates.basis)
    up = w.rise.chosen_mm + w.build.overlay_mm
    return Wanted(
        c.job.job.building, design.gutter == "renew", design.new_gutters, sold, design.overflows,
        Lie(w.levels.plane, w.falls, up, design.kerb_height_mm, survey.heights, survey.windows),
    )  # fmt: skip


def exposed(c: Case, w: Any) -> tuple[fire.BuiltUp, tuple[OpeningAt, ...], Plan]:
    """Gather what fire from outside meets: the build-up and the plastic rooflights.

    Parameters
    ----------
    c : Case
        The case [-].
    w : namespace
        The rooms worked so far: the plan [-].

    Returns
    -------
    tuple
        Build-up, plastic rooflights, plan [-].
    """
    design, survey = c.job.design, c.job.survey
    plastic = {o.name for o in survey.openings if o.glazing == "plastic" and o.kind == "rooflight"}
    built = fire.BuiltUp(
        design.sheet, design.board, survey.deck.kind, design.hold_boards_by, design.overlay_mm
    )
    return built, tuple(o for o in w.plan.openings if o.name in plastic), w.plan


def turns(c: Case, w: Any) -> tuple[heights.Turn, ...]:
    """Work what every other side that a gutter can hang on would add, were it the low one.

    Parameters
    ----------
    c : Case
        The case [-].
    w : namespace
        The rooms worked so far: plan and levels [-].

    Returns
    -------
    tuple of Turn
        None where the roof keeps its fall, or where nothing stands beside it [-].
    """
    chosen = c.job.design.falls
    if chosen.kind == "keep" or not (c.job.survey.heights or c.job.survey.windows):
        return ()
    return tuple(
        heights.Turn(s.name, s.kind, rise_to(
            replace(wish(chosen, w.build.tapers), low_side=s.name), w.plan, w.levels
        ))
        for s in w.plan.of_kind("eaves", "verge") if s.name != chosen.low_side
    )  # fmt: skip


def warmed(w: Any) -> BuildUp:
    """Give the build-up as heat sees it: with the tapered boards that are laid.

    Parameters
    ----------
    w : namespace
        The rooms worked so far: build-up and falls [-].

    Returns
    -------
    BuildUp
        The layers [-].
    """
    build: BuildUp = w.build
    rows = w.falls.rows
    return replace(build, taper_lambda_w_mk=rows.stock.lambda_w_mk) if rows else build


def zone_screws(c: Case, w: Any) -> tuple[tuple[float, int], ...]:
    """Pick the screw of each thinner zone: a shorter one than that of the field.

    Parameters
    ----------
    c : Case
        The case [-].
    w : namespace
        The rooms worked so far: zones, rise and wind [-].

    Returns
    -------
    tuple of (area, length)
        Of each zone [any].
    """
    if w.wind.screw_mm is None:
        return ()
    found = []
    for zone in w.zones.zones:
        if zone.thickness_mm < w.rise.chosen_mm:
            mm = thicknesses.screw_length(w.build, zone.thickness_mm, c.job.survey.deck)
            found.append((zone.area_m2, mm or w.wind.screw_mm))
    return tuple(found)


def renewed(c: Case, w: Any) -> nation.Renewed:
    """Gather this roof as the rules of the nation see it.

    Parameters
    ----------
    c : Case
        The case [-].
    w : namespace
        The rooms worked so far [-].

    Returns
    -------
    Renewed
        Areas, transmittance, and the thicknesses that do all that is asked [-].
    """
    about, deck = c.job.job, c.job.survey.deck
    return nation.Renewed(
        w.plan.gross, about.element_area_m2, about.envelope_area_m2, w.heat.u,
        w.thicknesses.before_u, thicknesses.target_of(about.nation, None, deck),
        w.thicknesses.target_u, deck.renew_percent,
        tuple((r.thickness_mm, r.u, w.build.take(r.boards)) for r in w.rise.rows if r.does_all),
    )  # fmt: skip


def screws_of(c: Case, w: Any) -> tuple[Screwed, ...]:
    """Count the screws of each length where the fixing plan puts them.

    Parameters
    ----------
    c : Case
        The case [-].
    w : namespace
        The rooms worked so far: plan, falls, rise, wind and fixings [-].

    Returns
    -------
    tuple of Screwed
        A length, its screws by wind zone, and the shortest and the longest that may stand in its
        place: it must bite where boards are thickest, and end near the deck where thinnest [mm].
    """
    bands = w.wind.screws
    counts: list[Counter[str]] = [Counter() for _ in bands]
    deep = point_limit_mm(c.job.survey.deck, c.job.survey.below.cables_in_void)
    for piece in w.fixings.pieces if bands else ():
        for x, y in piece.places:
            counts[_band(bands, x, y, w)][f"zone {piece.zone}"] += 1
    return tuple(
        Screwed(
            band.length_mm, tuple((zone, float(n)) for zone, n in sorted(count.items())),
            (band.to_mm + embedment_mm(), band.from_mm + deep),
        )
        for band, count in zip(bands, counts, strict=True) if count
    )  # fmt: skip


def _band(bands: tuple[ScrewBand, ...], x: float, y: float, w: Any) -> int:
    """Pick the length for one place by how thick the boards are there."""
    if len(bands) == 1:
        return 0
    under = w.build.under_head_mm(w.rise.chosen_mm + w.falls.added_at((x / MM, y / MM)))
    return next((n for n, band in enumerate(bands) if under <= band.to_mm), len(bands) - 1)

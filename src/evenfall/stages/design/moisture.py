"""Moisture: ISO 13788 month by month, mould at the ceiling, and the timber readings."""

from __future__ import annotations

from dataclasses import replace

from evenfall.calc.physics import mould
from evenfall.calc.physics.condensation import Condensation, monthly
from evenfall.calc.physics.transmittance import combined_method
from evenfall.model.choice import BuildUp
from evenfall.model.designed import Moisture
from evenfall.model.finding import Finding, Level, Remedy
from evenfall.model.job import Below, Deck, Joists, Reading, Site
from evenfall.stages.design import layering
from evenfall.standards import iso_13788, roofing_practice
from evenfall.working import Cited, Table, Working

TIGHT = "the VCL"
GRAMS = 1000


def work(
    chosen_mm: int,
    build: BuildUp,
    deck: Deck,
    below: Below,
    joists: Joists,
    readings: tuple[Reading, ...],
    site: Site,
) -> Moisture:
    """Work out whether water gathers in the roof, and whether it dries.

    Parameters
    ----------
    chosen_mm : int
        Insulation taken [mm].
    build : BuildUp
        The layers [-].
    deck, below, joists : Deck, Below, Joists
        What stays [-].
    readings : tuple of Reading
        Moisture of the timber [%].
    site : Site
        Climate [-].

    Returns
    -------
    Moisture
        Verdict, months, mould factor and findings [-].
    """
    layers = layering.finished(build, chosen_mm, deck, below, joists)
    months = layering.year(site, below)
    found = monthly(layering.vapour(layers), months)
    bare = tuple(a for a in layers if a.name != "VCL")
    colder = layering.year(site, below, roofing_practice.SKY_COOLING)
    demand = mould.demand(months)
    factor = mould.plane_factor.show(combined_method(layers).U)
    return Moisture(
        verdict=found.verdict,
        peak=_peak(found),
        peak_month=found.highest_month or "none",
        months=_months(found, site),
        f_rsi=factor,
        f_rsi_required=_required(demand),
        without_vcl=monthly(layering.vapour(bare), months).verdict,
        two_kelvin_colder=monthly(layering.vapour(layers), colder).verdict,
        findings=(
            *_water(found, build), *_mould(factor, demand), *(_timber(r) for r in readings),
        ),
    )  # fmt: skip


def _months(found: Condensation, site: Site) -> Table:
    """Say where the outside humidity is from: no standard gives it for this place."""
    source = f"{iso_13788.SOURCE}; outside humidity: {site.outside_humidity_source}"
    return replace(found.table, source=source)


def _peak(found: Condensation) -> Working:
    source = iso_13788.SOURCE
    title, symbol = "Most water held at the end of a month", "M_a"
    return Working(title, symbol, "kg/m2", source, found.highest, own_basis="from memory")


def _required(demand: mould.MouldDemand) -> Working:
    title = f"Temperature factor asked for, in {demand.governing_month}"
    source = iso_13788.SOURCE
    return Working(title, "f_Rsi,min", "-", source, demand.f_Rsi_min, own_basis="from memory")


def _water(found: Condensation, build: BuildUp) -> tuple[Finding, ...]:
    source, limit = iso_13788.SOURCE, iso_13788.RUN_OFF
    if found.verdict == "a":
        says = "No water gathers in the roof in any month."
        return (Finding("dry", "roof", "fine", says, source, limit.basis, 0.0, 0.0, "kg/m2"),)
    plane = found.worst_plane
    where = plane.name if plane else "the roof"
    grams = found.highest * GRAMS
    told = f"{grams:.0f}" if grams >= 10 else f"{grams:.1f}"  # a trace is not told as none
    if found.verdict == "c":
        says = f"Water gathers at {where} and does not dry in the year. Take a tighter VCL."
        cure = Remedy("A VCL of higher vapour resistance, its laps and turn-ups sealed.")
        return (
            Finding(
                "never-dries", "roof", "stop", says, source, limit.basis, found.highest, 0.0,
                "kg/m2", cure,
            ),
        )  # fmt: skip
    says = (
        f"Up to {told} g/m² gathers at {where} by {found.highest_month} and dries by "
        f"{found.dry_month or 'summer'}."
    )
    level: Level = "agree" if found.may_run_off else "note"
    return (
        Finding(
            "gathers-and-dries", "roof", level, says, source, limit.basis, found.highest,
            limit.value, "kg/m2",
        ),
    )  # fmt: skip


def _mould(factor: Working, demand: mould.MouldDemand) -> tuple[Finding, ...]:
    limit, source = iso_13788.MOULD_HUMIDITY, iso_13788.SOURCE
    damp = [name for name, f in demand.months if f is not None and f > 1]
    if damp:
        says = (
            f"The room air is over {limit:.0%} damp by itself in {', '.join(damp)}: no roof cures "
            "that. Air it, or it grows mould on anything cold."
        )
        return (Finding("room-damp", "roof", "note", says, source, limit.basis),)
    if factor.value >= demand.f_Rsi_min:
        return ()
    says = (
        f"Mould may grow on the ceiling in {demand.governing_month}: its temperature factor is "
        f"{factor.value:.2f}, {demand.f_Rsi_min:.2f} is asked for. Insulate or air better."
    )
    cure = Remedy("A thicker board, or air the room below better.")
    return (
        Finding(
            "mould", "roof", "stop", says, source, limit.basis, factor.value, demand.f_Rsi_min,
            "-", cure,
        ),
    )  # fmt: skip


def _timber(reading: Reading) -> Finding:
    """Say what a moisture reading means."""
    p = roofing_practice
    subject, value = f"reading:{reading.name}", reading.percent
    ladder: tuple[tuple[Cited, str, Level, str], ...] = (
        (p.TIMBER_REPLACE, "timber-rotten", "stop", "replace it, back to sound wood"),
        (p.TIMBER_DRY_OUT, "timber-wet", "stop", "dry it or replace it before it is sealed in"),
        (p.TIMBER_COVER, "timber-damp", "note", "find the cause and read again next day"),
    )
    for limit, code, level, do in ladder:
        over = value >= limit if limit is p.TIMBER_REPLACE else value > limit
        if over:
            says = f"{value:g} % moisture at {reading.name}: {do}."
            return Finding(
                code, subject, level, says, limit.source, limit.basis, value, limit.value, "%",
                Remedy(do.capitalize() + "."),
            )  # fmt: skip
    says = f"{value:g} % moisture at {reading.name}: dry enough to cover."
    limit = p.TIMBER_COVER
    return Finding(
        "timber-dry", subject, "fine", says, limit.source, limit.basis, value, limit.value, "%"
    )

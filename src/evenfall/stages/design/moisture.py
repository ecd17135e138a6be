"""Moisture: ISO 13788 month by month, what if, mould at the ceiling, and the timber readings."""

from __future__ import annotations

from dataclasses import replace

from evenfall.calc.physics import mould
from evenfall.calc.physics.condensation import Condensation
from evenfall.calc.physics.monthly_air import Month, internal_vapour_pressure
from evenfall.calc.physics.psychrometrics import saturation_pressure, vapour_pressure
from evenfall.calc.physics.spells import gathered, margin_table, margins
from evenfall.calc.physics.transmittance import Layer, combined_method
from evenfall.model.choice import BuildUp
from evenfall.model.designed import Moisture
from evenfall.model.finding import Finding, Level, Remedy
from evenfall.model.job import Below, Covering, Deck, Joists, Reading, Site
from evenfall.stages.design import layering, what_if
from evenfall.stages.design.saying import finding
from evenfall.standards import bs_6229, iso_13788, roofing_practice
from evenfall.working import Cited, Table, Working

GRAMS = 1000


def work(
    chosen_mm: int,
    build: BuildUp,
    deck: Deck,
    below: Below,
    joists: Joists,
    covering: Covering,
    readings: tuple[Reading, ...],
    site: Site,
    vcls: tuple[tuple[str, float, int], ...] = (),
) -> Moisture:
    """Work out whether water gathers in the roof, and whether it dries.

    Parameters
    ----------
    chosen_mm : int
        Insulation taken [mm].
    build : BuildUp
        The layers [-].
    deck, below, joists, covering : Deck, Below, Joists, Covering
        What stays, and the old felt that might [-].
    readings : tuple of Reading
        Moisture of the timber [%].
    site : Site
        Climate [-].
    vcls : tuple of (str, float, int)
        Name, s_d [m] and nights as a roof of each VCL that is sold [-].

    Returns
    -------
    Moisture
        Verdict, months, what-ifs, mould factor and findings [-].
    """
    roof = what_if.Roof(chosen_mm, build, deck, below, joists)
    layers, months = roof.layers, layering.year(site, below)
    found = what_if.year(layers, months)
    colder = layering.year(site, below, roofing_practice.SKY_COOLING)
    factor = mould.plane_factor.show(combined_method(layers).U)
    holed = what_if.year(what_if.pierced(layers), months).verdict
    spell = _spell(layers, below)
    cure = what_if.cure(roof, months, vcls) if found.verdict == "c" else None
    required, told = _mould(factor, months)
    return Moisture(
        verdict=found.verdict,
        peak=_peak(found),
        peak_month=found.highest_month or "none",
        months=_months(found, layers, months, site),
        what_ifs=what_if.table(roof, covering, site, found),
        spell=spell,
        f_rsi=factor,
        f_rsi_required=required,
        without_vcl=what_if.year(what_if.with_vcl(layers, None), months).verdict,
        two_kelvin_colder=what_if.year(layers, colder).verdict,
        findings=(
            *_water(found, cure), *_holed(found, holed), *_cold(spell), *told,
            *(_timber(r) for r in readings),
        ),
    )  # fmt: skip


def _spell(layers: tuple[Layer, ...], below: Below) -> Working:
    """Work out what gathers in the cold spell of a warm roof."""
    cold, days = float(bs_6229.SPELL_C), int(bs_6229.SPELL_DAYS)
    p_e = vapour_pressure(cold, float(bs_6229.SPELL_PHI))
    excess = iso_13788.HUMIDITY_CLASSES[below.humidity_class].excess
    p_i = min(internal_vapour_pressure(p_e, cold, excess), saturation_pressure(below.indoor_c))
    spell = Month("cold spell", days, cold, p_e, below.indoor_c, p_i)
    water = gathered(layering.vapour(layers), spell)
    title = f"Water gathered in {days} days at {cold:g} C outside"
    return Working(title, "M_a", "kg/m2", bs_6229.SOURCE, water, own_basis="from memory")


def _cold(spell: Working) -> tuple[Finding, ...]:
    limit = bs_6229.SPELL_LIMIT
    if spell.value <= limit:
        return ()
    says = (
        f"{spell.value * GRAMS:.0f} g/m² would gather in {bs_6229.SPELL_DAYS:g} days at "
        f"{bs_6229.SPELL_C:g} °C; {limit * GRAMS:g} is the most. Take a tighter VCL."
    )
    cure = Remedy("A VCL of higher vapour resistance, its laps and turn-ups sealed.")
    return (finding("cold-spell", "roof", "agree", says, limit, spell.value, cure),)


def _holed(found: Condensation, holed: str) -> tuple[Finding, ...]:
    """Say it where the roof hangs on a VCL without holes."""
    if holed != "c" or found.verdict == "c":
        return ()
    says = (
        f"This roof hangs on its VCL: pierced or badly lapped (sd {what_if.PIERCED:g} m) it would "
        "gather water that does not dry. Seal every lap, turn-up and pipe; photograph it."
    )
    return (finding("vcl-must-be-whole", "roof", "note", says, what_if.PIERCED),)


def _months(
    found: Condensation, layers: tuple[Layer, ...], months: tuple[Month, ...], site: Site
) -> Table:
    """Tell the water of each month, in a dry roof how near it comes; and whose humidity it is."""
    source = f"{iso_13788.SOURCE}; outside humidity: {site.outside_humidity_source}"
    dry = not found.planes
    told = margin_table(margins(layering.vapour(layers), months)) if dry else found.table
    return replace(told, source=source)


def _peak(found: Condensation) -> Working:
    source = iso_13788.SOURCE
    title, symbol = "Most water held at the end of a month", "M_a"
    return Working(title, symbol, "kg/m2", source, found.highest, own_basis="from memory")


def _required(demand: mould.MouldDemand | None) -> Working:
    when = f"in {demand.governing_month}" if demand else "in no month: it is never colder outside"
    value = demand.f_Rsi_min if demand else 0.0
    title, source = f"Temperature factor asked for, {when}", iso_13788.SOURCE
    return Working(title, "f_Rsi,min", "-", source, value, own_basis="from memory")


def _water(found: Condensation, cure: Remedy | None) -> tuple[Finding, ...]:
    source, limit = iso_13788.SOURCE, iso_13788.RUN_OFF
    if found.verdict == "a":
        says = "No water gathers in the roof in any month."
        return (Finding("dry", "roof", "fine", says, source, limit.basis, 0.0, 0.0, "kg/m2"),)
    plane = found.worst_plane
    where = plane.name if plane else "the roof"
    grams = found.highest * GRAMS
    told = f"{grams:.0f}" if grams >= 10 else f"{grams:.1f}"  # a trace is not told as none
    if found.verdict == "c":
        says = f"Water gathers at {where} and does not dry in the year."
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


def _mould(factor: Working, months: tuple[Month, ...]) -> tuple[Working, tuple[Finding, ...]]:
    """Give the factor that the air asks for, and what follows from it."""
    if not any(m.theta_e < m.theta_i for m in months):
        limit = iso_13788.MOULD_HUMIDITY
        says = (
            "The room below is colder than the air outside in every month: nothing drives heat or "
            "vapour out through this roof. See whether its temperature was meant so."
        )
        return _required(None), (finding("room-colder", "roof", "note", says, limit),)
    demand = mould.demand(months)
    return _required(demand), _mould_found(factor, demand)


def _mould_found(factor: Working, demand: mould.MouldDemand) -> tuple[Finding, ...]:
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
    at = reading.name
    if reading.side:
        along, into = reading.along_m or 0.0, reading.in_m or 0.0
        at += f" ({along:.2f} m along {reading.side}, {into:.2f} m in)"
    ladder: tuple[tuple[Cited, str, Level, str], ...] = (
        (p.TIMBER_REPLACE, "timber-rotten", "stop", "replace it, back to sound wood"),
        (p.TIMBER_DRY_OUT, "timber-wet", "stop", "dry it or replace it before it is sealed in"),
        (p.TIMBER_COVER, "timber-damp", "note", "find the cause and read again next day"),
    )
    for limit, code, level, do in ladder:
        over = value >= limit if limit is p.TIMBER_REPLACE else value > limit
        if over:
            says = f"{value:g} % moisture at {at}: {do}."
            return Finding(
                code, subject, level, says, limit.source, limit.basis, value, limit.value, "%",
                Remedy(do.capitalize() + "."),
            )  # fmt: skip
    says = f"{value:g} % moisture at {at}: dry enough to cover."
    limit = p.TIMBER_COVER
    return Finding(
        "timber-dry", subject, "fine", says, limit.source, limit.basis, value, limit.value, "%"
    )

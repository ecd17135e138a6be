"""Rules: the duties that this job triggers, from planning to waste, and no others."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from evenfall.calc.loads.roof_zones import finished_height
from evenfall.model.designed import Rules
from evenfall.model.finding import Change, Finding, Remedy
from evenfall.model.job import Below, Covering, Height, Side
from evenfall.stages.design import flues as flues_of
from evenfall.stages.design import nation as of_nation
from evenfall.stages.design import nation_tables
from evenfall.stages.design.answers import sources
from evenfall.stages.design.saying import cure, finding
from evenfall.standards import planning_practice as planning
from evenfall.standards import site_duties as duties
from evenfall.standards import vat_notice_708_6 as vat
from evenfall.working import Working, formula, measured

Thinner = tuple[int, tuple[tuple[int, tuple[Change, ...]], ...]]
"""Thickness taken, and those that do all that is asked, each with what chooses it [mm]."""


@formula("margin", "mm", "planning margin")
def planning_margin(limit: float, rise: float) -> float:
    """Room left before planning permission is needed.

    Parameters
    ----------
    limit : float
        Most that a roof may rise without it [mm].
    rise : float
        Rise of the roof surface [mm].

    Returns
    -------
    float
        Margin, negative when it is needed [mm].

    Examples
    --------
    >>> planning_margin(150.0, 133.0)
    17.0
    """
    return limit - rise


def work(
    nation: str,
    building: str,
    listed: bool,
    self_certifies: bool,
    sides: tuple[Side, ...],
    covering: Covering,
    deck_kind: str,
    below: Below,
    flues: tuple[tuple[str, ...], tuple[Height, ...]],
    roof_height_m: float,
    vat_case: str,
    start_on: date,
    rises: tuple[Working, Working],
    roof: of_nation.Renewed,
    thinner: Thinner = (0, ()),
) -> Rules:
    """List the duties that this job triggers.

    Parameters
    ----------
    nation, building : str
        Whose rules apply, and whether it is a house, a flat or a garage [-].
    listed, self_certifies : bool
        Listed or in a conservation area; the firm is in a competent-person scheme [-].
    sides : tuple of Side
        Every side with its distance to the boundary [m].
    covering, below : Covering, Below
        The old felt, and the void [-].
    deck_kind : str
        What the deck is made of [-].
    flues : tuple
        Names of the flues through the roof, and the flues whose height was measured [-].
    roof_height_m : float
        Height of the roof as it is [m].
    vat_case : str
        VAT case that the user declared [-].
    start_on : date
        First day of the work [-].
    rises : tuple of Working
        The most and the least that the roof surface rises along its edge [mm].
    roof : Renewed
        Areas and transmittance, as the rules of the nation see them [-].
    thinner : tuple
        Thickness taken, and those that do all that is asked [mm].

    Returns
    -------
    Rules
        Rise, planning margin, shares, what the nation asks, findings [mm].

    Raises
    ------
    InvalidInput
        A whole roof or building smaller than this roof.
    """
    rise, thin = rises
    found = (
        *_planning(building, listed, rises, sides, roof_height_m, thinner),
        *of_nation.findings(nation, building, self_certifies, roof),
        *_asbestos(covering),
        *_neighbours(sides),
        *flues_of.tell(*flues, rise),
        *_height(roof_height_m, deck_kind),
        *_void(below),
        *_waste(covering),
        *_vat(vat_case, start_on),
    )
    return Rules(
        rise, thin, planning_margin.show(planning.RISE_MM, rise), *of_nation.shares(roof),
        nation_tables.asked(nation, building, roof), nation_tables.nations(nation), found,
        (sources(),),
    )  # fmt: skip


def _planning(
    building: str,
    listed: bool,
    rises: tuple[Working, Working],
    sides: tuple[Side, ...],
    h: float,
    thinner: Thinner,
) -> Iterator[Finding]:
    rise, thin = rises
    ask = cure("Ask the council in writing before you order, or build thinner.")
    if listed:
        says = "Listed building or conservation area: ask the council before anything is changed."
        yield finding("planning-listed", "roof", "agree", says, duties.LISTED, remedy=ask)
    if building == "flat":
        says = (
            f"The roof of a flat may not rise without planning permission; this one rises "
            f"{rise.value:.0f} mm. Ask the council and the owner of the building."
        )
        yield finding("planning-flat", "roof", "agree", says, duties.LISTED, rise.value, ask, "mm")
    elif building == "garage":
        yield from _outbuilding(sides, h, rise)
    else:
        yield _rise(rise, thin, thinner)
        yield from _highest(sides, rise)


def _rise(rise: Working, thin: Working, thinner: Thinner) -> Finding:
    """Both ends against the limit, on one line."""
    limit, value = planning.RISE_MM, rise.value
    margin = planning_margin(limit, value)
    ends = f"The roof rises {thin.value:.0f} mm at its thin end and {value:.0f} mm at its thick end"
    if round(thin.value) == round(value):
        ends = f"The roof rises {value:.0f} mm"
    if margin < 0:
        says = (
            f"{ends}; more than {limit:.0f} mm needs planning permission ({-margin:.0f} mm too "
            "much)."
        )
        ask = _lower(-margin, thinner)
        return finding("planning-rise", "roof", "agree", says, limit, value, ask)
    says = f"{ends}: {margin:.0f} mm below the {limit:.0f} mm that needs planning permission."
    return finding("planning-rise", "roof", "fine", says, limit, value)


def _highest(sides: tuple[Side, ...], rise: Working) -> Iterator[Finding]:
    """Ask where no higher part of the house stands beside the roof: the sources differ on that."""
    if any(s.wall_height_m for s in sides):
        return
    limit = planning.ABOVE_HIGHEST_MM
    says = (
        f"No higher part of the house stands beside this roof: one source lets it rise "
        f"{planning.RISE_MM:.0f} mm, another not above its highest part at all. Ask the council."
    )
    ask = cure("Have the council's word, and enter it under the answers on record.")
    yield finding("planning-highest", "roof", "agree", says, limit, rise.value, ask)


def _lower(too_much: float, thinner: Thinner) -> Remedy:
    """Offer the thickest board that is low enough and does all that is asked, where one is."""
    chosen, good = thinner
    low = [(mm, changes) for mm, changes in good if mm <= chosen - too_much]
    if low:
        mm, changes = max(low, key=lambda one: one[0])
        return Remedy(f"Take {mm} mm, which still does all that is asked.", changes)
    return cure("Ask the council; else a board of lower conductivity, or a fall the other way.")


def _outbuilding(sides: tuple[Side, ...], h: float, rise: Working) -> Iterator[Finding]:
    """Compare a garage that stands by itself with its own greatest height."""
    nearest = min(s.boundary_m for s in sides)
    near = nearest < planning.OUTBUILDING_NEAR_M
    limit = planning.OUTBUILDING_LOW_M if near else planning.OUTBUILDING_HIGH_M
    top = finished_height.show(measured(h, "m", "site.roof_height_m"), rise).value
    where = f"{nearest:.1f} m from the boundary"
    if top > limit:
        says = (
            f"The garage will be {top:.2f} m high, {where}: standing by itself it may be "
            f"{limit:.1f} m without planning permission."
        )
        ask = cure("Ask the council in writing before you order, or build thinner.")
        yield finding("planning-garage", "roof", "agree", says, limit, top, ask)
    else:
        says = f"The garage will be {top:.2f} m high, {where}: {limit:.1f} m are allowed."
        yield finding("planning-garage", "roof", "fine", says, limit, top)


def _asbestos(covering: Covering) -> Iterator[Finding]:
    year, by = covering.laid_year, duties.ASBESTOS
    if covering.asbestos == "found":
        says = "The felt holds asbestos. Nobody strips it before an asbestos surveyor has said how."
        ask = cure("Have the surveyor say in writing who may take it off, and price that.")
        yield finding("asbestos-found", "covering", "stop", says, by, remedy=ask)
    elif covering.asbestos == "not_sampled" and year < duties.SAMPLE_BEFORE:
        says = f"Felt of {year} may hold asbestos: have a sample tested before it is stripped."
        ask = cure("Send a sample to a laboratory; enter the result under the covering.")
        by_year = duties.SAMPLE_BEFORE
        yield finding("asbestos-untested", "covering", "stop", says, by_year, float(year), ask)


def _neighbours(sides: tuple[Side, ...]) -> Iterator[Finding]:
    months = duties.PARTY_WALL_MONTHS
    for side in sides:
        subject = f"side:{side.side}"
        shared = side.kind == "party_line" or (side.kind == "wall" and not side.boundary_m)
        if shared:
            says = (
                f"{side.side} is on the line to the neighbour: cutting a flashing into their wall "
                f"needs a party wall notice, {months:.0f} months ahead."
            )
            ask = cure("Have the neighbour agree in writing, or serve the notice.")
            yield finding("party-wall", subject, "agree", says, duties.PARTY_WALL, remedy=ask)
        elif not side.boundary_m:
            says = f"{side.side} lies on the boundary: no gutter or trim may hang over it."
            yield finding("boundary-crossed", subject, "note", says, duties.BOUNDARY)


def _height(roof_height_m: float, deck_kind: str) -> Iterator[Finding]:
    rail, near = duties.RAIL_MM, duties.NEAR_EDGE_M
    says = (
        f"The edge is {roof_height_m:.1f} m up: rails {rail:.0f} mm high before anyone comes "
        f"within {near:.0f} m of it, and a written plan for the job's safety."
    )
    yield finding("edge-protection", "roof", "note", says, rail)
    if deck_kind in duties.FRAGILE_DECKS:
        says = f"A wet {deck_kind} deck does not bear a person: boards to walk on, a net below."
        yield finding("deck-fragile", "deck", "note", says, duties.FRAGILE)


def _void(below: Below) -> Iterator[Finding]:
    if below.cables_in_void:
        says = "Cables lie in the void: find them and switch them off before sawing or screwing."
        yield finding("cables-in-void", "void", "note", says, duties.CABLES)
    if below.old_vents:
        says = "Bats or birds may live behind the old vents: look before they are closed."
        yield finding("wildlife", "void", "note", says, duties.WILDLIFE)


def _waste(covering: Covering) -> Iterator[Finding]:
    hazard = covering.asbestos == "found"
    years = duties.CONSIGNMENT_NOTE_YEARS if hazard else duties.TRANSFER_NOTE_YEARS
    note = "hazardous consignment note" if hazard else "transfer note"
    says = f"The old felt goes with a registered carrier; keep the {note} {years:.0f} years."
    yield finding("waste-note", "covering", "note", says, years)


def _vat(case: str, start_on: date) -> Iterator[Finding]:
    """Compare the first day of the work with the end of the zero rate for insulation."""
    if case != "insulation_zero":
        return
    left = (vat.ZERO_UNTIL - start_on).days
    if left < 0:
        says = (
            f"Work starts on {start_on:%d %b %Y}; the zero rate ends on {vat.ZERO_UNTIL:%d %b %Y}. "
            f"After it {vat.REDUCED_PERCENT:.0f} % at the least is due."
        )
        ask = cure(
            "Quote the standard rate, or ask the accountant.", ("design.vat.case", "standard")
        )
        yield finding("vat-zero-over", "price", "agree", says, vat.REDUCED_PERCENT, remedy=ask)
    elif left < vat.NEAR_DAYS:
        says = (
            f"Work starts {left} days before the zero rate ends on {vat.ZERO_UNTIL:%d %b %Y}: "
            "what is finished later is taxed."
        )
        yield finding("vat-zero-ends", "price", "note", says, vat.NEAR_DAYS, float(left))

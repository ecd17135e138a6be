"""Wind: suction by zone over all wind directions, and the screws or beads that hold against it."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.calc.loads.fixings import (
    embedment_mm,
    least_fixings,
    least_screw_mm,
)
from evenfall.model.choice import BuildUp
from evenfall.model.designed import Wind
from evenfall.model.finding import Finding
from evenfall.model.job import Deck, Side, Site
from evenfall.model.rates import Adhesive
from evenfall.model.surveyed import Plan
from evenfall.stages.design.holding import Holding
from evenfall.stages.design.saying import cure, finding
from evenfall.standards import board_practice, fixing_practice
from evenfall.standards import en_1991_1_4 as en
from evenfall.standards.pull_out_protocol import TESTS_LEAST
from evenfall.working import Cited, Known, Working, measured

MM = 1000
KILO = 1000


def work(
    site: Site,
    sides: tuple[Side, ...],
    deck: Deck,
    cables_in_void: bool,
    build: BuildUp,
    chosen_mm: int,
    plan: Plan,
    adhesive: Adhesive,
    tapered_mm: tuple[float, ...] = (),
) -> Wind:
    """Work out the wind on every part of the roof, and what holds it down.

    Parameters
    ----------
    site : Site
        Map wind, altitude, terrain, sea, height of the roof [-].
    sides : tuple of Side
        Parapets [mm].
    deck : Deck
        Flatness, thickness and pull-out tests [-].
    cables_in_void : bool
        Whether screws may not go far below the deck [-].
    build : BuildUp
        Board, screws and how the boards are held [-].
    chosen_mm : int
        Insulation, all layers [mm].
    plan : Plan
        The roof [m].
    adhesive : Adhesive
        Strength of the beads and of the sheet's bond [kPa].
    tapered_mm : tuple of float
        What tapered boards add at the corners; empty without them [mm].

    Returns
    -------
    Wind
        Pressure, zones, screws, beads and findings [-].
    """
    held = Holding(site, sides, deck, build, plan, adhesive)
    zones, bond, centres = held.at(chosen_mm)
    lengths = screw_lengths(build, chosen_mm, tapered_mm)
    screw = min((n for n in build.screw.lengths_mm if n >= lengths[-1].value), default=None)
    findings = (
        *_pressure_findings(site, held.q_p),
        *_bond_findings(bond, adhesive),
        *(_screw_findings(
            deck, cables_in_void, held.scattered, lengths, screw, build)
          if build.hold_boards_by == "screws" else _glue_findings(deck, centres, held.width)),
    )  # fmt: skip
    least = least_fixings(build.board.length_mm, build.board.width_mm, chosen_mm, adhered=True)
    return Wind(
        held.q_p,
        zones,
        least,
        screw,
        held.resistance,
        bond,
        centres,
        fixing_practice.SAFETY,
        findings,
    )  # fmt: skip


def screw_lengths(
    build: BuildUp, chosen_mm: int, tapered_mm: tuple[float, ...]
) -> tuple[Working, Working]:
    """Work out the screws that reach, where the boards are thinnest and where thickest.

    Parameters
    ----------
    build : BuildUp
        The layers above the deck [mm].
    chosen_mm : int
        Insulation, all layers [mm].
    tapered_mm : tuple of float
        What tapered boards add at the corners [mm].

    Returns
    -------
    tuple of Working
        Least lengths [mm].
    """
    above = build.under_head_mm(chosen_mm)
    thin, thick = min(tapered_mm, default=0.0), max(tapered_mm, default=0.0)
    where = "boards, overlay and VCL, less the tube that sinks the head"
    return (
        least_screw_mm.show(measured(above + thin, "mm", where, build.basis), embedment_mm()),
        least_screw_mm.show(measured(above + thick, "mm", where, build.basis), embedment_mm()),
    )


def _kpa(pascal: float) -> str:
    return f"{pascal / KILO:.2f} kN/m²"


def _pressure_findings(site: Site, q_p: Working) -> Iterator[Finding]:
    if site.peak_pressure_kpa is not None:
        return
    parts = {name: float(v) for name, _, v in q_p.of}
    both = ""
    if "q_Sb" in parts:
        both = f", the larger of {_kpa(parts['q_EN'])} and {_kpa(parts['q_Sb'])} by two methods"
    says = f"Peak wind pressure {_kpa(q_p.value)}{both}. The British charts were not at hand."
    basis = Cited(q_p.value, "Pa", en.NATIONAL, "Figures NA.7 and NA.8", q_p.basis)
    yield finding("wind-without-charts", "roof", "note", says, basis)


def _bond_findings(bond: Working, adhesive: Adhesive) -> Iterator[Finding]:
    """Compare the sheet's bond with the corner, over the whole roof."""
    by = Cited(bond.value, "Pa", bond.source, "corner suction over the whole roof", bond.basis)
    holds = adhesive.sheet_bond_kpa * KILO
    if holds < bond.value:
        says = (
            f"The sheet's glue holds {_kpa(holds)}; the wind at the corners asks for "
            f"{_kpa(bond.value)} everywhere."
        )
        ask = cure("Take a glue with a stronger bond, or have the sheet fixed with bars.")
        yield finding("sheet-bond-weak", "roof", "stop", says, by, holds, ask)
        return
    says = (
        f"Every glued face must hold {_kpa(bond.value)}: ask the makers for the board's facing and "
        "the VCL as well."
    )
    yield finding("bond-chain", "roof", "note", says, by, holds)


def _glue_findings(deck: Deck, centres: Working, width: Known) -> Iterator[Finding]:
    screws = ("design.hold_boards_by", "screws")
    flat, dish = board_practice.FLATNESS_MM, deck.dish_under_2m_mm
    if dish > flat:
        says = (
            f"The deck dips {dish:.0f} mm under a 2 m straight-edge; glued boards need "
            f"{flat:.0f} mm or less. Screws hold on it as it is, without new decking."
        )
        ask = cure("Hold the boards with screws; that spares new decking.", screws)
        yield finding("deck-dished", "deck", "stop", says, flat, dish, ask)
    if centres.value < width:
        by = Cited(float(width), "m", centres.source, "beads that touch", centres.basis)
        says = "The beads of board glue would have to touch and still not hold at the corners."
        ask = cure("Hold the boards with screws.", screws)
        yield finding("board-glue-weak", "roof", "stop", says, by, centres.value, ask)


def _screw_findings(
    deck: Deck,
    cables: bool,
    scattered: bool,
    lengths: tuple[Working, Working],
    screw: int | None,
    build: BuildUp,
) -> Iterator[Finding]:
    tests = len(deck.pull_outs_n)
    if scattered:
        says = "The pull-out tests scatter too much to count on any value. Test more screws."
        ask = cure("Test more screws, or another screw, where the deck is sound.")
        yield finding("pull-out-scatter", "deck", "stop", says, TESTS_LEAST, tests, ask)
    elif tests < TESTS_LEAST:
        says = (
            f"{tests or 'No'} pull-out tests were made on this deck; at least {TESTS_LEAST:.0f} "
            "are needed before screws are counted on."
        )
        ask = cure("Pull out screws at three places or more and enter the forces.")
        yield finding("pull-out-untested", "deck", "agree", says, TESTS_LEAST, tests, ask)
    thin, thick = (length.value for length in lengths)
    flat = deck.dish_under_2m_mm <= board_practice.FLATNESS_MM
    sold = build.screw.lengths_mm
    glue = cure("Order screws of another length, or with tubes of another depth.")
    if flat and build.vcl.sticks:
        glue = cure("Hold the boards with glue.", ("design.hold_boards_by", "adhesive"))
    into = embedment_mm()
    if screw is None:
        if max(sold) >= thin:  # where even the thin end is out of reach, the rise stick says so
            says = f"No screw that is sold is {thick:.0f} mm long, as the thick tapers need."
            by = Cited(thick, "mm", into.source, into.where, into.basis)
            yield finding("screw-short-of-tapers", "roof", "stop", says, by, max(sold), glue)
        return
    deepest, limit = screw - thin + into, deck.thickness_mm + fixing_practice.BEYOND_DECK_MOST_MM
    if cables and deepest > limit:
        beyond = fixing_practice.BEYOND_DECK_MOST_MM
        by = Cited(limit, "mm", beyond.source, beyond.where, beyond.basis)
        says = (
            f"Screws of {screw} mm end {deepest:.0f} mm below the top of the deck; with cables in "
            f"the void {limit:.0f} mm is the most."
        )
        yield finding("screw-near-cables", "void", "stop", says, by, deepest, glue)

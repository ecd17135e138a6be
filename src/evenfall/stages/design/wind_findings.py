"""What the wind room says: the pressure, the bonds, the deck under glue, the screws and tests."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import floor
from statistics import mean, stdev

from evenfall.calc.loads.fixings import embedment_mm
from evenfall.calc.loads.pull_out import characteristic, k_n
from evenfall.calc.loads.screw_lengths import Reach, deepest
from evenfall.model.choice import BuildUp
from evenfall.model.designed import Interface
from evenfall.model.finding import Finding, Remedy
from evenfall.model.job import Deck, Site
from evenfall.stages.design.saying import cure, finding
from evenfall.standards import board_practice, fixing_practice
from evenfall.standards import en_1991_1_4 as en
from evenfall.standards.pull_out_protocol import RESISTANCE_LEAST, TESTS_LEAST
from evenfall.working import Cited, Known, Table, Working

KILO = 1000
SCREWS = ("design.hold_boards_by", "screws")
GLUE = ("design.hold_boards_by", "adhesive")


@dataclass(frozen=True, slots=True)
class Screwing:
    """Whether screws may go into this deck: how deep the screw goes, and how deep it may."""

    bands: tuple[Reach, ...]  # lengths, and where each is used
    thin: float  # least lengths, where the boards are thinnest and where thickest, mm
    thick: float
    deepest: float  # of its point below the top of the deck, mm
    limit: float
    cables: bool

    @property
    def screw(self) -> int | None:
        """The longest screw taken."""
        return self.bands[-1].length_mm if self.bands else None

    @property
    def harms(self) -> bool:
        """Whether its point could reach a cable."""
        return self.cables and self.screw is not None and self.deepest > self.limit

    @property
    def may(self) -> bool:
        """Whether screws are a way out at all."""
        return self.screw is not None and not self.harms


def screwing(
    deck: Deck, cables: bool, lengths: tuple[Working, Working], bands: tuple[Reach, ...]
) -> Screwing:
    """Work out how deep the screw would go.

    Parameters
    ----------
    deck : Deck
        Its thickness [mm].
    cables : bool
        Whether cables lie in the void [-].
    lengths : tuple of Working
        Least lengths, at the thin end and at the thick end [mm].
    bands : tuple of Reach
        The screws taken, and where each is used [mm].

    Returns
    -------
    Screwing
        Depths [mm].
    """
    thin, thick = (length.value for length in lengths)
    limit = deck.thickness_mm + fixing_practice.BEYOND_DECK_MOST_MM
    return Screwing(bands, thin, thick, deepest(bands), limit, cables)


def kpa(pascal: float) -> str:
    """Say a pressure as roofers read it, in kN/m².

    Parameters
    ----------
    pascal : float
        Pressure [Pa].

    Returns
    -------
    str
        Words [-].

    Examples
    --------
    >>> kpa(1318.0)
    '1.32 kN/m²'
    """
    return f"{pascal / KILO:.2f} kN/m²"


def of_pressure(site: Site, q_p: Working) -> Iterator[Finding]:
    """Say where the pressure comes from, and which charts would make it better.

    Parameters
    ----------
    site : Site
        What the user read in the charts [-].
    q_p : Working
        Peak velocity pressure [Pa].

    Yields
    ------
    Finding
        One where charts or the national table are not at hand [-].
    """
    if site.peak_pressure_kpa is None and site.exposure_chart is None:
        parts = {name: float(v) for name, _, v in q_p.of}
        both = ""
        if "q_Sb" in parts:
            both = f", the larger of {kpa(parts['q_EN'])} and {kpa(parts['q_Sb'])} by two methods"
        says = f"Peak wind pressure {kpa(q_p.value)}{both}. The British charts were not at hand."
        basis = Cited(q_p.value, "Pa", en.NATIONAL, "Figures NA.7 and NA.8", q_p.basis)
        ask = cure(
            "Read c_e off chart NA.7 (in a town c_e,T off NA.8 as well) and give exposure_chart, "
            "or give peak_pressure_kpa."
        )
        yield finding("wind-without-charts", "roof", "note", says, basis, remedy=ask)
    if site.roof_coefficients is None:
        says = (
            "The pull on corners, edges and field is by the European table; the British table for "
            "flat roofs was not at hand."
        )
        table = Cited(1.0, "-", en.SOURCE, "Table 7.2; the UK has Table NA.5", "published")
        ask = cure("Give roof_coefficients as read in Table NA.5, if the officer asks for it.")
        yield finding("wind-by-european-table", "roof", "note", says, table, remedy=ask)


def of_bonds(bond: Working, faces: tuple[Interface, ...], screws: Screwing) -> Iterator[Finding]:
    """Compare each glued face with the corner, over the whole roof.

    Parameters
    ----------
    bond : Working
        What every glued face must hold [Pa].
    faces : tuple of Interface
        Glued faces, and what the rates say that they hold [Pa].
    screws : Screwing
        Whether screws are a way out [-].

    Yields
    ------
    Finding
        The weak ones, or one that asks for the rest of the chain [-].
    """
    by = Cited(bond.value, "Pa", bond.source, "corner suction over the whole roof", bond.basis)
    sheet, vcl = (next((f for f in faces if f.id == i), None) for i in ("sheet", "vcl"))
    asks = f"the wind at the corners asks for {kpa(bond.value)} everywhere."
    if vcl is not None and vcl.holds is not None and vcl.declared and vcl.spare < 0:
        says = f"The VCL's bond to the deck holds {kpa(float(vcl.holds))}; {asks}"
        words = "Take a VCL with a stronger bond"
        ask = cure(f"{words}, or hold the boards with screws.", SCREWS) if screws.may \
            else cure(f"{words}.")  # fmt: skip
        yield finding("vcl-bond-weak", "roof", "stop", says, by, float(vcl.holds), ask)
    if sheet is not None and sheet.holds is not None and sheet.spare < 0:
        says = f"The sheet's glue holds {kpa(float(sheet.holds))}; {asks}"
        ask = cure("Take a glue with a stronger bond, or have the sheet fixed with bars.")
        yield finding("sheet-bond-weak", "roof", "stop", says, by, float(sheet.holds), ask)
        return
    yield from _of_parapets(faces)
    says = (
        f"Every glued face must hold {kpa(bond.value)}: ask the makers for the board's facing and "
        "the VCL as well."
    )
    holds = float(sheet.holds or 0.0) if sheet else None
    yield finding("bond-chain", "roof", "note", says, by, holds)


def _of_parapets(faces: tuple[Interface, ...]) -> Iterator[Finding]:
    """Stop a bond that holds on the roof but not on its parapets, which the wind pulls at more."""
    face = next((f for f in faces if f.id == "parapet"), None)
    if face is None or face.holds is None or face.spare >= 0:
        return
    says = (
        f"On the parapets near a corner the wind asks for {kpa(face.pull.value)}; the sheet's glue "
        f"holds {kpa(float(face.holds))}."
    )
    by = Cited(face.pull.value, "Pa", en.SOURCE, "7.4.1, parapet, zone A", face.pull.basis)
    ask = cure("Fix the sheet on the parapets with a bar, or take a glue with a stronger bond.")
    yield finding("parapet-bond-weak", "roof", "stop", says, by, float(face.holds), ask)


def of_glue(deck: Deck, centres: Working, width: Known, screws: Screwing) -> Iterator[Finding]:
    """Judge the deck and the beads of glued boards.

    Parameters
    ----------
    deck : Deck
        How far it dips under a straight-edge [mm].
    centres : Working
        Widest centres of beads that hold [m].
    width : Known
        Width of a bead [m].
    screws : Screwing
        Whether screws are a way out [-].

    Yields
    ------
    Finding
        What does not hold [-].
    """
    flat, dish = board_practice.FLATNESS_MM, deck.dish_under_2m_mm
    if dish > flat:
        says = (
            f"The deck dips {dish:.0f} mm under a 2 m straight-edge; glued boards need "
            f"{flat:.0f} mm or less."
        )
        level = "Level the deck, or board it over: screws would reach the cables below."
        ask = cure(level) if screws.harms else cure("Level the deck, or board it over.")
        if screws.may and dish <= board_practice.FLATNESS_SCREWED_MM:
            says = f"{says} Screws hold on it as it is, without new decking."
            ask = cure("Hold the boards with screws; that spares new decking.", SCREWS)
        yield finding("deck-dished", "deck", "stop", says, flat, dish, ask)
    if centres.value < width:
        by = Cited(float(width), "m", centres.source, "beads that touch", centres.basis)
        says = "The beads of board glue would have to touch and still not hold at the corners."
        ask = (
            cure("Hold the boards with screws.", SCREWS)
            if screws.may
            else cure("Take a stronger glue: screws cannot be had here.")
        )
        yield finding("board-glue-weak", "roof", "stop", says, by, centres.value, ask)


def of_screws(
    deck: Deck, build: BuildUp, screws: Screwing, scattered: bool, resistance: Working,
    more: Table | None,
) -> Iterator[Finding]:  # fmt: skip
    """Judge the tests, the deck and the length of the screws.

    Parameters
    ----------
    deck : Deck
        Pull-out tests, flatness [-].
    build : BuildUp
        Screws that are sold, and whether the VCL would carry glue [-].
    screws : Screwing
        How deep they go [mm].
    scattered : bool
        Whether the tests scatter too much [-].
    resistance : Working
        Design value of one screw [N].
    more : Table, optional
        What more tests would give [N].

    Yields
    ------
    Finding
        What does not hold [-].
    """
    flat = deck.dish_under_2m_mm <= board_practice.FLATNESS_MM
    glue = flat and build.vcl.sticks
    yield from _of_tests(deck, scattered, resistance, more, glue)
    loose, dish = board_practice.FLATNESS_SCREWED_MM, deck.dish_under_2m_mm
    if dish > loose:
        says = (
            f"The deck dips {dish:.0f} mm under a 2 m straight-edge; boards rock on more than "
            f"{loose:.0f} mm, even screwed."
        )
        ask = cure("Level the deck with shims or packing, or board it over.")
        yield finding("deck-uneven", "deck", "agree", says, loose, dish, ask)
    yield from _of_length(build, screws, glue)


def _of_tests(
    deck: Deck, scattered: bool, resistance: Working, more: Table | None, glue: bool
) -> Iterator[Finding]:
    tests = len(deck.pull_outs_n)
    if scattered:
        middle, spread = mean(deck.pull_outs_n), stdev(deck.pull_outs_n)
        factor = k_n(tests)
        low = characteristic(middle, float(factor), spread)
        says = (
            f"The {tests} pull-out tests scatter too much to count on any value: mean "
            f"{middle:.0f} N less {float(factor):.2f} times the scatter of {spread:.0f} N leaves "
            f"{low:.0f} N (EN 1990 Table D1); above 0 is needed."
        )
        ask = cure("Test more screws, or another screw, where the deck is sound.")
        yield Finding(
            "pull-out-scatter",
            "deck",
            "stop",
            says,
            factor.source,
            factor.basis,
            low,
            0.0,
            "N",
            ask,
        )
        return
    if tests < TESTS_LEAST:
        told = {0: "No pull-out test was", 1: "One pull-out test was"}.get(
            tests, f"{tests} pull-out tests were"
        )
        says = (
            f"{told} made on this deck; at least {TESTS_LEAST:.0f} are needed before screws are "
            "counted on (EN 1990 Table D1 has no factor for fewer)."
        )
        ask = cure("Pull out screws at three places or more and enter the forces.")
        yield finding("pull-out-untested", "deck", "agree", says, TESTS_LEAST, tests, ask)
        return
    if resistance.value < RESISTANCE_LEAST:
        says = (
            f"By the tests one screw may be counted on for {resistance.value:.0f} N; a timber deck "
            f"that gives less than {RESISTANCE_LEAST:.0f} N is not sound enough to screw to."
        )
        ask = (
            cure("Hold the boards with glue.", GLUE)
            if glue
            else cure(
                "Test more screws where the deck is sound, take another screw, or renew the deck."
            )
        )
        yield finding(
            "pull-out-low", "deck", "agree", says, RESISTANCE_LEAST, resistance.value, ask
        )
    if more is not None:
        yield _worth_more(tests, resistance, more)


def _worth_more(tests: int, resistance: Working, more: Table) -> Finding:
    """Say what more tests would gain, if they scatter as these do."""
    counts = {row[0]: row[2] for row in more.rows}
    told = ", ".join(
        f"{n:.0f} tests {v:.0f} N" for n, v in counts.items()
        if isinstance(n, float) and isinstance(v, float) and n > tests
    )  # fmt: skip
    says = (
        f"{tests} pull-out tests let a screw count for {resistance.value:.0f} N. With the same "
        f"scatter more tests would give: {told}."
    )
    by = Cited(TESTS_LEAST.value, "tests", more.source, "what more tests gain", more.basis)
    return finding("pull-out-more-tests", "deck", "note", says, by, tests,
                   cure("Pull a few more before ordering, if that saves screws."))  # fmt: skip


def _of_length(build: BuildUp, screws: Screwing, glue: bool) -> Iterator[Finding]:
    ask: Remedy = cure("Order screws of another length, or with tubes of another depth.")
    if screws.harms and screws.thick > screws.thin:
        ask = cure("No length does over these tapers: have the cables moved first.")
    if glue:
        ask = cure("Hold the boards with glue.", GLUE)
    into = embedment_mm()
    if screws.screw is None:
        sold = max(build.screw.lengths_mm)
        if sold >= screws.thin:  # where even the thin end is out of reach, the rise stick says so
            says = f"No screw that is sold is {screws.thick:.0f} mm long, as the thick tapers need."
            by = Cited(screws.thick, "mm", into.source, into.where, into.basis)
            yield finding("screw-short-of-tapers", "roof", "stop", says, by, sold, ask)
    elif screws.harms:
        beyond = fixing_practice.BEYOND_DECK_MOST_MM
        worst = max(screws.bands, key=lambda band: band.length_mm - band.from_mm)
        by = Cited(screws.limit, "mm", beyond.source, beyond.where, beyond.basis)
        says = (
            f"Screws of {worst.length_mm} mm end {screws.deepest:.0f} mm below the top of the "
            f"deck; with cables in the void {screws.limit:.0f} mm is the most."
        )
        yield finding("screw-near-cables", "void", "stop", says, by, screws.deepest, ask)
    if screws.screw is not None and len(screws.bands) > 1:
        else_mm = build.overlay_mm + build.vcl.thickness_mm - build.screw.tube_mm
        told = ", ".join(
            f"{band.length_mm} mm up to {floor(band.to_mm - else_mm)}" for band in screws.bands
        )
        says = f"Screws over the tapered boards, by how thick they are there: {told} mm."
        ask = cure("Mark the thicknesses on the boards; one length for all comes out far below.")
        yield finding("screws-by-length", "roof", "note", says, into, float(len(screws.bands)), ask)

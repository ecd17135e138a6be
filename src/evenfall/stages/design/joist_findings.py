"""What is said about the joists: what was seen, their strength, their sag, their weight."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.calc.loads import span_tables
from evenfall.calc.loads.joists import Joist
from evenfall.model.designed import JoistCase
from evenfall.model.finding import Finding, Remedy
from evenfall.model.job import Joists as Found
from evenfall.stages.design.dead_weight import Part
from evenfall.stages.design.saying import cure, finding
from evenfall.stages.design.structure import ENGINEER, NEAR, PERCENT, asked, stands
from evenfall.standards import bs_5268, dead_loads, site_duties
from evenfall.standards import building_regulations as council
from evenfall.standards import en_1995_1_1 as en
from evenfall.working import Cited, Working

MM = 1000
WORDS = {
    "before": "as found",
    "during": "under a pack of boards, one person and last night's water",
    "night": "under tonight's cover, its sandbags, rolls, water and one person",
    "after": "finished",
}


def seen(joists: Found) -> Iterator[Finding]:
    """Judge what was seen: rot and sag.

    Parameters
    ----------
    joists : Joists
        What was found [mm].

    Returns
    -------
    iterator of Finding
        Findings [-].
    """
    by = site_duties.ROT
    if joists.ends == "rotten":
        says = "Joist ends are rotten: they are cut back and replaced before anything is laid."
        ask = cure("Replace the ends and enter them as sound.")
        yield finding("joist-rotten", "joists", "stop", says, by, remedy=ask)
    elif joists.ends == "soft":
        says = "Joist ends are soft: open them up when stripped and agree a rate for repairs."
        ask = cure("Agree a rate per metre of joist with the client.")
        yield finding("joist-soft", "joists", "agree", says, by, remedy=ask)
    part = dead_loads.SAG_PART
    limit = Cited(joists.span_m * MM / part, "mm", part.source, part.where, part.basis)
    if joists.sag_mm > limit:
        says = (
            f"The joists sag {joists.sag_mm:.0f} mm; more than {limit:.0f} mm (span over "
            f"{part:.0f}) is a bad sign: they are weaker than reckoned, carry more, or are broken."
        )
        ask = cure("Have an engineer look before the deck is covered.")
        yield asked("joist-sag", "joists", says, limit, joists.sag_mm, ask)


def by_tables(joists: Found, parts: tuple[Part, ...], joist: Joist) -> Iterator[Finding]:
    """Compare the span with the old tables, whose dead load leaves out the joist itself.

    Parameters
    ----------
    joists : Joists
        What was found [m].
    parts : tuple
        Name and permanent load of each part [Pa].
    joist : Joist
        The same joist in metres [m].

    Returns
    -------
    iterator of Finding
        A finding, or nothing [-].
    """
    dead = sum(float(value) for name, value in parts if name != "joists")
    band = next((b for b in dead_loads.SPAN_BANDS_PA if dead <= b), None)
    if band is None:
        return
    longest = span_tables.span(
        float(joist.b), float(joist.h), float(joist.spacing), float(band),
        float(bs_5268.DENSITY_SC3),
    )  # fmt: skip
    limit = Cited(longest, "m", bs_5268.SOURCE, f"dead load up to {band:.0f} Pa", "from memory")
    if joists.span_m > longest:
        says = (
            f"The joists span {joists.span_m:.2f} m; the old tables, for C16, allow "
            f"{longest:.2f} m. Building control may ask why: what counts is the reckoning of "
            f"strength and sag. {ENGINEER}"
        )
        ask = cure("Have an engineer look before you order.")
        yield finding("span-long", "joists", "agree", says, limit, joists.span_m, ask)


def strength(
    before: JoistCase, during: JoistCase, night: JoistCase, after: JoistCase
) -> Iterator[Finding]:
    """Compare each moment with its limits: what fails or is near stops, as it was before or not.

    Parameters
    ----------
    before, during, night, after : JoistCase
        The four moments [-].

    Returns
    -------
    iterator of Finding
        Findings [-].
    """
    full = Cited(1.0, "-", en.SOURCE, "6.1.5 to 6.1.7", "from memory")
    for case in (during, night, after):
        used, what = case.worst
        if used > NEAR:
            was = stands(used, before.worst[0]) if case is after else ""
            says = (
                f"The joists are used to {used * PERCENT:.0f} % in {what} {WORDS[case.name]}{was}."
            )
            code = f"joists-{'weak' if used > full else 'near'}-{case.name}"
            yield asked(code, "joists", says, full, used, _lighten(case.name))
    limit = Cited(after.limit_mm, "mm", en.NATIONAL, "net final deflection", "from memory")
    sag = after.sag.value
    if sag > NEAR * limit:
        was = stands(sag, before.sag.value, limit)
        says = f"The finished roof may sag {sag:.0f} mm; {limit:.0f} mm is the limit{was}."
        yield asked("joists-sag", "joists", says, limit, sag, _lighten("after"))
    elif after.worst[0] <= NEAR:
        used, what = after.worst
        says = (
            f"The joists carry the new roof: used to {used * PERCENT:.0f} % in {what}, "
            f"sag {sag:.0f} mm of {limit:.0f} mm."
        )
        yield finding("joists-carry", "joists", "fine", says, full, used)


def _lighten(name: str) -> Remedy:
    if name == "during":
        return cure(
            "Put boards down over a bearing or over more joists, keep people off the joists under "
            "them, and keep the cover tight, so that no water stands."
        )
    if name == "night":
        return cure(
            "Take rolls and tools down for the night, hold the cover with battens screwed to the "
            "edge instead of sandbags, keep the way out open, and clear it from a ladder."
        )
    return cure("Double the joists or take a lighter build-up; an engineer says which.")


def soft(C: Working) -> Iterator[Finding]:
    """Tell where water that stands would sink the roof further.

    Parameters
    ----------
    C : Working
        Ponding factor [-].

    Returns
    -------
    iterator of Finding
        A finding, or nothing [-].
    """
    limit = en.PONDING_TWO_WAY
    if C.value > NEAR * limit:
        says = f"The roof is soft: water that stands sinks it further ({C.value:.2f})."
        if C.value >= 1:
            says = (
                f"Water that stands would sink the roof without end ({C.value:.2f}; below 1 it "
                "comes to rest)."
            )
        ask = cure("Make a proper fall and stiffen the joists.")
        yield asked("ponding-soft", "joists", says, limit, C.value, ask)


def heavier(change: Working, overlay_mm: float, without: float) -> Iterator[Finding]:
    """Flag a change either way; the sources disagree on lighter, so both are named.

    Parameters
    ----------
    change : Working
        Change of the weight of the covering [%].
    overlay_mm : float
        Overlay board chosen [mm].
    without : float
        Change without the overlay board [%].

    Returns
    -------
    iterator of Finding
        A finding, or nothing [-].
    """
    percent = change.value
    if percent >= council.HEAVIER:
        says = (
            f"What lies on the deck gets {percent:.0f} % heavier; from {council.HEAVIER:.0f} % on "
            f"building control approves it. {ENGINEER}"
        )
        ask = cure("Have an engineer confirm the joists, or take a lighter build-up.")
        if overlay_mm and without < council.HEAVIER:
            ask = cure("Leave the overlay board out.", ("design.overlay_mm", 0))
        yield finding("weight-heavier", "roof", "agree", says, council.HEAVIER, percent, ask)
    elif percent <= -council.HEAVIER_OR_LIGHTER:
        says = (
            f"What lies on the deck gets {-percent:.0f} % lighter: less weight against the wind. "
            "One scheme reports that as well."
        )
        by = council.HEAVIER_OR_LIGHTER
        yield finding("weight-lighter", "roof", "note", says, by, percent)

"""Joists: their strength and sag before, during and after; an aid, not a structural design."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from evenfall.calc.loads import ponding, snow, span_tables
from evenfall.calc.loads.joists import Joist, deflection, stresses
from evenfall.calc.loads.sections import second_moment
from evenfall.calc.loads.timber import final_deflection, strength_class
from evenfall.model.choice import BuildUp
from evenfall.model.designed import JoistCase, Joists
from evenfall.model.finding import Finding, Remedy
from evenfall.model.job import Below, Covering, Deck, Site
from evenfall.model.job import Joists as Found
from evenfall.stages.design import dead_weight
from evenfall.stages.design.dead_weight import Part
from evenfall.stages.design.saying import cure, finding
from evenfall.standards import bs_5268, dead_loads, en_1990, en_1991_1_1, site_duties
from evenfall.standards import building_regulations as council
from evenfall.standards import en_1995_1_1 as en
from evenfall.working import Cited, Known, Working, formula, measured, total

MM = 1000
PERCENT = 100
WORDS = {"before": "as found", "during": "under tonight's cover", "after": "finished"}
ENGINEER = "Ask a structural engineer; this is not a structural design."


@formula("q_d", "Pa", "combinations of a published UK calculation sheet", "published, second-hand")
def combined_load(
    G: float,
    Q: float,
    S: float,
    gamma_G: float = en_1990.GAMMA_G,
    gamma_Q: float = en_1990.GAMMA_Q,
    psi_Q: float = en_1990.PSI_0_ROOF,
    psi_S: float = en_1990.PSI_0_SNOW,
) -> float:
    """Design load with imposed load and snow together, the larger of the two leading.

    Parameters
    ----------
    G, Q, S : float
        Permanent load, imposed load, snow [Pa].
    gamma_G, gamma_Q, psi_Q, psi_S : float
        Partial and combination factors [-].

    Returns
    -------
    float
        Load [Pa].

    Examples
    --------
    >>> combined_load(500.0, 600.0, 380.0)
    1875.0
    """
    return gamma_G * G + max(gamma_Q * (Q + psi_S * S), gamma_Q * (psi_Q * Q + S))


@formula("q", "Pa", "loads for the sag, UK calculation sheet", "published, second-hand")
def sag_load(Q: float, S: float, psi_S: float = en_1990.PSI_0_SNOW) -> float:
    """Variable load that the sag is judged under.

    Parameters
    ----------
    Q, S : float
        Imposed load, snow [Pa].
    psi_S : float
        Share of the snow [-].

    Returns
    -------
    float
        Load [Pa].

    Examples
    --------
    >>> sag_load(600.0, 380.0)
    790.0
    """
    return Q + psi_S * S


@formula("w", "N/m", "geometry")
def line_load(q: float, s: float) -> float:
    """Load on one joist.

    Parameters
    ----------
    q : float
        Load on the roof [Pa].
    s : float
        Spacing of the joists [m].

    Returns
    -------
    float
        Load per length [N/m].

    Examples
    --------
    >>> line_load(1800.0, 0.4)
    720.0
    """
    return q * s


@formula("change", "%", "weight of the covering")
def weight_change(m_new: float, m_old: float) -> float:
    """Change of the weight of what lies on the deck.

    Parameters
    ----------
    m_new, m_old : float
        New build-up, old covering [kg/m2].

    Returns
    -------
    float
        Change; heavier is positive [%].

    Examples
    --------
    >>> weight_change(8.0, 11.0)
    -27.3
    """
    return (m_new - m_old) / m_old * 100


@formula("u", "mm", "change of unit")
def in_mm(u: float) -> float:
    """Sag in millimetres.

    Parameters
    ----------
    u : float
        Sag [m].

    Returns
    -------
    float
        Sag [mm].

    Examples
    --------
    >>> in_mm(0.0071)
    7.1
    """
    return u * 1000


class Loads(NamedTuple):
    """Loads of one moment: permanent parts, imposed (or stacked), snow (or water)."""

    parts: tuple[Part, ...]
    imposed: tuple[str, Known | Working]
    snow: tuple[str, Known | Working]
    duration: en.Duration
    creeps: bool


def work(
    joists: Found,
    deck: Deck,
    covering: Covering,
    below: Below,
    site: Site,
    build: BuildUp,
    chosen_mm: int,
    fall_kind: str = "keep",
    added_mm: tuple[float, ...] = (),
) -> Joists:
    """Work out the joists before, during and after.

    Parameters
    ----------
    joists : Joists
        What was found [-].
    deck, covering, below : Deck, Covering, Below
        What lies on them and hangs below [-].
    site : Site
        Snow zone and altitude [-].
    build : BuildUp
        The new layers [-].
    chosen_mm : int
        Insulation, all layers [mm].
    fall_kind : str
        keep, firrings or tapered [-].
    added_mm : tuple of float
        What firrings or tapers add at the corners [mm].

    Returns
    -------
    Joists
        The three moments, change of weight, ponding and findings [-].
    """
    joist = joist_of(joists)
    old = dead_weight.old_covering(covering)
    new = dead_weight.new_covering(build, chosen_mm, joists, fall_kind, added_mm)
    stay = dead_weight.staying(deck, below, joists, joist.timber)
    altitude = measured(max(site.altitude_m, 0.0), "m", "site.altitude_m")
    lying = snow.roof_snow.show(snow.ground_snow(site.snow_zone, altitude))
    people = ("imposed", en_1991_1_1.Q_K_UK)
    quilt = dead_weight.quilt(below)
    kept = quilt if build.quilt == "keep" else ()
    moments = {
        "before": Loads((*stay, *quilt, ("old felt", dead_weight.weight.show(old))), people,
                        ("snow", lying), "medium", True),
        "during": Loads((*stay, *quilt, *dead_weight.vcl(build)),
                        ("pack of boards", dead_weight.stack(build, chosen_mm)),
                        ("water on the cover", dead_weight.night_water()), "short", False),
        "after": Loads((*stay, *kept, ("new roof", dead_weight.weight.show(new))), people,
                       ("snow", lying), "medium", True),
    }  # fmt: skip
    cases = tuple(
        _case(name, loads, joist, bool(below.ceiling_mm)) for name, loads in moments.items()
    )
    change = weight_change.show(new, old)
    C = ponding.ponding_factor.show(
        joist.spacing, joist.L, joist.timber.E_05, second_moment.show(joist.b, joist.h)
    )
    amplified = ponding.ponding_amplification.show(C) if C.value < 1 else C
    bare = dead_weight.new_covering(
        replace(build, overlay_mm=0.0), chosen_mm, joists, fall_kind, added_mm
    )
    without = weight_change(bare.value, old.value)
    findings = (
        *_found(joists, deck),
        *_table_findings(joists, moments["after"].parts, joist),
        *_strength(*cases),
        *_ponding(C),
        *_weight(change, build.overlay_mm, without),
    )
    return Joists(cases, change, amplified, findings)


def joist_of(found: Found) -> Joist:
    """Take the joist as it was measured.

    Parameters
    ----------
    found : Joists
        The joists of the survey [-].

    Returns
    -------
    Joist
        Section, span, spacing, timber [m].
    """
    b, h, s = (
        measured(getattr(found, key) / MM, "m", f"survey.joists.{key}")
        for key in ("width_mm", "depth_mm", "spacing_mm")
    )
    span = measured(found.span_m, "m", "survey.joists.span_m")
    return Joist(b, h, span, s, strength_class(found.strength_class))


def _case(name: str, loads: Loads, joist: Joist, plastered: bool) -> JoistCase:
    """Work out strength and sag of one moment."""
    G = total("Permanent load", "G", "Pa", loads.parts)
    Q, S = loads.imposed[1], loads.snow[1]
    load = total("Load", "q", "Pa", (*loads.parts, loads.imposed, loads.snow))
    full = {} if loads.creeps else {"psi_Q": dead_loads.IN_FULL, "psi_S": dead_loads.IN_FULL}
    design = combined_load.show(G, Q, S, **full)
    passing = sag_load.show(Q, S, psi_S=full.get("psi_S", en_1990.PSI_0_SNOW))
    k_mod = en.K_MOD[loads.duration]
    strain = stresses(
        joist, line_load.show(design, joist.spacing), k_mod, dead_loads.BEARING, en.K_SYS
    )
    u_G = deflection(joist, line_load.show(G, joist.spacing))
    u_Q = deflection(joist, line_load.show(passing, joist.spacing))
    creep = en.K_DEF[2] if loads.creeps else 0.0  # a few nights: no creep
    limit = en.LIMIT_PLASTERED if plastered else en.LIMIT_BARE
    sag = in_mm.show(final_deflection.show(u_G, u_Q, creep))
    return JoistCase(name, load, strain.bending, sag, joist.L * MM / limit)


def _found(joists: Found, deck: Deck) -> Iterator[Finding]:
    """Judge what was seen: rot, sag, joists too far apart."""
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
            f"{part:.0f}) is a bad sign. {ENGINEER}"
        )
        ask = cure("Have an engineer look before the deck is covered.")
        yield finding("joist-sag", "joists", "agree", says, limit, joists.sag_mm, ask)
    wide = dead_loads.WIDE_SPACING_MM
    if joists.spacing_mm > wide and deck.thickness_mm <= dead_loads.WIDE_DECK_MM:
        says = (
            f"A deck of {deck.thickness_mm:.0f} mm spans {joists.spacing_mm:.0f} mm between "
            f"joists; {wide:.0f} mm is the most."
        )
        yield finding("joists-wide", "joists", "note", says, wide, joists.spacing_mm)


def _table_findings(joists: Found, parts: tuple[Part, ...], joist: Joist) -> Iterator[Finding]:
    """Compare the span with the old tables, whose dead load leaves out the joist itself."""
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
        old = f"the old tables allow {longest:.2f} m"
        says = f"The joists span {joists.span_m:.2f} m; {old}. {ENGINEER}"
        ask = cure("Have an engineer look before you order.")
        yield finding("span-long", "joists", "agree", says, limit, joists.span_m, ask)


def _strength(before: JoistCase, during: JoistCase, after: JoistCase) -> Iterator[Finding]:
    """Compare each moment with its limits; what was too weak and gets no worse is agreed."""
    full = Cited(1.0, "-", en.SOURCE, "6.1.6, bending", "from memory")
    for case in (during, after):
        used = case.bending.value
        if used <= full:
            continue
        worse = case is during or used > before.bending.value
        says = (
            f"The joists are used to {used * PERCENT:.0f} % of their strength {WORDS[case.name]}"
            f"{'' if worse else ', no more than as found'}. {ENGINEER}"
        )
        code, level = f"joists-weak-{case.name}", "stop" if worse else "agree"
        yield finding(code, "joists", level, says, full, used, _lighten(case.name))  # type: ignore[arg-type]
    limit = Cited(after.limit_mm, "mm", en.NATIONAL, "net final deflection", "from memory")
    sag = after.deflection.value
    if sag > limit:
        says = f"The finished roof may sag {sag:.0f} mm; {limit:.0f} mm is the limit. {ENGINEER}"
        yield finding("joists-sag", "joists", "agree", says, limit, sag, _lighten("after"))
    elif after.bending.value <= full:
        says = (
            f"The joists carry the new roof: {after.bending.value * PERCENT:.0f} % of their "
            f"strength, sag {sag:.0f} mm of {limit:.0f} mm."
        )
        yield finding("joists-carry", "joists", "fine", says, full, after.bending.value)


def _lighten(name: str) -> Remedy:
    if name == "during":
        return cure("Spread the boards over the roof and keep the cover tight, so no water stands.")
    return cure("Double the joists or take a lighter build-up; an engineer says which.")


def _ponding(C: Working) -> Iterator[Finding]:
    limit = en.PONDING_TWO_WAY
    if C.value > limit:
        says = f"The roof is so soft that standing water sinks it further. {ENGINEER}"
        ask = cure("Make a proper fall and stiffen the joists.")
        yield finding("ponding-soft", "joists", "agree", says, limit, C.value, ask)


def _weight(change: Working, overlay_mm: float, without: float) -> Iterator[Finding]:
    """Flag a change either way; the sources disagree on lighter, so both are named."""
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

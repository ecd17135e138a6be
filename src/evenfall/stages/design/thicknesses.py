"""Every buyable thickness worked once: heat, moisture, weight, screw. No price, no height."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import floor

from evenfall.calc.loads.fixings import embedment_mm, least_screw_mm
from evenfall.calc.loads.screw_lengths import deepest, reaches
from evenfall.calc.physics.condensation import Verdict, monthly
from evenfall.calc.physics.corrections import corrected, correction_fasteners, correction_gaps
from evenfall.calc.physics.monthly_air import Month
from evenfall.calc.physics.mould import plane_factor
from evenfall.calc.physics.tapered_plan import Cut
from evenfall.calc.physics.transmittance import (
    Layer,
    combined_method,
    combined_resistance,
    total_resistance,
    transmittance,
)
from evenfall.model.choice import BuildUp, Material
from evenfall.model.designed import Thickness, Thicknesses
from evenfall.model.job import Below, Covering, Deck, Joists, Side, Site
from evenfall.model.kinds import Nation
from evenfall.model.rates import Adhesive
from evenfall.model.surveyed import Plan, Taper
from evenfall.stages.design import layering, tapers
from evenfall.stages.design.dead_weight import mass, old_covering
from evenfall.stages.design.holding import Holding, point_limit_mm
from evenfall.stages.design.savings import heat_lost
from evenfall.standards import fixing_practice, iso_6946, roofing_practice
from evenfall.standards.iso_13788 import DAYS
from evenfall.standards.sap_climate import external_temperatures
from evenfall.standards.thermal_limits import ROOF_LIMITS
from evenfall.working import Known, Working, measured

MM = 1000
KEPT = 512  # verdicts: some ten thicknesses for each of the last changes
NATIONS = {
    "england": "England",
    "wales": "Wales",
    "scotland": "Scotland",
    "northern_ireland": "Northern Ireland",
}


def work(
    build: BuildUp,
    deck: Deck,
    below: Below,
    covering: Covering,
    joists: Joists,
    site: Site,
    nation: Nation,
    target_u: float | None,
    plan: Plan,
    sides: tuple[Side, ...],
    adhesive: Adhesive,
    tapered: tuple[Taper, ...] = (),
    added_mm: float = 0.0,
) -> Thicknesses:
    """Work every thickness that is sold, in one layer and in two.

    Parameters
    ----------
    build : BuildUp
        What was chosen from the rates [-].
    deck, below, covering, joists, site : Deck, Below, Covering, Joists, Site
        What was found [-].
    nation : str
        Whose rules apply [-].
    target_u : float, optional
        Target of the owner; none takes that of the nation [W/(m2K)].
    plan : Plan
        The roof: its net area, and the wind on its parts [m].
    sides : tuple of Side
        Parapets [mm].
    adhesive : Adhesive
        Strength of the beads [kPa].
    tapered : tuple of Taper
        Parts of the plan on which boards are cut to falls [mm].
    added_mm : float
        What firrings or tapers add at the most, at a corner [mm].

    Returns
    -------
    Thicknesses
        A row for each thickness, the roof before, and the target [-].
    """
    cut = tapers.cuts(tapered, plan.openings)
    found = _Found(deck, below, covering, joists, plan.net.value, degree_days(site).value, cut)
    months = layering.year(site, below)
    new = build.vcl.thickness_mm + build.overlay_mm + roofing_practice.MEMBRANE_ALLOWED
    beside = added_mm + new - covering.thickness_mm
    held = Holding(site, sides, deck, build, plan, adhesive, below, beside)
    rows = [
        _row(made, mm, found, held, months)
        for made in (build.in_layers(1), build.in_layers(2))
        for mm in made.totals()
    ]
    before = before_u(deck, below, covering, joists, build.materials)
    return Thicknesses(
        tuple(rows),
        before,
        target_of(nation, target_u, deck),
        before_kwh=float(heat_lost(before.value, found.area, found.hdd)),
    )


@dataclass(frozen=True, slots=True)
class _Found:
    """What was found, and how much heat a year takes through it."""

    deck: Deck
    below: Below
    covering: Covering
    joists: Joists
    area: float  # m2
    hdd: float  # K d
    cut: tuple[Cut, ...]  # of tapered boards


def _row(
    build: BuildUp, mm: int, found: _Found, held: Holding, months: tuple[Month, ...]
) -> Thickness:
    layers = layering.finished(build, mm, found.deck, found.below, found.joists)
    glued = build.hold_boards_by == "adhesive"
    screws = 0.0 if glued else held.screws_per_m2(build.boards(mm))
    u = total_u(layers, build, mm, screws, found.cut).value
    thick = max((c.added[-1] for c in found.cut), default=0.0) * MM
    new = mass(build, mm).value + tapers.mean_mm(found.cut) / MM * build.board.density_kg_m3
    return Thickness(
        thickness_mm=mm,
        boards=build.boards(mm),
        u=u,
        moisture=_verdict(layering.vapour(layers), months),
        f_rsi=float(plane_factor(u)),
        mass_kg_m2=new,
        added_kg_m2=new - old_covering(found.covering).value,
        screw_mm=screw_length(build, mm + thick, found.deck),
        screw_most_mm=longest_screw(build, mm, found.deck, found.below, found.joists, thick),
        screws_m2=screws,
        glued_m2=held.glued_m2(build.boards(mm)) * build.glued_faces if glued else 0.0,
        heat_kwh=float(heat_lost(u, found.area, found.hdd)),
    )


@lru_cache(maxsize=KEPT)
def _verdict(layers: tuple[tuple[str, float, float], ...], months: tuple[Month, ...]) -> Verdict:
    """Say what the year does to the water in the layers; most changes of a job leave them alone."""
    return monthly(layers, months).verdict


def total_u(
    layers: tuple[Layer, ...], build: BuildUp, mm: int, n_f: float, cut: tuple[Cut, ...] = ()
) -> Working:
    """Work out the corrected transmittance of the finished roof.

    Parameters
    ----------
    layers : tuple of Layer
        From outside to inside [-].
    build : BuildUp
        Screw and layers [-].
    mm : int
        Insulation [mm].
    n_f : float
        Screws per area, 0 for glued boards [1/m2].
    cut : tuple of Cut
        Shapes of the tapered plan; none where all boards are even [m].

    Returns
    -------
    Working
        Corrected transmittance [W/(m2K)].
    """
    plain = tapers.mean(total_r(layers), cut, build, mm) if cut else plain_u(layers)
    extra = corrections(layers, build, mm, n_f, tapers.thickest_r(cut, build, mm))
    done = corrected(plain.value, *extra)
    if not done.applied:
        return plain
    of = (("U", "W/(m2K)", plain), *((w.symbol, w.unit, w) for w in extra))
    expression = " + ".join(name for name, _, _ in of)
    return Working(
        "Corrected transmittance", "U_c", "W/(m2K)", iso_6946.SOURCE, done.U_c, of, expression,
        iso_6946.CORRECTION_SHARE.basis,
    )  # fmt: skip


def plain_u(layers: tuple[Layer, ...], R_se: float = iso_6946.R_SE) -> Working:
    """Work out the transmittance before gaps and screws, by the combined method.

    Parameters
    ----------
    layers : tuple of Layer
        From outside to inside [-].
    R_se : float
        Surface resistance outside [m2K/W].

    Returns
    -------
    Working
        Transmittance [W/(m2K)].
    """
    return transmittance.show(total_r(layers, R_se))


def total_r(layers: tuple[Layer, ...], R_se: float = iso_6946.R_SE) -> Working:
    """Work out the total resistance by the combined method.

    Parameters
    ----------
    layers : tuple of Layer
        From outside to inside [-].
    R_se : float
        Surface resistance outside [m2K/W].

    Returns
    -------
    Working
        Total resistance, surfaces included [m2K/W].
    """
    both = combined_method(layers, R_se=R_se)
    basis = layering.weakest(a.basis for a in layers)
    return combined_resistance.show(
        *(Working("Combined method", n, "m2K/W", iso_6946.SOURCE, v, own_basis=basis)
          for n, v in (("R_upper", both.R_upper), ("R_lower", both.R_lower)))
    )  # fmt: skip


def corrections(
    layers: tuple[Layer, ...], build: BuildUp, mm: int, n_f: float, R_taper: float = 0.0
) -> list[Working]:
    """Work out the corrections for gaps and screws.

    Over tapered boards each takes its less favourable end: gaps the thick one, screws the thin one.

    Parameters
    ----------
    layers : tuple of Layer
        From outside to inside [-].
    build : BuildUp
        Screw and layers [-].
    mm : int
        Insulation [mm].
    n_f : float
        Screws per area [1/m2].
    R_taper : float
        Resistance of the taper where it is thickest [m2K/W].

    Returns
    -------
    list of Working
        Additions to the transmittance [W/(m2K)].
    """
    R1 = next(a for a in layers if a.name == "insulation").working
    R_T_h = total_resistance(layers)
    level = 0 if len(build.boards(mm)) > 1 else 1
    found = [correction_gaps(level, R1.value + R_taper, R_T_h.value + R_taper)]
    if n_f:
        d0, screw = mm / MM, build.screw
        d1 = max(d0 - screw.tube_mm / MM, d0 / 10) if screw.tube_mm else None
        A_f = layering.circle.show(screw.diameter_mm / MM)
        share = 1.0 if d1 is None else d1 / d0
        found.append(
            correction_fasteners(
                n_f, screw.lambda_w_mk, A_f.value, d0, d1, R1.value * share, R_T_h.value
            )
        )
    return found


def before_u(
    deck: Deck,
    below: Below,
    covering: Covering,
    joists: Joists,
    materials: tuple[Material, ...] = (),
) -> Working:
    """Work out the transmittance of the old roof.

    Parameters
    ----------
    deck, below, covering, joists : Deck, Below, Covering, Joists
        What was found [-].
    materials : tuple of Material
        The firm's own, for layers that name one [-].

    Returns
    -------
    Working
        Transmittance before; a ventilated void counts as outside air [W/(m2K)].
    """
    layers, ventilated = layering.as_found(deck, below, covering, joists, materials)
    R_se = iso_6946.R_SI["upwards"] if ventilated else iso_6946.R_SE
    if not layers:
        return transmittance.show(layering.surfaces.show(R_se))
    return plain_u(layers, R_se)


def degree_days(site: Site) -> Working:
    """Add up the heating degree days of the site.

    Parameters
    ----------
    site : Site
        Region and altitude [-].

    Returns
    -------
    Working
        Degree days below the base temperature [K d].
    """
    base = roofing_practice.DEGREE_DAY_BASE
    theta = external_temperatures(site.climate_region, site.altitude_m)
    value = sum(max(0.0, base - t) * n for t, n in zip(theta, DAYS, strict=True))
    of = (("base", "C", base), *((f"θ{i + 1}", "C", t) for i, t in enumerate(theta)))
    text = "Σ days × max(0, base − θ)"
    return Working("Heating degree days", "HDD", "K d", base.source, value, of, text, base.basis)


def screw_length(build: BuildUp, mm: float, deck: Deck) -> int | None:
    """Pick the shortest screw that reaches far enough into the deck.

    Parameters
    ----------
    build : BuildUp
        Screws that are sold [mm].
    mm : float
        Insulation, where it is thickest [mm].
    deck : Deck
        Its thickness [mm].

    Returns
    -------
    int or None
        Length; none where no screw that is sold reaches [mm].
    """
    need = least_screw_mm(build.under_head_mm(mm), embedment_mm())
    return min((n for n in build.screw.lengths_mm if n >= need), default=None)


def longest_screw(
    build: BuildUp, mm: int, deck: Deck, below: Below, joists: Joists, taper_mm: float = 0.0
) -> int | None:
    """Give the longest screw that may be used: its point must reach no cable and no ceiling.

    Parameters
    ----------
    build : BuildUp
        Layers under the head [mm].
    mm : int
        Insulation [mm].
    deck, below, joists : Deck, Below, Joists
        What lies under the boards, and whether cables do [mm].
    taper_mm : float
        What tapered boards add at their thick end; each thickness has its own length [mm].

    Returns
    -------
    int or None
        Length at the thick end; none where nothing lies below that a point could harm [mm].
    """
    if below.cables_in_void:
        room = float(fixing_practice.BEYOND_DECK_MOST_MM)
    elif below.ceiling_mm:
        room = joists.depth_mm
    else:
        return None
    thin, thick = build.under_head_mm(mm), build.under_head_mm(mm + taper_mm)
    most = point_limit_mm(deck, below.cables_in_void)
    bands = reaches(build.screw.lengths_mm, thin, thick, embedment_mm(), most)
    past = deepest(bands) - (bands[-1].length_mm - thick) if bands else 0.0
    return floor(thick + deck.thickness_mm + room - past)


def target_of(nation: Nation, target_u: float | None, deck: Deck) -> Known:
    """Give the transmittance to reach.

    Parameters
    ----------
    nation : str
        Whose rules apply [-].
    target_u : float, optional
        What the owner wants [W/(m2K)].
    deck : Deck
        A deck renewed whole may count as a new roof [-].

    Returns
    -------
    Known
        Target, with its source [W/(m2K)].
    """
    if target_u is not None:
        return measured(target_u, "W/(m2K)", "design.target_u", "declared")
    limits = ROOF_LIMITS[NATIONS[nation]]
    return limits.new if deck.renew_percent >= layering.PERCENT else limits.improved

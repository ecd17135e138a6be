"""Every buyable thickness worked once: heat, moisture, weight, screw. No price, no height."""

from __future__ import annotations

from evenfall.calc.loads.fixings import embedment_mm, least_fixings, least_screw_mm
from evenfall.calc.physics.condensation import monthly
from evenfall.calc.physics.corrections import corrected, correction_fasteners, correction_gaps
from evenfall.calc.physics.transmittance import (
    Layer,
    combined_method,
    combined_resistance,
    total_resistance,
    transmittance,
)
from evenfall.model.choice import BuildUp
from evenfall.model.designed import Thickness, Thicknesses
from evenfall.model.job import Below, Covering, Deck, Joists, Site
from evenfall.model.kinds import Nation
from evenfall.stages.design import layering
from evenfall.standards import dead_loads, iso_6946, roofing_practice
from evenfall.standards.iso_13788 import DAYS
from evenfall.standards.sap_climate import external_temperatures
from evenfall.standards.thermal_limits import ROOF_LIMITS
from evenfall.working import Known, Working, formula, measured

MM = 1000
NATIONS = {
    "england": "England",
    "wales": "Wales",
    "scotland": "Scotland",
    "northern_ireland": "Northern Ireland",
}


@formula("Q", "kWh", "degree days, steady state")
def heat_lost(U: float, A: float, HDD: float) -> float:
    """Heat lost through the field in a year.

    Parameters
    ----------
    U : float
        Transmittance [W/(m2K)].
    A : float
        Area [m2].
    HDD : float
        Heating degree days [K d].

    Returns
    -------
    float
        Heat [kWh].

    Examples
    --------
    >>> heat_lost(0.16, 25.0, 2200)
    211.2
    """
    return U * A * HDD * 24 / 1000


@formula("m", "kg/m2", "addition of the layers")
def build_up_mass(
    d: float, rho: float, facings: float, vcl: float, sheet: float, d_o: float, rho_o: float
) -> float:
    """Mass of the new build-up.

    Parameters
    ----------
    d : float
        Thickness of the insulation [m].
    rho : float
        Its density [kg/m3].
    facings : float
        Its facings [kg/m2].
    vcl, sheet : float
        The other layers [kg/m2].
    d_o : float
        Thickness of an overlay board, 0 for none [m].
    rho_o : float
        Its density [kg/m3].

    Returns
    -------
    float
        Mass on the deck [kg/m2].

    Examples
    --------
    >>> build_up_mass(0.12, 32, 0.4, 2.5, 1.4, 0.018, 640)
    19.66
    """
    return d * rho + facings + vcl + sheet + d_o * rho_o


def work(
    build: BuildUp,
    deck: Deck,
    below: Below,
    covering: Covering,
    joists: Joists,
    site: Site,
    nation: Nation,
    target_u: float | None,
    area: Working,
) -> Thicknesses:
    """Work every thickness that is sold.

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
    area : Working
        Area through which the heat goes [m2].

    Returns
    -------
    Thicknesses
        A row for each thickness, the roof before, and the target [-].
    """
    hdd = degree_days(site)
    months = layering.year(site, below)
    rows = []
    for mm in sold(build):
        layers = layering.finished(build, mm, deck, below, joists)
        u = total_u(layers, build, mm, least_screws(build, mm)).value
        verdict = monthly(layering.vapour(layers), months).verdict
        heat = float(heat_lost(u, area.value, hdd.value))
        rows.append(
            Thickness(mm, u, verdict, mass(build, mm).value, screw_length(build, mm, deck), heat)
        )
    target = target_of(nation, target_u, deck)
    return Thicknesses(tuple(rows), before_u(deck, below, covering, joists), target)


def sold(build: BuildUp) -> tuple[int, ...]:
    """List the thicknesses that the chosen number of layers can make.

    Parameters
    ----------
    build : BuildUp
        Board and layers [-].

    Returns
    -------
    tuple of int
        Total thicknesses, the thinnest first [mm].
    """
    return tuple(sorted(mm * build.layers for mm, _ in build.board.sizes))


def total_u(layers: tuple[Layer, ...], build: BuildUp, mm: int, n_f: float) -> Working:
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

    Returns
    -------
    Working
        Corrected transmittance [W/(m2K)].
    """
    plain = plain_u(layers)
    extra = corrections(layers, build, mm, n_f)
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
    both = combined_method(layers, R_se=R_se)
    basis = layering.weakest(a.basis for a in layers)
    mean = combined_resistance.show(
        *(Working("Combined method", n, "m2K/W", iso_6946.SOURCE, v, own_basis=basis)
          for n, v in (("R_upper", both.R_upper), ("R_lower", both.R_lower)))
    )  # fmt: skip
    return transmittance.show(mean)


def corrections(layers: tuple[Layer, ...], build: BuildUp, mm: int, n_f: float) -> list[Working]:
    """Work out the corrections for gaps and screws.

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

    Returns
    -------
    list of Working
        Additions to the transmittance [W/(m2K)].
    """
    R1 = next(a for a in layers if a.name == "insulation").working
    R_T_h = total_resistance(layers)
    level = 0 if build.layers == 2 else 1
    found = [correction_gaps(level, R1.value, R_T_h.value)]
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


def before_u(deck: Deck, below: Below, covering: Covering, joists: Joists) -> Working:
    """Work out the transmittance of the old roof.

    Parameters
    ----------
    deck, below, covering, joists : Deck, Below, Covering, Joists
        What was found [-].

    Returns
    -------
    Working
        Transmittance before; a ventilated void counts as outside air [W/(m2K)].
    """
    layers, ventilated = layering.as_found(deck, below, covering, joists)
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


def least_screws(build: BuildUp, mm: int) -> float:
    """Give the least number of screws per area, before wind; none where boards are glued.

    Parameters
    ----------
    build : BuildUp
        Board and fixing [-].
    mm : int
        Insulation [mm].

    Returns
    -------
    float
        Screws per area [1/m2].
    """
    if build.hold_boards_by == "adhesive":
        return 0.0
    board = build.board
    least = least_fixings(board.length_mm, board.width_mm, mm, adhered=True)
    area = board.length_mm / MM * board.width_mm / MM
    return max(float(n) for n in least) / area


def mass(build: BuildUp, mm: int) -> Working:
    """Add up what the new build-up weighs.

    Parameters
    ----------
    build : BuildUp
        The layers [-].
    mm : int
        Insulation [mm].

    Returns
    -------
    Working
        Mass on the deck [kg/m2].
    """
    b = build.board
    said = [
        measured(v, u, f"the rates: {w}", build.basis)
        for v, u, w in (
            (b.density_kg_m3, "kg/m3", b.name),
            (b.facing_kg_m2 * build.layers, "kg/m2", b.name),
            (build.vcl.mass_kg_m2, "kg/m2", build.vcl.name),
            (build.rubber.mass_kg_m2, "kg/m2", build.rubber.name),
        )
    ]
    d_o = measured(build.overlay_mm / MM, "m", "design.overlay_mm", "declared")
    return build_up_mass.show(mm / MM, *said, d_o, dead_loads.OVERLAY_KG_M3)


def screw_length(build: BuildUp, mm: int, deck: Deck) -> int | None:
    """Pick the shortest screw that reaches far enough into the deck.

    Parameters
    ----------
    build : BuildUp
        Screws that are sold [mm].
    mm : int
        Insulation [mm].
    deck : Deck
        Its thickness [mm].

    Returns
    -------
    int or None
        Length; none where no screw that is sold reaches [mm].
    """
    need = least_screw_mm(build.under_head_mm(mm), embedment_mm())
    return min((n for n in build.screw.lengths_mm if n >= need), default=None)


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

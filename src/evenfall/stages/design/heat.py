"""Heat: the field of the finished roof by ISO 6946, layer by layer, and what it saves."""

from __future__ import annotations

from evenfall.calc.physics.tapered_plan import Cut
from evenfall.calc.physics.transmittance import Layer, transmittance
from evenfall.model.choice import BuildUp
from evenfall.model.designed import Heat, LayerOf
from evenfall.model.finding import Change, Finding, Remedy
from evenfall.model.job import Below, Covering, Deck, Joists, Site
from evenfall.model.standing import ZoneHeat, Zones
from evenfall.model.surveyed import OpeningAt, Taper
from evenfall.stages.design import layering, savings, tapers, thicknesses, zoning
from evenfall.standards import roofing_practice
from evenfall.standards.iso_6946 import R_SI
from evenfall.working import Known, Table, Working, formula, measured, weakest

MM = 1000


@formula("share", "-", "BS 5250:2021, one third", "from memory")
def warm_side_share(R_below: float, R_all: float) -> float:
    """Share of the resistance on the warm side of the VCL.

    Parameters
    ----------
    R_below : float
        Resistance below the VCL [m2K/W].
    R_all : float
        Resistance of all layers [m2K/W].

    Returns
    -------
    float
        Share [-].

    Examples
    --------
    >>> warm_side_share(2.5, 8.0)
    0.3125
    """
    return R_below / R_all


def work(
    chosen_mm: int,
    build: BuildUp,
    deck: Deck,
    below: Below,
    covering: Covering,
    joists: Joists,
    site: Site,
    target: Known,
    area: Working,
    before_u: Working,
    screws_per_m2: float,
    heat_price: float,
    zones: Zones,
    tapered: tuple[Taper, ...] = (),
    openings: tuple[OpeningAt, ...] = (),
) -> Heat:
    """Work the transmittance of the roof as chosen, with its working.

    Parameters
    ----------
    chosen_mm : int
        Insulation taken [mm].
    build : BuildUp
        The layers [-].
    deck, below, covering, joists, site : Deck, Below, Covering, Joists, Site
        What was found [-].
    target : Known
        Transmittance to reach [W/(m2K)].
    area : Working
        Net area [m2].
    before_u : Working
        Transmittance of the old roof [W/(m2K)].
    screws_per_m2 : float
        Screws as the wind asks for them, 0 for glued boards [1/m2].
    heat_price : float
        Price of useful heat [pence/kWh].
    zones : Zones
        Parts with thinner insulation; U is weighted by area [m2].
    tapered : tuple of Taper
        Parts of the plan on which boards are cut to falls [mm].
    openings : tuple of OpeningAt
        Where no board lies [m].

    Returns
    -------
    Heat
        Transmittance, layers, heat lost before and after, findings [-].
    """
    layers = layering.finished(build, chosen_mm, deck, below, joists)
    cut = tapers.cuts(tapered, openings)
    thick = tapers.thickest_r(cut, build, chosen_mm)
    shown = []
    for name, mm, m2 in _thicknesses(chosen_mm, zones, area.value):
        made = layering.finished(build, mm, deck, below, joists)
        found = thicknesses.total_u(made, build, mm, screws_per_m2, cut)
        shown.append(ZoneHeat(name, mm, m2, found))
    u = zoning.mean_u((p.name, p.u, p.area_m2) for p in shown) if shown[1:] else shown[0].u
    hdd = thicknesses.degree_days(site)
    lost = savings.heat_lost.show(u, area, hdd)
    lost_before = savings.heat_lost.show(before_u, area, hdd)
    price = measured(heat_price, "pence/kWh", "the rates: heat_price_pence_kwh", build.basis)
    return Heat(
        layers=tuple(_layer(a) for a in layers),
        u=u,
        parts=(
            _table(layers),
            *_tapered(layers, cut, build, chosen_mm),
            *thicknesses.corrections(layers, build, chosen_mm, screws_per_m2, thick),
            hdd,
        ),
        lost=lost,
        lost_before=lost_before,
        saved_pence=savings.money_saved.show(lost_before, lost, price),
        zones=tuple(shown) if shown[1:] else (),
        saved_co2=savings.carbon_saved.show(lost_before, lost),
        findings=(
            *_verdict(u, target),
            *_hybrid(layers, build, below),
            *_vents(build, below, layers, u),
        ),
    )


def _tapered(
    layers: tuple[Layer, ...], cut: tuple[Cut, ...], build: BuildUp, mm: int
) -> tuple[Table, ...]:
    if not cut:
        return ()
    return (tapers.table(thicknesses.total_r(layers), cut, build, mm),)


def _thicknesses(chosen_mm: int, zones: Zones, net_m2: float) -> tuple[tuple[str, int, float], ...]:
    """List the field and every thinner zone: name, insulation in mm, area in m2."""
    thin = zoning.thinner(zones.zones, chosen_mm)
    rest = net_m2 - sum(z.area_m2 for z in thin)
    return (("field", chosen_mm, rest), *((z.name, z.thickness_mm, z.area_m2) for z in thin))


def _layer(layer: Layer) -> LayerOf:
    return LayerOf(layer.name, layer.thickness * MM, layer.R, layer.s_d, layer.source, layer.basis)


def _table(layers: tuple[Layer, ...]) -> Table:
    rows = tuple(
        (a.name, a.thickness * MM, a.conductivity or "-", a.R, a.s_d, a.source, a.basis)
        for a in layers
    )
    columns = (
        ("layer", "-"), ("thickness", "mm"), ("λ", "W/(m K)"), ("R", "m2K/W"), ("s_d", "m"),
        ("source", "-"), ("basis", "-"),
    )  # fmt: skip
    basis = weakest(a.basis for a in layers)
    return Table("Layers from outside to inside", columns, rows, "ISO 6946, ISO 10456", basis)


def _verdict(u: Working, target: Known) -> tuple[Finding, ...]:
    if u.value > target:
        return ()  # the rise stick says it, with what would reach it
    says = f"The roof reaches {u.value:.2f} W/m²K; {target:.2f} is asked for."
    source, basis = target.source, target.basis
    return (
        Finding("heat-good", "roof", "fine", says, source, basis, u.value, target.value, "W/(m2K)"),
    )


def _hybrid(layers: tuple[Layer, ...], build: BuildUp, below: Below) -> tuple[Finding, ...]:
    """Old quilt kept: at most a third of the resistance may lie under the VCL."""
    out = (Change("design.quilt", "remove"),)
    if build.quilt != "keep" or not below.quilt_mm:
        return ()
    if below.quilt_wet:
        says = "The quilt is wet and stays in: it rots the joists. Take it out; it cannot be dried."
        by, cure = roofing_practice.QUILT_WET, Remedy("Take the quilt out.", out)
        return (Finding("quilt-wet", "roof", "stop", says, by.source, by.basis, remedy=cure),)
    cut = next(i for i, a in enumerate(layers) if a.name == "VCL")
    share = warm_side_share.show(sum(a.R for a in layers[cut:]), sum(a.R for a in layers))
    limit = roofing_practice.HYBRID_SHARE
    if share.value <= limit:
        return ()
    says = (
        f"{share.value:.0%} of the insulation lies under the VCL; about a third is the most. "
        "Take the quilt out, or put more on top."
    )
    return (
        Finding(
            "quilt-too-much", "roof", "agree", says, limit.source, limit.basis, share.value,
            limit.value, "-", Remedy("Take the quilt out.", out),
        ),
    )  # fmt: skip


def vented_u(layers: tuple[Layer, ...]) -> float:
    """Give the transmittance with a void full of moving outside air: nothing above it counts.

    Parameters
    ----------
    layers : tuple of Layer
        From outside to inside [-].

    Returns
    -------
    float
        Transmittance [W/(m2K)].
    """
    below = [a.name for a in layers].index("deck") + 1
    under, R_se = tuple(a for a in layers[below:] if a.name != "void"), R_SI["upwards"]
    if not under:
        return transmittance(layering.surfaces(R_se))
    return thicknesses.plain_u(under, R_se).value


def _vents(
    build: BuildUp, below: Below, layers: tuple[Layer, ...], u: Working
) -> tuple[Finding, ...]:
    """Old vents left open: the classic failure of a roof turned warm."""
    limit = roofing_practice.VENTS_LEFT
    if build.vents == "close" or not below.old_vents:
        return ()
    some = build.vents == "close_some"
    how = f"Some of the {below.old_vents} old vents" if some else f"{below.old_vents} old vents"
    says = (
        f"{how} stay open: outside air blows under the new insulation and it is worth nothing. "
        f"With that air counted the roof lets through up to {vented_u(layers):.1f} W/m²K, not "
        f"{u.value:.2f}. "
        + (
            "Half closed is the classic failure: the deck is cold, and too little air passes to "
            "carry its water off. "
            if some
            else ""
        )
        + "Close them airtight."
    )
    return (
        Finding(
            "vents-open", "roof", "stop", says, limit.source, limit.basis, below.old_vents,
            limit.value, "each",
            Remedy("Close every vent at the edge.", (Change("design.vents", "close"),)),
        ),
    )  # fmt: skip

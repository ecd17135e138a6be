"""The build-up as heat and vapour see it, from outside to inside; shared by several rooms."""

from __future__ import annotations

from dataclasses import replace
from math import pi

from evenfall.calc.physics.monthly_air import Month, year_of_class
from evenfall.calc.physics.transmittance import Bridge, Layer, air_layer
from evenfall.model.choice import BuildUp, Material, pick
from evenfall.model.job import Below, Covering, Deck, Joists, Site
from evenfall.standards import iso_13788, roofing_practice
from evenfall.standards.iso_6946 import AIR_LAYERS, R_SI
from evenfall.standards.iso_10456 import INSULATIONS, MATERIALS, SHEETS
from evenfall.standards.iso_12572 import S_D_IMPERMEABLE
from evenfall.standards.sap_climate import external_temperatures
from evenfall.working import Basis, formula, weakest

__all__ = [
    "MATERIALS", "Basis", "as_found", "circle", "deck_layer", "finished", "surfaces", "vapour",
    "weakest", "year",
]  # fmt: skip

CEILING = "gypsum plasterboard 900"
MM = 1000
PERCENT = 100
DECK_MATERIAL = {
    "osb": "OSB",
    "plywood": "plywood 500",
    "planks": "timber 500",
    "chipboard": "particleboard 600",
}


@formula("A", "m2", "geometry")
def circle(d: float) -> float:
    """Cross-section of a round bar.

    Parameters
    ----------
    d : float
        Diameter [m].

    Returns
    -------
    float
        Area [m2].

    Examples
    --------
    >>> circle(0.0048)
    1.81e-05
    """
    return pi * d**2 / 4


@formula("R_T", "m2K/W", "ISO 6946")
def surfaces(R_se: float, R_si: float = R_SI["upwards"]) -> float:
    """Total resistance where nothing counts but the surfaces.

    Parameters
    ----------
    R_se, R_si : float
        Surface resistances [m2K/W].

    Returns
    -------
    float
        Their sum [m2K/W].

    Examples
    --------
    >>> surfaces(0.1, 0.1)
    0.2
    """
    return R_se + R_si


def finished(
    build: BuildUp, thickness_mm: int, deck: Deck, below: Below, joists: Joists
) -> tuple[Layer, ...]:
    """List the layers of the finished roof.

    Parameters
    ----------
    build : BuildUp
        What was chosen from the rates [-].
    thickness_mm : int
        Insulation, all layers together [mm].
    deck, below, joists : Deck, Below, Joists
        What stays: deck, void with its joists, and ceiling [-].

    Returns
    -------
    tuple of Layer
        From outside to inside [m].
    """
    rubber, vcl = build.rubber, build.vcl
    return (
        _sold("sheet", rubber.thickness_mm, rubber.lambda_w_mk, rubber.sd_m, build),
        *_overlay(build),
        _insulation(build, thickness_mm),
        _sold(
            "VCL",
            vcl.thickness_mm,
            MATERIALS["bitumen felt or sheet"].conductivity,
            vcl.sd_m,
            build,
        ),
        deck_layer(deck, build.materials),
        *_under(below, joists, build.materials, keep_quilt=build.quilt == "keep"),
    )


def as_found(
    deck: Deck,
    below: Below,
    covering: Covering,
    joists: Joists,
    materials: tuple[Material, ...] = (),
) -> tuple[tuple[Layer, ...], bool]:
    """List the layers of the old roof; above a ventilated void nothing counts.

    Parameters
    ----------
    deck, below, covering, joists : Deck, Below, Covering, Joists
        What was found [-].
    materials : tuple of Material
        The firm's own, for layers that name one [-].

    Returns
    -------
    tuple
        Layers from outside to inside, and whether the void is ventilated [-].
    """
    under = _under(below, joists, materials, keep_quilt=True)
    if below.old_vents:
        return tuple(a for a in under if a.name != "void"), True
    felt = _known("old felt", covering.thickness_mm, "bitumen felt or sheet")
    return (felt, deck_layer(deck, materials), *under), False


def deck_layer(deck: Deck, materials: tuple[Material, ...] = ()) -> Layer:
    """Make the layer of the deck.

    Parameters
    ----------
    deck : Deck
        Its kind and thickness [mm].
    materials : tuple of Material
        The firm's own, where the deck names one [-].

    Returns
    -------
    Layer
        With the conductivity of its kind [m].
    """
    if deck.material:
        return _own("deck", deck.thickness_mm, deck.material, materials, "survey.deck.material")
    if deck.kind in DECK_MATERIAL:
        return _known("deck", deck.thickness_mm, DECK_MATERIAL[deck.kind])
    straw = deck.kind == "strawboard"
    cited = roofing_practice.STRAWBOARD_LAMBDA if straw else roofing_practice.WOODWOOL_LAMBDA
    mu = roofing_practice.STRAWBOARD_MU if straw else INSULATIONS["wood-wool slab"].mu_dry
    d = deck.thickness_mm / MM
    return Layer("deck", d, cited, s_d=mu * d, source=cited.source, basis=cited.basis)


def year(site: Site, below: Below, colder: float = 0.0) -> tuple[Month, ...]:
    """Put together the air of the twelve months.

    Parameters
    ----------
    site, below : Site, Below
        Region, outside humidity; inside temperature and humidity class [-].
    colder : float
        Offset of the outside temperature, downwards [K].

    Returns
    -------
    tuple of Month
        January to December [-].
    """
    theta = external_temperatures(site.climate_region, site.altitude_m)
    excess = iso_13788.HUMIDITY_CLASSES[below.humidity_class].excess
    humidity = [h / PERCENT for h in site.outside_humidity_percent]
    months = year_of_class(theta, humidity, below.indoor_c, excess)
    return tuple(m._replace(theta_e=m.theta_e - colder) for m in months) if colder else months


def vapour(layers: tuple[Layer, ...]) -> tuple[tuple[str, float, float], ...]:
    """Give the layers as the monthly method sees them.

    Parameters
    ----------
    layers : tuple of Layer
        From outside to inside [m].

    Returns
    -------
    tuple
        Name, resistance [m2K/W] and s_d of each layer [m].
    """
    return tuple((a.name, a.R, a.s_d) for a in layers)


def _insulation(build: BuildUp, thickness_mm: int) -> Layer:
    board, d = build.board, thickness_mm / MM
    boards = build.boards(thickness_mm)
    s_d = board.mu * d + 2 * len(boards) * board.facing_sd_m
    alike = len(set(boards)) == 1
    lambda_ = board.conductivity(boards[0]) if alike else d / board.resistance(boards)
    return Layer("insulation", d, lambda_, s_d=s_d, source=board.says, basis=build.basis)


def _sold(name: str, mm: float, lambda_: float, s_d: float, build: BuildUp) -> Layer:
    tight = min(s_d, float(S_D_IMPERMEABLE))
    return Layer(name, mm / MM, lambda_, s_d=tight, source="the rates", basis=build.basis)


def _own(name: str, mm: float, wanted: str, materials: tuple[Material, ...], where: str) -> Layer:
    """Make a layer of one of the firm's own materials; an unknown name is refused."""
    own, d = pick(materials, wanted, where), mm / MM
    source = f"the rates, {own.says}: {own.source}"
    return Layer(name, d, own.lambda_w_mk, s_d=own.mu * d, source=source, basis=own.basis)


def _overlay(build: BuildUp) -> tuple[Layer, ...]:
    if not build.overlay_mm:
        return ()
    if build.overlay_material:
        where = "design.overlay_material"
        wanted = build.overlay_material
        return (_own("overlay board", build.overlay_mm, wanted, build.materials, where),)
    return (_known("overlay board", build.overlay_mm, "plywood 500"),)


def _known(name: str, mm: float, material: str) -> Layer:
    known, d = MATERIALS[material], mm / MM
    lambda_ = known.conductivity
    source = f"ISO 10456, {material}"
    return Layer(name, d, lambda_, s_d=known.mu_dry * d, source=source, basis=lambda_.basis)


def _under(
    below: Below, joists: Joists, materials: tuple[Material, ...], *, keep_quilt: bool
) -> tuple[Layer, ...]:
    """Void, quilt and ceiling; a quilt that is taken out leaves its space to the air.

    Without a ceiling the air between the joists is that of the room, and no layer.
    """
    timber = MATERIALS["timber 500"].conductivity
    bridge = Bridge("joists", joists.width_mm / joists.spacing_mm, conductivity=timber)
    quilt_mm = min(below.quilt_mm, joists.depth_mm) if keep_quilt else 0.0
    void_mm = joists.depth_mm - quilt_mm if below.ceiling_mm else 0.0
    return (
        *_void(void_mm, bridge),
        *_quilt(quilt_mm, bridge, below, materials),
        *(_foil() if below.ceiling_vcl else ()),
        *_ceiling(below, materials),
    )


def _ceiling(below: Below, materials: tuple[Material, ...]) -> tuple[Layer, ...]:
    if not below.ceiling_mm:
        return ()
    if below.ceiling_material:
        where = "survey.below.ceiling_material"
        return (_own("ceiling", below.ceiling_mm, below.ceiling_material, materials, where),)
    return (_known("ceiling", below.ceiling_mm, CEILING),)


def _void(mm: float, bridge: Bridge) -> tuple[Layer, ...]:
    least, most = AIR_LAYERS[0].thickness, AIR_LAYERS[-1].thickness
    if mm / MM < least:
        return ()
    return (replace(air_layer("void", min(mm / MM, most)), bridge=bridge),)


def _quilt(
    mm: float, bridge: Bridge, below: Below, materials: tuple[Material, ...]
) -> tuple[Layer, ...]:
    if not mm:
        return ()
    if below.quilt_material:
        own = _own("quilt", mm, below.quilt_material, materials, "survey.below.quilt_material")
        return (replace(own, bridge=bridge),)
    lambda_, mu = roofing_practice.QUILT_LAMBDA, INSULATIONS["mineral wool"].mu_dry
    d, source = mm / MM, lambda_.source
    return (Layer("quilt", d, lambda_, None, bridge, mu * d, source, lambda_.basis),)


def _foil() -> tuple[Layer, ...]:
    s_d = SHEETS["polyethylene 0.15 mm"]
    return (Layer("ceiling VCL", resistance=0.0, s_d=s_d, source=s_d.source, basis=s_d.basis),)

"""ISO 10456:2007: tabulated design values of materials. The whole table is remembered, not read.

Product data override it. Insulation has no conductivity here: it is the declared value of the
product, and a board with foil facings takes the s_d of its facings.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from evenfall.working import Cited

SOURCE = "ISO 10456:2007"


def _cited(value: float, unit: str, where: str) -> Cited:
    return Cited(value, unit, SOURCE, where, "from memory")


@dataclass(frozen=True, slots=True)
class Material:
    """Design values of one material.

    Parameters
    ----------
    name : str
        Its name, with the density where there are several [-].
    density : Cited
        Dry density [kg/m3].
    conductivity : Cited
        Thermal conductivity [W/(m K)].
    heat_capacity : Cited
        Specific heat capacity [J/(kg K)].
    mu_dry, mu_wet : Cited
        Vapour resistance factor by dry and wet cup, infinite for metals [-].
    """

    name: str
    density: Cited
    conductivity: Cited
    heat_capacity: Cited
    mu_dry: Cited
    mu_wet: Cited


@dataclass(frozen=True, slots=True)
class Insulation:
    """Design values of an insulation material; its conductivity is declared by the maker.

    Parameters
    ----------
    name : str
        Its name [-].
    heat_capacity : Cited
        Specific heat capacity [J/(kg K)].
    mu_dry, mu_wet : Cited
        Vapour resistance factor by dry and wet cup, infinite for cellular glass [-].
    """

    name: str
    heat_capacity: Cited
    mu_dry: Cited
    mu_wet: Cited


def _material(name: str, rho: float, lambda_: float, c: float, dry: float, wet: float) -> Material:
    return Material(
        name,
        _cited(rho, "kg/m3", name),
        _cited(lambda_, "W/(m K)", name),
        _cited(c, "J/(kg K)", name),
        _cited(dry, "-", f"{name}, dry cup"),
        _cited(wet, "-", f"{name}, wet cup"),
    )


def _insulation(name: str, c: float, dry: float, wet: float) -> Insulation:
    return Insulation(
        name,
        _cited(c, "J/(kg K)", name),
        _cited(dry, "-", f"{name}, dry cup"),
        _cited(wet, "-", f"{name}, wet cup"),
    )


MATERIALS: dict[str, Material] = {
    material.name: material
    for material in (
        _material("timber 450", 450, 0.12, 1600, 50, 20),
        _material("timber 500", 500, 0.13, 1600, 50, 20),
        _material("timber 700", 700, 0.18, 1600, 200, 50),
        _material("plywood 300", 300, 0.09, 1600, 150, 50),
        _material("plywood 500", 500, 0.13, 1600, 200, 70),
        _material("plywood 700", 700, 0.17, 1600, 220, 90),
        _material("plywood 1000", 1000, 0.24, 1600, 250, 110),
        _material("OSB", 650, 0.13, 1700, 50, 30),
        _material("particleboard 300", 300, 0.10, 1700, 50, 10),
        _material("particleboard 600", 600, 0.14, 1700, 50, 15),
        _material("particleboard 900", 900, 0.18, 1700, 50, 20),
        _material("cement-bonded board", 1200, 0.23, 1500, 50, 30),
        _material("fibreboard/MDF 250", 250, 0.07, 1700, 5, 3),
        _material("fibreboard/MDF 400", 400, 0.10, 1700, 10, 5),
        _material("fibreboard/MDF 600", 600, 0.14, 1700, 20, 12),
        _material("fibreboard/MDF 800", 800, 0.18, 1700, 30, 20),
        _material("gypsum plasterboard 700", 700, 0.21, 1000, 10, 4),
        _material("gypsum plasterboard 900", 900, 0.25, 1000, 10, 4),
        _material("gypsum plaster", 1000, 0.40, 1000, 10, 6),
        _material("gypsum and sand plaster", 1600, 0.80, 1000, 10, 6),
        _material("cement and sand render", 1800, 1.00, 1000, 10, 6),
        _material("asphalt", 2100, 0.70, 1000, 50000, 50000),
        _material("bitumen pure", 1050, 0.17, 1000, 50000, 50000),
        _material("bitumen felt or sheet", 1100, 0.23, 1000, 50000, 50000),
        _material("EPDM", 1150, 0.25, 1000, 6000, 6000),
        _material("butyl (isobutene)", 1200, 0.24, 1400, 200000, 200000),
        _material("polyisobutylene", 930, 0.20, 1100, 10000, 10000),
        _material("neoprene", 1240, 0.23, 2140, 10000, 10000),
        _material("natural rubber", 910, 0.13, 1100, 10000, 10000),
        _material("foam rubber", 70, 0.06, 1500, 7000, 7000),
        _material("PVC", 1390, 0.17, 900, 50000, 50000),
        _material("HDPE", 980, 0.50, 1800, 100000, 100000),
        _material("LDPE", 920, 0.33, 2200, 100000, 100000),
        _material("polypropylene", 910, 0.22, 1800, 10000, 10000),
        _material("polycarbonate", 1200, 0.20, 1200, 5000, 5000),
        _material("PMMA", 1180, 0.18, 1500, 50000, 50000),
        _material("polyamide", 1150, 0.25, 1600, 50000, 50000),
        _material("aluminium alloy", 2800, 160, 880, inf, inf),
        _material("steel", 7800, 50, 450, inf, inf),
        _material("stainless steel austenitic", 7900, 17, 500, inf, inf),
        _material("lead", 11300, 35, 130, inf, inf),
        _material("zinc", 7200, 110, 380, inf, inf),
        _material("copper", 8900, 380, 380, inf, inf),
        _material("concrete 1800", 1800, 1.15, 1000, 100, 60),
        _material("concrete 2000", 2000, 1.35, 1000, 100, 60),
        _material("concrete 2200", 2200, 1.65, 1000, 120, 70),
        _material("concrete 2400", 2400, 2.00, 1000, 130, 80),
        _material("concrete reinforced 1 %", 2300, 2.3, 1000, 130, 80),
    )
}

INSULATIONS: dict[str, Insulation] = {
    insulation.name: insulation
    for insulation in (
        _insulation("EPS", 1450, 60, 60),
        _insulation("XPS", 1450, 150, 150),
        _insulation("rigid PUR/PIR", 1400, 60, 60),
        _insulation("mineral wool", 1030, 1, 1),
        _insulation("phenolic foam", 1400, 50, 50),
        _insulation("cellular glass", 1000, inf, inf),
        _insulation("perlite board", 900, 5, 5),
        _insulation("cork", 1560, 10, 5),
        _insulation("wood-wool slab", 1470, 5, 3),
        _insulation("wood fibre", 1400, 10, 5),
        _insulation("cellulose loose", 1600, 2, 2),
        _insulation("sprayed PUR", 1400, 60, 60),
    )
}

SHEETS: dict[str, Cited] = {
    name: _cited(s_d, "m", f"s_d of thin sheets, {name}")
    for name, s_d in (
        ("polyethylene 0.15 mm", 50),
        ("polyethylene 0.25 mm", 100),
        ("polyester film 0.2 mm", 50),
        ("PVC foil", 30),
        ("aluminium foil 0.05 mm", 1500),
        ("polyethylene stapled 0.15 mm", 8),
        ("bitumen paper 0.1 mm", 2),
        ("aluminium paper 0.4 mm", 10),
        ("breather membrane", 0.2),
        ("emulsion paint", 0.1),
        ("gloss paint", 3),
        ("vinyl wallpaper", 2),
    )
}
"""Equivalent air-layer thickness s_d of thin sheets."""

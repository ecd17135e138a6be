"""EN 15026:2007: heat and moisture over time; its benchmark material, and what goes with the model.

Conditions, times and the band of the benchmark were read in public descriptions; the functions of
its material are remembered.
"""

from __future__ import annotations

from evenfall.working import Basis, Cited

SOURCE = "EN 15026:2007"
_MEMORY: Basis = "from memory"


def _annex(value: float, unit: str, where: str, basis: Basis = _MEMORY) -> Cited:
    return Cited(value, unit, f"{SOURCE} Annex A", where, basis)


# the model
DIFFUSION = _annex(26.1e-6, "m2/s", "diffusion of vapour in air")
WATER_DENSITY = Cited(1000.0, "kg/m3", "physics of water", "density", "common practice")
WATER_HEAT = Cited(4190.0, "J/(kg K)", "physics of water", "specific heat", "common practice")
LATENT_HEAT = Cited(2.5e6, "J/kg", "physics of water", "heat of evaporation at 0 C", _MEMORY)
THETA_REFERENCE = Cited(20.0, "C", SOURCE, "sorption is measured near 20 C", _MEMORY)
SURFACE_TRANSFER = Cited(2e-8, "s/m", "HAMSTAD benchmark 1, 2002", "inner surface", _MEMORY)
DAMP = Cited(0.8, "-", "H. M. Künzel, 1995", "humidity of the second point of storage", _MEMORY)
CUP_DRY = Cited(0.25, "-", "ISO 12572", "mean humidity of the dry cup, 0 to 50 %", _MEMORY)
CUP_WET = Cited(0.715, "-", "ISO 12572", "mean humidity of the wet cup, 50 to 93 %", _MEMORY)

# Annex A: the semi-infinite body
START_C = _annex(20.0, "C", "body at the start", "published")
START_PHI = _annex(0.50, "-", "body at the start", "published")
AIR_C = _annex(30.0, "C", "surface from then on", "published")
AIR_PHI = _annex(0.95, "-", "surface from then on", "published")
BAND = _annex(0.025, "-", "band in which a program passes", "published")
DAYS = tuple(_annex(d, "d", "profiles are told after", "published") for d in (7, 30, 365))
HEAT_CAPACITY = _annex(1.824e6, "J/(m3K)", "dry", "published")
CONDUCTIVITY = _annex(1.5, "W/(m K)", "dry", "published")
CONDUCTIVITY_SLOPE = _annex(15.8e-3, "W m2/(K kg)", "of each kg/m3 of water", "published")
FREE_SATURATION = _annex(146.0, "kg/m3", "free saturation", "published")
STORAGE_SCALE = _annex(8e-8, "1/Pa", "storage, factor of the suction")
STORAGE_POWER = _annex(1.6, "-", "storage, power of the suction")
STORAGE_ROOT = _annex(0.375, "-", "storage, outer power")
MU = _annex(200.0, "-", "vapour resistance factor, dry")
EASE_SQUARE = _annex(0.503, "-", "vapour permeability, of the square")
EASE_CONSTANT = _annex(0.497, "-", "vapour permeability, constant")
LIQUID = tuple(
    _annex(value, "-", f"liquid conductivity, coefficient {i} of w - 73")
    for i, value in enumerate((-39.2619, 0.0704, -1.7420e-4, -2.7953e-6, -1.1566e-7, 2.5969e-9))
)
LIQUID_MIDDLE = _annex(73.0, "kg/m3", "liquid conductivity, middle of its polynomial")

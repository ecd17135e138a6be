"""ISO 13788:2012: surface humidity, mould and interstitial condensation, month by month.

Remembered, not read. The constants of the saturation pressure were proved against ASHRAE.
"""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.working import Cited

SOURCE = "ISO 13788:2012"


def _cited(value: float, unit: str, where: str) -> Cited:
    return Cited(value, unit, SOURCE, where, "from memory")


_E = "Annex E, saturation vapour pressure"
P_SAT_0 = _cited(610.5, "Pa", f"{_E} at 0 C")
WATER_FACTOR = _cited(17.269, "-", f"{_E} over water")
WATER_OFFSET = _cited(237.3, "K", f"{_E} over water")
ICE_FACTOR = _cited(21.875, "-", f"{_E} over ice")
ICE_OFFSET = _cited(265.5, "K", f"{_E} over ice")
"""265.5 is right; the 267.5 that is sometimes seen lies 1 % off ASHRAE at -20 C."""
GAS_CONSTANT = _cited(461.5, "J/(kg K)", "gas constant of water vapour")
KELVIN = Cited(273.15, "K", "SI Brochure", "0 C in kelvin", "published")

R_SE = _cited(0.04, "m2K/W", "interstitial condensation, outside")
R_SI_UPWARDS = _cited(0.10, "m2K/W", "interstitial condensation, inside, upwards")
R_SI_MOULD = _cited(0.25, "m2K/W", "surface condensation and mould, opaque elements")
R_SI_WINDOW = _cited(0.13, "m2K/W", "surface condensation, windows and frames")
DELTA_0 = _cited(2e-10, "kg/(m s Pa)", "vapour permeability of still air")
AIR_LAYER_S_D = _cited(0.01, "m", "unventilated air layer")
SLICE_RESISTANCE = _cited(0.25, "m2K/W", "largest resistance of a slice of a layer")
RUN_OFF = _cited(0.2, "kg/m2", "condensate that may run off a non-absorbent surface")
MOULD_HUMIDITY = _cited(0.8, "-", "highest relative humidity at the surface")
WETTED = _cited(1.0, "kg/m2", "clause 7, water put into the middle of a layer")
WETTED_YEARS = _cited(10.0, "a", "clause 7, how long its drying is waited for")
EXCESS_FULL_AT = _cited(0.0, "C", "humidity classes, outside air with the full excess")
EXCESS_NONE_AT = _cited(20.0, "C", "humidity classes, outside air without excess")


@dataclass(frozen=True, slots=True)
class HumidityClass:
    """One of the five internal humidity classes.

    Parameters
    ----------
    use : str
        What the room below is used for [-].
    excess : Cited
        Upper limit of the vapour pressure above that outside, outside at 0 C [Pa].
    excess_density : Cited
        The same as mass of vapour [kg/m3].
    """

    use: str
    excess: Cited
    excess_density: Cited


def _class(number: int, use: str, density: float, pressure: float) -> HumidityClass:
    where = f"internal humidity class {number}, upper limit"
    return HumidityClass(use, _cited(pressure, "Pa", where), _cited(density, "kg/m3", where))


HUMIDITY_CLASSES: dict[int, HumidityClass] = {
    1: _class(1, "storage", 0.002, 270),
    2: _class(2, "offices, dwellings with normal occupancy and ventilation", 0.004, 540),
    3: _class(3, "dwellings with unknown or high occupancy", 0.006, 810),
    4: _class(4, "sports halls, kitchens, canteens", 0.008, 1080),
    5: _class(5, "laundry, brewery, pool", 0.010, 1360),
}

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)

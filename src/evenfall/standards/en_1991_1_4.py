"""EN 1991-1-4:2005+A1:2010 with the UK National Annex: wind.

The formula chain was read in a worked example, Table 7.2 and the UK direction and altitude factors
in public copies. The UK charts NA.7 and NA.8, the UK map NA.1 and the UK Table NA.5 were not read:
the tool asks for their values, or takes the EN formula and the EN table and says so.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from evenfall.working import Basis, Cited

SOURCE = "EN 1991-1-4:2005+A1:2010"
NATIONAL = "UK National Annex to BS EN 1991-1-4"

_SECOND: Basis = "published, second-hand"
_MEMORY: Basis = "from memory"

RHO = Cited(1.25, "kg/m3", SOURCE, "4.5, recommended air density", "published")
RHO_UK = Cited(1.226, "kg/m3", NATIONAL, "NA.2.18, air density", _SECOND)

K_I = Cited(1.0, "-", SOURCE, "4.4, turbulence factor", "published")
C_O = Cited(1.0, "-", SOURCE, "4.3.3, orography factor on a flat site", "published")
C_SEASON = Cited(1.0, "-", NATIONAL, "season factor, permanent structures", _SECOND)
C_DIR_WORST = Cited(1.0, "-", NATIONAL, "Table NA.1, worst direction", "published")
C_PROB_NEUTRAL = Cited(1.0, "-", SOURCE, "4.2, annual probability 0.02", _SECOND)

K_R_FACTOR = Cited(0.19, "-", SOURCE, "(4.5), terrain factor", "published")
K_R_EXPONENT = Cited(0.07, "-", SOURCE, "(4.5), exponent of the terrain factor", "published")
Z_0_II = Cited(0.05, "m", SOURCE, "Table 4.1, roughness length of category II", "published")
PEAK_FACTOR = Cited(7.0, "-", SOURCE, "(4.8), twice the peak factor 3.5", "published")

C_PROB_K = Cited(0.2, "-", SOURCE, "(4.2), shape parameter K", _SECOND)
C_PROB_N = Cited(0.5, "-", SOURCE, "(4.2), exponent n", _SECOND)
P_REFERENCE = Cited(0.02, "1/a", SOURCE, "(4.2), annual probability of the map", _SECOND)

C_ALT_SLOPE = Cited(0.001, "1/m", NATIONAL, "(NA.2a), altitude factor", "published")
C_ALT_EXPONENT = Cited(0.2, "-", NATIONAL, "(NA.2b), exponent of the altitude factor", "published")
C_ALT_HEIGHT = Cited(
    10.0, "m", NATIONAL, "(NA.2b), height from which the factor falls", "published"
)

Category = Literal["0", "I", "II", "III", "IV"]


@dataclass(frozen=True, slots=True)
class TerrainRow:
    """One terrain category of Table 4.1.

    Parameters
    ----------
    category : str
        Roman number of the category [-].
    z_0 : Cited
        Roughness length [m].
    z_min : Cited
        Height below which the formulas are evaluated at this height [m].
    says : str
        What the land looks like [-].
    """

    category: Category
    z_0: Cited
    z_min: Cited
    says: str


def _terrain(category: Category, z_0: float, z_min: float, says: str, basis: Basis) -> TerrainRow:
    where = f"Table 4.1, category {category}"
    return TerrainRow(
        category,
        Cited(z_0, "m", SOURCE, where, basis),
        Cited(z_min, "m", SOURCE, where, basis),
        says,
    )


TERRAIN: dict[Category, TerrainRow] = {
    "0": _terrain("0", 0.003, 1, "sea, or coast open to the sea", _SECOND),
    "I": _terrain("I", 0.01, 1, "lakes, or flat land without obstacles", _MEMORY),
    "II": _terrain("II", 0.05, 2, "low plants, single trees and buildings far apart", _MEMORY),
    "III": _terrain("III", 0.3, 5, "villages, suburbs, woods", _SECOND),
    "IV": _terrain("IV", 1.0, 10, "city: a sixth covered by buildings above 15 m", _SECOND),
}

CATEGORY_OF: dict[str, Category] = {
    "coast": "0",
    "open_country": "II",
    "village": "III",
    "town": "III",
}
"""Category by the word of the job. A town of houses is III: IV asks for buildings above 15 m."""

C_DIR: tuple[tuple[int, Cited], ...] = tuple(
    (degrees, Cited(c_dir, "-", NATIONAL, f"Table NA.1, {degrees} degrees", "published"))
    for degrees, c_dir in (
        (0, 0.78),
        (30, 0.73),
        (60, 0.73),
        (90, 0.74),
        (120, 0.73),
        (150, 0.80),
        (180, 0.85),
        (210, 0.93),
        (240, 1.00),
        (270, 0.99),
        (300, 0.91),
        (330, 0.82),
    )
)
"""Direction factor by the direction the wind comes from, clockwise from north."""


def _a_5(value: float, unit: str, where: str) -> Cited:
    return Cited(value, unit, SOURCE, f"A.5, {where}", _MEMORY)


DISPLACEMENT_HEIGHT_SHARE = _a_5(0.6, "-", "largest share of the building height")
DISPLACEMENT_NEAR = _a_5(2.0, "-", "near obstructions, distance over their height")
DISPLACEMENT_FAR = _a_5(6.0, "-", "far obstructions, distance over their height")
DISPLACEMENT_SHARE = _a_5(0.8, "-", "near obstructions, share of their height")
DISPLACEMENT_TOP = _a_5(1.2, "-", "obstructions between near and far, share of their height")
DISPLACEMENT_SLOPE = _a_5(0.2, "-", "obstructions between near and far, loss with distance")

HEIGHT_MOST = Cited(200.0, "m", SOURCE, "1.1, buildings up to", _MEMORY)
FLAT_PITCH_DEGREES = Cited(5.0, "degrees", SOURCE, "7.2.3, steepest flat roof", _MEMORY)

Zone = Literal["F", "G", "H", "I"]
ZONES: tuple[Zone, ...] = ("F", "G", "H", "I")


@dataclass(frozen=True, slots=True)
class EavesRow:
    """One line of Table 7.2: suction coefficients of a flat roof by zone.

    Parameters
    ----------
    parameter : float
        h_p/h, r/h or the mansard angle in degrees; 0 for sharp eaves [-].
    c_pe_10, c_pe_1 : dict
        Coefficient by zone for a loaded area of 10 m2 and more, and of 1 m2 and less [-].
    """

    parameter: float
    c_pe_10: dict[Zone, Cited]
    c_pe_1: dict[Zone, Cited]


Eaves = Literal["sharp", "parapet", "curved", "mansard"]
_PARAMETER = {"sharp": "", "parapet": ", h_p/h", "curved": ", r/h", "mansard": ", degrees"}


def _eaves(eaves: Eaves, parameter: float, *pairs: tuple[float, float]) -> EavesRow:
    at = f"{_PARAMETER[eaves]} {parameter}" if eaves != "sharp" else ""
    pairs = (*pairs, (-0.2, -0.2))

    def column(i: int) -> dict[Zone, Cited]:
        where = f"Table 7.2, {eaves} eaves{at}, zone "
        return {
            zone: Cited(pair[i], "-", SOURCE, f"{where}{zone}", "published")
            for zone, pair in zip(ZONES, pairs, strict=True)
        }

    return EavesRow(parameter, column(0), column(1))


_H = (-0.7, -1.2)
TABLE_7_2: dict[Eaves, tuple[EavesRow, ...]] = {
    "sharp": (_eaves("sharp", 0, (-1.8, -2.5), (-1.2, -2.0), _H),),
    "parapet": (
        _eaves("parapet", 0.025, (-1.6, -2.2), (-1.1, -1.8), _H),
        _eaves("parapet", 0.05, (-1.4, -2.0), (-0.9, -1.6), _H),
        _eaves("parapet", 0.10, (-1.2, -1.8), (-0.8, -1.4), _H),
    ),
    "curved": (  # one public copy misprints r/h as 0.05, 0.010, 0.020
        _eaves("curved", 0.05, (-1.0, -1.5), (-1.2, -1.8), (-0.4, -0.4)),
        _eaves("curved", 0.10, (-0.7, -1.2), (-0.8, -1.4), (-0.3, -0.3)),
        _eaves("curved", 0.20, (-0.5, -0.8), (-0.5, -0.8), (-0.3, -0.3)),
    ),
    "mansard": (
        _eaves("mansard", 30, (-1.0, -1.5), (-1.0, -1.5), (-0.3, -0.3)),
        _eaves("mansard", 45, (-1.2, -1.8), (-1.3, -1.9), (-0.4, -0.4)),
        _eaves("mansard", 60, (-1.3, -1.9), (-1.3, -1.9), (-0.5, -0.5)),
    ),
}
"""EN recommended values, not the UK table NA.5, which was not read."""

C_PE_I_PRESSURE = Cited(0.2, "-", SOURCE, "Table 7.2, zone I, downward; both signs", "published")
MANSARD_AS_SHARP = Cited(90.0, "degrees", SOURCE, "Table 7.2 note 3, vertical mansard", "published")
PARAPET_BELOW_TABLE: Basis = "common practice"
"""Below h_p/h = 0.025 the table is interpolated to sharp eaves at 0: practice, not its text."""

LOADED_AREA_SMALL = Cited(1.0, "m2", SOURCE, "Figure 7.2, loaded area of c_pe,1", _MEMORY)
LOADED_AREA_LARGE = Cited(10.0, "m2", SOURCE, "Figure 7.2, loaded area of c_pe,10", _MEMORY)

C_PI_PRESSURE = Cited(0.2, "-", SOURCE, "7.2.9(6), openings unknown, more onerous", _SECOND)
C_PI_SUCTION = Cited(-0.3, "-", SOURCE, "7.2.9(6), openings unknown, more onerous", _SECOND)

C_PE_DOOR = Cited(0.8, "-", SOURCE, "Table 7.1, windward wall, zone D, c_pe,10", _MEMORY)
DOOR_SHARE = Cited(
    0.9, "-", SOURCE, "7.2.9(5), opening three times all others together or more", _MEMORY
)
SECTOR_DEGREES = Cited(45.0, "degrees", SOURCE, "7.2.2, wind to either side of square", _MEMORY)

FRICTION_RATIO = Cited(4.0, "-", SOURCE, "5.3(4), parallel to perpendicular area", "published")

_PARAPET = "7.4.1, parapet as a free-standing wall, zone "
PARAPET_ZONES: tuple[tuple[str, float, Cited], ...] = (
    ("A", 0.3, Cited(2.1, "-", SOURCE, f"{_PARAPET}A to 0.3 h_p", "published")),
    ("B", 2.0, Cited(1.8, "-", SOURCE, f"{_PARAPET}B to 2 h_p", "published")),
    ("C", 4.0, Cited(1.4, "-", SOURCE, f"{_PARAPET}C to 4 h_p", "published")),
    ("D", float("inf"), Cited(1.2, "-", SOURCE, f"{_PARAPET}D beyond", "published")),
)
"""Name, end of the zone in parapet heights from the corner, net coefficient."""

"""Scopes: why a number of wind, snow, joists or rain must lie in its range, and by which clause."""

from __future__ import annotations

import re
from dataclasses import dataclass

from evenfall.standards import (
    en_338,
    en_1990,
    en_1991_1_3,
    en_1991_1_4,
    en_1995_1_1,
    en_12056_3,
)


@dataclass(frozen=True, slots=True)
class Scope:
    """The clause behind a range, and what to do where a true number lies outside."""

    why: str
    do: str


_WIND, _UK_WIND = en_1991_1_4.SOURCE, en_1991_1_4.NATIONAL
_SNOW, _RAIN = en_1991_1_3.NATIONAL, en_12056_3.SOURCE
_TIMBER = f"{en_1995_1_1.SOURCE} and {en_338.SOURCE}"
_ENGINEER = "if it is right, this method does not reach it: a structural engineer works it out"
_MEASURE = "measure again"
_HEIGHT = Scope(
    f"{_WIND} 7.2.3 and {_UK_WIND}: zones are cut from the height h, which is above 0; higher "
    "buildings need the method by direction",
    f"measure from the ground to the top of the roof; {_ENGINEER}",
)
_PARAPET = Scope(
    f"{_WIND} Table 7.2 reads parapets by h_p/h up to 0.10, rounded edges by r/h up to 0.20 and "
    "sloped edges from 30 degrees on; 7.2.3 takes the wind at the top of the parapet",
    f"measure from the old covering; {_ENGINEER}",
)
_JOIST = Scope(f"{_TIMBER}: sawn joists of one span", f"{_MEASURE}; {_ENGINEER}")
_DECK_SPAN = Scope(
    f"deck boards span from joist to joist, thick ones up to 800 mm; "
    f"{en_1995_1_1.SOURCE} 6.6 shares loads between joists that stand near each other",
    f"{_MEASURE} from middle to middle; {_ENGINEER}",
)
_GUTTER = Scope(f"{_RAIN} 5.1 and Approved Document H: eaves gutters and their outlets",
                "measure inside; a valley or box gutter is for a designer")  # fmt: skip
_COEFFICIENT = Scope(
    f"{_UK_WIND} Table NA.5: suction, so it is below 0", "write it with its minus as in the table"
)

SCOPES: dict[str, Scope] = {
    "site.altitude_m": Scope(
        f"snow and imposed load together are known up to 1000 m, {en_1990.SOURCE} Table NA.A1.1; "
        f"snow itself up to {en_1991_1_3.ALTITUDE_MOST:.0f} m, {en_1991_1_3.SOURCE} 1.1; wind by "
        f"{_UK_WIND} (NA.2)",
        f"look up the metres above the sea; {_ENGINEER}",
    ),
    "site.roof_height_m": _HEIGHT,
    "site.map_wind_m_s": Scope(
        f"{_UK_WIND} Figure NA.1: v_b,map before altitude, in metres a second",
        "read the map for this place; miles an hour times 0.447 are metres a second",
    ),
    "site.peak_pressure_kpa": Scope(
        f"{_WIND} 4.5: q_p in kN/m², a pressure above 0",
        "give kN/m²; 1000 N/m² are 1 kN/m²",
    ),
    "site.exposure_chart": Scope(
        f"{_UK_WIND} Figure NA.7: c_e(z)", "read the chart at the height of the roof"
    ),
    "site.exposure_chart_town": Scope(
        f"{_UK_WIND} Figure NA.8: c_e,T takes off, so it is at most 1",
        "read the chart, or leave it out",
    ),
    **{f"site.roof_coefficients.{zone}": _COEFFICIENT for zone in "FGHI"},
    "site.snow_zone": Scope(
        f"{_SNOW} Figure NA.1: zones 1 to {en_1991_1_3.ZONE_MOST:.0f}", "read the map again"
    ),
    "site.rain_l_s_m2": Scope(
        f"{_RAIN} NB.2: litres a second on a square metre; the maps show "
        f"{en_12056_3.RAIN_FORT_WILLIAM_L_S_M2:g} to {en_12056_3.RAIN_LONDON_L_S_M2:g} for a year",
        "millimetres an hour divided by 3600 are l/(s m²): 75 mm/h are 0.021",
    ),
    "survey.sides.parapet_height_mm": _PARAPET,
    "survey.sides.rounded_edge_mm": _PARAPET,
    "survey.sides.sloped_edge_deg": _PARAPET,
    "survey.joists.width_mm": _JOIST,
    "survey.joists.depth_mm": _JOIST,
    "survey.joists.span_m": _JOIST,
    "survey.joists.spacing_mm": _DECK_SPAN,
    "survey.deck.pull_outs_n": Scope(
        "EN 1990 Annex D7.2: forces at which the screw came out, in newtons",
        "give newtons; 1 kN are 1000 N, 1 kgf about 9.8 N",
    ),
    "survey.gutters.width_mm": _GUTTER,
    "survey.gutters.outlet_mm": _GUTTER,
    "survey.gutters.pipe_mm": Scope(f"{_RAIN} Table 8: pipes from 50 mm on; smaller are read "
                                    "by its formula", "measure inside"),
    "survey.gutters.fall_mm_per_m": Scope(
        f"{_RAIN} Table 6: level up to 3 mm/m, columns up to 10 mm/m", _MEASURE
    ),
    "design.new_gutters.width_mm": _GUTTER,
    "design.new_gutters.outlet_mm": _GUTTER,
    "design.new_gutters.pipe_mm": _GUTTER,
}  # fmt: skip


def scope_of(path: str) -> Scope | None:
    """Find the clause behind the range of a key.

    Parameters
    ----------
    path : str
        Key of the job, its lists with or without their entries [-].

    Returns
    -------
    Scope or None
        None where no document sets the range [-].

    Examples
    --------
    >>> scope_of("survey.gutters[0].fall_mm_per_m").do
    'measure again'
    """
    return SCOPES.get(re.sub(r"\[[^\]]*\]|\.[0-9]+", "", path))

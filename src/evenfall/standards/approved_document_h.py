"""Approved Document H (England, 2015), section 3, and the drainage rules of NHBC chapter 7.

Table 1 and Table 2 are remembered, but for the row of 100 mm; the gutter formula of EN 12056-3
gives Table 2 within 1 %.
"""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.working import Basis, Cited

SOURCE = "Approved Document H (England), 2015"
_MEMORY: Basis = "from memory"


def _cited(value: float, unit: str, where: str, basis: Basis = _MEMORY) -> Cited:
    return Cited(value, unit, SOURCE, where, basis)


PITCH_FACTORS: dict[int, Cited] = {
    0: _cited(1.0, "-", "Table 1, flat roof, of the plan area"),
    30: _cited(1.29, "-", "Table 1, pitch 30 degrees, of the plan area"),
    45: _cited(1.50, "-", "Table 1, pitch 45 degrees, of the plan area"),
    60: _cited(1.87, "-", "Table 1, pitch 60 degrees, of the plan area"),
}
STEEP_DEGREES = _cited(70.0, "degrees", "Table 1, steeper counts as a wall")
WALL_FACTOR = _cited(0.5, "-", "Table 1, wall, of the elevation area")
RAIN_L_S_M2 = _cited(0.021, "l/(s m2)", "Table 2, rainfall intensity", "published, second-hand")


@dataclass(frozen=True, slots=True)
class GutterRow:
    """One line of Table 2: half-round gutter laid level, one sharp-edged outlet at its end.

    Parameters
    ----------
    gutter_mm : int
        Diameter of the gutter [mm].
    area : Cited
        Largest effective area drained [m2].
    outlet_mm : Cited
        Diameter of the outlet [mm].
    flow_l_s : Cited
        Flow capacity [l/s].
    """

    gutter_mm: int
    area: Cited
    outlet_mm: Cited
    flow_l_s: Cited


def _row(
    gutter_mm: int, area: float, outlet_mm: float, flow_l_s: float, basis: Basis = _MEMORY
) -> GutterRow:
    where = f"Table 2, gutter {gutter_mm} mm"
    return GutterRow(
        gutter_mm,
        _cited(area, "m2", where, basis),
        _cited(outlet_mm, "mm", where, basis),
        _cited(flow_l_s, "l/s", where),
    )


TABLE_2 = (
    _row(75, 18.0, 50, 0.38),
    _row(100, 37.0, 63, 0.78, "published, second-hand"),
    _row(115, 53.0, 63, 1.11),
    _row(125, 65.0, 75, 1.37),
    _row(150, 103.0, 89, 2.16),
)

NO_GUTTER_AREA = _cited(6.0, "m2", "Table 2, no gutter needed up to")
NHBC = "NHBC Standards, chapter 7"
DRAINED_AREA = Cited(6.0, "m2", NHBC, "7.2.22, larger roofs must be drained", "published")
OVERFLOW_SAYS = (
    "Every flat roof needs an overflow for a blocked outlet (NHBC Standards 7.1.5, published); "
    "that of a parapet gutter carries no less than the other outlets together (7.2.22, published)."
)
OUTLETS_LEAST = Cited(
    2.0, "-", "a designer's notes", "drainage points, even of a very small roof", "common practice"
)

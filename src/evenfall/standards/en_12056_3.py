"""EN 12056-3:2000 with the UK National Annex: roof drainage.

Formulas and most of the tables are remembered or read second-hand, and agree with hydraulics; the
charts of depth, shape and outlet head were not read. Rainfall by the guidance MGMA GD03.
"""

from __future__ import annotations

from evenfall.working import Basis, Cited

SOURCE = "EN 12056-3:2000"
RAIN = "MGMA GD03 / Data Sheet 3"
OLD = "BS 6367 (withdrawn)"
_MEMORY: Basis = "from memory"
_SECOND: Basis = "published, second-hand"


def _cited(value: float, unit: str, where: str, basis: Basis) -> Cited:
    return Cited(value, unit, SOURCE, where, basis)


RUN_OFF_COEFFICIENT = _cited(1.0, "-", "run-off coefficient of roofs", _MEMORY)
WALL_SHARE = _cited(0.5, "-", "walls, share of the elevation (rain at 26.6 degrees)", _SECOND)
WALL_HEIGHT_MOST = _cited(10.0, "m", "walls, height that counts", _SECOND)

RAIN_LONDON_L_S_M2 = Cited(0.022, "l/(s m2)", RAIN, "category 1 map, London", "published")
RAIN_FORT_WILLIAM_L_S_M2 = Cited(
    0.010, "l/(s m2)", RAIN, "category 1 map, Fort William", "published"
)
RAIN_75_MM_H_L_S_M2 = Cited(0.021, "l/(s m2)", RAIN, "75 mm/h, rounded", "published")
RAIN_150_MM_H_L_S_M2 = Cited(
    0.042, "l/(s m2)", RAIN, "150 mm/h, where water could come in: the map was not read",
    "from memory",
)  # fmt: skip
LIFE_FACTOR: dict[int, Cited] = {
    2: Cited(1.5, "-", RAIN, "category 2, return period over building life", "published"),
    3: Cited(4.5, "-", RAIN, "category 3, return period over building life", "published"),
}

LEVEL_SHARE = _cited(0.9, "-", "5.1, Q_L over Q_N of a nominally level gutter", _SECOND)
HALF_ROUND = _cited(2.78e-5, "l/s per mm^2.5", "5.1.2, half-round eaves gutter", _SECOND)
RECTANGULAR = _cited(3.48e-5, "l/s per mm^2.5", "5.1.3, rectangular eaves gutter", _MEMORY)
VALLEY = _cited(3.89e-5, "l/s per mm^2.5", "5.1.4, valley and parapet gutter", _MEMORY)
LEVEL_FALL_MM_M = _cited(3.0, "mm/m", "5.1, steepest nominally level gutter", _MEMORY)
SHORT_LENGTH = _cited(50.0, "-", "5.1, longest short gutter, length over water depth", _MEMORY)

FALLS_MM_M = (3.0, 4.0, 6.0, 8.0, 10.0)
"""Falls of the columns of Table 6; the first holds from 0 to 3 mm/m."""

_LEVEL_SECOND_HAND = (50, 100, 150, 200)
_ROW_SECOND_HAND = (450, 475, 500)


def _length(ratio: int, *factors: float) -> tuple[int, tuple[Cited, ...]]:
    def basis(column: int) -> Basis:
        level = column == 0 and ratio in _LEVEL_SECOND_HAND
        return _SECOND if level or ratio in _ROW_SECOND_HAND else _MEMORY

    factors = (*factors, *(1.10, 1.25, 1.40, 1.55)) if len(factors) == 1 else factors
    where = f"Table 6, L/W = {ratio}"
    return ratio, tuple(_cited(F, "-", where, basis(i)) for i, F in enumerate(factors))


LENGTH_FACTORS = (
    _length(50, 1.00, 1.00, 1.00, 1.00, 1.00),
    _length(75, 0.97, 1.02, 1.04, 1.07, 1.09),
    _length(100, 0.93, 1.03, 1.08, 1.13, 1.18),
    _length(125, 0.90, 1.05, 1.12, 1.20, 1.27),
    _length(150, 0.86, 1.07, 1.17, 1.27, 1.37),
    _length(175, 0.83, 1.08, 1.21, 1.33, 1.46),
    _length(200, 0.80),
    _length(225, 0.78),
    _length(250, 0.77),
    _length(275, 0.75),
    _length(300, 0.73),
    _length(325, 0.72),
    _length(350, 0.70),
    _length(375, 0.68),
    _length(400, 0.67),
    _length(425, 0.65),
    _length(450, 0.63),
    _length(475, 0.62),
    _length(500, 0.60),
)
"""Table 6: length over water depth, then F_L by fall."""

LONGEST = _cited(500.0, "-", "Table 6, longest gutter, length over water depth", _SECOND)

BEND = _cited(0.85, "-", "gutter with a bend", _MEMORY)
BEND_NEAR = Cited(0.8, "-", OLD, "bend less than 2 m from the outlet", _SECOND)
BEND_MIDDLE = Cited(0.9, "-", OLD, "bend 2 to 4 m from the outlet", _SECOND)
BEND_NEAR_TO = Cited(2.0, "m", OLD, "bend near the outlet", _SECOND)
BEND_MIDDLE_TO = Cited(4.0, "m", OLD, "bend that still counts", _SECOND)

PIPE_COEFFICIENT = _cited(2.5e-4, "l/s", "6.1, downpipes (Wyly-Eaton)", _MEMORY)
PIPE_ROUGHNESS_MM = _cited(0.25, "mm", "6.1, roughness k_b", _MEMORY)
PIPE_ROUGHNESS_EXPONENT = _cited(-0.167, "-", "6.1, rounded exponent", _MEMORY)
PIPE_DIAMETER_EXPONENT = _cited(2.667, "-", "6.1, rounded exponent", _MEMORY)
PIPE_FILLING_EXPONENT = _cited(1.667, "-", "6.1, rounded exponent", _MEMORY)
FILLING_LEAST = _cited(0.20, "-", "6.1, least filling degree", _MEMORY)
FILLING_MOST = _cited(0.33, "-", "6.1, greatest filling degree", _MEMORY)
PIPE_SMALLEST_MM = _cited(50.0, "mm", "Table 8, smallest pipe", _SECOND)
PIPE_LARGEST_MM = _cited(300.0, "mm", "Table 8, largest pipe", _SECOND)

OFFSET_SAYS = (
    "An offset may have to be designed as a drain at 70 % full, depending on 10 degrees; from "
    "which line they count is not recorded. Check the wording of EN 12056-3."
)

OUTLET_FREE = _cited(1.0, "-", "Table 7, free outlet k_0", _SECOND)
OUTLET_GRATED = _cited(0.5, "-", "Table 7, outlet with strainer or grating k_0", _SECOND)
CIRCULAR_WEIR = _cited(7500.0, "mm^2.5 s/l", "Table 7, circular outlet as a weir", _SECOND)
CIRCULAR_ORIFICE = _cited(15000.0, "mm^2.5 s/l", "Table 7, circular outlet as an orifice", _SECOND)
OTHER_WEIR = _cited(24000.0, "mm^2.5 s/l", "Table 7, other outlet as a weir", _SECOND)
OTHER_ORIFICE = _cited(12000.0, "mm^2.5 s/l", "Table 7, other outlet as an orifice", _SECOND)
USUAL_HEAD_MM = Cited(35.0, "mm", "EN 1253", "head of the outlet test, usual depth", _MEMORY)

"""ISO 6946 (2007 and 2017 editions): thermal resistance and transmittance of building elements.

None of it was read in the document. The surface resistances 0.13 and 0.04 are confirmed by a
worked example of the Scottish technical standards.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from evenfall.working import Basis, Cited

Direction = Literal["upwards", "horizontal", "downwards"]
"""Direction of the heat flow; a roof in winter loses heat upwards."""

SOURCE = "ISO 6946"


def _cited(value: float, unit: str, where: str, basis: Basis = "from memory") -> Cited:
    return Cited(value, unit, SOURCE, where, basis)


R_SI: dict[Direction, Cited] = {
    "upwards": _cited(0.10, "m2K/W", "surface resistances, inside, upwards"),
    "horizontal": _cited(0.13, "m2K/W", "surface resistances, inside, horizontal"),
    "downwards": _cited(0.17, "m2K/W", "surface resistances, inside, downwards"),
}
R_SE = _cited(0.04, "m2K/W", "surface resistances, outside")


@dataclass(frozen=True, slots=True)
class AirLayer:
    """One line of the table of unventilated air layers, high emissivity on both sides.

    Parameters
    ----------
    thickness : float
        Thickness of the layer in the direction of the heat flow [m].
    upwards, horizontal, downwards : Cited
        Thermal resistance by direction of the heat flow [m2K/W].
    """

    thickness: float
    upwards: Cited
    horizontal: Cited
    downwards: Cited


def _air(thickness_mm: int, *resistances: float) -> AirLayer:
    up, level, down = (
        _cited(R, "m2K/W", f"unventilated air layers, {thickness_mm} mm") for R in resistances
    )
    return AirLayer(thickness_mm / 1000, up, level, down)


AIR_LAYERS = (
    _air(5, 0.11, 0.11, 0.11),
    _air(7, 0.13, 0.13, 0.13),
    _air(10, 0.15, 0.15, 0.15),
    _air(15, 0.16, 0.17, 0.17),
    _air(25, 0.16, 0.18, 0.19),
    _air(50, 0.16, 0.18, 0.21),
    _air(100, 0.16, 0.18, 0.22),
    _air(300, 0.16, 0.18, 0.23),
)

COMBINED_RATIO_LIMIT = _cited(1.5, "-", "combined method, largest R_upper / R_lower")

TAPER_SLOPE_LIMIT = _cited(0.05, "-", "tapered layers, steepest slope (2007 Annex C, 2017 Annex E)")

CORRECTION_SHARE = _cited(0.03, "-", "corrections, share of U from which they are applied")

GAP_LEVELS: dict[int, Cited] = {
    0: _cited(0.00, "W/(m2K)", "air gaps, level 0: none that bridges the layer"),
    1: _cited(0.01, "W/(m2K)", "air gaps, level 1: gaps, no air moving on the warm side"),
    2: _cited(0.04, "W/(m2K)", "air gaps, level 2: gaps and air moving on the warm side"),
}
"""Correction by level of air gaps. Two staggered layers are level 0, one butt-jointed level 1."""

FASTENER_ALPHA = _cited(
    0.8, "-", "mechanical fasteners, approximate form (2017 F.3.2)", "published, second-hand"
)
FASTENER_CONDUCTIVITY_FROM = _cited(
    1.0,
    "W/(m K)",
    "mechanical fasteners, conductivity from which they count",
    "published, second-hand",
)

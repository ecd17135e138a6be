"""EN 1995-1-1 with the UK National Annex: timber joists.

Mostly remembered; the factors marked second-hand were read in calculation sheets. Ponding is not
in EN 1995-1-1: its formula is Marino's (1966), as in AISC Appendix 2.
"""

from __future__ import annotations

from typing import Literal

from evenfall.working import Basis, Cited

SOURCE = "EN 1995-1-1"
NATIONAL = "UK National Annex to BS EN 1995-1-1"
_MEMORY: Basis = "from memory"
_SECOND: Basis = "published, second-hand"


def _cited(value: float, unit: str, where: str, basis: Basis) -> Cited:
    return Cited(value, unit, SOURCE, where, basis)


GAMMA_M = _cited(1.3, "-", "Table 2.3, solid timber", _MEMORY)
GAMMA_M_ACCIDENT = _cited(1.0, "-", "Table 2.3, accidental combinations", _MEMORY)

Duration = Literal["permanent", "long", "medium", "short", "instantaneous"]
_K_MOD = "Table 3.1, solid timber, service classes 1 and 2, "
K_MOD: dict[Duration, Cited] = {
    "permanent": _cited(0.6, "-", f"{_K_MOD}permanent", _MEMORY),
    "long": _cited(0.7, "-", f"{_K_MOD}long", _MEMORY),
    "medium": _cited(0.8, "-", f"{_K_MOD}medium", _SECOND),
    "short": _cited(0.9, "-", f"{_K_MOD}short", _SECOND),
    "instantaneous": _cited(1.1, "-", f"{_K_MOD}instantaneous", _MEMORY),
}
K_DEF: dict[int, Cited] = {
    1: _cited(0.6, "-", "Table 3.2, solid timber, service class 1", _SECOND),
    2: _cited(0.8, "-", "Table 3.2, solid timber, service class 2", _SECOND),
    3: _cited(2.0, "-", "Table 3.2, solid timber, service class 3", _MEMORY),
}
K_SYS = _cited(1.1, "-", "6.6, load-sharing system", _SECOND)
K_CR = _cited(0.67, "-", "6.1.7, cracks in shear", _SECOND)
K_C_90 = _cited(1.0, "-", "6.1.5, compression across the grain", _SECOND)
NO_SHARING = _cited(1.0, "-", "6.6, a joist by itself", _SECOND)

GAMMA_M_JOINT = _cited(1.3, "-", "Table 2.3, connections", _MEMORY)
WITHDRAWAL_RHO = _cited(350.0, "kg/m3", "(8.40a), density of the declared strength", _MEMORY)
WITHDRAWAL_EXPONENT = _cited(0.8, "-", "(8.40a), exponent of the density", _MEMORY)
POINT_DIAMETERS = _cited(6.0, "-", "8.7.2(3), least thread in the timber, diameters", _MEMORY)

K_H_HEIGHT = _cited(0.150, "m", "(3.1), height below which strength rises", _MEMORY)
K_H_EXPONENT = _cited(0.2, "-", "(3.1), exponent", _MEMORY)
K_H_MOST = _cited(1.3, "-", "(3.1), at most", _MEMORY)

BEARING_SPREAD = _cited(0.030, "m", "6.1.5, bearing counts further by, each free side", _MEMORY)
SHEAR_FORM = _cited(1.2, "-", "form factor of a rectangle in shear deflection", "published")

LENGTH_SHARE = _cited(0.9, "-", "Table 6.1, uniform load, share of the span", _MEMORY)
LENGTH_SHARE_EVEN = _cited(1.0, "-", "Table 6.1, constant moment, share of the length", _MEMORY)
LENGTH_HEIGHTS = _cited(2.0, "-", "Table 6.1, load on the compression edge, heights", _MEMORY)
SIGMA_CRIT = _cited(0.78, "-", "(6.32), softwood of rectangular section", _MEMORY)
K_CRIT_FROM = _cited(0.75, "-", "(6.34), relative slenderness up to which k_crit = 1", _MEMORY)
K_CRIT_TO = _cited(1.4, "-", "(6.34), relative slenderness from which 1/lambda^2 holds", _MEMORY)
K_CRIT_BASE = _cited(1.56, "-", "(6.34), middle branch", _MEMORY)
K_CRIT_SLOPE = _cited(0.75, "-", "(6.34), middle branch", _MEMORY)

LIMIT_PLASTERED = Cited(250.0, "-", NATIONAL, "net final deflection L/, plastered", _MEMORY)
LIMIT_BARE = Cited(150.0, "-", NATIONAL, "net final deflection L/, no brittle finish", _MEMORY)

WATER_WEIGHT = Cited(
    9810.0, "N/m3", "Marino 1966; AISC Appendix 2", "unit weight of water", _MEMORY
)
PONDING_TWO_WAY = Cited(0.25, "-", "AISC Appendix 2", "C_p + 0.9 C_s at most", _MEMORY)
PONDING_SECONDARY = Cited(0.9, "-", "AISC Appendix 2", "share of the secondary members", _MEMORY)

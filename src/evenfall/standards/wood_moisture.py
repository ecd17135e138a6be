"""Wood and water: moisture in equilibrium with air (Hailwood and Horrobin), and other layers.

All remembered. A maker's sorption curve of his board comes first.
"""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.working import Cited

SOURCE = "Wood Handbook (USDA Forest Products Laboratory), Hailwood-Horrobin equation"


def _c(value: float, where: str, unit: str = "-", source: str = SOURCE) -> Cited:
    return Cited(value, unit, source, where, "from memory")


MOLAR = _c(18.0, "molar mass of water", "kg/kmol")
W = tuple(_c(v, f"W, power {i} of the temperature in C") for i, v in enumerate((349, 1.29, 0.0135)))
K = tuple(
    _c(v, f"K, power {i} of the temperature in C")
    for i, v in enumerate((0.805, 0.000736, -0.00000273))
)
K_1 = tuple(
    _c(v, f"K1, power {i} of the temperature in C")
    for i, v in enumerate((6.27, -0.00938, -0.000303))
)
K_2 = tuple(
    _c(v, f"K2, power {i} of the temperature in C") for i, v in enumerate((1.91, 0.0407, -0.000293))
)


def coefficients(theta: float) -> tuple[float, float, float, float]:
    """Give W, K, K1 and K2 at a temperature.

    Parameters
    ----------
    theta : float
        Temperature [C].

    Returns
    -------
    tuple of float
        Coefficients [-].
    """
    w, k, k1, k2 = (sum(float(c) * theta**i for i, c in enumerate(p)) for p in (W, K, K_1, K_2))
    return w, k, k1, k2


_BOARDS = "sorption of wood-based boards, trade handbooks"
PANEL_SHARE = _c(0.85, "boards hold this share of what solid wood holds", source=_BOARDS)


@dataclass(frozen=True, slots=True)
class Holds:
    """What a mineral or foamed layer holds.

    Parameters
    ----------
    w_80, w_free : Cited
        Water content at 80 % relative humidity, and at free saturation [kg/m3].
    density, heat : Cited
        Dry density [kg/m3] and specific heat [J/(kg K)].
    """

    w_80: Cited
    w_free: Cited
    density: Cited
    heat: Cited


def _holds(what: str, w_80: float, w_free: float, density: float, heat: float) -> Holds:
    source = "sorption of building materials, handbooks"
    return Holds(
        _c(w_80, f"{what}, water at 80 % relative humidity", "kg/m3", source),
        _c(w_free, f"{what}, water at free saturation", "kg/m3", source),
        _c(density, f"{what}, density", "kg/m3", source),
        _c(heat, f"{what}, specific heat", "J/(kg K)", source),
    )


HOLDS: dict[str, Holds] = {
    "foam": _holds("rigid foam", 0.5, 100.0, 30.0, 1400.0),
    "quilt": _holds("mineral quilt", 0.3, 100.0, 20.0, 1030.0),
    "plasterboard": _holds("plasterboard", 6.0, 400.0, 850.0, 1000.0),
    "slab": _holds("strawboard and wood-wool slab", 30.0, 300.0, 350.0, 1470.0),
}

"""Depth and shape factors of gutters, derived; the standard's charts were not read.

A level channel without friction takes water in evenly along its side and is critical at the outlet;
momentum from its still end to the outlet gives the flow.
"""

from __future__ import annotations

from evenfall.calc.drainage.gutter import (
    bend_factors,
    length_factor,
    level_flow_l_s,
    rectangular_flow_l_s,
    reduced_flow_l_s,
)
from evenfall.calc.loads.limits import positive, within
from evenfall.standards import en_12056_3 as en
from evenfall.working import Known, Working, formula

_DERIVED = "derived: level channel without friction, not the standard's charts"


@formula("F_d", "-", _DERIVED, "from memory")
def depth_factor(W: float, T: float) -> float:
    """Depth factor: shallow gutters carry less than square ones of the same section.

    Parameters
    ----------
    W, T : float
        Depth of water, width of the water line [m].

    Returns
    -------
    float
        Factor, 1 for a square [-].

    Examples
    --------
    >>> depth_factor(0.05, 0.10)
    0.841
    """
    return (W / T) ** (1 / 4)  # type: ignore[no-any-return]


def shape_factor(S: float, T: float) -> float:
    """Shape factor of a trapezoidal gutter.

    Parameters
    ----------
    S, T : float
        Width of the sole, width of the water line, S not above T [m].

    Returns
    -------
    float
        Factor, 1 for a rectangle [-].

    Examples
    --------
    >>> shape_factor(0.06, 0.12), shape_factor(0.09, 0.09)
    (0.971, 1.0)
    """
    positive("T", T, "m")
    within("width of the sole over the water line", S / T, 0, 1, _DERIVED)
    return _relative_flow(S / T) / _relative_flow(1.0)


def _relative_flow(s: float) -> float:
    """Flow of a trapezoid of unit top and depth over its area to the power 5/4."""
    low, high = 0.0, 1.0
    while high - low > 1 / 10**12:
        y = (low + high) / 2
        low, high = (low, y) if _thrust(s, y) > _moment(s, 1.0) else (y, high)
    flow = _area(s, low) ** (3 / 2) / _width(s, low) ** 0.5
    return float(flow / _area(s, 1.0) ** (5 / 4))


def _width(s: float, y: float) -> float:
    return s + (1 - s) * y


def _area(s: float, y: float) -> float:
    return s * y + (1 - s) * y**2 / 2


def _moment(s: float, y: float) -> float:
    """First moment of the section below its water line."""
    return s * y**2 / 2 + (1 - s) * y**3 / 6


def _thrust(s: float, y: float) -> float:
    """Momentum and pressure of critical flow of depth y."""
    return _area(s, y) ** 2 / _width(s, y) + _moment(s, y)


@formula("A", "mm2", "geometry of a trapezoid")
def trapezoid_area_mm2(S_mm: float, T_mm: float, W_mm: float) -> float:
    """Cross-section of water.

    Parameters
    ----------
    S_mm, T_mm, W_mm : float
        Width of the sole, width of the water line, depth of water [mm].

    Returns
    -------
    float
        Area [mm2].

    Examples
    --------
    >>> trapezoid_area_mm2(100.0, 140.0, 60.0)
    7200.0
    """
    return (S_mm + T_mm) / 2 * W_mm


def trapezoid_capacity(
    S_mm: Known | float, T_mm: Known | float, W_mm: Known | float, coefficient: Known
) -> Working:
    """Capacity of a short level rectangular or trapezoidal gutter.

    Parameters
    ----------
    S_mm, T_mm, W_mm : float
        Width of the sole, width of the water line, depth of water [mm].
    coefficient : Known
        `en_12056_3.RECTANGULAR` or `en_12056_3.VALLEY` [l/s per mm^2.5].

    Returns
    -------
    Working
        Capacity [l/s].

    Examples
    --------
    >>> from evenfall.standards.en_12056_3 import RECTANGULAR
    >>> trapezoid_capacity(100.0, 100.0, 75.0, RECTANGULAR).value
    2.034
    """
    for name, value in (("T_mm", T_mm), ("W_mm", W_mm)):
        positive(name, value, "mm")
    F_s = shape_factor(S_mm, T_mm)
    A = trapezoid_area_mm2.show(S_mm, T_mm, W_mm)
    F_d = depth_factor.show(W_mm, T_mm)
    return level_flow_l_s.show(rectangular_flow_l_s.show(A, F_d, F_s, coefficient))


def eaves_capacity(
    S_mm: Known | float,
    T_mm: Known | float,
    W_mm: Known | float,
    length: Known | float,
    fall_mm_m: Known | float = 0.0,
    bend_from_outlet: Known | float | None = None,
) -> Working:
    """Capacity of a rectangular or trapezoidal eaves gutter with its length and bend.

    Parameters
    ----------
    S_mm, T_mm, W_mm : float
        Width of the sole, width of the water line, depth of water [mm].
    length : float
        From the stop end to the outlet [m].
    fall_mm_m : float
        Fall of the gutter [mm/m].
    bend_from_outlet : float, optional
        Distance of a bend from the outlet [m].

    Returns
    -------
    Working
        Capacity [l/s].

    Examples
    --------
    >>> eaves_capacity(100.0, 100.0, 75.0, 3.0).value, eaves_capacity(110.0, 110.0, 75.0, 7.5).value
    (2.034, 2.081)
    """
    Q_L = trapezoid_capacity(S_mm, T_mm, W_mm, en.RECTANGULAR)
    factor = min(bend_factors(bend_from_outlet), key=float, default=1.0)
    return reduced_flow_l_s.show(Q_L, length_factor(length, W_mm / 10**3, fall_mm_m), factor)

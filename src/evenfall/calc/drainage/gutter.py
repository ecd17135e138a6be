"""Capacity of gutters by EN 12056-3: short, long, with bends."""

from __future__ import annotations

from math import pi

from evenfall.calc.loads.interpolation import linear
from evenfall.calc.loads.limits import positive, within
from evenfall.standards import en_12056_3 as en
from evenfall.working import Cited, Known, Working, formula

_TABLE_6 = f"{en.SOURCE} Table 6"


@formula("A_E", "mm2", "geometry of a half circle")
def half_round_area_mm2(d_mm: float) -> float:
    """Cross-section of a half-round gutter.

    Parameters
    ----------
    d_mm : float
        Diameter [mm].

    Returns
    -------
    float
        Area [mm2].

    Examples
    --------
    >>> half_round_area_mm2(100.0)
    3927.0
    """
    return pi * d_mm**2 / 8


@formula("Q_N", "l/s", f"{en.SOURCE} 5.1.2", "from memory")
def half_round_flow_l_s(A_E_mm2: float, c: float = en.HALF_ROUND) -> float:
    """Nominal capacity of a half-round eaves gutter.

    Parameters
    ----------
    A_E_mm2 : float
        Cross-section below the spill level [mm2].
    c : float
        Coefficient of the standard [l/s per mm^2.5].

    Returns
    -------
    float
        Capacity [l/s].

    Examples
    --------
    >>> half_round_flow_l_s(3927.0)
    0.8642
    """
    return c * A_E_mm2 ** (5 / 4)  # type: ignore[no-any-return]


@formula("Q_N", "l/s", f"{en.SOURCE} 5.1.3 and 5.1.4", "from memory")
def rectangular_flow_l_s(A_mm2: float, F_d: float, F_s: float, c: float = en.RECTANGULAR) -> float:
    """Nominal capacity of a rectangular or trapezoidal gutter.

    Parameters
    ----------
    A_mm2 : float
        Cross-section below the spill level, or below the design level with `VALLEY` [mm2].
    F_d, F_s : float
        Depth factor, shape factor [-].
    c : float
        `RECTANGULAR` for eaves, `VALLEY` for valley and parapet gutters [l/s per mm^2.5].

    Returns
    -------
    float
        Capacity [l/s].

    Examples
    --------
    >>> rectangular_flow_l_s(7500.0, 0.9306, 1.0)
    2.260
    """
    return c * A_mm2 ** (5 / 4) * F_d * F_s  # type: ignore[no-any-return]


@formula("Q_L", "l/s", f"{en.SOURCE} 5.1", "published, second-hand")
def level_flow_l_s(Q_N_l_s: float, share: float = en.LEVEL_SHARE) -> float:
    """Capacity of a short gutter laid nominally level.

    Parameters
    ----------
    Q_N_l_s : float
        Nominal capacity [l/s].
    share : float
        Share for a nominally level gutter [-].

    Returns
    -------
    float
        Capacity [l/s].

    Examples
    --------
    >>> level_flow_l_s(0.8642)
    0.7778
    """
    return share * Q_N_l_s


@formula("Q", "l/s", f"{en.SOURCE} 5.1.5", "from memory")
def reduced_flow_l_s(Q_L_l_s: float, F_L: float, F_b: float = 1.0) -> float:
    """Capacity of a gutter with its length and its bend.

    Parameters
    ----------
    Q_L_l_s : float
        Capacity when short [l/s].
    F_L, F_b : float
        Length factor, bend factor [-].

    Returns
    -------
    float
        Capacity [l/s].

    Examples
    --------
    >>> reduced_flow_l_s(0.7778, 0.93, 0.85)
    0.6149
    """
    return F_L * F_b * Q_L_l_s


def length_factor(length: float, water_depth: float, fall_mm_m: float = 0.0) -> Known:
    """Length factor of Table 6, interpolated in length and fall.

    Parameters
    ----------
    length : float
        From the stop end, or half the distance between outlets, to the outlet [m].
    water_depth : float
        Design depth of water [m].
    fall_mm_m : float
        Fall of the gutter; the column of 10 mm/m holds for more [mm/m].

    Returns
    -------
    Known
        Factor; 1 up to L/W = 50, refused beyond 500 [-].

    Examples
    --------
    >>> length_factor(6.2, 0.05).value, length_factor(6.2, 0.05, 5.0).value
    (0.901, 1.084)
    """
    positive("length", length, "m")
    positive("water_depth", water_depth, "m")
    within("fall in mm/m", fall_mm_m, 0, float("inf"), _TABLE_6)
    ratio = max(length / water_depth, float(en.SHORT_LENGTH))
    level, steepest = en.FALLS_MM_M[0], en.FALLS_MM_M[-1]
    fall = min(max(fall_mm_m, level), steepest)
    rows = tuple(
        (float(at), linear(fall, tuple(zip(en.FALLS_MM_M, row, strict=True)), "fall", _TABLE_6))
        for at, row in en.LENGTH_FACTORS
    )
    value = linear(ratio, rows, "length over water depth", _TABLE_6)
    return Cited(value, "-", en.SOURCE, f"Table 6, L/W = {ratio:.0f}", "from memory")


def bend_factors(from_outlet: float | None) -> tuple[Known, ...]:
    """Bend factors of both documents side by side; the smaller governs.

    Parameters
    ----------
    from_outlet : float or None
        Distance of the bend from the outlet; None for a straight gutter [m].

    Returns
    -------
    tuple of Known
        EN first, then the withdrawn British code where it speaks; empty for none [-].

    Examples
    --------
    >>> [f.value for f in bend_factors(1.4)], [f.value for f in bend_factors(6.0)]
    ([0.80, 0.85], [0.85])
    """
    if from_outlet is None:
        return ()
    within("distance of the bend in m", from_outlet, 0, float("inf"), en.SOURCE)
    if from_outlet < en.BEND_NEAR_TO:
        return (en.BEND_NEAR, en.BEND)
    if from_outlet <= en.BEND_MIDDLE_TO:
        return (en.BEND, en.BEND_MIDDLE)
    return (en.BEND,)


def half_round_capacity(
    d_mm: Known | float,
    length: Known | float,
    fall_mm_m: Known | float = 0.0,
    bend_from_outlet: Known | float | None = None,
) -> Working:
    """Capacity of a half-round eaves gutter.

    Parameters
    ----------
    d_mm : float
        Diameter [mm].
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
    >>> half_round_capacity(100.0, 2.4).value, half_round_capacity(100.0, 6.2, 0.0, 1.4).value
    (0.7778, 0.5608)
    """
    positive("d_mm", d_mm, "mm")
    Q_L = level_flow_l_s.show(half_round_flow_l_s.show(half_round_area_mm2.show(d_mm)))
    depth = d_mm / (2 * 10**3)
    factor = min(bend_factors(bend_from_outlet), key=float, default=1.0)
    return reduced_flow_l_s.show(Q_L, length_factor(length, depth, fall_mm_m), factor)

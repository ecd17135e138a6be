"""Outlets and overflows by EN 12056-3 Table 7: weir in shallow, orifice in deep water."""

from __future__ import annotations

from math import isfinite

from evenfall.calc.loads.limits import positive
from evenfall.errors import InvalidInput
from evenfall.standards import en_12056_3 as en
from evenfall.working import Known, Working, formula

_TABLE_7 = f"{en.SOURCE} Table 7"


@formula("Q", "l/s", f"{_TABLE_7}, circular, h <= D/2", "published, second-hand")
def circular_weir_l_s(
    D_mm: float, h_mm: float, k_0: float = en.OUTLET_FREE, c: float = en.CIRCULAR_WEIR
) -> float:
    """Flow into a circular outlet in shallow water.

    Parameters
    ----------
    D_mm, h_mm : float
        Diameter, head [mm].
    k_0 : float
        1 free, 0.5 with a strainer or grating [-].
    c : float
        Divisor of the standard [mm^2.5 s/l].

    Returns
    -------
    float
        Flow [l/s].

    Examples
    --------
    >>> circular_weir_l_s(63.0, 20.0)
    0.751
    """
    return k_0 * D_mm * h_mm ** (3 / 2) / c  # type: ignore[no-any-return]


@formula("Q", "l/s", f"{_TABLE_7}, circular, h > D/2", "published, second-hand")
def circular_orifice_l_s(
    D_mm: float, h_mm: float, k_0: float = en.OUTLET_FREE, c: float = en.CIRCULAR_ORIFICE
) -> float:
    """Flow into a circular outlet in deep water.

    Parameters
    ----------
    D_mm, h_mm : float
        Diameter, head [mm].
    k_0 : float
        1 free, 0.5 with a strainer or grating [-].
    c : float
        Divisor of the standard [mm^2.5 s/l].

    Returns
    -------
    float
        Flow [l/s].

    Examples
    --------
    >>> circular_orifice_l_s(63.0, 35.0)
    1.565
    """
    return k_0 * D_mm**2 * h_mm**0.5 / c  # type: ignore[no-any-return]


@formula("Q", "l/s", f"{_TABLE_7}, other, h <= 2A/L_w", "published, second-hand")
def weir_l_s(
    L_w_mm: float, h_mm: float, k_0: float = en.OUTLET_FREE, c: float = en.OTHER_WEIR
) -> float:
    """Flow over a straight weir, such as an overflow slot.

    Parameters
    ----------
    L_w_mm, h_mm : float
        Length of the weir, head [mm].
    k_0 : float
        1 free, 0.5 with a strainer or grating [-].
    c : float
        Divisor of the standard [mm^2.5 s/l].

    Returns
    -------
    float
        Flow [l/s].

    Examples
    --------
    >>> weir_l_s(300.0, 25.0)
    1.562
    """
    return k_0 * L_w_mm * h_mm ** (3 / 2) / c  # type: ignore[no-any-return]


@formula("Q", "l/s", f"{_TABLE_7}, other, h > 2A/L_w", "published, second-hand")
def orifice_l_s(
    A_mm2: float, h_mm: float, k_0: float = en.OUTLET_FREE, c: float = en.OTHER_ORIFICE
) -> float:
    """Flow into an outlet of any shape in deep water.

    Parameters
    ----------
    A_mm2, h_mm : float
        Plan area [mm2], head [mm].
    k_0 : float
        1 free, 0.5 with a strainer or grating [-].
    c : float
        Divisor of the standard [mm^2.5 s/l].

    Returns
    -------
    float
        Flow [l/s].

    Examples
    --------
    >>> orifice_l_s(6000.0, 60.0)
    3.873
    """
    return k_0 * A_mm2 * h_mm**0.5 / c  # type: ignore[no-any-return]


def circular_outlet(
    D_mm: Known | float, h_mm: Known | float = en.USUAL_HEAD_MM, grated: bool = False
) -> Working:
    """Flow into a circular outlet at any head.

    Parameters
    ----------
    D_mm : float
        Diameter [mm].
    h_mm : float
        Head, on a flat roof the depth of water permitted at the outlet [mm].
    grated : bool
        With a strainer or grating [-].

    Returns
    -------
    Working
        Flow [l/s].

    Examples
    --------
    >>> circular_outlet(75.0).value, circular_outlet(50.0, grated=True).value
    (2.071, 0.493)
    """
    positive("D_mm", D_mm, "mm")
    positive("h_mm", h_mm, "mm")
    k_0 = en.OUTLET_GRATED if grated else en.OUTLET_FREE
    flow = circular_weir_l_s if h_mm <= D_mm / 2 else circular_orifice_l_s
    return flow.show(D_mm, h_mm, k_0)


def other_outlet(
    L_w_mm: Known | float, A_mm2: Known | float, h_mm: Known | float, grated: bool = False
) -> Working:
    """Flow into an outlet of any shape at any head.

    Parameters
    ----------
    L_w_mm : float
        Length of edge over which water enters [mm].
    A_mm2 : float
        Plan area [mm2].
    h_mm : float
        Head [mm].
    grated : bool
        With a strainer or grating [-].

    Returns
    -------
    Working
        Flow [l/s].

    Examples
    --------
    >>> other_outlet(320.0, 6000.0, 30.0).value, other_outlet(320.0, 6000.0, 60.0).value
    (2.191, 3.873)
    """
    for name, value, unit in (("L_w_mm", L_w_mm, "mm"), ("A_mm2", A_mm2, "mm2")):
        positive(name, value, unit)
    positive("h_mm", h_mm, "mm")
    k_0 = en.OUTLET_GRATED if grated else en.OUTLET_FREE
    if h_mm <= 2 * A_mm2 / L_w_mm:
        return weir_l_s.show(L_w_mm, h_mm, k_0)
    return orifice_l_s.show(A_mm2, h_mm, k_0)


def circular_head_mm(Q_l_s: float, D_mm: float, grated: bool = False) -> float:
    """Head that a circular outlet needs for a flow.

    Parameters
    ----------
    Q_l_s : float
        Flow, 0 or more [l/s].
    D_mm : float
        Diameter [mm].
    grated : bool
        With a strainer or grating [-].

    Returns
    -------
    float
        Head [mm].

    Examples
    --------
    >>> circular_head_mm(0.528, 63.0)
    15.8
    """
    positive("D_mm", D_mm, "mm")
    if not (isfinite(Q_l_s) and Q_l_s >= 0):
        raise InvalidInput(f"{Q_l_s:g} l/s", "a flow of 0 l/s or more", where="Q_l_s")
    k_0 = float(en.OUTLET_GRATED if grated else en.OUTLET_FREE)
    shallow = float((Q_l_s * en.CIRCULAR_WEIR / (k_0 * D_mm)) ** (2 / 3))
    if shallow <= D_mm / 2:
        return shallow
    return float((Q_l_s * en.CIRCULAR_ORIFICE / (k_0 * D_mm**2)) ** 2)


@formula("L", "mm", f"{en.SOURCE} Table 7, turned round", "published, second-hand")
def weir_length_mm(Q_l_s: float, h_mm: float, k_w: float = en.OTHER_WEIR) -> float:
    """Length of an edge over which a flow runs.

    Parameters
    ----------
    Q_l_s : float
        Flow [l/s].
    h_mm : float
        Head above the edge [mm].
    k_w : float
        Coefficient [mm^2.5 s/l].

    Returns
    -------
    float
        Length [mm].

    Examples
    --------
    >>> weir_length_mm(1.562, 25.0)
    299.9
    """
    return Q_l_s * k_w / h_mm ** (3 / 2)  # type: ignore[no-any-return]


def slot_length_mm(Q_l_s: float, h_mm: float) -> float:
    """Length of an overflow slot that carries a flow.

    Parameters
    ----------
    Q_l_s : float
        Flow [l/s].
    h_mm : float
        Head above its sill [mm].

    Returns
    -------
    float
        Length [mm].

    Examples
    --------
    >>> slot_length_mm(1.562, 25.0)
    299.9
    """
    positive("Q_l_s", Q_l_s, "l/s")
    positive("h_mm", h_mm, "mm")
    return weir_length_mm(Q_l_s, h_mm)

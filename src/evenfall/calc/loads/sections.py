"""Rectangular sections."""

from __future__ import annotations

from math import pi, tanh

from evenfall.standards import en_1991_1_1, en_1995_1_1
from evenfall.working import formula

_SECTION = "properties of a rectangle"


@formula("A", "m2", _SECTION)
def area(b: float, h: float) -> float:
    """Area of the section.

    Parameters
    ----------
    b, h : float
        Width, depth [m].

    Returns
    -------
    float
        Area [m2].

    Examples
    --------
    >>> area(0.075, 0.200)
    0.0150
    """
    return b * h


@formula("I", "m4", _SECTION)
def second_moment(b: float, h: float) -> float:
    """Second moment of area.

    Parameters
    ----------
    b, h : float
        Width, depth [m].

    Returns
    -------
    float
        Second moment about the level axis [m4].

    Examples
    --------
    >>> second_moment(0.075, 0.200)
    5.00e-5
    """
    return b * h**3 / 12


@formula("W", "m3", _SECTION)
def section_modulus(b: float, h: float) -> float:
    """Section modulus.

    Parameters
    ----------
    b, h : float
        Width, depth [m].

    Returns
    -------
    float
        Modulus about the level axis [m3].

    Examples
    --------
    >>> section_modulus(0.075, 0.200)
    5.00e-4
    """
    return b * h**2 / 6


@formula("A_s", "m2", _SECTION)
def shear_area(b: float, h: float, form: float = en_1995_1_1.SHEAR_FORM) -> float:
    """Area that counts in shear deflection.

    Parameters
    ----------
    b, h : float
        Width, depth [m].
    form : float
        Form factor [-].

    Returns
    -------
    float
        Area [m2].

    Examples
    --------
    >>> shear_area(0.075, 0.200)
    0.01250
    """
    return b * h / form


def torsion_constant(b: float, h: float) -> float:
    """Torsion constant of a rectangle by Saint-Venant's series.

    Parameters
    ----------
    b, h : float
        Smaller side, larger side [m].

    Returns
    -------
    float
        Constant [m4].

    Examples
    --------
    >>> torsion_constant(0.075, 0.200)
    2.148e-5
    """
    b, h = min(b, h), max(b, h)
    odd = range(1, 2 * 10, 2)
    series = sum(tanh(n * pi * h / (2 * b)) / n**5 for n in odd)
    return h * b**3 / 3 * (1 - 6 * (2 / pi) ** 5 * b / h * series)


@formula("g_self", "N/m", _SECTION)
def self_weight(b: float, h: float, rho_mean: float, g: float = en_1991_1_1.G) -> float:
    """Weight of the joist itself.

    Parameters
    ----------
    b, h : float
        Width, depth [m].
    rho_mean : float
        Mean density [kg/m3].
    g : float
        Gravity [m/s2].

    Returns
    -------
    float
        Load per length [N/m].

    Examples
    --------
    >>> self_weight(0.047, 0.195, 420.0)
    37.76
    """
    return b * h * rho_mean * g

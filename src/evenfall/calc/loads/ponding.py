"""Water that gathers because the roof sags, and makes it sag more."""

from __future__ import annotations

from math import pi

from evenfall.errors import OutOfScope
from evenfall.standards import en_1995_1_1
from evenfall.working import Working, formula


@formula("C", "-", "Marino 1966; AISC Appendix 2", "from memory")
def ponding_factor(
    s: float,
    L: float,
    E: float,
    I: float,
    gamma: float = en_1995_1_1.WATER_WEIGHT,
) -> float:
    """Ponding factor of joists that span one way.

    Parameters
    ----------
    s : float
        Spacing of the joists [m].
    L : float
        Span [m].
    E : float
        Modulus of elasticity [Pa].
    I : float
        Second moment of area [m4].
    gamma : float
        Unit weight of water [N/m3].

    Returns
    -------
    float
        Factor; from 1 the roof goes on sinking under water [-].

    Examples
    --------
    >>> ponding_factor(0.400, 4.0, 11.0e9, 2.904e-5)
    0.03228
    """
    return gamma * s * L**4 / (pi**4 * E * I)


@formula("a", "-", "Marino 1966", "from memory")
def ponding_amplification(C: float) -> float:
    """How much ponding enlarges a sag; the factor C must be below 1.

    Parameters
    ----------
    C : float
        Ponding factor [-].

    Returns
    -------
    float
        Final over first sag [-].

    Examples
    --------
    >>> ponding_amplification(0.03228)
    1.0334
    """
    return 1 / (1 - C)


@formula("C", "-", "AISC Appendix 2", "from memory")
def two_way_ponding(C_p: float, C_s: float, share: float = en_1995_1_1.PONDING_SECONDARY) -> float:
    """Ponding figure of a two-way system, to be at most 0.25.

    Parameters
    ----------
    C_p, C_s : float
        Factors of the primary and of the secondary members [-].
    share : float
        Share of the secondary members [-].

    Returns
    -------
    float
        Figure [-].

    Examples
    --------
    >>> two_way_ponding(0.08, 0.05)
    0.125
    """
    return C_p + share * C_s


def amplification(C: Working | float) -> Working:
    """How much ponding enlarges a sag, refused where the roof would go on sinking.

    Parameters
    ----------
    C : Working or float
        Ponding factor, 0 to below 1 [-].

    Returns
    -------
    Working
        Final over first sag [-].

    Examples
    --------
    >>> amplification(0.06904).value
    1.0742
    """
    if not 0 <= float(C) < 1:
        raise OutOfScope("ponding factor C", float(C), "0 to below 1", "Marino 1966")
    return ponding_amplification.show(C)

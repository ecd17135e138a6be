"""Lateral buckling of a joist whose compression edge is not held, by EN 1995-1-1 6.3.3."""

from __future__ import annotations

from math import sqrt

from evenfall.calc.loads.limits import positive
from evenfall.standards import en_1995_1_1 as en
from evenfall.working import Working, formula


@formula("l_ef", "m", f"{en.SOURCE} Table 6.1", "from memory")
def buckling_length(
    L: float, h: float, share: float = en.LENGTH_SHARE, heights: float = en.LENGTH_HEIGHTS
) -> float:
    """Length that counts in lateral buckling, uniform load on the compression edge.

    Parameters
    ----------
    L, h : float
        Length between lateral supports, depth [m].
    share, heights : float
        Share of the length, depths added for the load on top [-].

    Returns
    -------
    float
        Length [m].

    Examples
    --------
    >>> buckling_length(4.5, 0.200)
    4.45
    """
    return share * L + heights * h


@formula("sigma_crit", "Pa", f"{en.SOURCE} (6.32)", "from memory")
def critical_stress(
    b: float, h: float, E_05: float, l_ef: float, factor: float = en.SIGMA_CRIT
) -> float:
    """Critical bending stress of a rectangular softwood joist.

    Parameters
    ----------
    b, h, l_ef : float
        Width, depth, length that counts [m].
    E_05 : float
        Modulus, 5 % value [Pa].
    factor : float
        Factor of the code [-].

    Returns
    -------
    float
        Stress [Pa].

    Examples
    --------
    >>> critical_stress(0.047, 0.195, 7.4e9, 3.99)
    16387568.9
    """
    return factor * b**2 * E_05 / (h * l_ef)


@formula("lambda_rel", "-", f"{en.SOURCE} (6.30)", "from memory")
def relative_slenderness(f_m_k: float, sigma_crit: float) -> float:
    """Relative slenderness in bending.

    Parameters
    ----------
    f_m_k, sigma_crit : float
        Bending strength, critical stress [Pa].

    Returns
    -------
    float
        Slenderness [-].

    Examples
    --------
    >>> relative_slenderness(24.0e6, 16.39e6)
    1.210
    """
    return sqrt(f_m_k / sigma_crit)


@formula("k_crit", "-", f"{en.SOURCE} (6.34), middle branch", "from memory")
def lateral_factor_middle(
    lambda_rel: float, base: float = en.K_CRIT_BASE, slope: float = en.K_CRIT_SLOPE
) -> float:
    """Factor of lateral buckling for a relative slenderness of 0.75 to 1.4.

    Parameters
    ----------
    lambda_rel : float
        Relative slenderness [-].
    base, slope : float
        Numbers of the code [-].

    Returns
    -------
    float
        Factor on bending strength [-].

    Examples
    --------
    >>> lateral_factor_middle(1.21)
    0.6525
    """
    return base - slope * lambda_rel


@formula("k_crit", "-", f"{en.SOURCE} (6.34), slender branch", "from memory")
def lateral_factor_slender(lambda_rel: float) -> float:
    """Factor of lateral buckling for a relative slenderness above 1.4.

    Parameters
    ----------
    lambda_rel : float
        Relative slenderness [-].

    Returns
    -------
    float
        Factor on bending strength [-].

    Examples
    --------
    >>> lateral_factor_slender(1.60)
    0.3906
    """
    return 1 / lambda_rel**2


def lateral_factor(lambda_rel: Working | float) -> Working:
    """Factor of lateral buckling on bending strength, whichever branch holds.

    Parameters
    ----------
    lambda_rel : Working or float
        Relative slenderness, above 0 [-].

    Returns
    -------
    Working
        k_crit; 1 up to 0.75, where the middle branch starts at 0.9975 [-].

    Examples
    --------
    >>> lateral_factor(0.70).value, lateral_factor(1.21).value, lateral_factor(1.60).value
    (1.0, 0.6525, 0.3906)
    """
    slenderness = float(lambda_rel)
    positive("lambda_rel", slenderness, "-")
    if slenderness > en.K_CRIT_TO:
        return lateral_factor_slender.show(lambda_rel)
    if slenderness > en.K_CRIT_FROM:
        return lateral_factor_middle.show(lambda_rel)
    of = (("lambda_rel", "-", lambda_rel),)
    source = f"{en.SOURCE} (6.34), stocky branch"
    return Working("No lateral buckling", "k_crit", "-", source, 1.0, of, "1", "from memory")


@formula("lambda_rel", "-", f"{en.SOURCE} (6.34), middle branch turned round", "from memory")
def slenderness_middle(
    k_crit: float, base: float = en.K_CRIT_BASE, slope: float = en.K_CRIT_SLOPE
) -> float:
    """Relative slenderness at which the factor of lateral buckling falls to a value, 0.51 to 1.

    Parameters
    ----------
    k_crit : float
        Factor on bending strength [-].
    base, slope : float
        Numbers of the code [-].

    Returns
    -------
    float
        Relative slenderness [-].

    Examples
    --------
    >>> slenderness_middle(0.6525)
    1.21
    """
    return (base - k_crit) / slope


@formula("lambda_rel", "-", f"{en.SOURCE} (6.34), slender branch turned round", "from memory")
def slenderness_slender(k_crit: float) -> float:
    """Relative slenderness at which the factor of lateral buckling falls to a value below 0.51.

    Parameters
    ----------
    k_crit : float
        Factor on bending strength [-].

    Returns
    -------
    float
        Relative slenderness [-].

    Examples
    --------
    >>> slenderness_slender(0.3906)
    1.60
    """
    return 1 / sqrt(k_crit)


@formula("l_free", "m", f"{en.SOURCE} (6.30), (6.32) and Table 6.1 turned round", "from memory")
def longest_free(
    b: float,
    h: float,
    E_05: float,
    f_m_k: float,
    lambda_rel: float,
    share: float = en.LENGTH_SHARE_EVEN,
    heights: float = en.LENGTH_HEIGHTS,
    factor: float = en.SIGMA_CRIT,
) -> float:
    """Longest length between lateral supports at a relative slenderness, load on top.

    Parameters
    ----------
    b, h : float
        Width, depth [m].
    E_05, f_m_k : float
        Modulus, 5 % value; bending strength [Pa].
    lambda_rel : float
        Relative slenderness that is allowed [-].
    share, heights, factor : float
        Share of the length, depths added, factor of the code [-].

    Returns
    -------
    float
        Length; nought or less where the joist is too slender at any length [m].

    Examples
    --------
    >>> longest_free(0.047, 0.195, 7.4e9, 24.0e6, 1.21)
    3.60
    """
    return (factor * b**2 * E_05 * lambda_rel**2 / (h * f_m_k) - heights * h) / share


def slenderness_allowed(k_crit: Working | float) -> Working:
    """Relative slenderness up to which the factor of lateral buckling is no less than a value.

    Parameters
    ----------
    k_crit : Working or float
        Factor, above 0 and at most 1 [-].

    Returns
    -------
    Working
        Relative slenderness, at least that of the stocky branch [-].

    Examples
    --------
    >>> slenderness_allowed(0.6525).value, slenderness_allowed(0.3906).value
    (1.21, 1.60)
    """
    wanted = float(k_crit)
    positive("k_crit", wanted, "-")
    if wanted < 1 / en.K_CRIT_TO**2:
        return slenderness_slender.show(k_crit)
    if wanted < en.K_CRIT_BASE - en.K_CRIT_SLOPE * en.K_CRIT_FROM:
        return slenderness_middle.show(k_crit)
    return Working(
        "Stocky enough", "lambda_rel", "-", f"{en.SOURCE} (6.34), stocky branch",
        en.K_CRIT_FROM, (), "0.75", "from memory",
    )  # fmt: skip

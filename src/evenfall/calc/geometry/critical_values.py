"""Critical values of the survey tests: normal, chi-square and tau distributions."""

from __future__ import annotations

import math

from scipy.special import chdtri, ndtri, stdtrit

from evenfall.errors import OutOfScope
from evenfall.standards.survey_practice import ALPHA_ALL, ALPHA_ONE, POWER

_SOURCE = "least-squares theory"


def normal_limit(alpha: float = ALPHA_ONE) -> float:
    """Return the two-sided limit of a standardised residual.

    Parameters
    ----------
    alpha : float
        Risk of calling a good tape wrong, above 0 and below 1 [-].

    Returns
    -------
    float
        Limit of ``|w|`` [-].

    Examples
    --------
    >>> normal_limit(0.001)
    3.2905

    References
    ----------
    .. [1] Standard normal distribution; computed.
    """
    return float(-ndtri(_chance("alpha", alpha) / 2))


def chi_square_limit(dof: int, alpha: float = ALPHA_ALL) -> float:
    """Return the one-sided limit of the test of all tapes together.

    Parameters
    ----------
    dof : int
        Tapes more than needed, 1 or more [-].
    alpha : float
        Risk of rejecting good tapes, above 0 and below 1 [-].

    Returns
    -------
    float
        Limit of T [-].

    Examples
    --------
    >>> chi_square_limit(1), chi_square_limit(10, 0.975)
    (3.8415, 3.2470)

    References
    ----------
    .. [1] Chi-square distribution; computed.
    """
    _at_least("dof", dof, 1)
    return float(chdtri(dof, _chance("alpha", alpha)))


def delta_0(alpha: float = ALPHA_ONE, power: float = POWER) -> float:
    """Return the blunder that is just seen, in standard errors of a fully checked tape.

    Parameters
    ----------
    alpha : float
        Risk of calling a good tape wrong, two-sided, above 0 and below 1 [-].
    power : float
        Chance that the blunder is seen, above 0 and below 1 [-].

    Returns
    -------
    float
        delta0, the square root of the non-centrality [-].

    Examples
    --------
    >>> delta_0(0.001, 0.80)
    4.132

    References
    ----------
    .. [1] Baarda's method of testing; from memory, agrees with the tables.
    """
    return normal_limit(alpha) + float(ndtri(_chance("power", power)))


def tau_limit(dof: int, alpha: float = ALPHA_ONE) -> float:
    """Return Pope's limit of one residual when the accuracy itself is estimated.

    Parameters
    ----------
    dof : int
        Tapes more than needed, 2 or more [-].
    alpha : float
        Risk of calling a good tape wrong, two-sided, above 0 and below 1 [-].

    Returns
    -------
    float
        Critical tau [-].

    Examples
    --------
    >>> tau_limit(3, 0.05)
    1.6454

    References
    ----------
    .. [1] A. J. Pope's tau test, 1976; from memory, agrees with the tables.
    """
    _at_least("dof", dof, 2)
    t = float(stdtrit(dof - 1, 1 - _chance("alpha", alpha) / 2))
    return t * math.sqrt(dof) / math.sqrt(dof - 1 + t**2)


def _chance(name: str, value: float) -> float:
    if not 0 < value < 1:
        raise OutOfScope(name, value, "above 0 and below 1", _SOURCE)
    return float(value)


def _at_least(name: str, value: int, least: int) -> None:
    if value < least:
        raise OutOfScope(name, value, f"{least} or more", _SOURCE)

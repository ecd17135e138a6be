"""A joist under an even load and a load that leans: deepest at one bearing, nothing further out.

Snow drifted against a wall and water gathered at the low side both lie like that.
"""

from __future__ import annotations

from math import sqrt

from evenfall.calc.loads.limits import positive
from evenfall.errors import InvalidInput
from evenfall.working import Known, Working, formula

Given = Known | Working | float
_STATICS = "statics, simply supported"


@formula("R_A", "N", _STATICS)
def near_reaction(w: float, q: float, a: float, L: float) -> float:
    """Reaction at the bearing where the leaning load is deepest.

    Parameters
    ----------
    w, q : float
        Even load, leaning load at the bearing [N/m].
    a, L : float
        Length of the leaning load, span [m].

    Returns
    -------
    float
        Reaction [N].

    Examples
    --------
    >>> near_reaction(0.0, 900.0, 2.0, 3.0)
    700.0
    """
    return w * L / 2 + q * a / 2 * (1 - a / (3 * L))


@formula("R_B", "N", _STATICS)
def far_reaction(w: float, q: float, a: float, L: float) -> float:
    """Reaction at the other bearing.

    Parameters
    ----------
    w, q : float
        Even load, leaning load at the near bearing [N/m].
    a, L : float
        Length of the leaning load, span [m].

    Returns
    -------
    float
        Reaction [N].

    Examples
    --------
    >>> far_reaction(0.0, 900.0, 2.0, 3.0)
    200.0
    """
    return w * L / 2 + q * a**2 / (6 * L)


@formula("x", "m", _STATICS)
def turning_point(R_A: float, w: float, q: float, a: float) -> float:
    """Distance from the near bearing at which the shear is nought, under the leaning load.

    Parameters
    ----------
    R_A : float
        Reaction at the near bearing [N].
    w, q : float
        Even load, leaning load at the bearing [N/m].
    a : float
        Length of the leaning load [m].

    Returns
    -------
    float
        Distance [m].

    Examples
    --------
    >>> turning_point(900.0, 0.0, 900.0, 3.0)
    1.268
    """
    return 2 * R_A / (w + q + sqrt((w + q) ** 2 - 2 * q * R_A / a))


@formula("M", "Nm", _STATICS)
def moment_under_lean(R_A: float, x: float, w: float, q: float, a: float) -> float:
    """Bending moment at a place under the leaning load.

    Parameters
    ----------
    R_A : float
        Reaction at the near bearing [N].
    x, a : float
        Place, length of the leaning load [m].
    w, q : float
        Even load, leaning load at the bearing [N/m].

    Returns
    -------
    float
        Moment [Nm].

    Examples
    --------
    >>> moment_under_lean(900.0, 1.268, 0.0, 900.0, 3.0)
    519.6
    """
    return R_A * x - (w + q) * x**2 / 2 + q * x**3 / (6 * a)


@formula("M", "Nm", _STATICS)
def moment_beyond_lean(R_B: float, w: float) -> float:
    """Greatest bending moment where only the even load lies.

    Parameters
    ----------
    R_B : float
        Reaction at the far bearing [N].
    w : float
        Even load [N/m].

    Returns
    -------
    float
        Moment [Nm].

    Examples
    --------
    >>> moment_beyond_lean(500.0, 250.0)
    500.0
    """
    return R_B**2 / (2 * w)


def leaning_moment(w: Given, q: Given, a: Given, L: Given) -> Working:
    """Greatest bending moment under an even and a leaning load.

    Parameters
    ----------
    w, q : Known or Working or float
        Even load, leaning load at the near bearing, each 0 or more, one above [N/m].
    a, L : Known or Working or float
        Length of the leaning load, at most the span; span [m].

    Returns
    -------
    Working
        Moment [Nm].

    Examples
    --------
    >>> leaning_moment(500.0, 0.0, 2.0, 4.0).value
    1000.0
    >>> leaning_moment(0.0, 900.0, 3.0, 3.0).value
    519.6
    """
    positive("L", float(L), "m")
    positive("a", float(a), "m")
    if float(a) > float(L) * (1 + 1e-9):  # lengths that differ by rounding only
        most = f"at most the span, {float(L):.3f} m"
        raise InvalidInput(f"a = {float(a):.3f} m", most, where="a")
    if min(float(w), float(q)) < 0 or float(w) + float(q) <= 0:
        raise InvalidInput(f"loads {float(w):g} and {float(q):g} N/m", "0 or more", where="w, q")
    near = near_reaction.show(w, q, a, L)
    beyond = far_reaction.show(w, q, a, L)
    if float(w) and beyond.value / float(w) < float(L) - float(a):
        return moment_beyond_lean.show(beyond, w)
    if not float(q):
        return moment_beyond_lean.show(beyond, w)
    at = turning_point.show(near, w, q, a)
    return moment_under_lean.show(near, at, w, q, a)

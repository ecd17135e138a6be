"""A joist under a patch of even load: at one bearing, or at mid-span; boards put down lie so."""

from __future__ import annotations

from evenfall.calc.loads.limits import positive, within
from evenfall.working import Known, Working, formula

Given = Known | Working | float
_STATICS = "statics, simply supported"


@formula("M", "Nm", _STATICS)
def moment_by_the_bearing(w: float, a: float, L: float) -> float:
    """Greatest moment under a patch that begins at a bearing.

    Parameters
    ----------
    w : float
        Load per length of the patch [N/m].
    a, L : float
        Length of the patch, span [m].

    Returns
    -------
    float
        Moment [Nm].

    Examples
    --------
    >>> moment_by_the_bearing(100.0, 4.0, 4.0)
    200.0
    """
    return w * a**2 * (1 - a / (2 * L)) ** 2 / 2


@formula("M", "Nm", _STATICS)
def moment_at_mid_span(w: float, a: float, L: float) -> float:
    """Moment at mid-span under a patch in the middle.

    Parameters
    ----------
    w : float
        Load per length of the patch [N/m].
    a, L : float
        Length of the patch, span [m].

    Returns
    -------
    float
        Moment [Nm].

    Examples
    --------
    >>> moment_at_mid_span(100.0, 4.0, 4.0)
    200.0
    """
    return w * a * (2 * L - a) / 8


@formula("V", "N", _STATICS)
def reaction_by_the_bearing(w: float, a: float, L: float) -> float:
    """Reaction, and shear, of a patch that begins at that bearing.

    Parameters
    ----------
    w : float
        Load per length of the patch [N/m].
    a, L : float
        Length of the patch, span [m].

    Returns
    -------
    float
        Reaction [N].

    Examples
    --------
    >>> reaction_by_the_bearing(100.0, 4.0, 4.0)
    200.0
    """
    return w * a * (1 - a / (2 * L))


@formula("V", "N", _STATICS)
def reaction_at_mid_span(w: float, a: float) -> float:
    """Reaction, and shear, of a patch in the middle.

    Parameters
    ----------
    w : float
        Load per length of the patch [N/m].
    a : float
        Length of the patch [m].

    Returns
    -------
    float
        Reaction [N].

    Examples
    --------
    >>> reaction_at_mid_span(100.0, 4.0)
    200.0
    """
    return w * a / 2


def patch(w: Given, a: Given, L: Given, at_bearing: bool) -> tuple[Working, Working]:
    """Greatest moment and shear of a patch, at one bearing or at mid-span.

    Parameters
    ----------
    w : Known or Working or float
        Load per length of the patch, above 0 [N/m].
    a, L : Known or Working or float
        Length of the patch, at most the span; span [m].
    at_bearing : bool
        Whether it begins at a bearing [-].

    Returns
    -------
    tuple of Working
        Moment [Nm] and shear [N].

    Examples
    --------
    >>> [x.value for x in patch(100.0, 1.0, 4.0, True)]
    [38.28, 87.5]
    """
    positive("w", float(w), "N/m")
    positive("L", float(L), "m")
    positive("a", float(a), "m")
    within("patch in m", float(a), 0.0, float(L), "statics: a patch no longer than the span")
    if at_bearing:
        return moment_by_the_bearing.show(w, a, L), reaction_by_the_bearing.show(w, a, L)
    return moment_at_mid_span.show(w, a, L), reaction_at_mid_span.show(w, a)

"""Which reading is wrong: the test of all together, of each one, and whether it can be told.

A reading explains what is seen if leaving it out takes nearly as much off the squares as the worst
one does, or if its residual goes with that of the worst too closely. One stands alone if no other
explains it and if it fails the test of one reading by itself; it is named if the rest fits without
it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from evenfall.calc.geometry.critical_values import chi_square_limit
from evenfall.calc.geometry.network import CHECKED, Array, Solution
from evenfall.standards.survey_practice import CORRELATED, ONE_MORE, W_CRITICAL

ROUNDED = 6  # decimals of w in which two that explain it alike are equal


@dataclass(frozen=True, slots=True)
class Verdict:
    """Indices of the readings that may be wrong, the likeliest first; empty if all is well."""

    detected: bool
    suspects: tuple[int, ...]
    alone: bool  # the first stands alone
    located: bool = False  # and the rest fits without it
    several: bool = False  # nothing fits without the first: no single one explains it


def standardised(s: Solution) -> Array:
    """Return the standardised residuals.

    Parameters
    ----------
    s : Solution
        Residuals and their cofactors [-].

    Returns
    -------
    array
        w of each reading, 0 where no other checks it [-].

    References
    ----------
    .. [1] Baarda's w = -v / (sigma sqrt(r)); from memory.
    """
    checked = s.redundancy >= CHECKED
    w: Array = np.where(checked, -s.f / np.sqrt(np.where(checked, s.redundancy, 1.0)), 0.0)
    return w


def correlation(cross: Array) -> Array:
    """Return the size of the correlation of each two residuals.

    Parameters
    ----------
    cross : array of shape (readings, readings)
        Cofactors of the residuals in units of the standard errors [-].

    Returns
    -------
    array of the same shape
        From 0 to 1; 0 on the diagonal and for unchecked readings [-].

    Examples
    --------
    >>> correlation(np.array([[0.5, -0.3, 0.0], [-0.3, 0.5, 0.0], [0.0, 0.0, 0.0]]))[0]
    array([0. , 0.6, 0. ])
    """
    r = cross.diagonal()
    checked = r >= CHECKED
    size = np.sqrt(np.where(checked, r, 1.0))
    rho: Array = np.abs(cross) / size / size[:, None]
    rho *= checked & checked[:, None]
    np.fill_diagonal(rho, 0.0)
    return np.minimum(rho, 1.0)


def twins(s: Solution) -> tuple[int | None, ...]:
    """Find for each reading the one from which its blunder could not be told.

    Parameters
    ----------
    s : Solution
        Residuals and their cofactors [-].

    Returns
    -------
    tuple of int or None
        Index of the reading of closest residual, if it is too close [-].
    """
    rho = correlation(s.cross)
    near = rho.argmax(axis=1)
    return tuple(int(j) if rho[i, j] > CORRELATED else None for i, j in enumerate(near.tolist()))


def judged(s: Solution, dof: int) -> Verdict:
    """Test all readings together, then each, then whether one stands alone.

    Parameters
    ----------
    s : Solution
        Residuals and their cofactors [-].
    dof : int
        Readings more than needed [-].

    Returns
    -------
    Verdict
        What is wrong [-].

    References
    ----------
    .. [1] Baarda's data snooping; separability by the correlation of residuals; from memory.
    """
    if not dof:
        return Verdict(False, (), False)
    w = np.abs(standardised(s)).round(ROUNDED)
    worst = int(w.argmax())
    top = float(w[worst])
    if s.t <= chi_square_limit(dof) and top <= W_CRITICAL:
        return Verdict(False, (), False)
    close = (top**2 - w**2 <= ONE_MORE) | (correlation(s.cross)[worst] > CORRELATED)
    close &= s.redundancy >= CHECKED
    order = np.argsort(-w, kind="stable")
    suspects = tuple(int(i) for i in order if close[i])
    return Verdict(True, suspects, len(suspects) == 1 and top > W_CRITICAL)


def settled(verdict: Verdict, rest: Solution, there: Solution, dof: int) -> Verdict:
    """Name the first suspect, or say that no single reading is to blame.

    Parameters
    ----------
    verdict : Verdict
        With one suspect or more [-].
    rest : Solution
        The plan without the first of them [-].
    there : Solution
        All readings in the places of that plan: a blunder bends the plan, and with it what its
        residuals have in common [-].
    dof : int
        Readings more than needed for that plan, 1 or more [-].

    Returns
    -------
    Verdict
        With ``located`` or ``several`` set where it is so [-].
    """
    fits = rest.t <= chi_square_limit(dof)
    first = verdict.suspects[0]
    like = correlation(there.cross)[first] > CORRELATED
    if verdict.alone and fits and like.any():
        others = tuple(int(i) for i in np.flatnonzero(like))
        return replace(verdict, suspects=(first, *others), alone=False)
    return replace(verdict, located=verdict.alone and fits, several=not fits)

"""Between what limits an answer lies."""

from __future__ import annotations

import math
from dataclasses import dataclass

from evenfall.calc.physics.conduction.mesh import Floats


@dataclass(frozen=True, slots=True)
class Bracket:
    """Best answer and the limits that enclose the true one.

    Parameters
    ----------
    low : float
        Never more than the true answer [any].
    best : float
        Half-way between the limits [any].
    high : float
        Never less than the true answer [any].

    Examples
    --------
    >>> Bracket(9.0, 9.5, 10.0).half_width
    0.5
    """

    low: float
    best: float
    high: float

    @property
    def half_width(self) -> float:
        """How far the best answer may be out [any]."""
        return (self.high - self.low) / 2

    def without_limit(self) -> Bracket:
        """Keep only the limit on the side of no heat: the other side has none."""
        if self.low >= 0:
            return Bracket(self.low, self.low, math.inf)
        return Bracket(-math.inf, self.high, self.high)

    def scaled(self, factor: float, less: float = 0.0) -> Bracket:
        """Multiply by a factor, then take away what is known exactly."""
        low, high = sorted((self.low * factor - less, self.high * factor - less))
        return Bracket(low, self.best * factor - less, high)


def heat_flow(lower: Floats, upper: Floats, airs: Floats, temperatures: Floats) -> Bracket:
    """Enclose the heat that some airs give, for any number of airs and temperatures.

    With ``lower`` below and ``upper`` above the true conductances (as forms: for every set of
    temperatures the energy lies between), and D their difference, the flow lies within
    ``(a.D.t ± sqrt(a.D.a t.D.t)) / 2`` of the lower one. For two airs this is the plain pair.

    Parameters
    ----------
    lower : array
        Conductances between the airs from the finite volumes [W/(m K)].
    upper : array
        The same from the elements [W/(m K)].
    airs : array
        1 for the airs whose heat is asked for, 0 for the others [-].
    temperatures : array
        Temperature of each air [C].

    Returns
    -------
    Bracket
        Heat given to the detail [W/m].

    Examples
    --------
    >>> import numpy as np
    >>> one = np.array([[1.0, -1.0], [-1.0, 1.0]])
    >>> heat_flow(one, 1.1 * one, np.array([1.0, 0.0]), np.array([20.0, 0.0]))
    Bracket(low=20.0, best=21.0, high=22.0)
    """
    D = upper - lower
    # airs and temperatures are known up to a constant: take the one that loses least to rounding
    t = temperatures - temperatures.mean()
    a = airs - airs.mean()
    start, middle = float(a @ lower @ t), float(a @ D @ t) / 2
    spread = math.sqrt(max(float(a @ D @ a), 0.0) * max(float(t @ D @ t), 0.0)) / 2
    best = start + middle
    return Bracket(_plain(best - spread), _plain(best), _plain(best + spread))


def _plain(value: float) -> float:
    """Drop the noise of the last digits."""
    return float(f"{value:.12g}")

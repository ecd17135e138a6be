"""An edge over every thickness on sale: a few exact answers, and a curve that is checked between.

The curve is a monotone cubic (it makes no hump that the exact answers do not have). It is believed
where, half-way between two exact answers, it lies inside the bracket of a third.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from scipy.interpolate import PchipInterpolator

from evenfall.calc.physics.edge_values import EdgeValues
from evenfall.errors import InvalidInput

MOST = 8
"""Exact answers of one edge, at most: what the screen can wait for."""

FACTOR_SLACK = 0.005
"""How far the temperature factor may be out: a tenth of a degree at 20 inside and 0 outside."""


@dataclass(frozen=True, slots=True)
class At:
    """The edge at one thickness.

    Parameters
    ----------
    thickness : float
        Thickness of the insulation, in the unit it was asked in [any].
    psi, low, high : float
        Linear transmittance and its bracket [W/(m K)].
    factor : float
        Temperature factor of the coldest place [-].
    exact : bool
        Whether it was solved, not read from the curve [-].
    """

    thickness: float
    psi: float
    low: float
    high: float
    factor: float
    exact: bool


@dataclass(frozen=True, slots=True)
class Curve:
    """The edge over all thicknesses.

    Parameters
    ----------
    points : tuple of At
        The thinnest first [-].
    solves : int
        Exact answers that it took [-].
    sound : bool
        Whether every check half-way lay inside its bracket [-].
    """

    points: tuple[At, ...]
    solves: int
    sound: bool

    def at(self, thickness: float) -> At:
        """Find the point of a thickness."""
        for point in self.points:
            if point.thickness == thickness:
                return point
        sold = ", ".join(f"{p.thickness:g}" for p in self.points)
        raise InvalidInput(f"thickness {thickness:g}", f"one of {sold}", where="edge curve")


def curve(
    values_of: Callable[[float], EdgeValues], thicknesses: Sequence[float], most: int = MOST
) -> Curve:
    """Give an edge at every thickness with few exact answers.

    Parameters
    ----------
    values_of : callable
        Solves the edge for a thickness [-].
    thicknesses : sequence of float
        Rising [any].
    most : int
        Exact answers, at most; 3 or more [-].

    Returns
    -------
    Curve
        A point for each thickness [-].

    Raises
    ------
    InvalidInput
        No thickness, or they do not rise, or fewer than 3 answers are allowed.

    Examples
    --------
    >>> from evenfall.calc.physics.conduction import Bracket
    >>> def edge(t):
    ...     psi = 0.2 + 0.001 * (t - 100)
    ...     return EdgeValues(Bracket(1, 1, 1), Bracket(psi - 0.01, psi, psi + 0.01), 0.8, (0, 0))
    >>> found = curve(edge, range(50, 170, 5))
    >>> found.solves, len(found.points), found.sound, round(found.at(115).psi, 3)
    (5, 24, True, 0.215)
    """
    steps = list(thicknesses)
    if not steps or any(b <= a for a, b in pairwise(steps)) or most < 3:
        raise InvalidInput(
            f"{len(steps)} thicknesses, {most} answers", "rising thicknesses, 3 answers or more",
            where="edge curve",
        )  # fmt: skip
    last = len(steps) - 1
    known = {n: values_of(steps[n]) for n in sorted({0, last // 2, last})}
    sound = _checked(known, values_of, steps, most)
    return Curve(_points(known, steps), len(known), sound)


def shifted(like: Curve, values_of: Callable[[float], EdgeValues]) -> Curve:
    """Give an edge that is built like another by the other's curve and one exact answer.

    Edges of one build differ in an overhang or a fascia, which moves the curve and hardly bends
    it; the move is taken half-way.

    Parameters
    ----------
    like : Curve
        The other edge [-].
    values_of : callable
        Solves this edge for a thickness [-].

    Returns
    -------
    Curve
        A point for each thickness; one of them exact [-].

    Examples
    --------
    >>> from evenfall.calc.physics.conduction import Bracket
    >>> def edge(psi):
    ...     return EdgeValues(Bracket(1, 1, 1), Bracket(psi - 0.01, psi, psi + 0.01), 0.8, (0, 0))
    >>> other = curve(lambda t: edge(0.2 + 0.001 * t), range(5))
    >>> found = shifted(other, lambda t: edge(0.3 + 0.001 * t))
    >>> found.solves, round(found.at(4).psi, 3), [p.exact for p in found.points].count(True)
    (1, 0.304, 1)
    """
    middle = like.points[(len(like.points) - 1) // 2]
    own = values_of(middle.thickness)
    up, warmer = own.psi.best - middle.psi, own.factor - middle.factor
    points = tuple(
        At(
            p.thickness, p.psi + up, p.low + up - own.psi.half_width,
            p.high + up + own.psi.half_width, p.factor + warmer, p is middle,
        )
        for p in like.points
    )  # fmt: skip
    return Curve(points, 1, like.sound)


def _checked(
    known: dict[int, EdgeValues],
    values_of: Callable[[float], EdgeValues],
    steps: list[float],
    most: int,
) -> bool:
    """Ask for exact answers half-way until the curve agrees with them."""
    gaps = _gaps(sorted(known))
    while gaps:
        bad = []
        for a, b in gaps:
            if len(known) >= most:
                return False
            middle = (a + b) // 2
            guess = _read(known, steps, [middle])[0]
            known[middle] = values_of(steps[middle])
            if not _agrees(guess, known[middle]):
                bad += [(a, middle), (middle, b)]
        gaps = [(a, b) for a, b in bad if b - a > 1]
    return True


def _gaps(nodes: list[int]) -> list[tuple[int, int]]:
    return [(a, b) for a, b in pairwise(nodes) if b - a > 1]


def _agrees(guess: tuple[float, float, float], exact: EdgeValues) -> bool:
    psi, _, factor = guess
    inside = exact.psi.low <= psi <= exact.psi.high
    return inside and abs(factor - exact.factor) <= FACTOR_SLACK


def _read(
    known: dict[int, EdgeValues], steps: list[float], wanted: Sequence[int]
) -> list[tuple[float, float, float]]:
    """Read psi, half its bracket and the factor from the curve through the exact answers."""
    nodes = sorted(known)
    rows = np.array([(known[n].psi.best, known[n].psi.half_width, known[n].factor) for n in nodes])
    read = PchipInterpolator([float(steps[n]) for n in nodes], rows)([steps[n] for n in wanted])
    return [(float(a), float(b), float(c)) for a, b, c in read]


def _points(known: dict[int, EdgeValues], steps: list[float]) -> tuple[At, ...]:
    asked = [n for n in range(len(steps)) if n not in known]
    found = {
        n: At(steps[n], v.psi.best, v.psi.low, v.psi.high, v.factor, True) for n, v in known.items()
    }
    for n, (psi, half, factor) in zip(asked, _read(known, steps, asked) if asked else [],
                                      strict=True):  # fmt: skip
        found[n] = At(steps[n], psi, psi - half, psi + half, factor, False)
    return tuple(found[n] for n in sorted(found))

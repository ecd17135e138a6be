"""Least squares of taped distances between points: steps, cofactors, redundancy.

Names follow the theory: A design, f computed minus observed, both divided by the standard error
of the tape; N normal equations, Q cofactors. Without fixed points the datum is the inner one
(the points as a whole neither move nor turn), so that no corner is taken to be exact.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Ends = NDArray[np.int64]

STEPS = 100  # of the iteration at most; five are usual
SMALL = 1e-9  # m, a step that changes nothing; also the relative size of a singular value
CHECKED = 1e-6  # a redundancy number below is rounding: no other tape checks this one
LOOSE = 100  # a point this many times worse than a usual tape is not held by the tapes
EVERY_CORNER_FREE = 3  # a plan as a whole can move in x and in y, and turn


@dataclass(frozen=True, slots=True)
class Network:
    """Tapes as arrays: both ends, lengths and standard errors; and which points are known."""

    names: tuple[str, ...]  # the corners first, in order round the roof
    corners: int
    known: tuple[tuple[int, float, float], ...]  # index and place of the fixed points
    free: Ends  # columns of the coordinates that are not known
    a: Ends
    b: Ends
    length: Array
    sigma: Array


@dataclass(frozen=True, slots=True)
class Solution:
    """Places, residuals in units of the standard error, cofactors of all coordinates."""

    xy: Array
    f: Array  # (adjusted - observed) / sigma
    design: Array
    cofactor: Array
    redundancy: Array
    loose: int | None  # index of a point that the tapes do not hold

    @property
    def t(self) -> float:
        """The weighted sum of squares."""
        return float(self.f @ self.f)

    @property
    def without_worst(self) -> float:
        """What is left of the squares when the tape that explains most of them is left out."""
        checked = self.redundancy > CHECKED
        gain = self.f[checked] ** 2 / self.redundancy[checked]
        return max(0.0, self.t - float(gain.max(initial=0.0)))


def columns(points: int, held: set[int]) -> Ends:
    """Return the columns of the coordinates of the points that are not known.

    Parameters
    ----------
    points : int
        How many points there are [-].
    held : set of int
        Indices of those that are known [-].

    Returns
    -------
    array of int
        Two columns for each of the others [-].

    Examples
    --------
    >>> columns(3, {1}).tolist()
    [0, 1, 4, 5]
    """
    return np.array([2 * i + k for i in range(points) if i not in held for k in (0, 1)])


def settle(net: Network, xy: Array) -> Array:
    """Move the points until the weighted squares of the residuals are least.

    Parameters
    ----------
    net : Network
        Tapes and known points [m].
    xy : array of shape (points, 2)
        Start values [m].

    Returns
    -------
    array of shape (points, 2)
        Adjusted places [m].

    References
    ----------
    .. [1] Least-squares theory (Gauss-Newton; damped where a step makes it worse); from memory.
    """
    free, damping = net.free, 0.0
    design, f = _design(net, xy)
    for _ in range(STEPS):
        normal = _normal(net, design, xy)
        size = normal.trace() / len(normal)
        normal.flat[:: len(normal) + 1] += size * (damping + SMALL * 1e-3)
        step = np.zeros(xy.size)
        step[free] = np.linalg.solve(normal, -design.T @ f)
        tried = xy + step.reshape(-1, 2)
        design_tried, f_tried = _design(net, tried)
        if f_tried @ f_tried > (f @ f) * (1 + SMALL) + SMALL**2:
            damping = max(damping * 10, 1e-3)
            continue
        xy, design, f, damping = tried, design_tried, f_tried, damping / 10
        if np.abs(step).max() < SMALL:
            break
    return xy


def solve(net: Network, xy: Array) -> Solution:
    """Adjust the points and work out how well the tapes hold them and each other.

    Parameters
    ----------
    net : Network
        Tapes and known points [m].
    xy : array of shape (points, 2)
        Start values [m].

    Returns
    -------
    Solution
        Places, residuals, cofactors, redundancy numbers [m].

    References
    ----------
    .. [1] Least-squares theory: Q = pinv(N), R = I - A Q A'P; from memory.
    """
    xy = settle(net, xy)
    design, f = _design(net, xy)
    values, vectors = np.linalg.eigh(design.T @ design)
    datum = 0 if net.known else EVERY_CORNER_FREE
    loose = None
    if len(values) > datum and values[datum] <= SMALL * values[-1]:
        moves = _without_datum(net, xy, vectors[:, : datum + 1])
        loose = int(net.free[int(np.abs(moves).argmax())]) // 2
    held = values > SMALL * values[-1]
    cofactor = np.zeros((xy.size, xy.size))
    q = (vectors[:, held] / values[held]) @ vectors[:, held].T
    cofactor[np.ix_(net.free, net.free)] = q
    spread = np.sqrt(np.maximum(cofactor.diagonal(), 0))
    if loose is None and spread.max() > LOOSE * np.median(net.sigma):
        loose = int(spread.argmax()) // 2
    redundancy = np.clip(1 - ((design @ q) * design).sum(axis=1), 0, 1)
    return Solution(xy, f, design, cofactor, redundancy, loose)


def _design(net: Network, xy: Array) -> tuple[Array, Array]:
    """Rows of the free points only, and computed minus observed; both over sigma."""
    way = xy[net.a] - xy[net.b]
    distance = np.maximum(np.hypot(way[:, 0], way[:, 1]), SMALL)
    unit = way / (distance * net.sigma)[:, None]
    design = np.zeros((len(net.a), xy.size))
    rows = np.arange(len(net.a))
    for k in (0, 1):
        design[rows, 2 * net.a + k] = unit[:, k]
        design[rows, 2 * net.b + k] = -unit[:, k]
    return design[:, net.free], (distance - net.length) / net.sigma


def _normal(net: Network, design: Array, xy: Array) -> Array:
    """Form the normal equations, with the inner datum where nothing is fixed."""
    normal = design.T @ design
    if not net.known:
        g = _datum(xy)
        normal += (normal.trace() / len(normal)) * (g @ g.T)
    return normal


def _datum(xy: Array) -> Array:
    """Return the three movements of the plan as a whole, each of unit size."""
    g = np.zeros((xy.size, 3))
    g[0::2, 0] = g[1::2, 1] = 1
    middle = xy - xy.mean(axis=0)
    g[0::2, 2], g[1::2, 2] = -middle[:, 1], middle[:, 0]
    unit: Array = g / np.sqrt((g * g).sum(axis=0))
    return unit


def _without_datum(net: Network, xy: Array, moves: Array) -> Array:
    """Return what is left of some movements when the plan as a whole is held."""
    if net.known:
        return moves
    g = _datum(xy)
    left: Array = moves - g @ (g.T @ moves)
    return left[:, np.abs(left).max(axis=0).argmax()]

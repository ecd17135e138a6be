"""Least squares of taped distances and right-angle offsets: steps, cofactors, redundancy.

Names follow the theory: A design, f computed minus observed, both divided by the standard error
of the reading; N normal equations, Q cofactors. The tapes come first, then each offset gives two
readings: along its line, and square to it (to the left positive). Without fixed points the datum
is the inner one (the points as a whole neither move nor turn): no corner is taken to be exact.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Ends = NDArray[np.int64]

STEPS = 100  # of the iteration at most; five are usual
SMALL = 1e-9  # m, no distance; also the relative size of a singular value
DONE = 1e-7  # m, a step after which the next one is a thousandth of it at most
CHECKED = 1e-6  # a redundancy number below is rounding: no other tape checks this one
LOOSE = 100  # a point this many times worse than a usual tape is not held by the tapes
EVERY_CORNER_FREE = 3  # a plan as a whole can move in x and in y, and turn


@dataclass(frozen=True, slots=True)
class Network:
    """Readings as arrays, and which points are known.

    Tapes have both ends and lengths; offsets their point, both ends of their line, and what was
    read along and to the left; ``sigma`` is the standard error of all readings in that order.
    """

    names: tuple[str, ...]  # the corners first, in order round the roof
    corners: int
    known: tuple[tuple[int, float, float], ...]  # index and place of the fixed points
    free: Ends  # columns of the coordinates that are not known
    a: Ends
    b: Ends
    length: Array
    sigma: Array
    point: Ends = field(default_factory=lambda: np.zeros(0, int))
    start: Ends = field(default_factory=lambda: np.zeros(0, int))
    end: Ends = field(default_factory=lambda: np.zeros(0, int))
    square: Array = field(default_factory=lambda: np.zeros((0, 2)))  # along, to the left

    @property
    def columns(self) -> tuple[Ends, Ends]:
        """Columns of x and y of both ends of each tape."""
        pair = np.arange(2)
        return 2 * self.a[:, None] + pair, 2 * self.b[:, None] + pair

    @property
    def datum(self) -> int:
        """How many ways the plan as a whole can move."""
        return 0 if self.known else EVERY_CORNER_FREE

    @property
    def dof(self) -> int:
        """Readings more than are needed."""
        return len(self.sigma) - len(self.free) + self.datum


@dataclass(frozen=True, slots=True)
class Solution:
    """Places, residuals in units of the standard error, cofactors of all coordinates."""

    xy: Array
    f: Array  # (adjusted - observed) / sigma
    design: Array
    cofactor: Array
    cross: Array  # cofactors of the residuals in units of the standard errors: I - A Q A'
    redundancy: Array  # its diagonal
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
    datum = 0.0 if net.known else _datum(xy) @ _datum(xy).T
    every = np.arange(len(free))
    for _ in range(STEPS):
        normal = design.T @ design
        size = normal.trace() / len(normal)
        normal += size * datum
        normal[every, every] += size * (damping + SMALL * 1e-3)
        step = np.zeros(xy.size)
        step[free] = np.linalg.solve(normal, -f @ design)
        tried = xy + step.reshape(-1, 2)
        design_tried, f_tried = _design(net, tried)
        if f_tried @ f_tried > (f @ f) * (1 + SMALL) + SMALL**2:
            damping = max(damping * 10, 1e-3)
            continue
        xy, design, f, damping = tried, design_tried, f_tried, damping / 10
        if np.abs(step).max() < DONE:
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
    return weighed(net, settle(net, xy))


def weighed(net: Network, xy: Array) -> Solution:
    """Work out how well the tapes would hold the points and each other in given places.

    Parameters
    ----------
    net : Network
        Tapes and known points [m].
    xy : array of shape (points, 2)
        The places [m].

    Returns
    -------
    Solution
        Residuals, cofactors, redundancy numbers there [m].
    """
    design, f = _design(net, xy)
    values, vectors = np.linalg.eigh(design.T @ design)
    datum, loose = net.datum, None
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
    cross = np.eye(len(f)) - design @ q @ design.T
    return Solution(xy, f, design, cofactor, cross, np.clip(cross.diagonal(), 0, 1), loose)


def _design(net: Network, xy: Array) -> tuple[Array, Array]:
    """Rows of the free points only, and computed minus observed; both over sigma."""
    way = xy[net.a] - xy[net.b]
    distance = np.maximum(np.sqrt(way[:, 0] ** 2 + way[:, 1] ** 2), SMALL)
    unit = way / distance[:, None]
    design = np.zeros((len(net.sigma), xy.size))
    rows = np.arange(len(net.a))[:, None]
    design[rows, net.columns[0]] = unit
    design[rows, net.columns[1]] = -unit
    f = distance - net.length
    if len(net.point):
        f = np.concatenate([f, _offsets(net, xy, design[len(rows) :])])
    design /= net.sigma[:, None]
    return (design[:, net.free] if net.known else design), f / net.sigma


def _offsets(net: Network, xy: Array, rows: Array) -> Array:
    """Fill in the rows of the offsets; return computed minus observed."""
    base, arm = xy[net.end] - xy[net.start], xy[net.point] - xy[net.start]
    size = np.maximum(np.hypot(base[:, 0], base[:, 1]), SMALL)[:, None]
    along = base / size
    left = np.stack([-along[:, 1], along[:, 0]], axis=1)
    s, q = (arm * along).sum(axis=1), (arm * left).sum(axis=1)
    at = 2 * np.arange(len(s))
    parts = ((0, along, q[:, None] * left / size), (1, left, -s[:, None] * left / size))
    for row, own, turned in parts:  # the line turns with its ends, and the offset with it
        for k in (0, 1):
            rows[at + row, 2 * net.point + k] += own[:, k]
            rows[at + row, 2 * net.end + k] += turned[:, k]
            rows[at + row, 2 * net.start + k] -= own[:, k] + turned[:, k]
    gaps: Array = (np.stack([s, q], axis=1) - net.square).ravel()
    return gaps


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

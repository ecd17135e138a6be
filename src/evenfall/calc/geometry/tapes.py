"""The plan of a roof from taped distances by least squares, and what the tapes say of each other.

More tapes than needed let a blunder show. It is reported here, not refused: `Adjusted` names the
suspects, and whether they can be told apart. Only tapes that make no plan at all are an error.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from evenfall.calc.geometry.critical_values import chi_square_limit
from evenfall.calc.geometry.layouts import Layout, layouts
from evenfall.calc.geometry.network import (
    CHECKED,
    EVERY_CORNER_FREE,
    Array,
    Network,
    Solution,
    columns,
)
from evenfall.calc.geometry.polygon import Polygon
from evenfall.calc.geometry.tape_checks import check_tapes
from evenfall.standards.survey_practice import DELTA_0, ONE_MORE, TAPE_SIGMA, W_CRITICAL

HALF_TURN_DEG = 180  # an axis looks the same from both its ends


@dataclass(frozen=True, slots=True)
class Tape:
    """One reading of the distance between two points, in m, with its standard error in m."""

    name: str
    a: str
    b: str
    length: float
    sigma: float = TAPE_SIGMA


@dataclass(frozen=True, slots=True)
class Station:
    """A point that is known: its place in m."""

    name: str
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Corner:
    """An adjusted corner in m, its standard errors in m and their covariance in m²."""

    name: str
    x: float
    y: float
    sigma_x: float
    sigma_y: float
    covariance: float

    @property
    def sigma(self) -> float:
        """Standard error in the worst direction: half the long axis of the error ellipse, in m."""
        return self.ellipse[0]

    @property
    def ellipse(self) -> tuple[float, float, float]:
        """The standard ellipse: its long and short half axis in m, and its turn in degrees.

        The turn is that of the long axis from x towards y, from 0 up to 180.
        """
        mean = (self.sigma_x**2 + self.sigma_y**2) / 2
        half = (self.sigma_x**2 - self.sigma_y**2) / 2
        out = math.hypot(half, self.covariance)
        turn = math.degrees(math.atan2(self.covariance, half)) / 2
        return (math.sqrt(mean + out), math.sqrt(max(mean - out, 0.0)), turn % HALF_TURN_DEG)


@dataclass(frozen=True, slots=True)
class TapeCheck:
    """What the other tapes say of one.

    ``residual`` is adjusted minus observed in m; ``redundancy`` from 0 (nobody checks it) to 1;
    ``w`` the standardised residual; ``error`` how much too long in m it reads if it alone is
    wrong; ``least_seen`` the smallest blunder in m that would show. The last two are None for an
    unchecked tape.
    """

    tape: Tape
    residual: float
    redundancy: float
    w: float
    error: float | None
    least_seen: float | None

    @property
    def adjusted(self) -> float:
        """The adjusted length in m."""
        return float(self.tape.length) + self.residual


@dataclass(frozen=True, slots=True)
class Adjusted:
    """A plan with its quality.

    ``t`` is tested against ``limit`` (None with dof 0: nothing is checked). ``detected`` says that
    some tape is wrong, ``suspects`` which it may be, ``located`` that it is the one. ``ambiguous``
    names the corners that could as well be folded to the other side; ``next_tape`` is the
    distance not yet taped that would help most (None if all are). ``sigma_mm`` is the standard
    error of the worst corner: what the plan is good to.
    """

    corners: tuple[Corner, ...]
    tapes: tuple[TapeCheck, ...]
    t: float
    dof: int
    limit: float | None
    sigma_mm: float
    detected: bool
    suspects: tuple[str, ...]
    located: bool
    ambiguous: tuple[str, ...]
    next_tape: tuple[str, str] | None

    @property
    def polygon(self) -> Polygon:
        """Corners in order as (x, y) in m."""
        return tuple((c.x, c.y) for c in self.corners)

    @property
    def s0(self) -> float:
        """Standard error of unit weight: 1 if the tapes are as good as they were said to be."""
        return math.sqrt(self.t / self.dof) if self.dof else 0.0


def adjust(
    corners: tuple[str, ...],
    tapes: tuple[Tape, ...],
    fixed: tuple[Station, ...] = (),
    where: str = "survey.tapes",
) -> Adjusted:
    """Adjust taped distances to the plan that fits all of them best.

    Without fixed points no corner counts as exact; the plan is then laid with its first corner at
    the origin, the second on the x axis, the rest above.

    Parameters
    ----------
    corners : tuple of str
        Names in order round the roof, anticlockwise; 3 to 30 [-].
    tapes : tuple of Tape
        Every side, diagonals to place each corner, and more to check them; a distance may be
        read twice [m].
    fixed : tuple of Station
        None, or two or more known points, corners or not; then any number of corners from 1 [m].
    where : str
        Place in the input, named in errors [-].

    Returns
    -------
    Adjusted
        Corners, what is known of each tape, and how good the plan is; `InvalidInput` if the
        tapes make no plan [m].

    Examples
    --------
    >>> read = (("A", "B", 8.004), ("B", "C", 5.001), ("C", "D", 7.998), ("D", "A", 4.997),
    ...         ("A", "C", 9.436), ("B", "D", 9.431))
    >>> plan = adjust(("A", "B", "C", "D"), tuple(Tape(a + b, a, b, l, 0.003) for a, b, l in read))
    >>> plan.polygon[1:]
    ((8.00366, 0.0), (8.00236, 5.00079), (0.00470, 4.99679))
    >>> plan.t, plan.dof, plan.limit, plan.detected
    (0.0708, 1, 3.8415, False)

    References
    ----------
    .. [1] Least-squares theory with Baarda's test of each tape; from memory, agrees with the
       published cases.
    """
    held = {s.name for s in fixed}
    names = corners + tuple(s.name for s in fixed if s.name not in corners)
    index = {name: i for i, name in enumerate(names)}
    known = tuple((index[s.name], s.x, s.y) for s in fixed)
    check_tapes(corners, tuple((t.name, t.a, t.b, t.length, t.sigma) for t in tapes), held, where)
    net = Network(
        names,
        len(corners),
        known,
        columns(len(names), {i for i, _, _ in known}),
        np.array([index[t.a] for t in tapes]),
        np.array([index[t.b] for t in tapes]),
        np.array([t.length for t in tapes], float),
        np.array([t.sigma for t in tapes], float),
    )
    found = layouts(net, tuple(t.name for t in tapes), where)
    return _report(net, tapes, found)


def _report(net: Network, tapes: tuple[Tape, ...], layout: Layout) -> Adjusted:
    s = layout.solution
    dof = len(tapes) - (len(net.free) - (0 if net.known else EVERY_CORNER_FREE))
    checks = tuple(
        _check(*row)
        for row in zip(tapes, (s.f * net.sigma).tolist(), s.redundancy.tolist(), strict=True)
    )
    limit = chi_square_limit(dof) if dof else None
    worst = max((abs(c.w) for c in checks), default=0.0)
    detected = limit is not None and (s.t > limit or worst > W_CRITICAL)
    # a tape explains what is seen if leaving it out takes nearly as much off t as the worst does
    order = sorted(checks, key=lambda c: -round(abs(c.w), 6))
    near = [c for c in order if worst**2 - c.w**2 <= ONE_MORE and c.redundancy > 0]
    rest_fits = dof > 1 and s.t - worst**2 <= chi_square_limit(dof - 1)
    corners = _corners(net, s, layout.xy, layout.turned)
    scale = max(1.0, math.sqrt(s.t / dof)) if detected else 1.0
    return Adjusted(
        corners=corners,
        tapes=checks,
        t=s.t,
        dof=dof,
        limit=limit,
        sigma_mm=1000 * scale * max(c.sigma for c in corners),
        detected=detected,
        suspects=tuple(c.tape.name for c in near) if detected else (),
        located=detected and len(near) == 1 and rest_fits,
        ambiguous=layout.ambiguous,
        next_tape=layout.settled_by or _next_tape(net, s),
    )


def _check(tape: Tape, residual: float, redundancy: float) -> TapeCheck:
    if redundancy < CHECKED:
        return TapeCheck(tape, residual, 0.0, 0.0, None, None)
    root = math.sqrt(redundancy)
    return TapeCheck(
        tape,
        residual,
        redundancy,
        -residual / (float(tape.sigma) * root),
        -residual / redundancy,
        float(DELTA_0) * float(tape.sigma) / root,
    )


def _corners(net: Network, s: Solution, xy: Array, turned: Array) -> tuple[Corner, ...]:
    """Corners in their frame; ``turned`` is the rotation (or reflection) into it."""
    found = []
    for i in range(net.corners):
        block = turned @ s.cofactor[2 * i : 2 * i + 2, 2 * i : 2 * i + 2] @ turned.T
        x, y = (float(v) for v in xy[i])
        (xx, cov), (_, yy) = block.tolist()
        found.append(
            Corner(net.names[i], x, y, math.sqrt(max(xx, 0.0)), math.sqrt(max(yy, 0.0)), cov)
        )
    return tuple(found)


def _next_tape(net: Network, s: Solution) -> tuple[str, str] | None:
    """Find the distance not yet taped that brings most check to the tape least checked."""
    taped = {frozenset(p) for p in zip(net.a.tolist(), net.b.tolist(), strict=True)}
    held = {i for i, _, _ in net.known}
    pairs = [
        (i, j)
        for i, j in combinations(range(len(net.names)), 2)
        if frozenset((i, j)) not in taped and not {i, j} <= held
    ]
    if not pairs:
        return None
    a, b = np.array(pairs).T
    way = s.xy[a] - s.xy[b]
    unit = way / np.hypot(way[:, 0], way[:, 1])[:, None]
    rows = np.zeros((len(pairs), s.xy.size))
    at = np.arange(len(pairs))
    for k in (0, 1):
        rows[at, 2 * a + k], rows[at, 2 * b + k] = unit[:, k], -unit[:, k]
    spread = rows @ s.cofactor  # per new tape
    own = np.median(net.sigma) ** 2 + (spread * rows).sum(axis=1)
    gain = (s.design @ spread[:, net.free].T) ** 2 / own  # per tape and new tape
    best = int((s.redundancy[:, None] + gain).min(axis=0).round(9).argmax())
    i, j = pairs[best]
    return (net.names[i], net.names[j])

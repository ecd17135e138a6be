"""The plan of a roof from taped distances by least squares, and what the tapes say of each other.

More tapes than needed let a blunder show. It is reported here, not refused: `Adjusted` names the
suspects, and whether they can be told apart; one that is beyond doubt is left out. Only tapes that
make no plan at all are an error.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import partial

import numpy as np

from evenfall.calc.geometry.adjusted import (
    Adjusted,
    Corner,
    NextTape,
    Offset,
    Station,
    Tape,
    TapeCheck,
)
from evenfall.calc.geometry.blunders import Verdict, judged, settled, twins
from evenfall.calc.geometry.critical_values import chi_square_limit
from evenfall.calc.geometry.layouts import Layout, layouts
from evenfall.calc.geometry.network import CHECKED, Network, columns, weighed
from evenfall.calc.geometry.next_tape import next_tape
from evenfall.calc.geometry.odd_one_out import Odd, odd_ones_out, one_of_these, without
from evenfall.calc.geometry.start_values import CannotClose
from evenfall.calc.geometry.tape_checks import check_reach, check_readings, contradiction
from evenfall.standards.survey_practice import DELTA_0

__all__ = ["Adjusted", "Corner", "NextTape", "Offset", "Station", "Tape", "TapeCheck", "adjust"]


def adjust(
    corners: tuple[str, ...],
    tapes: tuple[Tape, ...],
    fixed: tuple[Station, ...] = (),
    where: str = "survey.tapes",
    points: tuple[str, ...] = (),
    offsets: tuple[Offset, ...] = (),
) -> Adjusted:
    """Adjust taped distances and offsets to the plan that fits all of them best.

    Without fixed points no corner counts as exact; the plan is then laid with its first corner at
    the origin, the second on the x axis, the rest above.

    Parameters
    ----------
    corners : tuple of str
        Names in order round the roof, anticlockwise; 3 to 30 [-].
    tapes : tuple of Tape
        Every side (unless there are points or offsets), diagonals to place each corner, and more
        to check them; a distance may be read twice [m].
    fixed : tuple of Station
        None, or two or more known points, corners or not; then any number of corners from 1 [m].
    where : str
        Place in the input, named in errors [-].
    points : tuple of str
        Points that are no corners, such as marks on the wall, and whose place is not known; they
        are adjusted with the corners [-].
    offsets : tuple of Offset
        Corners or points by right-angle offsets from a line between two others [m].

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
    read = tuple((t.name, t.a, t.b, float(t.length), float(t.sigma)) for t in tapes)
    square = tuple(
        (o.name, o.point, o.a, o.b, o.along, o.left, o.sigma_along, o.sigma_left) for o in offsets
    )
    check_readings(corners, points, held, read, square, where)
    net = _network(corners, points, fixed, tapes, offsets)
    check_reach(net, where)
    rows = _readings(tapes, offsets)
    try:
        layout = layouts(net, tuple(r.name for r in rows), where)
    except CannotClose as far_out:
        found = odd_ones_out(net, where)
        if len(found) != 1:
            twice = contradiction(read, where)
            far_out = one_of_these(net, found, [r.name for r in rows], where) if found else far_out
            raise twice or far_out from None
        (odd,) = found
        return _without(net, rows, len(tapes), Verdict(True, (odd.row,), True, True), odd)
    verdict = judged(layout.solution, net.dof)
    if verdict.detected and net.dof > 1:
        odd = without(net, layout, verdict.suspects[0])
        rest = odd.layout.solution
        verdict = settled(verdict, rest, weighed(net, rest.xy), net.dof - 1)
        if verdict.located:
            return _without(net, rows, len(tapes), verdict, odd)
    return _report(net, rows, len(tapes), layout, verdict)


def _network(
    corners: tuple[str, ...],
    points: tuple[str, ...],
    fixed: tuple[Station, ...],
    tapes: tuple[Tape, ...],
    offsets: tuple[Offset, ...],
) -> Network:
    names = (*corners, *points)
    names += tuple(s.name for s in fixed if s.name not in names)
    index = {name: i for i, name in enumerate(names)}
    known = tuple((index[s.name], s.x, s.y) for s in fixed)
    sigmas = [t.sigma for t in tapes] + [s for o in offsets for s in (o.sigma_along, o.sigma_left)]
    return Network(
        names,
        len(corners),
        known,
        columns(len(names), {i for i, _, _ in known}),
        np.array([index[t.a] for t in tapes], int),
        np.array([index[t.b] for t in tapes], int),
        np.array([t.length for t in tapes], float),
        np.array(sigmas, float),
        np.array([index[o.point] for o in offsets], int),
        np.array([index[o.a] for o in offsets], int),
        np.array([index[o.b] for o in offsets], int),
        np.array([(o.along, o.left) for o in offsets], float).reshape(-1, 2),
    )


def _readings(tapes: tuple[Tape, ...], offsets: tuple[Offset, ...]) -> tuple[Tape, ...]:
    """Tapes, then each offset as the two readings that it is."""
    found = list(tapes)
    for o in offsets:
        found.append(Tape(f"{o.name} along", o.point, o.a, o.along, o.sigma_along))
        found.append(Tape(f"{o.name} square", o.point, o.a, o.left, o.sigma_left))
    return tuple(found)


def _report(
    net: Network, rows: tuple[Tape, ...], tapes: int, layout: Layout, verdict: Verdict
) -> Adjusted:
    s = layout.solution
    checks = _checks(rows, layout)
    corners = _corners(net, layout)
    doubt = verdict.detected and not verdict.located
    scale = max(1.0, math.sqrt(s.t / net.dof)) if doubt else 1.0
    return Adjusted(
        corners=corners[: net.corners],
        points=corners[net.corners :],
        tapes=checks[:tapes],
        offsets=checks[tapes:],
        t=s.t,
        dof=net.dof,
        limit=chi_square_limit(net.dof) if net.dof else None,
        sigma_mm=1000 * scale * max(c.sigma for c in corners[: net.corners]),
        sigma_area=scale * _sigma_area(net, layout),
        detected=verdict.detected,
        suspects=tuple(rows[i].name for i in verdict.suspects),
        located=verdict.located,
        several=verdict.several,
        ambiguous=layout.ambiguous,
        advise=partial(_further, net, layout, verdict),
    )


def _without(
    net: Network, rows: tuple[Tape, ...], tapes: int, verdict: Verdict, odd: Odd
) -> Adjusted:
    """Report the plan without the reading that is wrong, and what the others say of it."""
    plan = _report(net, rows, tapes, odd.layout, verdict)
    tape = rows[odd.row]
    error, total = float(tape.length) - odd.fits, math.hypot(float(tape.sigma), odd.sigma)
    share = (float(tape.sigma) / total) ** 2  # how well the others check it
    check = TapeCheck(tape, -error, share, error / total, error, float(DELTA_0) * total)
    checks = (*plan.readings[: odd.row], check, *plan.readings[odd.row + 1 :])
    return replace(
        plan,
        tapes=checks[:tapes],
        offsets=checks[tapes:],
        t=plan.t + check.w**2,
        left_out=tape.name,
        slip=odd.slip,
    )


def _further(net: Network, layout: Layout, verdict: Verdict) -> NextTape | None:
    if layout.settled_by:
        return NextTape(layout.settled_by)
    found = next_tape(net, layout.solution, layout.ring, verdict)
    if found is None:
        return None
    i, j, again, chance = found
    return NextTape((net.names[i], net.names[j]), again, chance)


def _checks(rows: tuple[Tape, ...], layout: Layout) -> tuple[TapeCheck, ...]:
    s = layout.solution
    alike = twins(s)
    return tuple(
        _check(tape, f * float(tape.sigma), r, rows[twin].name if twin is not None else None)
        for tape, f, r, twin in zip(rows, s.f.tolist(), s.redundancy.tolist(), alike, strict=True)
    )


def _check(tape: Tape, residual: float, redundancy: float, twin: str | None) -> TapeCheck:
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
        twin,
    )


def _corners(net: Network, layout: Layout) -> tuple[Corner, ...]:
    """Corners and points in their frame; ``turned`` is the rotation (or reflection) into it."""
    found, held = [], {i for i, _, _ in net.known}
    for i, name in enumerate(net.names):
        if i >= net.corners and i in held:
            continue
        q = layout.solution.cofactor[2 * i : 2 * i + 2, 2 * i : 2 * i + 2]
        x, y = (float(v) for v in layout.xy[i])
        (xx, cov), (_, yy) = (layout.turned @ q @ layout.turned.T).tolist()
        found.append(Corner(name, x, y, math.sqrt(max(xx, 0.0)), math.sqrt(max(yy, 0.0)), cov))
    return tuple(found)


def _sigma_area(net: Network, layout: Layout) -> float:
    """Take the standard error of the area from the cofactors of the corners, in m²."""
    n = net.corners
    if n < 3:
        return 0.0
    xy = layout.solution.xy[:n]
    across = np.roll(xy, -1, axis=0) - np.roll(xy, 1, axis=0)
    slope = np.stack([across[:, 1], -across[:, 0]], axis=1).ravel() / 2
    q = layout.solution.cofactor[: 2 * n, : 2 * n]
    return math.sqrt(max(float(slope @ q @ slope), 0.0))

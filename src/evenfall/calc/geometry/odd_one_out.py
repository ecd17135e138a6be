"""Tapes that cannot close: which one, left out, lets all the others fit."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from evenfall.calc.geometry.critical_values import chi_square_limit
from evenfall.calc.geometry.layouts import Layout, framed, gap, layouts, telling
from evenfall.calc.geometry.network import Network, solve
from evenfall.calc.geometry.reading_slips import Slip, slip_of
from evenfall.calc.geometry.start_values import CannotClose
from evenfall.calc.geometry.tape_checks import check_reach
from evenfall.errors import InvalidInput

FAR = 1e4  # m, standard error of a reading that is left out: it weighs nothing


@dataclass(frozen=True, slots=True)
class Odd:
    """A reading by its index, the plan without it, and what it should read, in m."""

    row: int
    layout: Layout
    fits: float
    sigma: float  # of ``fits``, m
    slip: Slip | None


def without(net: Network, layout: Layout, row: int) -> Odd:
    """Adjust without one reading, from a plan that lies near.

    Parameters
    ----------
    net : Network
        All readings [m].
    layout : Layout
        The plan to start from [m].
    row : int
        Index of the reading [-].

    Returns
    -------
    Odd
        The plan without it, and what it should read [m].
    """
    sigma = net.sigma.copy()
    sigma[row] = FAR
    rest = replace(net, sigma=sigma)
    s = solve(rest, layout.solution.xy)
    read = float(np.concatenate([net.length, net.square.ravel()])[row])
    fits = read + float(s.f[row]) * FAR
    design = s.design[row] * FAR
    free = s.cofactor[np.ix_(net.free, net.free)]
    give = math.sqrt(max(float(design @ free @ design), 0.0))
    slip = slip_of(read, fits, math.hypot(give, float(net.sigma[row]))) if read > 0 else None
    return Odd(row, framed(net, s, layout.start), fits, give, slip)


def odd_ones_out(net: Network, where: str) -> tuple[Odd, ...]:
    """Find the tape that is far out, or those of which one is.

    Each is left out in turn. Where the rest are checked and fit, it may be that one; where the
    rest are just enough for a plan, only if a usual slip explains what it reads.

    Parameters
    ----------
    net : Network
        Readings that cannot close [m].
    where : str
        Place in the input [-].

    Returns
    -------
    tuple of Odd
        One where it is beyond doubt; none where more than one tape is wrong [-].
    """
    found = [odd for i in range(len(net.a)) if (odd := _left_out(net, i, where)) is not None]
    sure = [odd for odd in found if odd.slip and odd.slip.sure]
    return tuple(sure if len(sure) == 1 else found)


def one_of_these(net: Network, odd: tuple[Odd, ...], names: list[str], where: str) -> CannotClose:
    """Say of which tapes one is far out, and which tape would tell.

    Parameters
    ----------
    net : Network
        All readings [m].
    odd : tuple of Odd
        Two or more [-].
    names : list of str
        Names of all readings [-].
    where : str
        Place in the input [-].

    Returns
    -------
    CannotClose
        To be raised [-].
    """
    told = " or ".join(f"{names[o.row]} by {abs(net.length[o.row] - o.fits):.2f} m" for o in odd)
    first, *others = (o.layout for o in odd)
    gaps = np.min([gap(net, first, other) for other in others], axis=0)
    tape = telling(net, first, gaps)
    also = f", or tape {'-'.join(tape)}: that settles it" if tape else ""
    return CannotClose(
        f"tapes that cannot close: one is far out, {told}", "tapes that fit each other",
        where=where, do=f"measure them again{also}",
    )  # fmt: skip


def _left_out(net: Network, i: int, where: str) -> Odd | None:
    rest = replace(
        net,
        a=np.delete(net.a, i),
        b=np.delete(net.b, i),
        length=np.delete(net.length, i),
        sigma=np.delete(net.sigma, i),
    )
    try:
        check_reach(rest, where, sides=False)
        layout = layouts(rest, tuple(str(k) for k in range(len(rest.sigma))), where)
    except InvalidInput:
        return None
    if rest.dof and layout.solution.t > chi_square_limit(rest.dof):
        return None
    odd = without(net, layout, i)
    if not rest.dof and not (odd.slip and odd.slip.sure):
        return None
    return odd

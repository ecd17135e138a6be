"""Cutting patterns: which pieces come from one length, and which patterns are bought how often.

Costs are gone through from the least that can be. Of each cost every mix of lengths is asked
whether it can yield the pieces at all; a mix that may is searched. Sizes here are already grown by
the saw cut. A pattern is a tuple of counts, one for each size.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csc_array

from evenfall.calc.layout.cost_bound import Demand, Level
from evenfall.calc.layout.pricing import Column, Floats, Pattern, can_yield, priced, reach

Bought = tuple[Column, ...]
Found = tuple[Bought | None, bool]  # what is bought, and whether the search came to its end

EPS = 1e-6
DIRECT_STEPS = 4_000  # visits when all patterns are written down at once
PRICED_STEPS = 200_000  # visits when only promising patterns are written down
MOST_COLUMNS = 800  # of one integer programme: above it even its first node takes a minute
MOST_MIXES = 400  # mixes that are asked; then the bound so far is given
UNDECIDED = 3  # mixes that may stay open; then the bound so far is given


def cheaper(
    demand: Demand, costs: list[Level], known: list[Column], node_limit: int
) -> tuple[Bought | None, int]:
    """Look for patterns that cost less than a known plan, or prove that there are none.

    Parameters
    ----------
    demand : Demand
        What is needed and what is sold [-].
    costs : list of Level
        What a plan may cost, rising; the last is the cost of the known plan [pence].
    known : list of (int, tuple)
        Columns to begin with, each (stock, pattern) [-].
    node_limit : int
        Most nodes of each integer programme [-].

    Returns
    -------
    tuple of (tuple or None, int)
        The columns bought, each (stock, pattern), or None when nothing cheaper was found; and the
        proven lower bound [pence].

    Examples
    --------
    >>> from evenfall.calc.layout.cost_bound import levels
    >>> demand = Demand((1000, 700), (2, 2), (1700,), (10,))
    >>> cheaper(demand, levels(demand, 30), [], 100)
    (((0, (1, 1)), (0, (1, 1))), 20)
    """
    relaxed = priced(demand, known, costs[-2].cost)
    columns = relaxed.columns
    undecided: list[int] = []
    mixes = 0
    for level in costs[:-1]:
        if level.cost < relaxed.bound - EPS * demand.step:
            continue
        for mix in _asked(level):
            mixes += 1
            if len(undecided) >= UNDECIDED or mixes > MOST_MIXES:
                return None, min(undecided, default=level.cost)
            if mix is not None and not can_yield(demand, mix, columns):
                continue
            gap = level.cost - relaxed.bound
            found, decided = _searched(
                demand, level.cost, mix, columns, relaxed.duals, gap, node_limit
            )
            if found:
                return found, min(undecided, default=level.cost)
            if not decided:
                undecided.append(level.cost)
    return None, min(undecided, default=costs[-1].cost)


def _asked(level: Level) -> list[tuple[int, ...] | None]:
    """List the mixes of a cost; where they are too many, the cost alone."""
    return [None] if level.mixes is None else list(level.mixes)


def _searched(
    demand: Demand,
    cost: int,
    mix: tuple[int, ...] | None,
    columns: list[Column],
    duals: Floats,
    gap: float,
    node_limit: int,
) -> Found:
    """Search the patterns known, then every pattern that a plan of this cost may hold."""
    found, _ = _choose(demand, columns, cost, mix, node_limit)
    if found:
        return found, True
    every = _all_columns(demand) or _promising(demand, duals, gap)
    if every is None:
        return None, False
    if mix is not None:  # no length of the plan wastes more than the whole plan
        spare = int(np.dot(mix, demand.lengths)) - sum(demand.items)
        every = [c for c in every if _waste(demand, c) <= spare]
    if len(every) > MOST_COLUMNS:
        return None, False
    return _choose(demand, every, cost, mix, node_limit)


def _waste(demand: Demand, column: Column) -> int:
    return demand.lengths[column[0]] - int(np.dot(column[1], demand.sizes))


# --- patterns ----------------------------------------------------------------------------------


def _all_columns(demand: Demand) -> list[Column] | None:
    """Write down every maximal pattern of every length, or None when they are too many."""
    columns: list[Column] = []
    budget = [DIRECT_STEPS]
    for k, length in enumerate(demand.lengths):
        columns += [(k, p) for p in _walk(demand, length, budget, None, 0.0)]
        if budget[0] <= 0:
            return None
    return columns


def _promising(demand: Demand, duals: Floats, gap: float) -> list[Column] | None:
    """Write down every maximal pattern whose reduced cost is at most the gap."""
    columns: list[Column] = []
    budget = [PRICED_STEPS]
    for k, (length, price) in enumerate(zip(demand.lengths, demand.prices, strict=True)):
        columns += [(k, p) for p in _walk(demand, length, budget, duals, price - gap - EPS)]
        if budget[0] <= 0:
            return None
    return columns


def _walk(
    demand: Demand, length: int, budget: list[int], duals: Floats | None, worth: float
) -> Iterator[Pattern]:
    """Walk through the maximal patterns of one length that are worth at least so much."""
    sizes, counts, last = demand.sizes, demand.counts, len(demand.sizes)
    values = [0.0] * last if duals is None else [float(v) for v in duals]
    most = None if duals is None else reach(demand, duals).tolist()
    pattern = [0] * last

    def below(i: int, room: int, value: float) -> Iterator[Pattern]:
        budget[0] -= 1
        if budget[0] <= 0 or (most is not None and value + most[i][room] < worth):
            return
        if i == last:
            if all(n == c or s > room for s, n, c in zip(sizes, pattern, counts, strict=True)):
                yield tuple(pattern)
            return
        for n in range(min(counts[i], room // sizes[i]), -1, -1):
            pattern[i] = n
            yield from below(i + 1, room - n * sizes[i], value + n * values[i])
        pattern[i] = 0

    return below(0, length, 0.0)


# --- integer programme -------------------------------------------------------------------------


def _choose(
    demand: Demand, columns: list[Column], cost: int, mix: tuple[int, ...] | None, node_limit: int
) -> Found:
    """Choose columns that yield all pieces from a mix, or at a cost; any choice will do."""
    table = csc_array(np.array([p for _, p in columns], float).T)
    rows = [LinearConstraint(table, np.array(demand.counts, float), np.inf)]
    if mix is None:
        spent = np.array([[demand.prices[k] for k, _ in columns]], float)
        rows.append(LinearConstraint(csc_array(spent), -np.inf, cost))
    else:
        kinds = [[k == kind for k, _ in columns] for kind in range(len(mix))]
        rows.append(LinearConstraint(csc_array(np.array(kinds, float)), -np.inf, mix))
    solved = milp(
        np.zeros(len(columns)),
        constraints=rows,
        integrality=np.ones(len(columns)),
        bounds=Bounds(0, max(demand.counts)),
        options={"node_limit": node_limit},
    )
    if solved.x is None:
        return None, solved.status == 2
    amounts = np.round(solved.x).astype(int)
    bought = chain.from_iterable([c] * n for c, n in zip(columns, amounts, strict=True))
    return tuple(bought), True

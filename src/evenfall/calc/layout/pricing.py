"""Linear programmes over cutting patterns, which are written down only as they are worth it.

Two questions are asked: what the pieces cost at least, and how much of them so many lengths of each
kind can yield at most. Both are answered with a bound that holds at every step.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import linprog

from evenfall.calc.layout.cost_bound import Demand

Pattern = tuple[int, ...]
Column = tuple[int, Pattern]  # index of the stock length, pattern
Floats = NDArray[np.float64]

EPS = 1e-7
ROUNDS = 400  # rounds of pricing
AT_ONCE = 12  # patterns of one length that a round of pricing brings, at most


class Relaxed(NamedTuple):
    """The relaxation as far as it was priced: columns, worth of each size, bound on the cost."""

    columns: list[Column]
    duals: Floats
    bound: float


def priced(demand: Demand, known: list[Column], enough: float) -> Relaxed:
    """Bound the cost from below, until the bound is enough or no pattern makes it better.

    Parameters
    ----------
    demand : Demand
        What is needed and what is sold [-].
    known : list of (int, tuple)
        Columns to begin with, each (stock, pattern) [-].
    enough : float
        A bound above this proves the known plan [pence].

    Returns
    -------
    Relaxed
        Columns, worth of each size and proven bound [pence].

    Examples
    --------
    >>> priced(Demand((1000, 700), (2, 2), (1700,), (10,)), [], 30).bound
    20.0

    References
    ----------
    [1] P. Gilmore, R. Gomory, A linear programming approach to the cutting stock problem,
        Operations Research 9 (1961) 849-859, from memory.
    [2] A. A. Farley, A note on bounding a class of linear programming problems, Operations
        Research 38 (1990) 922-923 (the bound at every step), from memory.
    """
    columns = list(dict.fromkeys(_alone(demand) + known))
    seen, need = set(columns), np.array(demand.counts, float)
    bound, scaled = 0.0, np.zeros_like(need)
    costs = np.array(demand.prices, float)
    for _ in range(ROUNDS):
        prices = np.array([demand.prices[k] for k, _ in columns], float)
        table = np.array([p for _, p in columns], float).T
        solved = linprog(prices, A_ub=-table, b_ub=-need, method="highs")
        duals = np.maximum(-solved.ineqlin.marginals, 0.0)
        worth = reach(demand, duals)
        over = max(1.0, float(np.max(worth[0, list(demand.lengths)] / costs)))
        if float(duals @ need) / over > bound:
            bound, scaled = float(duals @ need) / over, duals / over
        new = [c for c in _worthy(demand, duals, worth, costs) if c not in seen]
        if not new or bound > enough:
            break
        columns += new
        seen.update(new)
    return Relaxed(columns, scaled, bound)


def can_yield(demand: Demand, mix: tuple[int, ...], columns: list[Column]) -> bool:
    """Say whether so many of each length may yield all pieces; new patterns join the columns.

    Parameters
    ----------
    demand : Demand
        What is needed and what is sold [-].
    mix : tuple of int
        Number of each length [-].
    columns : list of (int, tuple)
        Patterns known so far, each (stock, pattern); grows [-].

    Returns
    -------
    bool
        False proves that they do not, however they are cut; True proves nothing [-].

    Examples
    --------
    >>> demand = Demand((1000, 700), (2, 2), (1700, 1000), (10, 7))
    >>> can_yield(demand, (1, 2), []), can_yield(demand, (1, 1), [])
    (True, False)
    """
    columns += [c for c in _alone(demand) if c not in columns]
    seen, need = set(columns), np.array(demand.counts, float)
    for _ in range(ROUNDS):
        share, duals, rents = _most_of_all(demand, mix, columns)
        if share >= 1 - EPS:
            return True
        worth = reach(demand, duals)
        if float(np.dot(mix, worth[0, list(demand.lengths)])) < float(duals @ need) * (1 - EPS):
            return False
        new = [c for c in _worthy(demand, duals, worth, rents) if c not in seen]
        if not new:
            return True  # too close to say
        columns += new
        seen.update(new)
    return True


def _most_of_all(
    demand: Demand, mix: tuple[int, ...], columns: list[Column]
) -> tuple[float, Floats, Floats]:
    """Find the largest share of every size that the mix yields, the sizes' worth, the lengths'."""
    kinds, number = len(mix), len(columns)
    sizes = len(demand.sizes)
    table = np.zeros((sizes + kinds, number + 1))
    table[:sizes, :number] = -np.array([p for _, p in columns], float).T
    table[:sizes, number] = demand.counts
    table[sizes + np.array([k for k, _ in columns]), np.arange(number)] = 1.0
    goal = np.zeros(number + 1)
    goal[number] = -1.0
    room = np.array([0.0] * sizes + list(map(float, mix)))
    limits = [(0.0, None)] * number + [(0.0, 1.0)]
    solved = linprog(goal, A_ub=table, b_ub=room, bounds=limits, method="highs")
    worth = np.maximum(-solved.ineqlin.marginals, 0.0)
    return float(solved.x[-1]), worth[:sizes], worth[sizes:]


def reach(demand: Demand, duals: Floats) -> Floats:
    """Work out the best worth of the sizes from the i-th on (row), for each room (column).

    Parameters
    ----------
    demand : Demand
        What is needed and what is sold [-].
    duals : array of shape (sizes,)
        Worth of each size [any].

    Returns
    -------
    array of shape (sizes + 1, longest length + 1)
        Worth; all sizes in the first row, none in the last [any].

    Examples
    --------
    >>> reach(Demand((3, 2), (1, 2), (5,), (1,)), np.array([4.0, 3.0])).tolist()
    [[0.0, 0.0, 3.0, 4.0, 6.0, 7.0], [0.0, 0.0, 3.0, 3.0, 6.0, 6.0], [0.0, 0.0, 0.0, 0.0, 0.0, 0.0]]
    """
    length = max(demand.lengths)
    rows = np.zeros((len(demand.sizes) + 1, length + 1))
    for i in range(len(demand.sizes) - 1, -1, -1):
        size, row = demand.sizes[i], rows[i]
        row[:] = rows[i + 1]
        for _ in range(min(demand.counts[i], length // size)):
            np.maximum(row[size:], row[:-size] + duals[i], out=row[size:])  # one more of it
    return rows


def _alone(demand: Demand) -> list[Column]:
    """Give each size a pattern of its own in every length that holds it."""
    return [
        (k, tuple(min(length // s, n) * (i == j) for j in range(len(demand.sizes))))
        for k, length in enumerate(demand.lengths)
        for i, (s, n) in enumerate(zip(demand.sizes, demand.counts, strict=True))
        if s <= length
    ]


def _worthy(demand: Demand, duals: Floats, worth: Floats, prices: Floats) -> list[Column]:
    """Solve the knapsacks: of each length the pattern worth most, and the best with each size."""
    found: dict[Column, None] = {}
    for k, (length, price) in enumerate(zip(demand.lengths, prices, strict=True)):
        fit = [i for i, s in enumerate(demand.sizes) if s <= length]
        firsts = [(float(duals[i] + worth[0, length - demand.sizes[i]]), i) for i in fit]
        best = (float(worth[0, length]), -1)
        for value, first in [best, *sorted(firsts, reverse=True)[:AT_ONCE]]:
            if value > price + EPS:
                pattern = _pattern(demand, duals, worth, length, first)
                if float(np.dot(pattern, duals)) > price + EPS:
                    found[k, pattern] = None
    return list(found)


def _pattern(demand: Demand, duals: Floats, worth: Floats, length: int, first: int) -> Pattern:
    """Read the best pattern that has the first size in it (-1: any) from the table."""
    pattern = [0] * len(demand.sizes)
    room = length
    if first >= 0:
        pattern[first], room = 1, length - demand.sizes[first]
    for i, (size, count) in enumerate(zip(demand.sizes, demand.counts, strict=True)):
        n, best = 0, worth[i, room]
        while n < count and size <= room and worth[i + 1, room] < best - EPS:
            n, room, best = n + 1, room - size, best - duals[i]
        pattern[i] = min(count, pattern[i] + n)
    return tuple(pattern)

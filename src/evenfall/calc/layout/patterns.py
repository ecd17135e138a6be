"""Cutting patterns: which pieces come from one length, and which patterns are bought how often.

Sizes here are already grown by the saw cut, so that a pattern fits when its sizes add up to no
more than the length. A pattern is a tuple of counts, one for each size.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, gcd

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, linprog, milp
from scipy.sparse import csc_array

Pattern = tuple[int, ...]
Column = tuple[int, Pattern]  # index of the stock length, pattern

EPS = 1e-7
DIRECT_STEPS = 4_000  # visits when all patterns are written down at once
PRICED_STEPS = 200_000  # visits when only promising patterns are written down
ROUNDS = 400  # rounds of pricing


@dataclass(frozen=True, slots=True)
class Demand:
    """Sizes with how many of each, and the stock lengths with their prices, all whole numbers.

    Parameters
    ----------
    sizes : tuple of int
        Different sizes, the longest first, each with its saw cut [mm].
    counts : tuple of int
        How many of each [-].
    lengths : tuple of int
        Stock lengths, each with one saw cut [mm].
    prices : tuple of int
        Price of each stock length [pence].
    """

    sizes: tuple[int, ...]
    counts: tuple[int, ...]
    lengths: tuple[int, ...]
    prices: tuple[int, ...]

    @property
    def step(self) -> int:
        """Whole multiples of this are all the costs there are."""
        return max(gcd(*self.prices), 1)

    def up(self, cost: float) -> int:
        """Round a bound up to the next cost that can be."""
        return ceil(cost / self.step - EPS * 10) * self.step


def plain_bound(demand: Demand) -> int:
    """Bound the cost from below by length, and by the pieces that exclude each other.

    Parameters
    ----------
    demand : Demand
        What is needed and what is sold [-].

    Returns
    -------
    int
        No plan is cheaper [pence].

    Examples
    --------
    >>> plain_bound(Demand((1800,), (3,), (3000,), (1100,)))
    3300

    References
    ----------
    [1] S. Martello, P. Toth, Knapsack Problems, Wiley 1990, section 8.3 (bound L2), from memory.
    """
    total = sum(s * n for s, n in zip(demand.sizes, demand.counts, strict=True))
    by_length = min(total * p / s for s, p in zip(demand.lengths, demand.prices, strict=True))
    return max(demand.up(by_length), demand.up(_fewest(demand) * min(demand.prices)))


def _fewest(demand: Demand) -> int:
    """Return the bound L2 on the number of lengths, all as long as the longest."""
    full = max(demand.lengths)
    items = [s for s, n in zip(demand.sizes, demand.counts, strict=True) for _ in range(n)]
    best = 0
    for small in {0, *(s for s in items if 2 * s <= full)}:
        huge = [s for s in items if s > full - small]
        large = [s for s in items if full - small >= s and 2 * s > full]
        rest = sum(s for s in items if small <= s and 2 * s <= full)
        room = len(large) * full - sum(large)
        best = max(best, len(huge) + len(large) + max(0, ceil((rest - room) / full)))
    return best


def cheaper(demand: Demand, cost: int, node_limit: int) -> tuple[tuple[Column, ...] | None, int]:
    """Look for patterns that cost less than a known plan, or prove that there are none.

    Parameters
    ----------
    demand : Demand
        What is needed and what is sold [-].
    cost : int
        Cost of the known plan [pence].
    node_limit : int
        Most nodes of each integer programme [-].

    Returns
    -------
    tuple of (tuple or None, int)
        The columns bought, each (stock, pattern), or None when nothing cheaper was found; and the
        proven lower bound [pence].

    Examples
    --------
    >>> demand = Demand((1000, 700), (2, 2), (1700,), (10,))
    >>> cheaper(demand, 30, 100)
    (((0, (1, 1)), (0, (1, 1))), 20)

    References
    ----------
    [1] P. Gilmore, R. Gomory, A linear programming approach to the cutting stock problem,
        Operations Research 9 (1961) 849-859, from memory.
    """
    columns = _all_columns(demand)
    if columns is not None:
        return _choose(demand, columns, cost, node_limit, complete=True)
    columns, duals, relaxed = _priced(demand)
    bound = demand.up(relaxed)
    if bound >= cost:
        return None, cost
    found, _ = _choose(demand, columns, cost, node_limit, complete=False)
    if found:
        cost = sum(demand.prices[k] for k, _ in found)
    if bound >= cost:
        return found, bound
    wider = _promising(demand, duals, cost - demand.step - relaxed)
    if wider is None:
        return found, bound
    better, proven = _choose(demand, wider, cost, node_limit, complete=True)
    return better or found, max(bound, proven)


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


def _promising(demand: Demand, duals: NDArray[np.float64], gap: float) -> list[Column] | None:
    """Write down every maximal pattern whose reduced cost is at most the gap."""
    columns: list[Column] = []
    budget = [PRICED_STEPS]
    for k, (length, price) in enumerate(zip(demand.lengths, demand.prices, strict=True)):
        columns += [(k, p) for p in _walk(demand, length, budget, duals, price - gap - EPS * 10)]
        if budget[0] <= 0:
            return None
    return columns


def _walk(
    demand: Demand, length: int, budget: list[int], duals: NDArray[np.float64] | None, worth: float
) -> Iterator[Pattern]:
    """Walk through the maximal patterns of one length that are worth at least so much."""
    sizes, counts, last = demand.sizes, demand.counts, len(demand.sizes)
    values = [0.0] * last if duals is None else [float(v) for v in duals]
    reach = None if duals is None else _suffixes(demand, length, duals)
    pattern = [0] * last

    def below(i: int, room: int, value: float) -> Iterator[Pattern]:
        budget[0] -= 1
        if budget[0] <= 0 or (reach is not None and value + reach[i][room] < worth):
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


def _suffixes(demand: Demand, length: int, duals: NDArray[np.float64]) -> list[list[float]]:
    """Return the best value of the sizes from the i-th on, for each room that is left."""
    best = np.zeros(length + 1)
    tables = [best.tolist()]
    for size, count, value in reversed(list(zip(demand.sizes, demand.counts, duals, strict=True))):
        best = best.copy()
        for _ in range(min(count, length // size)):
            best[size:] = np.maximum(best[size:], best[:-size] + value)
        tables.append(best.tolist())
    return tables[::-1]


# --- linear and integer programmes -------------------------------------------------------------


def _priced(demand: Demand) -> tuple[list[Column], NDArray[np.float64], float]:
    """Solve the relaxation by pricing: columns, value of each size, and a proven bound."""
    columns = [
        (k, tuple(min(length // s, n) * (i == j) for j in range(len(demand.sizes))))
        for k, length in enumerate(demand.lengths)
        for i, (s, n) in enumerate(zip(demand.sizes, demand.counts, strict=True))
        if s <= length
    ]
    known = set(columns)
    need = np.array(demand.counts, float)
    bound = 0.0
    for _ in range(ROUNDS):
        prices = np.array([demand.prices[k] for k, _ in columns], float)
        table = np.array([p for _, p in columns], float).T
        solved = linprog(prices, A_ub=-table, b_ub=-need, method="highs")
        duals = np.maximum(-solved.ineqlin.marginals, 0.0)
        new, ratio = [], 1.0
        for k, (length, price) in enumerate(zip(demand.lengths, demand.prices, strict=True)):
            value, pattern = _best_pattern(demand, length, duals)
            ratio = max(ratio, value / price)
            if value > price + EPS and (k, pattern) not in known:
                new.append((k, pattern))
        bound = max(bound, float(duals @ need) / ratio)
        if not new:
            break
        columns += new
        known.update(new)
    return columns, duals / ratio, bound


def _best_pattern(demand: Demand, length: int, duals: NDArray[np.float64]) -> tuple[float, Pattern]:
    """Solve one bounded knapsack: the pattern worth most."""
    tables = _suffixes(demand, length, duals)
    pattern, room = [], length
    for i, (size, count) in enumerate(zip(demand.sizes, demand.counts, strict=True)):
        most = min(count, room // size)
        value = float(duals[i])
        n = max(range(most + 1), key=lambda m: m * value + tables[i + 1][room - m * size])
        pattern.append(n)
        room -= n * size
    return tables[0][length], tuple(pattern)


def _choose(
    demand: Demand, columns: list[Column], cost: int, node_limit: int, *, complete: bool
) -> tuple[tuple[Column, ...] | None, int]:
    """Choose columns that cost less than ``cost``; with all columns, prove it if there are none."""
    target = cost - demand.step
    if not columns:
        return None, cost if complete else 0
    prices = np.array([demand.prices[k] for k, _ in columns], float)
    table = csc_array(np.array([p for _, p in columns], float).T)
    rows = [
        LinearConstraint(table, np.array(demand.counts, float), np.inf),
        LinearConstraint(csc_array(prices[None, :]), -np.inf, target),
    ]
    solved = milp(
        prices,
        constraints=rows,
        integrality=np.ones(len(columns)),
        bounds=Bounds(0, max(demand.counts)),
        options={"node_limit": node_limit, "mip_rel_gap": 0.0},
    )
    if solved.x is None:
        return None, cost if complete and solved.status == 2 else 0
    amounts = np.round(solved.x).astype(int)
    bought = tuple(c for c, n in zip(columns, amounts, strict=True) for _ in range(n))
    spent = sum(demand.prices[k] for k, _ in bought)
    bound = spent if solved.status == 0 else demand.up(solved.mip_dual_bound or 0.0)
    return bought, bound if complete else 0

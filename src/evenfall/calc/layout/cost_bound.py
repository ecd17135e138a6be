"""What pieces cut from stock lengths cost at least: by length, by number, by the prices there are.

Sizes here are already grown by the saw cut, so that pieces fit when their sizes add up to no more
than the length.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate
from math import ceil, gcd, prod
from typing import NamedTuple

import numpy as np

SLACK = 1e-6  # of a step: what a bound from a linear programme may be out
MIXES = 400_000  # numbers of each length that are written down; above it whole steps are counted


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

    @property
    def items(self) -> list[int]:
        """Every piece, the longest first."""
        return [s for s, n in zip(self.sizes, self.counts, strict=True) for _ in range(n)]

    def up(self, cost: float) -> int:
        """Round a bound up to the next whole multiple of the step."""
        return ceil(cost / self.step - SLACK) * self.step


class Level(NamedTuple):
    """One cost that a plan may have, and the numbers of each length that come to it.

    ``mixes`` is None where there are too many to write down.
    """

    cost: int
    mixes: tuple[tuple[int, ...], ...] | None


def levels(demand: Demand, cost: int) -> list[Level]:
    """List what a plan may cost at all, up to a known plan.

    Whatever is bought is so many of each length: long enough together, and enough of the longer
    ones for the pieces that fit in no other.

    Parameters
    ----------
    demand : Demand
        What is needed and what is sold, the longest length first [-].
    cost : int
        Cost of the known plan [pence].

    Returns
    -------
    list of Level
        Rising; the last is that of the known plan [pence].

    Examples
    --------
    >>> demand = Demand((2003, 903), (2, 3), (3003, 2503), (1100, 940))
    >>> [(level.cost, level.mixes) for level in levels(demand, 3300)]
    [(2820, ((0, 3),)), (2980, ((1, 2),)), (3140, ((2, 1),)), (3300, ())]

    References
    ----------
    [1] S. Martello, P. Toth, Knapsack Problems, Wiley 1990, section 8.3 (bound L2), from memory.
    """
    items, total = demand.items, sum(demand.items)
    most = [range(cost // price + 1) for price in demand.prices]
    if prod(len(m) for m in most) > MIXES:
        by_length = min(total * p / s for s, p in zip(demand.lengths, demand.prices, strict=True))
        by_number = fewest(items, demand.lengths[0]) * min(demand.prices)
        least = min(demand.up(max(by_length, by_number)), cost)
        return [*(Level(c, None) for c in range(least, cost, demand.step)), Level(cost, ())]
    numbers = np.meshgrid(*most, indexing="ij")
    spent = np.asarray(sum(n * p for n, p in zip(numbers, demand.prices, strict=True)))
    able = sum(n * s for n, s in zip(numbers, demand.lengths, strict=True)) >= total
    for at, so_many in enumerate(accumulate(numbers)):
        shorter = demand.lengths[at + 1] if at + 1 < len(demand.lengths) else 0
        able &= so_many >= fewest([s for s in items if s > shorter], demand.lengths[0])
    able &= spent < cost
    found: dict[int, list[tuple[int, ...]]] = {}
    for one, *mix in zip(spent[able].tolist(), *(n[able].tolist() for n in numbers), strict=True):
        found.setdefault(one, []).append(tuple(mix))
    return [*(Level(c, tuple(found[c])) for c in sorted(found)), Level(cost, ())]


def fewest(items: list[int], full: int) -> int:
    """Bound the number of lengths from below by the pieces that exclude each other.

    Parameters
    ----------
    items : list of int
        Sizes of the pieces [mm].
    full : int
        The longest length there is [mm].

    Returns
    -------
    int
        No plan takes fewer [-].

    Examples
    --------
    >>> fewest([1800, 1800, 1700, 900], 3000)
    3

    References
    ----------
    [1] S. Martello, P. Toth, Knapsack Problems, Wiley 1990, section 8.3 (bound L2), from memory.
    """
    best = 0
    for small in {0, *(s for s in items if 2 * s <= full)}:
        huge = [s for s in items if s > full - small]
        large = [s for s in items if full - small >= s and 2 * s > full]
        rest = sum(s for s in items if small <= s and 2 * s <= full)
        room = len(large) * full - sum(large)
        best = max(best, len(huge) + len(large) + max(0, ceil((rest - room) / full)))
    return best

"""Packs: what is needed, bought in the packs that there are, at the least cost."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, gcd
from typing import NamedTuple

from evenfall.errors import InvalidInput

MOST_STATES = 10**6


class Pack(NamedTuple):
    """A pack sold: size in whole units (ml, mm, pieces) and price [pence]."""

    size: int
    price_pence: int


@dataclass(frozen=True, slots=True)
class PackPlan:
    """How many of each pack, the largest first, and what is over."""

    packs: tuple[tuple[Pack, int], ...]
    bought: int
    over: int
    cost_pence: int


def to_packs(quantity: int, packs: Sequence[tuple[int, int]]) -> PackPlan:
    """Choose packs that cover a quantity at the least cost; of equal ones the least left over.

    Parameters
    ----------
    quantity : int
        What is needed, waste included, in whole units such as ml [unit].
    packs : sequence of (int, int)
        Size and price of each pack [unit, pence].

    Returns
    -------
    PackPlan
        Packs that hold at least the quantity [unit, pence].

    Examples
    --------
    >>> plan = to_packs(8470, [(2500, 2900), (5000, 4900), (10000, 8600)])
    >>> plan.packs, plan.over, plan.cost_pence
    (((Pack(size=10000, price_pence=8600), 1),), 1530, 8600)
    """
    sold = [Pack(*p) for p in packs]
    if quantity < 0 or not sold or min(min(p) for p in sold) <= 0:
        raise InvalidInput(
            f"{quantity} in packs {sold}", "a quantity from 0 and packs above 0", where="packs"
        )
    unit = gcd(*(p.size for p in sold))
    states = ceil(quantity / unit)
    if states > MOST_STATES:
        raise InvalidInput(
            f"{quantity} in packs of {[p.size for p in sold]}",
            f"at most {MOST_STATES} common parts of the packs",
            do="count in a larger unit",
        )
    # best[n]: cost, bought, number of packs, last pack, for a need of n units
    best: list[tuple[int, int, int, int]] = [(0, 0, 0, -1)]
    for n in range(1, states + 1):
        ways = []
        for i, (size, price) in enumerate(sold):
            cost, bought, number, _ = best[max(0, n - size // unit)]
            ways.append((cost + price, bought + size, number + 1, i))
        best.append(min(ways))
    chosen: Counter[int] = Counter()
    left = states
    while left > 0:
        i = best[left][3]
        chosen[i] += 1
        left -= sold[i].size // unit
    cost, bought, _, _ = best[states]
    held = tuple((sold[i], chosen[i]) for i in sorted(chosen, key=lambda i: (-sold[i].size, i)))
    return PackPlan(held, bought, bought - quantity, cost)


def need_at_worse_coverage(area: float, coverages: Sequence[float]) -> float:
    """Return what an area takes, by the worst of the coverages told.

    Parameters
    ----------
    area : float
        What is coated [m2].
    coverages : sequence of float
        Area that one unit coats, as each source says: label, data sheet, own log [m2/unit].

    Returns
    -------
    float
        Units needed [unit].

    Examples
    --------
    >>> need_at_worse_coverage(85.5, [2.0, 2.454])
    42.75
    """
    if area < 0 or not coverages or min(coverages) <= 0:
        raise InvalidInput(
            f"area {area}, coverages {list(coverages)}", "an area from 0, coverages above 0"
        )
    return area / min(coverages)

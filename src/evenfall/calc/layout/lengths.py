"""Lengths: trims, timber, fascia and gutter cut from stock lengths, in whole millimetres.

A quick answer fills one length after the other; the exact one chooses among cutting patterns and
proves that nothing cheaper exists. Both stop by counted steps.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate
from math import ceil
from typing import NamedTuple

from evenfall.calc.layout.cost_bound import Demand, Level, levels
from evenfall.calc.layout.patterns import cheaper
from evenfall.errors import InvalidInput

MOST_IN_ONE = 12  # pieces in one length, above which their number is no guide
TRIED_MORE = 3  # numbers of crowded lengths that are tried
NODE_LIMIT = 2_000  # nodes of one integer programme; then the best so far is taken


class Cut(NamedTuple):
    """One piece wanted: name and length [mm]."""

    name: str
    length_mm: int


class Stock(NamedTuple):
    """One length sold: length [mm] and price [pence]."""

    length_mm: int
    price_pence: int


@dataclass(frozen=True, slots=True)
class Bar:
    """One length bought, its pieces in sawing order, and the rest."""

    stock_mm: int
    price_pence: int
    cuts: tuple[Cut, ...]
    offcut_mm: int


@dataclass(frozen=True, slots=True)
class CuttingPlan:
    """All lengths to buy; no plan costs less than ``lower_bound_pence``."""

    bars: tuple[Bar, ...]
    kerf_mm: int
    cost_pence: int
    lower_bound_pence: int

    @property
    def optimal(self) -> bool:
        """Whether the plan is proven to be the cheapest."""
        return self.cost_pence == self.lower_bound_pence


def plan_lengths(
    pieces: Sequence[tuple[str, int]],
    stock: Sequence[tuple[int, int]],
    kerf_mm: int,
    *,
    quick: bool = False,
    node_limit: int = NODE_LIMIT,
) -> CuttingPlan:
    """Cut pieces from stock lengths at the least cost.

    Parameters
    ----------
    pieces : sequence of (str, int)
        Name and length of each piece; at most the longest stock, see `runs` [mm].
    stock : sequence of (int, int)
        Length and price of each stock length [mm, pence].
    kerf_mm : int
        Width of a saw cut [mm].
    quick : bool
        Take the first good answer; it may not be the cheapest [-].
    node_limit : int
        Most nodes of each integer programme [-].

    Returns
    -------
    CuttingPlan
        Lengths with their pieces, cost and proven lower bound [mm, pence].

    Examples
    --------
    >>> trims = [("verge", 2050), ("verge", 2050), ("eaves", 1430), ("eaves", 900), ("end", 310)]
    >>> plan = plan_lengths(trims, [(2500, 1100), (3000, 1300)], kerf_mm=3)
    >>> [(bar.stock_mm, [c.length_mm for c in bar.cuts], bar.offcut_mm) for bar in plan.bars]
    [(2500, [2050, 310], 134), (2500, [2050], 447), (2500, [1430, 900], 164)]
    >>> plan.cost_pence, plan.optimal
    (3300, True)

    References
    ----------
    [1] P. Gilmore, R. Gomory, A linear programming approach to the cutting stock problem,
        Operations Research 9 (1961) 849-859, from memory.
    """
    cuts = [Cut(name, length) for name, length in pieces]
    sold = _useful([Stock(length, price) for length, price in stock])
    _check(cuts, sold, kerf_mm)
    if not cuts:
        return CuttingPlan((), kerf_mm, 0, 0)
    demand = _demand(cuts, sold, kerf_mm)
    plans = _quick(demand)
    filled, costs = _best(demand, plans)
    if not quick and len(costs) > 1:
        plans += _by_number(demand)
        filled, costs = _best(demand, plans)
    bound = costs[0].cost
    if not quick and len(costs) > 1:
        known = [(k, _pattern(demand, sizes)) for plan in plans for k, sizes in plan]
        found, proven = cheaper(demand, costs, known, node_limit)
        bound = max(bound, proven)
        if found:
            filled = [(k, _spread(demand, pattern)) for k, pattern in found]
    return _named(cuts, sold, kerf_mm, filled, bound)


# --- the quick answer --------------------------------------------------------------------------

Filled = list[tuple[int, list[int]]]  # index of the stock, sizes in it


def _best(demand: Demand, plans: list[Filled]) -> tuple[Filled, list[Level]]:
    """Keep the cheapest plan, and list what a plan may cost up to it."""
    best = min(plans, key=lambda plan: _spent(demand, plan))
    return best, levels(demand, _spent(demand, best))


def _spent(demand: Demand, plan: Filled) -> int:
    return sum(demand.prices[k] for k, _ in plan)


def _quick(demand: Demand) -> list[Filled]:
    """Fill by several plain rules."""
    items = demand.items
    plans: list[Filled] = [_subsets(demand)]
    for k, length in enumerate(demand.lengths):
        if items[0] <= length:
            plans.append([(k, bar) for bar in first_fit(items, length)])
    return [[(_cheapest(demand, sum(bar)), bar) for _, bar in plan] for plan in plans]


def first_fit(items: list[int], length: int) -> list[list[int]]:
    """Put each piece into the first length that still has room.

    Parameters
    ----------
    items : list of int
        Pieces with the cut that each takes, the longest first for a good answer [mm].
    length : int
        What a length holds of them [mm].

    Returns
    -------
    list of list of int
        The pieces of each length [mm].

    Examples
    --------
    >>> first_fit([700, 600, 400, 300], 1000)
    [[700, 300], [600, 400]]
    """
    bars: list[list[int]] = []
    rooms: list[int] = []
    for size in items:
        for i, room in enumerate(rooms):
            if size <= room:
                bars[i].append(size)
                rooms[i] -= size
                break
        else:
            bars.append([size])
            rooms.append(length - size)
    return bars


def _subsets(demand: Demand) -> Filled:
    """Fill one length after the other as full as it will go, the longest piece always in it."""
    left = Counter(dict(zip(demand.sizes, demand.counts, strict=True)))
    plan: Filled = []
    while left:
        first = max(left)
        rest = left - Counter([first])
        choices = []
        for k, length in enumerate(demand.lengths):
            if first <= length:
                bar = [first, *_fullest(rest, length - first)]
                choices.append((demand.prices[k] / sum(bar), k, bar))
        _, k, bar = min(choices)
        plan.append((k, bar))
        left -= Counter(bar)
    return plan


def _fullest(items: Counter[int], room: int) -> list[int]:
    """Choose pieces whose sizes add up closest to a room; long pieces are preferred."""
    mask = (1 << (room + 1)) - 1
    sizes = sorted(items.elements())
    reached = [1]
    for size in sizes:
        reached.append((reached[-1] | (reached[-1] << size)) & mask)
    total = reached[-1].bit_length() - 1
    chosen = []
    for i in range(len(sizes), 0, -1):
        if total >= sizes[i - 1] and (reached[i - 1] >> (total - sizes[i - 1])) & 1:
            chosen.append(sizes[i - 1])
            total -= sizes[i - 1]
    return chosen


def _by_number(demand: Demand) -> list[Filled]:
    """Fill so many lengths with one piece more than the others hold, from the shortest pieces.

    Where pieces are nearly alike, all lengths hold n or n - 1 of them. The lengths that must hold n
    are filled first, with the shortest pieces that they need between them.
    """
    full = max(range(len(demand.lengths)), key=lambda k: demand.lengths[k])
    length = demand.lengths[full]
    items = demand.items[::-1]
    most = bisect_right(list(accumulate(items)), length)
    if most > MOST_IN_ONE:
        return []
    crowded = max(0, len(items) - (most - 1) * ceil(sum(items) / length))
    plans = []
    for number in range(crowded, crowded + TRIED_MORE):
        short, others = items[: most * number], items[most * number :]
        bars = [_with_longest(short, length, most) for _ in range(number) if short]
        rest = sorted(short + others)
        while rest:
            bars.append(_with_longest(rest, length, most))
        plans.append([(_cheapest(demand, sum(bar)), bar) for bar in bars])
    return plans


def _with_longest(items: list[int], length: int, most: int) -> list[int]:
    """Take the longest piece, and beside it the pieces, at most so many, that fill the length."""
    first = items.pop()
    room = length - first
    mask = (1 << (room + 1)) - 1
    reached = [[1, *[0] * (most - 1)]]  # by number of pieces: the sums that can be reached
    for size in items:
        last = reached[-1]
        reached.append(
            [1, *(a | ((b << size) & mask) for a, b in zip(last[1:], last, strict=False))]
        )
    number = max(n for n, sums in enumerate(reached[-1]) if sums)
    total = reached[-1][number].bit_length() - 1
    taken = []
    for i in range(len(items) - 1, -1, -1):
        if number and total >= items[i] and (reached[i][number - 1] >> (total - items[i])) & 1:
            taken.append(items.pop(i))
            total -= taken[-1]
            number -= 1
    return [first, *taken]


def _cheapest(demand: Demand, filled: int) -> int:
    """Return the cheapest stock that holds so much."""
    able = [(p, -s, k) for k, (s, p) in enumerate(zip(demand.lengths, demand.prices, strict=True))]
    return min(c for c in able if -c[1] >= filled)[2]


# --- in and out --------------------------------------------------------------------------------


def _useful(stock: list[Stock]) -> list[Stock]:
    """Leave out a stock that another beats in both length and price."""
    by_length = sorted(set(stock), key=lambda s: (-s.length_mm, s.price_pence))
    kept: list[Stock] = []
    for one in by_length:
        if not kept or one.price_pence < kept[-1].price_pence:
            kept.append(one)
    return kept


def _check(cuts: list[Cut], stock: list[Stock], kerf_mm: int) -> None:
    if not stock or min(min(s) for s in stock) <= 0 or kerf_mm < 0:
        raise InvalidInput(
            f"stock {stock}, saw cut {kerf_mm}", "lengths and prices above 0", where="stock"
        )
    for name, length in cuts:
        if 0 < length <= kerf_mm:
            raise InvalidInput(
                f"{name}: {length} mm",
                f"a piece longer than the saw cut of {kerf_mm} mm",
                where="pieces",
                do="give the saw cut in millimetres, or leave the piece out",
            )
        if not 0 < length <= stock[0].length_mm:
            raise InvalidInput(
                f"{name}: {length} mm",
                f"a length up to {stock[0].length_mm} mm",
                where="pieces",
                do="split the run with a joint, or give a longer stock",
            )


def _demand(cuts: list[Cut], stock: list[Stock], kerf_mm: int) -> Demand:
    counted = Counter(c.length_mm + kerf_mm for c in cuts)
    sizes = tuple(sorted(counted, reverse=True))
    return Demand(
        sizes,
        tuple(counted[s] for s in sizes),
        tuple(s.length_mm + kerf_mm for s in stock),
        tuple(s.price_pence for s in stock),
    )


def _pattern(demand: Demand, sizes: list[int]) -> tuple[int, ...]:
    held = Counter(sizes)
    return tuple(held[s] for s in demand.sizes)


def _spread(demand: Demand, pattern: tuple[int, ...]) -> list[int]:
    return [s for s, n in zip(demand.sizes, pattern, strict=True) for _ in range(n)]


def _named(
    cuts: list[Cut], stock: list[Stock], kerf_mm: int, filled: Filled, bound: int
) -> CuttingPlan:
    """Give the pieces their names; a pattern may hold more of a size than is still wanted."""
    waiting: dict[int, list[Cut]] = defaultdict(list)
    for cut in reversed(cuts):
        waiting[cut.length_mm + kerf_mm].append(cut)
    bars = []
    for k, sizes in sorted(filled, key=lambda f: sorted(f[1], reverse=True), reverse=True):
        held = tuple(waiting[size].pop() for size in sorted(sizes, reverse=True) if waiting[size])
        used = sum(c.length_mm for c in held) + len(held) * kerf_mm
        bars.append(Bar(*stock[k], held, max(0, stock[k].length_mm - used)))
    cost = sum(b.price_pence for b in bars)
    return CuttingPlan(tuple(bars), kerf_mm, cost, bound)

"""Random sets of trims cut from stock lengths: how many are proven, and the time in LP solves.

The floor is the bare relaxation of Gilmore and Gomory: one call of HiGHS (`scipy.optimize.linprog`)
for each set, on the cutting patterns that pricing ends with, which are found beforehand and not
timed. Times are those of the processor, added up over all sets. ``--long`` takes 1 000 sets.
"""

from __future__ import annotations

import random
import time
from collections import Counter
from math import inf

from benchmarks.timing import Figure

SAMPLE, ALL = 30, 1000
SEED = 2026
KERF_MM = 3
SHORTEST_MM, MOST = 150, 60  # a piece, and how many of them in a set
PROVEN = 0.99
GOAL = 15.0  # times one LP solve
STOCKS = (
    ((3000, 1100),), ((2500, 940), (3000, 1100)), ((5000, 2450),),
    ((2400, 480), (3600, 690), (4800, 900)),
)  # fmt: skip

Set = tuple[list[tuple[str, int]], tuple[tuple[int, int], ...]]


def figures(*, long: bool = False) -> list[Figure]:
    """Cut the sets, and solve the relaxation of each once."""
    from evenfall.calc.layout.lengths import plan_lengths

    sets = random_sets(ALL if long else SAMPLE)
    works, floors, proven, worst = 0.0, 0.0, 0, 0.0
    for pieces, stock in sets:
        start = time.process_time()
        plan = plan_lengths(pieces, stock, KERF_MM)
        works += time.process_time() - start
        floors += _one_solve(pieces, stock)
        proven += plan.optimal
        worst = max(worst, plan.cost_pence / plan.lower_bound_pence - 1)
    share, ratio = proven / len(sets), round(works / floors, 2)
    ms, floor = (round(1000 * t / len(sets), 3) for t in (works, floors))
    name = f"lengths, {len(sets)} sets ({share:.1%} proven, widest gap {worst:.1%})"
    return [Figure(name, ms, ratio, floor, GOAL, share >= PROVEN and ratio <= GOAL, ms, floor)]


def random_sets(number: int) -> list[Set]:
    """Draw sets of up to 60 pieces, each no longer than the longest stock."""
    rnd = random.Random(SEED)
    sets = []
    for _ in range(number):
        stock = rnd.choice(STOCKS)
        longest = max(length for length, _ in stock)
        sizes = [rnd.randint(SHORTEST_MM, longest) for _ in range(rnd.randint(1, MOST))]
        sets.append(([("p", size) for size in sizes], stock))
    return sets


def _one_solve(pieces: list[tuple[str, int]], stock: tuple[tuple[int, int], ...]) -> float:
    """Time HiGHS on the relaxation [s]."""
    import numpy as np
    from scipy.optimize import linprog

    from evenfall.calc.layout.cost_bound import Demand
    from evenfall.calc.layout.pricing import priced

    counted = Counter(size + KERF_MM for _, size in pieces)
    sizes = tuple(sorted(counted, reverse=True))
    counts = tuple(counted[s] for s in sizes)
    lengths, prices = zip(*((length + KERF_MM, price) for length, price in stock), strict=True)
    columns = priced(Demand(sizes, counts, lengths, prices), [], inf).columns
    costs = np.array([prices[k] for k, _ in columns], float)
    table, need = np.array([p for _, p in columns], float).T, np.array(counts, float)
    start = time.process_time()
    linprog(costs, A_ub=-table, b_ub=-need, method="highs")
    return time.process_time() - start

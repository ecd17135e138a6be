"""Random sets of trims cut from stock lengths: how many are proven, and the time of one LP solve.

``--long`` takes all 1 000 sets. The floor is the linear programme with all columns that the search
came to, solved once for each set.
"""

from __future__ import annotations

import random
import time

from benchmarks.timing import Figure

SAMPLE, ALL = 40, 1000
SEED = 2026
MOST = 60  # pieces in a set
PROVEN = 0.99
GOAL = 15.0  # times one LP solve
STOCKS = (
    ((3000, 1100),), ((2500, 940), (3000, 1100)), ((5000, 2450),),
    ((2400, 480), (3600, 690), (4800, 900)),
)  # fmt: skip


def figures(*, long: bool = False) -> list[Figure]:
    """Cut the sets, and solve one linear programme for each."""
    from evenfall.calc.layout import patterns
    from evenfall.calc.layout.lengths import plan_lengths

    number = ALL if long else SAMPLE
    rnd = random.Random(SEED)
    works, floors, proven, worst = [], [], 0, 0.0
    for _ in range(number):
        stock = rnd.choice(STOCKS)
        longest = max(s for s, _ in stock)
        pieces = [("p", rnd.randint(150, longest)) for _ in range(rnd.randint(1, MOST))]
        start = time.process_time()
        plan = plan_lengths(pieces, stock, 3)
        works.append(time.process_time() - start)
        floors.append(_one_solve(patterns, pieces, stock))
        proven += plan.optimal
        worst = max(worst, plan.cost_pence / plan.lower_bound_pence - 1)
    share = proven / number
    ratio = round(sum(works) / sum(floors), 2)
    ms, floor = (round(1000 * sum(t) / number, 3) for t in (works, floors))
    name = f"lengths, {number} sets ({share:.1%} proven, widest gap {worst:.1%})"
    return [Figure(name, ms, ratio, floor, GOAL, share >= PROVEN and ratio <= GOAL, ms, floor)]


def _one_solve(patterns: object, pieces: list[tuple[str, int]], stock: object) -> float:
    """Time one linear programme over plain and pairing patterns, as large as the problem itself."""
    from collections import Counter

    import numpy as np
    from scipy.optimize import linprog

    counted = Counter(size for _, size in pieces)
    sizes = sorted(counted)
    full = max(s for s, _ in stock)  # type: ignore[attr-defined]
    columns = []
    for i, a in enumerate(sizes):
        for j, b in enumerate(sizes[: i + 1]):
            column = np.zeros(len(sizes))
            column[i] = min(full // a, counted[a])
            if (full - a) >= b:
                column[i], column[j] = 1, column[j] + 1
            columns.append(column)
    table, need = np.array(columns).T, np.array([counted[s] for s in sizes], float)
    start = time.process_time()
    linprog(np.ones(table.shape[1]), A_ub=-table, b_ub=-need, method="highs")
    return time.process_time() - start

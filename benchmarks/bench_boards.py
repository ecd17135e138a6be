"""Boards bought against the fewest by area, over random roofs; ``--long`` takes all 200.

The rules are least piece 150, shift 200 and saw cut 5 mm; beside them the stricter rules that a job
uses (300 at the edge of the roof, shift 300). The ratio is the sum of boards bought over the sum of
the whole boards by area; ``floor`` is that sum, ``ms`` the time a roof. Tapered rows are held
against the bound of their own rows.
"""

from __future__ import annotations

import time
from math import ceil

from benchmarks.board_roofs import Roof, random_roofs
from benchmarks.timing import Figure

SAMPLE = 4  # roofs of the short run; --long takes ALL
ALL = 200
WITHIN_ONE = 0.95
EASY, STRICT = (150, 150, 200, 5), (150, 300, 300, 5)
GOALS = (
    ((2400, 1200), EASY, 1.015),
    ((1200, 600), EASY, 1.012),
    ((2400, 1200), STRICT, None),
    ((1200, 600), STRICT, None),
)


def figures(*, long: bool = False) -> list[Figure]:
    """Plan the roofs with each board and each set of rules."""
    roofs = random_roofs(ALL)
    chosen = roofs if long else roofs[:: ALL // SAMPLE]
    return [*(_figure(chosen, *goal) for goal in GOALS), _tapered(chosen)]


def _tapered(roofs: list[Roof]) -> Figure:
    """Lay the roofs with tapered boards that fall to their lowest side; floor is the bound."""
    from evenfall.calc.layout.board_plan import BoardRules
    from evenfall.calc.layout.tapered_plan import Slant, TaperedBoards, first_cut_mm
    from evenfall.calc.layout.tapered_rows import lay_rows

    sold = TaperedBoards(60, 1200, 1200, ((30, 50), (50, 70), (70, 90)))
    bought = fewest = broken = 0
    start = time.process_time()
    for outline, holes in roofs:
        heights = [y for _, y in outline]
        cut = first_cut_mm(max(heights) - min(heights), sold, BoardRules().min_perimeter_piece)
        slant = Slant((outline[0][0], min(heights)), (0.0, -1.0), cut)
        plan = lay_rows(outline, holes, sold, slant, BoardRules())
        bought, fewest = bought + len(plan.boards), fewest + sum(plan.bounds)
        broken += bool(plan.breaches)
    ms = round(1000 * (time.process_time() - start) / len(roofs), 1)
    name = f"tapered rows 1200 x 1200, {len(roofs)} roofs ({broken} break a rule)"
    return Figure(name, ms, round(bought / fewest, 4), fewest, 0.0, None, ms, fewest)


def _figure(
    roofs: list[Roof], board: tuple[int, int], rules: tuple[int, ...], goal: float | None
) -> Figure:
    from shapely import Polygon

    from evenfall.calc.layout.boards import BoardRules, plan_boards

    bought = fewest = near = broken = 0
    start = time.process_time()
    for outline, holes in roofs:
        plan = plan_boards(outline, holes, board, BoardRules(*rules))
        area = Polygon(outline).area - sum(Polygon(h).area for h in holes)
        least = ceil(area / (board[0] * board[1]) - 1e-9)
        bought, fewest = bought + plan.boards_bought, fewest + least
        near += plan.boards_bought <= least + 1
        broken += bool(plan.breaches)
    ms = round(1000 * (time.process_time() - start) / len(roofs), 1)
    share = near / len(roofs)
    met = None if goal is None else bought <= goal * fewest
    if goal and board[0] > 2000:
        met = met and share >= WITHIN_ONE
    name = (
        f"boards {board[0]} x {board[1]}, edge {rules[1]}, {len(roofs)} roofs "
        f"({share:.0%} within one, {broken} break a rule)"
    )
    return Figure(name, ms, round(bought / fewest, 4), fewest, goal or 0.0, met, ms, fewest)

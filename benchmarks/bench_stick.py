"""The rise stick of 24 steps, in one layer and in two, against the bare kernels that it calls.

Heat, moisture and fixings of every thickness: the floor is the monthly balance of each (taut
strings and nothing else). Edges: the floor is the exact solves in two dimensions, of which no edge
may take more than eight; how many were made stands in the name.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

from benchmarks.timing import Figure, measure

GOAL_ROWS, GOAL_EDGES = 3.0, 1.2
ON = date(2026, 11, 25)
EXAMPLE = Path(__file__).parents[1] / "examples" / "garage"
STEPS_MM = range(50, 170, 5)

Call = tuple[tuple[Any, ...], dict[str, Any]]


def kernel_calls(module: Any, name: str, work: Callable[[], object]) -> list[Call]:
    """Write down the calls of one kernel while some work is done."""
    calls: list[Call] = []
    real = getattr(module, name)

    def noted(*args: Any, **kwargs: Any) -> Any:
        calls.append((args, kwargs))
        return real(*args, **kwargs)

    setattr(module, name, noted)
    try:
        work()
    finally:
        setattr(module, name, real)
    return calls


def figures() -> list[Figure]:
    """Measure the rows of the stick, and its edges."""
    from dataclasses import replace

    from evenfall.app.loading import load
    from evenfall.flow import work_out
    from evenfall.stages.design import edge_curves, thicknesses

    case = load(EXAMPLE, ON).case
    board = next(b for b in case.rates.boards if b.name == case.job.design.board)
    sizes = tuple(board.sizes[0].model_copy(update={"thickness_mm": mm}) for mm in STEPS_MM)
    many = board.model_copy(update={"sizes": sizes})
    rates = case.rates.model_copy(update={"boards": (many,)})
    seen = work_out(replace(case, rates=rates)).seen

    def rows() -> object:
        return thicknesses.work(*seen["thicknesses"])

    monthly, values = thicknesses.monthly, edge_curves.values

    def edges() -> object:
        values.cache_clear()  # answers are remembered; here each is solved anew
        return edge_curves.work(*seen["edge_curves"])

    def bare() -> object:
        values.cache_clear()
        return [values(*a, **k) for a, k in solves]

    balances = kernel_calls(thicknesses, "monthly", rows)
    solves = kernel_calls(edge_curves, "values", edges)
    return [
        measure(f"stick of {len(STEPS_MM)} steps, {len(balances)} rows", rows,
                lambda: [monthly(*a, **k) for a, k in balances], GOAL_ROWS),
        measure(f"its edges, {len(solves)} solves for {len(seen['edge_curves'][0])} edges", edges,
                bare, GOAL_EDGES),
    ]  # fmt: skip

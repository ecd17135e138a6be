"""The quick working of the example against the sum of its own bare kernels.

The kernels are what no program could leave out: the least squares of the plan, the taut strings
(hulls) of the moisture, the sections of the edges, the sections of the edges, the days of the
drying, the searches and integer programmes of cutting and packing, the search for the bays. While
the job is worked once, the calls of these functions are written down with their arguments; the
floor makes the same calls again and nothing else.
"""

from __future__ import annotations

import importlib
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

from benchmarks.timing import Figure, measure

GOAL = 1.5
ON = date(2026, 11, 25)
EXAMPLE = Path(__file__).parents[1] / "examples" / "rear-extension"

KERNELS = (
    ("evenfall.stages.survey.plan", "adjust"),
    ("evenfall.stages.survey.levels", "fit_plane"),
    ("evenfall.stages.survey.deck", "spot_relief"),
    ("evenfall.stages.survey.deck", "fill"),
    ("evenfall.stages.survey.making", "net"),
    ("evenfall.stages.design.thicknesses", "monthly"),
    ("evenfall.calc.physics.edge_values", "solve"),
    ("evenfall.stages.design.what_if", "monthly"),
    ("evenfall.stages.design.drying", "dried"),
    ("evenfall.stages.takeoff.boards", "plan_boards"),
    ("evenfall.stages.takeoff.sheet", "plan_sheet"),
    ("evenfall.stages.takeoff.rolls", "plan_rolls"),
    ("evenfall.stages.takeoff.lengths", "plan_lengths"),
    ("evenfall.stages.takeoff.items", "to_packs"),
    ("evenfall.stages.programme.bays", "slice_along"),
    ("evenfall.stages.programme.bays", "cut"),
)

Call = tuple[Callable[..., Any], tuple[Any, ...], dict[str, Any]]


def recorded(work: Callable[[], object]) -> list[Call]:
    """Write down every call of a kernel while some work is done."""
    calls: list[Call] = []
    kept = []
    for module_name, name in KERNELS:
        module = importlib.import_module(module_name)
        real = getattr(module, name)
        kept.append((module, name, real))
        setattr(module, name, _written_down(real, calls))
    try:
        work()
    finally:
        for module, name, real in kept:
            setattr(module, name, real)
    return calls


def _written_down(real: Callable[..., Any], calls: list[Call]) -> Callable[..., Any]:
    def call(*args: Any, **kwargs: Any) -> Any:
        calls.append((real, args, kwargs))
        return real(*args, **kwargs)

    return call


def figures() -> list[Figure]:
    """Measure the whole job afresh, and a note, a price and a tape with what was worked before."""
    from dataclasses import replace

    from evenfall.app.loading import load
    from evenfall.calc.physics import edge_values
    from evenfall.flow import work_out
    from evenfall.model.change import apply
    from evenfall.model.finding import Change

    case = load(EXAMPLE, ON).case
    case = replace(case, job=apply(case.job, (Change("design.options", []),)))

    def afresh() -> object:
        edge_values.values.cache_clear()
        return work_out(case)

    calls = recorded(afresh)
    base = work_out(case)
    tape = case.job.survey.tapes[0]
    edit = Change(f"survey.tapes[{tape.between}].length_m", tape.length_m + 0.003)
    moved = replace(case, job=apply(case.job, (edit,)))
    taped = recorded(lambda: work_out(moved, base))

    def kernels(listed: list[Call]) -> Callable[[], None]:
        return lambda: [f(*a, **k) for f, a, k in listed] and None

    return [
        measure("work_out, all rooms", afresh, kernels(calls), GOAL),
        measure("work_out, one tape", lambda: work_out(moved, base), kernels(taped), GOAL),
    ]

"""Hourly drying of a damp deck against its bare tridiagonal solves.

A quarter of a year by the hour, from several starts side by side and from one alone. The floor
makes as many calls of `scipy.linalg.solve_banded` as the steps do, two an hour, on systems of the
same size, and nothing else. Besides, the room as the flow works it, in steps that stretch.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import numpy as np
from benchmarks.timing import Figure, measure
from scipy.linalg import solve_banded

GOAL = 6.0
ON = date(2026, 11, 25)
EXAMPLE = Path(__file__).parents[1] / "examples" / "rear-extension"
ROOM_GOAL = 40.0
"""The room also cuts the roof into cells, fills its tables and tells the curves."""
HOURS = 24 * 30
SOLVES = 2
"""Tridiagonal systems a step: heat, then water."""


def floor(cells: int, starts: int, steps: int) -> Callable[[], None]:
    """Make the bare solves of so many steps."""
    n = cells * starts
    band = np.ones((3, n))
    band[1] = 4.0
    right = np.linspace(1.0, 2.0, n)

    def bare() -> None:
        for _ in range(SOLVES * steps):
            solve_banded((1, 1), band, right, check_finite=False)

    return bare


def figures() -> list[Figure]:
    """Measure the hourly runs and the room."""
    from evenfall.app.loading import load
    from evenfall.calc.physics.transient.climate import from_months
    from evenfall.calc.physics.transient.follow import dried
    from evenfall.flow import work_out
    from evenfall.stages.design import damp_layers, drying, layering

    case = load(EXAMPLE, ON).case
    seen = work_out(case).seen["drying"]
    chosen_mm, build, deck, below, joists, _, site, _ = seen
    roof, density = damp_layers.section(chosen_mm, build, deck, below, joists)
    hours, cells = from_months(layering.year(site, below), swing=5.0), roof.cells_of("deck")
    base = roof.water_at(0.6, 20.0)

    def by_the_hour(starts: int) -> Callable[[], None]:
        waters = [base.copy() for _ in range(starts)]
        for k, water in enumerate(waters):
            water[cells] = density * (0.20 + 0.08 * k / starts)

        def run() -> None:
            course = dried(roof, "deck", waters, 15.0, hours, 2400, HOURS, 0.0, longest=1)
            assert course.days.size == HOURS + 1

        return run

    n = roof.d.size
    steps = len(drying.work(*seen).courses[0].points) - 1
    listed = [
        measure(f"drying by the hour, {k} start{'s' * (k > 1)}", by_the_hour(k),
                floor(n, k, HOURS), GOAL)
        for k in (1, 24)
    ]  # fmt: skip
    room = measure("drying room", lambda: drying.work(*seen), floor(n, 9, steps), ROOM_GOAL)
    return [*listed, room]

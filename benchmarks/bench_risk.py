"""A plan walked through years of weather, against one numpy pass over the same hours.

The floor reads every hour of rain, air and the days' dew point and wind once, and takes the most or
the least of each day: one reduction to an array, nothing of the plan. The walk gates every kind of
day of the plan and walks it from one start, or from 52. Times are of the processor: a busy machine
cuts the work up where it leaves the short floor whole.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

from benchmarks.timing import Figure, measure

GOAL, GOAL_STARTS, GOAL_MADE = 4.0, 52.0, 100.0  # of the last two: one pass a start, and our own
EXAMPLE = Path(__file__).parents[1] / "examples" / "rear-extension"
ON = date(2026, 11, 25)


def figures() -> list[Figure]:
    """Measure the walk from one start, from a year of starts, and making the years."""
    from evenfall.stages.weather import risk, sources

    case, worked = _worked()
    weather = sources.from_climate(case.job.site)
    kinds = risk.kinds(worked.programme, worked.tasks.tasks, case.job.crew)
    years = weather.years
    floor = one_pass(years)

    def walk(weeks: int) -> Callable[[], object]:
        starts = risk.starts(case.job.calendar, weeks)
        return lambda: risk.walked(
            kinds, years, starts, (case.job.calendar, case.job.job.nation), risk.SEED
        )

    found = risk.wager(worked.programme, worked.tasks.tasks, case.job.crew, case.job.calendar,
                       case.job.job.nation, case.rates, weather)  # fmt: skip
    told = f"{found.distinct} distinct years, standard error {found.bare.wet_evening_error:.2%}"
    return [
        measure(f"plan walked from one start ({told})", walk(1), floor, GOAL,
                clock=time.process_time),
        measure("plan walked from 52 starts", walk(52), floor, GOAL_STARTS,
                clock=time.process_time),
        measure("years made", lambda: sources.from_climate(case.job.site), floor,
                GOAL_MADE, clock=time.process_time),
    ]  # fmt: skip


def one_pass(years: Any) -> Callable[[], object]:
    """Read every hour once."""

    def run() -> object:
        return (years.rain.max(axis=0), years.air.min(axis=0), years.air.max(axis=0),
                years.dew.min(axis=0), years.wind.max(axis=0))  # fmt: skip

    return run


def _worked() -> tuple[Any, Any]:
    from evenfall.app.loading import load
    from evenfall.flow import work_out

    case = load(EXAMPLE, ON).case
    return case, work_out(case)

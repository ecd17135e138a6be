"""Programmes proven, or how far from it; the time in solves of HiGHS on the bare model.

HiGHS solves the same bays on the same days (`programme_model`), without the clock of the day. Times
are those of the processor; building the model is not counted.
"""

from __future__ import annotations

import time
from dataclasses import replace
from datetime import date
from pathlib import Path

from benchmarks.programme_model import Model
from benchmarks.timing import Figure

GOAL = 4.0  # times HiGHS
STEPS = 4_000
EXAMPLES = Path(__file__).parents[1] / "examples"


def figures() -> list[Figure]:
    """Lay out the examples, and a roof of a dozen bays."""
    return [_one(name, _example(name)) for name in ("rear-extension", "courtyard", "garage")] + [
        _one("12 bays", _large())
    ]


def _one(name: str, make) -> Figure:  # type: ignore[no-untyped-def]
    from evenfall.stages.programme.days import lay_out

    work = make()
    start = time.process_time()
    laid = lay_out(work, STEPS)
    ours = time.process_time() - start
    model = Model(make(), int(laid.cost[1]) + 1)
    start = time.process_time()
    bare_days, bare = model.solve()
    floor = time.process_time() - start
    gap = "proven" if laid.proven else f"at least {laid.bound[1]:.0f} days, {laid.bound[2]:.1f}"
    told = (
        f"programme, {name}: {len(work.bays)} bays, {laid.cost[1]:.0f} days, {laid.cost[2]:.1f} m2 "
        f"nights, {gap}, {laid.steps} steps; HiGHS {bare_days} days, {bare:.1f}"
    )
    ms, low, ratio = round(1000 * ours, 1), round(1000 * floor, 1), round(ours / floor, 2)
    return Figure(told, ms, ratio, low, GOAL, ratio <= GOAL, ms, low)


def _example(name: str):  # type: ignore[no-untyped-def]
    from evenfall.app.loading import load
    from evenfall.flow import work_out
    from evenfall.model.change import apply
    from evenfall.model.finding import Change
    from evenfall.stages.programme.draft import site_of
    from evenfall.stages.programme.gang import Gang

    case = load(EXAMPLES / name, date(2026, 11, 25)).case
    plain = replace(case, job=apply(case.job, (Change("design.options", []),)))
    w = work_out(plain)
    when, nights = w.seen["programme"][3], w.seen["programme"][4]
    site = next(o for o in case.rates.outputs if o.task == "open-and-close")
    gang = Gang(case.job.crew.people, site.typical, site.high)
    return lambda: site_of(w.tasks.tasks, w.tasks.bays, gang, when, nights)


def _large():  # type: ignore[no-untyped-def]
    from tests.unit import programme_roofs as roofs

    from evenfall.stages.programme.draft import site_of
    from evenfall.stages.programme.gang import Gang

    time_ = roofs.when(2, "2027-05-10")
    tasks, _ = roofs.planned(roofs.roof(roofs.oblong(16.7, 5.9)), time_)
    gang = Gang(2, 0.5, 0.7)
    return lambda: site_of(tasks.tasks, tasks.bays, gang, time_, roofs.STICKY.nights)

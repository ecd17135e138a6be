"""The papers against the bare typst compile of the same pages: all, and one after a change.

The compiler remembers what it laid out for sources that it has seen, and forgets by turns: a floor
that compiles one source again and again is now a tenth of itself, now whole. So each turn has a
client of its own, whose pages neither the floor nor our work has seen before.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from benchmarks.timing import ROUNDS, Figure, measure_both

if TYPE_CHECKING:
    from evenfall.flow import WorkedJob
    from evenfall.model.case import Case

GOAL, ONE = 3.0, 1.5
ON = date(2026, 11, 25)
EXAMPLE = Path(__file__).parents[1] / "examples" / "rear-extension"
CHANGED = "calculations.pdf"
TURNS = ROUNDS + 1
"""One is not measured."""


def figures() -> list[Figure]:
    """Measure all papers of the example, and the longest one after another client was entered.

    The floor compiles PDF sources of the same pages as they stand; DXF, SVG, workbook and
    calendars are work on top of it.
    """
    from evenfall.app.loading import load
    from evenfall.app.papers import paper, papers, printed
    from evenfall.app.papers.pdf import compiled
    from evenfall.flow import work_out

    worked = work_out(load(EXAMPLE, ON).case)
    makers = printed()
    cases = clients(worked.case)

    def another() -> WorkedJob:
        return work_out(next(cases), worked)

    mine = iter([another() for _ in range(TURNS)])
    bare = iter([[m(job) for m in makers.values()] for job in (another() for _ in range(TURNS))])
    alone = iter([makers[CHANGED](another()) for _ in range(TURNS)])
    return [
        *measure_both("papers", lambda: papers(next(mine)),
                      lambda: [compiled(s) for s in next(bare)], GOAL),
        *measure_both("papers, one after a change", lambda: paper(another(), CHANGED),
                      lambda: compiled(next(alone)), ONE),
    ]  # fmt: skip


def clients(case: Case) -> Iterator[Case]:
    """Give the case again and again, each time for another client."""
    from evenfall.model.change import apply
    from evenfall.model.finding import Change

    number = 0
    while True:
        number += 1
        change = Change("job.client", f"Client {number:03d} (invented)")
        yield replace(case, job=apply(case.job, [change]))

"""The papers against the bare typst compile of the same pages: all, and one after a change."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

from benchmarks.timing import Figure, measure

GOAL, ONE = 3.0, 1.5
ON = date(2026, 11, 25)
EXAMPLE = Path(__file__).parents[1] / "examples" / "rear-extension"
CHANGED = "calculations.pdf"


def figures() -> list[Figure]:
    """Measure all papers of the example, and the longest one after another client was entered.

    The floor compiles the same PDF sources as they stand; DXF, SVG, workbook and calendars are
    work on top of it.
    """
    from evenfall.app.loading import load
    from evenfall.app.papers import paper, papers, printed
    from evenfall.app.papers.pdf import compiled
    from evenfall.flow import work_out
    from evenfall.model.change import apply
    from evenfall.model.finding import Change

    worked = work_out(load(EXAMPLE, ON).case)
    ready = {name: make(worked) for name, make in printed().items()}
    other = apply(worked.case.job, [Change("job.client", "Another (invented)")])

    def bare() -> None:
        for source in ready.values():
            compiled(source)

    def again() -> bytes:
        return paper(work_out(replace(worked.case, job=other), worked), CHANGED)

    return [
        measure("papers", lambda: papers(worked), bare, GOAL),
        measure("papers, one after a change", again, lambda: compiled(ready[CHANGED]), ONE),
    ]

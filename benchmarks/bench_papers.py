"""The papers against the bare typst compile of the same pages."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from benchmarks.timing import Figure, measure

GOAL = 3.0
ON = date(2026, 11, 25)
EXAMPLE = Path(__file__).parents[1] / "examples" / "rear-extension"


def figures() -> list[Figure]:
    """Measure all papers of the example; the floor compiles the two PDF sources as they stand."""
    from evenfall.app.loading import load
    from evenfall.app.papers import papers
    from evenfall.app.papers.pdf import compiled, sources
    from evenfall.flow import work_out

    worked = work_out(load(EXAMPLE, ON).case)
    ready = sources(worked)

    def bare() -> None:
        for source in ready:
            compiled(source)

    return [measure("papers", lambda: papers(worked), bare, GOAL)]

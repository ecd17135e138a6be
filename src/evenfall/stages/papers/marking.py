"""Chalk marks: which findings a paper shows, under which number, and where on the plan."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from evenfall.model.finding import Finding
from evenfall.model.surveyed import Point
from evenfall.stages.papers.worked import WorkedRoof


@dataclass(frozen=True, slots=True)
class Marked:
    """One finding with the number of its chalk mark; ``at`` is None where it has no one place."""

    number: int
    finding: Finding
    at: Point | None


def marked(worked: WorkedRoof, findings: Iterable[Finding]) -> tuple[Marked, ...]:
    """Give findings numbers in the order given, and find their places.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    findings : iterable of Finding
        What the paper shows [-].

    Returns
    -------
    tuple of Marked
        Numbered from 1; places on the plan [m].
    """
    return tuple(Marked(n, f, place(worked, f.subject)) for n, f in enumerate(findings, 1))


def chalked(worked: WorkedRoof) -> tuple[Finding, ...]:
    """Pick the findings that the roofer reads: all but those that are fine.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of Finding
        The heaviest first [-].
    """
    return tuple(f for f in worked.findings if f.level != "fine")


def place(worked: WorkedRoof, subject: str) -> Point | None:
    """Find the place of a subject on the plan.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    subject : str
        An id such as ``side:B-C`` [-].

    Returns
    -------
    (float, float) or None
        Where its mark stands; None for the roof as a whole [m].
    """
    kind, _, name = subject.partition(":")
    plan = worked.plan
    if kind in ("side", "gutter"):
        return next((_middle(s.a, s.b) for s in plan.sides if s.name == name), None)
    if kind == "opening":
        return next((o.centre for o in plan.openings if o.name == name), None)
    if kind in ("height", "window", "sash"):
        return next((h.at for h in worked.heights.items if h.id == subject), None)
    if kind == "level":
        return next((s.at for s in worked.levels.spots if s.name == name), None)
    if kind == "reading":
        read = next((r for r in worked.case.job.survey.readings if r.name == name), None)
        if read is None or read.side is None:
            return None
        return plan.side(read.side).place(read.along_m or 0.0, read.in_m or 0.0)
    corners = {c.name: (c.x_m, c.y_m) for c in plan.corners}
    if kind == "corner":
        return corners.get(name)
    if kind == "tape":
        ends = [corners[n] for n in name.split("-") if n in corners]
        return _middle(*ends[:2]) if ends[1:] else None
    return None


def _middle(a: Point, b: Point) -> Point:
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2

"""The layers of a section, piled up and drawn."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evenfall.drawing import TICK, Dimension, Item, Line
from evenfall.stages.papers.layers import Course, courses
from evenfall.stages.papers.section_parts import band
from evenfall.stages.papers.worked import WorkedRoof

SIZED_MM = 8.0  # thinner layers are named, not measured: their size stands in their name


@dataclass(frozen=True, slots=True)
class Stack:
    """The layers of a section: courses with their lower and upper height at both ends."""

    rows: tuple[tuple[Course, tuple[float, float], tuple[float, float]], ...]

    def top(self, share: float) -> float:
        """Height of the finished surface; share 0 is the first end, 1 the second [mm]."""
        _, _, (a, b) = self.rows[-1]
        return a + (b - a) * share

    @property
    def lifts_deck(self) -> bool:
        """Whether the deck is one of the courses: it lies on firrings."""
        return any(course.name == "deck" for course, _, _ in self.rows)


def pile(
    worked: WorkedRoof,
    first: float,
    second: float,
    base: float = 0.0,
    insulation_mm: float | None = None,
) -> Stack:
    """Pile the courses up; the wedge differs between the two ends.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    first, second : float
        What firrings or tapers add at the two ends [mm].
    base : float
        Top of the deck before it is lifted [mm].
    insulation_mm : float, optional
        All boards together, where they are thinner than in the field [mm].

    Returns
    -------
    Stack
        The courses, the lowest first [mm].
    """
    laid = courses(worked, max(first, second), insulation_mm)
    lifted = sum(course.thickness_mm for course in laid if course.name == "deck")
    low = (base - lifted, base - lifted)
    rows = []
    for course in laid:
        wedge = course.name in ("firring", "taper")
        a, b = (first, second) if wedge else (course.thickness_mm, course.thickness_mm)
        high = (low[0] + a, low[1] + b)
        rows.append((course, low, high))
        low = high
    return Stack(tuple(rows))


def drawn_stack(stack: Stack, x0: float, x1: float, inset: float = 0.0) -> Iterator[Item]:
    """Draw each course between two ends; boards and overlay stop short of the edge timber.

    Parameters
    ----------
    stack : Stack
        The courses [mm].
    x0, x1 : float
        The two ends [mm].
    inset : float
        How far boards and overlay stop short of the first end [mm].

    Yields
    ------
    Item
        Bands and lines [mm].
    """
    for course, (a, b), (c, d) in stack.rows:
        left = x0 + (inset if course.name in ("board", "taper", "overlay") else 0.0)
        if course.name == "vcl":
            yield Line(((x0, a), (x1, b)), "evening", "cut")
        elif course.name == "sheet":
            yield Line(((x0, c), (x1, d)), "ink", "cut")
        else:
            yield band((left, a, c), (x1, b, d), course.hatch)


def chain(stack: Stack, x: float, first: bool = False) -> Iterator[Item]:
    """Measure every layer that is thick enough, one over the other, at one end of a section.

    Parameters
    ----------
    stack : Stack
        The courses [mm].
    x : float
        Where the chain stands [mm].
    first : bool
        Whether it is the first end that is measured, else the second [-].

    Yields
    ------
    Item
        A dimension for each layer that can be told apart [mm].
    """
    for _, low, high in stack.rows:
        a, b = (low[0], high[0]) if first else (low[1], high[1])
        if b - a >= SIZED_MM:
            ends = ((x, b), (x, a))
            yield Dimension(*ends, f"{b - a:.0f}", 0.0, "worked", TICK)


def foot(worked: WorkedRoof) -> float:
    """Find the underside of the joists.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    float
        Height, the top of the deck being nought [mm].
    """
    survey = worked.case.job.survey
    return -survey.deck.thickness_mm - survey.joists.depth_mm

"""What may lie open at one time: what is sealed within the hour, and what covers reach over."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evenfall.model.finding import Finding, Remedy
from evenfall.model.programmed import Bay, Task
from evenfall.stages.programme.order import SEALING
from evenfall.stages.programme.site import Slot, kind, slow_hours
from evenfall.stages.programme.slices import BEYOND, reach_over, sealed_share
from evenfall.standards import programme_practice as practice

NEAR = 1e-6  # m2; less is rounding
CLOSERS = frozenset(row.task for row in SEALING)


@dataclass(frozen=True, slots=True)
class Bare:
    """A bay while it is open."""

    slot: Slot
    bay: int
    area: float
    sealed: float  # of it, what the crew closes within the hour
    sides: tuple[float, float]  # of the box round it, m

    @property
    def rest(self) -> float:
        """Area that a cover must reach over."""
        return self.area - self.sealed

    @property
    def cover(self) -> tuple[float, float]:
        """The cover that reaches over all of it."""
        return (self.sides[0] + BEYOND, self.sides[1] + BEYOND)


def bare(
    slots: tuple[Slot, ...], tasks: tuple[Task, ...], bays: tuple[Bay, ...], people: int
) -> Iterator[Bare]:
    """Tell of each bay that is opened how much of it lies open, and what is sealed in the hour.

    Parameters
    ----------
    slots : tuple of Slot
        The days [-].
    tasks : tuple of Task
        All work [h].
    bays : tuple of Bay
        The bays [m2].
    people : int
        Who works [-].

    Yields
    ------
    Bare
        In the order of the days [m2].
    """
    by_number = {b.number: b for b in bays}
    for slot in slots:
        for number in slot.opened:
            sealing = [t for t in tasks if t.bay == number and kind(t.id) in CLOSERS]
            area = by_number[number].area_m2
            share = sealed_share(slow_hours(sealing), people)
            xs, ys = zip(*by_number[number].ring, strict=True)
            yield Bare(
                slot, number, area, share * area, (max(xs) - min(xs), max(ys) - min(ys))
            )  # fmt: skip


def told(opened: tuple[Bare, ...], covers: tuple[tuple[float, float], ...]) -> Iterator[Finding]:
    """Say how large a cover lies ready, or that those on site do not reach.

    Parameters
    ----------
    opened : tuple of Bare
        Every bay while it is open [m2].
    covers : tuple of (length, width)
        Covers on the site; none where nobody has said yet [m].

    Yields
    ------
    Finding
        A note of the cover to bring, or a stop [-].
    """

    def missing(b: Bare) -> float:
        return b.rest - (reach_over(covers, *b.sides) if covers else 0.0)

    worst = max(opened, key=missing, default=None)
    if worst is None or missing(worst) <= NEAR:
        return
    rule, (a, b) = practice.SEAL_MARGIN, worst.cover
    says = (
        f"On {worst.slot.span.on:%a %d %b} up to {worst.area:.1f} m² are open and the crew closes "
        f"{worst.sealed:.1f} within the hour"
    )
    if covers:
        reached = reach_over(covers, *worst.sides)
        yield Finding(
            "cover-short", "roof", "stop",
            f"{says}; the covers on site reach over {reached:.1f}.",
            rule.source, rule.basis, worst.rest, reached, "m2",
            Remedy(f"Bring a cover of {max(a, b):.1f} × {min(a, b):.1f} m with its weights."),
        )  # fmt: skip
        return
    yield Finding(
        "cover-ready", "roof", "note",
        f"{says}: a cover of {max(a, b):.1f} × {min(a, b):.1f} m with its weights lies ready on "
        "the roof before the first cut.",
        rule.source, rule.basis, worst.rest, None, "m2",
    )  # fmt: skip

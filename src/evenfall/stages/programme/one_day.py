"""Planned backwards: the smallest crew that seals the whole roof in one day, and what it costs."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.model.finding import Finding
from evenfall.stages.programme import order
from evenfall.stages.programme.draft import Draft, draft, slow_of
from evenfall.stages.programme.gang import Gang, darkest
from evenfall.stages.programme.hindrances import MOST_PEOPLE
from evenfall.stages.programme.outputs import Outputs
from evenfall.stages.programme.roof import Roof, When, whole
from evenfall.standards import programme_practice as practice

PENCE = 100
ROOM_EACH = 4.0  # m2 of open deck to a person, below which they stand in one another's way


def one_day_crew(roof: Roof, when: When, outputs: Outputs) -> int | None:
    """Find the smallest crew that strips, mends and seals the whole roof between dawn and dusk.

    Parameters
    ----------
    roof, when, outputs : Roof, When, Outputs
        As for the draft [-].

    Returns
    -------
    int or None
        People; None where so many would stand in one another's way [-].
    """
    site = outputs.of(order.OPEN_AND_CLOSE, "person_day")
    dark = darkest(when.crew, when.calendar, when.latitude, when.longitude)
    hours = slow_of(order.BAY, roof, whole(roof), outputs)
    each = Gang(1, site.typical, site.high).sure(dark)
    people = max(1, int(-(-hours // each))) if each else 0
    return people if people and people * ROOM_EACH <= roof.plan.gross.value else None


def backwards(
    roof: Roof, when: When, outputs: Outputs, plan: Draft, pence_hour: float
) -> Iterator[Finding]:
    """Set the crew that seals all in a day beside the crew of the job.

    Parameters
    ----------
    roof, when, outputs : Roof, When, Outputs
        As for the draft [-].
    plan : Draft
        Bays and days with the crew of the job [-].
    pence_hour : float
        What an hour of labour costs [pence].

    Yields
    ------
    Finding
        A note; none where the roof is one bay already [-].
    """
    people = one_day_crew(roof, when, outputs)
    if len(plan.bays) < 2 or (people is not None and people <= plan.people):
        return
    rule = practice.SEAL_MARGIN
    if people is None or people > MOST_PEOPLE:
        says = (
            "No crew that has room on this roof seals it in one day: it is opened in "
            f"{len(plan.bays)} bays, with {_nights(plan):.1f} m of night line in all."
        )
        yield Finding("one-day-crew", "roof", "note", says, rule.source, rule.basis)
        return
    tried = (draft(roof, when, outputs, n) for n in range(people, MOST_PEOPLE + 1))
    other = next((d for d in tried if sum(bool(s.opened) for s in d.slots) == 1), None)
    if other is None:
        return
    people = other.people
    more = sum(t.hours.value for t in other.tasks) - sum(t.hours.value for t in plan.tasks)
    money = f", about £{abs(more) * pence_hour / PENCE:,.0f}" if pence_hour else ""
    says = (
        f"{people} people would seal the whole roof in one day: {len(other.slots)} days on site "
        f"instead of {len(plan.slots)}, {_nights(plan) - _nights(other):.1f} m of night line "
        f"saved, and {abs(more):.1f} h {'more' if more > 0 else 'less'} in all{money}."
    )
    yield Finding(
        "one-day-crew", "roof", "note", says, rule.source, rule.basis, float(people), None,
        "people",
    )  # fmt: skip


def _nights(plan: Draft) -> float:
    return sum(b.night_m for b in plan.bays)

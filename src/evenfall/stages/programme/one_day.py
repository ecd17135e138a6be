"""Planned backwards: the smallest crew that seals the whole roof in one day, and what it costs."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from evenfall.model.finding import Finding
from evenfall.stages.programme import order
from evenfall.stages.programme.draft import QUICK, Draft, draft, slow_of
from evenfall.stages.programme.gang import Gang, darkest
from evenfall.stages.programme.hindrances import MOST_PEOPLE
from evenfall.stages.programme.outputs import Outputs
from evenfall.stages.programme.roof import Roof, When, whole
from evenfall.standards import programme_practice as practice

PENCE = 100
NEAR = 1e-9  # people; less is rounding
ROOM_EACH = 4.0  # m2 of open deck to a person, below which they stand in one another's way


def one_day_crew(roof: Roof, when: When, outputs: Outputs) -> tuple[int, float, float] | None:
    """Find the smallest crew that strips, mends and seals the whole roof between dawn and dusk.

    Fewer people have not the hours: the whole roof as one bay has no night line, so that no cut of
    it takes less work in all.

    Parameters
    ----------
    roof, when, outputs : Roof, When, Outputs
        As for the draft [-].

    Returns
    -------
    (people, hours, hours each) or None
        People, slow hours of all the work and those that each has on the shortest day of the
        weeks ahead; None where so many would stand in one another's way [h].
    """
    site = outputs.of(order.OPEN_AND_CLOSE, "person_day")
    dark = darkest(when.crew, when.calendar, when.latitude, when.longitude)
    hours = slow_of(order.BAY, roof, whole(roof), outputs)
    each = Gang(1, site.typical, site.high).sure(dark)
    people = max(1, ceil(hours / each - NEAR)) if each else 0
    room = people and people * ROOM_EACH <= roof.plan.gross.value
    return (people, hours, each) if room else None


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
    found = one_day_crew(roof, when, outputs)
    if len(plan.bays) < 2 or (found is not None and found[0] <= plan.people):
        return
    rule = practice.SEAL_MARGIN
    if found is None or found[0] > MOST_PEOPLE:
        says = (
            "No crew that has room on this roof seals it in one day: it is opened in "
            f"{len(plan.bays)} bays, with {_nights(plan):.1f} m of night line in all."
        )
        yield Finding("one-day-crew", "roof", "note", says, rule.source, rule.basis)
        return
    people, hours, each = found
    other = draft(roof, when, outputs, people, QUICK, first_cut=True)
    if sum(bool(s.opened) for s in other.slots) != 1:
        return
    says = (
        f"{people} people would seal the whole roof in one day, and no fewer: {hours:.1f} h of "
        f"work on a slow day, {each:.1f} h each before it must be shut. "
        f"{_beside(plan, other, pence_hour)}"
    )
    free = draft(roof, when, outputs, people, QUICK)
    if free.better_than < other.better_than:
        says += (
            f" Left to itself the plan opens it with them on "
            f"{sum(bool(s.opened) for s in free.slots)} days: {len(free.slots)} days on site."
        )
    yield Finding(
        "one-day-crew", "roof", "note", says, rule.source, rule.basis, float(people), None,
        "people",
    )  # fmt: skip


def _beside(plan: Draft, other: Draft, pence_hour: float) -> str:
    """Set days, night lines and hours of two crews beside one another."""
    more = sum(t.hours.value for t in other.tasks) - sum(t.hours.value for t in plan.tasks)
    money = f", about £{abs(more) * pence_hour / PENCE:,.0f}" if pence_hour else ""
    return (
        f"{len(other.slots)} days on site instead of {len(plan.slots)}, "
        f"{_nights(plan) - _nights(other):.1f} m of night line saved, and {abs(more):.1f} h "
        f"{'more' if more > 0 else 'less'} in all{money}."
    )


def _nights(plan: Draft) -> float:
    return sum(b.night_m for b in plan.bays)

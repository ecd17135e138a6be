"""Fewest days that any number, order and size of bays can take: by hours, nights and light."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import ceil

from evenfall.model.programmed import Bay, Task
from evenfall.stages.programme import order
from evenfall.stages.programme.days import SHEETED, nights_of
from evenfall.stages.programme.draft import site_of
from evenfall.stages.programme.gang import Gang
from evenfall.stages.programme.making import tasks
from evenfall.stages.programme.outputs import Outputs, slow
from evenfall.stages.programme.roof import Roof, When, whole
from evenfall.stages.programme.site import NEAR, Work, slow_hours
from evenfall.standards import programme_practice as practice

Rooms = tuple[float, ...]  # h of each day in turn; the last stands for all that come after


def least_days(roof: Roof, when: When, outputs: Outputs, people: int) -> int:
    """Bound the days of a roof from below, however its bays are cut.

    The roof is taken as one bay that may be torn anywhere with the shortest of night joints: every
    cut has the same hours or more. Its work fills whole days; setting up before it, what opens and
    what covers it fit only into the sure hours of days; what must rest overnight passes its nights.

    Parameters
    ----------
    roof : Roof
        The roof [-].
    when : When
        Hours, calendar and place [-].
    outputs : Outputs
        The firm's outputs [-].
    people : int
        Size of the crew [-].

    Returns
    -------
    int
        Working days from the first to the last, at the least [d].
    """
    part = whole(roof)
    work = tuple(tasks(roof, outputs, (part,), ((1,),), 0.0))
    site = outputs.of(order.OPEN_AND_CLOSE, "person_day")
    gang = Gang(people, site.typical, site.high)
    bay = Bay(1, tuple(roof.plan.deck), part.gross, None)
    on_site = site_of(work, (bay,), gang, when, roof.vcl.nights)
    usual, sure = _rooms(on_site, when.crew.hours_a_day)
    nights = nights_of(on_site)
    before, after = _round(work, on_site.zones[-1][1][-1].id)
    covering = sum(b.least_slow for b in on_site.blocks)
    sheeted = max(
        min(_closing(work, covering + slowly, sure[n:], outputs) + n
            for n, slowly in _set_up(on_site, usual)),
        _days(before, usual),
    )  # fmt: skip
    return max(
        _days(sum(t.hours.value for t in work), usual),
        sheeted + max(nights[SHEETED], ceil(after / max(usual) - NEAR) - 1),
        max(nights[t.id] + 1 for t in work if t.hours.value),
    )


def _rooms(on_site: Work, hours: float) -> tuple[Rooms, Rooms]:
    """Give each day ahead its person-hours, usual and sure; a day in full light stands for more."""
    gang = on_site.gang
    ahead = [s for n in range(int(practice.OUTLOOK)) if (s := on_site.span(n))]
    ahead += [replace(s, opens=0.0, closes=hours) for s in ahead[-1:]]
    usual, sure = [gang.usual(s) for s in ahead], [gang.sure(s) for s in ahead]
    return tuple(max(u, NEAR) for u in usual), tuple(max(s, NEAR) for s in sure)


def _set_up(on_site: Work, usual: Rooms) -> Iterator[tuple[int, float]]:
    """Set up for some whole days before the first bay; slow hours of it left for the bay's day."""
    hours, slowly = sum(t.hours.value for t in on_site.start), slow_hours(on_site.start)
    for n in range(_days(hours, usual) + 1):
        left = max(0.0, hours - sum(usual[:n]))
        yield n, slowly * left / hours if hours else 0.0


def _days(hours: float, rooms: Rooms) -> int:
    """Count the days that hours fill; after the days ahead each has as much as the last said."""
    for n, room in enumerate(rooms[:-1]):
        if hours <= NEAR:
            return n
        hours -= room
    return max(0, ceil(hours / rooms[-1] - NEAR)) + len(rooms) - 1


def _round(work: tuple[Task, ...], sheet: str) -> tuple[float, float]:
    """Add up the hours that must come before the sheet is down, with its own, and after it."""
    by_id = {t.id: t for t in work}
    early, wait = set[str](), [sheet]
    while wait:
        id_ = wait.pop()
        if id_ in by_id and id_ not in early:
            early.add(id_)
            wait += by_id[id_].after
    late = {sheet}
    for t in work:  # each comes after all that it waits for
        if late & set(t.after):
            late.add(t.id)
    late.discard(sheet)
    return tuple(sum(by_id[i].hours.value for i in ids) for ids in (early, late))  # type: ignore[return-value]


def _closing(work: tuple[Task, ...], covering: float, sure: Rooms, outputs: Outputs) -> int:
    """Days with sure hours enough for all bays and sheets; each evening on felt has its joint."""
    bays = slow_hours(t for t in work if t.bay is not None)
    if bays <= max(sure) + NEAR:
        return max(1, _days(bays + covering, sure))
    rate = outputs.of("night-joint", "night")
    joint = slow(rate.low, rate.typical, rate.high)
    stripping = _days(bays - joint, tuple(max(s - joint, NEAR) for s in sure))
    return max(stripping, _days(bays + covering + (stripping - 1) * joint, sure))

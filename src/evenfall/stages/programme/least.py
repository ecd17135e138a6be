"""Fewest days that any number, order and size of bays can take: by hours, nights and light."""

from __future__ import annotations

from math import ceil

from evenfall.model.programmed import Bay, Task
from evenfall.stages.programme import order
from evenfall.stages.programme.days import SHEETED, nights_of
from evenfall.stages.programme.draft import site_of
from evenfall.stages.programme.gang import Gang
from evenfall.stages.programme.making import tasks
from evenfall.stages.programme.outputs import Outputs, slow
from evenfall.stages.programme.roof import Roof, When, whole
from evenfall.stages.programme.site import NEAR, slow_hours


def least_days(roof: Roof, when: When, outputs: Outputs, people: int) -> int:
    """Bound the days of a roof from below, however its bays are cut.

    The roof is taken as one bay that may be torn anywhere without a night joint: every cut has the
    same hours or more. Its work fills whole days; what opens and covers it fits only into the sure
    hours of days; what must rest overnight passes its nights.

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
        Working days on which something is done, at the least [d].
    """
    part = whole(roof)
    work = tuple(tasks(roof, outputs, (part,), ((1,),), 0.0))
    site = outputs.of(order.OPEN_AND_CLOSE, "person_day")
    gang = Gang(people, site.typical, site.high)
    bay = Bay(1, tuple(roof.plan.deck), part.gross, None)
    on_site = site_of(work, (bay,), gang, when, roof.vcl.nights)
    usual, sure = max(on_site.most_usual, NEAR), max(on_site.most_sure, NEAR)
    nights = nights_of(on_site)
    before, after = _round(work, on_site.zones[-1][1][-1].id)
    closing = _closing(work, sum(b.least_slow for b in on_site.blocks), sure, outputs)
    sheeted = max(closing, _days(before, usual))
    return max(
        _days(sum(t.hours.value for t in work), usual),
        sheeted + max(nights[SHEETED], _days(after, usual) - 1),
        max(nights[t.id] + 1 for t in work if t.hours.value),
    )


def _days(hours: float, a_day: float) -> int:
    return ceil(hours / a_day - NEAR)


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


def _closing(work: tuple[Task, ...], covering: float, sure: float, outputs: Outputs) -> int:
    """Days with sure hours enough for all bays and sheets; each evening on felt has its joint."""
    bays = slow_hours(t for t in work if t.bay is not None)
    if bays <= sure + NEAR:
        return max(1, _days(bays + covering, sure))
    rate = outputs.of("night-joint", "night")
    joint = slow(rate.low, rate.typical, rate.high)
    stripping = _days(bays - joint, max(sure - joint, NEAR))
    return max(stripping, _days(bays + covering + (stripping - 1) * joint, sure))

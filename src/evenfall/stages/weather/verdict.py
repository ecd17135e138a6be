"""Verdict: the rest of a plan, placed again, laid out by the clock and given to the checker.

The checker imports nothing of what makes programmes; here it goes over every morning's answer.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

from evenfall.model.programmed import Day, Task
from evenfall.stages.programme.by_hand import SITE, taking
from evenfall.stages.programme.evening_check import check
from evenfall.stages.programme.evening_follow import Stands
from evenfall.stages.programme.evening_water import Rain
from evenfall.stages.programme.gang import works
from evenfall.stages.programme.hindrances import nights_on_vcl
from evenfall.stages.programme.programme import days_of
from evenfall.stages.programme.roof import When
from evenfall.stages.programme.site import BONDED_DOWN, SHEETING, Slot, kind
from evenfall.stages.weather.laid import A_DAY, Begun, laid, light, of_roof
from evenfall.stages.weather.replan import Replanned
from evenfall.stages.weather.rest import Piece

MORE = 20  # working days after the last on which small work may still be done


def verdict(of: Begun, moved: Replanned, today: date, begins: float) -> tuple[str, ...] | None:
    """Let the checker go over what is left, on the days on which it is placed.

    Parameters
    ----------
    of : Begun
        The job [-].
    moved : Replanned
        What is left and its days [-].
    today : date
        Today [-].
    begins : float
        Hour by the clock at which work can begin today [h].

    Returns
    -------
    tuple of str or None
        Each fault in words, none if every evening is closed; None where nothing is placed [-].
    """
    if moved.on is None or not moved.rest:
        return None
    slots = tuple(_slots(of, moved, today, begins))
    people = of.when.crew.people
    days = days_of(slots, of.tasks, of.programme.bays, of.plan, of.fall, people, of.done)
    if not days:
        return None
    days = tuple(replace(d, people=of.people(d.on)) for d in days)
    nights = of.programme.nights_on_vcl if of.done else nights_on_vcl(slots)
    made = replace(of.programme, days=days, finish_on=days[-1].on, nights_on_vcl=nights)
    return tuple(dict.fromkeys(check(
        made, of.plan, _counted(of.tasks, days), _with(of, today), Rain(*of.fall), of.done,
        Stands(of.nights, of.since),
    )))  # fmt: skip


def _with(of: Begun, today: date) -> When:
    """More hands than the crew are no fault where they are there."""
    crew = of.when.crew
    return replace(
        of.when, crew=crew.model_copy(update={"people": max(crew.people, of.people(today))})
    )


def _counted(tasks: tuple[Task, ...], days: tuple[Day, ...]) -> tuple[Task, ...]:
    hours = sum(h for d in days for i, h in d.work if i == SITE)
    return tuple(taking(t, hours, days) if t.id == SITE else t for t in tasks)


def _slots(of: Begun, moved: Replanned, today: date, begins: float) -> Iterator[Slot]:
    """Lay each day out by the clock; small work that a day has no hours for goes to the next."""
    left: tuple[Piece, ...] = ()
    pairs = zip(moved.on or (), (r.day.work for r in moved.rest), strict=True)
    placed = sorted(pairs, key=lambda pair: pair[0])
    if placed[0][0] != today and (_half_open(of) or _loose(of)):
        hours = light(of.when, today, begins)
        yield Slot(hours, (), (), None, (), hours.opens, True)  # nothing is done: it stays open
    for on, work in (*placed, *((on, ()) for on in _after(of, placed[-1][0]))):
        if not work and not left:
            return
        hours = light(of.when, on, begins if on == today else 0.0)
        slot, over = laid(of, hours, (*work, *left))
        roof = of_roof(of, over)  # it is not handed on: the checker tells that it is not done
        left = tuple(p for p in over if p not in roof)
        if slot is not None:
            yield slot


def _after(of: Begun, last: date) -> Iterator[date]:
    """Go through the working days after the last."""
    days = (last + A_DAY * n for n in range(1, MORE + 1))
    return (d for d in days if works(d, of.when.calendar, of.when.nation))


def _half_open(of: Begun) -> bool:
    """Whether a bay is opened and not yet closed."""
    own: dict[int, set[bool]] = {}
    for t in of.tasks:
        if t.bay is not None:
            own.setdefault(t.bay, set()).add(t.id in of.done)
    return any(len(done) > 1 for done in own.values())


def _loose(of: Begun) -> bool:
    """Whether a sheet is laid and not yet bonded."""
    sheet = [t for t in of.tasks if t.bays and kind(t.id) in SHEETING]
    down = {t.bays for t in sheet if kind(t.id) not in BONDED_DOWN and t.id in of.done}
    return any(t.bays in down for t in sheet if kind(t.id) in BONDED_DOWN and t.id not in of.done)

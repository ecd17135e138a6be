"""Verdict: the rest of a plan, placed again, laid out by the clock and given to the checker.

The checker imports nothing of what makes programmes; here it goes over every morning's answer.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from evenfall.model.programmed import Day, Programme, Task
from evenfall.model.surveyed import Plan, Point
from evenfall.stages.programme.by_hand import SITE, taking
from evenfall.stages.programme.clock import Forecast
from evenfall.stages.programme.evening_check import check
from evenfall.stages.programme.evening_water import Rain
from evenfall.stages.programme.gang import Gang, Span, span, works
from evenfall.stages.programme.programme import days_of, gang_of
from evenfall.stages.programme.roof import When
from evenfall.stages.programme.site import BONDED_DOWN, Slot, Work, fresh, kind, slots_of
from evenfall.stages.programme.today import day
from evenfall.stages.weather.replan import Replanned
from evenfall.stages.weather.rest import Piece

NEAR = 1e-6  # h; less is nothing left
MORE = 20  # working days after the last on which small work may still be done
ANY_NUMBER = 10**6  # bays in a day
A_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Begun:
    """A job that is begun: its roof, its plan and what is done."""

    plan: Plan
    programme: Programme
    tasks: tuple[Task, ...]
    when: When  # with the permits of this morning's forecast
    fall: tuple[Point, float]  # the way the water runs, rainfall intensity, l/(s m2)
    nights: int  # that the VCL stands
    done: frozenset[str]


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
    made = replace(of.programme, days=days, finish_on=days[-1].on)
    return tuple(dict.fromkeys(check(
        made, of.plan, _counted(of.tasks, days), of.when, Rain(*of.fall), of.done
    )))  # fmt: skip


def _counted(tasks: tuple[Task, ...], days: tuple[Day, ...]) -> tuple[Task, ...]:
    hours = sum(h for d in days for i, h in d.work if i == SITE)
    return tuple(taking(t, hours, days) if t.id == SITE else t for t in tasks)


def _slots(of: Begun, moved: Replanned, today: date, begins: float) -> Iterator[Slot]:
    """Lay each day out by the clock; small work that a day has no hours for goes to the next."""
    gang, by_id = gang_of(of.tasks, of.when), {t.id: t for t in of.tasks}
    left: list[Piece] = []
    pairs = zip(moved.on or (), (r.day.work for r in moved.rest), strict=True)
    placed = sorted(pairs, key=lambda pair: pair[0])
    if placed[0][0] != today and _half_open(of):
        light = _light(of.when, today, begins)
        yield Slot(light, (), (), None, (), light.opens, True)  # nothing is done: it stays open
    for on, work in placed:
        light = _light(of.when, on, begins if on == today else 0.0)
        slot, left = _day(of, gang, light, [*work, *left], by_id)
        if slot is not None:
            yield slot
    on = placed[-1][0]
    for _ in range(MORE):
        on += A_DAY
        if not left:
            return
        if works(on, of.when.calendar.saturdays, set(of.when.calendar.days_off)):
            slot, left = _day(of, gang, _light(of.when, on, 0.0), left, by_id)
            if slot is not None:
                yield slot


def _half_open(of: Begun) -> bool:
    """Whether a bay is opened and not yet closed."""
    own: dict[int, set[bool]] = {}
    for t in of.tasks:
        if t.bay is not None:
            own.setdefault(t.bay, set()).add(t.id in of.done)
    return any(len(done) > 1 for done in own.values())


def _light(when: When, on: date, begins: float) -> Span:
    off = set(when.calendar.days_off)
    then_off = not works(on + A_DAY, when.calendar.saturdays, off)
    light = span(on, when.crew, when.latitude, when.longitude, then_off)
    return replace(light, opens=max(light.opens, begins))


def _day(
    of: Begun, gang: Gang, light: Span, pieces: list[Piece], by_id: dict[str, Task]
) -> tuple[Slot | None, list[Piece]]:
    """Work one day; what of it is left over is handed on."""
    wanted: dict[str, float] = {}
    for id_, hours in pieces:
        wanted[id_] = wanted.get(id_, 0.0) + hours
    tasks = tuple(_part(t, wanted[t.id], wanted) for t in of.tasks if t.id in wanted)
    areas = {b.number: b.area_m2 for b in of.programme.bays}
    unbonded = not any(t.bays and kind(t.id) in BONDED_DOWN for t in tasks)
    nights = 0 if unbonded and any(t.bays for t in tasks) else of.nights
    forecast = Forecast(of.when.permits)
    awaited = (of.when.from_when("strip"), of.when.from_when("sheet"))
    work = Work(tasks, areas, gang, iter((light,)), nights, forecast, awaited)
    state, loose = fresh(work), tuple(t for t in tasks if t.bays)
    if loose and all(kind(t.id) in BONDED_DOWN for t in loose):
        work.zones, work.blocks = (), ()
        state = replace(state, loose=loose)
    roofing = (by_id[i] for i in wanted if by_id[i].bays or by_id[i].bay is not None)
    first = next(roofing, None)
    sheet_first = first is not None and bool(first.bays)
    slots = slots_of(day(work, state, light, (ANY_NUMBER, True, sheet_first)))
    slot = slots[0] if slots else None
    made = dict(slot.work) if slot else {}
    begun = {s.task for s in slot.steps} if slot else set()
    rest = [
        (i, h - made.get(i, 0.0))
        for i, h in wanted.items()
        if (h - made.get(i, 0.0) > NEAR or i not in begun) and by_id[i].bay is None
        and not by_id[i].bays
    ]  # fmt: skip
    return slot, rest


def _part(task: Task, hours: float, wanted: dict[str, float]) -> Task:
    """Take so many hours of a task, after what comes before it on the same day."""
    share = hours / task.hours.value if task.hours.value else 1.0
    return replace(
        task, hours=replace(task.hours, value=hours), hours_low=task.hours_low * share,
        hours_high=task.hours_high * share, after=tuple(a for a in task.after if a in wanted),
    )  # fmt: skip

"""One day of what is left of a plan, laid out by the clock; placing and checking both ask it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta

from evenfall.model.programmed import Programme, Task
from evenfall.model.surveyed import Plan, Point
from evenfall.stages.programme.clock import Forecast
from evenfall.stages.programme.gang import Span, span, works
from evenfall.stages.programme.programme import gang_of
from evenfall.stages.programme.roof import When
from evenfall.stages.programme.site import BONDED_DOWN, Slot, Work, fresh, kind, slots_of
from evenfall.stages.programme.today import day
from evenfall.stages.weather.rest import Piece

NEAR = 1e-6  # h; less is nothing left
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
    since: tuple[tuple[int, date], ...] = ()  # the day on which each bay was closed
    here: tuple[date, int] | None = None  # today, and the hands that are there

    def people(self, on: date) -> int:
        """Count the hands of a day: today's are known, of every other day the crew is taken."""
        return self.here[1] if self.here and self.here[0] == on else self.when.crew.people

    def liftable(self, on: date, pieces: tuple[Piece, ...]) -> tuple[Piece, ...]:
        """Keep the work that the hands of a day can lift, if the crew can, and what needs none."""
        here, crew = self.people(on), self.when.crew.people
        kept, heavy = {i for i, _ in pieces}, set[str]()
        for t in self.tasks:
            if t.id in kept and (here < t.least_people <= crew or heavy & set(t.after)):
                heavy.add(t.id)
        return tuple(p for p in pieces if p[0] not in heavy)


def light(when: When, on: date, begins: float = 0.0) -> Span:
    """Find the hours of a day in which there is light and a crew.

    Parameters
    ----------
    when : When
        Crew, calendar and place [-].
    on : date
        The day [-].
    begins : float
        Hour by the clock before which nothing begins [h].

    Returns
    -------
    Span
        The day [h].
    """
    then_off = not works(on + A_DAY, when.calendar, when.nation)
    found = span(on, when.crew, when.latitude, when.longitude, then_off)
    return replace(found, opens=max(found.opens, begins))


def laid(
    of: Begun, hours: Span, pieces: tuple[Piece, ...]
) -> tuple[Slot | None, tuple[Piece, ...]]:  # fmt: skip
    """Work one day by the clock and the forecast.

    Parameters
    ----------
    of : Begun
        The job [-].
    hours : Span
        The day [h].
    pieces : tuple of (task, hours)
        What is to be done on it [h].

    Returns
    -------
    tuple of (Slot or None, pieces)
        What is done, none where nothing can be; what is left over [h].
    """
    by_id, wanted = {t.id: t for t in of.tasks}, dict[str, float]()
    for id_, h in of.liftable(hours.on, pieces):
        wanted[id_] = wanted.get(id_, 0.0) + h
    tasks = tuple(_part(t, wanted[t.id], wanted) for t in of.tasks if t.id in wanted)
    areas = {b.number: b.area_m2 for b in of.programme.bays}
    unbonded = not any(t.bays and kind(t.id) in BONDED_DOWN for t in tasks)
    nights = 0 if unbonded and any(t.bays for t in tasks) else of.nights
    awaited = (of.when.from_when("strip"), of.when.from_when("sheet"))
    gang = replace(gang_of(of.tasks, of.when), people=of.people(hours.on))
    work = Work(tasks, areas, gang, iter((hours,)), nights,
                Forecast(of.when.permits), awaited)  # fmt: skip
    state, loose = fresh(work), tuple(t for t in tasks if t.bays)
    if loose and all(kind(t.id) in BONDED_DOWN for t in loose):
        work.zones, work.blocks = (), ()
        state = replace(state, loose=loose)
    first = next((by_id[i] for i in wanted if _roofing(by_id[i])), None)
    sheet_first = first is not None and bool(first.bays)
    slots = slots_of(day(work, state, hours, (ANY_NUMBER, True, sheet_first)))
    slot = slots[0] if slots else None
    made = dict(slot.work) if slot else {}
    over = [(i, h - made.get(i, 0.0)) for i, h in wanted.items()]
    heavy = tuple(p for p in pieces if p[0] not in wanted)
    return slot, (*((i, h) for i, h in over if h > NEAR or i not in made), *heavy)


def closes(of: Begun, hours: Span, pieces: tuple[Piece, ...]) -> bool:
    """Tell whether a day does all its roofing and is closed, even if work goes slowly.

    Parameters
    ----------
    of : Begun
        The job [-].
    hours : Span
        The day [h].
    pieces : tuple of (task, hours)
        What is to be done on it [h].

    Returns
    -------
    bool
        Whether it is [-].
    """
    slot, over = laid(of, hours, pieces)
    return (slot is None or slot.sure) and not of_roof(of, over)


def of_roof(of: Begun, pieces: tuple[Piece, ...]) -> tuple[Piece, ...]:
    """Pick the work that opens or closes the roof.

    Parameters
    ----------
    of : Begun
        The job [-].
    pieces : tuple of (task, hours)
        Any work [h].

    Returns
    -------
    tuple of (task, hours)
        Work on bays and zones [h].
    """
    roof = {t.id for t in of.tasks if _roofing(t)}
    return tuple(p for p in pieces if p[0] in roof)


def _roofing(task: Task) -> bool:
    return task.bay is not None or bool(task.bays)


def _part(task: Task, hours: float, wanted: dict[str, float]) -> Task:
    """Take so many hours of a task, after what comes before it on the same day."""
    share = hours / task.hours.value if task.hours.value else 1.0
    return replace(
        task, hours=replace(task.hours, value=hours), hours_low=task.hours_low * share,
        hours_high=task.hours_high * share, after=tuple(a for a in task.after if a in wanted),
    )  # fmt: skip

"""A programme edited by hand: the days as somebody wrote them, made into slots to be judged."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from evenfall.errors import InvalidInput
from evenfall.model.finding import Finding
from evenfall.model.job import HandDay
from evenfall.model.programmed import Day, Programme, Step, Task, Tasks
from evenfall.model.surveyed import Plan, Point
from evenfall.stages.programme.evening_check import check
from evenfall.stages.programme.evening_follow import Stands
from evenfall.stages.programme.evening_water import Rain
from evenfall.stages.programme.gang import Gang, span
from evenfall.stages.programme.order import OPEN_AND_CLOSE
from evenfall.stages.programme.outputs import slow
from evenfall.stages.programme.roof import When
from evenfall.stages.programme.site import BONDED_DOWN, Slot, kind
from evenfall.standards import programme_practice as practice

WHERE = "calendar.by_hand"
SITE = f"task:{OPEN_AND_CLOSE}"
MOST_TOLD = 12  # faults told one by one
REST = "rest"


def slots_of(days: tuple[HandDay, ...], tasks: Tasks, gang: Gang, when: When) -> tuple[Slot, ...]:
    """Make slots of the days: each piece of work after the other, by all who are there.

    Parameters
    ----------
    days : tuple of HandDay
        Dates, and what is done on them [-].
    tasks : Tasks
        All work [h].
    gang : Gang
        Who works [-].
    when : When
        Crew and place [-].

    Returns
    -------
    tuple of Slot
        As the planner makes them, good or bad [-].

    Raises
    ------
    InvalidInput
        A day names work that this job does not have.
    """
    work = [t for t in tasks.tasks if kind(t.id) != OPEN_AND_CLOSE]
    named = [[t for name in d.work for t in _named(name, work)] for d in days]
    times = Counter(t.id for ts in named for t in ts)
    rest = [t for t in work if t.id not in times]
    found = []
    for day, mine in zip(days, named, strict=True):
        todo = [(t, t.hours.value / times[t.id]) for t in mine]
        if REST in day.work:
            todo += [(t, t.hours.value) for t in rest]
        found.append(_slot(day, todo, gang, when))
    return tuple(found)


def _named(name: str, work: list[Task]) -> list[Task]:
    """Find the work that a name means: a bay, the sheet, a task, or all that is not named."""
    if name == REST:
        return []
    word, _, number = name.partition(" ")
    if word == "bay":
        found = [t for t in work if str(t.bay) == number]
    elif word == "sheet":
        zones = list(dict.fromkeys(t.bays for t in work if t.bays))
        found = [t for t in work if t.bays and number in ("", str(zones.index(t.bays) + 1))]
    else:
        found = [t for t in work if t.id == f"task:{name}"]
    if not found:
        raise InvalidInput(
            f'no work named "{name}"', 'such as "bay 1", "sheet", "set-up" or "rest"', where=WHERE
        )
    return found


def _slot(day: HandDay, todo: list[tuple[Task, float]], gang: Gang, when: When) -> Slot:
    """Put the work of a day one after another, as usual and on a slow day."""
    light = span(day.on, when.crew, when.latitude, when.longitude)
    people = gang.people
    at, late = light.opens + gang.open_typical, light.opens + gang.open_high
    steps, shut = [Step(SITE, light.opens, at, people)], light.opens
    for t, hours in todo:
        share = hours / t.hours.value if t.hours.value else 0.0
        late += share * slow(t.hours_low, t.hours.value, t.hours_high) / people
        closing = t.bay is not None or (t.bays and kind(t.id) not in BONDED_DOWN)
        shut = late if closing and hours else shut
        at += _rests(steps, t, todo)
        steps.append(Step(t.id, at, at + hours / people, people))
        at += hours / people
    opened = tuple(dict.fromkeys(t.bay for t, _ in todo if t.bay is not None))
    zone = next((t.bays for t, _ in todo if t.bays), ())
    margin = practice.SEAL_MARGIN / 60
    sure = shut <= light.closes - margin or shut == light.opens
    return Slot(light, tuple(steps), opened, "bonded" if zone else None, zone, shut, sure)


def _rests(steps: list[Step], task: Task, todo: list[tuple[Task, float]]) -> float:
    """Hours to wait within the day for what rests before a task."""
    by_id = {t.id: t for t, _ in todo}
    ended = {s.task: s.ends for s in steps}
    ready = [ended[b] + by_id[b].rests_h for b in task.after if b in ended and b in by_id]
    return max(0.0, max(ready, default=0.0) - steps[-1].ends)


def judged(
    made: Programme, plan: Plan, tasks: tuple[Task, ...], when: When, fall: tuple[Point, float],
    nights: int,
) -> Iterator[Finding]:  # fmt: skip
    """Let the checker go over a programme and say what it finds.

    Parameters
    ----------
    made : Programme
        Bays and days [-].
    plan : Plan
        The roof [m].
    tasks : tuple of Task
        All work [h].
    when : When
        Crew, calendar, place and forecast [-].
    fall : (Point, float)
        The way the water runs, and rainfall intensity [-, l/(s m2)].
    nights : int
        Nights that the VCL stands as a roof [-].

    Yields
    ------
    Finding
        A stop for each fault: which evening, which part and why [-].
    """
    rule = practice.SEAL_MARGIN
    hours = sum(h for d in made.days for i, h in d.work if i == SITE)
    mine = tuple(t if t.id != SITE else taking(t, hours, made.days) for t in tasks)
    faults = list(
        dict.fromkeys(
            check(
                made,
                plan,
                mine,
                when,
                Rain(*fall),
                stands=Stands(nights),
            )
        )
    )
    for says in faults[:MOST_TOLD]:
        yield Finding(
            "programme-fault", "roof", "stop", f"{says[:1].upper()}{says[1:]}.", rule.source,
            rule.basis,
        )  # fmt: skip


def taking(task: Task, hours: float, made: tuple[Day, ...]) -> Task:
    """Count opening and closing the site by the days that are really there.

    Parameters
    ----------
    task : Task
        That of opening and closing the site [h].
    hours : float
        Its hours on those days [h].
    made : tuple of Day
        The days [-].

    Returns
    -------
    Task
        With their hours [h].
    """
    days = float(sum(d.people for d in made))
    return replace(
        task, hours=replace(task.hours, value=hours), quantity=replace(task.quantity, value=days),
        hours_high=task.hours_high * days / task.quantity.value,
    )  # fmt: skip

"""A separate checker: it proves any programme watertight every evening, whoever made it.

It knows nothing of how the days were packed; it follows the work day by day and looks at the roof.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise

from evenfall.calc.geometry.clipping import clip_polygon
from evenfall.calc.geometry.polygon import area
from evenfall.model.programmed import Day, Programme, Task
from evenfall.model.surveyed import Plan
from evenfall.stages.programme.days import kind
from evenfall.stages.programme.gang import works
from evenfall.stages.programme.order import BOARDING, OPEN_AND_CLOSE
from evenfall.stages.programme.roof import When

NEAR = 1e-6  # h or m2; less is rounding
GAP = 1e-4  # share of the deck that bays may miss by rounding
BOARDS = frozenset(row.task for row in BOARDING)
STRIP, SHEET = "strip-felt", "sheet-field"


def check(programme: Programme, plan: Plan, tasks: tuple[Task, ...], when: When) -> tuple[str, ...]:
    """Find everything that is wrong with a programme.

    Parameters
    ----------
    programme : Programme
        Bays and days [-].
    plan : Plan
        The roof [m].
    tasks : tuple of Task
        All work [h].
    when : When
        Crew and calendar [-].

    Returns
    -------
    tuple of str
        Each fault in words; none if every evening is closed [-].
    """
    return (
        *_bays(programme, plan),
        *_dates(programme.days, when),
        *_hours(programme.days, tasks, when),
        *_order(programme.days, tasks),
        *_evenings(programme, tasks),
    )


def _bays(programme: Programme, plan: Plan) -> Iterator[str]:
    deck = area(plan.deck)
    covered = sum(area(b.ring) for b in programme.bays)
    if abs(covered - deck) > GAP * deck:
        yield f"bays make {covered:.3f} m2, the deck has {deck:.3f}"
    for one, two in combinations(programme.bays, 2):
        shared = sum(area(p) for p in clip_polygon(one.ring, two.ring))
        if shared > GAP * deck:
            yield f"bays {one.number} and {two.number} overlap by {shared:.3f} m2"
    for bay in programme.bays:
        outside = area(bay.ring) - sum(area(p) for p in clip_polygon(bay.ring, plan.deck))
        if outside > GAP * deck:
            yield f"bay {bay.number} reaches past the deck by {outside:.3f} m2"


def _dates(days: tuple[Day, ...], when: When) -> Iterator[str]:
    off = set(when.calendar.days_off)
    for day in days:
        if not works(day.on, when.calendar.saturdays, off):
            yield f"work on {day.on}, a day off"
        if day.on < when.calendar.start_on:
            yield f"work on {day.on}, before the start"
    for one, two in pairwise(days):
        if two.on <= one.on:
            yield f"{two.on} comes after {one.on}"


def _hours(days: tuple[Day, ...], tasks: tuple[Task, ...], when: When) -> Iterator[str]:
    done: dict[str, float] = {}
    for day in days:
        hours = sum(h for _, h in day.work)
        most = when.crew.people * when.crew.hours_a_day
        if hours > most + NEAR:
            yield f"{hours:.2f} person-hours on {day.on}, the crew has {most:.2f}"
        for id_, part in day.work:
            done[id_] = done.get(id_, 0.0) + part
    for task in tasks:
        if abs(done.get(task.id, 0.0) - task.hours.value) > NEAR:
            yield f"{task.id}: {done.get(task.id, 0.0):.2f} hours of {task.hours.value:.2f} done"
    known = {t.id for t in tasks}
    for id_ in done.keys() - known:
        yield f"{id_}: no such work"


def _order(days: tuple[Day, ...], tasks: tuple[Task, ...]) -> Iterator[str]:
    """Each piece of work begins after all before it has ended."""
    begins: dict[str, tuple[int, int]] = {}
    ends: dict[str, tuple[int, int]] = {}
    for n, day in enumerate(days):
        for k, (id_, _) in enumerate(day.work):
            begins.setdefault(id_, (n, k))
            ends[id_] = (n, k)
    for task in tasks:
        for before in task.after:
            if task.id in begins and before in ends and begins[task.id] < ends[before]:
                yield f"{task.id} begins before {before} has ended"


def _evenings(programme: Programme, tasks: tuple[Task, ...]) -> Iterator[str]:
    """Follow each bay: felt until it is stripped, closed the same day, sheet over its boards."""
    by_id, left = {t.id: t for t in tasks}, {t.id: t.hours.value for t in tasks}
    touched: dict[int, int] = {}
    for n, day in enumerate(programme.days):
        today = [by_id[id_] for id_, _ in day.work if id_ in by_id]
        for id_, hours in day.work:
            left[id_] = left.get(id_, 0.0) - hours
        for task in today:
            if task.bay is not None and touched.setdefault(task.bay, n) != n:
                yield f"bay {task.bay} is opened on one day and worked again on {day.on}"
        yield from _covers(day, tasks, touched, left)
        if not day.evening.water_leaves_by:
            yield f"no way out for water on the evening of {day.on}"
        if day.evening.sealed_by > day.evening.dusk + NEAR and any(t.bay for t in today):
            yield f"{day.on} is sealed after dusk"


def _covers(
    day: Day, tasks: tuple[Task, ...], touched: dict[int, int], left: dict[str, float]
) -> Iterator[str]:
    for bay, cover in day.evening.covers:
        own = [t for t in tasks if t.bay == bay]
        over = [t for t in tasks if bay in t.bays]
        closed = all(left[t.id] <= NEAR for t in own)
        boards = [t for t in over if kind(t.id) in BOARDS]
        begun = any(left[t.id] < t.hours.value - NEAR for t in boards)
        if cover == "open":
            yield f"bay {bay} is open on the evening of {day.on}"
        if (cover == "felt") != (bay not in touched):
            yield f"bay {bay} is called {cover} on {day.on}"
        if cover != "felt" and not closed:
            yield f"bay {bay} is not closed on the evening of {day.on}"
        if cover == "vcl" and begun:
            yield f"boards of bay {bay} lie bare on the evening of {day.on}"
        if cover == "sheet" and not _sheeted(over, left):
            yield f"bay {bay} has a sheet on {day.on} before all its boards"


def _sheeted(over: list[Task], left: dict[str, float]) -> bool:
    """All boards are down and the sheet is at least begun over them."""
    sheets = [t for t in over if kind(t.id) == SHEET]
    rest = [t for t in over if kind(t.id) not in (SHEET, OPEN_AND_CLOSE)]
    return all(left[t.id] <= NEAR for t in rest) and all(
        left[t.id] < t.hours.value - NEAR for t in sheets
    )

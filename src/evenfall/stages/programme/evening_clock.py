"""For the checker: a day by the clock, stretch by stretch, against hands, light and weather."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from evenfall.calc.daylight import daylight
from evenfall.model.gated import Gates, Permit
from evenfall.model.programmed import Day, Task
from evenfall.model.words import clock
from evenfall.stages.programme.evening_follow import BOARDS, UNROLLED, kind
from evenfall.stages.programme.roof import When
from evenfall.standards import programme_practice as practice

NEAR = 1e-6  # h; less is rounding
A_MINUTE = 1 / 60  # h
Fit = tuple[tuple[float, float], ...]


def by_the_clock(
    days: tuple[Day, ...], tasks: tuple[Task, ...], when: When
) -> Iterator[str]:  # fmt: skip
    """Go through every stretch of work of every day.

    Parameters
    ----------
    days : tuple of Day
        With their steps; a day that has none is told by its hours alone [-].
    tasks : tuple of Task
        All work [-].
    when : When
        Crew, place and forecast [-].

    Yields
    ------
    str
        Each fault in words [-].
    """
    by_id = {t.id: t for t in tasks}
    ended: dict[str, float] = {}
    for day in days:
        yield from _hours(day, when)
        yield from _hands(day, by_id)
        yield from _rests(day, by_id, ended)
        yield from _weather(day, by_id, when.permits)


def _hours(day: Day, when: When) -> Iterator[str]:
    """Work lies in the light hours of the crew, and makes the hours that are told."""
    rise, dusk = daylight(when.latitude, when.longitude, day.on)
    opens = max(when.crew.start_hour, rise)
    closes = min(when.crew.start_hour + when.crew.hours_a_day, dusk)
    made: dict[str, float] = {}
    for s in day.steps:
        made[s.task] = made.get(s.task, 0.0) + s.people * (s.ends - s.starts)
        if s.starts < opens - A_MINUTE:
            yield f"{s.task} begins before it is light, or before the crew, on {day.on}"
        if s.ends > closes + A_MINUTE:
            yield f"{s.task} ends after dark, or after the crew has gone, on {day.on}"
    told = dict(day.work)
    for id_ in made.keys() | (told.keys() if day.steps else set()):
        if abs(made.get(id_, 0.0) - told.get(id_, 0.0)) > A_MINUTE:
            clock = made.get(id_, 0.0)
            yield f"{id_} on {day.on} takes {clock:.2f} hours by the clock, not as told"


def _hands(day: Day, by_id: dict[str, Task]) -> Iterator[str]:
    """Nobody is in two places, and no two gangs are on one spot."""
    edges = sorted({s.starts for s in day.steps if s.ends > s.starts})
    for at in edges:
        there = [s for s in day.steps if s.starts <= at + NEAR < s.ends - NEAR]
        if sum(s.people for s in there) > day.people:
            yield f"more hands at {clock(at)} on {day.on} than the {day.people} who are there"
        for one, two in combinations(there, 2):
            if _one_spot(by_id.get(one.task), by_id.get(two.task)):
                yield f"two gangs on one spot at {clock(at)} on {day.on}: {one.task}, {two.task}"
    for s in day.steps:
        least = by_id[s.task].least_people if s.task in by_id else 1
        if s.people < min(least, day.people):
            yield f"{s.task} is left to {s.people} at {clock(s.starts)} on {day.on}"


def _one_spot(one: Task | None, two: Task | None) -> bool:
    if one is None or two is None:
        return False
    bays = {one.bay, *one.bays} & {two.bay, *two.bays} - {None}
    return bool(bays) or bool(set(one.at) & set(two.at)) or one.id == two.id


def _rests(day: Day, by_id: dict[str, Task], ended: dict[str, float]) -> Iterator[str]:
    """See that what must relax, dry or cure is left alone for as long as it takes."""
    midnight = day.on.toordinal() * 24
    for s in sorted(day.steps, key=lambda s: (s.starts, s.ends)):
        task = by_id.get(s.task)
        for before in task.after if task else ():
            rests = by_id[before].rests_h if before in by_id else 0.0
            if before in ended and midnight + s.starts < ended[before] + rests - A_MINUTE:
                yield f"{s.task} on {day.on} comes too soon: {before} rests {rests:g} hours"
        ended[s.task] = midnight + s.ends


def _weather(day: Day, by_id: dict[str, Task], permits: tuple[Permit, ...]) -> Iterator[str]:
    """Work is done in hours that are fit for it, and what is open stays dry until it is closed."""
    today = {p.gates: p.hours for p in permits if p.on == day.on}
    for s in day.steps if today else ():
        task = by_id.get(s.task)
        fit = today.get(task.gates) if task and task.hours.value else None
        if fit is not None and not any(
            a <= s.starts + A_MINUTE and s.ends <= b + A_MINUTE for a, b in fit
        ):
            yield f"{s.task} at {clock(s.starts)} on {day.on}: the weather is not fit for it"
    yield from _showers(day, by_id, today)
    yield from _on_boards(day, by_id, today)


def _showers(day: Day, by_id: dict[str, Task], today: dict[Gates, Fit]) -> Iterator[str]:
    opened = [s for s in day.steps if s.task in by_id and by_id[s.task].bay is not None]
    if not opened or not today:
        return
    first = min(opened, key=lambda s: s.starts)
    dry = today.get(by_id[first.task].gates)
    until = day.evening.sealed_by + practice.DRY_WINDOW_EXTRA
    if dry is not None and not any(
        a <= first.starts + A_MINUTE and until <= b + A_MINUTE for a, b in dry
    ):
        yield (
            f"bay {by_id[first.task].bay} is open from {clock(first.starts)} on {day.on} and not "
            f"dry until {clock(until)}: two hours past its sealing"
        )


def _on_boards(day: Day, by_id: dict[str, Task], today: dict[Gates, Fit]) -> Iterator[str]:
    """From the first board laid until the sheet is down it stays dry, over each zone."""
    dry = [h for g, h in today.items() if g.dry and g.least_c is None and not g.dew_k]
    steps = [(by_id[s.task], s) for s in day.steps if s.task in by_id and by_id[s.task].bays]
    for zone in dict.fromkeys(t.bays for t, _ in steps) if dry else ():
        boards = [s for t, s in steps if t.bays == zone and kind(t.id) in BOARDS]
        sheet = [s for t, s in steps if t.bays == zone and kind(t.id) == UNROLLED]
        if not boards or not sheet:
            continue
        first, down = min(s.starts for s in boards), max(s.ends for s in sheet)
        if not any(
            a <= first + A_MINUTE and down <= b + A_MINUTE for hours in dry for a, b in hours
        ):
            yield (
                f"boards lie bare from {clock(first)} to {clock(down)} on {day.on}, and it does "
                f"not stay dry until the sheet is down"
            )

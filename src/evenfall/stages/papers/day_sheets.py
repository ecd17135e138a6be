"""Day sheets, one to a day for the crew: gates, hold points, tonight, what to beware of."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evenfall.model.programmed import Day, Task
from evenfall.model.words import by_the_quarter, clock, short_day
from evenfall.stages.papers.cautions import Caution, cautions
from evenfall.stages.papers.hold_values import hold_values
from evenfall.stages.papers.scope import COVER
from evenfall.stages.papers.words import listed, metres, sentence, spoken
from evenfall.stages.papers.worked import WorkedRoof
from evenfall.stages.record.whom_to_ring import rings_of
from evenfall.standards import programme_practice as practice

MM, MINUTES = 1000, 60
LEAST_M2 = 0.05  # less that is open beyond the hour is rounding
LARGE = ("boards-", "overlay", "sheet-field", "vcl-", "new-deck")
"""Work with pieces that the wind takes."""


@dataclass(frozen=True, slots=True)
class WorkLine:
    """One piece of work of a day."""

    says: str
    where: str
    hours: float  # of one person


@dataclass(frozen=True, slots=True)
class Hold:
    """A hold point due today, with the values of this roof; the boxes are empty."""

    number: int
    when: str
    passes: str
    values: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Night:
    """Tonight's cover."""

    cover: str
    closed_by: str
    dusk: str
    line: str  # the night line in words
    water: str
    gaps: str  # in the edge timber, through which it leaves
    holes: tuple[str, ...]  # holes, edges and windows, each with what keeps the rain out


@dataclass(frozen=True, slots=True)
class DaySheet:
    """All of one day."""

    number: int
    of: int
    on: str
    says: str
    people: int
    start: str
    until: str
    where: str
    work: tuple[WorkLine, ...]
    gates: tuple[str, ...]
    holds: tuple[Hold, ...]
    night: Night
    cautions: tuple[Caution, ...]
    trouble: str  # whom to ring first where somebody is hurt


def day_sheets(worked: WorkedRoof) -> tuple[DaySheet, ...]:
    """Write a sheet for every working day.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of DaySheet
        In their order [-].
    """
    tasks = {t.id: t for t in worked.tasks.tasks}
    told, spread = cautions(worked), _last_days(worked)
    days = worked.programme.days
    return tuple(_sheet(worked, day, len(days), tasks, told, spread) for day in days)


def _last_days(worked: WorkedRoof) -> dict[str, int]:
    """Find the day on which each task is finished: its hold point is due then."""
    return {id_: day.number for day in worked.programme.days for id_, _ in day.work}


def _sheet(
    worked: WorkedRoof,
    day: Day,
    days: int,
    tasks: dict[str, Task],
    told: tuple[Caution, ...],
    last: dict[str, int],
) -> DaySheet:
    job, firm, crew = worked.case.job, worked.case.rates.firm, worked.case.job.crew
    today = [tasks[id_] for id_, _ in day.work if id_ in tasks]
    names = tuple(kind_of(t.id) for t in today)
    due = [t for t in today if last[t.id] == day.number]
    return DaySheet(
        day.number, days, f"{short_day(day.on)} {day.on.year}", sentence(day.says), day.people,
        clock(crew.start_hour),
        by_the_quarter(crew.start_hour + day.hours), _where(today),
        tuple(_lines(day, tasks)),
        tuple(_gates(day, today)),
        tuple(_holds(worked, due)),
        _night(worked, day),
        tuple(c for c in told if c.of(names)),
        " or ".join(ring.telephone for ring in rings_of("hurt", job.job.nation, firm.emergency)),
    )  # fmt: skip


def kind_of(id_: str) -> str:
    """Name the kind of work of a task.

    Parameters
    ----------
    id_ : str
        Such as ``task:strip-felt@1`` [-].

    Returns
    -------
    str
        Its kind [-].

    Examples
    --------
    >>> kind_of("task:strip-felt@1")
    'strip-felt'
    """
    return id_.removeprefix("task:").partition("@")[0]


def _lines(day: Day, tasks: dict[str, Task]) -> Iterator[WorkLine]:
    for id_, hours in day.work:
        task = tasks.get(id_)
        if task is not None:
            apart = any(s.task == id_ and s.gang > 1 for s in day.steps)
            says = sentence(task.says)[:-1] + (", by one apart from the others" if apart else "")
            yield WorkLine(says, _place(task), hours)


def _place(task: Task) -> str:
    bays = (task.bay,) if task.bay is not None else task.bays
    return _bays(tuple(bays))


def _bays(bays: tuple[int, ...]) -> str:
    if not bays:
        return ""
    return f"bay {bays[0]}" if len(bays) == 1 else f"bays {listed([str(b) for b in bays])}"


def _where(today: list[Task]) -> str:
    bays = {b for t in today for b in ((t.bay,) if t.bay is not None else t.bays)}
    return sentence(_bays(tuple(sorted(bays))) or "round the whole roof")


def _gates(day: Day, today: list[Task]) -> Iterator[str]:
    if day.dry_hours:
        yield (
            f"Dry for {day.dry_hours:.0f} hours ahead before anything is opened, the chance of "
            f"rain in that time {practice.RAIN_CHANCE:.0f} % or less, never above "
            f"{practice.RAIN_CHANCE_MOST:.0f}."
        )
    if day.open_m2 - day.seals_m2 > LEAST_M2:
        a, b = sorted(day.cover_m, reverse=True)
        yield (
            f"No more than {day.open_m2:.1f} m² lie open at a time; {day.seals_m2:.1f} are closed "
            f"within the hour, and a cover of {a:.1f} × {b:.1f} m with its weights lies beside the "
            "rest."
        )
    yield from _relaxing(day)
    if any(_bonds(t) for t in today):
        yield (
            f"Nothing is bonded below {practice.BOND_COLDEST:.0f} °C, now and for the next 24 "
            f"hours, nor on a surface less than {practice.DEW_MARGIN:.0f} °C above the dew point; "
            f"the last bond {practice.LAST_BOND:.0f} hours before it comes near."
        )
    if any(_painted(t) for t in today):
        yield (
            f"No paint below {practice.PAINT_COLDEST:.0f} °C, on damp timber, nor with rain or dew "
            f"to come; {practice.COAT_DRIES:.0f} hours between coats."
        )
    if any(kind_of(t.id).startswith(LARGE) for t in today):
        yield (
            f"Mean wind above {practice.WIND_HANDLE:.0f} mph: no rolls, sheets or boards are "
            f"handled. Above {practice.WIND_STOP:.0f} mph: stop and come down."
        )


def _relaxing(day: Day) -> Iterator[str]:
    """Say how long the sheet lies before it is bonded, and under what."""
    unrolled = max((s.ends for s in day.steps if kind_of(s.task) == "sheet-unroll"), default=0.0)
    bonded = min((s.starts for s in day.steps if kind_of(s.task) == "sheet-field"), default=0.0)
    least = practice.RELAX * MINUTES
    if 0 < unrolled < bonded:
        yield (
            f"The sheet relaxes from {clock(unrolled)} to {clock(bonded)}, {least:.0f} minutes at "
            "the least, its edges weighted with sandbags against the wind, nothing stood upon it."
        )
    elif unrolled:
        yield (
            "The sheet lies loose tonight over its boards: turned down over every edge, weighted "
            "with sandbags all round and over its laps, and bonded first thing on the next day."
        )


def _bonds(task: Task) -> bool:
    return task.gates.dew_k > 0 and not _painted(task)


def _painted(task: Task) -> bool:
    return kind_of(task.id).startswith("coat-")


def _holds(worked: WorkedRoof, due: list[Task]) -> Iterator[Hold]:
    numbers = sorted({t.hold_point for t in due if t.hold_point is not None})
    points = {h.number: h for h in practice.HOLD_POINTS}
    for number in numbers:
        point = points[number]
        yield Hold(number, point.when, sentence(point.passes), hold_values(worked, number))


def _night(worked: WorkedRoof, day: Day) -> Night:
    evening = day.evening
    kinds: dict[str, list[int]] = {}
    for bay, cover in evening.covers:
        kinds.setdefault(cover, []).append(bay)
    parts = [COVER.get(cover, cover) + ("" if len(kinds) == 1 else f" on {_bays(tuple(bays))}")
             for cover, bays in kinds.items()]  # fmt: skip
    long = sum(_long(line) for line in evening.night_lines)
    lap = practice.NIGHT_LAP * MM
    line = (
        f"Night line {metres(long)}: clean and prime the old felt, seal the new VCL over at least "
        f"{lap:.0f} mm on each side of it, lap the way the water runs, weight its edge."
        if long
        else ""
    )
    long_gaps = [f"{g.length_mm:.0f} mm at {_named(g.side)}" for g in evening.gaps]
    gaps = listed(long_gaps) if long_gaps else ""
    holes = tuple(f"{_named(h.at)}: {h.says}" for h in evening.holes)
    ways = [_named(w) for w in evening.water_leaves_by]
    water = listed(ways) if ways else ""
    closed = by_the_quarter(evening.sealed_by) if day.opens else ""
    return Night(sentence(listed(parts)), closed, clock(evening.dusk), line, water, gaps, holes)


def _named(id_: str) -> str:
    """Name a side, an opening or a window as it is spoken of."""
    kind, _, name = id_.partition(":")
    return name if kind == "side" else spoken(name)


def _long(line: tuple[tuple[float, float], tuple[float, float]]) -> float:
    (a, b), (c, d) = line
    return float(((a - c) ** 2 + (b - d) ** 2) ** 0.5)

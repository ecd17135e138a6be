"""Programme: days and evenings; nothing opened in the morning is open in the evening."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import islice
from math import ceil

from evenfall.calc.geometry.polygon import contains
from evenfall.model.finding import Finding, Remedy
from evenfall.model.programmed import Bay, Cover, Day, Evening, Programme, Task, Tasks
from evenfall.model.surveyed import Plan, Point
from evenfall.model.weather import Weather
from evenfall.stages.programme.days import Slot, kind, lay_out
from evenfall.stages.programme.gang import Gang, spans
from evenfall.stages.programme.hindrances import nights_on_vcl
from evenfall.stages.programme.order import OPEN_AND_CLOSE
from evenfall.stages.programme.roof import When
from evenfall.standards import programme_practice as practice
from evenfall.working import Basis, Known, Working, measured, weakest

Line = tuple[Point, Point]
BESIDE = 0.01  # m; a point so far from a night line lies in the bay on that side
NAMED = 3  # kinds of work that the words of a day name
OPENED = frozenset(("felt", "open"))


def work(
    tasks: Tasks, plan: Plan, downhill: Point, when: When, nights: int, weather: Weather | None
) -> Programme:
    """Lay the work out in days and look at the roof every evening.

    Parameters
    ----------
    tasks : Tasks
        All work and the bays [h].
    plan : Plan
        The plan [m].
    downhill : (x, y)
        The way that the water runs [-].
    when : When
        Crew, calendar and place [-].
    nights : int
        Nights that the VCL stands as a roof [-].
    weather : Weather, optional
        Days of the place that the user brought [-].

    Returns
    -------
    Programme
        Bays, days with their evenings, reserve for wet, findings [-].
    """
    gang = _gang(tasks, when)
    walked = spans(when.crew, when.calendar, when.latitude, when.longitude)
    areas = {b.number: b.area_m2 for b in tasks.bays}
    slots = lay_out(tasks.tasks, areas, gang, walked, nights)
    out = ways_out(plan, downhill)
    days = tuple(_days(slots, tasks, gang, out))
    return Programme(
        bays=tasks.bays,
        days=days,
        finish_on=days[-1].on,
        wet_reserve=_reserve(days),
        wet_evening=_wet_evening(days, weather),
        nights_on_vcl=nights_on_vcl(slots),
        findings=_findings(days, out, tasks),
    )


def _gang(tasks: Tasks, when: When) -> Gang:
    """Take what opening the site costs a person from the task that counts it."""
    task = next(t for t in tasks.tasks if kind(t.id) == OPEN_AND_CLOSE)
    person_days = task.quantity.value
    return Gang(when.crew.people, task.hours.value / person_days, task.hours_high / person_days)


def ways_out(plan: Plan, downhill: Point) -> tuple[str, ...]:
    """Find by what the water of an evening leaves the roof.

    Parameters
    ----------
    plan : Plan
        Sides and openings [m].
    downhill : (x, y)
        The way that the water runs [-].

    Returns
    -------
    tuple of str
        Ids of the eaves that it reaches, and of the outlets [-].
    """
    eaves = (
        s.id
        for s in plan.of_kind("eaves")
        if s.outwards[0] * downhill[0] + s.outwards[1] * downhill[1] > 0
    )
    return (*eaves, *(o.id for o in plan.openings if o.kind == "outlet"))


def _days(slots: tuple[Slot, ...], tasks: Tasks, gang: Gang, out: tuple[str, ...]) -> Iterator[Day]:
    by_id = {t.id: t for t in tasks.tasks}
    covers: dict[int, Cover] = {b.number: "felt" for b in tasks.bays}
    for number, slot in enumerate(slots, 1):
        _close(covers, slot)
        evening = Evening(
            tuple(covers.items()), tuple(_night_lines(tasks.bays, covers)), out,
            slot.sealed_by, slot.span.dusk,
        )  # fmt: skip
        hours = sum(h for _, h in slot.work) / gang.people
        says = _says(slot, by_id)
        yield Day(number, slot.span.on, says, slot.work, gang.people, hours, evening)


def _close(covers: dict[int, Cover], slot: Slot) -> None:
    """Carry what keeps the rain out through a day; what is not proved counts as open."""
    for bay, cover in covers.items():
        if cover == "open":  # closed the morning after, too late
            covers[bay] = "vcl"
    for bay in slot.opened:
        covers[bay] = "vcl" if slot.sure else "open"
    for bay in slot.zone:
        covers[bay] = "open" if slot.way == "bare" else "sheet"


def _night_lines(bays: tuple[Bay, ...], covers: dict[int, Cover]) -> Iterator[Line]:
    """Find the lines on which new work meets old felt tonight."""
    for bay in bays:
        if covers[bay.number] in OPENED:
            continue
        for line in bay.night_lines:
            sides = [_bay_at(bays, p) for p in _beside(line)]
            if any(n is not None and covers[n] == "felt" for n in sides):
                yield line


def _beside(line: Line) -> tuple[Point, Point]:
    """Two points, one on each side of the middle of a line."""
    (ax, ay), (bx, by) = line
    length = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5 or 1.0
    x, y = (ax + bx) / 2, (ay + by) / 2
    u, v = (by - ay) / length * BESIDE, (ax - bx) / length * BESIDE
    return (x + u, y + v), (x - u, y - v)


def _bay_at(bays: tuple[Bay, ...], point: Point) -> int | None:
    return next((b.number for b in bays if contains(b.ring, point)), None)


def _says(slot: Slot, tasks: dict[str, Task]) -> str:
    """Say in one line what a day is for."""
    said = [f"bay {n}: strip, mend, close with VCL" for n in slot.opened]
    ways = {
        "bonded": "boards and sheet",
        "loose": "boards, the sheet loose over them and weighted for the night",
        "bare": "boards",
    }
    if slot.way is not None:
        said.append(ways[slot.way])
    if not said:
        kinds = dict.fromkeys(
            _small(tasks[id_].says) for id_, _ in slot.work if kind(id_) != OPEN_AND_CLOSE
        )
        said = list(islice(kinds, NAMED)) + (["more"] if len(kinds) > NAMED else [])
    return "; ".join(said)


def _small(words: str) -> str:
    return words if words[:2].isupper() else words[0].lower() + words[1:]


def _reserve(days: tuple[Day, ...]) -> Working:
    """Days in reserve for wet, by the months of the work."""
    by_month: dict[int, int] = defaultdict(int)
    for day in days:
        by_month[day.on.month] += 1
    shares = [(practice.MONTHS[m - 1], practice.WET_RESERVE[m - 1], n) for m, n in by_month.items()]
    value = float(ceil(round(sum(share * n for _, share, n in shares), 9)))
    of = tuple((f"{name} × {n}", "d", share) for name, share, n in shares)
    text = " + ".join(f"{share.value:.2f} × {n}" for _, share, n in shares) + ", rounded up"
    basis = weakest(share.basis for _, share, _ in shares)
    source = shares[0][1].source
    return Working("Days in reserve for wet", "reserve", "d", source, value, of, text, basis)


def _wet_evening(days: tuple[Day, ...], weather: Weather | None) -> Known | None:
    """Share of wet days in the months of the work, in the weather that was brought."""
    if weather is None:
        return None
    months = {day.on.month for day in days}
    known = [d.rain_mm >= practice.WET_DAY for d in weather.days if d.on.month in months]
    if not known:
        return None
    where = f"weather: {weather.source}, {len(known)} days of these months"
    basis: Basis = "demo" if weather.invented else "measured"
    return measured(sum(known) / len(known), "-", where, basis)


def _findings(days: tuple[Day, ...], out: tuple[str, ...], tasks: Tasks) -> tuple[Finding, ...]:
    margin = practice.SEAL_MARGIN
    if not out:
        says = "No eaves and no outlet takes the water: a closed roof would still fill tonight."
        cure = Remedy("Turn the fall to an edge with a gutter, or make an outlet.")
        return (
            Finding("no-way-out", "roof", "stop", says, margin.source, margin.basis, remedy=cure),
        )
    if any(cover == "open" for day in days for _, cover in day.evening.covers):
        return ()  # the tasks say why, with what clears it
    last = max((d for d in days), key=lambda d: d.evening.sealed_by)
    says = f"Closed every evening, {len(days)} of {len(days)}; each bay in its own day."
    limit, value = last.evening.dusk, last.evening.sealed_by
    return (
        Finding(
            "evenings-closed", "roof", "fine", says, margin.source, margin.basis, value, limit, "h"
        ),
    )

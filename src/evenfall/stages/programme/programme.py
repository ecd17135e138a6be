"""Programme: days and evenings; nothing opened in the morning is open in the evening."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import islice
from math import ceil

from evenfall.model.finding import Change, Finding, Remedy
from evenfall.model.programmed import Bay, Cover, Day, Drain, Evening, Programme, Task, Tasks
from evenfall.model.surveyed import Plan, Point
from evenfall.model.weather import Weather
from evenfall.stages.programme.booking import dated, told
from evenfall.stages.programme.by_hand import judged, slots_of
from evenfall.stages.programme.covers import Roof
from evenfall.stages.programme.days import again
from evenfall.stages.programme.draft import site_of
from evenfall.stages.programme.gang import Gang
from evenfall.stages.programme.hindrances import nights_on_vcl
from evenfall.stages.programme.holes import holes
from evenfall.stages.programme.off_days import days_off, holidays
from evenfall.stages.programme.off_days import told as told_off
from evenfall.stages.programme.order import DOOR_HOLD, OPEN_AND_CLOSE
from evenfall.stages.programme.roof import When
from evenfall.stages.programme.shelter import Bare, bare
from evenfall.stages.programme.shelter import told as told_covers
from evenfall.stages.programme.site import Slot, kind
from evenfall.stages.programme.slices import common
from evenfall.stages.programme.water_out import Path, drains, gaps, paths, ways_out
from evenfall.standards import programme_practice as practice
from evenfall.standards.weather_practice import RainClimate
from evenfall.working import Basis, Cited, Known, Working, measured, weakest

Line = tuple[Point, Point]
NAMED = 3  # kinds of work that the words of a day name
OPENED = frozenset(("felt", "open"))


def work(
    tasks: Tasks,
    plan: Plan,
    downhill: Point,
    when: When,
    nights: int,
    rain_l_s_m2: float,
    weather: Weather | RainClimate | None,
    basis: Basis = "declared",
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
    rain_l_s_m2 : float
        Rainfall intensity [l/(s m2)].
    weather : Weather or RainClimate, optional
        Days of the place that the user brought, or the climate of its region [-].
    basis : str
        Basis of the rates [-].

    Returns
    -------
    Programme
        Bays, days with their evenings, reserve for wet, findings [-].
    """
    gang = gang_of(tasks.tasks, when)
    people = gang.people
    if when.calendar.by_hand:
        slots = slots_of(when.calendar.by_hand, tasks, gang, when)
    else:
        slots = again(site_of(tasks.tasks, tasks.bays, gang, when, nights), tasks.chosen)
    opened, out = tuple(bare(slots, tasks.tasks, tasks.bays, people)), ways_out(plan, downhill)
    days = days_of(slots, tasks.tasks, tasks.bays, plan, (downhill, rain_l_s_m2), people)
    booked, off = dated(when.bookings, days, when.nation), days_off(days, when)
    made = Programme(
        bays=tasks.bays,
        days=days,
        finish_on=days[-1].on,
        wet_reserve=_reserve(days),
        wet_evening=_wet_evening(days, weather),
        nights_on_vcl=nights_on_vcl(slots),
        findings=(*_findings(days, out, plan), *_gaps(plan, days),
                  *told_covers(opened, when.covers or ()),
                  *told(booked, when.calendar.start_on, basis), *told_off(off)),
        bookings=booked,
        wet_months=_wet_months(days, weather),
        off=off,
        holidays=holidays(days, when),
    )  # fmt: skip
    if not when.calendar.by_hand:
        return made
    faults = tuple(judged(made, plan, tasks.tasks, when, (downhill, rain_l_s_m2), nights))
    kept = (f for f in made.findings if not faults or f.level != "fine")
    return replace(made, findings=(*faults, *kept))


def days_of(
    slots: tuple[Slot, ...], tasks: tuple[Task, ...], bays: tuple[Bay, ...], plan: Plan,
    fall: tuple[Point, float], people: int, done: frozenset[str] = frozenset(),
) -> tuple[Day, ...]:  # fmt: skip
    """Look at the roof on the evening of every day.

    Parameters
    ----------
    slots : tuple of Slot
        The days as they are filled [-].
    tasks : tuple of Task
        All work [h].
    bays : tuple of Bay
        The bays [m].
    plan : Plan
        The plan [m].
    fall : (Point, float)
        The way that the water runs, and rainfall intensity [-, l/(s m2)].
    people : int
        Who works [-].
    done : frozenset of str
        Ids of the work that was done before [-].

    Returns
    -------
    tuple of Day
        Each with its evening [-].
    """
    downhill, rain = fall
    wet = _Wet(plan, ways_out(plan, downhill), paths(plan, bays, downhill), rain)
    opened = tuple(bare(slots, tasks, bays, people))
    roof = Roof(tasks, (b.number for b in bays))
    roof.do((t.id, t.hours.value) for t in tasks if t.id in done)
    return tuple(_days(slots, _All(tasks, bays, people), wet, opened, roof))


def gang_of(tasks: tuple[Task, ...], when: When) -> Gang:
    """Take what opening the site costs a person from the task that counts it.

    Parameters
    ----------
    tasks : tuple of Task
        All work [h].
    when : When
        Who works [-].

    Returns
    -------
    Gang
        People, and what a morning costs each of them [h].
    """
    task = next(t for t in tasks if kind(t.id) == OPEN_AND_CLOSE)
    person_days = task.quantity.value
    return Gang(when.crew.people, task.hours.value / person_days, task.hours_high / person_days)


@dataclass(frozen=True, slots=True)
class _All:
    """All work, all bays, all hands."""

    tasks: tuple[Task, ...]
    bays: tuple[Bay, ...]
    people: int


def _days(
    slots: tuple[Slot, ...], all_: _All, wet: _Wet, opened: tuple[Bare, ...], roof: Roof
) -> Iterator[Day]:
    by_id, joints = {t.id: t for t in all_.tasks}, _joints(all_.bays)
    for number, slot in enumerate(slots, 1):
        roof.do(slot.work)
        covers = roof.tonight(slot)
        tonight = tuple(
            line
            for one, other, line in joints
            if covers[one] not in OPENED and covers[other] == "felt"
        )
        evening = _evening(slot, covers, tonight, wet, all_, frozenset(roof.left))
        hours = sum(h for _, h in slot.work) / all_.people
        shut = slot.sealed_by - slot.span.opens
        dry = shut + practice.DRY_WINDOW_EXTRA if slot.opened or slot.way else 0.0
        yield Day(
            number, slot.span.on, _says(slot, by_id), slot.work, all_.people, hours, evening, dry,
            slot.steps, *_open(slot, opened),
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Wet:
    """Where rain goes: the plan, where each bay's water runs, how hard it rains."""

    plan: Plan
    out: tuple[str, ...]
    paths: tuple[Path, ...]
    rain_l_s_m2: float


def _evening(
    slot: Slot, covers: dict[int, Cover], lines: tuple[Line, ...], wet: _Wet, all_: _All,
    left: frozenset[str],
) -> Evening:  # fmt: skip
    """Look at the roof at dusk."""
    drained = drains(wet.paths, covers)
    opened = frozenset(n for n, c in covers.items() if c != "felt")
    return Evening(
        tuple(covers.items()), lines, wet.out, slot.sealed_by, slot.span.dusk, drained,
        gaps(wet.plan, all_.bays, drained, covers, wet.rain_l_s_m2),
        holes(wet.plan, all_.bays, opened, left, all_.tasks),
    )  # fmt: skip


def _open(slot: Slot, opened: tuple[Bare, ...]) -> tuple[float, float, tuple[float, float]]:
    """Find the most that is open at a time, what of it is closed within the hour, and its cover."""
    mine = ((b.area, b.sealed, b.cover) for b in opened if b.slot is slot)
    return max(mine, default=(0.0, 0.0, (0.0, 0.0)))


def _joints(bays: tuple[Bay, ...]) -> tuple[tuple[int, int, Line], ...]:
    """Find where each bay meets the felt of a later one."""
    return tuple(
        (bay.number, other.number, shared)
        for n, bay in enumerate(bays, 1)
        for line in bay.night_lines
        for other in bays[n:]
        for shared in common(other.ring, line)
    )


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
        said = [named(slot.work, tasks)]
    if any(kind(id_) == DOOR_HOLD for id_, _ in slot.work):
        said.append("look at the low door before it is covered")
    return "; ".join(said)


def named(work: tuple[tuple[str, float], ...], tasks: dict[str, Task]) -> str:
    """Name what is done on a day on which nothing is opened or covered.

    Parameters
    ----------
    work : tuple of (task, hours)
        Its work [h].
    tasks : dict
        Tasks by id [-].

    Returns
    -------
    str
        The first kinds of it; hold points only where there is nothing else [-].
    """
    own = [(id_, h) for id_, h in work if kind(id_) != OPEN_AND_CLOSE]
    ids = [id_ for id_, h in own if h] or [id_ for id_, _ in own]
    kinds = dict.fromkeys(_small(tasks[id_].says) for id_ in ids)
    return "; ".join([*islice(kinds, NAMED), *(["more"] if len(kinds) > NAMED else [])])


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


def _wet_evening(days: tuple[Day, ...], weather: Weather | RainClimate | None) -> Known | None:
    """Share of wet days in the months of the work: in days that were brought, or by the climate."""
    if weather is None:
        return None
    if isinstance(weather, RainClimate):
        shares = [weather.wet_share(day.on.month) for day in days]
        value, where = sum(shares) / len(shares), f"like {weather.name}: {weather.where}"
        return Cited(value, "-", weather.source, where, weather.basis)
    months = {day.on.month for day in days}
    known = [d.rain_mm >= practice.WET_DAY for d in weather.days if d.on.month in months]
    if not known:
        return None
    where = f"weather: {weather.source}, {len(known)} days of these months"
    basis: Basis = "demo" if weather.invented else "measured"
    return measured(sum(known) / len(known), "-", where, basis)


def _wet_months(
    days: tuple[Day, ...], weather: Weather | RainClimate | None
) -> tuple[tuple[int, Known], ...]:
    """Give the chance of each month by itself, as far as rain is known of it."""
    first = {day.on.month: (day,) for day in days}
    found = ((month, _wet_evening(day, weather)) for month, day in first.items())
    return tuple((month, chance) for month, chance in found if chance is not None)


def _findings(days: tuple[Day, ...], out: tuple[str, ...], plan: Plan) -> tuple[Finding, ...]:
    margin = practice.SEAL_MARGIN
    if not out:
        says = "No eaves and no outlet takes the water: a closed roof would still fill tonight."
        return (
            Finding(
                "no-way-out", "roof", "stop", says, margin.source, margin.basis, remedy=_turn(plan)
            ),
        )
    if any(cover == "open" for day in days for _, cover in day.evening.covers):
        return ()  # the tasks say why, with what clears it
    bath = next(((d, b) for d in days for b in d.evening.drains if _stands(d, b)), None)
    if bath is not None:
        return (_bath(*bath, plan),)
    last = max(days, key=lambda d: d.evening.sealed_by)
    says = f"Closed every evening, {len(days)} of {len(days)}; each bay in its own day."
    limit, value = last.evening.dusk, last.evening.sealed_by
    return (
        Finding(
            "evenings-closed", "roof", "fine", says, margin.source, margin.basis, value, limit, "h"
        ),
    )


def _stands(day: Day, drain: Drain) -> bool:
    """Whether water stands in a bay on a roof that has been begun."""
    return drain.leaves_by is None and any(c != "felt" for _, c in day.evening.covers)


def _bath(day: Day, drain: Drain, plan: Plan) -> Finding:
    rule = practice.SEAL_MARGIN
    why = f"boards and sheet of bay {drain.dam} stand in its way" if drain.dam else (
        "edges that hold it stand all round where it runs to"
    )  # fmt: skip
    says = f"On the evening of {day.on:%a %d %b} the water of bay {drain.bay} cannot leave: {why}."
    remedy = Remedy("Make an outlet there, or an edge with a gutter, before it is stripped.")
    if plan.of_kind("eaves") and drain.dam is None:
        remedy = _turn(plan)
    return Finding("bath", f"bay:{drain.bay}", "stop", says, rule.source, rule.basis, remedy=remedy)


def _turn(plan: Plan) -> Remedy:
    """Turn the fall to the longest eaves, if the roof has any."""
    eaves = max(plan.of_kind("eaves"), key=lambda s: s.length_m, default=None)
    if eaves is None:
        return Remedy("Make an outlet, or an edge with a gutter.")
    words = f"Turn the fall to {eaves.name}, where the gutter is."
    return Remedy(words, (Change("design.falls.low_side", eaves.name),))


def _gaps(plan: Plan, days: tuple[Day, ...]) -> Iterator[Finding]:
    """Say how long a gap the edge timber at the gutter needs while the VCL is the roof."""
    head = practice.EVENING_GAP_HEAD
    names = {s.id: s.name for s in plan.sides}
    longest: dict[str, float] = {}
    for gap in (g for d in days for g in d.evening.gaps):
        longest[gap.side] = max(gap.length_mm, longest.get(gap.side, 0.0))
    for id_, length in longest.items():
        says = (
            f"While the VCL is the roof, leave a gap of {length:.0f} mm in the edge timber at "
            f"{names[id_]}, the VCL dressed through it, and hang the gutter back for the night: "
            "that is tonight's way out for water."
        )
        yield Finding("evening-gap", id_, "note", says, head.source, head.basis, length, None, "mm")

"""A separate checker: it proves any programme watertight every evening, whoever made it.

It imports nothing of what makes programmes and follows the work day by day: what is opened, what
closes it, how late on a slow day, and what covers each bay at dusk.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import combinations, pairwise
from math import dist

from shapely.geometry import LinearRing, Polygon

from evenfall.calc.bank_holidays import public_holidays
from evenfall.calc.daylight import daylight
from evenfall.calc.geometry.clipping import clip_polygon
from evenfall.calc.geometry.polygon import area
from evenfall.calc.spread import triangular_quantile
from evenfall.model.programmed import Bay, Day, Programme, Task
from evenfall.model.surveyed import Plan
from evenfall.model.words import clock
from evenfall.stages.programme.evening_clock import by_the_clock
from evenfall.stages.programme.evening_follow import (
    A_DAY,
    BOARDS,
    BONDED_DOWN,
    UNROLLED,
    Roof,
    Stands,
    follow,
    kind,
    late_bonding,
    too_long,
)
from evenfall.stages.programme.evening_water import Rain, nights
from evenfall.stages.programme.roof import When
from evenfall.standards import programme_practice as practice

NEAR = 1e-6  # h or m2; less is rounding
GAP = 1e-4  # share of the deck that bays may miss by rounding
DRAWN = 0.01  # m; night lines are drawn as true as this
A_MINUTE = 1 / 60  # h
SATURDAY = 5  # as date.weekday counts
SUNDAY = 6  # as date.weekday counts
SITE = "open-and-close"
LAID = BOARDS | {UNROLLED} | BONDED_DOWN


def check(
    programme: Programme, plan: Plan, tasks: tuple[Task, ...], when: When,
    rain: Rain | None = None, done: frozenset[str] = frozenset(), stands: Stands | None = None,
) -> tuple[str, ...]:  # fmt: skip
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
        Crew, calendar, place and forecast [-].
    rain : Rain, optional
        Fall of the roof and intensity, to follow tonight's water [-].
    done : frozenset of str
        Ids of the work that was done before the first of these days [-].
    stands : Stands, optional
        How long the VCL may be tonight's roof; None where it is not judged [-].

    Returns
    -------
    tuple of str
        Each fault in words; none if every evening is closed [-].
    """
    days, bays = programme.days, programme.bays
    return tuple(dict.fromkeys((
        *_bays(programme, plan),
        *_dates(days, when),
        *_hours(days, tasks, when, done),
        *_order(days, tasks, done),
        *_shut_in_time(days, tasks, when),
        *_evenings(programme, plan, _roof(programme, tasks, done, stands), when, done, stands),
        *_awaited(days, when),
        *by_the_clock(days, tasks, when),
        *(nights(days, bays, plan, tasks, rain, when.covers, done) if rain else ()),
    )))  # fmt: skip


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
    for day in days:
        if not _works(day, when):
            yield f"work on {day.on}, {_holiday(day.on, when) or 'a day off'}"
        if day.on < when.calendar.start_on:
            yield f"work on {day.on}, before the start"
    for one, two in pairwise(days):
        if two.on <= one.on:
            yield f"{two.on} comes after {one.on}"


def _awaited(days: tuple[Day, ...], when: When) -> Iterator[str]:
    """No felt is cut, no board or sheet laid, before what must be there for it."""
    for day in days:
        kinds = {kind(id_) for id_, _ in day.work}
        does = {
            "felt is cut": ("strip",) if any(k.startswith("strip-") for k in kinds) else (),
            "boards or sheet are laid": ("strip", "sheet") if kinds & LAID else (),
        }
        for says, awaited in does.items():
            for b in when.bookings:
                if b.before in awaited and day.on < b.ready_on:
                    yield f"{says} on {day.on}, {b.name} is there on {b.ready_on}"


def _works(day: Day, when: When, later: int = 0) -> bool:
    on = day.on + timedelta(days=later)
    if on in when.calendar.days_off or on.weekday() == SUNDAY or _holiday(on, when):
        return False
    return when.calendar.saturdays or on.weekday() != SATURDAY


def _holiday(on: date, when: When) -> str:
    """Name the public holiday that a day is, where the firm keeps it."""
    kept = not when.calendar.works_holidays
    return public_holidays(when.nation, on.year).get(on, "") if kept else ""


def _hours(
    days: tuple[Day, ...], tasks: tuple[Task, ...], when: When, before: frozenset[str]
) -> Iterator[str]:
    done: dict[str, float] = {}
    hands = {t.id: t.least_people for t in tasks}
    for day in days:
        hours = sum(h for _, h in day.work)
        most = day.people * when.crew.hours_a_day
        if day.people > when.crew.people:
            yield f"{day.people} people on {day.on}, the crew has {when.crew.people}"
        if hours > most + NEAR:
            yield f"{hours:.2f} person-hours on {day.on}, the crew has {most:.2f}"
        for id_, part in day.work:
            done[id_] = done.get(id_, 0.0) + part
            if hands.get(id_, 0) > day.people:
                yield f"{id_} on {day.on} takes {hands[id_]} people, {day.people} are there"
    for task in tasks:
        wanted = 0.0 if task.id in before else task.hours.value
        if abs(done.get(task.id, 0.0) - wanted) > NEAR:
            yield f"{task.id}: {done.get(task.id, 0.0):.2f} hours of {wanted:.2f} done"
        elif task.id not in done and task.id not in before:
            yield f"{task.id} is neither done nor named on any day"
    for id_ in done.keys() - hands.keys():
        yield f"{id_}: no such work"


def _order(
    days: tuple[Day, ...], tasks: tuple[Task, ...], done: frozenset[str]
) -> Iterator[str]:  # fmt: skip
    """Each piece of work begins after all before it has ended; what takes no hours is named too."""
    begins: dict[str, tuple[int, int]] = {}
    ends: dict[str, tuple[int, int]] = {}
    for n, day in enumerate(days):
        for k, (id_, _) in enumerate(day.work):
            begins.setdefault(id_, (n, k))
            ends[id_] = (n, k)
    known = {t.id for t in tasks}
    for task in tasks:
        for before in task.after if task.id in begins else ():
            if before in ends and begins[task.id] < ends[before]:
                yield f"{task.id} begins before {before} has ended"
            elif before in known and before not in ends and before not in done:
                yield f"{task.id} begins, and {before} is neither done nor named before it"


def _shut_in_time(days: tuple[Day, ...], tasks: tuple[Task, ...], when: When) -> Iterator[str]:
    """Reckon again, with slow hours, by when each day has closed what it opened."""
    by_id = {t.id: t for t in tasks}
    site = next((t for t in tasks if kind(t.id) == SITE), None)
    morning = site.hours_high / site.quantity.value if site and site.quantity.value else 0.0
    margin = practice.SEAL_MARGIN.value * A_MINUTE
    for day in days:
        rise, dusk = daylight(when.latitude, when.longitude, day.on)
        if abs(day.evening.dusk - dusk) > A_MINUTE:
            yield f"dusk on {day.on} is told as {clock(day.evening.dusk)}, it is {clock(dusk)}"
        hours = _until_shut(day, by_id)
        if hours is None:
            continue
        sealed = max(when.crew.start_hour, rise) + morning + hours / day.people
        ends = when.crew.start_hour + when.crew.hours_a_day
        if sealed > dusk + NEAR or day.evening.sealed_by > dusk + NEAR:
            yield f"{day.on} is sealed after dusk"
        elif sealed > min(ends, dusk) - margin + NEAR:
            yield f"{day.on} is shut at {clock(sealed)} on a slow day, less than an hour to spare"
        if day.evening.sealed_by < sealed - A_MINUTE:
            told = clock(day.evening.sealed_by)
            yield f"{day.on} is said to be shut at {told}, not {clock(sealed)}"


def _until_shut(day: Day, by_id: dict[str, Task]) -> float | None:
    """Slow person-hours of a day until all that it opened is closed; None if it opened nothing."""
    hours = shut = 0.0
    closes = False
    for id_, part in day.work:
        task = by_id.get(id_)
        if task is None or kind(id_) == SITE or not task.hours.value:
            continue
        share, typical = part / task.hours.value, task.hours.value
        slow = triangular_quantile(
            task.hours_low, typical, task.hours_high, practice.PLANNED_FOR.value
        )
        hours += share * slow
        if task.bay is not None or (task.bays and kind(id_) not in BONDED_DOWN):
            shut, closes = hours, True
    return shut if closes else None


def _roof(
    programme: Programme, tasks: tuple[Task, ...], done: frozenset[str], stands: Stands | None
) -> Roof:
    """Give the roof as it is on the morning of the first day."""
    roof = Roof(tasks)
    if done and programme.days:
        roof.begin(done, programme.days[0].on, dict(stands.since if stands else ()))
    return roof


def _evenings(
    programme: Programme, plan: Plan, roof: Roof, when: When, done: frozenset[str],
    stands: Stands | None,
) -> Iterator[str]:  # fmt: skip
    exits = {s.id for s in plan.of_kind("eaves")}
    exits |= {o.id for o in plan.openings if o.kind == "outlet"}
    numbers = sorted(b.number for b in programme.bays)
    for day in programme.days:
        yield from late_bonding(roof, day.on)
        yield from follow(roof, day)
        if sorted(b for b, _ in day.evening.covers) != numbers:
            yield f"not every bay has one cover on {day.on}"
        if not day.evening.water_leaves_by:
            yield f"no way out for water on the evening of {day.on}"
        for id_ in day.evening.water_leaves_by:
            if id_ not in exits:
                yield f"water cannot leave by {id_} on {day.on}"
        yield from _loose(roof, day, when)
        yield from _night_lines(day, programme.bays)
    if programme.days:
        yield from late_bonding(roof, programme.days[-1].on + 2 * A_DAY)
    if stands and programme.days:
        yield from too_long(roof, stands, programme.days[0].on, programme.days[-1].on)
    if programme.days and any(c != "sheet" for _, c in programme.days[-1].evening.covers):
        yield "the job ends without a sheet over every bay"
    if not done and roof.nights_on_vcl != programme.nights_on_vcl:
        yield f"{roof.nights_on_vcl} nights on the VCL, {programme.nights_on_vcl} are told"


def _loose(roof: Roof, day: Day, when: When) -> Iterator[str]:
    """Leave no sheet loose, weighted, over a day on which nobody comes."""
    if roof.loose and not _works(day, when, later=1):
        yield f"a sheet lies loose over a day off after {day.on}"


def _night_lines(day: Day, bays: tuple[Bay, ...]) -> Iterator[str]:
    """Compare the night lines drawn with where closed bays meet old felt."""
    covers = dict(day.evening.covers)
    if "open" in covers.values():
        return  # told as open: worse than any line
    meet = 0.0
    for one, two in combinations(bays, 2):
        if (covers.get(one.number) == "felt") != (covers.get(two.number) == "felt"):
            beside = Polygon(two.ring).buffer(NEAR)
            meet += LinearRing(one.ring).intersection(beside).length
    drawn = sum(dist(a, b) for a, b in day.evening.night_lines)
    if abs(meet - drawn) > DRAWN * (1 + len(day.evening.night_lines)):
        yield f"night lines of {drawn:.2f} m on {day.on}, new work meets felt over {meet:.2f} m"

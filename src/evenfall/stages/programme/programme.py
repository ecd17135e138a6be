"""Programme: days and evenings; nothing opened in the morning is open in the evening."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import islice
from math import ceil

from evenfall.calc.drainage.outlet import slot_length_mm
from evenfall.calc.drainage.run_off import run_off_l_s, wall_area
from evenfall.model.finding import Change, Finding, Remedy
from evenfall.model.programmed import Bay, Cover, Day, Evening, Programme, Task, Tasks
from evenfall.model.surveyed import Plan, Point
from evenfall.model.weather import Weather
from evenfall.stages.programme.days import Slot, kind, lay_out
from evenfall.stages.programme.gang import Gang, spans
from evenfall.stages.programme.hindrances import nights_on_vcl
from evenfall.stages.programme.order import DOOR_HOLD, OPEN_AND_CLOSE
from evenfall.stages.programme.roof import When
from evenfall.stages.programme.slices import common
from evenfall.standards import programme_practice as practice
from evenfall.working import Basis, Known, Working, measured, weakest

Line = tuple[Point, Point]
FACES = 0.5  # cosine: water reaches eaves that face within 60 degrees of the fall
TEN = 10  # mm; gaps are told to the next
NAMED = 3  # kinds of work that the words of a day name
OPENED = frozenset(("felt", "open"))


def work(
    tasks: Tasks,
    plan: Plan,
    downhill: Point,
    when: When,
    nights: int,
    rain_l_s_m2: float,
    weather: Weather | None,
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
        findings=(*_findings(days, out, plan), *gaps(plan, out, rain_l_s_m2, days)),
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
        if s.outwards[0] * downhill[0] + s.outwards[1] * downhill[1] > FACES
    )
    return (*eaves, *(o.id for o in plan.openings if o.kind == "outlet"))


def _days(slots: tuple[Slot, ...], tasks: Tasks, gang: Gang, out: tuple[str, ...]) -> Iterator[Day]:
    by_id, joints = {t.id: t for t in tasks.tasks}, _joints(tasks.bays)
    covers: dict[int, Cover] = {b.number: "felt" for b in tasks.bays}
    late: dict[int, Cover] = {}
    for number, slot in enumerate(slots, 1):
        _close(covers, late, slot)
        tonight = tuple(
            line
            for one, other, line in joints
            if covers[one] not in OPENED and covers[other] == "felt"
        )
        evening = Evening(tuple(covers.items()), tonight, out, slot.sealed_by, slot.span.dusk)
        hours = sum(h for _, h in slot.work) / gang.people
        says = _says(slot, by_id)
        shut = slot.sealed_by - slot.span.opens
        dry = shut + practice.DRY_WINDOW_EXTRA if slot.opened or slot.way else 0.0
        yield Day(number, slot.span.on, says, slot.work, gang.people, hours, evening, dry)


def _close(covers: dict[int, Cover], late: dict[int, Cover], slot: Slot) -> None:
    """Carry what keeps the rain out through a day; what is not proved counts as open."""
    for bay in late:  # closed on the day after, too late
        covers[bay] = late[bay]
    late.clear()
    for bay in slot.opened:
        covers[bay] = "vcl" if slot.sure else "open"
        late |= {} if slot.sure else {bay: "vcl"}
    for bay in slot.zone:
        covers[bay] = "open" if slot.way == "bare" else "sheet"
        late |= {bay: "sheet"} if slot.way == "bare" else {}


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
        kinds = dict.fromkeys(
            _small(tasks[id_].says) for id_, _ in slot.work if kind(id_) != OPEN_AND_CLOSE
        )
        said = list(islice(kinds, NAMED)) + (["more"] if len(kinds) > NAMED else [])
    if any(kind(id_) == DOOR_HOLD for id_, _ in slot.work):
        said.append("look at the low door before it is covered")
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
    last = max(days, key=lambda d: d.evening.sealed_by)
    says = f"Closed every evening, {len(days)} of {len(days)}; each bay in its own day."
    limit, value = last.evening.dusk, last.evening.sealed_by
    return (
        Finding(
            "evenings-closed", "roof", "fine", says, margin.source, margin.basis, value, limit, "h"
        ),
    )


def _turn(plan: Plan) -> Remedy:
    """Turn the fall to the longest eaves, if the roof has any."""
    eaves = max(plan.of_kind("eaves"), key=lambda s: s.length_m, default=None)
    if eaves is None:
        return Remedy("Make an outlet, or an edge with a gutter.")
    words = f"Turn the fall to {eaves.name}, where the gutter is."
    return Remedy(words, (Change("design.falls.low_side", eaves.name),))


def gaps(
    plan: Plan, out: tuple[str, ...], rain_l_s_m2: float, days: tuple[Day, ...]
) -> tuple[Finding, ...]:
    """Say how long a gap the edge timber at the gutter needs while the VCL is the roof.

    Parameters
    ----------
    plan : Plan
        Area and sides [m].
    out : tuple of str
        Ways out for water [-].
    rain_l_s_m2 : float
        Rainfall intensity [l/(s m2)].
    days : tuple of Day
        The days with their evenings [-].

    Returns
    -------
    tuple of Finding
        A note for each eaves that water leaves by; none if no evening has the VCL for its roof [-].
    """
    if not any(cover == "vcl" for day in days for _, cover in day.evening.covers):
        return ()
    head = practice.EVENING_GAP_HEAD
    walls = sum(wall_area(s.length_m, s.wall_height_m) for s in plan.of_kind("wall", "step"))
    flow = run_off_l_s(rain_l_s_m2, plan.gross.value + walls)
    length = ceil(slot_length_mm(flow, head) / TEN) * TEN
    return tuple(
        Finding(
            "evening-gap", side.id, "note",
            f"While the VCL is the roof, leave a gap of {length} mm in the edge timber at "
            f"{side.name}, the VCL dressed through it, and hang the gutter back for the night: "
            "that is tonight's way out for water.",
            head.source, head.basis, float(length), None, "mm",
        )
        for side in plan.of_kind("eaves")
        if side.id in out
    )  # fmt: skip

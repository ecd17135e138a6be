"""A draft: bays, tasks and days for one crew, and what stands in their way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from evenfall.model.programmed import Bay, Task
from evenfall.stages.programme import bays as cutting
from evenfall.stages.programme import order
from evenfall.stages.programme.days import Block, Slot, lay_out, way
from evenfall.stages.programme.gang import Gang, Span, darkest, spans
from evenfall.stages.programme.order import Row
from evenfall.stages.programme.outputs import Outputs, slow
from evenfall.stages.programme.roof import Part, Roof, When, joined, whole
from evenfall.working import Working, total

Zone = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Draft:
    """One way to do the job with one crew."""

    people: int
    bays: tuple[Bay, ...]
    tasks: tuple[Task, ...]
    slots: tuple[Slot, ...]
    zones: tuple[Zone, ...]
    short: tuple[float, float] | None  # hours wanted and there, where a bay cannot be closed


def draft(roof: Roof, when: When, outputs: Outputs, people: int) -> Draft:
    """Cut the bays, list the tasks and pack the days.

    Parameters
    ----------
    roof : Roof
        The roof [-].
    when : When
        Hours, calendar and place [-].
    outputs : Outputs
        The firm's outputs [-].
    people : int
        Size of the crew [-].

    Returns
    -------
    Draft
        Bays, tasks and days [-].
    """
    crew = when.crew
    site = outputs.of(order.OPEN_AND_CLOSE, "person_day")
    gang = Gang(people, site.typical, site.high)
    place = (when.latitude, when.longitude)
    dark = darkest(crew, when.calendar, *place)
    one = _zone_fits(roof, outputs, gang, dark, (whole(roof),))
    pieces, short = _bays(roof, outputs, gang, dark, one)
    parts = tuple(part for _, part in pieces)
    zones = _zones(roof, outputs, gang, dark, parts) if not one else (_numbers(len(parts)),)
    tasks = tuple(_tasks(roof, outputs, parts, zones))
    areas = {bay.number: bay.area_m2 for bay, _ in pieces}
    days = spans(crew, when.calendar, *place)
    slots = lay_out(tasks, areas, gang, days, roof.vcl.nights)
    opening = _opening(outputs, people * len(slots))
    return Draft(people, tuple(b for b, _ in pieces), (*tasks, opening), slots, zones, short)


def _numbers(n: int) -> Zone:
    return tuple(range(1, n + 1))


def _slow(rows: tuple[Row, ...], roof: Roof, part: Part, outputs: Outputs) -> float:
    hours = 0.0
    for row in rows:
        for count in row.counts:
            quantity = sum(m for _, m in count.amount(roof, part))
            if quantity:
                rate = outputs.of(count.output, count.unit)
                hours += quantity * slow(rate.typical, rate.high)
    return hours


def _usual(rows: tuple[Row, ...], roof: Roof, part: Part, outputs: Outputs) -> float:
    return sum(
        sum(m for _, m in c.amount(roof, part)) * outputs.of(c.output, c.unit).typical
        for row in rows
        for c in row.counts
        if any(m for _, m in c.amount(roof, part))
    )


def _zone_fits(
    roof: Roof, outputs: Outputs, gang: Gang, span: Span, parts: tuple[Part, ...]
) -> bool:
    """Tell whether boards and sheet of some parts can be closed in one day."""
    part = joined(parts)
    rows = (*order.BOARDING, order.FIELD)
    zone = Block(
        _usual(rows, roof, part, outputs), _slow(order.BOARDING, roof, part, outputs),
        _slow((order.FIELD,), roof, part, outputs), part.gross,
    )  # fmt: skip
    return way(zone, gang, gang.usual(span), gang.sure(span)) is not None


def _bays(
    roof: Roof, outputs: Outputs, gang: Gang, dark: Span, one: bool
) -> tuple[tuple[tuple[Bay, Part], ...], tuple[float, float] | None]:
    """Cut square to the fall; along it where zones are wanted, or where square does not close."""
    x, y = roof.downhill
    ways = [(x, y), (-y, x)] if one else [(-y, x), (x, y)]
    first_failed = None
    for turned in ways:
        sliced = cutting.slice_along(
            roof.plan, turned, lambda part: _slow(order.BAY, roof, part, outputs)
        )
        cuts = _with_set_up(sliced, roof, outputs, gang.sure(dark))
        if cuts.closes:
            return cutting.bays(sliced, cuts), None
        first_failed = first_failed or (sliced, cuts)
    assert first_failed is not None
    return cutting.bays(*first_failed), first_failed[1].short


def _with_set_up(sliced: cutting.Slice, roof: Roof, outputs: Outputs, room: float) -> cutting.Cuts:
    """Start on the first day beside the set-up, if that saves a day; else on the second."""
    set_up = _slow((order.SET_UP,), roof, whole(roof), outputs)
    beside = cutting.cut(sliced, room - set_up, room)
    after = cutting.cut(sliced, room, room)
    if beside.closes and len(beside.at) < len(after.at) + 1:
        return beside
    return after


def _zones(
    roof: Roof, outputs: Outputs, gang: Gang, dark: Span, parts: tuple[Part, ...]
) -> tuple[Zone, ...]:
    """Group the bays into the fewest zones whose boards and sheet close in one day each."""
    areas = tuple(p.gross for p in parts)
    grouped: tuple[Zone, ...] = ()
    for number in range(1, len(parts) + 1):
        grouped = cutting.zones(areas, number)
        groups = [tuple(parts[b - 1] for b in zone) for zone in grouped]
        if all(_zone_fits(roof, outputs, gang, dark, group) for group in groups):
            break
    return grouped


def _tasks(
    roof: Roof, outputs: Outputs, parts: tuple[Part, ...], zones: tuple[Zone, ...]
) -> Iterator[Task]:
    """All work in the order of the trade, without opening and closing the site."""
    made: dict[str, list[str]] = {}

    def make(row: Row, part: Part, mark: str, after: list[str], **more: object) -> Task | None:
        task = _task(row, roof, part, outputs, mark, tuple(after), **more)
        if task is not None:
            made.setdefault(row.task, []).append(task.id)
        return task

    all_, before = whole(roof), list[str]()
    for row, mark, part, bay, zone in _rows(parts, zones, roof):
        task = make(row, part, mark, before, bay=bay, bays=zone)
        if task is not None:
            before = [task.id]
            yield task
    seams = sum(a.night_m for a, _ in pairwise(parts)) if len(zones) > 1 else 0.0
    all_ = Part(all_.gross, 1.0, all_.edges, all_.openings, 0, seams)
    end = before
    for row in (*order.DETAILS, *order.DRAINING):
        wanted = [i for name in row.after for i in made.get(name, [])]
        task = make(row, all_, "", wanted or end)
        if task is not None:
            yield task
    rest = [i for ids in made.values() for i in ids]
    last = make(order.CLEAR_UP, all_, "", rest)
    assert last is not None
    yield last


def _rows(
    parts: tuple[Part, ...], zones: tuple[Zone, ...], roof: Roof
) -> Iterator[tuple[Row, str, Part, int | None, Zone]]:
    """The chain that closes the roof: set-up, bay after bay, zone after zone."""
    yield order.SET_UP, "", whole(roof), None, ()
    for number, part in enumerate(parts, 1):
        for row in order.BAY:
            yield row, f"@{number}", part, number, ()
    for n, zone in enumerate(zones, 1):
        part = joined(tuple(parts[b - 1] for b in zone))
        for row in (*order.BOARDING, order.BEFORE_SHEET, order.FIELD):
            yield row, f"@zone-{n}" if len(zones) > 1 else "", part, None, zone


def _task(
    row: Row, roof: Roof, part: Part, outputs: Outputs, mark: str, after: tuple[str, ...],
    bay: int | None = None, bays: Zone = (),
) -> Task | None:  # fmt: skip
    """Make a task, unless this roof has none of it."""
    named = [(c, c.amount(roof, part)) for c in row.counts]
    wanted = [(c, n) for c, n in named if any(m for _, m in n)]
    if row.counts and not wanted:
        return None
    done = [_hours(c.output, c.unit, row.says, n, outputs) for c, n in wanted]
    if not done:
        quantity = Working(row.says, "Q", "-", "a hold point, no work of its own", 0.0)
        hours = Working("Hours", "hours", "h", "a hold point, no work of its own", 0.0)
    elif len(done) == 1:
        quantity, hours = done[0][:2]
    else:
        quantity = done[-1][0]
        parts = [(c.output, h[1]) for (c, _), h in zip(wanted, done, strict=True)]
        hours = total("Hours", "hours", "h", parts)
    low, high = (sum(h[i] for h in done) for i in (2, 3))
    return Task(
        f"task:{row.task}{mark}", row.says, bay, quantity, hours, low, high, after, row.dry,
        row.bonding, row.people, _hold(row, roof, part), bays,
    )  # fmt: skip


def _hours(
    output: str, unit: str, says: str, named: order.Named, outputs: Outputs
) -> tuple[Working, Working, float, float]:
    quantity = total(says, "Q", unit, [(name, m) for name, m in named if m])
    hours, low, high = outputs.hours(output, unit, quantity)
    return quantity, hours, low, high


def _hold(row: Row, roof: Roof, part: Part) -> int | None:
    """Find the hold point of a row; that of a group stands at the last work this part has."""
    for rows, number in order.LAST_HOLDS:
        if row in rows:
            here = [r for r in rows if any(m for c in r.counts for _, m in c.amount(roof, part))]
            return number if here and row is here[-1] else None
    return row.hold


def _opening(outputs: Outputs, person_days: int) -> Task:
    """Opening and closing the site, every person every day."""
    row = Row(order.OPEN_AND_CLOSE, "Open the site, close it for the night", ())
    named = (("people times days", float(person_days)),)
    quantity, hours, low, high = _hours(row.task, "person_day", row.says, named, outputs)
    return Task(f"task:{row.task}", row.says, None, quantity, hours, low, high, (), False, False, 1)

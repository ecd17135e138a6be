"""A draft: bays, tasks and days for one crew, and what stands in their way."""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.model.programmed import Bay, Task
from evenfall.stages.programme import bays as cutting
from evenfall.stages.programme import order
from evenfall.stages.programme.days import Block, Slot, lay_out, way
from evenfall.stages.programme.gang import Gang, Span, darkest, spans
from evenfall.stages.programme.making import Zone, opening, tasks
from evenfall.stages.programme.order import Row
from evenfall.stages.programme.outputs import Outputs, slow
from evenfall.stages.programme.roof import Part, Roof, When, joined, whole


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
    work = tuple(tasks(roof, outputs, parts, zones))
    areas = {bay.number: bay.area_m2 for bay, _ in pieces}
    days = spans(crew, when.calendar, *place)
    slots = lay_out(work, areas, gang, days, roof.vcl.nights)
    work = (*work, opening(outputs, people * len(slots)))
    return Draft(people, tuple(b for b, _ in pieces), work, slots, zones, short)


def _numbers(n: int) -> Zone:
    return tuple(range(1, n + 1))


def _quick(rows: tuple[Row, ...], roof: Roof, part: Part, outputs: Outputs, slowly: bool) -> float:
    """Add up person-hours without showing how."""
    hours = 0.0
    for row in rows:
        for count in row.counts:
            quantity = sum(m for _, m in count.amount(roof, part))
            if quantity:
                rate = outputs.of(count.output, count.unit)
                hours += quantity * (slow(rate.typical, rate.high) if slowly else rate.typical)
    return hours


def _slow(rows: tuple[Row, ...], roof: Roof, part: Part, outputs: Outputs) -> float:
    return _quick(rows, roof, part, outputs, slowly=True)


def _zone_fits(
    roof: Roof, outputs: Outputs, gang: Gang, span: Span, parts: tuple[Part, ...]
) -> bool:
    """Tell whether boards and sheet of some parts can be closed in one day."""
    part = joined(parts)
    rows = (*order.BOARDING, order.FIELD)
    zone = Block(
        _quick(rows, roof, part, outputs, slowly=False), _slow(order.BOARDING, roof, part, outputs),
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

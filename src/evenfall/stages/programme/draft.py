"""A draft: bays, tasks and days for one crew, and what stands in their way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import chain
from math import dist

from evenfall.errors import InvalidInput
from evenfall.model.programmed import Bay, Task
from evenfall.stages.programme import order
from evenfall.stages.programme.bays import Cut, Cuts, banded, cut, others
from evenfall.stages.programme.bays import zones as group
from evenfall.stages.programme.clock import Forecast
from evenfall.stages.programme.days import Laid, lay_out
from evenfall.stages.programme.gang import Gang, Span, darkest, spans
from evenfall.stages.programme.making import Zone, opening, tasks
from evenfall.stages.programme.order import Row
from evenfall.stages.programme.outputs import Outputs, slow
from evenfall.stages.programme.roof import Part, Roof, When, joined, whole
from evenfall.stages.programme.site import Block, Slot, Work, way
from evenfall.stages.programme.slices import Shelter, common, rates
from evenfall.stages.programme.water_out import paths

QUICK = 20  # half-made programmes looked at while the job is changed: some hundredths of a second
THOROUGH = 4000  # and when a searched plan is asked for: some seconds


@dataclass(frozen=True, slots=True)
class Draft:
    """One way to do the job with one crew."""

    people: int
    bays: tuple[Bay, ...]
    tasks: tuple[Task, ...]
    slots: tuple[Slot, ...]
    zones: tuple[Zone, ...]
    short: tuple[float, float, float] | None  # hours wanted, hours there, m2 of what is not closed
    laid: Laid

    @property
    def better_than(self) -> tuple[float, ...]:
        """What drafts are compared by, the least the best: the nights' lines come last."""
        return (*self.laid.cost, sum(b.night_m for b in self.bays))


def draft(
    roof: Roof, when: When, outputs: Outputs, people: int, steps: int = 0, first_cut: bool = False
) -> Draft:  # fmt: skip
    """Cut the bays, list the tasks and lay out the days.

    Parameters
    ----------
    roof : Roof
        The roof [-].
    when : When
        Hours, calendar, place and forecast [-].
    outputs : Outputs
        The firm's outputs [-].
    people : int
        Size of the crew [-].
    steps : int
        Half-made programmes looked at; 0 takes the first way to cut and to lay out [-].
    first_cut : bool
        Whether the bays stay as they are cut first, the fewest, however the days fall [-].

    Returns
    -------
    Draft
        Bays, tasks and days [-].

    Raises
    ------
    InvalidInput
        An output is missing, or opening the site takes all day.
    """
    crew = when.crew
    site = outputs.of(order.OPEN_AND_CLOSE, "person_day")
    if site.high >= crew.hours_a_day:
        raise InvalidInput(
            f"opening and closing the site takes up to {site.high:g} hours",
            f"less than the {crew.hours_a_day:g} of a day", where="the rates: outputs",
        )  # fmt: skip
    gang = Gang(people, site.typical, site.high)
    dark = darkest(crew, when.calendar, when.latitude, when.longitude)
    one = _zone_fits(roof, outputs, gang, dark, (whole(roof),))
    tried = []
    for cuts in _cuts(roof, when, outputs, gang, gang.sure(dark), one, steps > 0 and not first_cut):
        zones: tuple[Zone, ...] = (_numbers(len(cuts.cut)),)
        if not one:
            zones = _high_first(roof, cuts.cut, _zones(roof, outputs, gang, dark, cuts.cut))
        tried.append((_laid(roof, when, outputs, gang, (cuts, zones), 0), cuts, zones))
    best, cuts, zones = min(tried, key=lambda t: t[0].better_than)
    return _laid(roof, when, outputs, gang, (cuts, zones), steps) if steps else best


def _laid(
    roof: Roof, when: When, outputs: Outputs, gang: Gang, cut_up: tuple[Cuts, tuple[Zone, ...]],
    steps: int,
) -> Draft:  # fmt: skip
    """List the tasks of some bays and lay out their days."""
    cuts, zones = cut_up
    parts = tuple(c.part for c in cuts.cut)
    work = tuple(tasks(roof, outputs, parts, zones, _seams(cuts.cut, zones)))
    bays = tuple(c.bay for c in cuts.cut)
    laid = lay_out(site_of(work, bays, gang, when, roof.vcl.nights), steps)
    work = (*work, opening(outputs, gang.people * len(laid.slots)))
    return Draft(gang.people, bays, work, laid.slots, zones, cuts.short, laid)


def site_of(
    work: tuple[Task, ...], bays: tuple[Bay, ...], gang: Gang, when: When, nights: int
) -> Work:
    """Sort the work of a job for its days.

    Parameters
    ----------
    work : tuple of Task
        All work [-].
    bays : tuple of Bay
        The bays [m2].
    gang : Gang
        Who works [-].
    when : When
        Calendar, place and forecast [-].
    nights : int
        Nights that the VCL stands as a roof [-].

    Returns
    -------
    Work
        What days are laid out of [-].
    """
    days = spans(when.crew, when.calendar, when.nation, when.latitude, when.longitude)
    areas = {bay.number: bay.area_m2 for bay in bays}
    awaited = (when.from_when("strip"), when.from_when("sheet"))
    return Work(work, areas, gang, days, nights, Forecast(when.permits), awaited)


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
                one = slow(rate.low, rate.typical, rate.high) if slowly else rate.typical
                hours += quantity * count.share * one
    return hours


def slow_of(rows: tuple[Row, ...], roof: Roof, part: Part, outputs: Outputs) -> float:
    """Add up slow person-hours of some work on a part of the roof.

    Parameters
    ----------
    rows : tuple of Row
        Kinds of work [-].
    roof, part, outputs : Roof, Part, Outputs
        Where, and the firm's outputs [-].

    Returns
    -------
    float
        Person-hours [h].
    """
    return _quick(rows, roof, part, outputs, slowly=True)


def _zone_fits(
    roof: Roof, outputs: Outputs, gang: Gang, span: Span, parts: tuple[Part, ...]
) -> bool:
    """Tell whether boards and sheet of some parts can be closed in one day."""
    part = joined(parts)
    rows, covering = (*order.BOARDING, *order.SHEETING), (*order.BOARDING, order.UNROLL)
    usual = _quick(rows, roof, part, outputs, slowly=False)
    zone = Block(usual, slow_of(covering, roof, part, outputs), part.gross)
    return way(zone, gang, gang.usual(span), gang.sure(span)) is not None


def _cuts(
    roof: Roof, when: When, outputs: Outputs, gang: Gang, room: float, one: bool, both: bool
) -> Iterator[Cuts]:
    """Cut square to the fall; along it where zones are wanted, or where square does not close."""
    people = gang.people
    x, y = roof.downhill
    ways = ((x, y), (-y, x)) if one else ((-y, x), (x, y))
    each = rates(roof.plan, lambda part: slow_of(order.BAY, roof, part, outputs))
    if when.covers:
        seals = rates(roof.plan, lambda part: slow_of(order.SEALING, roof, part, outputs))
        each = replace(each, shelter=Shelter(when.covers, people, seals))
    set_up = slow_of(order.START, roof, whole(roof), outputs)
    first = cut(roof.plan, ways, each, set_up, room)
    yield first
    seen = [first.cut]
    if not both:
        return
    straight = others(roof.plan, ways, each, set_up, room) if one else ()
    along = ways if one else ways[:1]  # no seam between zones across the fall
    fewest = banded(roof.plan, along, each, set_up, room, len(first.cut))
    for other in chain(straight, fewest):
        if other.cut not in seen:
            seen.append(other.cut)
            yield other


def _zones(
    roof: Roof, outputs: Outputs, gang: Gang, dark: Span, bays: tuple[Cut, ...]
) -> tuple[Zone, ...]:
    """Group the bays into the fewest zones whose boards and sheet close in one day each."""
    bands, areas = tuple(c.band for c in bays), tuple(c.part.gross for c in bays)
    grouped: tuple[Zone, ...] = ()
    for number in range(1, len(set(bands)) + 1):
        grouped = group(bands, areas, number)
        parts = [tuple(bays[b - 1].part for b in zone) for zone in grouped]
        if all(_zone_fits(roof, outputs, gang, dark, zone) for zone in parts):
            break
    return grouped


def _high_first(roof: Roof, bays: tuple[Cut, ...], zones: tuple[Zone, ...]) -> tuple[Zone, ...]:
    """Order zones so that none gets its sheet while water of another still runs across it."""
    runs = {p.bay: p.through for p in paths(roof.plan, tuple(c.bay for c in bays), roof.downhill)}
    ordered, left = list[Zone](), list(zones)
    while left:
        free = (
            z for z in left
            if not any(set(runs[b]) & set(z) for other in left if other != z for b in other)
        )  # fmt: skip
        ordered.append(next(free, left[0]))
        left.remove(ordered[-1])
    return tuple(ordered)


def _seams(bays: tuple[Cut, ...], zones: tuple[Zone, ...]) -> float:
    """Length of the night lines on which a bay of one zone meets a later bay of another."""
    of = {bay: n for n, zone in enumerate(zones) for bay in zone}
    return sum(
        dist(*shared)
        for n, one in enumerate(bays)
        for line in one.bay.night_lines
        for other in bays[n + 1 :]
        if of[one.bay.number] != of[other.bay.number]
        for shared in common(other.bay.ring, line)
    )

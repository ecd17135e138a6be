"""Days: work packed into days such that what is opened in the morning is closed by the evening.

What keeps the rain out is reckoned with slow hours and a margin; all other work fills the day as
usual.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Literal, TypeVar

from evenfall.errors import InvalidInput
from evenfall.model.programmed import Task
from evenfall.stages.programme import order
from evenfall.stages.programme.gang import Gang, Span
from evenfall.stages.programme.outputs import slow
from evenfall.standards import programme_practice as practice

NEAR = 1e-9  # h; less is rounding
START = frozenset(row.task for row in order.START)
BONDED_DOWN = frozenset(row.task for row in (order.FIELD, order.PUSH, order.AGAIN))
SHEETING = BONDED_DOWN | {order.UNROLL.task}
"""What may follow on the next day where the sheet lies loose over its boards."""
MINUTES = 60

K = TypeVar("K")
Way = Literal["bonded", "loose", "bare"]
"""Boards and sheet: bonded in one day, the sheet laid loose over the boards, or neither."""


@dataclass(frozen=True, slots=True)
class Slot:
    """One day as it is filled."""

    span: Span
    work: tuple[tuple[str, float], ...]
    opened: tuple[int, ...]  # bays
    way: Way | None
    zone: tuple[int, ...]  # bays that got boards today
    sealed_by: float
    sure: bool  # closed even on a slow day


@dataclass(frozen=True, slots=True)
class Block:
    """Hours of the boards of a zone and of the sheet over them."""

    usual: float
    least_slow: float  # until the boards are covered at all: the sheet loose over them
    area: float


def kind(id_: str) -> str:
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
    >>> kind("task:strip-felt@1")
    'strip-felt'
    """
    return id_.removeprefix("task:").split("@", 1)[0]


def slow_hours(tasks: Iterable[Task]) -> float:
    """Add the slow hours of some tasks.

    Parameters
    ----------
    tasks : iterable of Task
        The tasks [-].

    Returns
    -------
    float
        Person-hours [h].
    """
    return sum(slow(t.hours_low, t.hours.value, t.hours_high) for t in tasks)


def block(tasks: tuple[Task, ...], area: float) -> Block:
    """Sum up the boards and the sheet of a zone.

    Parameters
    ----------
    tasks : tuple of Task
        Boards, the look before the sheet, the sheet [-].
    area : float
        Area of the zone [m2].

    Returns
    -------
    Block
        Hours as usual and on a slow day [h].
    """
    covering = [t for t in tasks if kind(t.id) not in BONDED_DOWN]
    return Block(sum(t.hours.value for t in tasks), slow_hours(covering), area)


def way(zone: Block, gang: Gang, usual: float, sure: float) -> Way | None:
    """Choose how boards and sheet of a zone go down in the hours that are left of a day.

    Parameters
    ----------
    zone : Block
        What there is to do [h].
    gang : Gang
        Who does it [-].
    usual, sure : float
        Person-hours left as usual, and until the roof must be shut [h].

    Returns
    -------
    str or None
        ``bonded``, ``loose``, or None where not even that is sure [-].
    """
    if zone.least_slow > sure + NEAR:
        return None
    margin = gang.people * practice.SEAL_MARGIN / MINUTES
    if zone.usual + margin <= usual + NEAR and zone.area <= gang.one_day_area():
        return "bonded"
    return "loose"


@dataclass(slots=True)
class _Today:
    """A day while it is being filled."""

    span: Span
    usual: float
    sure: float
    work: list[tuple[str, float]] = field(default_factory=list)
    opened: list[int] = field(default_factory=list)
    way: Way | None = None
    zone: tuple[int, ...] = ()
    slow: float = 0.0  # hours until the roof is shut
    closed_for_sure: bool = True

    def put(self, task: Task, hours: float) -> None:
        self.work.append((task.id, hours))
        self.usual = max(0.0, self.usual - hours)

    def reckon(self, hours: float) -> None:
        """Take slow hours off what is left until the roof must be shut."""
        self.sure = max(0.0, self.sure - hours)
        self.slow += hours


class _Site:
    """What is still to do."""

    def __init__(self, tasks: tuple[Task, ...], areas: dict[int, float], gang: Gang) -> None:
        work = [t for t in tasks if kind(t.id) != order.OPEN_AND_CLOSE]
        self.gang, self.areas = gang, areas
        self.left = {t.id: t.hours.value for t in work}
        self.start = [t for t in work if kind(t.id) in START]
        free = (t for t in work if t.bay is None and not t.bays)
        self.free = [t for t in free if t not in self.start]
        self.bays = _groups((t.bay, t) for t in work if t.bay is not None)
        self.zones = _groups((t.bays, t) for t in work if t.bays)
        self.loose: list[Task] = []  # sheets that lie loose and are bonded next
        self.done: set[str] = set()

    def do(self, today: _Today, task: Task, hours: float | None = None) -> None:
        """Do a task, or some hours of it."""
        part = self.left[task.id] if hours is None else min(hours, self.left[task.id])
        today.put(task, part)
        self.left[task.id] -= part
        if self.left[task.id] <= NEAR:
            del self.left[task.id]
            self.done.add(task.id)

    def ready(self, task: Task) -> bool:
        return all(a in self.done for a in task.after)


def _groups(pairs: Iterable[tuple[K, Task]]) -> dict[K, tuple[Task, ...]]:
    found: dict[K, tuple[Task, ...]] = {}
    for key, task in pairs:
        found[key] = (*found.get(key, ()), task)
    return found


def lay_out(
    tasks: tuple[Task, ...], areas: dict[int, float], gang: Gang, days: Iterator[Span], nights: int
) -> tuple[Slot, ...]:
    """Pack all work into days.

    Parameters
    ----------
    tasks : tuple of Task
        All work, in the order of the trade [-].
    areas : dict
        Area of each bay [m2].
    gang : Gang
        Who works [-].
    days : iterator of Span
        Working days in their order [-].
    nights : int
        Nights that the VCL stands as a roof [-].

    Returns
    -------
    tuple of Slot
        Days on which something is done; ``sure`` is false where an evening is not proved [-].

    Raises
    ------
    InvalidInput
        The calendar leaves no days to work on.
    """
    site, slots = _Site(tasks, areas, gang), list[Slot]()
    while site.left:
        span = next(days, None)
        if span is None:
            raise InvalidInput("no days to work on", "days between the days off",
                               where="calendar.days_off")  # fmt: skip
        slot = _day(site, span, hurry=nights == 0)
        if slot is not None:
            slots.append(slot)
    return tuple(slots)


def _day(site: _Site, span: Span, hurry: bool) -> Slot | None:
    today = _Today(span, site.gang.usual(span), site.gang.sure(span))
    for task in [t for t in site.start if t.id in site.left]:
        if site.ready(task):
            today.reckon(slow_hours([task]))
            site.do(today, task, today.usual)
    bonded = bool(site.loose)
    _bond_loose(site, today)
    if not (hurry and span.then_off):
        _open_bays(site, today)
    _cover(site, today, hurry)
    _fill(site, today)
    if not today.work:
        return None
    site_hours = site.gang.people * site.gang.open_typical
    shut = bonded or today.opened or today.way
    return Slot(
        span, (*today.work, (f"task:{order.OPEN_AND_CLOSE}", site_hours)), tuple(today.opened),
        today.way, today.zone,
        site.gang.sealed_by(span, today.slow) if shut else span.opens, today.closed_for_sure,
    )  # fmt: skip


def _bond_loose(site: _Site, today: _Today) -> None:
    for task in site.loose:
        today.reckon(slow_hours([task]))
        site.do(today, task)
    site.loose = []


def _open_bays(site: _Site, today: _Today) -> None:
    """Open the next bays while even a slow day closes them; one that never closes goes alone."""
    for number, tasks in list(site.bays.items()):
        hours, fresh = slow_hours(tasks), not today.work
        if not site.ready(tasks[0]) or not (hours <= today.sure + NEAR or fresh):
            return
        today.closed_for_sure &= hours <= today.sure + NEAR
        today.reckon(hours)
        today.opened.append(number)
        for task in tasks:
            site.do(today, task)
        del site.bays[number]


def _cover(site: _Site, today: _Today, hurry: bool) -> None:
    """Boards and sheet of the next zone, if they can be closed today."""
    if site.bays or not site.zones or not site.ready(next(iter(site.zones.values()))[0]):
        return
    bays, tasks = next(iter(site.zones.items()))
    zone = block(tasks, sum(site.areas[b] for b in bays))
    gang, span, fresh = site.gang, today.span, not today.work
    now = way(zone, gang, today.usual, today.sure)
    later = way(zone, gang, gang.usual(span), gang.sure(span))
    if now == "loose" and ((later == "bonded" and not hurry) or span.then_off):
        now = None
    if now is None and not (fresh and later is None):
        return
    today.way, today.zone = now or "bare", bays
    today.closed_for_sure &= now is not None
    today.reckon(zone.least_slow)
    later_on = {"bonded": frozenset(), "loose": BONDED_DOWN, None: SHEETING}[now]
    for task in tasks:
        if kind(task.id) not in later_on:
            site.do(today, task)
    site.loose = [t for t in tasks if kind(t.id) in later_on]
    del site.zones[bays]


def _fill(site: _Site, today: _Today) -> None:
    """Fill what is left of the day with work that keeps no rain out."""
    for task in list(site.free):
        if today.usual <= NEAR:
            return
        if site.ready(task):
            site.do(today, task, today.usual)
            if task.id in site.done:
                site.free.remove(task)

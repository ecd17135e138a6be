"""The site: all the work, what is still to do, and the day on which it stands."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import Literal, TypeVar

from evenfall.model.programmed import Step, Task
from evenfall.stages.programme import order
from evenfall.stages.programme.clock import Forecast
from evenfall.stages.programme.gang import Gang, Span
from evenfall.stages.programme.outputs import slow
from evenfall.standards import programme_practice as practice

NEAR = 1e-9  # h; less is rounding
START = frozenset(row.task for row in order.START)
BONDED_DOWN = frozenset(row.task for row in (order.FIELD, order.PUSH, order.AGAIN))
"""What may follow on the next day where the sheet lies loose over its boards."""
SHEETING = BONDED_DOWN | {order.UNROLL.task}
MARGIN = float(practice.SEAL_MARGIN) / 60  # h

K = TypeVar("K")
Chosen = tuple[int, bool, bool]
"""What is wanted of a day: bays at most, whether a sheet goes down, whether it goes first."""
Way = Literal["bonded", "loose", "bare"]
"""Boards and sheet: bonded in one day, the sheet laid loose over the boards, or neither."""


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
    return id_.removeprefix("task:").split("@", 1)[0].split("/", 1)[0]


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


@dataclass(frozen=True, slots=True)
class Slot:
    """One day as it is filled."""

    span: Span
    steps: tuple[Step, ...]
    opened: tuple[int, ...]  # bays
    way: Way | None
    zone: tuple[int, ...]  # bays that got boards today
    sealed_by: float
    sure: bool  # closed even on a slow day

    @property
    def work(self) -> tuple[tuple[str, float], ...]:
        """Person-hours of each task, in the order in which they begin."""
        hours: dict[str, float] = {}
        for s in self.steps:
            hours[s.task] = hours.get(s.task, 0.0) + s.people * (s.ends - s.starts)
        return tuple(hours.items())


@dataclass(frozen=True, slots=True)
class Block:
    """Hours of the boards of a zone and of the sheet over them."""

    usual: float
    least_slow: float  # until the boards are covered at all: the sheet loose over them
    area: float


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
    waits = gang.people * (practice.SEAL_MARGIN / 60 + practice.RELAX + practice.SECOND_PASS_AFTER)
    if zone.usual + waits <= usual + NEAR and zone.area <= gang.one_day_area():
        return "bonded"
    return "loose"


class Work:
    """All the work of a job, sorted by what it does to the roof.

    Parameters
    ----------
    tasks : tuple of Task
        In the order of the trade [-].
    areas : dict
        Area of each bay [m2].
    gang : Gang
        Who works [-].
    days : iterator of Span
        Working days in their order [-].
    nights : int
        Nights that the VCL stands as a roof [-].
    forecast : Forecast
        Hours that the weather leaves [-].
    awaited : (date, date)
        First day on which felt may be cut, and on which a sheet may be laid: all is there [-].
    """

    def __init__(
        self, tasks: tuple[Task, ...], areas: dict[int, float], gang: Gang, days: Iterator[Span],
        nights: int, forecast: Forecast, awaited: tuple[date, date] = (date.min, date.min),
    ) -> None:  # fmt: skip
        work = [t for t in tasks if kind(t.id) != order.OPEN_AND_CLOSE]
        self.gang, self.areas, self.nights, self.forecast = gang, areas, nights, forecast
        self.strip_from, self.sheet_from = awaited
        self.by_id = {t.id: t for t in work}
        self.start = tuple(t for t in work if kind(t.id) in START)
        self.free = tuple(
            t for t in work if t.bay is None and not t.bays and kind(t.id) not in START
        )
        self.bays = tuple(_groups((t.bay, t) for t in work if t.bay is not None).items())
        self.zones = tuple(_groups((t.bays, t) for t in work if t.bays).items())
        self.blocks = tuple(block(ts, sum(areas[b] for b in z)) for z, ts in self.zones)
        self.bay_slow = tuple(slow_hours(ts) for _, ts in self.bays)
        self.bay_usual = tuple(sum(t.hours.value for t in ts) for _, ts in self.bays)
        self.resting = tuple(t.id for t in work if t.rests_h)
        self._days, self._spans = days, list[Span]()

    def span(self, n: int) -> Span | None:
        """Give a working day by its number, from 0; None where the calendar has no more."""
        while len(self._spans) <= n:
            found = next(self._days, None)
            if found is None:
                return None
            self._spans.append(found)
        return self._spans[n]

    @property
    def hurry(self) -> bool:
        """Whether the VCL is no roof for a single night."""
        return self.nights == 0

    @cached_property
    def longest(self) -> Span | None:
        """The longest of the days looked ahead: no day has more hours."""
        ahead = [self.span(n) for n in range(int(practice.OUTLOOK))]
        return max((s for s in ahead if s), key=lambda s: s.hours, default=None)

    @cached_property
    def most_sure(self) -> float:
        """Slow person-hours of the longest day."""
        return self.gang.sure(self.longest) if self.longest else 0.0

    @cached_property
    def most_usual(self) -> float:
        """Person-hours of the longest day."""
        return self.gang.usual(self.longest) if self.longest else 0.0


def _groups(pairs: Iterable[tuple[K, Task]]) -> dict[K, tuple[Task, ...]]:
    found: dict[K, tuple[Task, ...]] = {}
    for key, task in pairs:
        found[key] = (*found.get(key, ()), task)
    return found


@dataclass(frozen=True, slots=True)
class State:
    """A programme half made: what is done by the morning of a day."""

    day: int  # number of the next working day, from 0
    last: int  # ordinal of the last day on which something was done
    left: dict[str, float]  # hours of start and free work
    ended: dict[str, float]  # when each piece of work ended, in hours of all time
    bays: int  # closed, in their order
    zones: int  # with boards, in their order
    loose: tuple[Task, ...]  # sheet that lies loose, and is bonded next
    since: tuple[tuple[int, int], ...]  # bays under VCL, each with the ordinal of its day
    stops: int  # evenings that break a rule
    exposure: float  # m2 under VCL, times nights
    slots: tuple[Slot, object] | None  # the days so far, the last first
    chosen: tuple[Chosen, ...] = ()  # what was wanted of each working day


def fresh(work: Work) -> State:
    """Begin with nothing done.

    Parameters
    ----------
    work : Work
        All the work [-].

    Returns
    -------
    State
        The first morning [-].
    """
    left = {t.id: t.hours.value for t in (*work.start, *work.free)}
    return State(0, 0, left, {}, 0, 0, (), (), 0, 0.0, None)


def slots_of(state: State) -> tuple[Slot, ...]:
    """List the days of a programme.

    Parameters
    ----------
    state : State
        The programme [-].

    Returns
    -------
    tuple of Slot
        The first first [-].
    """
    found, at = list[Slot](), state.slots
    while at is not None:
        slot, at = at  # type: ignore[assignment]
        found.append(slot)
    return tuple(reversed(found))

"""For the checker: the roof followed through the days, bay by bay, from the work that is done."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from evenfall.model.programmed import Day, Task

NEAR = 1e-6  # h; less is rounding
A_DAY = timedelta(days=1)
UNROLLED = "sheet-unroll"
BONDED_DOWN = frozenset(("sheet-field", "push-air", "second-pass"))
BOARDS = frozenset((
    "boards-glue", "boards-screw", "boards-second-layer", "screw", "overlay", "cut-edges",
    "parapet-lining",
))  # fmt: skip


@dataclass(frozen=True, slots=True)
class Stands:
    """How many nights the VCL may be tonight's roof, and since when each closed bay lies under it.

    A bay that is closed before the first of the days, of which no day is told, counts from the day
    before that.
    """

    nights: int
    since: tuple[tuple[int, date], ...] = ()  # (bay, the day on which it was closed)


def kind(id_: str) -> str:
    """Name the kind of work of a task.

    Parameters
    ----------
    id_ : str
        Such as ``task:vcl-edges@2`` [-].

    Returns
    -------
    str
        Its kind [-].

    Examples
    --------
    >>> kind("task:vcl-edges@2")
    'vcl-edges'
    """
    return id_.removeprefix("task:").partition("@")[0]


class Roof:
    """What has been done to each bay so far.

    Parameters
    ----------
    tasks : tuple of Task
        All work [h].
    """

    def __init__(self, tasks: tuple[Task, ...]) -> None:
        self.by_id = {t.id: t for t in tasks}
        self.left = {t.id: t.hours.value for t in tasks}
        numbers = {t.bay for t in tasks if t.bay is not None}
        self.own = {n: [t for t in tasks if t.bay == n] for n in numbers}
        self.over = {n: [t for t in tasks if n in t.bays] for n in numbers}
        self.opened: dict[int, date] = {}
        self.sheeted: dict[int, date] = {}
        self.loose: dict[int, date] = {}  # bays with a sheet not yet bonded, and since when

    @property
    def nights_on_vcl(self) -> int:
        """Nights from opening to sheet, of the bay that waits longest."""
        return max(((self.sheeted[n] - self.opened[n]).days for n in self.sheeted), default=0)

    def begin(self, done: frozenset[str], on: date, since: dict[int, date]) -> None:
        """Take over a roof that is begun: what is half open is open on the first of the days."""
        for id_ in done:
            self.left[id_] = 0.0
        for bay, own in self.own.items():
            if any(t.id in done for t in own):
                self.opened[bay] = since.get(bay, on - A_DAY) if self.done(own) else on
        for bay, over in self.over.items():
            covering = [t for t in over if kind(t.id) not in BONDED_DOWN]
            if covering and bay in self.opened and self.done(covering):
                self.sheeted[bay] = on - A_DAY
                if not self.done(self._bonding(bay)):
                    self.loose[bay] = on - A_DAY

    def done(self, tasks: list[Task]) -> bool:
        """Tell whether some work is all done."""
        return all(self.left[t.id] <= NEAR for t in tasks)

    def begun(self, tasks: list[Task]) -> bool:
        """Tell whether any of some work is begun."""
        return any(self.left[t.id] < t.hours.value - NEAR for t in tasks)

    def do(self, day: Day) -> Iterator[str]:
        """Do a day's work; a bay that was opened on another day is a fault."""
        for id_, hours in day.work:
            self.left[id_] = self.left.get(id_, 0.0) - hours
            task = self.by_id.get(id_)
            if task is None or task.bay is None:
                continue
            if self.opened.setdefault(task.bay, day.on) != day.on:
                yield f"bay {task.bay} is opened on one day and worked again on {day.on}"
        for bay, over in self.over.items():
            covering = [t for t in over if kind(t.id) not in BONDED_DOWN]
            unrolled = any(kind(t.id) == UNROLLED for t in covering)
            if unrolled and self.done(covering) and bay in self.opened:
                self.sheeted.setdefault(bay, day.on)
                if self.done(self._bonding(bay)):
                    self.loose.pop(bay, None)
                else:
                    self.loose.setdefault(bay, day.on)

    def _bonding(self, bay: int) -> list[Task]:
        return [t for t in self.over[bay] if kind(t.id) in BONDED_DOWN]


def too_long(roof: Roof, stands: Stands, first: date, last: date) -> Iterator[str]:
    """Find the bays that lie under their VCL for more nights than it stands.

    Parameters
    ----------
    roof : Roof
        The roof after the last of the days [-].
    stands : Stands
        Nights of the VCL, and since when bays lie under it [-].
    first, last : date
        The first and the last of the days [-].

    Yields
    ------
    str
        Which evening, which bay and why [-].
    """
    for bay, since in sorted(roof.opened.items()):
        until = roof.sheeted.get(bay, last + A_DAY)
        if until >= first and (until - since).days > stands.nights:
            wrong = since + stands.nights * A_DAY
            yield (
                f"bay {bay} lies under its VCL for night {stands.nights + 1} on the evening of "
                f"{wrong}: it stands {stands.nights}"
            )


def late_bonding(roof: Roof, on: date) -> Iterator[str]:
    """Find the sheets that lie loose into a second night before the next day of work.

    A sheet may lie loose and weighted for one night; it is bonded on the very next calendar day.

    Parameters
    ----------
    roof : Roof
        The roof before that day [-].
    on : date
        The next day of work [-].

    Yields
    ------
    str
        Which evening, which bays and why [-].
    """
    for since in sorted(set(roof.loose.values())):
        if (on - since).days > 1:
            bays = ", ".join(str(b) for b, day in sorted(roof.loose.items()) if day == since)
            yield (
                f"the sheet over bay {bays}, laid loose on {since}, is not bonded by the evening "
                f"of {since + A_DAY}: weighted, it may lie so for one night"
            )


def follow(roof: Roof, day: Day) -> Iterator[str]:
    """Do a day's work and compare the covers told with what the work makes them.

    Parameters
    ----------
    roof : Roof
        The roof as it was in the morning; it is changed [-].
    day : Day
        Its work and its evening [-].

    Yields
    ------
    str
        Each fault in words [-].
    """
    yield from dict.fromkeys(roof.do(day))
    for bay, cover in day.evening.covers:
        if bay not in roof.own:
            yield f"nothing is planned for bay {bay}"
            continue
        boards = [t for t in roof.over[bay] if kind(t.id) in BOARDS]
        if cover == "open":
            yield f"bay {bay} is open on the evening of {day.on}"
        if (cover == "felt") != (bay not in roof.opened):
            yield f"bay {bay} is called {cover} on {day.on}"
        if bay in roof.opened and not roof.done(roof.own[bay]):
            yield f"bay {bay} is not closed on the evening of {day.on}"
        if bay not in roof.sheeted and roof.begun(boards):
            yield f"boards of bay {bay} lie bare on the evening of {day.on}"
        if cover == "vcl" and bay in roof.sheeted:
            yield f"bay {bay} is called vcl on {day.on}, the sheet is on"
        if cover == "sheet" and bay not in roof.sheeted:
            yield f"bay {bay} has a sheet on {day.on} before all its boards"

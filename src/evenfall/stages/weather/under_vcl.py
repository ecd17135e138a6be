"""The nights that each bay lies under its VCL in a plan that is placed again, and its limit."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from evenfall.model.programmed import Programme, Task
from evenfall.model.words import short_day
from evenfall.stages.programme.order import UNROLL
from evenfall.stages.programme.site import kind
from evenfall.stages.weather.rest import Rest

A_DAY = timedelta(days=1)
Since = tuple[tuple[int, date], ...]
"""Bays that are closed and wait for their sheet, each with the day on which it was closed."""


@dataclass(frozen=True, slots=True)
class Under:
    """One bay: which part of the rest closes it, which sheets it, and what is known of its VCL."""

    bay: int
    closing: int | None  # None: it is closed already
    sheeting: int
    since: date | None


@dataclass(frozen=True, slots=True)
class Beyond:
    """A bay that would lie under its VCL for longer than that stands."""

    bay: int
    nights: int  # that the VCL stands
    closed: bool  # already; else it is still under its felt
    since: date
    sheeted: date


def since(
    tasks: tuple[Task, ...], of: Programme, done: frozenset[str], told: dict[int, date], today: date
) -> Since:
    """Find since when each closed bay lies under its VCL.

    Parameters
    ----------
    tasks : tuple of Task
        All work [-].
    of : Programme
        The plan, for bays of which nobody told the day [-].
    done : frozenset of str
        Ids of tasks that are done [-].
    told : dict
        Days that the record tells, by bay [-].
    today : date
        Today [-].

    Returns
    -------
    tuple of (bay, date)
        The day told; else that of the plan, at the latest yesterday [-].
    """
    own: dict[int, list[str]] = {}
    for t in tasks:
        if t.bay is not None:
            own.setdefault(t.bay, []).append(t.id)
    planned = {i: d.on for d in of.days for i, _ in d.work}
    found = []
    for bay, ids in sorted(own.items()):
        if done.issuperset(ids):
            by_plan = min((planned[i] for i in ids if i in planned), default=today)
            found.append((bay, told.get(bay, min(by_plan, today - A_DAY))))
    return tuple(found)


def under(rest: tuple[Rest, ...], tasks: tuple[Task, ...], known: Since) -> tuple[Under, ...]:
    """Find of every bay that still waits for its sheet which parts of the rest are its own.

    Parameters
    ----------
    rest : tuple of Rest
        Days with work left [-].
    tasks : tuple of Task
        All work [-].
    known : tuple of (bay, date)
        Bays that are closed [-].

    Returns
    -------
    tuple of Under
        One entry for each bay whose sheet is still to come [-].
    """
    closing = {t.id: t.bay for t in tasks if t.bay is not None}
    sheets = {t.id: t.bays for t in tasks if kind(t.id) == UNROLL.task}
    closed: dict[int, int] = {}
    sheeted: dict[int, int] = {}
    for n, r in enumerate(rest):
        for id_, _ in r.day.work:
            if id_ in closing:
                closed.setdefault(closing[id_], n)
            sheeted |= dict.fromkeys(sheets.get(id_, ()), n)
    when = dict(known)
    return tuple(Under(b, closed.get(b), n, when.get(b)) for b, n in sorted(sheeted.items()))


def in_time(of: Under, on: date, nights: int) -> bool:
    """Tell whether the sheet of a bay that is closed may come on a day.

    Parameters
    ----------
    of : Under
        The bay [-].
    on : date
        Day of its sheet [-].
    nights : int
        That the VCL stands [-].

    Returns
    -------
    bool
        Whether the VCL still stands the night before; True for a bay that is not closed yet [-].
    """
    return of.since is None or (on - of.since).days <= nights


def beyond(of: tuple[Under, ...], on: tuple[date, ...], nights: int) -> tuple[Beyond, ...]:
    """Find the bays that lie under their VCL for too long.

    Parameters
    ----------
    of : tuple of Under
        Bays that wait for their sheet [-].
    on : tuple of date
        The day of each part of the rest [-].
    nights : int
        That the VCL stands [-].

    Returns
    -------
    tuple of Beyond
        None where every sheet comes in time [-].
    """
    return tuple(_beyond(of, on, nights))


def _beyond(of: tuple[Under, ...], on: tuple[date, ...], nights: int) -> Iterator[Beyond]:
    for u in of:
        start = u.since or (None if u.closing is None else on[u.closing])
        if start is not None and (on[u.sheeting] - start).days > nights:
            yield Beyond(u.bay, nights, u.since is not None, start, on[u.sheeting])


def too_late(
    of: tuple[Under, ...], on: tuple[date, ...] | None, bays: tuple[int, ...], today: date,
    nights: int,
) -> tuple[Beyond, ...]:  # fmt: skip
    """Find of the bays that might be opened today those whose sheet would come too late.

    Parameters
    ----------
    of : tuple of Under
        Bays that wait for their sheet [-].
    on : tuple of date, optional
        The day of each part of the rest, where it is placed [-].
    bays : tuple of int
        Bays that might be opened [-].
    today : date
        Today [-].
    nights : int
        That the VCL stands [-].

    Returns
    -------
    tuple of Beyond
        Those bays [-].
    """
    return tuple(
        Beyond(u.bay, nights, u.since is not None, today, on[u.sheeting])
        for u in of
        if on is not None and u.bay in bays and (on[u.sheeting] - today).days > nights
    )


def told(of: tuple[Beyond, ...]) -> tuple[str, ...]:
    """Say which bays lie under their VCL for too long, and what to do.

    Parameters
    ----------
    of : tuple of Beyond
        Those bays [-].

    Returns
    -------
    tuple of str
        One line each [-].

    Examples
    --------
    >>> told((Beyond(2, 3, True, date(2027, 4, 13), date(2027, 4, 20)),))[0][:63]
    'The VCL of bay 2 stands 3 nights, from Tue 13 Apr to Fri 16 Apr'
    """
    return tuple(
        f"The VCL of bay {b.bay} stands {b.nights} night{'s' * (b.nights != 1)}, from "
        f"{short_day(b.since)} to {short_day(b.since + b.nights * A_DAY)}; the days that are left "
        f"do not hold its boards and sheet before {short_day(b.sheeted)}. Open no bay. "
        f"{_cure(b)}"
        for b in of
    )


def _cure(of: Beyond) -> str:
    if of.closed:
        return (
            f"Boards and sheet on bay {of.bay} come first, in the first hours that are fit, with "
            "a seam where its sheet ends; until then a temporary cover over it."
        )
    return f"Leave the felt on bay {of.bay} until its boards and sheet can follow in time."

"""What each day of a plan asks of the weather."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil, floor, inf

from evenfall.calc.weather.walk import Need
from evenfall.model.gated import Gates
from evenfall.model.programmed import Day, Task
from evenfall.stages.programme.site import kind
from evenfall.standards import programme_practice as practice

BOND_MOST = 5  # h; a working day has no more warm dry hours to ask for out of season
PAINT = "coat-"  # kinds of work that are paint begin so
WET_STANDS = 1  # wet hours that a day of other dry work stands without being lost


def joined(gates: Iterable[Gates]) -> Gates:
    """Put gates together: the strictest of each.

    Parameters
    ----------
    gates : iterable of Gates
        Any number [-].

    Returns
    -------
    Gates
        What all of them ask for [-].

    Examples
    --------
    >>> both = joined([Gates(dry=True, wind_m_s=10.0), Gates(least_c=5.0, wind_m_s=7.6)])
    >>> both.dry, both.least_c, both.wind_m_s
    (True, 5.0, 7.6)
    """
    found = list(gates)
    cold = [g.least_c for g in found if g.least_c is not None]
    wind = [g.wind_m_s for g in found if g.wind_m_s is not None]
    return Gates(
        dry=any(g.dry for g in found), least_c=max(cold, default=None),
        then_h=max((g.then_h for g in found), default=0.0),
        dew_k=max((g.dew_k for g in found), default=0.0), wind_m_s=min(wind, default=None),
    )  # fmt: skip


def roofing(work: Iterable[tuple[Task, float]]) -> tuple[tuple[Task, float], ...]:
    """Leave out what fills a day and can wait: paint, and work that asks for nothing but no gale.

    Parameters
    ----------
    work : iterable of (Task, hours)
        The work of a day [h].

    Returns
    -------
    tuple of (Task, hours)
        The work that decides whether the day serves; all of it where nothing else is done [h].
    """
    everything = tuple(work)
    unpainted = tuple((t, h) for t, h in everything if not kind(t.id).startswith(PAINT))
    return tuple((t, h) for t, h in unpainted if t.gates.dry) or unpainted or everything


def need(day: Day, tasks: dict[str, Task], start_hour: float, contact: bool = False) -> Need:
    """Turn a day of the plan into what it asks of the weather.

    Parameters
    ----------
    day : Day
        A day of the programme [-].
    tasks : dict
        Tasks by id [-].
    start_hour : float
        When work begins, by the clock [h].
    contact : bool
        Whether the sheet goes down in contact adhesive, which needs no warm night [-].

    Returns
    -------
    Need
        Hours of dry weather, of bonding, cold, wind [h].
    """
    done = roofing((tasks[i], h) for i, h in day.work if i in tasks and h > 0)
    gates = joined(t.gates for t, _ in done)
    bonding = sum(h for t, h in done if t.gates.dew_k) / day.people
    first = floor(start_hour)
    opens = day.dry_hours > 0
    if opens:
        shut, most, after = ceil(day.evening.sealed_by), 0, ceil(practice.DRY_WINDOW_EXTRA)
    else:
        dry = sum(h for t, h in done if t.gates.dry) / day.people
        shut, most, after = first + ceil(dry), WET_STANDS, 0
    return Need(
        first, shut, most, after, opens, min(ceil(bonding), BOND_MOST),
        -inf if gates.least_c is None else gates.least_c, gates.dew_k,
        gates.then_h > 0 and not contact, inf if gates.wind_m_s is None else gates.wind_m_s,
    )  # fmt: skip

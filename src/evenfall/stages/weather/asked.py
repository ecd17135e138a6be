"""What each day of a plan asks of the weather."""

from __future__ import annotations

from math import ceil, floor

from evenfall.calc.weather.walk import Need
from evenfall.model.gated import Gates
from evenfall.model.programmed import Day, Task
from evenfall.standards import programme_practice as practice

BOND_MOST = 5  # h; a working day has no more warm dry hours to ask for out of season
WET_STANDS = 1  # wet hours that a day of other dry work stands without being lost


def gates_of(task: Task) -> Gates:
    """TEMPORARY until tasks carry their gates."""
    mph = 0.44704
    from evenfall.stages.programme.days import kind

    field = kind(task.id) == "sheet-field"
    return Gates(
        dry=task.dry,
        least_c=5.0 if task.bonding else float("-inf"),
        then_h=24.0 if field else 0.0,
        dew_k=3.0 if task.bonding else 0.0,
        wind_m_s=(17 if field else 23) * mph,
    )


def joined(gates: list[Gates]) -> Gates:
    """Put gates together: the strictest of each.

    Parameters
    ----------
    gates : list of Gates
        At least one [-].

    Returns
    -------
    Gates
        What all of them ask for [-].

    Examples
    --------
    >>> joined([Gates(dry=True), Gates(least_c=5.0)]).dry
    True
    """
    return Gates(
        any(g.dry for g in gates), max(g.least_c for g in gates), max(g.then_h for g in gates),
        max(g.dew_k for g in gates), min(g.wind_m_s for g in gates),
    )  # fmt: skip


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
    done = [(tasks[i], h) for i, h in day.work if i in tasks and h > 0]
    gates = joined([gates_of(t) for t, _ in done] or [Gates()])
    bonding = sum(h for t, h in done if gates_of(t).dew_k) / day.people
    first = floor(start_hour)
    opens = day.dry_hours > 0
    if opens:
        shut, most, after = ceil(day.evening.sealed_by), 0, ceil(practice.DRY_WINDOW_EXTRA)
    else:
        dry = sum(h for t, h in done if gates_of(t).dry) / day.people
        shut, most, after = first + ceil(dry), WET_STANDS, 0
    return Need(
        first, shut, most, after, opens, min(ceil(bonding), BOND_MOST),
        gates.least_c, gates.dew_k, gates.then_h > 0 and not contact, gates.wind_m_s,
    )  # fmt: skip

"""How much of the roof may be opened this morning, and when stripping must stop."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import floor

from evenfall.model.morning import Opening
from evenfall.model.programmed import Task
from evenfall.stages.programme.site import kind, slow_hours
from evenfall.standards import programme_practice as practice
from evenfall.standards import take_off_practice

STRIPPING = frozenset((
    "strip-edges", "strip-felt", "strip-chippings", "strip-second-system", "remove-quilt",
))  # fmt: skip
LEAST = 1.0  # m2; less is not worth a night line
COARSE = 4.0  # m2; above it areas are told to the whole square metre, below to the half
QUARTERS = 4  # of an hour: stripping stops on the quarter
MINUTES = 60


@dataclass(frozen=True, slots=True)
class Ask:
    """What a morning has: the bays to open, the hours, the covers."""

    area_m2: float  # of today's bays
    strip_h: float  # slow person-hours
    rest_h: float  # to mend, edge and seal them
    first_h: float  # of setting up, before anything is opened
    site_h: float  # of opening the site, for each person
    begins: float  # hour by the clock
    dry_until: float  # hour at which the forecast no longer lets the roof lie open
    dark_at: float  # hour by which hands leave or light goes
    reach_m2: float  # under the covers


def ask_of(
    tasks: Iterable[Task], area_m2: float, site_h: float, hours: tuple[float, float, float],
    reach_m2: float,
) -> Ask:  # fmt: skip
    """Add up what the day's bays take on a slow day.

    Parameters
    ----------
    tasks : iterable of Task
        Today's work that sets up, or that opens and closes a bay [h].
    area_m2 : float
        Area of today's bays [m2].
    site_h : float
        Hours that opening the site costs each person on a slow day [h].
    hours : (begins, dry until, dark at)
        By the clock [h].
    reach_m2 : float
        Open roof that the covers reach over [m2].

    Returns
    -------
    Ask
        What the morning has [h].
    """
    work = list(tasks)
    strip = [t for t in work if t.bay is not None and kind(t.id) in STRIPPING]
    rest = [t for t in work if t.bay is not None and kind(t.id) not in STRIPPING]
    first = [t for t in work if t.bay is None]
    return Ask(
        area_m2, slow_hours(strip), slow_hours(rest), slow_hours(first), site_h, *hours, reach_m2
    )  # fmt: skip


def opening(of: Ask, hands: int) -> Opening:
    """Say how much to open with so many hands: no more than is shut in time and covered.

    Parameters
    ----------
    of : Ask
        What the morning has [h].
    hands : int
        People [-].

    Returns
    -------
    Opening
        Area, and the hours to stop and to be shut by; area nought: open nothing [m2].

    Examples
    --------
    >>> from dataclasses import replace
    >>> ask = Ask(12.0, 6.0, 8.0, 0.0, 0.5, 8.0, 20.0, 16.0, 30.0)
    >>> opening(ask, 2)
    Opening(hands=2, area_m2=11.0, stop_stripping=11.25, seal_by=15.0)
    >>> opening(ask, 1).area_m2, opening(replace(ask, reach_m2=0.0), 2).area_m2
    (5.0, 0.0)
    """
    margin = float(practice.SEAL_MARGIN) / MINUTES
    shut = min(of.dry_until - float(practice.DRY_WINDOW_EXTRA), of.dark_at - margin)
    starts = of.begins + of.site_h
    hours = (shut - starts) * hands - of.first_h
    share = min(1.0, hours / max(of.strip_h + of.rest_h, 1e-9))
    whole = share >= 1 and of.reach_m2 >= of.area_m2
    area = of.area_m2 if whole else rounded(min(share * of.area_m2, of.reach_m2))
    if area < LEAST:
        return Opening(hands, 0.0, starts, max(shut, starts))
    seal_h = of.rest_h * area / of.area_m2
    stop = floor((shut - seal_h / hands) * QUARTERS) / QUARTERS
    return Opening(hands, area, stop, shut)


def rounded(area: float) -> float:
    """Round an area down, as it is told on the roof.

    Parameters
    ----------
    area : float
        Area [m2].

    Returns
    -------
    float
        Whole square metres, or halves of a small area; never below nought [m2].

    Examples
    --------
    >>> rounded(9.9), rounded(3.8), rounded(-1.0)
    (9.0, 3.5, 0.0)
    """
    if area >= COARSE:
        return float(floor(area + 1e-9))
    return max(0.0, floor(area * 2 + 1e-9) / 2)


def reach(covers: Iterable[tuple[float, float]]) -> float:
    """Give the open roof that covers reach over, with their edge all round.

    Parameters
    ----------
    covers : iterable of (length, width)
        Covers that lie on the roof [m].

    Returns
    -------
    float
        Area [m2].

    Examples
    --------
    >>> reach([(6.5, 5.6), (2.9, 9.0)])
    9.1
    """
    edge = 2 * float(take_off_practice.COVER_BEYOND)
    return sum(max(0.0, a - edge) * max(0.0, b - edge) for a, b in covers)

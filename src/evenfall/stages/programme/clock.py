"""Clock hours of a day: work done through the hours that the weather leaves."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from evenfall.model.gated import Gates, Permit
from evenfall.model.programmed import Task

NEAR = 1e-9  # h; less is rounding
Hours = tuple[tuple[float, float], ...]
ALL_DAY: Hours = ((0.0, 24.0),)


class Forecast:
    """The hours of each day that the weather leaves for each kind of gates.

    Parameters
    ----------
    permits : tuple of Permit
        What is forecast; all else is taken as fit [-].
    """

    def __init__(self, permits: tuple[Permit, ...]) -> None:
        self._hours = {(p.on, p.gates): p.hours for p in permits}

    def hours(self, on: date, gates: Gates) -> Hours:
        """Give the hours of a day that are fit.

        Parameters
        ----------
        on : date
            The day [-].
        gates : Gates
            What the work asks for [-].

        Returns
        -------
        tuple of (float, float)
            From, to, by the clock [h].
        """
        return self._hours.get((on, gates), ALL_DAY)

    def fit(self, task: Task, on: date) -> Hours:
        """Give the hours of a day that are fit for a piece of work.

        Parameters
        ----------
        task : Task
            The work [-].
        on : date
            The day [-].

        Returns
        -------
        tuple of (float, float)
            From, to, by the clock [h].
        """
        return self.hours(on, task.gates) if self._hours and task.hours.value else ALL_DAY


def ends(start: float, hours: float, fit: Hours) -> float | None:
    """Find when work ends that may be broken off where the weather stops it.

    Parameters
    ----------
    start, hours : float
        When it may begin, and how long it takes by the clock [h].
    fit : tuple of (float, float)
        Hours that are fit for it [h].

    Returns
    -------
    float or None
        When it ends; None if the day has not hours enough [h].

    Examples
    --------
    >>> ends(8.0, 3.0, ((7.0, 10.0), (12.0, 17.0)))
    13.0
    >>> ends(8.0, 9.0, ((7.0, 10.0), (12.0, 17.0))) is None
    True
    """
    for a, b in fit:
        a = max(a, start)
        if b - a >= hours - NEAR:
            return a + hours
        hours -= max(0.0, b - a)
    return None


def chained(start: float, work: Iterable[tuple[float, Hours]]) -> float | None:
    """Find when pieces of work end that follow one another.

    Parameters
    ----------
    start : float
        When the first may begin [h].
    work : iterable of (hours, fit)
        How long each takes, and the hours that are fit for it [h].

    Returns
    -------
    float or None
        When the last ends; None if the day has not hours enough [h].

    Examples
    --------
    >>> chained(8.0, ((1.5, ALL_DAY), (1.0, ((10.0, 16.0),))))
    11.0
    """
    at: float | None = start
    for hours, fit in work:
        at = ends(at, hours, fit) if at is not None else None
    return at


def dry_through(start: float, end: float, fit: Hours) -> bool:
    """Tell whether one fit stretch reaches from a beginning to an end.

    Parameters
    ----------
    start, end : float
        From, to [h].
    fit : tuple of (float, float)
        Hours that are fit [h].

    Returns
    -------
    bool
        Whether it does [-].

    Examples
    --------
    >>> dry_through(8.0, 15.0, ((7.0, 13.0), (14.0, 20.0)))
    False
    """
    return any(a <= start + NEAR and b >= end - NEAR for a, b in fit)

"""Follow a roof through the hours, in steps as long as the water lets them be."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from evenfall.calc.physics.transient.climate import Hours
from evenfall.calc.physics.transient.materials import Array
from evenfall.calc.physics.transient.section import Section, starts
from evenfall.calc.physics.transient.steps import State
from evenfall.errors import InvalidInput

HOUR = 3600
"""Seconds."""

WEEK = 7 * 24
"""Longest step in hours: a year is still fifty points."""

GROW = 1.5
"""A step grows by no more than this: the change of the last one foretells that of the next."""


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """What was watched, at the end of every step.

    Parameters
    ----------
    days : array
        Since the start, 0 first [d].
    values : array
        A row for each time, a column for each start [any].
    """

    days: Array
    values: Array

    def first_below(self, limit: float) -> tuple[float | None, ...]:
        """Give the day on which each start is first at or below a limit.

        Parameters
        ----------
        limit : float
            In the unit of the values [any].

        Returns
        -------
        tuple
            Days, None where it never comes [d].
        """
        return tuple(self._below(column, limit) for column in self.values.T)

    def _below(self, column: Array, limit: float) -> float | None:
        under = np.flatnonzero(column <= limit)
        if not under.size:
            return None
        k = int(under[0])
        if k == 0:
            return 0.0
        share = (column[k - 1] - limit) / (column[k - 1] - column[k])
        return float(self.days[k - 1] + share * (self.days[k] - self.days[k - 1]))

    def at(self, day: float) -> tuple[float, ...]:
        """Read the values at a day between the steps.

        Parameters
        ----------
        day : float
            Since the start [d].

        Returns
        -------
        tuple of float
            One for each start [any].
        """
        return tuple(float(np.interp(day, self.days, column)) for column in self.values.T)


def follow(
    state: State,
    hours: Hours,
    start: int,
    until: int,
    watch: Callable[[State], Array],
    step: float,
    longest: int = WEEK,
    enough: Callable[[float, Array], bool] | None = None,
) -> Course:
    """Go on hour by hour or in longer steps, and write down what is watched.

    Parameters
    ----------
    state : State
        Where it starts from; it is changed [-].
    hours : Hours
        The air [-].
    start, until : int
        First hour of the year, and how many hours from there at most [h].
    watch : callable
        Values of a state, one for each start [any].
    step : float
        How far a watched value may move in a step before steps get shorter [any].
    longest : int
        Longest step; 1 goes by the hour [h].
    enough : callable, optional
        Told the day and the values, says whether to end [-].

    Returns
    -------
    Course
        What was watched [any].
    """
    if until < 1 or longest < 1 or not step > 0:
        raise InvalidInput(f"{until} hours in steps of {longest}", "1 or more", where="drying")
    values, days = [watch(state)], [0.0]
    hour, dt = 0, 1
    while hour < until and not (enough and enough(days[-1], values[-1])):
        dt = min(dt, until - hour)
        state.step(dt * HOUR, hours.mean(start + hour, start + hour + dt))
        hour += dt
        values.append(watch(state))
        days.append(hour / 24)
        moved = float(np.max(np.abs(values[-1] - values[-2])))
        wanted = dt * min(GROW, step / max(moved, step / (2 * GROW)))
        dt = min(longest, max(1, int(wanted), dt + 1 if wanted > dt else 1))
    return Course(np.array(days), np.array(values))


def dried(
    section: Section,
    slab: str,
    waters: Sequence[Array],
    theta: float,
    hours: Hours,
    start: int,
    until: int,
    limit: float,
    at_least: float = 0.0,
    step: float = 1.0,
    longest: int = WEEK,
) -> Course:
    """Watch the wettest part of one slab from several starts until all are below a limit.

    Parameters
    ----------
    section : Section
        The roof [-].
    slab : str
        Name of the slab that is watched [-].
    waters : sequence of array
        Water of each cell at each start [kg/m3].
    theta : float
        Temperature of all cells at the start [C].
    hours : Hours
        The air [-].
    start, until : int
        First hour of the year, and how many hours from there at most [h].
    limit : float
        Water content to come below [kg/m3].
    at_least : float
        Days to go on for in any case [d].
    step : float
        How far the wettest part may move in a step before steps get shorter [kg/m3].
    longest : int
        Longest step; 1 goes by the hour [h].

    Returns
    -------
    Course
        Water content of the wettest cell of the slab [kg/m3].
    """
    w = starts(section, waters)
    state, cells = State(section, np.full(w.shape, theta), w), section.cells_of(slab)

    def enough(day: float, values: Array) -> bool:
        return day >= at_least and bool(np.all(values <= limit))

    def wettest(now: State) -> Array:
        found: Array = now.w[:, cells].max(axis=1)
        return found

    return follow(state, hours, start, until, wettest, step, longest, enough)

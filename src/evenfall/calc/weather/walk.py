"""A plan walked through many years of weather: each morning the foreman goes, or waits.

A plan is a row of days; each asks something of the weather. The foreman sees a forecast that is
right most of the time: he goes where it lets him, and is sometimes caught.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from evenfall.calc.weather.years import HOURS, Years
from evenfall.standards import weather_practice as practice

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Need:
    """What one day of a plan asks of the weather, hours by the clock."""

    first: int  # hour at which the dry weather must begin; ``first`` = ``shut`` asks for none
    shut: int  # hour by which the roof is shut, or the dry work done
    wet_most: int = 0  # wet hours that such work stands
    after: int = 0  # hours of dry weather told beyond that, to be safe
    opens: bool = False  # part of the roof lies open meanwhile
    bond_h: int = 0  # hours in which something must be bonded
    least_c: float = -np.inf
    dew_k: float = 0.0
    warm_night: bool = False  # nothing below ``least_c`` until the next morning
    wind_m_s: float = np.inf


@dataclass(frozen=True, slots=True)
class Looks:
    """One kind of day through all years: what the foreman is told, and what comes."""

    may: Bools  # air, dew and wind let it be done
    wet: Bools  # rain in the hours that he asks about
    caught: Bools  # rain while the roof is open or the work is done


def looks(years: Years, need: Need) -> Looks:
    """Look at every day of every year for one kind of work.

    Parameters
    ----------
    years : Years
        The hours [-].
    need : Need
        What the work asks for [-].

    Returns
    -------
    Looks
        One entry to the day [-].
    """
    count = years.rain.shape[1]
    may = np.ones(count, dtype=bool)
    if np.isfinite(need.wind_m_s):
        may &= _part(years.wind, need.first, need.shut).max(axis=0) <= need.wind_m_s
    if need.bond_h:
        air, dew = _part(years.air, need.first, need.shut), _part(years.dew, need.first, need.shut)
        good = (air >= need.least_c) & (air - dew >= need.dew_k)
        may &= good.sum(axis=0, dtype=np.int8) >= need.bond_h
    if need.warm_night:
        night = years.air[need.shut :].min(axis=0)
        dawn = np.roll(years.air[: need.shut].min(axis=0), -1)
        may &= np.minimum(night, dawn) >= need.least_c
    if need.first >= need.shut:
        none = np.zeros(count, dtype=bool)
        return Looks(may, none, none)
    caught = _wet(years, need.first, need.shut, need.wet_most)
    more = _wet(years, need.shut, need.shut + need.after, 0) if need.after else False
    return Looks(may, caught | more, caught)


def _part(values: NDArray[np.float32], first: int, last: int) -> NDArray[np.float32]:
    """Take some hours of a day; one value a day stands for all."""
    return values if values.shape[0] == 1 else values[first : max(last, first + 1)]


def _wet(years: Years, first: int, last: int, most: int) -> Bools:
    part = years.rain[first : min(last, HOURS)]
    if not most:
        return np.asarray(part.max(axis=0) >= practice.RAIN_SHOWN)
    return np.asarray((part >= practice.RAIN_SHOWN).sum(axis=0, dtype=np.int8) > most)


def told(seen: Looks, u: Floats, right: float, alarm: float) -> Bools:
    """Say on which mornings the foreman goes.

    Parameters
    ----------
    seen : Looks
        One kind of day through all years [-].
    u : array
        Even chances, one to the day [-].
    right, alarm : float
        Chance that rain is told where it comes, and where it does not [-].

    Returns
    -------
    array of bool
        Whether he goes [-].

    Examples
    --------
    >>> dry, wet = np.array([False]), np.array([True])
    >>> told(Looks(wet, wet, wet), np.array([0.95]), 0.9, 0.1)
    array([ True])
    """
    return seen.may & (u >= np.where(seen.wet, right, alarm))


@dataclass(frozen=True, slots=True)
class Walked:
    """A plan walked: arrays of starts by years."""

    days: Ints  # calendar days from the start to the end, the last included; 0: not finished
    evenings: Ints  # evenings on which part of the roof had been opened
    wet: Ints  # evenings of those on which rain fell into it
    lost: Ints  # working days on which the plan did not move

    @property
    def finished(self) -> Bools:
        """Whether the plan came to its end."""
        return self.days > 0


def walk(
    plan: tuple[int, ...],
    go: Bools,
    caught: Bools,
    opens: tuple[bool, ...],
    works: Bools,
    starts: Ints,
    years: int,
) -> Walked:
    """Walk a plan from each start through each year.

    Parameters
    ----------
    plan : tuple of int
        Kind of each day of the plan [-].
    go : array of bool
        Whether the foreman goes, kinds by number of days [-].
    caught : array of bool
        Whether rain comes into the work, of the same shape [-].
    opens : tuple of bool
        Whether a kind of day opens the roof [-].
    works : array of bool
        Working days, starts by days after the start: how long it is looked [-].
    starts : array of int
        Day of the year of each start, from nought [-].
    years : int
        How many [-].

    Returns
    -------
    Walked
        Days, evenings, days lost [-].
    """
    total = go.shape[1]
    row = np.array([*plan, 0], dtype=np.int64) * total
    open_kind = np.array([opens[k] for k in (*plan, 0)])
    last = len(plan)
    first = starts[:, None] + np.arange(years) * (total // years)
    at, done = np.zeros_like(first), np.zeros_like(first)
    evenings, wet, lost = (np.zeros_like(first) for _ in range(3))
    flat_go, flat_caught = go.reshape(-1), caught.reshape(-1)
    for day in range(works.shape[1]):
        busy = (at < last) & works[:, day][:, None]
        place = row[at] + (first + day) % total
        goes = busy & flat_go[place]
        hit = goes & flat_caught[place]
        opened = goes & open_kind[at]
        evenings += opened
        wet += opened & hit
        moved = goes & ~hit
        lost += busy & ~moved
        at += moved
        done[moved & (at == last)] = day + 1
        if (at == last).all():
            break
    return Walked(done, evenings, wet, lost)


def dry(years: Years) -> Years:
    """Take the rain away: the same years under a covered scaffold.

    Parameters
    ----------
    years : Years
        The hours [-].

    Returns
    -------
    Years
        The same without rain [-].
    """
    return replace(years, rain=np.zeros_like(years.rain))

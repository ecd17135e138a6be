"""A plan walked through many years of weather: each morning the foreman goes, or waits.

A plan is a row of days; each asks something of the weather. The foreman sees a forecast that is
right most of the time: he goes where it lets him, and is sometimes caught.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

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


def looks(years: Years, needs: tuple[Need, ...]) -> tuple[Looks, ...]:
    """Look at every day of every year for each kind of work.

    Parameters
    ----------
    years : Years
        The hours [-].
    needs : tuple of Need
        What each kind asks for [-].

    Returns
    -------
    tuple of Looks
        One to a kind, with one entry to the day [-].
    """
    seen = _Seen(years, {})
    return tuple(_look(seen, need) for need in needs)


@dataclass(frozen=True, slots=True)
class _Seen:
    """Hours reduced to days; each reduction is made once for all kinds that ask for it."""

    years: Years
    kept: dict[tuple[object, ...], NDArray[np.generic]]

    def _keep(self, key: tuple[object, ...], make: Callable[[], Any]) -> Any:
        if key not in self.kept:
            self.kept[key] = make()
        return self.kept[key]

    def windy(self, first: int, last: int, most: float) -> Any:
        """Days with more wind than that in some hours."""
        return self._keep(
            ("wind", first, last, most),
            lambda: _part(self.years.wind, first, last).max(axis=0) > most,
        )

    def bond_hours(self, need: Need) -> Any:
        """Hours of each day in which something can be bonded."""
        first, last = need.first, need.shut

        def make() -> Any:
            air, dew = _part(self.years.air, first, last), _part(self.years.dew, first, last)
            enough = np.maximum(dew + np.float32(need.dew_k), np.float32(need.least_c))
            return (air >= enough).sum(axis=0, dtype=np.int8)

        return self._keep(("bond", first, last, need.least_c, need.dew_k), make)

    def night(self, shut: int) -> Any:
        """Least air from an hour until the same hour of the next day."""

        def make() -> Any:
            dawn = np.roll(self.years.air[:shut].min(axis=0), -1)
            return np.minimum(self.years.air[shut:].min(axis=0), dawn)

        return self._keep(("night", shut), make)

    def wet(self, first: int, last: int, most: int) -> Any:
        """Days with more wet hours than that between two hours."""
        part = self.years.rain[first : min(last, HOURS)]

        def make() -> Any:
            if not most:
                return part.max(axis=0) >= practice.RAIN_SHOWN
            return (part >= practice.RAIN_SHOWN).sum(axis=0, dtype=np.int8) > most

        return self._keep(("wet", first, last, most), make)


def _look(seen: _Seen, need: Need) -> Looks:
    count = seen.years.rain.shape[1]
    may = np.ones(count, dtype=bool)
    if np.isfinite(need.wind_m_s):
        may &= ~seen.windy(need.first, need.shut, need.wind_m_s)
    if need.bond_h:
        may &= seen.bond_hours(need) >= need.bond_h
    if need.warm_night:
        may &= seen.night(need.shut) >= need.least_c
    if need.first >= need.shut:
        none = np.zeros(count, dtype=bool)
        return Looks(may, none, none)
    caught = seen.wet(need.first, need.shut, need.wet_most)
    more = seen.wet(need.shut, need.shut + need.after, 0) if need.after else False
    return Looks(may, caught | more, caught)


def _part(values: NDArray[np.float32], first: int, last: int) -> NDArray[np.float32]:
    """Take some hours of a day; one value a day stands for all."""
    return values if values.shape[0] == 1 else values[first : max(last, first + 1)]


def told(seen: tuple[Looks, ...], u: Floats, right: float, alarm: float) -> Bools:
    """Say on which mornings the foreman goes.

    Parameters
    ----------
    seen : tuple of Looks
        Each kind of day through all years [-].
    u : array
        Even chances, one to the day [-].
    right, alarm : float
        Chance that rain is told where it comes, and where it does not; the first is more [-].

    Returns
    -------
    array of bool
        Whether he goes: kinds by days [-].

    Examples
    --------
    >>> dry, wet = np.array([False]), np.array([True])
    >>> told((Looks(wet, wet, wet), Looks(wet, dry, dry)), np.array([0.5]), 0.9, 0.1)
    array([[False],
           [ True]])
    """
    wrong, quiet = u >= right, u >= alarm  # told dry though rain comes; told dry as it is
    return np.stack([s.may & quiet & (wrong | ~s.wet) for s in seen])


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

"""Years of weather made by chance: wet and dry days by a chain, amounts, hours, warmth, wind.

Day follows day: a chain of first order says whether it rains, a gamma how much, one spell when.
The years stand side by side and end to end: day ``n`` of year ``y`` is number ``y * 365 + n``.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import gammaincinv, ndtri

from evenfall.calc.weather.chance import uniforms
from evenfall.standards import programme_practice as programme
from evenfall.standards import weather_practice as practice

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
DAYS = 365  # of a year; the leap day is left out
HOURS = 24
MONTH_ENDS = np.cumsum((31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31))  # days, no leap day
MIDDLES = np.array([15, 46, 74, 105, 135, 166, 196, 227, 258, 288, 319, 349])  # of the months
_STREAMS = ("wet", "amount", "spell", "warmth", "wind", "foreseen")
_WET, _AMOUNT, _SPELL, _WARMTH, _WIND, FORESEEN = range(len(_STREAMS))
"""Streams of chance, one to each thing."""


@dataclass(frozen=True, slots=True)
class Climate:
    """What the days of a place are like, month by month, January first."""

    rain_days: tuple[float, ...]  # share of days with rain of 0.2 mm or more
    drizzle: float  # share of those with less than 1 mm
    wet_mm: tuple[float, ...]  # mean rain of a day of 1 mm or more
    air_c: tuple[float, ...]  # mean


@dataclass(frozen=True, slots=True)
class Years:
    """Hours of many years: arrays of 24 (or of one value a day) by number of days, by the clock."""

    rain: NDArray[np.float32]  # mm
    air: NDArray[np.float32]  # C
    dew: NDArray[np.float32]  # C
    wind: NDArray[np.float32]  # m/s
    distinct: int  # years that are really different

    @property
    def years(self) -> int:
        """Years, the repeated ones counted too."""
        return int(self.rain.shape[1]) // DAYS


def climate(
    wet_days: tuple[float, ...], rain: tuple[float, ...], air: tuple[float, ...]
) -> Climate:
    """Fit the daily model to monthly numbers.

    Parameters
    ----------
    wet_days : tuple of float
        Days of 1 mm or more in each month [d].
    rain : tuple of float
        Rain of each month [mm].
    air : tuple of float
        Mean temperature of each month [C].

    Returns
    -------
    Climate
        Shares of days and amounts [-].

    Examples
    --------
    >>> fitted = climate((11.0,) * 12, (55.0,) * 12, (10.0,) * 12)
    >>> f"{fitted.rain_days[0]:.3f} {fitted.wet_mm[0]:.2f}"
    '0.479 4.79'
    """
    days = np.diff(MONTH_ENDS, prepend=0)
    more = 1 + float(practice.DRIZZLE_DAYS)
    least = float(practice.DRIZZLE_LEAST)
    small = float(practice.DRIZZLE_DAYS) * (least + programme.WET_DAY) / 2
    return Climate(
        tuple(float(min(w * more / d, 1.0)) for w, d in zip(wet_days, days, strict=True)),
        float(practice.DRIZZLE_DAYS) / more,
        tuple(
            max(mm / w - small, float(programme.WET_DAY))
            for mm, w in zip(rain, wet_days, strict=True)
        ),
        air,
    )


def by_day(monthly: tuple[float, ...]) -> Floats:
    """Give each day of a year the number of its month.

    Parameters
    ----------
    monthly : tuple of float
        Twelve numbers [any].

    Returns
    -------
    array
        365 numbers [any].

    Examples
    --------
    >>> [float(v) for v in by_day(tuple(range(12)))[[30, 31, 364]]]
    [0.0, 1.0, 11.0]
    """
    months = np.searchsorted(MONTH_ENDS, np.arange(DAYS), side="right")
    return np.asarray(monthly, dtype=np.float64)[months]


def chain(share: Floats, u: Floats) -> Bools:
    """Run a chain of wet and dry days whose long-run share of wet days is given.

    Parameters
    ----------
    share : array
        Share of wet days on each day of the year [-].
    u : array
        Even chances, years by days [-].

    Returns
    -------
    array of bool
        Wet days, years by days [-].

    Examples
    --------
    >>> wet = chain(np.full(365, 0.4), uniforms(3, 0, (200, 365)))
    >>> abs(wet.mean() - 0.4) < 0.01
    np.True_

    References
    ----------
    Geng, Penning de Vries and Supit (1986), from memory: p(wet after dry) = 0.75 f and p(wet
    after wet) = 0.25 + 0.75 f, f the share of wet days, which the chain keeps.
    """
    after_dry = practice.WET_AFTER_DRY * share
    wet = np.empty(u.shape, dtype=bool)
    wet[:, 0] = u[:, 0] < share[0]
    for n in range(1, u.shape[1]):
        wet[:, n] = u[:, n] < after_dry[n] + practice.WET_AFTER_WET * wet[:, n - 1]
    return wet


def amounts(of: Climate, wet: Bools, u: Floats) -> Floats:
    """Give each wet day its rain: drizzle, or a millimetre and a gamma above it.

    Parameters
    ----------
    of : Climate
        Mean amounts and the share of drizzle [-].
    wet : array of bool
        Wet days, years by days [-].
    u : array
        Even chances of the same shape [-].

    Returns
    -------
    array
        Rain of each day [mm].
    """
    mean = by_day(of.wet_mm)
    least = float(practice.DRIZZLE_LEAST)
    one = float(programme.WET_DAY)
    scale = np.maximum(practice.GAMMA_REST + practice.GAMMA_SLOPE * mean, practice.GAMMA_LEAST)
    shape = np.maximum(mean - one, 1e-3) / scale
    years, days = np.nonzero(wet)
    chance = u[years, days]
    light = chance < of.drizzle
    share = np.where(light, chance / of.drizzle, (chance - of.drizzle) / (1 - of.drizzle))
    heavy = ~light
    rain = least + (one - least) * share
    rain[heavy] = one + scale[days[heavy]] * gammaincinv(shape[days[heavy]], share[heavy])
    found = np.zeros(wet.shape)
    found[years, days] = rain
    return found


def hours_of_rain(daily: Floats, u: Floats) -> NDArray[np.float32]:
    """Let the rain of each day fall in one spell, which may run past midnight.

    Parameters
    ----------
    daily : array
        Rain of each day, years by days [mm].
    u : array
        Even chances of the same shape [-].

    Returns
    -------
    array
        Rain of each hour, 24 by number of days [mm].
    """
    years, days = np.nonzero(daily)
    amount = daily[years, days]
    first = np.empty(len(days), dtype=np.intp)
    for n, cumulated in enumerate(_starts()):
        here = np.searchsorted(MONTH_ENDS, days, side="right") == n
        first[here] = np.searchsorted(cumulated, u[years[here], days[here]])
    long = np.clip(np.ceil(amount / practice.RAIN_RATE), 1, HOURS).astype(np.intp)
    total = daily.size
    rain = np.zeros((HOURS, total), dtype=np.float32)
    at = years * daily.shape[1] + days
    for later in range(HOURS):
        falls = long > later
        hour = first[falls] + later
        day = (at[falls] + hour // HOURS) % total
        np.add.at(rain, (hour % HOURS, day), (amount[falls] / long[falls]).astype(np.float32))
    return rain


def _starts() -> Floats:
    """Cumulated chance of the hour at which a spell begins, month by month."""
    hours, months = np.arange(HOURS), 1 + np.arange(len(MIDDLES))
    peak = np.cos(2 * np.pi * (hours - practice.AFTERNOON_AT) / HOURS)
    season = (1 + np.cos(2 * np.pi * (months - practice.WARMEST_MONTH) / len(months))) / 2
    weights = 1 + practice.AFTERNOON * season[:, None] * peak
    return np.asarray(np.cumsum(weights, axis=1) / weights.sum(axis=1, keepdims=True))


def made(of: Climate, years: int, seed: int) -> Years:
    """Make years of weather.

    Parameters
    ----------
    of : Climate
        What the days are like [-].
    years : int
        How many [-].
    seed : int
        Which ones; the same seed gives the same years [-].

    Returns
    -------
    Years
        Hours of rain and air, days of dew point and wind [-].
    """
    shape = (years, DAYS)
    wet = chain(by_day(of.rain_days), uniforms(seed, _WET, shape))
    rain = amounts(of, wet, uniforms(seed, _AMOUNT, shape))
    mean = _warmth(of.air_c, ndtri(uniforms(seed, _WARMTH, shape)))
    swing = _swing() * np.where(wet, practice.SWING_WET, 1.0)
    wind = practice.WIND_MEAN * np.sqrt(-np.log(uniforms(seed, _WIND, shape)) * 4 / np.pi)
    return clothed(rain, mean, swing, wind, seed, years)


def clothed(
    rain: Floats, mean: Floats, swing: Floats, wind: Floats, seed: int, distinct: int
) -> Years:
    """Give days their hours: rain in one spell, warmth as a wave, the dew point of the day.

    Parameters
    ----------
    rain : array
        Rain of each day, years by days [mm].
    mean, swing : array
        Mean temperature of each day, and half its swing [K].
    wind : array
        Mean wind of each day [m/s].
    seed : int
        Which chances, for the hours of rain [-].
    distinct : int
        Years that are really different [-].

    Returns
    -------
    Years
        Hours of rain and air, days of dew point and wind [-].
    """
    falls = hours_of_rain(rain, uniforms(seed, _SPELL, rain.shape))
    turn = np.cos(2 * np.pi * (np.arange(HOURS) - practice.WARMEST_HOUR) / HOURS)
    air = (mean.reshape(-1) + swing.reshape(-1) * turn[:, None]).astype(np.float32)
    dew = (mean - swing - np.where(rain > 0, 0.0, practice.DRY_DAY_DEW)).astype(np.float32)
    blows = wind.astype(np.float32).reshape(1, -1)
    return Years(falls, air, dew.reshape(1, -1), blows, distinct)


def _warmth(air_c: tuple[float, ...], normal: Floats) -> Floats:
    """Mean temperature of each day: the season's, and a departure that fades from day to day."""
    season = np.interp(np.arange(DAYS), MIDDLES, air_c, period=DAYS)
    memory, spread = float(practice.DAY_MEMORY), float(practice.DAY_SPREAD)
    off = spread * normal
    for n in range(1, DAYS):
        off[:, n] = memory * off[:, n - 1] + np.sqrt(1 - memory**2) * off[:, n]
    return np.asarray(season + off)


def _swing() -> Floats:
    """Half the daily swing of a dry day, through the year."""
    low, high = float(practice.SWING_WINTER), float(practice.SWING_SUMMER)
    middle = MIDDLES[int(practice.WARMEST_MONTH) - 1]
    season = (1 + np.cos(2 * np.pi * (np.arange(DAYS) - middle) / DAYS)) / 2
    return np.asarray(low + (high - low) * season)

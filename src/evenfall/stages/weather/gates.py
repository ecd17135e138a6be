"""Gates: in which hours the weather lets a piece of work be done, and the least safe figure.

What a forecast does not tell is taken on the unsafe side: no cloud told is a clear sky, no gusts
told are gusts in the ratio of the limits, hours past its end pass no gate that looks ahead.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import groupby
from typing import Literal

import numpy as np

from evenfall.model.forecast import Forecast
from evenfall.model.gated import Gates, Permit
from evenfall.stages.programme.gates import ALL
from evenfall.stages.weather.sky import (
    Bools,
    Floats,
    Sky,
    at_clock,
    clock_date,
    clock_hour,
    light_day,
    look,
)
from evenfall.standards import programme_practice as practice
from evenfall.standards import weather_practice as weather

What = Literal["rain", "chance", "wind", "gusts", "dew", "cold", "night", "frost"]
FALLING_TO = 6  # h; warm air that falls must stay warm enough for so long: until the bond holds
SAYS: dict[What, tuple[str, str]] = {
    "rain": ("rain in an hour", "mm"),
    "chance": ("chance of rain in an hour", "%"),
    "wind": ("mean wind", "m/s"),
    "gusts": ("gusts", "m/s"),
    "dew": ("roof above the dew point", "K"),
    "cold": ("air", "C"),
    "night": ("air, hours ahead", "C"),
    "frost": ("roof, hours ahead", "C"),
}
"""What a figure is, and its unit."""


@dataclass(frozen=True, slots=True)
class Worst:
    """The least safe figure of some hours, beside its limit."""

    what: What
    value: float
    limit: float
    at: datetime
    passes: bool

    @property
    def says(self) -> str:
        """What it is a figure of."""
        return SAYS[self.what][0]

    @property
    def unit(self) -> str:
        """Its unit."""
        return SAYS[self.what][1]


def asks(gates: Gates) -> tuple[tuple[What, float], ...]:
    """Take gates apart into single figures with their limits.

    Parameters
    ----------
    gates : Gates
        What a piece of work asks for [-].

    Returns
    -------
    tuple of (what, limit)
        One entry to a figure [any].

    Examples
    --------
    >>> [what for what, _ in asks(Gates(dry=True, dew_k=3.0))]
    ['rain', 'chance', 'dew']
    """
    found: list[tuple[What, float]] = []
    if gates.dry:
        found += [("rain", float(weather.RAIN_SHOWN)), ("chance", float(practice.RAIN_CHANCE))]
    if gates.wind_m_s is not None:
        gusts = gates.wind_m_s * weather.GUST_STOP / practice.WIND_STOP
        found += [("wind", gates.wind_m_s), ("gusts", gusts)]
    if gates.dew_k:
        found.append(("dew", gates.dew_k))
    if gates.least_c is not None:
        found.append(("cold", gates.least_c))
        if gates.then_h:
            found += [("night", gates.least_c), ("frost", 0.0)]
    return tuple(found)


def figures(sky: Sky, what: What, then_h: float = 0.0) -> Floats:
    """Give a figure hour by hour.

    Parameters
    ----------
    sky : Sky
        The hours [-].
    what : str
        Which figure [-].
    then_h : float
        How far it looks ahead, where it does [h].

    Returns
    -------
    array
        One to the hour [any].
    """
    ahead = int(then_h) + 1
    plain: dict[What, Floats] = {
        "rain": sky.rain, "chance": sky.chance, "wind": sky.wind, "gusts": sky.gust,
        "dew": sky.surface - sky.dew, "cold": np.minimum(sky.air, sky.surface),
    }  # fmt: skip
    if what in plain:
        return plain[what]
    return least_ahead(sky.air if what == "night" else sky.surface, ahead)


def passes(sky: Sky, gates: Gates) -> Bools:
    """Find the hours in which some work may be done.

    Parameters
    ----------
    sky : Sky
        The hours [-].
    gates : Gates
        What the work asks for [-].

    Returns
    -------
    array of bool
        One to the hour [-].
    """
    may: Bools = np.ones(len(sky.air), dtype=bool)
    for what, limit in asks(gates):
        may &= _passes(sky, what, limit, gates.then_h)
    return may


def _passes(sky: Sky, what: What, limit: float, then_h: float) -> Bools:
    values = figures(sky, what, then_h)
    if what == "rain":
        return values < limit
    if what in ("chance", "wind", "gusts"):
        return values <= limit
    if what == "frost":
        return values > limit
    if what == "cold":  # 5 degrees and rising: or warm enough to fall a while
        rises = np.append(sky.air[1:] >= sky.air[:-1], False)
        return (values >= limit) & (rises | (least_ahead(sky.air, FALLING_TO) >= limit))
    return values >= limit


def least_ahead(values: Floats, hours: int) -> Floats:
    """Give the least of each hour and those that follow; past the end it is as cold as can be.

    Parameters
    ----------
    values : array
        One to the hour [any].
    hours : int
        How many, the hour itself among them [-].

    Returns
    -------
    array
        Least values; minus infinity where the hours run out [any].

    Examples
    --------
    >>> [float(v) for v in least_ahead(np.array([3.0, 1.0, 2.0, 4.0]), 2)]
    [1.0, 1.0, 2.0, -inf]
    """
    padded = np.append(values, np.full(hours - 1, -np.inf))
    least: Floats = np.lib.stride_tricks.sliding_window_view(padded, hours).min(axis=1)
    return least


def worst(sky: Sky, gates: Gates, span: slice) -> tuple[Worst, ...]:
    """Find, for each figure that some work asks for, the hour that is least safe.

    Parameters
    ----------
    sky : Sky
        The hours [-].
    gates : Gates
        What the work asks for [-].
    span : slice
        Which hours; at least one [-].

    Returns
    -------
    tuple of Worst
        Each figure beside its limit, those that fail first [any].
    """
    found = []
    for what, limit in asks(gates):
        part = figures(sky, what, gates.then_h)[span]
        most = what in ("rain", "chance", "wind", "gusts")
        n = int(np.argmax(part) if most else np.argmin(part))
        at = sky.forecast.hours[(span.start or 0) + n].at
        good = bool(_passes(sky, what, limit, gates.then_h)[span].all())
        found.append(Worst(what, float(part[n]), limit, at, good))
    return tuple(sorted(found, key=lambda w: w.passes))


def permits(sky: Sky, wanted: Iterable[Gates], days: Iterable[date]) -> tuple[Permit, ...]:
    """Tell for each day and each kind of work in which hours the weather lets it be done.

    Only days are told whose working hours are all in the forecast; the others are left open, for
    the rain climate.

    Parameters
    ----------
    sky : Sky
        The hours [-].
    wanted : iterable of Gates
        Kinds of work by what they ask for [-].
    days : iterable of date
        Which days [-].

    Returns
    -------
    tuple of Permit
        Hours by the clock, for each day and kind [h].
    """
    told = [d for d in days if sky.covers(*light_day(d))]
    return tuple(
        Permit(day, gates, tuple(_stretches(sky, may, day)))
        for gates, may in ((g, passes(sky, g)) for g in dict.fromkeys(wanted))
        for day in told
    )


def permits_of(forecast: Forecast | None, latitude: float, longitude: float) -> tuple[Permit, ...]:
    """Tell for every day of a forecast in which hours each kind of work can be done.

    Parameters
    ----------
    forecast : Forecast, optional
        The hours; without any nothing is told [-].
    latitude, longitude : float
        Place [deg].

    Returns
    -------
    tuple of Permit
        Hours by the clock, for each day and kind of gates [h].
    """
    if forecast is None:
        return ()
    first, last = (clock_date(h.at) for h in (forecast.hours[0], forecast.hours[-1]))
    days = (first + timedelta(days=n) for n in range((last - first).days + 1))
    return permits(look(forecast, latitude, longitude), ALL, days)


def _stretches(sky: Sky, may: Bools, day: date) -> Iterator[tuple[float, float]]:
    """Join the hours of a day in which work may be done into stretches, by the clock."""
    start, end = at_clock(day, 0), at_clock(day, 24)
    hours = [(h.at, bool(may[n])) for n, h in enumerate(sky.forecast.hours) if start <= h.at < end]
    for good, run in groupby(hours, key=lambda pair: pair[1]):
        times = [at for at, _ in run]
        if good:
            first = clock_hour(times[0])
            yield first, first + len(times)

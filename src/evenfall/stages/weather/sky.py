"""A forecast as arrays: dew points and cold surfaces hour by hour; hours by the clock."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

import numpy as np
from numpy.typing import NDArray

from evenfall.calc.daylight import clock_before_greenwich, daylight
from evenfall.calc.physics.psychrometrics import dew_point
from evenfall.calc.weather.surface import surface
from evenfall.model.forecast import ONE_HOUR, Forecast
from evenfall.stages.weather.reading import clock_at
from evenfall.standards import programme_practice as practice
from evenfall.standards import weather_practice as weather

Bools = NDArray[np.bool_]
Floats = NDArray[np.float64]
DAY_FROM = 6  # clock hour from which a forecast must have a day to speak of it
DAY_TO = 20  # clock hour up to which it must have it


@dataclass(frozen=True, slots=True)
class Sky:
    """A forecast as arrays, one entry to the hour."""

    forecast: Forecast
    air: Floats
    dew: Floats
    surface: Floats
    rain: Floats
    chance: Floats  # nought where it is not told: hours as they were
    wind: Floats
    gust: Floats

    def index(self, at: datetime) -> int:
        """Return the number of the hour that holds an instant; it may lie outside."""
        return (at - self.forecast.hours[0].at) // ONE_HOUR

    def slice(self, start: datetime, end: datetime) -> slice:
        """Hours that overlap a stretch of time."""
        last = -((self.forecast.hours[0].at - end) // ONE_HOUR)
        return slice(max(0, self.index(start)), max(0, last))

    def covers(self, start: datetime, end: datetime) -> bool:
        """Tell whether every hour of a stretch is in the forecast."""
        return self.forecast.hours[0].at <= start and end <= self.forecast.ends


def look(forecast: Forecast, latitude: float, longitude: float) -> Sky:
    """Work out dew points and cold surfaces, hour by hour.

    Parameters
    ----------
    forecast : Forecast
        The hours [-].
    latitude, longitude : float
        Place, for the sun [deg].

    Returns
    -------
    Sky
        Arrays by the hour [C].
    """
    hours = forecast.hours

    def column(pick: Callable[[int], float]) -> Floats:
        return np.array([pick(n) for n in range(len(hours))])

    air = column(lambda n: hours[n].air_c)
    wind = column(lambda n: hours[n].wind_m_s)
    dew = np.asarray(dew_point(air, column(lambda n: hours[n].humidity_percent / 100)))
    cloud = column(lambda n: (hours[n].cloud_percent or 0.0) / 100)
    per_mean = weather.GUST_STOP / practice.WIND_STOP
    gust = column(lambda n: hours[n].wind_m_s * per_mean if (g := hours[n].gust_m_s) is None else g)
    sun = np.array([_sun_counts(h.at, latitude, longitude) for h in hours])
    return Sky(
        forecast, air, dew, surface(air, dew, cloud, wind, sun), column(lambda n: hours[n].rain_mm),
        column(lambda n: hours[n].chance_percent or 0.0), wind, gust,
    )  # fmt: skip


def _sun_counts(at: datetime, latitude: float, longitude: float) -> bool:
    """Tell whether the sun stands well up for the whole of an hour."""
    clock = at + timedelta(hours=clock_at(at))
    rise, dusk = daylight(latitude, longitude, clock.date())
    return bool(rise + weather.SUN_COUNTS <= clock.hour <= dusk - weather.SUN_COUNTS - 1)


def light_day(day: date) -> tuple[datetime, datetime]:
    """Give the hours in which anybody may be on a roof, in Greenwich time.

    Parameters
    ----------
    day : date
        The day [-].

    Returns
    -------
    (datetime, datetime)
        From and to [-].
    """
    return at_clock(day, DAY_FROM), at_clock(day, DAY_TO)


def at_clock(day: date, hour: float) -> datetime:
    """Turn an hour of the clock into Greenwich time.

    Parameters
    ----------
    day : date
        The day [-].
    hour : float
        Hour by the clock [h].

    Returns
    -------
    datetime
        The instant [-].

    Examples
    --------
    >>> f"{at_clock(date(2027, 4, 12), 8.5):%H:%M}"
    '07:30'
    """
    start = datetime.combine(day, time(), UTC)
    return start + timedelta(hours=hour - clock_before_greenwich(day))


def clock_date(at: datetime) -> date:
    """Give the day of an instant, by the clock.

    Parameters
    ----------
    at : datetime
        The instant [-].

    Returns
    -------
    date
        The day [-].

    Examples
    --------
    >>> clock_date(datetime(2027, 6, 1, 23, 30, tzinfo=UTC))
    datetime.date(2027, 6, 2)
    """
    told = at.astimezone(UTC)
    return (told + timedelta(hours=clock_at(told))).date()


def clock_hour(at: datetime) -> float:
    """Turn an instant into the hour by the clock of its day.

    Parameters
    ----------
    at : datetime
        The instant [-].

    Returns
    -------
    float
        Hour by the clock [h].

    Examples
    --------
    >>> clock_hour(datetime(2027, 4, 12, 7, 30, tzinfo=UTC))
    8.5
    """
    told = at.astimezone(UTC) + timedelta(hours=clock_at(at.astimezone(UTC)))
    return told.hour + told.minute / 60 + told.second / 3600

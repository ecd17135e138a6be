"""Years of weather from what there is: hours or days that somebody brought, or the rain climate."""

from __future__ import annotations

from collections import defaultdict
from datetime import timedelta

import numpy as np

from evenfall.calc.physics.psychrometrics import dew_point
from evenfall.calc.weather.years import DAYS, HOURS, Years, climate, clothed, made
from evenfall.errors import InvalidInput
from evenfall.model.forecast import Forecast, Hour
from evenfall.model.job import Site
from evenfall.model.weather import Weather, WeatherDay
from evenfall.stages.weather.reading import clock_at
from evenfall.stages.weather.risk import SEED, Weathered, day_of_year
from evenfall.standards import sap_climate
from evenfall.standards import weather_practice as practice
from evenfall.working import Basis, weakest

MADE = 400  # years that are made where none were brought: a wet evening is known to 1 in 200
WALKED = 300  # years that are walked where a few were brought: repeated, each with other mornings
FEW = 0.98  # share of the days that a year must have to be taken; gaps take the day before


def from_climate(site: Site, years: int = MADE, seed: int = SEED) -> Weathered:
    """Make years of weather from the rain climate of the region.

    Parameters
    ----------
    site : Site
        Region and height [-].
    years : int
        How many [-].
    seed : int
        Which ones [-].

    Returns
    -------
    Weathered
        The years, and where they are from [-].
    """
    rain = practice.rain_climate(site.climate_region)
    air = sap_climate.external_temperatures(site.climate_region, site.altitude_m)
    fitted = climate(rain.wet_days, rain.rain, tuple(map(float, air)))
    says = (
        f"{years} made years like {rain.name} ({rain.source}; a chain of wet and dry days, "
        f"gamma amounts, one spell a wet day; that climate is {rain.basis})"
    )
    return Weathered(made(fitted, years, seed), says, weakest([rain.basis, "planning seed"]))


def from_days(weather: Weather, seed: int = SEED) -> Weathered:
    """Take the days that somebody brought; their hours are made.

    Parameters
    ----------
    weather : Weather
        Days of a place [-].
    seed : int
        Which hours of rain [-].

    Returns
    -------
    Weathered
        The years, and where they are from [-].

    Raises
    ------
    InvalidInput
        No year is whole.
    """
    by_year: dict[int, dict[int, WeatherDay]] = defaultdict(dict)
    for day in weather.days:
        by_year[day.on.year][day_of_year(day.on)] = day
    whole = [_filled(year) for _, year in sorted(by_year.items()) if len(year) >= FEW * DAYS]
    if not whole:
        raise InvalidInput("no whole year of days", "a year or more", where="weather.days",
                           do="bring whole years, or leave the file out")  # fmt: skip
    times = -(-WALKED // len(whole))
    rain, least, most, wind = (
        np.tile(np.array([[getattr(d, key) for d in year] for year in whole]), (times, 1))
        for key in ("rain_mm", "least_c", "most_c", "wind_m_s")
    )
    years = clothed(rain, (least + most) / 2, (most - least) / 2, wind, seed, len(whole))
    basis: Basis = "demo" if weather.invented else "measured"
    says = f"{_counted(len(whole))} of days: {weather.source}; the hours of rain are made"
    return Weathered(years, says, weakest([basis, "planning seed"]))


def from_hours(brought: tuple[Forecast, ...]) -> Weathered:
    """Take the hours that somebody brought, as they were.

    Parameters
    ----------
    brought : tuple of Forecast
        Hours of whole years [-].

    Returns
    -------
    Weathered
        The years, and where they are from [-].

    Raises
    ------
    InvalidInput
        No year is whole.
    """
    by_year: dict[int, dict[tuple[int, int], Hour]] = defaultdict(dict)
    for hour in (h for one in brought for h in one.hours):
        clock = hour.at + timedelta(hours=clock_at(hour.at))
        by_year[clock.year][day_of_year(clock.date()), clock.hour] = hour
    places = [(d, h) for d in range(DAYS) for h in range(HOURS)]
    whole = [
        _filled_by(year, places)
        for _, year in sorted(by_year.items()) if len(year) >= FEW * len(places)
    ]  # fmt: skip
    if not whole:
        raise InvalidInput("no whole year of hours", "a year or more of hours", where="--hours")
    times = -(-WALKED // len(whole))
    hours = [h for year in whole for h in year]

    def column(key: str) -> np.ndarray[tuple[int, ...], np.dtype[np.float32]]:
        values = np.array([getattr(h, key) for h in hours], dtype=np.float64)
        return np.tile(values.reshape(-1, HOURS).T, (1, times)).astype(np.float32)

    air, wet = column("air_c"), column("humidity_percent") / 100
    dew = np.asarray(dew_point(air.astype(np.float64), wet.astype(np.float64)))
    years = Years(
        column("rain_mm"), air, dew.astype(np.float32), column("wind_m_s"), len(whole)
    )  # fmt: skip
    says = f"{_counted(len(whole))} of hours: {'; '.join(f.source for f in brought)}"
    return Weathered(years, says, "measured")


def _counted(years: int) -> str:
    return f"{years} year{'s' * (years != 1)}"


def _filled(year: dict[int, WeatherDay]) -> list[WeatherDay]:
    last = year[min(year)]
    return [last := year.get(n, last) for n in range(DAYS)]


def _filled_by(
    year: dict[tuple[int, int], Hour], places: list[tuple[int, int]]
) -> list[Hour]:  # fmt: skip
    last = year[min(year)]
    return [last := year.get(place, last) for place in places]

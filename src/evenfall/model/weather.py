"""Weather that the user brings: days of a place, to see how often an evening turns wet."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

from pydantic import Field

from evenfall.model.kinds import Record, Words


class WeatherDay(Record):
    """One day as it was."""

    on: date
    rain_mm: Annotated[float, Field(ge=0, le=500)]
    least_c: Annotated[float, Field(ge=-50, le=50)]
    most_c: Annotated[float, Field(ge=-50, le=60)]
    wind_m_s: Annotated[float, Field(ge=0, le=80)]


class Weather(Record):
    """Days of one place, of many years if there are."""

    format: Literal[1] = 1
    source: Words
    invented: bool = False
    days: Annotated[tuple[WeatherDay, ...], Field(min_length=1)]

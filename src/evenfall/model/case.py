"""The Case: everything that working out a job may know."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from evenfall.model.forecast import Forecast
from evenfall.model.job import Job
from evenfall.model.rates import Rates
from evenfall.model.weather import Weather


@dataclass(frozen=True, slots=True)
class Case:
    """Job, rates, weather (where the user brought any) and the date on which it is asked."""

    job: Job
    rates: Rates
    on: date
    weather: Weather | None = None
    forecast: Forecast | None = None  # hours to come: the days are planned round them
    thorough: bool = False  # searched plans instead of the quick ones
    logo: bytes | None = field(default=None, repr=False)  # of the firm, a PNG for its papers

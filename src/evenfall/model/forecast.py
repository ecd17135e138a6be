"""An hourly forecast, or the hours of a year as they were; times are of Greenwich."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

ONE_HOUR = timedelta(hours=1)
Kind = Literal["forecast", "hours", "typical"]
"""What a forecaster says, hours as they were, or a typical year."""


@dataclass(frozen=True, slots=True)
class Hour:
    """One hour, from ``at`` on; what was not told is None."""

    at: datetime  # Greenwich
    air_c: float
    humidity_percent: float
    rain_mm: float
    wind_m_s: float  # mean, at 10 m
    chance_percent: float | None = None  # of rain within the hour
    gust_m_s: float | None = None
    cloud_percent: float | None = None


@dataclass(frozen=True, slots=True)
class Forecast:
    """Hours one after another without a gap."""

    source: str
    kind: Kind
    hours: tuple[Hour, ...]
    issued: datetime | None = None  # Greenwich; when the forecaster made it

    @property
    def ends(self) -> datetime:
        """End of the last hour."""
        return self.hours[-1].at + ONE_HOUR

    def between(self, start: datetime, end: datetime) -> tuple[Hour, ...]:
        """Pick the hours that overlap a stretch of time."""
        return tuple(h for h in self.hours if h.at < end and h.at + ONE_HOUR > start)

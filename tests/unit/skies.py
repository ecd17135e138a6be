"""Made-up skies for tests: hours that a test bends where it wants."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from math import cos, pi

from evenfall.model.forecast import Forecast, Hour

START = datetime(2027, 4, 13, 3, tzinfo=UTC)  # four o'clock in the morning by the clock
ISSUED = datetime(2027, 4, 13, 4, 40, tzinfo=UTC)
NOW = datetime(2027, 4, 13, 6, 5, tzinfo=UTC)


def fair(at: datetime) -> Hour:
    """A mild dry hour: 8 to 16 degrees, cloudy, hardly a wind."""
    air = 12 + 4 * cos(2 * pi * (at.hour - 14) / 24)
    return Hour(at, air, 62, 0.0, 2.7, 5, 4.1, 80)


def sky(
    bend: Callable[[Hour], Hour] = lambda hour: hour, hours: int = 96, start: datetime = START,
    issued: datetime | None = ISSUED,
) -> Forecast:  # fmt: skip
    """A forecast of fair hours, each bent by a test."""
    made = (bend(fair(start + timedelta(hours=n))) for n in range(hours))
    return Forecast("made up", "forecast", tuple(made), issued)


def shower(day: int, hour: int, mm: float = 0.8, chance: float = 60) -> Callable[[Hour], Hour]:
    """Rain in one hour of Greenwich time."""

    def bend(at: Hour) -> Hour:
        if (at.at.day, at.at.hour) == (day, hour):
            return replace(at, rain_mm=mm, chance_percent=chance)
        return at

    return bend


HEAD = "time,air_c,humidity_percent,rain_mm_h,wind_m_s,chance_percent"


def csv(*lines: str, head: str = HEAD, issued: str = "2027-04-12T05:40+01:00") -> str:
    """A small file."""
    return "\n".join((f"# issued: {issued}", "# source: made up", head, *lines)) + "\n"


def line(at: str, rest: str = "7.5,71,0,3.1,10") -> str:
    """One line of it."""
    return f"{at},{rest}"

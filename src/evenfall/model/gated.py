"""Weather gates: what a piece of work asks of the weather, and the hours that a forecast leaves."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Gates:
    """What a piece of work asks of the weather; what is None or nought it does not ask for."""

    dry: bool = False  # no rain, snow, frost or dew on the surface
    least_c: float | None = None  # air and surface, while it is done
    then_h: float = 0.0  # hours after it in which nothing falls below that: no frost tonight
    dew_k: float = 0.0  # surface above the dew point
    wind_m_s: float | None = None  # mean wind, at most

    @property
    def asks(self) -> bool:
        """Whether it asks for anything."""
        return self != ANY


ANY = Gates()
"""Work for any weather."""


@dataclass(frozen=True, slots=True)
class Permit:
    """The hours of a day in which the weather lets work under some gates be done, by the clock.

    A day and gates that have no permit are not forecast: nothing is held back there.
    """

    on: date
    gates: Gates
    hours: tuple[tuple[float, float], ...]  # from, to; in their order, apart from one another

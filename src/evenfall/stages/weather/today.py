"""Today on the roof: light, the hour at which weather stops work, the window for bonding."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from evenfall.model.gated import Gates
from evenfall.model.morning import ToldHour
from evenfall.model.words import clock
from evenfall.stages.programme.gang import Span
from evenfall.stages.weather.gates import Worst, passes, worst
from evenfall.stages.weather.sky import Sky, at_clock, clock_hour
from evenfall.standards import programme_practice as practice

DAWN = 6  # first hour of the day's tape, by the clock
NIGHT = 21  # its end


@dataclass(frozen=True, slots=True)
class Today:
    """The day: its light, the hour at which work can begin, its sky."""

    on: date
    light: Span
    begins: float
    sky: Sky

    def span(self, start: float, end: float) -> slice:
        """Return the hours of the day that overlap two hours by the clock."""
        return self.sky.slice(at_clock(self.on, start), at_clock(self.on, end))

    def hour(self, n: int) -> float:
        """Return the hour by the clock at which an hour of the forecast begins."""
        return clock_hour(self.sky.forecast.hours[n].at)

    def fails_from(self, gates: Gates, start: float | None = None) -> float:
        """Find the first hour that does not let some work be done: the end of the day if none.

        The day ends at midnight, or where the forecast does.
        """
        begins = self.begins if start is None else start
        may, hours = passes(self.sky, gates), self.span(begins, 24)
        for n in range(hours.start, min(hours.stop, len(may))):
            if not may[n]:
                return max(begins, self.hour(n))
        return min(24.0, begins + float(hours.stop - hours.start))

    def hours(self, bonding: Gates | None) -> tuple[ToldHour, ...]:
        """Tell the day hour by hour."""
        sky, day = self.sky, self.span(DAWN, NIGHT)
        dry = passes(sky, Gates(dry=True))
        bond = passes(sky, bonding) if bonding else dry & False
        return tuple(
            ToldHour(self.hour(n), float(sky.rain[n]), float(sky.chance[n]), bool(dry[n]),
                     bool(bond[n]))
            for n in range(day.start, min(day.stop, len(dry)))
        )  # fmt: skip


def bond_window(bonding: Gates | None, today: Today) -> tuple[tuple[float, float] | None, str]:
    """Find from when and until when today's bonding can be done.

    Parameters
    ----------
    bonding : Gates, optional
        What it asks for; None where nothing is bonded [-].
    today : Today
        The day [-].

    Returns
    -------
    (window, words)
        From and no later than, by the clock; None with the reason where it cannot be done [h].
    """
    if bonding is None:
        return None, "nothing to bond today"
    may, day = passes(today.sky, bonding), today.span(today.begins, today.light.closes)
    good = [n for n in range(day.start, min(day.stop, len(may))) if may[n]]
    if not good:
        return None, _reason(worst(today.sky, bonding, day))
    last = next((n for n in range(good[0], day.stop) if n >= len(may) or not may[n]), day.stop)
    start = max(today.begins, today.hour(good[0]))
    end = min(today.light.closes, today.hour(last - 1) + 1)
    dew = today.fails_from(Gates(dew_k=bonding.dew_k), start)
    ends = min(end, dew - float(practice.LAST_BOND))
    if ends <= start:
        return None, f"the roof nears its dew point by {clock(dew)}"
    why = "before dew falls" if ends < end else ("weather" if end < today.light.closes else "")
    return (start, ends), why


def _reason(found: tuple[Worst, ...]) -> str:
    """Say what stands in the way of bonding, the figure beside its limit."""
    w = found[0]
    return f"{w.says} {w.value:.1f} {w.unit} at {clock(clock_hour(w.at))}, {w.limit:.1f} asked"

"""The days within a programme on which nobody is on the roof, by their names."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from evenfall.calc.bank_holidays import public_holidays
from evenfall.model.finding import Finding, Remedy
from evenfall.model.programmed import Day, DayOff
from evenfall.model.words import short_day
from evenfall.stages.programme.gang import ONE_DAY, works
from evenfall.stages.programme.roof import When
from evenfall.standards import bank_holidays as law

OWN = "day off"  # by the firm's own calendar


def days_off(days: tuple[Day, ...], when: When) -> tuple[DayOff, ...]:
    """List the days off from the first day of work to the last, but for the usual end of a week.

    Parameters
    ----------
    days : tuple of Day
        The days [-].
    when : When
        The calendar, and whose public holidays are kept [-].

    Returns
    -------
    tuple of DayOff
        In their order; of a public holiday its name [-].
    """
    return tuple(DayOff(on, _name(on, when)) for on in _idle(days, when))


def holidays(days: tuple[Day, ...], when: When) -> tuple[DayOff, ...]:
    """List the public holidays that are kept, from the year before the work to the year after.

    Parameters
    ----------
    days : tuple of Day
        The days [-].
    when : When
        The calendar, and whose public holidays are kept [-].

    Returns
    -------
    tuple of DayOff
        In their order; none where the firm works them [-].
    """
    if when.calendar.works_holidays:
        return ()
    years = range(days[0].on.year - 1, days[-1].on.year + 2)
    return tuple(DayOff(*one) for y in years for one in public_holidays(when.nation, y).items())


def _idle(days: tuple[Day, ...], when: When) -> Iterator[date]:
    on = days[0].on
    usual = when.calendar.model_copy(update={"days_off": (), "works_holidays": True})
    while on < days[-1].on:
        on += ONE_DAY
        off = not works(on, when.calendar, when.nation)
        if off and works(on, usual, when.nation):
            yield on


def _name(on: date, when: When) -> str:
    return public_holidays(when.nation, on.year).get(on, OWN)


def told(off: tuple[DayOff, ...]) -> Iterator[Finding]:
    """Say which public holidays the programme keeps.

    Parameters
    ----------
    off : tuple of DayOff
        Days off within the programme [-].

    Yields
    ------
    Finding
        A note, with what to say where the firm works them [-].
    """
    kept = [d for d in off if d.name != OWN]
    if kept:
        days = ", ".join(f"{short_day(d.on)} ({d.name})" for d in kept)
        says = f"Nobody works on {days}: the roof stays as it was left the evening before."
        ask = Remedy("If the firm does work on public holidays, say calendar.works_holidays: true.")
        yield Finding("public-holiday", "roof", "note", says, f"{law.ACT}; the yearly list",
                      law.BASIS, float(len(kept)), None, "d", ask)  # fmt: skip

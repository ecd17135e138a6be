"""The gang and its days: working dates, daylight, and the hours that may be reckoned with."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from evenfall.calc.bank_holidays import public_holidays
from evenfall.calc.daylight import daylight
from evenfall.model.job import Calendar, Crew
from evenfall.standards import programme_practice as practice

MINUTES = 60
SATURDAY = 5  # as date.weekday counts
SUNDAY = 6  # as date.weekday counts
ONE_DAY = timedelta(days=1)
LONGEST = 2000  # days looked at before a plan is given up: a calendar full of days off


@dataclass(frozen=True, slots=True)
class Span:
    """The light part of a working day, by the clock."""

    on: date
    opens: float
    closes: float
    dusk: float
    then_off: bool  # nobody on site the day after

    @property
    def hours(self) -> float:
        """Hours between opening and closing."""
        return max(0.0, self.closes - self.opens)


@dataclass(frozen=True, slots=True)
class Gang:
    """People, and what opening and closing the site costs each of them a day."""

    people: int
    open_typical: float
    open_high: float

    def usual(self, span: Span) -> float:
        """Person-hours of a day as usual."""
        return max(0.0, self.people * (span.hours - self.open_typical))

    def sure(self, span: Span) -> float:
        """Person-hours until the roof must be shut, the margin kept."""
        margin = practice.SEAL_MARGIN / MINUTES
        return max(0.0, self.people * (span.hours - self.open_high - margin))

    def sealed_by(self, span: Span, hours: float) -> float:
        """Hour by which so many person-hours are done on a slow day."""
        return span.opens + self.open_high + hours / self.people

    def one_day_area(self) -> float:
        """Area of boards and sheet that this gang closes in one day, at most."""
        two, three = practice.ONE_DAY_TWO, practice.ONE_DAY_THREE
        if self.people == 2:
            return float(two)
        return self.people * three / 3


def spans(
    crew: Crew, calendar: Calendar, nation: str, latitude: float, longitude: float
) -> Iterator[Span]:  # fmt: skip
    """Walk the working days.

    Parameters
    ----------
    crew, calendar : Crew, Calendar
        Hours of work, first day, days off [h].
    nation : str
        Whose public holidays are kept [-].
    latitude, longitude : float
        Place, for the light [deg].

    Yields
    ------
    Span
        Each working day in its order [-].
    """
    for n in range(LONGEST):
        on = calendar.start_on + n * ONE_DAY
        if works(on, calendar, nation):
            then_off = not works(on + ONE_DAY, calendar, nation)
            yield span(on, crew, latitude, longitude, then_off)


def works(on: date, calendar: Calendar, nation: str) -> bool:
    """Tell whether anybody works on a day.

    Parameters
    ----------
    on : date
        The day [-].
    calendar : Calendar
        Saturdays, days off, and whether public holidays are worked [-].
    nation : str
        Whose public holidays they are [-].

    Returns
    -------
    bool
        Whether somebody is on site [-].

    Examples
    --------
    >>> spring = Calendar(start_on=date(2027, 4, 12), saturdays=True)
    >>> works(date(2027, 4, 17), spring, "england"), works(date(2027, 5, 3), spring, "england")
    (True, False)
    """
    if on in calendar.days_off or on.weekday() == SUNDAY:
        return False
    if not calendar.works_holidays and on in public_holidays(nation, on.year):
        return False
    return calendar.saturdays or on.weekday() != SATURDAY


def span(on: date, crew: Crew, latitude: float, longitude: float, then_off: bool = False) -> Span:
    """Find the light hours of a working day.

    Parameters
    ----------
    on : date
        The day [-].
    crew : Crew
        Start and hours [h].
    latitude, longitude : float
        Place [deg].
    then_off : bool
        Whether the next day is off [-].

    Returns
    -------
    Span
        Work neither before sunrise nor after sunset [h].
    """
    rise, dusk = daylight(latitude, longitude, on)
    closes = min(crew.start_hour + crew.hours_a_day, dusk)
    return Span(on, max(crew.start_hour, rise), closes, dusk, then_off)


def darkest(crew: Crew, calendar: Calendar, latitude: float, longitude: float) -> Span:
    """Find the shortest day of the weeks to come: bays are sized for it.

    Parameters
    ----------
    crew, calendar : Crew, Calendar
        Hours of work and first day [h].
    latitude, longitude : float
        Place [deg].

    Returns
    -------
    Span
        The day with the fewest light hours of work [-].
    """
    days = (calendar.start_on + n * ONE_DAY for n in range(int(practice.OUTLOOK)))
    return min((span(d, crew, latitude, longitude) for d in days), key=lambda s: s.hours)

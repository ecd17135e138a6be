"""Daylight: when the sun rises and sets by the clock of the United Kingdom."""

from __future__ import annotations

from datetime import date, timedelta
from math import acos, cos, degrees, pi, radians, sin, tan

from evenfall.errors import OutOfScope
from evenfall.standards import solar_position as sun
from evenfall.working import formula

HOURS = 24
SUNDAY = 6  # as date.weekday counts


@formula("H", "deg", "spherical astronomy")
def hour_angle(phi: float, delta: float, zenith: float = sun.ZENITH_AT_SUNSET) -> float:
    """Turn of the earth from noon to sunset.

    Parameters
    ----------
    phi, delta : float
        Latitude, and declination of the sun [deg].
    zenith : float
        Angle of the sun from straight above [deg].

    Returns
    -------
    float
        Angle [deg].

    Examples
    --------
    >>> hour_angle(52.4, 0.0, 90.0), hour_angle(52.4, 23.44)
    (90.0, 126.1)
    """
    return degrees(
        acos(
            cos(radians(zenith)) / (cos(radians(phi)) * cos(radians(delta)))
            - tan(radians(phi)) * tan(radians(delta))
        )
    )


def year_angle(on: date) -> float:
    """Angle of the year, nought at the start of January.

    Parameters
    ----------
    on : date
        Day [-].

    Returns
    -------
    float
        Angle [rad].

    Examples
    --------
    >>> year_angle(date(2027, 7, 2))
    3.133
    """
    return 2 * pi * (on.timetuple().tm_yday - 1) / sun.DAYS_OF_YEAR


def declination(on: date) -> float:
    """Declination of the sun at noon.

    Parameters
    ----------
    on : date
        Day [-].

    Returns
    -------
    float
        Declination [deg].

    Examples
    --------
    >>> declination(date(2027, 6, 21)), declination(date(2027, 12, 22))
    (23.5, -23.4)

    References
    ----------
    Spencer 1971, from memory; good to 0.01 rad and better.
    """
    c0, c1, s1, c2, s2, c3, s3 = sun.DECLINATION
    g = year_angle(on)
    return degrees(
        c0 + c1 * cos(g) + s1 * sin(g) + c2 * cos(2 * g) + s2 * sin(2 * g)
        + c3 * cos(3 * g) + s3 * sin(3 * g)
    )  # fmt: skip


def sun_before_clock(on: date) -> float:
    """Equation of time: how far a sundial is before the clock.

    Parameters
    ----------
    on : date
        Day [-].

    Returns
    -------
    float
        Time [h].

    Examples
    --------
    >>> sun_before_clock(date(2027, 11, 3)) * 60
    16.4
    """
    c0, c1, s1, c2, s2 = sun.EQUATION_OF_TIME
    g = year_angle(on)
    turn = c0 + c1 * cos(g) + s1 * sin(g) + c2 * cos(2 * g) + s2 * sin(2 * g)
    return degrees(turn) / sun.DEGREES_AN_HOUR


def last_sunday(year: int, month: int) -> date:
    """Last Sunday of a month of 31 days, such as March and October.

    Parameters
    ----------
    year, month : int
        Year and month [-].

    Returns
    -------
    date
        The Sunday [-].

    Examples
    --------
    >>> last_sunday(2027, 3), last_sunday(2027, 10)
    (datetime.date(2027, 3, 28), datetime.date(2027, 10, 31))
    """
    after = date(year, month + 1, 1)
    return after - timedelta(days=(after.weekday() - SUNDAY - 1) % (SUNDAY + 1) + 1)


def clock_before_greenwich(on: date) -> float:
    """How far the clock of the United Kingdom is before Greenwich, by day.

    Parameters
    ----------
    on : date
        Day; the clock changes before its dawn [-].

    Returns
    -------
    float
        One in summer, else nought [h].

    Examples
    --------
    >>> clock_before_greenwich(date(2027, 3, 27)), clock_before_greenwich(date(2027, 3, 28))
    (0.0, 1.0)
    """
    begins = last_sunday(on.year, int(sun.SUMMER_BEGINS))
    ends = last_sunday(on.year, int(sun.SUMMER_ENDS))
    return float(sun.SUMMER_HOUR) if begins <= on < ends else 0.0


def daylight(latitude: float, longitude: float, on: date) -> tuple[float, float]:
    """Sunrise and sunset by the clock of the United Kingdom.

    Parameters
    ----------
    latitude, longitude : float
        Place, north and east positive [deg].
    on : date
        Day [-].

    Returns
    -------
    (rise, set)
        Hours of the day [h].

    Raises
    ------
    OutOfScope
        So far north or south that some days have no sunset.

    Examples
    --------
    >>> [f"{h:.1f}" for h in daylight(52.4, -1.9, date(2027, 4, 12))]
    ['6.2', '20.0']

    References
    ----------
    Within 3 minutes of the almanac from 49 to 61 degrees north.
    """
    if abs(latitude) > sun.NORTHERNMOST:
        limit = f"{-sun.NORTHERNMOST:g} to {sun.NORTHERNMOST:g} degrees"
        raise OutOfScope("latitude", latitude, limit, sun.NORTHERNMOST.source)
    noon = HOURS / 2 - longitude / sun.DEGREES_AN_HOUR - sun_before_clock(on)
    half = hour_angle(latitude, declination(on)) / sun.DEGREES_AN_HOUR
    clock = clock_before_greenwich(on)
    return (noon - half + clock, noon + half + clock)

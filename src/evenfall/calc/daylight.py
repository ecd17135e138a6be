"""Daylight: when the sun rises and sets by the clock of the United Kingdom."""

from __future__ import annotations

from datetime import date, timedelta
from math import acos, asin, atan2, cos, degrees, radians, sin, tan

from evenfall.errors import OutOfScope
from evenfall.standards import solar_position as sun
from evenfall.working import formula

HOURS = 24
HALF_TURN = 180  # degrees
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


def sun_at_noon(on: date) -> tuple[float, float]:
    """Declination of the sun at noon, and how far a sundial is before the clock.

    Parameters
    ----------
    on : date
        Day, from 1800 to 2200 [-].

    Returns
    -------
    (declination, equation of time)
        Declination [deg], time [h].

    Examples
    --------
    >>> [f"{v:.2f}" for v in sun_at_noon(date(2027, 6, 21))]
    ['23.44', '-0.03']
    >>> f"{sun_at_noon(date(2027, 11, 3))[1] * 60:.1f} min"
    '16.4 min'

    References
    ----------
    Astronomical Almanac, low-precision formulas, from memory; good to a minute of arc.
    """
    n = (on - sun.EPOCH).days
    (g_0, g_1), (q_0, q_1), (c_1, c_2), (e_0, e_1) = (
        sun.ANOMALY, sun.LONGITUDE, sun.CENTRE, sun.OBLIQUITY,
    )  # fmt: skip
    g, q, e = radians(g_0 + g_1 * n), q_0 + q_1 * n, radians(e_0 + e_1 * n)
    L = radians(q + c_1 * sin(g) + c_2 * sin(2 * g))
    right_ascension = degrees(atan2(cos(e) * sin(L), cos(L)))
    before = (q - right_ascension + HALF_TURN) % (2 * HALF_TURN) - HALF_TURN
    return degrees(asin(sin(e) * sin(L))), before / sun.DEGREES_AN_HOUR


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
    Within 2 minutes of `astral` from 49 to 61 degrees north (tests/agreement).
    """
    if abs(latitude) > sun.NORTHERNMOST:
        limit = f"{-sun.NORTHERNMOST:g} to {sun.NORTHERNMOST:g} degrees"
        raise OutOfScope("latitude", latitude, limit, sun.NORTHERNMOST.source)
    delta, before = sun_at_noon(on)
    noon = HOURS / 2 - longitude / sun.DEGREES_AN_HOUR - before
    half = hour_angle(latitude, delta) / sun.DEGREES_AN_HOUR
    clock = clock_before_greenwich(on)
    return (noon - half + clock, noon + half + clock)

"""How money, heat, days and hours are said, on screens and papers alike."""

from __future__ import annotations

from datetime import date
from math import ceil

from evenfall.working import Known

PENCE = 100
QUARTERS = 4


def pounds(pence: float) -> str:
    """Say money.

    Parameters
    ----------
    pence : float
        Money [pence].

    Returns
    -------
    str
        Pounds and pence [-].

    Examples
    --------
    >>> pounds(1206550), pounds(-4200)
    ('£12,065.50', '−£42.00')
    """
    sign = "−" if round(pence) < 0 else ""
    return f"{sign}£{abs(round(pence)) / PENCE:,.2f}"


def memory(known: Known) -> str:
    """Say of a figure that it rests on a climate that nobody read up.

    Parameters
    ----------
    known : Known
        The figure [any].

    Returns
    -------
    str
        Words to put behind it; none for what is better known [-].

    Examples
    --------
    >>> from evenfall.working import Cited
    >>> memory(Cited(0.35, "-", "averages", "April", "from memory"))
    ', by a climate from memory'
    """
    return ", by a climate from memory" * (known.basis == "from memory")


def near(u: float, target: float) -> str:
    """Print a U-value to two decimals, or to three where two would hide that it misses its target.

    Parameters
    ----------
    u, target : float
        Transmittance reached and asked for [W/(m2K)].

    Returns
    -------
    str
        The number [-].

    Examples
    --------
    >>> near(0.1606, 0.16), near(0.1572, 0.16)
    ('0.161', '0.16')
    """
    return f"{u:.3f}" if u > target and round(u, 2) <= target else f"{u:.2f}"


def day(on: date) -> str:
    """Say a day.

    Parameters
    ----------
    on : date
        The day [-].

    Returns
    -------
    str
        Day, month and year [-].

    Examples
    --------
    >>> day(date(2026, 12, 7))
    '7 December 2026'
    """
    return f"{on.day} {on:%B %Y}"


def short_day(on: date) -> str:
    """Say a day of the week and of the month.

    Parameters
    ----------
    on : date
        The day [-].

    Returns
    -------
    str
        Such as "Mon 7 Dec" [-].

    Examples
    --------
    >>> short_day(date(2026, 12, 7))
    'Mon 7 Dec'
    """
    return f"{on:%a} {on.day} {on:%b}"


def clock(hour: float) -> str:
    """Say an hour of the day.

    Parameters
    ----------
    hour : float
        Hours after midnight [h].

    Returns
    -------
    str
        Hours and minutes [-].

    Examples
    --------
    >>> clock(15.5), clock(7.999)
    ('15:30', '08:00')
    """
    minutes = round(hour * 60)
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def by_the_quarter(hour: float) -> str:
    """Say an hour of the day by which something is done, to the next quarter of an hour.

    Parameters
    ----------
    hour : float
        Hours after midnight [h].

    Returns
    -------
    str
        Hours and minutes [-].

    Examples
    --------
    >>> by_the_quarter(14.55), by_the_quarter(15.5)
    ('14:45', '15:30')
    """
    return clock(ceil(round(hour * QUARTERS, 6)) / QUARTERS)

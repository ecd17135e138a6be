"""How the papers say numbers, days and money: plain, and with no more figures than are known."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date
from math import ceil

PENCE = 100
_JOINED = re.compile(r"_|(?<![A-Z])-|-(?![A-Z])")  # the hyphen of side A-B stays
QUARTERS = 4  # of an hour


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


def spoken(name: str) -> str:
    """Turn a name of the job file into words.

    Parameters
    ----------
    name : str
        Such as ``back-door`` [-].

    Returns
    -------
    str
        Such as "back door" [-].

    Examples
    --------
    >>> spoken("back-door"), spoken("air_brick"), spoken("A-B")
    ('back door', 'air brick', 'A-B')
    """
    return _JOINED.sub(" ", name)


def metres(length: float) -> str:
    """Say a length of the roof.

    Parameters
    ----------
    length : float
        Length [m].

    Returns
    -------
    str
        To the centimetre [-].

    Examples
    --------
    >>> metres(6.394)
    '6.39 m'
    """
    return f"{length:.2f} m"


def about(value: float) -> str:
    """Say a rough number: two figures, whole.

    Parameters
    ----------
    value : float
        Any number [any].

    Returns
    -------
    str
        "about" and the number [-].

    Examples
    --------
    >>> about(504.3), about(2762), about(0)
    ('about 500', 'about 2,800', 'about 0')
    """
    digits = 2 - len(f"{abs(value):.0f}")
    return f"about {round(value, min(digits, 0)):,.0f}"


def listed(parts: Sequence[str], last: str = "and") -> str:
    """Join words as they are said.

    Parameters
    ----------
    parts : sequence of str
        Words [-].
    last : str
        What stands before the last of them [-].

    Returns
    -------
    str
        One phrase [-].

    Examples
    --------
    >>> listed(["eaves", "two verges", "a wall"])
    'eaves, two verges and a wall'
    """
    *first, end = parts
    return f"{', '.join(first)} {last} {end}" if first else end


def sentence(text: str) -> str:
    """Begin with a capital and end with a full stop.

    Parameters
    ----------
    text : str
        Words [-].

    Returns
    -------
    str
        A sentence [-].

    Examples
    --------
    >>> sentence("sheet down")
    'Sheet down.'
    """
    text = text.strip()
    full = text if text.endswith((".", "!", "?")) else f"{text}."
    return full[:1].upper() + full[1:]

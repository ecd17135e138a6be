"""Public holidays of a nation in a year: Easter by arithmetic, Mondays, days in lieu."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from functools import lru_cache
from types import MappingProxyType

from evenfall.errors import OutOfScope
from evenfall.standards import bank_holidays as law

DAY = timedelta(days=1)
SATURDAY = 5  # as date.weekday counts


def easter(year: int) -> date:
    """Find Easter Sunday of the western churches.

    Parameters
    ----------
    year : int
        From 1583 on [-].

    Returns
    -------
    date
        A Sunday from 22 March to 25 April [-].

    Raises
    ------
    OutOfScope
        A year before the calendar of today.

    Examples
    --------
    >>> easter(2027)
    datetime.date(2027, 3, 28)
    """
    if year < 1583:
        raise OutOfScope("year", year, "1583 and later", law.EASTER)
    moon, century = year % 19, year // 100
    leaps = century - century // 4 - (8 * century + 13) // 25
    full = (19 * moon + leaps + 15) % 30
    full -= full // 28 * (1 - 29 // (full + 1) * ((21 - moon) // 11))
    back = (year + year // 4 + full + 2 - century + century // 4) % 7
    month = 3 + (full - back + 40) // 44
    return date(year, month, full - back + 28 - 31 * (month // 4))


@lru_cache(maxsize=64)
def public_holidays(nation: str, year: int) -> MappingProxyType[date, str]:
    """List the days of a year on which by custom nobody works.

    Parameters
    ----------
    nation : str
        One of ``england``, ``wales``, ``scotland``, ``northern_ireland`` [-].
    year : int
        From 1978 to 2199 [-].

    Returns
    -------
    mapping of date to str
        Each holiday by its name; one at a weekend stands beside its day in lieu [-].

    Raises
    ------
    OutOfScope
        A year or a nation whose holidays are not known.

    Examples
    --------
    >>> public_holidays("scotland", 2027)[date(2027, 1, 4)]
    "2nd January, in lieu"
    """
    if nation not in law.HOLIDAYS or not law.FIRST_YEAR <= year <= law.LAST_YEAR:
        known = f"{', '.join(law.HOLIDAYS)}, {law.FIRST_YEAR} to {law.LAST_YEAR}"
        raise OutOfScope("public holidays", f"{nation} {year}", known, law.ACT)
    found = {_on(h, year): h.name for h in law.HOLIDAYS[nation]}
    weekend = sorted(on for on in found if on.weekday() >= SATURDAY)
    for on in weekend:
        found[_in_lieu(on, found)] = f"{found[on]}, in lieu"
    return MappingProxyType(dict(sorted(found.items())))


def _on(one: law.Holiday, year: int) -> date:
    if isinstance(one, law.Fixed):
        return date(year, one.month, one.day)
    if isinstance(one, law.FromEaster):
        return easter(year) + one.days * DAY
    return _monday(year, one.month, one.which)


def _monday(year: int, month: int, which: int) -> date:
    found = [on for on in _days(year, month) if on.weekday() == 0]
    return found[which - 1 if which > 0 else which]


def _days(year: int, month: int) -> Iterator[date]:
    on = date(year, month, 1)
    while on.month == month:
        yield on
        on += DAY


def _in_lieu(on: date, taken: dict[date, str]) -> date:
    """Find the first weekday after a holiday that is not a holiday itself."""
    while on.weekday() >= SATURDAY or on in taken:
        on += DAY
    return on

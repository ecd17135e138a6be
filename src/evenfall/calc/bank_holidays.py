"""Public holidays of a nation in a year: Easter and what hangs on it, Mondays, days in lieu."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from functools import lru_cache
from types import MappingProxyType

from dateutil.easter import easter

from evenfall.errors import OutOfScope
from evenfall.standards import bank_holidays as law

DAY = timedelta(days=1)
SATURDAY = 5  # as date.weekday counts


@lru_cache
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
    '2nd January, in lieu'
    """
    if nation not in law.HOLIDAYS or not law.FIRST_YEAR <= year < law.NO_LONGER:
        known = f"{', '.join(law.HOLIDAYS)}, {law.FIRST_YEAR:.0f} to {law.NO_LONGER - 1:.0f}"
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
        sunday: date = easter(year)
        return sunday + one.days * DAY
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

"""Bank and public holidays of the nations of the United Kingdom, and when each falls.

From memory: the schedule of the Act and the lists that the government publishes each year. A
single holiday (a coronation, a jubilee) has no rule; the job names it among its days off. So it is
with the local holidays that Scottish towns keep.
"""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.working import Basis, Cited

ACT = "Banking and Financial Dealings Act 1971, Schedule 1"
CUSTOM = "common law holiday; the government's yearly list of bank holidays"
CROWN = "royal proclamation under the Act of 1971; the government's yearly list"
ST_ANDREW = "St Andrew's Day Bank Holiday (Scotland) Act 2007"
BASIS: Basis = "from memory"

FIRST_YEAR = Cited(1978, "year", CROWN, "the first year with an early May holiday", BASIS)
NO_LONGER = Cited(
    2200, "year", CROWN, "none is known so far ahead: a bound of ours", "planning seed"
)


@dataclass(frozen=True, slots=True)
class Fixed:
    """The same date each year; on a Saturday or Sunday a weekday after it is off besides."""

    name: str
    month: int
    day: int
    source: str
    basis: Basis = BASIS


@dataclass(frozen=True, slots=True)
class Monday:
    """A Monday of a month, counted from its front (1) or its end (-1)."""

    name: str
    month: int
    which: int
    source: str
    basis: Basis = BASIS


@dataclass(frozen=True, slots=True)
class FromEaster:
    """So many days after Easter Sunday."""

    name: str
    days: int
    source: str
    basis: Basis = BASIS


Holiday = Fixed | Monday | FromEaster

_GOOD_FRIDAY = FromEaster("Good Friday", -2, CUSTOM)
_EASTER_MONDAY = FromEaster("Easter Monday", 1, ACT)
_MAY = Monday("early May bank holiday", 5, 1, CROWN)
_SPRING = Monday("spring bank holiday", 5, -1, ACT)
_SUMMER = Monday("summer bank holiday", 8, -1, ACT)
_NEW_YEAR = Fixed("New Year's Day", 1, 1, CROWN)
_CHRISTMAS = (Fixed("Christmas Day", 12, 25, CUSTOM), Fixed("Boxing Day", 12, 26, ACT))

_ENGLAND: tuple[Holiday, ...] = (
    _NEW_YEAR, _GOOD_FRIDAY, _EASTER_MONDAY, _MAY, _SPRING, _SUMMER, *_CHRISTMAS,
)  # fmt: skip

HOLIDAYS: dict[str, tuple[Holiday, ...]] = {
    "england": _ENGLAND,
    "wales": _ENGLAND,
    "northern_ireland": (
        *_ENGLAND,
        Fixed("St Patrick's Day", 3, 17, ACT),
        Fixed("Battle of the Boyne", 7, 12, CROWN),
    ),
    "scotland": (
        Fixed("New Year's Day", 1, 1, ACT),
        Fixed("2nd January", 1, 2, ACT),
        FromEaster("Good Friday", -2, ACT),
        Monday("early May bank holiday", 5, 1, ACT),
        Monday("spring bank holiday", 5, -1, CROWN),
        Monday("summer bank holiday", 8, 1, ACT),
        Fixed("St Andrew's Day", 11, 30, ST_ANDREW),
        Fixed("Christmas Day", 12, 25, ACT),
        Fixed("Boxing Day", 12, 26, CROWN),
    ),
}
"""By the nation of the job; a firm over the border keeps its own in its days off."""

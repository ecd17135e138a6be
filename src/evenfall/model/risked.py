"""What many years of weather do to a plan: wet evenings, days lost, finish, money, best week."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from evenfall.working import Basis


@dataclass(frozen=True, slots=True)
class Range:
    """A number as a range: in 1 year of 10 it is less, in half of them, in 9 of 10."""

    p10: float
    p50: float
    p90: float


@dataclass(frozen=True, slots=True)
class Week:
    """A start in one week of the year."""

    on: date
    lost: Range  # working days
    wet_evening: float  # share of the evenings of opened roof
    unfinished: float  # share of years in which it is given up


@dataclass(frozen=True, slots=True)
class Wagered:
    """One way to do the job, through all years."""

    wet_evening: float  # share of the evenings of opened roof
    wet_evening_error: float  # its standard error
    any_wet: float  # share of years with one wet evening or more
    lost: Range  # working days
    finish_on: tuple[date | None, date | None, date | None]  # 1 in 10, half, 9 in 10 by then
    cost_pence: Range  # of the days lost
    unfinished: float


@dataclass(frozen=True, slots=True)
class Risk:
    """A plan against many years of weather."""

    weather: str  # in words, with its source
    basis: Basis
    years: int
    distinct: int
    seed: int
    rule: str  # of the foreman
    plan_days: int
    evenings: int  # on which the plan opens the roof
    day_pence: int  # what a lost day costs
    bare: Wagered  # under the sky
    covered: Wagered  # under a covered scaffold
    weeks: tuple[Week, ...]
    best: Week

    @property
    def saved_days(self) -> float:
        """Days that a covered scaffold saves, in the middle."""
        return self.bare.lost.p50 - self.covered.lost.p50

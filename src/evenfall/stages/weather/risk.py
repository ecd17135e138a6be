"""Risk: the plan against many years of weather and a foreman's rule each morning."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from evenfall.calc.weather.chance import uniforms
from evenfall.calc.weather.walk import Need, Walked, dry, looks, told, walk
from evenfall.calc.weather.years import FORESEEN, Years
from evenfall.model.job import Calendar, Crew
from evenfall.model.programmed import Programme, Task
from evenfall.model.rates import Rates
from evenfall.model.risked import Range, Risk, Wagered, Week
from evenfall.stages.programme.gang import works
from evenfall.stages.weather.asked import need
from evenfall.standards import programme_practice as programme
from evenfall.standards import weather_practice as practice
from evenfall.working import Basis

SEED = 20270412  # any number; kept, so that the same job gives the same answer
LONGEST = 300  # calendar days after which a start is given up
WEEKS = 52  # starts that are tried
PERCENT = 100
SHARES = (10, 50, 90)  # of a hundred years
WORKDAYS = 5  # of a week; hire by the week is spread over them
STEP = timedelta(days=7)  # from one start to the next
ONE_DAY = timedelta(days=1)
LEAP_DAY = (2, 29)  # month and day, left out of the years that are walked
PLAIN = date(2001, 1, 1)  # of any year without it
RULE = (
    "He opens where the morning's forecast shows {dry:.0f} hours more of dry weather than strip "
    "and VCL take, at {chance:.0f} % chance of rain or less; it tells {right:.0%} of the rain that "
    "comes, and rain that does not come on {alarm:.0%} of dry days. Cold, dew and wind he knows."
)


@dataclass(frozen=True, slots=True)
class Weathered:
    """Years of weather, and where they are from."""

    years: Years
    says: str
    basis: Basis


@dataclass(frozen=True, slots=True)
class Kinds:
    """The plan as a row of kinds of day."""

    plan: tuple[int, ...]
    needs: tuple[Need, ...]


def wager(
    of: Programme,
    tasks: tuple[Task, ...],
    crew: Crew,
    calendar: Calendar,
    nation: str,
    rates: Rates,
    weather: Weathered,
    contact: bool = False,
    seed: int = SEED,
) -> Risk:
    """Walk a plan through years of weather.

    Parameters
    ----------
    of : Programme
        The plan [-].
    tasks : tuple of Task
        All work [h].
    crew, calendar : Crew, Calendar
        Who works, and when [-].
    nation : str
        Whose public holidays are kept [-].
    rates : Rates
        What an hour and a day on site cost [pence].
    weather : Weathered
        Years of weather [-].
    contact : bool
        Whether the sheet goes down in contact adhesive, which needs no warm night [-].
    seed : int
        Which chances [-].

    Returns
    -------
    Risk
        Wet evenings, days lost, finish, money, best week [-].
    """
    row, firsts = kinds(of, tasks, crew, contact), starts(calendar, WEEKS)
    pence = day_pence(crew, rates)
    open_air = walked(row, weather.years, firsts, (calendar, nation), seed)
    covered = walked(row, dry(weather.years), firsts[:1], (calendar, nation), seed,
                     covered=True)  # fmt: skip
    distinct = weather.years.distinct
    weeks = tuple(_week(open_air, n, on) for n, on in enumerate(firsts))
    return Risk(
        weather=weather.says,
        basis=weather.basis,
        years=weather.years.years,
        distinct=distinct,
        seed=seed,
        rule=RULE.format(
            dry=float(programme.DRY_WINDOW_EXTRA), chance=float(programme.RAIN_CHANCE),
            right=float(practice.TOLD_RAIN), alarm=float(practice.FALSE_ALARM),
        ),
        plan_days=len(of.days),
        evenings=sum(row.needs[k].opens for k in row.plan),
        day_pence=pence,
        bare=_wagered(open_air, firsts[0], pence, distinct),
        covered=_wagered(covered, firsts[0], pence, distinct),
        weeks=weeks,
        best=min(weeks, key=_worth),
    )  # fmt: skip


def day_pence(crew: Crew, rates: Rates) -> int:
    """Reckon what a day costs on which the plan does not move: idle hands and hire.

    Parameters
    ----------
    crew : Crew
        Who waits [-].
    rates : Rates
        Labour by the hour, hire by the day and the week [pence].

    Returns
    -------
    int
        Cost, before overhead and margin [pence].
    """
    idle = crew.people * crew.hours_a_day * rates.terms.labour_pence_hour
    hire = sum(c.price_pence for c in rates.charges if c.unit == "day" and c.holds_m3 is None)
    weekly = sum(c.price_pence for c in rates.charges if c.unit == "week" and c.holds_m3 is None)
    return round(idle + hire + weekly / WORKDAYS)


def kinds(of: Programme, tasks: tuple[Task, ...], crew: Crew, contact: bool = False) -> Kinds:
    """Turn a plan into a row of kinds of day: days that ask the same of the weather are one kind.

    Parameters
    ----------
    of : Programme
        The plan [-].
    tasks : tuple of Task
        All work [h].
    crew : Crew
        When it begins [h].
    contact : bool
        Whether the sheet goes down in contact adhesive [-].

    Returns
    -------
    Kinds
        The row, and what each kind asks for [-].
    """
    by_id = {t.id: t for t in tasks}
    needs = [need(d, by_id, crew.start_hour, contact) for d in of.days]
    distinct = tuple(dict.fromkeys(needs))
    return Kinds(tuple(distinct.index(n) for n in needs), distinct)


def starts(calendar: Calendar, weeks: int) -> tuple[date, ...]:
    """List the starts that are tried, a week apart.

    Parameters
    ----------
    calendar : Calendar
        The first of them [-].
    weeks : int
        How many [-].

    Returns
    -------
    tuple of date
        The starts [-].
    """
    return tuple(calendar.start_on + n * STEP for n in range(weeks))


def walked(
    row: Kinds, years: Years, firsts: tuple[date, ...], kept: tuple[Calendar, str], seed: int,
    covered: bool = False,
) -> Walked:  # fmt: skip
    """Gate every kind of day through all years and walk the plan from each start.

    Parameters
    ----------
    row : Kinds
        The plan [-].
    years : Years
        The hours [-].
    firsts : tuple of date
        Starts [-].
    kept : (Calendar, str)
        Days off, and the nation whose public holidays are kept [-].
    seed : int
        Which chances, for what the foreman is told [-].
    covered : bool
        Whether a covered scaffold stands over it, so that no rain is told [-].

    Returns
    -------
    Walked
        Days, evenings, days lost: starts by years [-].
    """
    u = uniforms(seed, FORESEEN, (years.rain.shape[1],))
    right, alarm = float(practice.TOLD_RAIN), float(practice.FALSE_ALARM)
    seen = looks(years, row.needs)
    go = told(seen, u, right, 0.0 if covered else alarm)
    return walk(
        row.plan, go, np.stack([s.caught for s in seen]), tuple(n.opens for n in row.needs),
        np.stack([_works(on, *kept) for on in firsts]),
        np.array([day_of_year(on) for on in firsts]), years.years,
    )  # fmt: skip


def day_of_year(on: date) -> int:
    """Give a day its number within a year of 365, from nought.

    Parameters
    ----------
    on : date
        The day; a leap day counts as the day before it [-].

    Returns
    -------
    int
        Its number [-].

    Examples
    --------
    >>> day_of_year(date(2028, 2, 29)), day_of_year(date(2028, 3, 1))
    (58, 59)
    """
    leap = (on.month, on.day) == LEAP_DAY
    plain = on - ONE_DAY if leap else on
    return (plain.replace(year=PLAIN.year) - PLAIN).days


def _works(start: date, calendar: Calendar, nation: str) -> NDArray[np.bool_]:
    days = (start + timedelta(days=n) for n in range(LONGEST))
    return np.array([works(d, calendar, nation) for d in days])


def _range(values: NDArray[np.int64]) -> Range:
    low, middle, high = np.percentile(values, SHARES, method="inverted_cdf")
    return Range(float(low), float(middle), float(high))


def _week(found: Walked, n: int, on: date) -> Week:
    opened = int(found.evenings[n].sum())
    return Week(
        on, _range(found.lost[n]), float(found.wet[n].sum() / max(opened, 1)),
        float((~found.finished[n]).mean()),
    )  # fmt: skip


def _worth(week: Week) -> tuple[float, ...]:
    """Compare starts: given up, then days lost as a rule and at worst, then wet evenings."""
    return week.unfinished, week.lost.p50, week.lost.p90, week.wet_evening


def _wagered(found: Walked, start: date, pence: int, distinct: int) -> Wagered:
    """Tell the first start of a walk; the standard error counts only years that really differ."""
    wet, opened = found.wet[0], found.evenings[0]
    share = float(wet.sum() / max(int(opened.sum()), 1))
    lost, done = _range(found.lost[0]), found.finished[0]
    days = np.where(done, found.days[0], LONGEST + 1)
    ends = np.percentile(days, SHARES, method="inverted_cdf")
    return Wagered(
        share, _error(wet, opened, share, distinct), float((wet > 0).mean()), lost,
        tuple(None if n > LONGEST else start + timedelta(days=int(n) - 1) for n in ends),  # type: ignore[arg-type]
        Range(lost.p10 * pence, lost.p50 * pence, lost.p90 * pence), float((~done).mean()),
    )  # fmt: skip


def _error(wet: NDArray[np.int64], opened: NDArray[np.int64], share: float, distinct: int) -> float:
    """Give the standard error of a share of evenings, year by year, since days hang together."""
    groups = np.arange(len(wet)) % distinct
    off = np.bincount(groups, wet - share * opened, minlength=distinct)
    if distinct < 2 or not opened.sum():
        return float("nan")
    spread = np.sqrt((off**2).sum() * distinct / (distinct - 1))
    return float(spread / opened.sum())

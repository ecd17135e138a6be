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
class _Kinds:
    """The plan as a row of kinds of day."""

    plan: tuple[int, ...]
    needs: tuple[Need, ...]


def work(
    of: Programme,
    tasks: tuple[Task, ...],
    crew: Crew,
    calendar: Calendar,
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
    kinds = _kinds(of, tasks, crew, contact)
    starts = tuple(calendar.start_on + n * STEP for n in range(WEEKS))
    pence = day_pence(crew, rates)
    open_air = _walked(kinds, weather.years, starts, calendar, seed)
    covered = _walked(kinds, dry(weather.years), starts[:1], calendar, seed)
    distinct = weather.years.distinct
    weeks = tuple(_week(open_air, n, on, calendar) for n, on in enumerate(starts))
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
        evenings=sum(kinds.needs[k].opens for k in kinds.plan),
        day_pence=pence,
        open=_wagered(open_air, starts[0], pence, distinct),
        covered=_wagered(covered, starts[0], pence, distinct),
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


def _kinds(of: Programme, tasks: tuple[Task, ...], crew: Crew, contact: bool) -> _Kinds:
    by_id = {t.id: t for t in tasks}
    needs = [need(d, by_id, crew.start_hour, contact) for d in of.days]
    distinct = tuple(dict.fromkeys(needs))
    return _Kinds(tuple(distinct.index(n) for n in needs), distinct)


def _walked(
    kinds: _Kinds, years: Years, starts: tuple[date, ...], calendar: Calendar, seed: int
) -> Walked:
    u = uniforms(seed, FORESEEN, (years.rain.shape[1],))
    right, alarm = float(practice.TOLD_RAIN), float(practice.FALSE_ALARM)
    covered = not years.rain.any()
    seen = [looks(years, n) for n in kinds.needs]
    go = np.stack([told(s, u, right, 0.0 if covered else alarm) for s in seen])
    return walk(
        kinds.plan, go, np.stack([s.caught for s in seen]), tuple(n.opens for n in kinds.needs),
        np.stack([_works(on, calendar) for on in starts]),
        np.array([day_of_year(on) for on in starts]), years.years,
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
    plain = on.replace(day=28) if (on.month, on.day) == (2, 29) else on
    return (plain.replace(year=2001) - date(2001, 1, 1)).days


def _works(start: date, calendar: Calendar) -> NDArray[np.bool_]:
    off = set(calendar.days_off)
    days = (start + timedelta(days=n) for n in range(LONGEST))
    return np.array([works(d, calendar.saturdays, off) for d in days])


def _range(values: NDArray[np.int64]) -> Range:
    low, middle, high = np.percentile(values, SHARES, method="inverted_cdf")
    return Range(float(low), float(middle), float(high))


def _week(walked: Walked, n: int, on: date, calendar: Calendar) -> Week:
    opened = int(walked.evenings[n].sum())
    return Week(
        on, _range(walked.lost[n]), float(walked.wet[n].sum() / max(opened, 1)),
        float((~walked.finished[n]).mean()),
    )  # fmt: skip


def _worth(week: Week) -> tuple[float, ...]:
    """Compare starts: given up, then days lost as a rule and at worst, then wet evenings."""
    return week.unfinished, week.lost.p50, week.lost.p90, week.wet_evening


def _wagered(walked: Walked, start: date, pence: int, distinct: int) -> Wagered:
    """Tell the first start of a walk; the standard error counts only years that really differ."""
    wet, opened = walked.wet[0], walked.evenings[0]
    share = float(wet.sum() / max(int(opened.sum()), 1))
    lost, done = _range(walked.lost[0]), walked.finished[0]
    days = np.where(done, walked.days[0], LONGEST + 1)
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

"""Years of weather walked, beside closed forms: waiting times, the chain, the monthly climate.

With days that are wet independently the wait for a dry one is geometric, and the days lost over a
whole plan are negative binomial; a foreman whose forecast errs has closed forms too. Placing days
again is held against every order there is.
"""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from evenfall.calc.weather.chance import uniforms
from evenfall.calc.weather.placing import Placing, place
from evenfall.calc.weather.walk import Looks, told, walk
from evenfall.calc.weather.years import DAYS, MONTH_ENDS, amounts, by_day, chain, climate, made
from evenfall.standards import sap_climate
from evenfall.standards.weather_practice import RAIN_CLIMATES

YEARS, SEED = 4000, 51


def walked(p: float, plan: int, right: float, alarm: float):
    """A plan of days that each open the roof, under days that are wet with chance ``p``."""
    total = YEARS * DAYS
    wet = uniforms(SEED, 9, (total,)) < p
    seen = Looks(np.ones(total, dtype=bool), wet, wet)
    go = told((seen,), uniforms(SEED, 5, (total,)), right, alarm)
    every = np.ones((1, DAYS), dtype=bool)
    return walk((0,) * plan, go, wet[None], (True,), every, np.array([40]), YEARS)


@pytest.mark.parametrize(("p", "plan"), [(0.18, 1), (0.37, 1), (0.37, 7), (0.62, 4)])
def test_days_lost_beside_the_negative_binomial(p, plan):
    lost = walked(p, plan, right=1.0, alarm=0.0).lost[0]
    mean, variance = plan * p / (1 - p), plan * p / (1 - p) ** 2
    assert lost.mean() == pytest.approx(mean, abs=4 * np.sqrt(variance / YEARS))
    assert lost.var() == pytest.approx(variance, rel=0.15)


def test_the_wait_for_a_dry_day_is_geometric():
    p, lost = 0.37, walked(0.37, 1, right=1.0, alarm=0.0).lost[0]
    for wait in range(5):
        share = (1 - p) * p**wait
        error = np.sqrt(share * (1 - share) / YEARS)
        assert (lost == wait).mean() == pytest.approx(share, abs=4 * error)


@pytest.mark.parametrize(("p", "right", "alarm"), [(0.3, 0.9, 0.15), (0.45, 0.7, 0.05)])
def test_wet_evenings_of_a_foreman_who_is_told_wrong(p, right, alarm):
    found = walked(p, 6, right, alarm)
    caught, moves = (1 - right) * p, (1 - p) * (1 - alarm)
    opened = found.evenings[0].sum()
    share = caught / (caught + moves)
    error = np.sqrt(share * (1 - share) / opened)
    assert found.wet[0].sum() / opened == pytest.approx(share, abs=4 * error)
    lost = 6 * (1 - moves) / moves
    spread = np.sqrt(6 * (1 - moves)) / moves / np.sqrt(YEARS)
    assert found.lost[0].mean() == pytest.approx(lost, abs=4 * spread)


def test_a_chain_whose_days_hang_together_keeps_its_share_and_waits_longer():
    """Spells of a first-order chain are geometric with its own chance of going on."""
    f = 0.44
    wet = chain(np.full(DAYS, f), uniforms(SEED, 0, (2000, DAYS)))
    assert wet.mean() == pytest.approx(f, abs=0.004)
    before, after = wet[:, :-1], wet[:, 1:]
    assert after[before].mean() == pytest.approx(0.25 + 0.75 * f, abs=0.004)
    assert after[~before].mean() == pytest.approx(0.75 * f, abs=0.004)


@pytest.mark.parametrize("known", RAIN_CLIMATES, ids=lambda c: c.name)
def test_made_years_have_the_wet_days_and_the_rain_that_they_were_fitted_to(known):
    of = climate(known.wet_days, known.rain, (10.0,) * 12)
    years = 1500
    wet = chain(by_day(of.rain_days), uniforms(SEED, 0, (years, DAYS)))
    rain = amounts(of, wet, uniforms(SEED, 1, (years, DAYS)))
    month = np.searchsorted(MONTH_ENDS, np.arange(DAYS), side="right")
    for n in range(12):
        part = rain[:, month == n]
        days, mm = (part >= 1).sum(axis=1), part.sum(axis=1)
        for values, wanted in ((days, known.wet_days[n]), (mm, known.rain[n])):
            error = values.std() / np.sqrt(years)
            # the chain comes a little late to the share of a new month: 2 % beside chance
            assert values.mean() == pytest.approx(wanted, abs=4 * error + 0.02 * wanted)


def test_made_years_have_the_warmth_of_their_region_and_no_rain_is_lost_in_the_hours():
    known, air = RAIN_CLIMATES[1], tuple(map(float, sap_climate.external_temperatures(6)))
    of = climate(known.wet_days, known.rain, air)
    years = made(of, 300, SEED)
    month = np.tile(np.searchsorted(MONTH_ENDS, np.arange(DAYS), side="right"), 300)
    for n in (0, 3, 6, 10):
        mean = years.air[:, month == n].mean()
        assert mean == pytest.approx(air[n], abs=0.45)  # 300 months whose days hang together
    wet = chain(by_day(of.rain_days), uniforms(SEED, 0, (300, DAYS)))
    rain = amounts(of, wet, uniforms(SEED, 1, (300, DAYS)))
    assert years.rain.sum() == pytest.approx(rain.sum(), rel=1e-5)


def test_even_chances_are_even_and_apart():
    u, v = uniforms(3, 0, (200_000,)), uniforms(3, 1, (200_000,))
    assert u.mean() == pytest.approx(0.5, abs=4 / np.sqrt(12 * len(u)))
    assert np.histogram(u, 20, (0, 1))[0] == pytest.approx(10_000, abs=450)
    assert abs(np.corrcoef(u, v)[0, 1]) < 0.01
    assert abs(np.corrcoef(u[:-1], u[1:])[0, 1]) < 0.01


def every_way(of: Placing):
    """The best of all ways there are, by trying each."""
    best = None
    for at in product(range(len(of.apart)), repeat=len(of.fits)):
        if len(set(at)) < len(at) or not all(of.fits[n][d] for n, d in enumerate(at)):
            continue
        if any(at[b] > at[n] for n, group in enumerate(of.before) for b in group):
            continue
        if any(of.apart[at[b]] != of.apart[at[a]] + 1 for a, b in of.next_to.items()):
            continue
        if any(of.apart[at[b]] - of.apart[at[a]] > most for a, b, most in of.within):
            continue
        moved = [abs(of.planned[n] - of.apart[d]) for n, d in enumerate(at)]
        cost = (max(at), sum(map(bool, moved)), sum(moved))
        best = cost if best is None or cost < best else best
    return best


@pytest.mark.parametrize("seed", range(40))
def test_days_placed_again_beside_every_way_there_is(seed):
    u = uniforms(seed, 0, (60,))
    works, days = 2 + int(u[0] * 3), 4 + int(u[1] * 3)
    fits = tuple(tuple(bool(u[6 * n + d + 2] > 0.35) for d in range(days)) for n in range(works))
    before = tuple(frozenset(b for b in range(n) if u[40 + n + b] > 0.5) for n in range(works))
    apart = tuple(d + 2 * (d >= 3) for d in range(days))  # a weekend
    next_to = {0: 1} if u[55] > 0.5 and 0 not in before[0] else {}
    late = ((0, works - 1, 1 + int(u[56] * 3)), (1, works - 1, 2)) if u[57] > 0.4 else ()
    within = tuple(w for w in late if w[0] != w[1] and w[1] not in before[w[0]])
    before = (*before[:-1], before[-1] | {w[0] for w in within})
    of = Placing(fits, before, tuple(range(works)), next_to, apart, within)
    (at, every), best = place(of), every_way(of)
    assert every
    if best is None:
        assert at is None
        return
    assert at is not None
    moved = [abs(of.planned[n] - of.apart[d]) for n, d in enumerate(at)]
    assert (max(at), sum(map(bool, moved)), sum(moved)) == best

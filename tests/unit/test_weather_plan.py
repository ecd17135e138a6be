"""The plan goes round the forecast: work is moved, not only flagged; without one, the climate."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from tests.unit import programme_roofs as roofs
from tests.unit.skies import shower, sky

from evenfall.model.gated import Gates
from evenfall.stages.programme import programme
from evenfall.stages.programme.gates import ALL, DRY
from evenfall.stages.weather.gates import permits_of
from evenfall.standards.weather_practice import RAIN_CLIMATES, rain_climate

WHEN = roofs.when(start_on="2027-04-12")
PLACE = (WHEN.latitude, WHEN.longitude)
TUESDAY = date(2027, 4, 13)


def planned(forecast):
    return roofs.planned(roofs.roof(), replace(WHEN, permits=permits_of(forecast, *PLACE)))[1]


def opened(days, on):
    """Bays that are closed with VCL on a day, and were felt in the morning."""
    before = {b.number: "felt" for b in days.bays}
    for day in days.days:
        covers = dict(day.evening.covers)
        if day.on == on:
            return [b for b, c in covers.items() if c != "felt" and before[b] == "felt"]
        before = covers
    return []


def test_every_kind_of_gates_is_told_for_every_whole_day():
    told = permits_of(sky(), *PLACE)
    assert {p.gates for p in told} == set(ALL)
    assert {p.on.day for p in told} == {13, 14, 15, 16}


def test_a_forecast_that_is_fair_changes_nothing_that_is_opened():
    plain = roofs.planned(roofs.roof(), WHEN)[1]
    fair = planned(sky())
    assert opened(plain, TUESDAY)
    assert opened(fair, TUESDAY) == opened(plain, TUESDAY)


def test_a_shower_at_one_moves_the_bay_to_another_day():
    """A dry evening is not enough: the roof would lie open at one o'clock."""
    wet = planned(sky(shower(13, 12)))
    assert opened(wet, TUESDAY) == []
    assert all(c != "open" for d in wet.days for _, c in d.evening.covers)
    assert wet.finish_on >= planned(sky()).finish_on


def test_the_hours_of_a_shower_are_left_out_by_the_clock():
    told = {(p.on, p.gates): p.hours for p in permits_of(sky(shower(13, 12)), *PLACE)}
    assert told[TUESDAY, DRY] == ((4.0, 13.0), (14.0, 24.0))
    assert told[TUESDAY, Gates()] == ((4.0, 24.0),)


def test_without_a_forecast_nothing_is_told():
    assert permits_of(None, *PLACE) == ()


def test_without_weather_the_climate_of_the_region_says_how_often_it_rains():
    tasks, _ = roofs.planned(roofs.roof(), WHEN)
    of = roofs.roof()
    found = programme.work(tasks, of.plan, of.downhill, WHEN, of.vcl.nights, roofs.RAIN,
                           rain_climate(6)).wet_evening  # fmt: skip
    assert found == pytest.approx(10.6 / 30, abs=0.005)  # April of the midlands
    assert found.basis == "from memory"
    assert "midlands" in found.where


def test_every_region_has_one_climate_and_every_month_rain():
    regions = [r for c in RAIN_CLIMATES for r in c.regions]
    assert sorted(regions) == list(range(22))
    for climate in RAIN_CLIMATES:
        assert len(climate.wet_days) == len(climate.rain) == 12
        assert all(0 < climate.wet_share(m) < 1 for m in range(1, 13))

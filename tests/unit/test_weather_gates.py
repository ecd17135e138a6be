"""Gates by the hour: rain, wind, dew, five degrees and rising, the night that follows."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from tests.unit.skies import START, shower, sky

from evenfall.model.gated import Gates
from evenfall.stages.weather.gates import asks, passes, permits, worst
from evenfall.stages.weather.sky import clock_hour, look

PLACE = (52.37, -1.83)
DRY = Gates(dry=True)
STUCK = Gates(dry=True, least_c=5.0, dew_k=3.0)
SPREAD = replace(STUCK, then_h=24.0)
TUESDAY = date(2027, 4, 13)


def seen(bend=lambda hour: hour, **more):
    return look(sky(bend, **more), *PLACE)


def hours(found, gates, day=TUESDAY):
    (permit,) = permits(found, [gates], [day])
    return permit.hours


def test_a_shower_at_one_shuts_one_hour_by_the_clock():
    found = seen(shower(13, 12))
    assert hours(found, DRY) == ((4.0, 13.0), (14.0, 24.0))


def test_a_chance_of_rain_above_the_limit_shuts_too():
    assert hours(seen(shower(13, 12, mm=0.0, chance=21)), DRY) == ((4.0, 13.0), (14.0, 24.0))
    assert hours(seen(shower(13, 12, mm=0.0, chance=20)), DRY) == ((4.0, 24.0),)


def test_wind_and_gusts_each_shut():
    limit = Gates(wind_m_s=7.6)

    def windy(hour):
        return replace(hour, wind_m_s=8.0, gust_m_s=9.0) if hour.at.hour == 9 else hour

    def gusty(hour):
        return replace(hour, gust_m_s=11.7) if hour.at.hour == 9 else hour

    assert hours(seen(windy), limit) == ((4.0, 10.0), (11.0, 24.0))
    assert hours(seen(gusty), limit) == ((4.0, 10.0), (11.0, 24.0))


def test_without_gusts_the_ratio_of_the_limits_is_taken():
    def untold(hour):
        return replace(hour, wind_m_s=7.0, gust_m_s=None)

    found = seen(untold)
    assert found.gust[0] == pytest.approx(7.0 * 35 / 23)


def test_a_clear_night_lies_below_the_air_and_a_cloudy_one_hardly():
    clear = seen(lambda hour: replace(hour, cloud_percent=0, wind_m_s=0.5))
    cloudy = seen(lambda hour: replace(hour, cloud_percent=100))
    night = clear.index(START)
    assert clear.air[night] - clear.surface[night] > 5
    assert cloudy.air[night] - cloudy.surface[night] == pytest.approx(0.0, abs=1e-9)


def test_by_day_the_sun_is_not_counted():
    found = seen(lambda hour: replace(hour, cloud_percent=0))
    noon = found.index(START) + 8
    assert found.surface[noon] == found.air[noon]


def test_clouds_that_are_not_told_are_a_clear_sky():
    untold = seen(lambda hour: replace(hour, cloud_percent=None))
    clear = seen(lambda hour: replace(hour, cloud_percent=0))
    assert np.array_equal(untold.surface, clear.surface)


def test_damp_air_shuts_bonding_however_dry_it_looks():
    """Above about 82 % a surface at the air is within 3 K of its dew point (handbook table)."""
    assert hours(seen(lambda hour: replace(hour, humidity_percent=86)), STUCK) == ()
    assert hours(seen(lambda hour: replace(hour, humidity_percent=72)), STUCK) != ()


def cold(hour, least=2.0):
    """Mornings that rise through five degrees at nine by the clock."""
    by_clock = (hour.at + timedelta(hours=1)).hour
    rise = least + (by_clock - 6) if by_clock <= 15 else least + 9 - (by_clock - 15)
    return replace(hour, air_c=rise)


def test_at_five_degrees_bonding_begins_if_it_rises():
    first = hours(seen(cold), Gates(least_c=5.0))[0]
    assert first[0] == 9.0


def test_five_degrees_and_falling_is_shut_before_it_is_cold():
    """The air passes five degrees at 21 h; bonding stops hours before, the bond must hold."""
    last = hours(seen(cold), Gates(least_c=5.0))[-1]
    assert 14.0 <= last[1] <= 17.0


def test_a_cold_night_shuts_the_sheet_though_the_day_is_warm():
    def frosty(hour):
        return replace(hour, air_c=1.0) if (hour.at.day, hour.at.hour) == (14, 3) else hour

    assert hours(seen(), SPREAD) != ()
    assert hours(seen(frosty), SPREAD) == ()
    assert hours(seen(frosty), STUCK) != ()


def test_hours_whose_night_is_not_in_the_forecast_are_shut():
    found = seen(hours=30)
    assert hours(found, SPREAD) == ((4.0, 10.0),)


def test_a_day_that_is_not_in_the_forecast_is_not_spoken_of():
    assert permits(seen(), [DRY], [date(2027, 4, 20)]) == ()


def test_the_least_safe_figure_is_the_worst_hour_of_those_asked_about():
    found = seen(shower(13, 12, mm=1.4))
    (rain, chance) = worst(found, DRY, slice(5, 12))
    assert (rain.what, rain.value, rain.passes) == ("rain", 1.4, False)
    assert clock_hour(rain.at) == 13.0
    assert (chance.what, chance.value, chance.passes) == ("chance", 60, False)


def test_every_ask_has_its_figure():
    full = Gates(dry=True, least_c=5.0, then_h=24.0, dew_k=3.0, wind_m_s=7.6)
    assert [w for w, _ in asks(full)] == [
        "rain", "chance", "wind", "gusts", "dew", "cold", "night", "frost",
    ]  # fmt: skip
    assert len(worst(seen(), full, slice(5, 12))) == 8
    assert passes(seen(), Gates()).all()

"""Sunrise and sunset against the independent library astral; British clock time by the rule."""

from __future__ import annotations

from datetime import date
from zoneinfo import ZoneInfo

import pytest
from astral import Observer
from astral.sun import sun

from evenfall.calc.daylight import daylight

PLACES = {"Plymouth": (50.4, -4.1), "Leeds": (53.8, -1.5), "Wick": (58.4, -3.1)}
DAYS = ["2026-12-21", "2027-03-27", "2027-03-28", "2027-06-21", "2027-10-30", "2027-10-31"]


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("day", DAYS)
def test_sunrise_and_sunset_agree_within_two_minutes(place, day):
    latitude, longitude = PLACES[place]
    on, zone = date.fromisoformat(day), ZoneInfo("Europe/London")
    told = sun(Observer(latitude, longitude), date=on, tzinfo=zone)
    expected = [
        told[k].hour + told[k].minute / 60 + told[k].second / 3600 for k in ("sunrise", "sunset")
    ]
    assert daylight(latitude, longitude, on) == pytest.approx(expected, abs=2 / 60)

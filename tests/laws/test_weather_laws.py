"""Laws of weather: drier never ends later; a shower is always seen; no cover, nothing opened."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta

import numpy as np
from hypothesis import example, given, settings
from hypothesis import strategies as st
from tests.unit import programme_roofs as roofs
from tests.unit.skies import NOW, START, sky

from evenfall.calc.weather.chance import uniforms
from evenfall.calc.weather.walk import Need, looks, told, walk
from evenfall.calc.weather.years import DAYS, Years
from evenfall.stages.programme.site import START as START_KINDS
from evenfall.stages.programme.site import kind
from evenfall.stages.weather.morning import Site
from evenfall.stages.weather.morning import answer as answered
from evenfall.stages.weather.opening import Ask, opening
from evenfall.stages.weather.replan import replan
from evenfall.stages.weather.rest import left
from evenfall.stages.weather.situation import Situation
from evenfall.stages.weather.sky import look

WHEN = roofs.when(start_on="2027-04-13")
TASKS, PROGRAMME = roofs.planned(roofs.roof(), WHEN)
PLAN = roofs.roof().plan
SITE = Site(PLAN, PROGRAMME, TASKS.tasks, WHEN, (roofs.DOWN, roofs.RAIN), roofs.STICKY.nights)
COVERS = ((30.0, 30.0),)

NEEDS = (
    Need(8, 16, after=2, opens=True),
    Need(8, 17, after=2, opens=True, bond_h=4, least_c=5.0, dew_k=3.0, warm_night=True),
    Need(8, 14, wet_most=1),
)


def years(seed: int, rain: float) -> Years:
    """A few hundred days with hours of rain at random."""
    u = uniforms(seed, 0, (24, 4 * DAYS))
    air = 9 + 6 * uniforms(seed, 1, (24, 4 * DAYS))
    falls = np.where(u < rain, 1.0, 0.0).astype(np.float32)
    flat = np.full((1, 4 * DAYS), 3.0, dtype=np.float32)
    return Years(falls, air.astype(np.float32), flat, flat, 4)


@settings(max_examples=25)
@given(
    seed=st.integers(0, 999), share=st.floats(0.02, 0.1), kept=st.floats(0, 1),
    plan=st.lists(st.integers(0, 2), min_size=1, max_size=9), start=st.integers(0, 364),
)  # fmt: skip
def test_drier_years_never_finish_a_plan_later(seed, share, kept, plan, start):
    """Rain is taken away hour by hour; the foreman is told right, as the law needs."""
    wetter = years(seed, share)
    dries = uniforms(seed, 2, wetter.rain.shape) > kept
    drier = replace(wetter, rain=np.where(dries, 0, wetter.rain).astype(np.float32))
    ends = []
    for each in (wetter, drier):
        seen = looks(each, NEEDS)
        go = told(seen, uniforms(seed, 3, (4 * DAYS,)), 1.0, 0.0)
        caught = np.stack([s.caught for s in seen])
        found = walk(tuple(plan), go, caught, (True, True, False), np.ones((1, 300), dtype=bool),
                     np.array([start]), 4)  # fmt: skip
        ends.append(np.where(found.finished, found.days, 10_000))
        assert not found.wet.any()
    assert (ends[1] <= ends[0]).all()


wet_hours = st.sets(st.tuples(st.integers(13, 16), st.integers(5, 19)), max_size=14)


def raining(hours):
    def bend(hour):
        if (hour.at.day, hour.at.hour) in hours:
            return replace(hour, rain_mm=0.7, chance_percent=70)
        return hour

    return look(sky(bend), WHEN.latitude, WHEN.longitude)


@settings(max_examples=25)
@given(hours=wet_hours, fewer=st.data())
def test_a_drier_forecast_never_finishes_the_plan_later(hours, fewer):
    drier = fewer.draw(st.sets(st.sampled_from(sorted(hours)))) if hours else set()
    rest = left(PROGRAMME.days, TASKS.tasks, frozenset(), WHEN.crew.start_hour)
    wet, dry = (
        replan(rest, TASKS.tasks, WHEN, raining(h), date(2027, 4, 13)).on for h in (hours, drier)
    )
    assert wet is not None
    assert dry is not None
    assert max(dry) <= max(wet)


@settings(max_examples=25)
@given(hours=wet_hours)
def test_no_day_is_opened_under_rain_and_the_order_holds(hours):
    """A day that opens the roof has no wet hour between its beginning and two hours after it."""
    found = raining(hours)
    rest = left(PROGRAMME.days, TASKS.tasks, frozenset(), WHEN.crew.start_hour)
    placed = replan(rest, TASKS.tasks, WHEN, found, date(2027, 4, 13))
    assert placed.on is not None
    assert len(set(placed.on)) == len(rest)
    for part, on in zip(rest, placed.on, strict=True):
        if not part.need.opens:
            continue
        wet = {h + 1 for day, h in hours if day == on.day and on.month == 4}
        assert not wet & set(range(part.need.first, part.need.shut + part.need.after))
    at = {i: on for part, on in zip(rest, placed.on, strict=True) for i, _ in part.day.work}
    for task in TASKS.tasks:
        for before in task.after:
            if task.id in at and before in at:
                assert at[before] <= at[task.id]


@settings(max_examples=20)
@given(
    wet=st.sets(st.tuples(st.integers(13, 16), st.integers(5, 19)), max_size=9),
    colder=st.lists(st.sampled_from([0, 0, 6, 10]), min_size=5, max_size=5),
    bays=st.integers(0, len(PROGRAMME.bays)), begun=st.booleans(),
    nights=st.sampled_from([5, 6, 8, 19]),
)  # fmt: skip
@example(wet=frozenset(), colder=[10, 0, 0, 10, 6], bays=1, begun=True, nights=19)
@example(
    wet=frozenset({(13, 10), (13, 11)}), colder=[0, 0, 10, 0, 6], bays=0, begun=True, nights=19
)
@example(
    wet=frozenset({(13, 7), (16, 8)}), colder=[10, 10, 0, 0, 0], bays=0, begun=False, nights=19
)
@example(wet=frozenset({(14, 8), (15, 8)}), colder=[0, 0, 0, 0, 0], bays=2, begun=True, nights=5)
def test_what_is_placed_again_is_closed_every_evening_by_the_checkers_own_clock(
    wet, colder, bays, begun, nights
):
    """Rain at any hours, mornings too cold to bond, any bays closed, a VCL of any patience."""

    def bend(told):
        air = told.air_c - colder[told.at.day - 13]
        rain = (told.at.day, told.at.hour) in wet
        return replace(told, air_c=air, rain_mm=0.9 * rain, chance_percent=5 + 60 * rain)

    closed = {b.number for b in PROGRAMME.bays[:bays]}
    ids = {t.id for t in TASKS.tasks if t.bay in closed}
    if bays or begun:  # then all that comes before the first cut is done
        ids |= {t.id for t in TASKS.tasks if kind(t.id) in START_KINDS}
    site = replace(SITE, nights=nights)
    answer = answered(site, sky(bend), Situation(NOW, frozenset(ids), 2, COVERS))
    told = any("The VCL of bay" in why for why in answer.why)
    assert all(told and "lies under its VCL" in fault for fault in answer.faults)
    assert not told or answer.opening is None or answer.opening.area_m2 == 0


@settings(max_examples=20)
@given(hour=st.integers(9, 17), minutes=st.integers(0, 50))
def test_a_planted_shower_is_always_caught(hour, minutes):
    """Whenever it comes, the roof is shut two hours before it, or nothing is opened."""

    def bend(told):
        by_clock = told.at + timedelta(hours=1)
        wet = (by_clock.day, by_clock.hour) == (13, hour)
        return replace(told, rain_mm=0.6, chance_percent=55) if wet else told

    now = NOW + timedelta(minutes=minutes)
    answer = answered(SITE, sky(bend), Situation(now, frozenset(), 2, COVERS))
    assert answer.opening is None or not answer.opening.area_m2 or (
        answer.opening.stop_stripping <= answer.opening.seal_by <= hour - 2
    )  # fmt: skip
    assert not next(h for h in answer.hours if h.hour == hour).dry


@settings(max_examples=60)
@given(
    area=st.floats(1, 60), strip=st.floats(0.5, 20), rest=st.floats(0.5, 30),
    first=st.floats(0, 6), dry=st.floats(7, 24), dark=st.floats(12, 19), covers=st.floats(0, 80),
    hands=st.integers(1, 6),
)  # fmt: skip
def test_what_is_opened_is_covered_shut_in_time_and_grows_with_hands_and_dry_hours(
    area, strip, rest, first, dry, dark, covers, hands
):
    ask = Ask(area, strip, rest, first, 0.5, 8.0, dry, dark, covers)
    answer = opening(ask, hands)
    assert 0 <= answer.area_m2 <= min(area, covers) + 1e-9 or answer.area_m2 == 0
    if answer.area_m2:
        share = answer.area_m2 / area
        assert answer.seal_by <= min(dry - 2, dark - 1)
        assert 8.5 + (first + share * (strip + rest)) / hands <= answer.seal_by + 1e-9
        assert answer.stop_stripping + share * rest / hands <= answer.seal_by + 1e-9
    assert opening(ask, hands + 1).area_m2 >= answer.area_m2
    assert opening(replace(ask, dry_until=dry + 1), hands).area_m2 >= answer.area_m2
    assert opening(replace(ask, reach_m2=0.0), hands).area_m2 == 0


@settings(max_examples=20)
@given(done=st.sets(st.sampled_from([t.id for t in TASKS.tasks])), covers=st.booleans())
def test_a_fair_morning_answers_whatever_is_done_and_no_cover_opens_nothing(done, covers):
    answer = answered(
        SITE, sky(), Situation(NOW, frozenset(done), 2, COVERS if covers else ())
    )  # fmt: skip
    assert answer.finish_on is not None
    if not covers and answer.opening is not None:
        assert answer.opening.area_m2 == 0
        assert any("cover" in why for why in answer.why)


@settings(max_examples=30)
@given(done=st.sets(st.sampled_from([t.id for t in TASKS.tasks])))
def test_what_is_left_of_a_plan_loses_no_hour_and_keeps_its_order(done):
    """Whatever is done first: every hour left stands on a day, after what it waits for."""
    rest = left(PROGRAMME.days, TASKS.tasks, frozenset(done), WHEN.crew.start_hour)
    wanted: dict[str, float] = {}
    for day in PROGRAMME.days:
        for id_, hours in day.work:
            if id_ not in done and "open-and-close" not in id_:
                wanted[id_] = wanted.get(id_, 0.0) + hours
    found: dict[str, float] = {}
    at: dict[str, int] = {}
    for n, part in enumerate(rest):
        for id_, hours in part.day.work:
            found[id_] = found.get(id_, 0.0) + hours
            at[id_] = n
    for id_, hours in wanted.items():
        if hours:
            assert abs(found.get(id_, 0.0) - hours) < 1e-9
    begins = {i: n for n, part in reversed(list(enumerate(rest))) for i, _ in part.day.work}
    for task in TASKS.tasks:
        for before in task.after:
            if task.id in begins and before in at:
                assert at[before] <= begins[task.id]


def test_the_skies_of_these_tests_begin_before_the_day_does():
    assert isinstance(START, datetime)
    assert START < NOW

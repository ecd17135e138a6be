"""This morning: what may be opened, when to stop, bonding, what moves, what is refused."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest
from tests.unit import programme_roofs as roofs
from tests.unit.skies import ISSUED, NOW, START, shower, sky

from evenfall.drawing import to_svg
from evenfall.errors import InvalidInput
from evenfall.model.recorded import DoneWork, SiteRecord
from evenfall.stages.papers.drawn_morning import draw_day
from evenfall.stages.programme.site import BONDED_DOWN, kind
from evenfall.stages.weather import verdict
from evenfall.stages.weather.morning import Site
from evenfall.stages.weather.morning import answer as answered
from evenfall.stages.weather.opening import STRIPPING
from evenfall.stages.weather.situation import Situation, closed_on, done_ids
from evenfall.stages.weather.under_vcl import since

WHEN = roofs.when(start_on="2027-04-12")  # set up on the Monday, so that bay 1 is for Tuesday
TASKS, PROGRAMME = roofs.planned(roofs.roof(), WHEN)
FALL = (roofs.DOWN, roofs.RAIN)
SITE = Site(roofs.roof().plan, PROGRAMME, TASKS.tasks, WHEN, FALL, roofs.STICKY.nights)
LARGE = ((20.0, 20.0),)
SET_UP = frozenset(t.id for t in TASKS.tasks if kind(t.id) in ("set-up", "kerb-build"))


def answer(forecast=None, *, now=NOW, done=SET_UP, people=2, covers=LARGE, contact=False):
    return answered(SITE, forecast or sky(), Situation(now, done, people, covers, contact))


def test_a_fair_morning_goes_by_the_plan():
    found = answer()
    assert found.moves == ()
    assert found.finish_on == PROGRAMME.finish_on
    assert found.why == ()
    assert found.opening.area_m2 == pytest.approx(found.bay_m2)
    assert 8 < found.opening.stop_stripping < found.opening.seal_by <= 15


def test_a_shower_at_one_stops_the_stripping_in_time_and_moves_the_rest():
    found = answer(sky(shower(13, 12)))
    assert 0 < found.opening.area_m2 < found.bay_m2
    assert found.opening.seal_by == 11.0
    assert found.opening.stop_stripping < 11.0
    assert "Dry only until 13:00" in found.why[0]
    assert found.moves[0].was == date(2027, 4, 13)
    assert found.moves[0].now > date(2027, 4, 13)
    assert found.finish_on > PROGRAMME.finish_on


def test_a_shower_in_the_evening_is_no_reason_to_wait():
    late = answer(sky(shower(13, 18)))
    assert late.opening.area_m2 == pytest.approx(late.bay_m2)


def test_rain_at_breakfast_opens_nothing():
    found = answer(sky(shower(13, 7)))
    assert found.opening.area_m2 == 0
    assert found.why


def test_without_a_cover_nothing_is_opened():
    found = answer(covers=())
    assert found.opening.area_m2 == 0
    assert found.covers == ()
    assert "no cover, nothing opened" in found.why[0]


def test_a_small_cover_holds_the_opening_down_to_what_it_reaches():
    found = answer(covers=((4.5, 4.6),))
    assert found.opening.area_m2 == 2.0
    assert found.reach_m2 == pytest.approx(1.5 * 1.6)
    assert "reach over 2.4 m²" in found.why[0]


def test_one_person_less_opens_less_and_stops_sooner():
    found = answer()
    assert found.fewer.hands == 1
    assert found.fewer.area_m2 < found.opening.area_m2


def test_later_in_the_morning_less_can_be_opened():
    noon = answer(sky(issued=NOW + timedelta(hours=3)), now=NOW + timedelta(hours=4, minutes=30))
    assert noon.opening.area_m2 < answer().opening.area_m2
    assert noon.begins > 11.5


def test_what_is_done_is_not_opened_again():
    bay = frozenset(t.id for t in TASKS.tasks if t.bay == 1) | SET_UP
    assert answer().bays[0] == 1
    assert 1 not in answer(done=bay).bays


def test_all_done_is_said():
    found = answer(done=frozenset(t.id for t in TASKS.tasks))
    assert found.why == ("All work is done.",)
    assert found.opening is None


def test_a_day_off_is_said():
    saturday = datetime(2027, 4, 17, 6, tzinfo=UTC)
    found = answer(sky(start=START + timedelta(days=4), issued=saturday), now=saturday)
    assert found.why == ("Nobody works today, by the calendar.",)
    assert found.opening is None


def damp(hour):
    return replace(hour, humidity_percent=93)


def test_a_damp_day_bonds_nothing_and_shows_the_figure():
    found = answer(sky(damp))
    assert found.bond is None
    assert "dew point" in found.bond_why
    assert found.opening.area_m2 == 0
    assert any(not f.passes and "dew" in f.says for f in found.figures)


def test_bonding_ends_two_hours_before_the_roof_nears_its_dew_point():
    def dewy(hour):
        return replace(hour, humidity_percent=90) if hour.at.hour >= 14 else hour

    start, end = answer(sky(dewy)).bond
    assert start >= 8
    assert end == 15 - 2


def test_least_safe_figures_come_with_their_hour_and_limit():
    found = answer(sky(shower(13, 12)))
    worst = found.figures[0]
    assert (worst.says, worst.value, worst.hour, worst.passes) == (
        "rain in an hour",
        0.8,
        13,
        False,
    )


def test_it_says_where_water_leaves_what_to_load_and_the_hold_point():
    found = answer()
    assert "into the gutter" in found.water[0][0]
    assert any("VCL" in item for item in found.load)
    assert found.hold.startswith("Hold point")


REFUSED = {
    "old": (sky(issued=NOW - timedelta(hours=3, minutes=1)), "no older than 3 hours"),
    "future": (sky(issued=NOW + timedelta(hours=1)), "still to come"),
    "no time": (sky(issued=None), "does not say when it was made"),
    "past": (sky(hours=2), "hours from now on"),
    "typical": (replace(sky(), kind="typical"), "chance_percent"),
    "hours": (replace(sky(), kind="hours"), "chance_percent"),
    "not yet": (sky(start=NOW + timedelta(days=2), issued=ISSUED), "ask for today's hours"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_a_forecast_that_cannot_speak_of_this_morning_is_refused(name):
    forecast, said = REFUSED[name]
    with pytest.raises(InvalidInput, match=said):
        answer(forecast)


def test_a_forecast_of_exactly_three_hours_is_still_taken():
    assert answer(sky(issued=NOW - timedelta(hours=3))).opening.area_m2


def test_what_the_record_and_the_morning_say_is_put_together():
    record = SiteRecord(done=(DoneWork(bay=1, on=date(2027, 4, 13)),
                              DoneWork(bay=2, on=date(2027, 4, 20))))  # fmt: skip
    ids = done_ids(record, ("set-up",), PROGRAMME, TASKS.tasks, date(2027, 4, 14))
    assert {t.id for t in TASKS.tasks if t.bay == 1} <= ids
    assert not {t.id for t in TASKS.tasks if t.bay == 2} & ids
    assert "task:set-up" in ids


@pytest.mark.parametrize("word", ["bay:9", "stripping", "strip-felt@9"])
def test_work_that_the_plan_does_not_have_is_refused(word):
    with pytest.raises(InvalidInput, match="bay:1 to bay:"):
        done_ids(SiteRecord(), (word,), PROGRAMME, TASKS.tasks, date(2027, 4, 14))


def test_the_day_is_drawn_as_a_tape_with_its_hook():
    drawing = draw_day(answer(sky(shower(13, 12))))
    assert "stop stripping at" in drawing.alt
    assert "the roof may not lie open at 13:00" in drawing.alt
    svg = to_svg(drawing, None, "paper", prefix="morning")
    assert "stop stripping" in svg
    assert "you decide" in svg
    nothing = draw_day(answer(covers=()))
    assert "open nothing" in nothing.alt
    assert "open nothing" in to_svg(nothing, None, "print", prefix="morning")


def test_the_checker_goes_over_the_rest_and_finds_no_fault_on_a_fair_morning():
    assert answer().faults == ()


@pytest.mark.parametrize("closed", [(), (1,), (1, 2, 3)])
@pytest.mark.parametrize("hour", [7, 11, 15])
def test_what_a_shower_moves_is_still_closed_every_evening(closed, hour):
    done = SET_UP | {t.id for t in TASKS.tasks if t.bay in closed}
    found = answer(sky(shower(13, hour)), done=done)
    assert found.faults == ()
    assert found.fewest


def test_a_bay_half_open_on_a_wet_day_is_told_by_the_checker():
    half = SET_UP | {"task:before-strip", "task:strip-edges@1", "task:strip-felt@1"}
    found = answer(sky(lambda h: replace(h, rain_mm=1.9, chance_percent=95)), done=half)
    assert "bay 1 is open on the evening of 2027-04-13" in found.faults


def test_a_roof_whose_water_cannot_leave_is_told_by_the_checker():
    first, *rest = SITE.plan.sides
    walled = replace(SITE.plan, sides=(replace(first, kind="parapet"), *rest))
    now = Situation(NOW, SET_UP, 2, LARGE)
    found = answered(replace(SITE, plan=walled), sky(), now).faults
    assert any("is a bath" in f for f in found)


def test_covers_too_few_for_the_bays_of_the_plan_are_told_by_the_checker():
    assert any("the cover reaches 0.0" in f for f in answer(covers=((3.0, 3.0),)).faults)


# --- the hands and covers that are there ---

STRIPS = {t.says for t in TASKS.tasks if kind(t.id) in STRIPPING}
SHEETED = frozenset(t.id for t in TASKS.tasks if t.bay) | SET_UP | {"task:before-strip"}


def test_one_hand_of_two_is_given_no_day_of_two():
    found = answer(people=1)
    assert found.moves
    assert found.moves[0].now > found.on
    assert not STRIPS & set(found.says)
    assert 0 < found.opening.area_m2 < found.bay_m2
    assert found.faults == ()


def test_the_verdict_counts_the_hands_of_today_and_the_crew_of_other_days(monkeypatch):
    seen = []
    kept = verdict.check

    def look(made, *rest):
        seen.extend((d.on, d.people) for d in made.days)
        return kept(made, *rest)

    monkeypatch.setattr(verdict, "check", look)
    assert answer(people=3).faults == ()
    assert dict(seen)[NOW.date()] == 3
    assert {people for on, people in seen if on != NOW.date()} == {2}


def test_a_sheet_that_takes_two_waits_for_the_second_and_the_words_say_why():
    assert "the sheet" in "; ".join(answer(done=SHEETED).load)
    found = answer(done=SHEETED, people=1)
    assert "the sheet" not in "; ".join(found.load)
    assert found.moves[0].now > found.on
    assert found.why[0].startswith("1 of the crew of 2 are there, too few")
    assert found.faults == ()


@pytest.mark.parametrize("covers", [(), ((3.0, 3.0),), ((4.5, 4.6),)])
def test_without_a_cover_that_reaches_today_strips_nothing_and_the_rest_moves(covers):
    found = answer(covers=covers)
    assert not STRIPS & set(found.says)
    assert found.moves[0].was == found.on < found.moves[0].now
    assert found.finish_on > PROGRAMME.finish_on
    assert bool(found.load) == bool(found.opening.area_m2)


def test_no_cover_at_all_is_not_taken_for_a_cover_not_told():
    faults = [f for f in answer(covers=()).faults if "the cover reaches 0.0" in f]
    assert faults
    assert not any("open on 2027-04-13" in f for f in faults)


HALF = SET_UP | {"task:before-strip", "task:strip-edges@1", "task:strip-felt@1"}


def test_a_bay_that_lies_open_comes_before_all_else_where_the_hands_do_not_close_it():
    late = NOW + timedelta(hours=7)
    found = answer(sky(issued=late), done=HALF, people=1, now=late)
    assert "Bay 1 lies open now: cover or close all of it first" in found.why[0]
    assert found.says == ("cover or close all of bay 1, before all else",)
    assert found.opening.area_m2 == 0
    assert any("VCL" in item for item in found.load)
    assert "bay 1 is open on the evening of 2027-04-13" in found.faults


def test_a_bay_that_lies_open_and_is_closed_today_needs_no_such_words():
    found = answer(done=HALF)
    assert not any("lies open now" in why for why in found.why)
    assert found.faults == ()


def test_a_gale_is_not_called_rain_and_no_hour_after_it_is_told_to_shut_by():
    def gale(from_hour):
        return sky(lambda h: replace(h, wind_m_s=18.0) if h.at.hour >= from_hour else h)

    early, noon = answer(gale(9)), answer(gale(14))
    assert "The wind lets it lie open only until" in early.why[0]
    assert "too soon to open any of it" in early.why[0]
    assert early.opening.area_m2 == 0 < noon.opening.area_m2
    assert "by 13:00" in noon.why[0]  # two hours before 15:00 by the clock


def test_a_limit_is_told_to_one_decimal():
    found = answer(sky(lambda h: replace(h, wind_m_s=18.0)))
    assert re.search(r", \d+\.\d asked$", found.bond_why)


def test_a_loose_sheet_that_a_wet_day_leaves_unbonded_is_told():
    found = answer(sky(wet_from(13, 14)), done=SHEETED | BOARDED)
    assert any("is not bonded by the evening of 2027-04-13" in f for f in found.faults)


# --- the VCL's own limit of nights ---

BOARDED = frozenset(
    t.id for t in TASKS.tasks if t.bays and kind(t.id) not in BONDED_DOWN
)  # fmt: skip
BAYS = {n: frozenset(t.id for t in TASKS.tasks if t.bay == n) for n in (1, 2, 3)}
SHEET = frozenset(t.id for t in TASKS.tasks if kind(t.id) == "sheet-unroll")


def wet_from(day, until):
    """Rain all day long on some days of the forecast."""

    def bend(hour):
        wet = day <= hour.at.day < until
        return replace(hour, rain_mm=1.7, chance_percent=95) if wet else hour

    return bend


def limited(nights, forecast, closed=(), told=()):
    """The answer with a VCL that stands so many nights."""
    done = SET_UP | frozenset().union(*(BAYS[n] for n in closed))
    now = Situation(NOW, done, 2, LARGE, closed=told)
    return answered(replace(SITE, nights=nights), forecast, now)


def test_a_sheet_that_a_wet_week_puts_off_is_told_once_its_vcl_no_longer_stands():
    """Bay 1 was closed last Wednesday; its VCL stands eight nights, to Thursday."""
    told = ((1, date(2027, 4, 7)),)
    found = limited(8, sky(wet_from(13, 17)), closed=(1,), told=told)
    assert "The VCL of bay 1 stands 8 nights, from Wed 7 Apr to Thu 15 Apr" in found.why[0]
    assert "a temporary cover over it" in found.why[0]
    assert found.opening is None or found.opening.area_m2 == 0
    assert any("bay 1 lies under its VCL for night 9 on the evening of 2027-04-15" in f
               for f in found.faults)  # fmt: skip


def test_bays_wait_under_their_felt_for_a_sheet_that_would_come_too_late():
    """The weather lets bay 1 be opened today; its sheet could not follow within the nights."""
    longest = PROGRAMME.nights_on_vcl
    wet = sky(wet_from(14, 21), hours=24 * 12)
    free, kept = limited(19, wet), limited(longest, wet)
    assert free.opening.area_m2 > 0
    assert kept.faults == ()
    assert kept.opening is None or kept.opening.area_m2 == 0
    assert kept.finish_on >= free.finish_on


def test_a_day_that_nobody_told_is_that_of_the_plan_at_the_latest_yesterday():
    days = {n: next(d.on for d in PROGRAMME.days for i, _ in d.work if i in BAYS[n]) for n in BAYS}
    later = max(days.values()) + timedelta(days=3)
    done = BAYS[1] | BAYS[2]
    told = since(TASKS.tasks, PROGRAMME, done, {2: date(2027, 4, 12)}, later)
    assert told == ((1, days[1]), (2, date(2027, 4, 12)))
    early = since(TASKS.tasks, PROGRAMME, done, {}, days[1])
    assert early[0] == (1, days[1] - timedelta(days=1))


def test_the_record_tells_since_when_a_bay_is_closed():
    record = SiteRecord(done=(DoneWork(bay=2, on=date(2027, 4, 15)),
                              DoneWork(task="strip-felt@2", on=date(2027, 4, 14)),
                              DoneWork(task="strip-felt@3", on=date(2027, 4, 18))))  # fmt: skip
    found = closed_on(record, TASKS.tasks, date(2027, 4, 16))
    assert found == ((2, date(2027, 4, 14)),)

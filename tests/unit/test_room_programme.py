"""Programme: working days, what keeps the rain out, where tonight's water goes, and remedies."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from tests.unit import programme_roofs as roofs

from evenfall.errors import InvalidInput
from evenfall.model.weather import Weather, WeatherDay
from evenfall.stages.programme import programme as room
from evenfall.stages.programme import tasks as tasks_room
from evenfall.stages.programme.evening_check import check
from evenfall.stages.programme.gang import Gang
from evenfall.stages.programme.site import Block, way
from evenfall.stages.programme.water_out import ways_out
from evenfall.standards.weather_practice import rain_climate

FLAT_NO_NIGHT = replace(roofs.STICKY, name="plain", kind="polythene", nights=0)


def codes(tasks, days):
    return {f.code for f in (*tasks.findings, *days.findings)}


def found(code, tasks, days):
    return next(f for f in (*tasks.findings, *days.findings) if f.code == code)


def covers(days, n):
    return [cover for _, cover in days.days[n].evening.covers]


def test_a_plain_roof_is_closed_every_evening():
    of, time = roofs.roof(), roofs.when()
    tasks, days = roofs.planned(of, time)
    assert check(days, of.plan, tasks.tasks, time) == ()
    assert "evenings-closed" in codes(tasks, days)


def test_the_roof_goes_from_felt_over_vcl_to_sheet():
    _, days = roofs.planned(roofs.roof(), roofs.when())
    order = ["felt", "vcl", "sheet"]
    for bay in range(len(days.bays)):
        seen = [order.index(covers(days, n)[bay]) for n in range(len(days.days))]
        assert seen == sorted(seen)
        assert seen[-1] == 2


def test_nobody_works_at_the_weekend_or_on_a_day_off():
    off = (date(2027, 4, 14), date(2027, 4, 19))
    _, days = roofs.planned(roofs.roof(), roofs.when(days_off=off))
    worked = [d.on for d in days.days]
    assert not set(off) & set(worked)
    assert all(on.weekday() < 5 for on in worked)


def test_saturdays_are_worked_where_the_calendar_says_so():
    _, days = roofs.planned(roofs.roof(), roofs.when(start_on="2027-04-13", saturdays=True))
    assert date(2027, 4, 17) in [d.on for d in days.days]


def test_a_calendar_of_nothing_but_days_off_is_refused():
    first = date(2027, 4, 12)
    off = tuple(first + timedelta(days=n) for n in range(2000))
    with pytest.raises(InvalidInput, match="no days to work on"):
        roofs.planned(roofs.roof(), roofs.when(days_off=off))


def test_weekends_count_as_nights_on_the_vcl():
    _, days = roofs.planned(roofs.roof(), roofs.when(start_on="2027-04-15"))
    opened = next(d.on for n, d in enumerate(days.days) if covers(days, n)[0] == "vcl")
    sheeted = next(d.on for n, d in enumerate(days.days) if covers(days, n)[0] == "sheet")
    assert days.nights_on_vcl == (sheeted - opened).days > 4


def test_in_winter_the_roof_is_shut_before_it_is_dark():
    of, time = roofs.roof(), roofs.when(start_on="2026-12-14", start_hour=8.5)
    tasks, days = roofs.planned(of, time)
    for day in days.days:
        assert day.evening.sealed_by <= day.evening.dusk - 1
        assert 15.7 < day.evening.dusk < 16.1
    assert check(days, of.plan, tasks.tasks, time) == ()


def test_short_days_make_more_bays():
    summer, winter = (
        roofs.planned(roofs.roof(), roofs.when(start_on=on, hours=9.5))[1]
        for on in ("2027-06-14", "2026-12-14")
    )
    assert len(winter.bays) > len(summer.bays)


def test_more_people_open_fewer_and_larger_bays():
    sizes = [len(roofs.planned(roofs.roof(), roofs.when(people=n))[1].bays) for n in (2, 3, 5)]
    assert sizes == sorted(sizes, reverse=True)
    assert sizes[0] > sizes[-1]


ZONE = Block(usual=10.0, least_slow=8.8, area=25.4)
TWO = Gang(2, 0.5, 0.7)


def test_boards_and_sheet_go_down_in_one_day_where_they_fit():
    assert way(ZONE, TWO, usual=15.0, sure=12.6) == "bonded"


def test_a_sheet_that_cannot_be_bonded_in_the_day_lies_loose_for_the_night():
    assert way(replace(ZONE, usual=14.0), TWO, usual=15.0, sure=12.6) == "loose"


def test_more_than_thirty_square_metres_is_too_much_for_two_in_one_day():
    assert way(replace(ZONE, area=31.0), TWO, usual=15.0, sure=12.6) == "loose"


def test_boards_that_cannot_even_be_covered_are_not_begun():
    assert way(replace(ZONE, least_slow=12.8), TWO, usual=15.0, sure=12.6) is None


def test_a_large_roof_gets_its_sheet_in_parts_with_a_seam_along_the_fall():
    of, time = roofs.roof(roofs.oblong(11.7, 5.6)), roofs.when()
    tasks, days = roofs.planned(of, time)
    assert "sheet-in-parts" in codes(tasks, days)
    assert check(days, of.plan, tasks.tasks, time) == ()
    seam = next(t for t in tasks.tasks if t.id == "task:seam")
    assert seam.quantity.value == pytest.approx(
        5.6 * (sum("field" in t.id for t in tasks.tasks) - 1)
    )


def test_a_loose_sheet_does_not_wait_over_a_weekend():
    """From every day of the week: no evening before a day off has a sheet that is not bonded."""
    for day in range(12, 17):
        of = roofs.roof(roofs.oblong(6.9, 4.7))
        time = roofs.when(start_on=f"2027-04-{day}")
        tasks, days = roofs.planned(of, time)
        assert any("loose" in d.says for d in days.days)
        assert check(days, of.plan, tasks.tasks, time) == ()


def test_dry_weather_is_wanted_for_strip_and_vcl_and_two_hours_more():
    _, days = roofs.planned(roofs.roof(), roofs.when())
    day = next(d for d in days.days if "close with VCL" in d.says)
    assert day.dry_hours == pytest.approx(day.evening.sealed_by - 8.0 + 2)
    assert days.days[-1].dry_hours == 0


def test_water_leaves_by_the_eaves_that_the_fall_reaches():
    of = roofs.roof()
    assert ways_out(of.plan, (0.0, -1.0)) == ("side:A-B",)
    assert ways_out(of.plan, (0.0, 1.0)) == ()


def test_water_leaves_by_outlets_too():
    drain = roofs.opening("outlet", "drain", 3.0, 0.4, 0.1, 0.1)
    of = roofs.oblong(6.2, 4.1, ("parapet", "parapet", "wall", "parapet"), (drain,))
    assert ways_out(of, (0.0, -1.0)) == ("opening:drain",)


def test_a_roof_with_no_way_out_is_stopped_and_turned_to_its_eaves():
    of = roofs.roof(downhill=(0.0, 1.0))
    tasks, days = roofs.planned(of, roofs.when())
    told = found("no-way-out", tasks, days)
    assert told.level == "stop"
    assert told.remedy.changes[0].value == "A-B"
    mended = roofs.planned(roofs.roof(downhill=of.plan.side("A-B").outwards), roofs.when())
    assert "no-way-out" not in codes(*mended)


def test_the_edge_timber_gets_a_gap_that_carries_the_rain_of_roof_and_wall():
    """Weir formula of EN 12056-3 for 25 mm: 1.562 l/s take 299.9 mm; here 25.42 + 8.37 m2."""
    told = found("evening-gap", *roofs.planned(roofs.roof(), roofs.when()))
    flow = 0.0215 * (25.42 + 0.5 * 6.2 * 3.0)
    assert told.value == pytest.approx(299.9 * flow / 1.562, abs=10)
    assert told.value >= 299.9 * flow / 1.562
    assert "A-B" in told.says


def test_no_gap_is_wanted_where_the_vcl_is_never_the_roof():
    small = roofs.roof(roofs.oblong(2.6, 2.3), vcl=FLAT_NO_NIGHT)
    tasks, days = roofs.planned(small, roofs.when(people=3))
    assert days.nights_on_vcl == 0
    assert "evening-gap" not in codes(tasks, days)


def test_a_vcl_that_stands_no_night_gets_its_sheet_the_same_day():
    of, time = roofs.roof(roofs.oblong(2.6, 2.3), vcl=FLAT_NO_NIGHT), roofs.when(people=3)
    tasks, days = roofs.planned(of, time)
    assert "vcl-nights" not in codes(tasks, days)
    assert check(days, of.plan, tasks.tasks, time) == ()


def test_a_vcl_that_stands_no_night_on_a_large_roof_is_stopped():
    tasks, days = roofs.planned(roofs.roof(vcl=FLAT_NO_NIGHT), roofs.when())
    told = found("vcl-nights", tasks, days)
    assert told.level == "stop"
    assert told.limit == 0
    assert told.value == days.nights_on_vcl


def test_another_vcl_clears_the_nights():
    of = roofs.roof(
        vcl=FLAT_NO_NIGHT,
        other_vcls=(("taped", "polythene", 1), ("sticky", "self_adhesive_bitumen", 19)),
    )
    told = found("vcl-nights", *roofs.planned(of, roofs.when()))
    assert told.remedy.changes[0].path == "design.vcl"
    assert told.remedy.changes[0].value == "sticky"
    mended = replace(of, vcl=roofs.STICKY)
    assert "vcl-nights" not in codes(*roofs.planned(mended, roofs.when()))


def test_the_fewest_people_that_clear_a_stop_are_told():
    of = roofs.roof(vcl=FLAT_NO_NIGHT)
    told = found("vcl-nights", *roofs.planned(of, roofs.when()))
    (change,) = told.remedy.changes
    assert change.path == "crew.people"
    enough = [
        "vcl-nights" not in codes(*roofs.planned(of, roofs.when(people=n)))
        for n in range(3, change.value + 1)
    ]
    assert enough == [False] * (len(enough) - 1) + [True]


def slowed(factor):
    return tuple(
        o.model_copy(update={k: getattr(o, k) * factor for k in ("low", "typical", "high")})
        if o.task != "open-and-close"
        else o
        for o in roofs.OUTPUTS
    )


def test_a_bay_that_cannot_be_closed_is_stopped_and_told_as_open():
    of, time = roofs.roof(), roofs.when(people=1, hours=5.0)
    tasks, days = roofs.planned(of, time, slowed(2.2))
    told = found("bay-open", tasks, days)
    assert told.level == "stop"
    assert told.value > told.limit
    assert any("open" in covers(days, n) for n in range(len(days.days)))
    assert "evenings-closed" not in codes(tasks, days)


def test_one_person_is_too_few_for_a_sheet_and_a_second_clears_it():
    tasks, days = roofs.planned(roofs.roof(), roofs.when(people=1))
    told = found("hands-short", tasks, days)
    assert told.level == "stop"
    assert [(c.path, c.value) for c in told.remedy.changes] == [("crew.people", 2)]


def test_a_stop_that_nothing_here_clears_asks_for_a_temporary_roof():
    tasks, days = roofs.planned(roofs.roof(), roofs.when(people=2, hours=4.0), slowed(9.0))
    told = found("bay-open", tasks, days)
    assert told.remedy.changes == ()
    assert "temporary roof" in told.remedy.says


def test_opening_the_site_cannot_take_all_day():
    outputs = tuple(
        o.model_copy(update={"high": 8.2}) if o.task == "open-and-close" else o
        for o in roofs.OUTPUTS
    )
    with pytest.raises(InvalidInput, match=r"the site takes up to 8\.2 hours"):
        roofs.planned(roofs.roof(), roofs.when(), outputs)


def test_days_in_reserve_go_by_the_month():
    """Trade handbook 4.5: 1 in 4, summer 1 in 6, winter 1 in 3; rounded up."""
    april, june, december = (
        roofs.planned(roofs.roof(), roofs.when(start_on=on))[1]
        for on in ("2027-04-05", "2027-06-07", "2026-12-07")
    )
    for days, one_in in ((april, 4), (june, 6), (december, 3)):
        assert days.wet_reserve.value == -(-len(days.days) // one_in)


def weather(rain):
    days = (
        WeatherDay(on=date(2025, 4, n + 1), rain_mm=mm, least_c=3, most_c=12, wind_m_s=4)
        for n, mm in enumerate(rain)
    )
    other = WeatherDay(on=date(2025, 9, 1), rain_mm=30, least_c=3, most_c=12, wind_m_s=4)
    return Weather(source="a gauge", days=(*days, other))


def test_the_chance_of_a_wet_evening_is_the_share_of_wet_days_of_the_months_of_work():
    of, time = roofs.roof(), roofs.when(start_on="2027-04-05")
    tasks = tasks_room.work(of, time, roofs.OUTPUTS, "demo")
    days = room.work(
        tasks, of.plan, of.downhill, time, 19, roofs.RAIN, weather([0, 0.9, 1.0, 7.5, 0, 0, 0, 0])
    )
    assert days.wet_evening == pytest.approx(2 / 8)
    assert days.wet_evening.basis == "measured"


def test_without_weather_no_chance_is_told():
    assert roofs.planned(roofs.roof(), roofs.when())[1].wet_evening is None


def test_the_same_roof_gives_the_same_programme():
    first, again = (roofs.planned(roofs.roof(), roofs.when()) for _ in range(2))
    assert first == again


def test_each_month_of_work_has_its_own_chance_of_a_wet_evening():
    of, time = roofs.roof(), roofs.when(start_on="2027-04-30")
    tasks = tasks_room.work(of, time, roofs.OUTPUTS, "demo")
    climate = rain_climate(6)
    days = room.work(tasks, of.plan, of.downhill, time, 19, roofs.RAIN, climate)
    months = sorted({day.on.month for day in days.days})
    assert len(months) > 1
    assert [month for month, _ in days.wet_months] == months
    assert all(chance == pytest.approx(climate.wet_share(m)) for m, chance in days.wet_months)

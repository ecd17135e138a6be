"""Public holidays in the programme: kept by default, worked where the firm says so."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from tests.unit import programme_roofs as roofs

from evenfall.model import rates
from evenfall.stages.programme.booking import bookings, dated
from evenfall.stages.programme.evening_check import check

MAY_DAY = date(2027, 5, 3)
GOOD_FRIDAY, EASTER_MONDAY = date(2027, 3, 26), date(2027, 3, 29)


def over(start, **calendar):
    time = roofs.when(start_on=start)
    time = replace(time, calendar=time.calendar.model_copy(update=calendar))
    return time, *roofs.planned(roofs.roof(), time)


def test_nobody_works_on_a_public_holiday_and_the_programme_says_so():
    _, _, days = over("2027-04-30")
    assert MAY_DAY not in {d.on for d in days.days}
    assert [(d.on, d.name) for d in days.off] == [(MAY_DAY, "early May bank holiday")]
    (note,) = [f for f in days.findings if f.code == "public-holiday"]
    assert "Mon 3 May (early May bank holiday)" in note.says
    assert note.basis == "from memory"


def test_a_firm_that_works_them_loses_no_day():
    _, _, days = over("2027-04-30", works_holidays=True)
    assert days.days[1].on == MAY_DAY
    assert not days.off
    assert not days.holidays


def test_the_checker_names_the_holiday_that_is_worked():
    time, work, days = over("2027-04-30", works_holidays=True)
    kept = replace(time, calendar=time.calendar.model_copy(update={"works_holidays": False}))
    plan = roofs.roof().plan
    assert not any("holiday" in f for f in check(days, plan, work.tasks, time))
    assert "work on 2027-05-03, early May bank holiday" in check(days, plan, work.tasks, kept)


def test_no_sheet_lies_loose_over_easter():
    time, work, days = over("2027-03-24")
    assert not {GOOD_FRIDAY, EASTER_MONDAY} & {d.on for d in days.days}
    assert not check(days, roofs.roof().plan, work.tasks, time)


def test_the_last_day_to_order_goes_back_over_easter_and_an_order_made_on_it_goes_on():
    scaffold = rates.Booking(name="scaffold", says="Scaffold", kind="hired", lead_days=14)
    known = frozenset(("scaffold",))
    (one,) = bookings((scaffold,), (), (), GOOD_FRIDAY, known, "england")
    assert one.ready_on == date(2027, 4, 13)  # ordered on the Tuesday after Easter
    (scot,) = bookings((scaffold,), (), (), GOOD_FRIDAY, known, "scotland")
    assert scot.ready_on == date(2027, 4, 12)  # no Easter Monday there
    _, _, days = over("2027-04-08")
    first = next(d for d in days.days if any("@1" in i for i, _ in d.work))
    lead = (first.on - EASTER_MONDAY).days
    (late,) = dated((replace(one, lead_days=lead),), days.days, "england")
    assert late.order_by == date(2027, 3, 25)  # the Thursday before

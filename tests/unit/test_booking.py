"""Booking: last days to order, and no felt cut while something is awaited."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from tests.unit import programme_roofs as roofs

from evenfall.errors import InvalidInput
from evenfall.model import rates
from evenfall.model.recorded import Booked
from evenfall.stages.programme.booking import bookings

ON = date(2027, 4, 1)  # a Thursday
KNOWN = frozenset(("scaffold", "rubber-sheet", "scullery-window"))
SCAFFOLD = rates.Booking(name="scaffold", says="Scaffold", kind="hired", lead_days=16)
SHEET = rates.Booking(
    name="rubber-sheet", says="Sheet", kind="bought", lead_days=23, before="sheet"
)


def made(*wanted, booked=(), windows=()):
    return bookings(wanted, windows, booked, ON, KNOWN, "england")


def planned(*found):
    time = replace(roofs.when(start_on="2027-04-12"), bookings=found)
    return roofs.planned(roofs.roof(), time)[1]


def first(days, kind: str) -> date:
    return next(d.on for d in days.days if any(kind in i for i, _ in d.work))


def test_what_is_open_on_a_saturday_is_ordered_on_the_monday():
    (one,) = bookings((SCAFFOLD,), (), (), date(2027, 4, 3), KNOWN, "england")
    assert one.ready_on == date(2027, 4, 5) + timedelta(days=16)


def test_no_felt_is_cut_before_the_scaffold_is_there():
    days = planned(*made(SCAFFOLD))
    assert first(days, "set-up") == date(2027, 4, 12)
    assert first(days, "strip-felt") == ON + timedelta(days=18)  # the 17th is a Saturday
    late = next(f for f in days.findings if f.code == "booking-late")
    assert "there on Sat 17 Apr 2027" in late.says


def test_a_sheet_that_comes_late_holds_up_the_sheet_alone():
    days = planned(*made(SHEET))
    assert first(days, "strip-felt") < ON + timedelta(days=23) <= first(days, "sheet-unroll")


def test_the_last_day_to_order_is_a_day_on_which_somebody_answers():
    for lead in range(4, 12):
        days = planned(*made(SCAFFOLD.model_copy(update={"lead_days": lead})))
        (one,) = days.bookings
        assert one.order_by.weekday() < 5
        assert 0 <= (one.needed_on - one.order_by).days - lead <= 2


def test_what_is_ordered_comes_when_it_was_promised():
    booked = (Booked(name="scaffold", ordered_on=date(2027, 3, 20), here_on=date(2027, 4, 9)),)
    (one,) = made(SCAFFOLD, booked=booked)
    assert one.ready_on == date(2027, 4, 9)
    (other,) = made(SCAFFOLD, booked=(booked[0].model_copy(update={"here_on": None}),))
    assert other.ready_on == date(2027, 4, 5)
    days = planned(one)
    assert not {f.code for f in days.findings} & {"booking-late", "to-book"}


def test_a_window_that_is_made_to_measure_is_awaited_too():
    (one,) = made(windows=(("scullery-window", 31),))
    assert one.ready_on == date(2027, 5, 2)
    assert first(planned(one), "strip-felt") >= date(2027, 5, 2)


def test_something_booked_that_nobody_needs_is_refused_by_name():
    with pytest.raises(InvalidInput, match="scafold"):
        made(SCAFFOLD, booked=(Booked(name="scafold", ordered_on=ON),))

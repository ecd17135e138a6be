"""Public holidays of the nations: the yearly lists of the government.

Source: the government's list of bank holidays, from the schedule of the Banking and Financial
Dealings Act 1971 and the proclamations under it. Basis: from memory; years with days in lieu in
both weeks of the turn of the year among them, of 2011 without the wedding that had no rule.
"""

from __future__ import annotations

from datetime import date

import pytest

from evenfall.calc.bank_holidays import public_holidays
from evenfall.errors import OutOfScope

LISTS = {
    ("england", 2008): "01-01 03-21 03-24 05-05 05-26 08-25 12-25 12-26",
    ("england", 2011): "01-03 04-22 04-25 05-02 05-30 08-29 12-26 12-27",
    ("england", 2021): "01-01 04-02 04-05 05-03 05-31 08-30 12-27 12-28",
    ("wales", 2024): "01-01 03-29 04-01 05-06 05-27 08-26 12-25 12-26",
    ("england", 2026): "01-01 04-03 04-06 05-04 05-25 08-31 12-25 12-28",
    ("scotland", 2021): "01-01 01-04 04-02 05-03 05-31 08-02 11-30 12-27 12-28",
    ("scotland", 2024): "01-01 01-02 03-29 05-06 05-27 08-05 12-02 12-25 12-26",
    ("northern_ireland", 2024): "01-01 03-18 03-29 04-01 05-06 05-27 07-12 08-26 12-25 12-26",
    ("northern_ireland", 2026): "01-01 03-17 04-03 04-06 05-04 05-25 07-13 08-31 12-25 12-28",
}


@pytest.mark.parametrize(("nation", "year"), LISTS)
def test_the_weekdays_off_are_those_of_the_list(nation, year):
    found = [d for d in public_holidays(nation, year) if d.weekday() < 5]
    assert [f"{d:%m-%d}" for d in found] == LISTS[nation, year].split()


def test_where_new_year_is_a_saturday_scotland_has_two_days_in_lieu():
    found = public_holidays("scotland", 2022)
    assert {date(2022, 1, 3), date(2022, 1, 4)} <= found.keys()
    assert date(2022, 1, 4) not in public_holidays("england", 2022)


def test_where_christmas_is_a_sunday_boxing_day_stays_and_the_tuesday_is_off_for_it():
    found = public_holidays("england", 2033)
    assert found[date(2033, 12, 26)] == "Boxing Day"
    assert found[date(2033, 12, 27)] == "Christmas Day, in lieu"


def test_a_nation_or_a_year_that_is_not_known_is_refused():
    for nation, year in (("ireland", 2027), ("england", 1971)):
        with pytest.raises(OutOfScope, match="public holidays"):
            public_holidays(nation, year)

"""Changes by path: names, numbers, checks, and the job that stays as it was."""

from datetime import date

import pytest
from tests.unit import rooms

from evenfall.errors import InvalidInput
from evenfall.model.change import apply, position, steps
from evenfall.model.finding import Change


def garage(path: str, value: object):
    return apply(rooms.job("garage"), [Change(path, value)])


def test_a_path_splits_at_dots_and_brackets():
    assert steps("survey.heights[back-door].agreed_upstand_mm") == (
        "survey", "heights", "back-door", "agreed_upstand_mm",
    )  # fmt: skip


def test_an_entry_is_found_by_name_by_side_by_corners_and_by_number():
    job = rooms.job("garage")
    vent = garage("survey.openings[stove-vent].diameter_mm", 91.0).survey.openings[0]
    assert vent.diameter_mm == 91
    assert garage("survey.sides[C-D].boundary_m", 1.5).survey.sides[2].boundary_m == 1.5
    assert garage("survey.tapes[B-D].length_m", 7.9).survey.tapes[5].length_m == 7.9
    assert garage("survey.readings[3].percent", 17.0).survey.readings[3].percent == 17
    assert job.survey.readings[3].percent == 19.4  # the job itself stays


def test_a_name_goes_before_the_side_on_which_another_entry_lies():
    entries = [{"name": "x", "side": "A-B"}, {"name": "A-B", "side": "B-C"}]
    assert position(entries, "A-B") == 1


def test_no_entry_of_that_name_or_number_is_none():
    assert position([{"name": "x"}], "y") is None
    assert position([{"name": "x"}], "1") is None


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("survey.roof.kind", 1),  # no such table
        ("survey.openings[flue].diameter_mm", 90.0),  # no such entry
        ("survey.heights[3]", {}),  # no such number
        ("survey.tape_accuracy_mm.very", 3),  # a value is no table
        ("design.colour", "red"),  # no such key
        ("design.thickness_mm", 1000),  # outside of its range
    ],
)
def test_a_path_that_leads_nowhere_and_a_value_that_cannot_be_are_refused(path, value):
    with pytest.raises(InvalidInput) as told:
        garage(path, value)
    assert told.value.where


@pytest.mark.parametrize(
    ("path", "value"),
    [("design.thickness_mm", "120"), ("site.altitude_m", "84"), ("crew.people", True)],
)
def test_a_text_is_not_taken_for_a_number_nor_a_yes_for_a_one(path, value):
    with pytest.raises(InvalidInput):
        garage(path, value)


def test_a_date_may_be_given_as_a_date():
    assert garage("calendar.start_on", date(2027, 1, 11)).calendar.start_on == date(2027, 1, 11)


def test_a_whole_table_may_be_changed():
    job = garage("survey.heights", [])
    assert job.survey.heights == ()

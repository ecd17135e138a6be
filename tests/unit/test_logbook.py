"""Entries of the log of the roof: what is taken, and what is refused in which words."""

import json

import pytest
from pydantic import ValidationError
from tests.unit import rooms

from evenfall.app.reading import read_data
from evenfall.errors import InvalidFile
from evenfall.model.job import Job
from evenfall.model.job_checks import slips
from evenfall.model.logbook import ENTRY, in_order

BASE = {"id": "a" * 32, "device": "1" * 32, "n": 1, "at": "2026-11-25T08:00:00Z", "who": "Sam"}
DAMP = {"kind": "reading", "what": "moisture", "value": 17.5, "unit": "%", "name": "joist-3"}


def job_with(*entries: dict) -> Job:
    data = rooms.job("garage").model_dump(mode="json")
    data["record"]["log"] = list(entries)
    return read_data(data, "job", Job, slips).value


WRONG = {
    "a unit that is not asked": (DAMP | {"unit": "mm"}, "unit", "% for moisture"),
    "a kind that is none": ({"kind": "reeding"}, "kind", 'did you mean "reading"'),
    "a hold point that is none": (
        {"kind": "hold", "hold": 11, "outcome": "passed"}, "hold", "at most 9",
    ),
    "a day of twenty hours": (
        {"kind": "hours", "task": "strip-felt", "people": 2, "hours": 20}, "hours", "at most 16",
    ),
    "a key that nobody knows": (DAMP | {"joist": 3}, "joist", "unknown key"),
    "an outcome that is none": (
        {"kind": "hold", "hold": 1, "outcome": "pased"}, "outcome", 'did you mean "passed"',
    ),
    "a note about nothing": ({"kind": "note", "note": "x"}, "about", "expected one of"),
    "a note without words": ({"kind": "note", "about": "visitor"}, "note", "write what it is"),
    "agreed with nobody": (
        {"kind": "note", "about": "agreed", "note": "gutter stays"}, "by", "who agreed",
    ),
    "a note about nothing known": (
        {"kind": "note", "about": "damge", "note": "x"}, "about", 'did you mean "damage"',
    ),
    "nothing that is done": ({"kind": "done"}, "task", "name a bay or a task"),
    "rot without a photo": (
        {"kind": "found", "what": "rot", "rate": "hidden-deck", "quantity": 2, "where": "eaves"},
        "photos", "a photo before anything is mended",
    ),
    "a day that no calendar has": (
        DAMP | {"at": "2026-02-30T08:00:00Z"}, "at", "no calendar or clock has that moment",
    ),
    "a moment without its zone": (
        DAMP | {"at": "2026-02-20T08:00:00"}, "at", "a moment with its zone",
    ),
    "a correction of itself": (DAMP | {"replaces": "a" * 32}, "replaces", "an earlier entry"),
    "an id that is a word": (DAMP | {"id": "first"}, "id", "32 hexadecimal figures"),
}  # fmt: skip


@pytest.mark.parametrize("case", WRONG)
def test_a_wrong_entry_is_told_with_its_place_and_what_was_expected(case):
    entry, key, words = WRONG[case]
    with pytest.raises(InvalidFile) as wrong:
        job_with(BASE | entry)
    assert f"record.log[0].{key}:" in str(wrong.value)
    assert words in str(wrong.value)


def test_an_entry_keeps_its_moment_as_it_was_written():
    entry = ENTRY.validate_json(json.dumps(BASE | DAMP | {"at": "2026-11-25T09:00:00.120+01:00"}))
    assert entry.at == "2026-11-25T09:00:00.120+01:00"
    assert entry.moment.utcoffset().total_seconds() == 3600


def test_the_same_entry_twice_and_two_entries_of_one_id_are_told_apart():
    for other, words in ((DAMP, "twice; expected"), (DAMP | {"value": 19}, "saying two things")):
        with pytest.raises(InvalidFile, match=words):
            job_with(BASE | DAMP, BASE | other)


def test_a_log_in_order_is_the_same_whatever_order_it_came_in():
    two = [ENTRY.validate_python(BASE | DAMP | {"id": x * 32, "n": 1}) for x in "ba"]
    assert [e.id[0] for e in in_order(two)] == ["a", "b"]
    assert in_order(two) == in_order(two[::-1])


def test_an_entry_never_changes():
    entry = ENTRY.validate_python(BASE | DAMP)
    with pytest.raises(ValidationError, match="frozen"):
        entry.value = 20


def test_a_job_carries_its_log_through_its_own_text():
    job = job_with(BASE | DAMP)
    again = Job.model_validate_json(job.model_dump_json(), strict=True)
    assert again == job
    assert again.record.log[0].value == 17.5

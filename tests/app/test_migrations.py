"""Older files are brought to the format of today; newer ones are refused in words."""

from __future__ import annotations

import pytest
from pydantic import BaseModel, ConfigDict

from evenfall.app.migrations import STEPS, upgrade
from evenfall.app.reading import read, read_model
from evenfall.app.yaml_core import parse
from evenfall.errors import InvalidFile, Mistake
from evenfall.model import job, rates


class Tape(BaseModel):
    model_config = ConfigDict(extra="forbid")
    length_m: float


class Survey(BaseModel):
    model_config = ConfigDict(extra="forbid")
    tapes: tuple[Tape, ...]


class Small(BaseModel):
    model_config = ConfigDict(extra="forbid")
    format: int = job.FORMAT
    survey: Survey


def only(text: str) -> Mistake:
    with pytest.raises(InvalidFile) as caught:
        read_model(text, "job.yaml", Small)
    (found,) = caught.value.mistakes
    return found


DRAFT = "format: 0\nsurvey:\n  tape:\n    - length_m: 6.214\n    - length_m: {length}\n"
NOW = DRAFT.replace("format: 0", "format: 1").replace("tape:", "tapes:")


def test_a_draft_file_reads_as_the_same_job_as_one_of_today() -> None:
    draft, now = DRAFT.replace("{length}", "3.5"), NOW.replace("{length}", "3.5")
    assert read_model(draft, "f", Small) == read_model(now, "f", Small)


def test_a_mistake_in_a_draft_file_is_told_with_the_line_that_was_written() -> None:
    found = only(DRAFT.replace("{length}", "x"))
    assert (found.line, found.column, found.path) == (5, 17, "survey.tapes[1].length_m")


def test_places_of_a_draft_file_are_found_under_the_names_of_today() -> None:
    source = read(DRAFT.replace("{length}", "3.5"), "f", Small)
    assert source.document.place(("survey", "tapes", 1)) == (5, 7)
    assert source.document.place(("survey", "tapes")) == (3, 3)


def test_the_order_of_keys_survives_a_migration() -> None:
    document = parse("format: 0\nsurvey: {a: 1, tape: [], b: 2}")
    upgrade(document)
    assert list(document.data["survey"]) == ["a", "tapes", "b"]


def test_a_draft_file_with_both_names_is_not_guessed_at() -> None:
    text = "format: 0\nsurvey: {tape: [], tapes: []}"
    assert only(text).found == 'unknown key "tape"'


def test_a_draft_name_in_a_file_of_today_is_unknown() -> None:
    found = only("format: 1\nsurvey: {tape: [], tapes: []}")
    assert (found.found, found.nearest) == ('unknown key "tape"', "tapes")


def test_a_newer_file_is_refused_alone_in_words() -> None:
    found = only("format: 2\nsurvey: {else: 3}\nmore: 1\n")
    assert found.found == "format 2, written by a newer Evenfall"
    assert found.do == "update Evenfall"
    assert (found.line, found.column) == (1, 9)


@pytest.mark.parametrize("text", ["one", "1.0", "true", '"1"', "-1", "[1]", ""])
def test_a_format_that_is_no_whole_number_is_refused(text: str) -> None:
    assert only(f"format: {text}\nsurvey: {{tapes: []}}").expected == "format: 1"


def test_a_missing_format_is_told_beside_the_other_mistakes() -> None:
    with pytest.raises(InvalidFile) as caught:
        read_model("survey: {tapes: 3}\n", "f", Small)
    assert [m.path for m in caught.value.mistakes] == ["format", "survey.tapes"]


def test_there_is_a_step_from_every_older_format() -> None:
    assert sorted(STEPS) == list(range(job.FORMAT))


def test_job_and_rates_are_of_one_format() -> None:
    assert job.FORMAT == rates.FORMAT

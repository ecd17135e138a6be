"""This morning on the desk: the form, the answer with its figures, and what is refused."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone

import pytest
from fastapi.testclient import TestClient
from tests.unit.skies import csv

ZONE = timezone(timedelta(0))
FIRST = datetime(2026, 12, 7, 5, tzinfo=ZONE)


def forecast(rain_from: int = 99, issued: str = "2026-12-07T06:20+00:00") -> str:
    hours = (FIRST + timedelta(hours=n) for n in range(60))
    rows = (
        f"{at.isoformat()},{9.5 if 6 < at.hour < 20 else 7.5},64,{1.4 * (n >= rain_from)},2.6,"
        f"{80 if n >= rain_from else 5}"
        for n, at in enumerate(hours)
    )
    return csv(*rows, issued=issued)


def ask(client: TestClient, job: str, **fields: str | list[str]):
    form = {"pasted": forecast(), "now": "2026-12-07T07:10+00:00", "covers": "9x9"} | fields
    return client.post(f"/job/{job}/morning", data=form)


def test_the_form_is_there_before_anything_is_asked(client: TestClient, garage: str) -> None:
    page = client.get(f"/job/{garage}/morning")
    assert page.status_code == 200
    assert "What may be opened?" in page.text
    assert "<script" not in page.text
    assert 'value="bay:1"' in page.text


def test_the_answer_says_how_much_shows_the_least_safe_figures_and_leaves_the_choice(
    client: TestClient, garage: str
) -> None:
    page = ask(client, garage)
    assert page.status_code == 200
    for words in ("Open no more than:", "You decide.", "Least safe figures", "limit", "<svg"):
        assert words in page.text
    sound = "Checked apart from the plan: every evening that is left is closed and drains."
    assert sound in page.text
    assert "NOT SOUND" not in page.text


def test_what_the_checker_finds_stands_on_the_page_with_its_evening_and_bay(
    client: TestClient, garage: str
) -> None:
    """A bay half stripped under days of rain: it is open tonight, and the page says so."""
    half = ["set-up", "before-strip", "strip-edges@1", "strip-felt@1"]
    page = ask(client, garage, pasted=forecast(rain_from=0), done=half)
    assert page.status_code == 200
    assert "NOT SOUND" in page.text
    assert "bay 1 is open on the evening of 2026-12-07" in page.text


def test_a_file_that_was_chosen_goes_before_what_was_pasted(
    client: TestClient, garage: str
) -> None:
    file = {"file": ("dawn.csv", forecast(rain_from=1), "text/csv")}
    data = {"pasted": "no forecast at all", "now": "2026-12-07T07:10+00:00"}
    page = client.post(f"/job/{garage}/morning", data=data, files=file)
    assert page.status_code == 200
    assert "Open no more than:" in page.text


def test_covers_are_written_as_a_roofer_writes_them(client: TestClient, garage: str) -> None:
    page = ask(client, garage, covers="9 × 9, 4X3")
    assert page.status_code == 200
    assert 'value="9 × 9, 4X3"' in page.text


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"now": "2026-12-07T09:50+00:00"}, "no older than 3 hours"),
        ({"now": "2026-12-07 07:10"}, "which has no zone"),
        ({"pasted": ""}, "no forecast"),
        ({"pasted": "time,air_c\n1,2"}, "No answer:"),
        ({"covers": "wide"}, "length and width in metres"),
        ({"people": "none"}, "a number from 1 to 20"),
        ({"done": "bay:77"}, "bay:1 to bay:"),
    ],
)
def test_what_cannot_be_answered_says_why_and_keeps_the_form(
    client: TestClient, garage: str, fields: dict[str, str], says: str
) -> None:
    page = ask(client, garage, **fields)
    assert page.status_code == 422
    assert says in page.text
    assert "What may be opened?" in page.text
    assert "Open no more than" not in page.text


def test_a_job_that_is_not_there_has_no_morning(client: TestClient) -> None:
    assert client.get("/job/none/morning").status_code == 404
    assert ask(client, "none").status_code == 404

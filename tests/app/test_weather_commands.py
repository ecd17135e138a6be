"""The commands of weather: risk, this morning, own hours; what is refused, in plain words."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest
from tests.unit.skies import csv, line
from typer.testing import CliRunner

from evenfall.app.cli import app
from evenfall.app.commands.hours import told

GARAGE = Path(__file__).parents[2] / "examples" / "garage" / "job.yaml"
run = CliRunner().invoke
MONDAY = "2026-12-07T07:40+00:00"


@pytest.fixture(scope="module")
def forecast(tmp_path_factory) -> Path:
    """Three mild days of December, dry but for a shower on the Monday at one."""
    first = datetime.fromisoformat("2026-12-07T05:00+00:00")
    rows = []
    for n in range(80):
        at = first + timedelta(hours=n)
        wet = (at.day, at.hour) == (7, 13)
        air = 8.5 + (3 if 10 <= at.hour <= 15 else 0)
        rows.append(
            line(at.isoformat(timespec="minutes"), f"{air},64,{0.9 * wet},2.1,{5 + 60 * wet}")
        )
    path = tmp_path_factory.mktemp("sky") / "sky.csv"
    path.write_text(csv(*rows, issued="2026-12-07T05:30+00:00"), encoding="utf-8")
    return path


def morning(forecast: Path, *more: str):
    return run(app, ["morning", str(GARAGE), "--forecast", str(forecast), *more])


def test_the_morning_is_answered_and_its_tape_is_written(forecast, tmp_path):
    tape = tmp_path / "day.svg"
    said = morning(forecast, "--now", MONDAY, "--cover", "9x9", "--done", "set-up",
                   "--out", str(tape))  # fmt: skip
    assert said.exit_code == 0, said.output
    for words in (
        "Open no more than",
        "You decide",
        "Water leaves",
        "Bonding",
        "Least safe figures",
        "first coat on the new fascia",  # what is next, not what the plan had for that day
        "Checked apart from the plan",
    ):
        assert words in said.output
    assert tape.read_text(encoding="utf-8").startswith("<svg")


WRONG = {
    "old": (("--now", "2026-12-07T09:00+00:00"), "3.5 hours old, expected no older than 3 hours"),
    "naive": (("--now", "2026-12-07T07:40"), "which has no zone"),
    "no time": (("--now", "soon"), "--now"),
    "cover": (("--now", MONDAY, "--cover", "large"), "length and width in metres"),
    "done": (("--now", MONDAY, "--done", "bay:99"), "bay:1 to bay:"),
}


@pytest.mark.parametrize("name", WRONG)
def test_a_morning_that_cannot_be_answered_is_told_in_one_line(name, forecast):
    more, words = WRONG[name]
    said = morning(forecast, *more)
    assert said.exit_code == 2
    assert words in said.output
    assert "Traceback" not in said.output


def test_a_forecast_that_is_not_there_is_told(tmp_path):
    said = morning(tmp_path / "none.csv", "--now", MONDAY)
    assert said.exit_code == 2
    assert "cannot be opened" in said.output


def test_the_risk_tells_its_years_its_error_and_what_a_covered_scaffold_buys():
    said = run(app, ["risk", str(GARAGE), "--on", "2026-11-25"])
    assert said.exit_code == 0, said.output
    for words in ("400 walked, 400 distinct, seed", "Wet evening:", "give or take", "Best start:",
                  "covered scaffold", "from memory", "You decide"):  # fmt: skip
        assert words in said.output


def test_hours_that_are_no_year_are_refused(forecast):
    said = run(app, ["risk", str(GARAGE), "--on", "2026-11-25", "--hours", str(forecast)])
    assert said.exit_code == 2
    assert "no whole year of hours" in said.output


def finished(folder: Path, hours: float, on: str = "2027-01-20") -> Path:
    """The garage, done, with a log of stripping."""
    log = (
        f"\nrecord:\n  finished_on: {on}\n  hours:\n"
        f"    - {{task: strip-felt, on: 2026-12-08, people: 2, hours: {hours}}}\n"
    )
    folder.mkdir()
    text = GARAGE.read_text(encoding="utf-8")
    assert "\nrecord:" not in text
    (folder / "job.yaml").write_text(text + log, encoding="utf-8")
    return folder


def test_three_finished_jobs_offer_a_line_for_the_rates(tmp_path):
    folders = [finished(tmp_path / f"job-{h}", h) for h in (4.1, 5.3, 3.8)]
    said = run(app, ["hours", *map(str, folders)])
    assert said.exit_code == 0, said.output
    assert "rates 0.15 / 0.26 / 0.41" in said.output
    assert "- {task: strip-felt, unit: m2, low:" in said.output
    assert "Nothing was changed" in said.output


def test_without_a_log_it_says_what_to_put_in():
    assert "record.hours" in "".join(told(()))

"""The command line: what a person types, what comes back, and that nothing is left behind."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner

from evenfall.app.cli import app
from evenfall.flow import KEYS

EXAMPLES = Path(__file__).parents[2] / "examples"
GARAGE = (EXAMPLES / "garage" / "job.yaml").read_text(encoding="utf-8")
ON = ("--on", "2026-11-25")
run = CliRunner().invoke


def replaced(old: str, new: str) -> str:
    """Change the garage's file in one place."""
    assert GARAGE.count(old) >= 1, f"the garage has no {old!r}"
    return GARAGE.replace(old, new, 1)


def first_tape() -> str:
    return next(line for line in GARAGE.splitlines() if "between:" in line)


def without_diagonals() -> str:
    corners = [c.strip() for c in GARAGE.split("corners: [", 1)[1].split("]", 1)[0].split(",")]
    sides = {f"{a}-{b}" for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)}
    sides |= {"-".join(reversed(s.split("-"))) for s in sides}
    keep = [
        line
        for line in GARAGE.splitlines()
        if "between:" not in line or any(f"between: {s}," in line for s in sides)
    ]
    return "\n".join(keep)


def stretched(metres: str) -> str:
    """Give the first tape another length."""
    import re

    tape = first_tape()
    return GARAGE.replace(tape, re.sub(r"length_m: [\d.]+", f"length_m: {metres}", tape), 1)


def crossed() -> str:
    corners = GARAGE.split("corners: [", 1)[1].split("]", 1)[0]
    names = [c.strip() for c in corners.split(",")]
    names[1], names[2] = names[2], names[1]
    return GARAGE.replace(f"corners: [{corners}]", f"corners: [{', '.join(names)}]", 1)


def sunk() -> str:
    import re

    return re.sub(r"above_covering_mm: [\d.]+", "above_covering_mm: -300", GARAGE, count=1)


BOMB = "a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]\n"
WRONG = {
    "unknown key": (lambda: replaced("altitude_m:", "altitud_m:"), "altitud_m"),
    "wrong unit": (lambda: replaced("length_m:", "length_mm:"), "length_m"),
    "negative length": (lambda: stretched("-5.4"), "length_m"),
    "millimetres for metres": (lambda: stretched("5412"), "length_m"),
    "sides that cross": (crossed, "survey."),
    "tapes that cannot close": (
        lambda: stretched("19.5").replace("length_m: 7.955", "length_m: 9.7"),
        "survey.tapes",
    ),
    "missing diagonal": (without_diagonals, "diagonal"),
    "sill below the deck": (sunk, "below the deck"),
    "empty file": (lambda: "", "empty"),
    "10 MB file": (lambda: "a: b\n" * 2_100_000, "bytes"),
    "binary file": (lambda: b"\x00\x01\x02\xff\xfe" * 50, "binary"),
    "deep nesting": (lambda: "a: " + "[" * 5000 + "]" * 5000, "brackets"),
    "alias bomb": (lambda: BOMB, "&a"),
    "not a table": (lambda: "- 1\n- 2\n", "key: value"),
    "newer format": (lambda: replaced("format: 1", "format: 99"), "newer"),
    "unknown board": (lambda: replaced("board: pir", "board: xir"), "design.board"),
}


@pytest.mark.parametrize("name", WRONG)
def test_a_wrong_file_is_told_in_words_with_exit_2_and_leaves_nothing(name, tmp_path):
    make, word = WRONG[name]
    content = make()
    file = tmp_path / "job.yaml"
    file.write_bytes(content if isinstance(content, bytes) else content.encode())
    out = tmp_path / "papers"
    result = run(app, ["work", str(file), "--out", str(out), *ON])
    assert result.exit_code == 2, result.output
    assert word in result.output
    assert "Traceback" not in result.output
    assert str(file) in result.output.replace("\n", "")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["job.yaml"]


def test_two_corners_of_one_name_are_told(tmp_path):
    corners = GARAGE.split("corners: [", 1)[1].split("]", 1)[0]
    names = [c.strip() for c in corners.split(",")]
    file = tmp_path / "job.yaml"
    doubled = f"corners: [{', '.join([*names[:-1], names[0]])}]"
    file.write_text(GARAGE.replace(f"corners: [{corners}]", doubled, 1), encoding="utf-8")
    result = run(app, ["check", str(file), *ON])
    assert result.exit_code == 2
    assert f"two corners named {names[0]}" in result.output


def test_every_mistake_is_told_at_once_with_its_line(tmp_path):
    text = replaced("altitude_m:", "altitud_m:").replace("length_m:", "length_mm:", 1)
    file = tmp_path / "job.yaml"
    file.write_text(text, encoding="utf-8")
    result = run(app, ["check", str(file), *ON])
    assert "altitud_m" in result.output
    assert "length_mm" in result.output
    line = text[: text.index("altitud_m")].count("\n") + 1
    assert f"job.yaml:{line}:" in result.output.replace("\n", "")


def test_a_file_that_is_not_there_is_told(tmp_path):
    result = run(app, ["work", str(tmp_path / "nowhere.yaml")])
    assert result.exit_code == 2
    assert "no such file" in result.output


def test_a_day_that_is_none_is_told():
    result = run(app, ["work", str(EXAMPLES / "garage"), "--on", "25/11/2026"])
    assert result.exit_code == 2
    assert "2026-11-25" in result.output


@pytest.mark.parametrize(("name", "code"), [("garage", 0), ("rear-extension", 1), ("courtyard", 1)])
def test_check_says_by_its_exit_code_whether_something_stops_the_job(name, code):
    result = run(app, ["check", str(EXAMPLES / name), *ON])
    assert result.exit_code == code, result.output
    assert "Findings:" in result.output


def test_json_has_exactly_the_keys_and_no_null_room():
    result = run(app, ["work", str(EXAMPLES / "garage"), "--json", *ON])
    data = json.loads(result.stdout)
    assert tuple(data) == KEYS
    assert None not in data.values()
    assert data["edges"]["governs"]
    assert data["drying"]["courses"]


def test_the_same_job_gives_the_same_bytes():
    first, second = (run(app, ["work", str(EXAMPLES / "garage"), "--json", *ON]) for _ in "12")
    assert first.stdout == second.stdout


def test_the_summary_names_what_a_roofer_asks_first():
    result = run(app, ["work", str(EXAMPLES / "rear-extension"), *ON])
    assert result.exit_code == 0
    for head in ("Board", "Heights", "Heat", "Edges", "Water", "Wind", "Order", "Days", "Price"):
        assert f"{head} " in result.output


def test_schema_is_a_json_schema_of_the_job():
    data = json.loads(run(app, ["schema"]).stdout)
    assert {"job", "site", "survey", "design", "crew", "calendar"} <= set(data["properties"])


def test_papers_are_written_whole_and_again(tmp_path):
    out = tmp_path / "papers"
    for _ in "12":
        result = run(app, ["work", str(EXAMPLES / "garage"), "--out", str(out), *ON])
        assert result.exit_code == 0, result.output
    names = {p.name for p in out.iterdir()}
    assert {"quotation.pdf", "calculations.pdf", "plan.svg", "order.xlsx", "programme.ics"} <= names
    assert [p.name for p in tmp_path.iterdir()] == ["papers"]


def test_a_folder_with_other_things_in_it_is_not_touched(tmp_path):
    out = tmp_path / "papers"
    out.mkdir()
    (out / "letter.txt").write_text("keep me", encoding="utf-8")
    result = run(app, ["work", str(EXAMPLES / "garage"), "--out", str(out), *ON])
    assert result.exit_code == 2
    assert [p.name for p in out.iterdir()] == ["letter.txt"]


def test_help_loads_no_heavy_module():
    """What the help loads is kept short: typer and what typer needs."""
    code = (
        "import sys\nfrom evenfall.app.cli import app\n"
        "heavy = {'numpy', 'scipy', 'shapely', 'pydantic', 'fastapi', 'typst', 'yaml', 'jinja2'}\n"
        "print(sorted(heavy & set(sys.modules)), "
        "sorted(m for m in sys.modules if m.startswith('evenfall') and '.commands' not in m))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[] ['evenfall', 'evenfall.app', 'evenfall.app.cli']"

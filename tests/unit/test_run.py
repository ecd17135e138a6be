"""The one command: what it runs, what it leaves out and says so, and what it answers."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """`run.py` with nothing that installs or starts anything; what it would start is kept."""
    spec = importlib.util.spec_from_file_location("run", ROOT / "run.py")
    assert spec
    assert spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    module.started, module.codes = [], {}  # type: ignore[attr-defined]

    def start(command: list[Any], *where: Path, **more: str) -> int:
        module.started.append(([str(c) for c in command[2:]], more))
        return int(module.codes.get(command[2], 0))

    monkeypatch.setattr(module, "provide", lambda extra: None)
    monkeypatch.setattr(module, "run", start)
    monkeypatch.setattr(module, "browser", lambda: "chromium")
    monkeypatch.delenv("CI", raising=False)
    return module


def pytest_line(run: ModuleType) -> list[str]:
    return next(c for c, _ in run.started if c[0] == "pytest")


def test_the_test_command_runs_lint_format_types_and_tests(run: ModuleType) -> None:
    assert run.main(["test"]) == 0
    assert [c[:2] for c, _ in run.started] == [
        ["ruff", "check"], ["ruff", "format"], ["mypy"], ["pytest", "-q"],
    ]  # fmt: skip


def test_long_tests_run_only_when_asked(run: ModuleType) -> None:
    run.main(["test"])
    assert pytest_line(run)[-2:] == ["-m", "not long"]
    run.started.clear()
    run.main(["test", "--long", "tests/laws"])
    assert pytest_line(run)[-1] == "tests/laws"
    assert "-m" not in pytest_line(run)


def test_a_missing_browser_is_said_loudly(
    run: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(run, "browser", lambda: None)
    assert run.main(["test"]) == 0
    assert "NO BROWSER" in capsys.readouterr().out
    assert pytest_line(run)[-1] == "not browser and not long"


def test_a_missing_browser_is_an_error_where_ci_is_set(
    run: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(run, "browser", lambda: None)
    monkeypatch.setenv("CI", "true")
    with pytest.raises(SystemExit, match="browser tests must run"):
        run.main(["test"])


def test_all_steps_run_and_the_first_failure_is_the_answer(
    run: ModuleType, capsys: pytest.CaptureFixture[str]
) -> None:
    run.codes.update(mypy=3, pytest=5)
    assert run.main(["test"]) == 3
    assert len(run.started) == 4
    assert "FAILED: mypy, pytest" in capsys.readouterr().out


def test_the_benchmarks_get_one_thread(run: ModuleType) -> None:
    run.main(["bench", "--json"])
    command, more = run.started[0]
    assert command == ["benchmarks", "--json"]
    assert more["OPENBLAS_NUM_THREADS"] == "1"


@pytest.mark.parametrize("word", ["demo", "desk"])
def test_demo_and_desk_are_commands_of_the_program(run: ModuleType, word: str) -> None:
    run.main([word, "here"])
    assert run.started[0][0] == ["evenfall.app.cli", word, "here"]


def test_an_unknown_word_gets_the_help(run: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    assert run.main(["tset"]) == 2
    assert "run.py test" in capsys.readouterr().out


def test_run_py_is_short() -> None:
    assert len((ROOT / "run.py").read_text(encoding="utf-8").splitlines()) < 200


class TestEnvironment:
    """Made once, made again when what it depends on changes."""

    @pytest.fixture
    def place(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Any:
        spec = importlib.util.spec_from_file_location("run", ROOT / "run.py")
        assert spec
        assert spec.loader
        module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
        for name in ("pyproject.toml", "constraints.txt"):
            (tmp_path / name).write_text("a", encoding="utf-8")
        (tmp_path / ".venv").mkdir()
        module.ROOT, module.READY = tmp_path, tmp_path / ".venv" / "ready"  # type: ignore[attr-defined]
        module.PYTHON = tmp_path / "constraints.txt"  # type: ignore[attr-defined]
        module.did = []  # type: ignore[attr-defined]
        monkeypatch.setattr(module, "usable", lambda: False)
        monkeypatch.setattr(module, "make_venv", lambda: module.did.append("venv"))
        monkeypatch.setattr(module, "install", lambda what: module.did.append(what))
        return module

    def test_the_second_time_nothing_is_done(self, place: Any) -> None:
        place.provide("dev")
        place.provide("dev")
        place.provide("")
        assert place.did == ["venv", ".[dev]"]

    def test_the_demonstration_installs_no_tools_of_the_tests(self, place: Any) -> None:
        place.provide("")
        place.provide("dev")
        assert place.did == ["venv", ".", ".[dev]"]

    def test_other_pins_make_it_anew(self, place: Any) -> None:
        place.provide("dev")
        (place.ROOT / "constraints.txt").write_text("b", encoding="utf-8")
        place.provide("dev")
        assert place.did == ["venv", ".[dev]"] * 2

    def test_an_install_that_failed_is_not_taken_for_done(
        self, place: Any, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        def fail(what: str) -> None:
            raise SystemExit("no network")

        with monkeypatch.context() as context:
            context.setattr(place, "install", fail)
            with pytest.raises(SystemExit):
                place.provide("dev")
        place.provide("dev")
        assert place.did == ["venv", "venv", ".[dev]"]

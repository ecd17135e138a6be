"""The timing of the benchmarks, with a clock of our own: no test waits."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest
from benchmarks.__main__ import modules
from benchmarks.timing import Figure, as_json, figure, measure, measure_both, steady, table


class Clock:
    """A clock that each run of a work moves on by the next of its times."""

    def __init__(self) -> None:
        self.now, self.runs = 0.0, []

    def __call__(self) -> float:
        return self.now

    def work(self, name: str, *times: float) -> Callable[[], None]:
        left = iter(times)

        def run() -> None:
            self.runs.append(name)
            self.now += next(left)

        return run


FLOORS = (9.0, 2.0, 2.1, 2.2, 2.0, 2.1, 2.05, 2.3, 2.2, 2.15)
WORKS = (9.0, 3.0, 3.1, 3.2, 3.3, 2.9, 3.0, 8.0, 3.1, 3.05)
"""The first run of each is not measured."""


def timed(goal: float = 1.5) -> tuple[Figure, Clock]:
    clock = Clock()
    work, floor = clock.work("work", *WORKS), clock.work("floor", *FLOORS)
    return measure("sum", work, floor, goal, clock=clock), clock


def test_floor_and_work_alternate_at_least_nine_times() -> None:
    assert timed()[1].runs == ["floor", "work"] * 10


def test_fewer_than_nine_rounds_are_refused() -> None:
    clock = Clock()
    with pytest.raises(ValueError, match="9 or more"):
        measure("a", clock.work("w", 1), clock.work("f", 1), 1, rounds=8, clock=clock)


def test_the_ratio_is_that_of_the_minima_in_milliseconds() -> None:
    found = timed()[0]
    assert (found.ms, found.floor) == (pytest.approx(2900), pytest.approx(2000))
    assert found.ratio == pytest.approx(1.45)
    assert (found.median_ms, found.floor_median_ms) == (pytest.approx(3100), pytest.approx(2100))


def test_a_goal_is_met_up_to_its_own_value_and_not_beyond() -> None:
    assert timed(1.5)[0].met is True
    assert timed(1.4)[0].met is False
    assert figure("a", [3.0] * 9, [2.0] * 9, 1.5).met is True


def test_an_unsteady_floor_gives_no_verdict() -> None:
    found = figure("a", [3.0] * 9, [2.0, *[2.6] * 8], 1.0)
    assert found.met is None
    assert found.verdict == "floor unsteady"


def test_a_floor_may_spread_by_a_quarter() -> None:
    assert steady([2.0, *[2.5] * 8])
    assert not steady([2.0, *[2.51] * 8])


def test_one_slow_turn_does_not_make_a_floor_unsteady() -> None:
    assert steady([*[2.0] * 8, 50.0])


def test_the_json_has_these_keys_and_null_for_no_verdict() -> None:
    figures = [timed()[0], figure("a", [3.0] * 9, [2.0, *[2.6] * 8], 1.0)]
    told = json.loads(as_json(figures))
    assert [list(f) for f in told] == [["name", "ms", "ratio", "floor", "goal", "met"]] * 2
    assert [f["met"] for f in told] == [True, None]


def test_the_table_says_the_verdict_in_words() -> None:
    lines = table([timed(1.5)[0], timed(1.4)[0]]).splitlines()
    assert lines[1].endswith("met")
    assert lines[2].endswith("NOT MET")


def test_benchmark_modules_are_found_by_their_name(tmp_path) -> None:  # type: ignore[no-untyped-def]
    for name in ("bench_b.py", "bench_a.py", "timing.py"):
        (tmp_path / name).touch()
    assert modules(tmp_path) == ["bench_a", "bench_b"]
    assert modules(tmp_path, "b") == ["bench_a", "bench_b"]
    assert modules(tmp_path, "_b") == ["bench_b"]


def test_the_same_turns_are_told_by_the_clock_and_by_the_processor() -> None:
    runs: list[str] = []
    found = measure_both("sum", lambda: runs.append("w"), lambda: runs.append("f"), 9.0)
    assert [f.name for f in found] == ["sum, by the clock", "sum, by the processor"]
    assert runs == ["f", "w"] * 10

"""The example jobs are invented, hold together, and give no check another's number to pass with."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from functools import lru_cache
from itertools import combinations, pairwise
from math import hypot
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy.optimize import least_squares

from evenfall.app.loading import DEMO_RATES
from evenfall.app.reading import read_file
from evenfall.model.change import apply
from evenfall.model.choice import build_up
from evenfall.model.finding import Change
from evenfall.model.job import Job
from evenfall.model.job_checks import side_names, slips
from evenfall.model.rates import Rates
from evenfall.model.weather import Weather

ROOT = Path(__file__).parents[2]
EXAMPLES = ROOT / "examples"
NAMES = ("courtyard", "garage", "rear-extension")
PAIRS = tuple(combinations(NAMES, 2))

JOBS = {name: read_file(EXAMPLES / name / "job.yaml", Job).value for name in NAMES}
RATES = read_file(DEMO_RATES, Rates).value

CLOSES_WITHIN_M = 0.015  # the misclosure at which a roofer tapes again
SHARED_AT_MOST = 0.04  # of all numbers of the smaller of two examples, wherever they stand

COARSE = {
    "format": "the format of the file is one number",
    "crew.people": "two people are the usual crew of a small firm",
}
"""Keys whose numbers may be equal in two examples, each with the reason."""

COUNTS = {0.0, 1.0, 2.0, 3.0, 4.0}
"""Layers, people, classes, vents: too few to choose from when keys are not looked at."""


def _numbers(value: Any, key: str = "") -> Iterator[tuple[str, float]]:
    """Walk the numbers of a job; entries of a list have the key of the list."""
    if isinstance(value, bool):
        return
    if isinstance(value, int | float):
        yield key, float(value)
    elif isinstance(value, dict):
        for name, inner in value.items():
            yield from _numbers(inner, f"{key}.{name}" if key else str(name))
    elif isinstance(value, list | tuple):
        for inner in value:
            yield from _numbers(inner, key)


def _given(name: str) -> list[tuple[str, float]]:
    """Numbers that stand in the file, not the defaults of the model."""
    return list(_numbers(JOBS[name].model_dump(exclude_unset=True)))


@pytest.mark.parametrize("name", NAMES)
def test_an_example_fits_together(name: str) -> None:
    assert slips(JOBS[name]) == ()


@pytest.mark.parametrize("name", NAMES)
def test_an_example_says_that_it_is_invented(name: str) -> None:
    job = JOBS[name].job
    assert job.invented
    assert "invented" in job.title
    assert (EXAMPLES / name / "job.yaml").read_text(encoding="utf-8").startswith("# INVENTED")


def test_the_rates_say_that_they_are_invented() -> None:
    assert RATES.rates.invented
    assert RATES.basis == "demo"
    assert "invented" in RATES.firm.name


def test_every_folder_of_examples_is_tested() -> None:
    assert tuple(sorted(p.parent.name for p in EXAMPLES.glob("*/job.yaml"))) == NAMES


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_no_key_has_the_same_number_in_two_examples(pair: tuple[str, str]) -> None:
    first, second = (set(_given(name)) for name in pair)
    same = {(key, value) for key, value in first & second if key not in COARSE}
    assert same == set()


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_two_examples_share_few_numbers_whatever_their_keys(pair: tuple[str, str]) -> None:
    first, second = ({value for _, value in _given(name)} - COUNTS for name in pair)
    assert len(first & second) <= SHARED_AT_MOST * min(len(first), len(second))


def test_every_key_that_may_be_equal_is_equal_somewhere() -> None:
    same = [set(_given(a)) & set(_given(b)) for a, b in PAIRS]
    assert set(COARSE) == {key for shared in same for key, _ in shared}


@pytest.mark.parametrize("name", NAMES)
def test_all_that_an_example_names_is_in_the_rates(name: str) -> None:
    build = build_up(JOBS[name].design, RATES)
    design = JOBS[name].design
    assert (build.board.name, build.vcl.name, build.rubber.name) == (
        design.board, design.vcl, design.sheet,
    )  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_every_option_of_an_example_makes_a_sound_job_and_a_different_one(name: str) -> None:
    job = JOBS[name]
    assert job.design.options
    for option in job.design.options:
        changed = apply(job, tuple(Change(path, value) for path, value in option.changes.items()))
        assert slips(changed) == ()
        build_up(changed.design, RATES)
        assert changed != job, option.name


@lru_cache
def _ring(name: str) -> tuple[np.ndarray, np.ndarray]:
    """Fit corners to the tapes from many starts, without the program: corners and misfits."""
    job = JOBS[name]
    corners = (*job.survey.corners, *job.survey.points)
    at = {corner: i for i, corner in enumerate(corners)}
    ends = np.array([[at[c] for c in tape.between.split("-")] for tape in job.survey.tapes])
    read = np.array([tape.length_m for tape in job.survey.tapes])

    def misfits(flat: np.ndarray) -> np.ndarray:
        p = flat.reshape(-1, 2)
        apart = p[ends[:, 0]] - p[ends[:, 1]]
        held = (p[0, 0], p[0, 1], p[1, 1])  # the first corner, and the direction of the first side
        return np.concatenate([np.hypot(apart[:, 0], apart[:, 1]) - read, held])

    rng = np.random.default_rng(2026)
    starts = (rng.uniform(0, read.max(), 2 * len(corners)) for _ in range(40))
    best = min((least_squares(misfits, s) for s in starts), key=lambda found: float(found.cost))
    ring = best.x.reshape(-1, 2)[: len(job.survey.corners)]
    return ring, misfits(best.x)[: len(read)]


@pytest.mark.parametrize("name", NAMES)
def test_the_tapes_of_an_example_close(name: str) -> None:
    _, off = _ring(name)
    assert np.abs(off).max() < CLOSES_WITHIN_M


@pytest.mark.parametrize("name", NAMES)
def test_no_tape_of_an_example_is_off_by_more_than_such_a_tape_may_be(name: str) -> None:
    _, off = _ring(name)
    assert np.abs(off).max() * 1000 < 2.5 * JOBS[name].survey.tape_accuracy_mm


@pytest.mark.parametrize("name", NAMES)
def test_the_tapes_of_an_example_are_not_perfect(name: str) -> None:
    _, off = _ring(name)
    assert np.abs(off).max() > 0.001


@pytest.mark.parametrize("name", NAMES)
def test_two_tapes_more_than_needed_check_the_others(name: str) -> None:
    survey = JOBS[name].survey
    assert len(survey.tapes) >= 2 * len(survey.corners) - 3 + 2
    assert set(side_names(survey.corners)) <= {tape.between for tape in survey.tapes}


@pytest.mark.parametrize("name", NAMES)
def test_no_corner_of_an_example_is_a_perfect_right_angle(name: str) -> None:
    ring, _ = _ring(name)
    for before, here, after in zip(np.roll(ring, 1, 0), ring, np.roll(ring, -1, 0), strict=True):
        u, v = before - here, after - here
        assert abs(float(u @ v)) / (hypot(*u) * hypot(*v)) > 1e-4


def _turns(name: str) -> np.ndarray:
    ring, _ = _ring(name)
    ahead, back = np.roll(ring, -1, 0) - ring, ring - np.roll(ring, 1, 0)
    turn = back[:, 0] * ahead[:, 1] - back[:, 1] * ahead[:, 0]
    return np.asarray(turn if turn.sum() > 0 else -turn)


def _area(name: str) -> float:
    ring, _ = _ring(name)
    x, y = ring.T
    return abs(float((x * np.roll(y, -1) - y * np.roll(x, -1)).sum()) / 2)


def test_the_rear_extension_is_an_l_of_25_to_30_square_metres() -> None:
    assert 25 < _area("rear-extension") < 30
    assert [i for i, t in enumerate(_turns("rear-extension")) if t < 0] == [3]


def test_the_garage_is_5_4_by_5_8_metres_and_leans() -> None:
    tapes = {t.between: t.length_m for t in JOBS["garage"].survey.tapes}
    assert abs(tapes["B-C"] - 5.8) < 0.02
    assert abs(tapes["A-B"] - 5.4) < 0.02
    assert abs(tapes["A-C"] - tapes["B-D"]) > 0.03


def test_the_courtyard_is_the_awkward_one() -> None:
    survey, design = JOBS["courtyard"].survey, JOBS["courtyard"].design
    kinds = [side.kind for side in survey.sides]
    assert (kinds.count("parapet"), kinds.count("party_line")) == (3, 1)
    assert {o.kind for o in survey.openings} == {"outlet", "flue"}
    assert any(h.kind == "threshold" and h.drained_channel for h in survey.heights)
    assert survey.below.quilt_mm > 0
    assert design.quilt == "keep"


def test_the_invented_weather_is_three_whole_years_of_days() -> None:
    file = EXAMPLES / "rear-extension" / "weather.yaml"
    weather = read_file(file, Weather).value
    days = [day.on for day in weather.days]
    assert weather.invented
    assert file.stat().st_size < 120_000
    assert (days[0], days[-1]) == (date(2023, 1, 1), date(2025, 12, 31))
    assert all(b - a == timedelta(days=1) for a, b in pairwise(days))
    assert all(day.least_c < day.most_c for day in weather.days)
    wet = sum(day.rain_mm >= 1 for day in weather.days) / len(days)
    assert 0.3 < wet < 0.5

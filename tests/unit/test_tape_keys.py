"""Marks, offsets and ties in the job file: what does not fit together is told with its place."""

from __future__ import annotations

from typing import Any

import pytest
from tests.unit import rooms

from evenfall.model.change import apply
from evenfall.model.finding import Change
from evenfall.model.job_checks import Slip, slips


def told(path: str, value: Any) -> list[Slip]:
    return list(slips(apply(rooms.job("courtyard"), (Change(path, value),))))


def test_the_courtyard_with_its_mark_offsets_and_ties_fits_together() -> None:
    assert slips(rooms.job("courtyard")) == ()


@pytest.mark.parametrize(
    ("path", "value", "at", "says"),
    [
        ("survey.points", ["K", "K"], "survey.points", "two places named K"),
        ("survey.points", ["P", "K"], "survey.points", "two places named P"),
        ("survey.points", ["J"], "survey.tapes[10].between", 'corner "K"'),
        ("survey.offsets[0].point", "Z", "survey.offsets[0].point", 'corner "Z"'),
        ("survey.offsets[0].line", "P-Z", "survey.offsets[0].line", 'corner "Z"'),
        ("survey.offsets[0].line", "S-R", "survey.offsets[0]", "S by S-R"),
        ("survey.offsets[0].right_m", 1.0, "survey.offsets[0]", "to no side, or to both"),
        ("survey.offsets[0].left_m", None, "survey.offsets[0]", "to no side, or to both"),
        ("survey.openings[boiler-flue].in_m", 1.0, "survey.openings[1]", "no place, or two"),
        ("survey.openings[boiler-flue].ties", [], "survey.openings[1]", "no place, or two"),
        ("survey.openings[drain].in_m", None, "survey.openings[0]", "no place, or two"),
        (
            "survey.openings[boiler-flue].ties", [{"point": "Q", "length_m": 1.3}],
            "survey.openings[1].ties", "one tie to boiler-flue",
        ),
        (
            "survey.openings[boiler-flue].ties[0].point", "Z",
            "survey.openings[1].ties[0].point", 'corner "Z"',
        ),
        (
            "survey.openings[boiler-flue].ties[0].to_corner", 2,
            "survey.openings[1].ties[0]", "a tie to boiler-flue",
        ),
    ],
)  # fmt: skip
def test_a_key_that_does_not_fit_is_told_with_its_place(
    path: str, value: Any, at: str, says: str
) -> None:
    assert any(s.path == at and says in s.found for s in told(path, value)), told(path, value)

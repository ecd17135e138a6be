"""Law: after any edits, working out with ``reuse`` equals working out afresh."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenfall.app.loading import load
from evenfall.errors import InvalidInput
from evenfall.flow import WorkedJob, work_out
from evenfall.model.change import apply
from evenfall.model.finding import Change

EXAMPLES = Path(__file__).parents[2] / "examples"
BASE = load(EXAMPLES / "garage", date(2026, 11, 25)).case
FIRST = BASE.job.survey.tapes[0]

EDITS = st.one_of(
    st.builds(Change, st.just("job.note"), st.sampled_from(["", "a dog", "ring first"])),
    st.builds(
        Change,
        st.just(f"survey.tapes[{FIRST.between}].length_m"),
        st.integers(-8, 8).map(lambda mm: FIRST.length_m + mm / 1000),
    ),
    st.builds(Change, st.just("design.thickness_mm"), st.sampled_from([90, 100, 120, 140, None])),
    st.builds(Change, st.just("design.falls.kind"), st.sampled_from(["keep", "firrings"])),
    st.builds(Change, st.just("survey.deck.renew_percent"), st.sampled_from([0, 20, 100])),
    st.builds(Change, st.just("crew.people"), st.sampled_from([2, 3])),
    st.builds(Change, st.just("site.altitude_m"), st.sampled_from([20, 180])),
    st.builds(Change, st.just("survey.below.humidity_class"), st.sampled_from([2, 4])),
    st.builds(Change, st.just("design.hold_boards_by"), st.sampled_from(["adhesive", "screws"])),
)


STEPS = (
    {"job.note": "a dog", f"survey.tapes[{FIRST.between}].length_m": FIRST.length_m + 0.003},
    {"design.thickness_mm": 140, "crew.people": 3},
    {"design.falls.kind": "keep", "site.altitude_m": 180},
    {"survey.deck.renew_percent": 20, "survey.below.humidity_class": 4},
    {"design.hold_boards_by": "screws", "design.thickness_mm": None},
)
"""Each kind of edit once, two at a time that touch different rooms."""


@pytest.fixture(scope="module")
def first() -> WorkedJob:
    return work_out(BASE)


def agree(first, steps):
    """Work each step out from the one before, and afresh; a case that is refused is left out."""
    case, worked, agreed = BASE, first, 0
    for step in steps:
        try:
            case = replace(case, job=apply(case.job, step))
            again = work_out(case, worked)
        except InvalidInput:
            continue
        assert again == work_out(case)
        worked, agreed = again, agreed + 1
    return agreed


def test_working_out_again_equals_working_out_afresh(first):
    steps = [[Change(key, value) for key, value in step.items()] for step in STEPS]
    assert agree(first, steps) == len(STEPS)


@pytest.mark.long
@settings(max_examples=40)
@given(st.lists(EDITS, min_size=1, max_size=4))
def test_any_edits_worked_out_again_equal_working_out_afresh(first, edits):
    agree(first, [[edit] for edit in edits])

"""Law: after any edits, working out with ``reuse`` equals working out afresh."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

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


@cache
def first() -> WorkedJob:
    return work_out(BASE)


@settings(max_examples=12)
@given(st.lists(EDITS, min_size=1, max_size=4))
def test_working_out_again_equals_working_out_afresh(edits):
    case, worked = BASE, first()
    for edit in edits:
        try:
            case = replace(case, job=apply(case.job, (edit,)))
            again = work_out(case, worked)
        except InvalidInput:
            continue
        assert again == work_out(case)
        worked = again

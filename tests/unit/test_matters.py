"""Whether a default matters here: what is tried, what moves, and that the work is bounded."""

from __future__ import annotations

from datetime import date

import pytest

from evenfall.app.loading import DEMO_RATES
from evenfall.app.reading import read_file
from evenfall.drafting.complete import Drafted, complete
from evenfall.drafting.matters import MOST_TRIED, in_order, tried, weigh
from evenfall.flow import WorkedJob, work_out
from evenfall.model.case import Case
from evenfall.model.rates import Rates

ON = date(2026, 11, 25)
RATES = read_file(DEMO_RATES, Rates).value


@pytest.fixture(scope="module")
def drafted() -> Drafted:
    window = {"side": "A-B", "sill_above_covering_mm": 342}
    return complete({"survey": {"windows": [window]}}, RATES, ON)


@pytest.fixture(scope="module")
def case(drafted: Drafted) -> Case:
    assert drafted.job is not None
    return Case(drafted.job, RATES, ON)


@pytest.fixture(scope="module")
def worked(case: Case) -> WorkedJob:
    return work_out(case)


def default(drafted: Drafted, path: str):  # type: ignore[no-untyped-def]
    return next(f for f in drafted.filled if f.path == path)


@pytest.mark.parametrize(
    ("path", "by"),
    [
        ("survey.covering.laid_year", "at 1985: a stop comes: Felt of 1985 may hold asbestos"),
        ("job.listed_or_conservation", "if so: something to agree comes: Listed building"),
        ("crew.people", "at 3: price £"),
        ("survey.below.cables_in_void", "if not: something to agree goes: edge screw far"),
        ("survey.gutters[C-D].fall_mm_per_m", ""),
    ],
)
def test_a_default_matters_where_a_stop_the_price_the_board_or_the_days_move(
    path: str, by: str, drafted: Drafted, case: Case, worked: WorkedJob
) -> None:
    found = weigh(case, default(drafted, path), worked)
    assert found.matters == bool(by)
    assert not by or found.by[0].startswith(by)
    assert found.runs == len(found.tried) <= MOST_TRIED


def test_a_name_is_not_tried_at_all(drafted: Drafted, case: Case, worked: WorkedJob) -> None:
    found = weigh(case, default(drafted, "job.client"), worked)
    assert (found.matters, found.runs) == (False, 0)


def test_every_other_default_is_tried_at_something_else(drafted: Drafted, case: Case) -> None:
    for f in drafted.filled:
        values = tried(case, f)
        assert f.value not in values
        assert len(values) <= MOST_TRIED
    whole = {f.path: tried(case, f) for f in drafted.filled}
    assert whole["survey.deck.kind"] == ("planks", "osb", "chipboard")
    assert whole["design.falls.low_side"] == ("A-B", "B-C", "D-A")
    assert "pir-tissue" in whole["design.board"]
    assert [p for p, v in whole.items() if not v and "name" not in p] == [
        "survey.corners", "job.reference", "job.title", "job.client", "job.address",
        "job.surveyed_on", "site.outside_humidity_source", "survey.windows[window-1].room",
        "survey.below.room", "calendar.start_on",
    ]  # fmt: skip


def test_what_few_rooms_see_comes_first_and_shapes_last(drafted: Drafted) -> None:
    paths = [f.path for f in in_order(drafted.filled)]
    assert paths[0].startswith("job.") or paths[0] == "survey.corners"
    assert paths.index("crew.people") < paths.index("survey.joists.depth_mm")
    assert paths.index("site.terrain") < paths.index("survey.tapes[A-B].length_m")
    assert sorted(paths) == sorted(drafted.paths)

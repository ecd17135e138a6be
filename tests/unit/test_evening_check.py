"""The checker of evenings bites: each planted fault is told."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from evenfall.app.loading import load
from evenfall.flow import WorkedJob, work_out
from evenfall.model.change import apply
from evenfall.model.finding import Change
from evenfall.model.programmed import Programme
from evenfall.stages.programme.evening_check import check
from evenfall.stages.programme.roof import When

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def done() -> WorkedJob:
    case = load(EXAMPLES / "rear-extension", date(2026, 11, 25)).case
    return work_out(replace(case, job=apply(case.job, (Change("design.options", []),))))


def when(done: WorkedJob) -> When:
    job = done.case.job
    return When(job.crew, job.calendar, job.site.latitude_deg, job.site.longitude_deg)


def told(done: WorkedJob, changed: Programme) -> str:
    return "; ".join(check(changed, done.plan, done.tasks.tasks, when(done)))


def with_day(programme: Programme, n: int, **changes: object) -> Programme:
    days = list(programme.days)
    days[n] = replace(days[n], **changes)
    return replace(programme, days=tuple(days))


def with_evening(programme: Programme, n: int, **changes: object) -> Programme:
    return with_day(programme, n, evening=replace(programme.days[n].evening, **changes))


def covered(programme: Programme, n: int, bay: int, cover: str) -> Programme:
    covers = tuple((b, cover if b == bay else c) for b, c in programme.days[n].evening.covers)
    return with_evening(programme, n, covers=covers)


def test_the_example_is_closed_every_evening(done):
    assert told(done, done.programme) == ""


def test_a_bay_left_open_is_told(done):
    assert "bay 1 is open" in told(done, covered(done.programme, 0, 1, "open"))


def test_felt_that_is_already_stripped_is_told(done):
    assert "bay 1 is called felt" in told(done, covered(done.programme, 0, 1, "felt"))


def test_vcl_over_a_bay_that_nobody_opened_is_told(done):
    assert "bay 4 is called vcl" in told(done, covered(done.programme, 0, 4, "vcl"))


def test_a_sheet_before_its_boards_is_told(done):
    assert "before all its boards" in told(done, covered(done.programme, 1, 1, "sheet"))


def test_bare_boards_overnight_are_told(done):
    n = next(i for i, d in enumerate(done.programme.days) if "boards" in d.says)
    assert "lie bare" in told(done, covered(done.programme, n, 1, "vcl"))


def test_no_way_out_for_water_is_told(done):
    assert "no way out for water" in told(done, with_evening(done.programme, 2, water_leaves_by=()))


def test_sealing_after_dusk_is_told(done):
    late = with_evening(done.programme, 0, sealed_by=done.programme.days[0].evening.dusk + 0.1)
    assert "sealed after dusk" in told(done, late)


def test_a_bay_closed_only_the_next_day_is_told(done):
    """The last work of bay 1 is moved to the morning after."""
    first, second = done.programme.days[:2]
    last = [w for w in first.work if w[0].endswith("@1")][-1]
    days = (
        replace(first, work=tuple(w for w in first.work if w != last)),
        replace(second, work=(last, *second.work)),
        *done.programme.days[2:],
    )
    found = told(done, replace(done.programme, days=days))
    assert "bay 1 is opened on one day and worked again" in found
    assert "bay 1 is not closed" in found


def test_work_done_out_of_order_is_told(done):
    work = done.programme.days[0].work
    turned = with_day(done.programme, 0, work=work[::-1])
    assert "begins before" in told(done, turned)


def test_hours_left_undone_are_told(done):
    work = done.programme.days[0].work
    assert "hours of" in told(done, with_day(done.programme, 0, work=work[1:]))


def test_more_hours_than_the_crew_has_are_told(done):
    (id_, hours), *rest = done.programme.days[0].work
    full = with_day(done.programme, 0, work=((id_, hours + 40), *rest))
    assert "the crew has" in told(done, full)


def test_work_on_a_sunday_is_told(done):
    day = done.programme.days[0].on
    sunday = day - timedelta(days=(day.weekday() + 1) % 7)
    found = told(done, with_day(done.programme, 0, on=sunday))
    assert "a day off" in found
    assert "before the start" in found


def test_bays_that_miss_a_part_of_the_deck_are_told(done):
    assert "bays make" in told(done, replace(done.programme, bays=done.programme.bays[1:]))


def test_bays_that_overlap_are_told(done):
    first, second, *rest = done.programme.bays
    twice = replace(done.programme, bays=(first, replace(second, ring=first.ring), *rest))
    assert "overlap" in told(done, twice)


def test_work_that_nobody_planned_is_told(done):
    work = (*done.programme.days[0].work, ("task:fly", 0.1))
    assert "task:fly: no such work" in told(done, with_day(done.programme, 0, work=work))

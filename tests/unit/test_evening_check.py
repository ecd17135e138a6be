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
    return When(
        job.crew, job.calendar, job.job.nation, job.site.latitude_deg, job.site.longitude_deg
    )


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


def opened(done: WorkedJob) -> int:
    """The day on which bay 1 is stripped; the first may go in setting up."""
    return next(i for i, d in enumerate(done.programme.days) if d.says.startswith("bay 1"))


def test_a_bay_left_open_is_told(done):
    assert "bay 1 is open" in told(done, covered(done.programme, opened(done), 1, "open"))


def test_felt_that_is_already_stripped_is_told(done):
    assert "bay 1 is called felt" in told(done, covered(done.programme, opened(done), 1, "felt"))


def test_vcl_over_a_bay_that_nobody_opened_is_told(done):
    assert "bay 4 is called vcl" in told(done, covered(done.programme, opened(done), 4, "vcl"))


def test_a_sheet_before_its_boards_is_told(done):
    assert "before all its boards" in told(
        done, covered(done.programme, opened(done) + 1, 1, "sheet")
    )


def boarding(done: WorkedJob) -> int:
    return next(i for i, d in enumerate(done.programme.days) if "boards" in d.says)


def moved(programme: Programme, n: int, start: str) -> Programme:
    """Move some work of a day to the beginning of the next."""
    first, second = programme.days[n : n + 2]
    later = tuple(w for w in first.work if w[0].startswith(start))
    assert later
    days = (
        *programme.days[:n],
        replace(first, work=tuple(w for w in first.work if w not in later)),
        replace(second, work=(*later, *second.work)),
        *programme.days[n + 2 :],
    )
    return replace(programme, days=days)


def test_bare_boards_overnight_are_told(done):
    """Boards and sheet are torn apart: the sheet comes the day after."""
    found = told(done, moved(done.programme, boarding(done), "task:sheet-unroll"))
    assert "boards of bay 1 lie bare" in found
    assert "before all its boards" in found


def test_a_sheet_called_vcl_is_told(done):
    assert "the sheet is on" in told(done, covered(done.programme, boarding(done), 1, "vcl"))


def test_a_bay_without_a_cover_is_told(done):
    covers = done.programme.days[1].evening.covers
    assert "not every bay" in told(done, with_evening(done.programme, 1, covers=covers[1:]))
    assert "not every bay" in told(
        done, with_evening(done.programme, 1, covers=(*covers, covers[0]))
    )


def test_water_that_leaves_by_a_wall_is_told(done):
    wall = done.plan.of_kind("wall")[0].id
    changed = with_evening(done.programme, 2, water_leaves_by=(wall,))
    assert f"water cannot leave by {wall}" in told(done, changed)


def test_a_night_line_that_is_left_out_is_told(done):
    assert "night lines" in told(done, with_evening(done.programme, opened(done), night_lines=()))


def test_a_night_line_after_all_felt_is_gone_is_told(done):
    line = done.programme.days[opened(done)].evening.night_lines
    n = boarding(done)
    assert "night lines" in told(done, with_evening(done.programme, n, night_lines=line))


def test_a_dusk_that_is_too_late_is_told(done):
    late = done.programme.days[opened(done)].evening.dusk + 0.5
    assert "dusk on" in told(done, with_evening(done.programme, opened(done), dusk=late))


def test_a_roof_said_to_be_shut_too_early_is_told(done):
    early = done.programme.days[opened(done)].evening.sealed_by - 0.5
    assert "is said to be shut" in told(
        done, with_evening(done.programme, opened(done), sealed_by=early)
    )


def test_two_bays_in_a_day_for_one_are_told_for_the_hour(done):
    """All work of bay 2 is done on the day of bay 1: more than a slow day closes."""
    at = opened(done)
    first, second = done.programme.days[at : at + 2]
    both = replace(first, work=(*first.work, *(w for w in second.work if "@2" in w[0])))
    rest = replace(second, work=tuple(w for w in second.work if "@2" not in w[0]))
    days = (*done.programme.days[:at], both, rest, *done.programme.days[at + 2 :])
    found = told(done, replace(done.programme, days=days))
    assert "less than an hour to spare" in found or "sealed after dusk" in found


def test_work_before_the_strip_counts_until_the_roof_is_shut(done):
    """Three hours of work that could wait come first: the bay is shut three hours later."""
    day = done.programme.days[1]
    long = with_day(done.programme, 1, work=(("task:fascia/A-B", 9.0), *day.work))
    assert "on a slow day" in told(done, long) or "is said to be shut" in told(done, long)


def test_nights_on_the_vcl_that_are_not_counted_are_told(done):
    assert "nights on the VCL" in told(done, replace(done.programme, nights_on_vcl=0))


def test_more_people_than_the_crew_has_are_told(done):
    assert "people on" in told(done, with_day(done.programme, 0, people=9))


def test_a_sheet_laid_by_one_person_is_told(done):
    assert "takes 2 people" in told(done, with_day(done.programme, boarding(done), people=1))


def test_a_job_that_ends_on_the_vcl_is_told(done):
    n = boarding(done)
    short = replace(done.programme, days=done.programme.days[:n])
    assert "the job ends without a sheet" in told(done, short)


def test_a_sheet_that_lies_loose_over_a_day_off_is_told(done):
    """A third of the sheet on a Friday, the rest on Monday."""
    n = boarding(done)
    day, after = done.programme.days[n : n + 2]
    friday = day.on + timedelta(days=(4 - day.on.weekday()) % 7)
    monday = friday + timedelta(days=3)
    part = tuple((i, h / 3 if i == "task:sheet-field" else h) for i, h in day.work)
    days = (
        *done.programme.days[:n],
        replace(day, on=friday, work=part),
        replace(after, on=monday, work=(("task:sheet-field", 1.0), *after.work)),
    )
    assert "lies loose over a day off" in told(done, replace(done.programme, days=days))


def test_bays_that_reach_past_the_deck_are_told(done):
    first, *rest = done.programme.bays
    ring = tuple((x, y + 1.0 if y > 5 else y) for x, y in first.ring)
    past = replace(done.programme, bays=(replace(first, ring=ring), *rest))
    assert "reaches past the deck" in told(done, past)


def test_no_way_out_for_water_is_told(done):
    assert "no way out for water" in told(done, with_evening(done.programme, 2, water_leaves_by=()))


def test_sealing_after_dusk_is_told(done):
    late = with_evening(
        done.programme, opened(done), sealed_by=done.programme.days[opened(done)].evening.dusk + 0.1
    )
    assert "sealed after dusk" in told(done, late)


def test_a_bay_closed_only_the_next_day_is_told(done):
    """The last work of bay 1 is moved to the morning after."""
    at = opened(done)
    first, second = done.programme.days[at : at + 2]
    last = [w for w in first.work if w[0].endswith("@1")][-1]
    days = (
        *done.programme.days[:at],
        replace(first, work=tuple(w for w in first.work if w != last)),
        replace(second, work=(last, *second.work)),
        *done.programme.days[at + 2 :],
    )
    found = told(done, replace(done.programme, days=days))
    assert "bay 1 is opened on one day and worked again" in found
    assert "bay 1 is not closed" in found


def test_work_done_out_of_order_is_told(done):
    work = done.programme.days[opened(done)].work
    turned = with_day(done.programme, 0, work=work[::-1])
    assert "begins before" in told(done, turned)


def test_hours_left_undone_are_told(done):
    work = done.programme.days[opened(done)].work
    assert "hours of" in told(done, with_day(done.programme, 0, work=work[1:]))


def test_more_hours_than_the_crew_has_are_told(done):
    (id_, hours), *rest = done.programme.days[opened(done)].work
    full = with_day(done.programme, 0, work=((id_, hours + 40), *rest))
    assert "the crew has" in told(done, full)


def test_work_on_a_sunday_is_told(done):
    day = done.programme.days[opened(done)].on
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
    work = (*done.programme.days[opened(done)].work, ("task:fly", 0.1))
    assert "task:fly: no such work" in told(done, with_day(done.programme, 0, work=work))

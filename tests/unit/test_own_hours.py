"""Own hours: offered beside the rates from three finished jobs on, never swapped."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from tests.unit import programme_roofs as roofs
from tests.unit.plans import job

from evenfall.errors import InvalidInput
from evenfall.model.recorded import HoursUsed, SiteRecord
from evenfall.stages.programme.own_hours import Finished, beside
from evenfall.stages.programme.site import kind

WHEN = roofs.when()
TASKS, _ = roofs.planned(roofs.roof(), WHEN)
STRIP = next(o for o in roofs.OUTPUTS if o.task == "strip-felt")


def finished(factor: float, task: str = "strip-felt", on: date | None = date(2027, 5, 3)):
    """A job on which one kind of work took so many times its planned hours, on two days."""
    planned = sum(t.hours.value for t in TASKS.tasks if kind(t.id) == task)
    used = factor * planned
    log = (HoursUsed(task=task, on=date(2027, 4, 13), people=2, hours=used / 2 * 0.7),
           HoursUsed(task=task, on=date(2027, 4, 14), people=1, hours=used * 0.3))  # fmt: skip
    record = SiteRecord(hours=log, finished_on=on)
    return Finished(job().model_copy(update={"record": record}), TASKS.tasks, roofs.OUTPUTS)


def test_three_jobs_offer_a_rate_with_its_spread_and_count():
    (own,) = beside(tuple(map(finished, (1.2, 1.5, 0.9))), roofs.OUTPUTS)
    assert own.offered
    assert len(own.jobs) == 3
    assert own.own == pytest.approx([STRIP.typical * f for f in (0.9, 1.2, 1.5)], rel=5e-3)
    assert own.spread == pytest.approx(STRIP.typical * 0.3)
    assert own.seed == (STRIP.low, STRIP.typical, STRIP.high)


def test_two_jobs_are_shown_and_not_offered():
    (own,) = beside(tuple(map(finished, (1.2, 1.5))), roofs.OUTPUTS)
    assert not own.offered


def test_a_job_that_is_not_finished_does_not_count():
    jobs = (finished(1.2), finished(1.1), finished(2.0, on=None))
    (own,) = beside(jobs, roofs.OUTPUTS)
    assert len(own.jobs) == 2


def test_the_line_is_one_that_the_rates_take():
    from evenfall.app.yaml_core import parse
    from evenfall.model.rates import Output

    (own,) = beside(tuple(map(finished, (1.2, 1.5, 0.9))), roofs.OUTPUTS)
    (read,) = parse(f"outputs:\n  {own.line}\n").data["outputs"]
    taken = Output(**read)
    assert (taken.task, taken.unit, taken.typical) == ("strip-felt", "m2", own.own[1])


def test_a_larger_job_weighs_more():
    big = replace(finished(2.0), tasks=TASKS.tasks * 2)  # twice the planned hours
    (own,) = beside((finished(1.0), finished(1.0), big), roofs.OUTPUTS)
    assert [j.rate for j in own.jobs] == pytest.approx([STRIP.typical] * 3)
    assert own.own[1] == pytest.approx(STRIP.typical)


def test_work_counted_by_two_outputs_scales_both():
    found = beside(tuple(finished(1.5, "night-joint") for _ in range(3)), roofs.OUTPUTS)
    assert [o.task for o in found] == ["night-joint", "night-joint-metre"]
    for own in found:
        assert own.own[1] == pytest.approx(1.5 * own.seed[1], rel=5e-3)


def test_hours_of_work_that_the_job_does_not_have_are_refused():
    wrong = finished(1.0)
    log = (HoursUsed(task="thatching", on=date(2027, 4, 13), people=2, hours=3.0),)
    record = SiteRecord(hours=log, finished_on=date(2027, 5, 3))
    wrong = replace(wrong, job=wrong.job.model_copy(update={"record": record}))
    with pytest.raises(InvalidInput, match=r'record.hours\[0\].task: "thatching"'):
        beside((wrong,), roofs.OUTPUTS)

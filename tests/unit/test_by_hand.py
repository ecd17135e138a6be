"""A programme edited by hand: judged by the checker, evening by evening."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from tests.unit import programme_roofs as roofs

from evenfall.errors import InvalidInput
from evenfall.model.job import HandDay
from evenfall.stages.programme.site import kind


def by_hand(*days: tuple[str, tuple[str, ...]], people: int = 3, of=None):
    time = roofs.when(people)
    written = tuple(HandDay(on=date.fromisoformat(on), work=work) for on, work in days)
    calendar = time.calendar.model_copy(update={"by_hand": written})
    return roofs.planned(of or roofs.roof(), replace(time, calendar=calendar))


def copied():
    """The planner's own days, written down task by task."""
    _, plan = roofs.planned(roofs.roof(), roofs.when(3))
    return [
        (str(d.on), tuple(
            i.removeprefix("task:") for i, _ in d.work if kind(i) != "open-and-close"))
        for d in plan.days
    ]  # fmt: skip


def faults(programme) -> str:
    return "; ".join(f.says for f in programme.findings if f.code == "programme-fault")


def test_the_planner_s_own_days_written_by_hand_have_no_fault():
    days = copied()
    _, programme = by_hand(*days)
    assert [str(d.on) for d in programme.days] == [on for on, _ in days]
    assert faults(programme) == ""


def moved(days, work: str, to: int):
    """Take some work from its day, and put it first on another."""
    out = [(on, tuple(w for w in ws if w != work)) for on, ws in days]
    out[to] = (out[to][0], (work, *out[to][1]))
    return out


def test_a_bay_that_is_closed_a_day_late_is_told_with_its_evening():
    days = copied()
    n = next(i for i, (_, ws) in enumerate(days) if "vcl-edges@1" in ws)
    told = faults(by_hand(*moved(days, "vcl-edges@1", n + 1))[1])
    assert f"Bay 1 is open on the evening of {days[n][0]}" in told


def test_two_bays_in_a_day_for_one_are_told_for_the_hour():
    days = copied()
    n = next(i for i, (_, ws) in enumerate(days) if "strip-felt@2" in ws)
    mine = tuple(w for w in days[n][1] if w.endswith("@2"))
    both = [(on, tuple(w for w in ws if w not in mine)) for on, ws in days]
    both[n - 1] = (both[n - 1][0], (*both[n - 1][1], *mine))
    both = [d for d in both if d[1]]
    told = faults(by_hand(*both)[1])
    assert "after dusk" in told or "less than an hour to spare" in told or "is open" in told


def test_short_names_mean_whole_bays_the_sheet_and_the_rest():
    _, programme = by_hand(
        ("2027-04-12", ("set-up", "before-strip")), ("2027-04-13", ("bay 1",)),
        ("2027-04-14", ("bay 2",)), ("2027-04-15", ("sheet",)), ("2027-04-19", ("rest",)),
    )  # fmt: skip
    assert [dict(d.evening.covers)[1] for d in programme.days[:2]] == ["felt", "vcl"]
    assert set(dict(programme.days[-1].evening.covers).values()) == {"sheet"}
    assert faults(programme) == ""


def test_details_on_the_day_of_the_sheet_are_told():
    _, programme = by_hand(
        ("2027-04-12", ("set-up", "before-strip")), ("2027-04-13", ("bay 1",)),
        ("2027-04-14", ("bay 2",)), ("2027-04-15", ("sheet", "rest")),
    )  # fmt: skip
    assert "ends after dark" in faults(programme)


def test_work_that_the_job_does_not_have_is_refused_by_name():
    with pytest.raises(InvalidInput, match="bay 17"):
        by_hand(("2027-04-12", ("bay 17",)))

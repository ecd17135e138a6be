"""No more lies open than the crew seals within the hour and the covers on site reach over."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.unit import programme_roofs as roofs

from evenfall.stages.programme.evening_check import check
from evenfall.stages.programme.evening_water import Rain
from evenfall.stages.programme.slices import reach_over

PLAN = roofs.oblong(5.3, 5.8)
RAIN = Rain(roofs.DOWN, roofs.RAIN)


SLOW = tuple(
    o.model_copy(update={"typical": 9 * o.typical, "high": 9 * o.high})
    if o.task == "vcl-adhesive"
    else o
    for o in roofs.OUTPUTS
)


def planned(*covers: tuple[float, float], people: int = 4, of=roofs.OUTPUTS):
    time = replace(roofs.when(people), covers=covers)
    return time, *roofs.planned(roofs.roof(PLAN), time, of)


def largest(*covers: tuple[float, float]) -> float:
    return max(b.area_m2 for b in planned(*covers)[2].bays)


def codes(programme) -> list[str]:
    return [f.code for f in programme.findings]


def test_fewer_covers_shrink_the_bay():
    told, large, small = largest(), largest((8.4, 7.1)), largest((3.4, 3.3))
    assert told == pytest.approx(large)
    assert small < large


@pytest.mark.parametrize("covers", [((8.4, 7.1),), ((3.4, 3.3),), ((3.7, 4.9), (4.1, 4.6))])
def test_the_checker_finds_no_fault_under_the_covers_that_are_there(covers):
    time, tasks, programme = planned(*covers)
    assert check(programme, PLAN, tasks.tasks, time, RAIN) == ()
    assert "cover-short" not in codes(programme)


def test_a_cover_taken_from_the_site_is_caught_by_the_checker():
    time, tasks, programme = planned((8.4, 7.1))
    less = replace(time, covers=((3.4, 3.9),))
    assert "the cover reaches 0.4" in "; ".join(check(programme, PLAN, tasks.tasks, less, RAIN))


def test_covers_too_small_for_any_bay_are_a_stop_that_names_the_one_to_bring():
    found = planned((3.4, 3.3), people=2, of=SLOW)[2].findings
    stop = next(f for f in found if f.code == "cover-short")
    assert stop.level == "stop"
    assert stop.remedy.says.startswith("Bring a cover of ")
    assert "cover-ready" not in [f.code for f in found]


def test_without_covers_told_the_plan_says_which_to_bring():
    ready = next(f for f in planned()[2].findings if f.code == "cover-ready")
    assert "lies ready on the roof before the first cut" in ready.says


def test_a_cover_is_turned_as_it_reaches_best():
    assert reach_over(((9.1, 5.3),), 2.1, 6.4) == pytest.approx(2.1 * 6.1)
    assert reach_over(((9.1, 2.9),), 2.1, 6.4) == 0.0

"""Windows beside the roof: shut before the first cut, and told every evening that they matter."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

import pytest
from tests.unit import programme_roofs as roofs

from evenfall.app.loading import load
from evenfall.flow import work_out
from evenfall.model.change import apply
from evenfall.model.finding import Change
from evenfall.model.surveyed import SashAt

EXAMPLE = Path(__file__).parents[2] / "examples" / "rear-extension"

PLAN = replace(
    roofs.letter_l(), sashes=(SashAt("window:pantry", "pantry", "side:C-D", (4.2, 2.9), "leave"),)
)


@pytest.fixture(scope="module")
def days():
    return roofs.planned(roofs.roof(PLAN), roofs.when(3))[1].days


@cache
def worked(glass: str):
    case = load(EXAMPLE, date(2026, 11, 25)).case
    changes = (Change("design.options", []), Change("design.rooflight_glass", glass))
    return work_out(replace(case, job=apply(case.job, changes)))


def begun(day) -> bool:
    return any(c != "felt" for _, c in day.evening.covers)


def told(day) -> list[str]:
    return [h.says for h in day.evening.holes if h.at == "window:pantry"]


def test_a_window_is_told_from_the_evening_its_wall_is_reached_until_the_upstand_is_done(days):
    upstand = next(n for n, d in enumerate(days) if any("upstand" in i for i, _ in d.work))
    nights = [n for n, d in enumerate(days) if told(d)]
    assert nights == list(range(nights[0], upstand))
    assert begun(days[nights[0]])
    assert told(days[nights[0]])[0].startswith("shut and locked")


def test_windows_are_shut_before_the_first_cut(days):
    order = [i for d in days for i, _ in d.work]
    assert order.index("task:shut-windows") < order.index("task:before-strip")
    assert order.index("task:before-strip") < order.index("task:strip-felt@1")


def test_a_new_window_is_boarded_over_until_it_is_in():
    new = replace(PLAN, sashes=(replace(PLAN.sashes[0], treatment="raise_sill"),))
    found = roofs.planned(roofs.roof(new), roofs.when(3))[1].days
    assert {s for d in found for s in told(d)} == {
        "the new window in and sealed; until then a board and a sheet over the hole, screwed on"
    }


def test_a_roof_without_windows_has_none_to_shut():
    tasks, _ = roofs.planned(roofs.roof(roofs.letter_l()), roofs.when(3))
    assert all("shut-windows" not in t.id for t in tasks.tasks)


def test_the_roof_is_washed_down_before_the_last_photographs(days):
    last = [i for i, _ in days[-1].work][-3:]
    assert last == ["task:clear-up", "task:wash-down", "task:last-photographs"]


@pytest.mark.parametrize(("glass", "booked"), [("keep", False), ("renew", True)])
def test_glass_is_booked_and_bought_only_where_it_is_renewed(glass, booked):
    done = worked(glass)
    assert ("rooflight-glass" in [b.name for b in done.programme.bookings]) is booked
    assert ("item:rooflight-glass" in [line.id for line in done.items.order]) is booked


def test_the_windows_of_an_example_that_open_are_known_to_its_plan():
    assert [s.name for s in worked("keep").plan.sashes] == ["scullery-window", "landing-window"]

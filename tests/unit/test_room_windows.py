"""The windows room: what is stopped, what it costs to mend, and who must answer first."""

from datetime import date

import pytest
from tests.unit import plans
from tests.unit.plans import codes, one
from tests.unit.rooms import demo_rates
from tests.unit.test_room_heights import COVERING, LEVEL, STACK, WINDOW

from evenfall.errors import InvalidInput
from evenfall.model.job import Window
from evenfall.model.standing import Windows, Zones
from evenfall.stages.design import heights, windows

ON, START = date(2026, 11, 25), date(2027, 4, 12)
HIGH = STACK + 150
ANSWERS = {"escape_by": "the stair door", "airing_by": "a fan"}


def worked(start_on: date = START, works=None, **more: object) -> Windows:
    window = Window.model_validate(WINDOW.model_dump() | more)
    build = plans.build(plans.job())
    found = heights.work(
        120, build, COVERING, (), (window,), plans.plan(), plans.falls(), Zones(), LEVEL
    )
    return windows.work(
        (window,), found, windows.Choice(build, (120,), None),
        demo_rates().windows if works is None else works, "demo", ON, start_on,
    )  # fmt: skip


def low_sill(short_mm: float) -> dict[str, object]:
    return {"sill_above_covering_mm": HIGH - short_mm, "sash_above_covering_mm": HIGH + 40}


def low_sash(stays_mm: float) -> dict[str, object]:
    sash = STACK + stays_mm
    return {
        "sill_above_covering_mm": sash - 5, "sash_above_covering_mm": sash,
        "agreed_upstand_mm": 0,
    }  # fmt: skip


@pytest.mark.parametrize(("short", "held"), [(-1.0, False), (0.0, False), (0.1, True)])
def test_a_sill_that_is_short_holds_the_job(short, held):
    assert ("window-held" in codes(worked(**low_sill(short)).findings)) is held


@pytest.mark.parametrize(("stays", "held"), [(25.0, False), (24.9, True), (-12.0, True)])
def test_a_sash_that_does_not_swing_clear_holds_the_job(stays, held):
    assert ("window-held" in codes(worked(**low_sash(stays)).findings)) is held


def test_by_how_much_it_is_said_for_a_sill_passed_and_a_sash_that_meets_the_roof():
    buried = one(worked(**low_sill(150 + 37)).findings, "window-held")
    assert "passes its sill by 37 mm" in buried.says
    stopped = one(worked(**low_sash(-12)).findings, "window-held")
    assert "12 mm too low to open" in stopped.says
    assert stopped.value == pytest.approx(-12)


def test_every_way_out_that_is_priced_names_its_price_and_how_long_it_takes():
    found = worked(**low_sill(42))
    way = next(w for w in found.windows[0].ways if w.key == "raise_sill")
    assert way.cost is not None
    assert way.cost.value == round(58500 + 47200 * 0.8)
    assert way.lead_days == 38
    assert "(about £963, 38 days)" in one(found.findings, "window-held").says


@pytest.mark.parametrize("spoilt", [low_sill(42), low_sill(187), low_sash(10), low_sash(-30)])
def test_every_way_out_with_changes_clears_the_window(spoilt):
    ways = [w for w in worked(**spoilt).windows[0].ways if w.changes]
    assert "raise_sill" in [w.key for w in ways]
    for way in ways:
        if way.key in ("raise_sill", "rehang"):
            mended = {c.path.rpartition(".")[2]: c.value for c in way.changes}
            assert "window-held" not in codes(worked(**spoilt | mended).findings), way


def test_a_sash_hung_to_open_inwards_is_offered_only_where_the_sash_alone_is_stopped():
    assert "rehang" in [w.key for w in worked(**low_sash(5)).windows[0].ways]
    assert "rehang" not in [w.key for w in worked(**low_sill(5)).windows[0].ways]


@pytest.mark.parametrize("spoilt", [low_sill(42), low_sash(5)])
def test_no_remedy_ever_fixes_a_window(spoilt):
    held = one(worked(**spoilt).findings, "window-held")
    assert held.remedy is not None
    assert all("fix" not in str(c.value) for c in held.remedy.changes)
    glass = next(w for w in worked(**spoilt).windows[0].ways if w.key == "fix_glass")
    assert glass.changes == ()
    assert "escape_by" in glass.says
    asked = next(w for w in worked(**spoilt, **ANSWERS).windows[0].ways if w.key == "fix_glass")
    assert asked.changes


@pytest.mark.parametrize("treatment", ["fix_glass", "fix_shut"])
@pytest.mark.parametrize(
    ("answers", "code"),
    [
        ({}, "window-shut"),
        ({"escape_by": "the stair door"}, "window-shut"),
        ({"airing_by": "a fan"}, "window-shut"),
        (ANSWERS, "window-fixed"),
    ],
)
def test_a_window_is_fixed_only_when_escape_and_airing_are_answered(treatment, answers, code):
    found = worked(treatment=treatment, **answers).findings
    told = one(found, code)
    assert told.level == ("stop" if code == "window-shut" else "note")
    assert {"window-shut", "window-fixed"} & set(codes(found)) == {code}


@pytest.mark.parametrize("use", ["only_escape", "only_airing"])
def test_one_that_people_depend_on_is_fixed_only_with_a_word_in_writing(use):
    found = worked(treatment="fix_shut", **ANSWERS, **{use: True}).findings
    assert one(found, "window-fixed").level == "agree"
    assert "only-window" not in codes(found)


def test_a_treatment_is_ordered_and_takes_its_time():
    found = worked(treatment="rehang", **low_sash(-12))
    assert [line.id for line in found.order] == ["window:rehang:stair"]
    told = one(found.findings, "window-treated")
    assert "order it by 27 Mar 2027" in told.says
    assert worked().order == ()


@pytest.mark.parametrize(("days", "late"), [(16, False), (15, True)])
def test_a_window_that_comes_after_the_start_is_told_and_a_later_start_clears_it(days, late):
    start = date.fromordinal(ON.toordinal() + days)
    found = worked(start_on=start, treatment="rehang").findings
    assert ("window-late" in codes(found)) is late
    if late:
        remedy = one(found, "window-late").remedy
        assert remedy is not None
        later = date.fromisoformat(str(remedy.changes[0].value))
        again = worked(start_on=later, treatment="rehang").findings
        assert "window-late" not in codes(again)


def test_a_treatment_that_the_rates_lack_is_refused_by_name():
    with pytest.raises(InvalidInput, match="rehang for stair") as wrong:
        worked(treatment="rehang", works=demo_rates().windows[:1])
    assert wrong.value.where == "survey.windows[stair].treatment"


def test_the_height_of_a_new_sill_counts_and_lifts_the_sash_with_it():
    found = worked(treatment="raise_sill", new_sill_above_covering_mm=HIGH + 5, **low_sill(42))
    window = found.windows[0]
    assert window.sill_mm == pytest.approx(155)
    assert window.sash_mm == pytest.approx(150 + 40 + 47)
    assert not window.held


def test_a_clearance_agreed_in_writing_holds_for_the_sash():
    assert "window-held" not in codes(worked(**low_sash(10), agreed_sash_clear_mm=8).findings)


@pytest.mark.parametrize(
    ("escape", "airing", "said"),
    [
        (True, False, "way out"),
        (False, True, "quick airing"),
        (True, True, "way out in a fire and"),
    ],
)
def test_a_window_that_people_depend_on_is_to_be_tried(escape, airing, said):
    found = one(worked(only_escape=escape, only_airing=airing).findings, "only-window")
    assert (found.level, found.subject) == ("note", "window:stair")
    assert said in found.says
    assert "only-window" not in codes(worked().findings)


def test_a_roof_without_windows_says_so():
    build = plans.build(plans.job())
    bare = heights.work(120, build, COVERING, (), (), plans.plan(), plans.falls(), Zones(), LEVEL)
    found = windows.work((), bare, windows.Choice(build, (), None), (), "demo", ON, START)
    assert found.why_empty

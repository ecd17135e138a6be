"""Levels that gainsay the others, and corners that no level vouches for."""

from __future__ import annotations

import pytest
from tests.unit import rooms

from evenfall.model.surveyed import Plan
from evenfall.stages.survey import levels, plan_words
from evenfall.stages.survey import plan as plans


def read(changes: dict[str, float], keep: tuple[str, ...] = ()) -> object:
    job = rooms.job("garage")
    told = [s.model_copy(update={"below_line_mm": changes.get(s.name, s.below_line_mm)})
            for s in job.survey.levels if not keep or s.name in keep]  # fmt: skip
    return levels.work(tuple(told), plan_of(job))


def plan_of(job: object) -> Plan:
    s = job.survey  # type: ignore[attr-defined]
    return plans.work(s.corners, s.tapes, s.tape_accuracy_mm, s.sides, s.openings)


@pytest.mark.parametrize(("name", "off", "way"), [("middle", -100, "high"), ("d", 90, "low")])
def test_a_level_a_decimetre_out_is_named(name: str, off: float, way: str) -> None:
    true = {s.name: s.below_line_mm for s in rooms.job("garage").survey.levels}
    found = rooms.one(read({name: true[name] + off}).findings, "level-odd")
    assert found.subject == f"level:{name}"
    assert f"too {way}" in found.says
    assert found.value == pytest.approx(abs(off), abs=12)


def test_two_levels_that_explain_it_as_well_are_both_named() -> None:
    found = rooms.one(read({"c": 336}).findings, "level-odd")
    assert {"a", "c"} >= {found.subject.partition(":")[2]}
    assert "It could as well be" in found.says
    assert found.remedy.changes == ()


def test_a_level_in_another_unit_is_recognised_and_the_change_clears_it() -> None:
    found = rooms.one(read({"b": 30.5}).findings, "level-odd")
    assert "30.5 cm are 305 mm" in found.says
    (change,) = found.remedy.changes
    assert (change.path, change.value) == ("survey.levels[b].below_line_mm", 305)
    assert "level-odd" not in rooms.codes(read({"b": 305}).findings)
    assert "0.305 m are 305 mm" in rooms.one(read({"b": 0.305}).findings, "level-odd").says


def test_levels_as_they_were_read_are_not_called_odd() -> None:
    assert not {"level-odd", "levels-in-line"} & set(rooms.codes(read({}).findings))


def test_levels_near_one_line_name_the_corner_that_is_only_guessed() -> None:
    job = rooms.job("garage")
    first = [s for s in job.survey.levels if s.name in ("a", "b")]
    near = job.survey.levels[4].model_copy(update={"in_m": 0.06, "below_line_mm": 306})
    found = rooms.one(levels.work((*first, near), plan_of(job)).findings, "levels-in-line")
    assert found.subject in ("corner:C", "corner:D")
    assert found.level == "stop"
    assert found.value > 100
    assert "levels-in-line" not in rooms.codes(read({}, ("a", "b", "c")).findings)


def test_a_roof_too_large_for_a_house_is_asked_about_in_feet() -> None:
    assert plan_words.large(6.37, 33.1) == ()
    (found,) = plan_words.large(20.9, 356.0)
    assert found.level == "agree"
    assert "6.37 m and 33.1 m²" in found.says

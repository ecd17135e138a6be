"""The checker of roll plans: true plans have no fault, and each fault, planted, is found."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.laws.test_layout_laws import roofs

from evenfall.calc.layout import roll_check
from evenfall.calc.layout.roll_check import RollTask, check_rolls
from evenfall.calc.layout.rolls import plan_rolls

ROOF = ((0, 0), (6200, 0), (6200, 4100), (0, 4100))
HOLE = ((2000, 1000), (3200, 1000), (3200, 1900), (2000, 1900))
TASK = RollTask(ROOF, 200, (1080, 7500), (0, -1), 80, 150, 1000, [HOLE])


def planned(task, along=(1, 0)):
    return plan_rolls(
        task.outline, int(task.turn_up_mm), task.roll, along, task.low_side, holes=task.holes
    )


@pytest.fixture(scope="module")
def plan():
    return planned(TASK)


SHORT = replace(TASK, roll=(1080, 5000))  # every strip has an end lap


@pytest.fixture(scope="module")
def joined():
    return planned(SHORT)


def faults(plan, task=TASK):
    found = check_rolls(plan, task)
    return {f.split(":")[0] for f in found}, " ".join(found)


def piece(plan, place, **what):
    pieces = list(plan.pieces)
    pieces[place] = replace(pieces[place], **what)
    return replace(plan, pieces=tuple(pieces))


def strip(plan, place, **what):
    strips = list(plan.kerb_strips)
    strips[place] = replace(strips[place], **what)
    return replace(plan, kerb_strips=tuple(strips))


def moved(ring, dx, dy):
    return tuple((x + dx, y + dy) for x, y in ring)


@pytest.mark.parametrize("along", [(1, 0), (0, 1)])
def test_a_true_plan_has_no_fault(along):
    assert faults(planned(TASK, along))[1] == ""


@settings(max_examples=12, deadline=None, derandomize=True)
@given(roofs(), st.sampled_from([0, 180]), st.sampled_from([(0, -1), (1, 0), (3, -4)]),
       st.booleans(), st.sampled_from([(1080, 8000), (1500, 20000)]))  # fmt: skip
def test_neither_has_the_plan_of_any_roof(roof, turn_up, low, across, roll):
    outline, holes = roof
    task = RollTask(outline, turn_up, roll, low, 80, 150, 1000, holes)
    assert faults(planned(task, (-low[1], low[0]) if across else low), task)[1] == ""


def test_a_piece_left_out_is_a_gap(plan):
    assert "gap" in faults(replace(plan, pieces=plan.pieces[:-1]))[0]


def test_a_turn_up_forgotten_is_found(plan):
    says = faults(plan, replace(TASK, turn_up_mm=230))[1]
    assert "turn-up: side 2 has less than its 230 mm" in says


def test_a_side_lap_too_small_is_found(plan):
    last = plan.pieces[-1]
    assert "side lap" in faults(piece(plan, -1, corners=moved(last.corners, 0, 20)))[0]


def test_an_end_lap_too_small_is_found(joined):
    assert "end lap" in faults(joined, replace(SHORT, end_lap_mm=170))[0]


def test_a_lap_against_the_fall_is_found(plan):
    turned = tuple(replace(p, number=n) for n, p in enumerate(plan.pieces[::-1], start=1))
    assert "against the fall" in faults(replace(plan, pieces=turned))[0]
    assert "against the fall" in faults(plan, replace(TASK, low_side=(0, 1)))[0]


def test_end_laps_against_the_fall_are_found():
    down = planned(TASK, (0, 1))
    task = replace(TASK, roll=(1080, 3000))
    short = planned(task, (0, 1))
    order = sorted(short.pieces, key=lambda p: (p.strip, -min(y for _, y in p.corners)))
    turned = tuple(replace(p, number=n) for n, p in enumerate(order, start=1))
    assert faults(short, task)[1] == faults(down)[1] == ""
    assert "against the fall" in faults(replace(short, pieces=turned), task)[0]


def test_a_piece_longer_than_told_is_found(plan):
    assert "size" in faults(piece(plan, 0, length_mm=plan.pieces[0].length_mm - 40))[0]


def test_a_piece_wider_than_a_roll_is_found(plan):
    assert "wider than a roll" in faults(plan, replace(TASK, roll=(1050, 7500)))[1]


def test_a_roll_that_is_too_short_is_found(plan):
    assert "of 6500 mm" in faults(plan, replace(TASK, roll=(1080, 6500)))[1]


def test_a_piece_from_a_roll_that_is_not_bought_is_found(plan):
    assert "is not bought" in faults(piece(plan, 0, roll=plan.rolls + 1))[1]
    assert "is not bought" in faults(replace(plan, rolls=plan.rolls - 1))[1]


def test_a_piece_too_short_to_be_laid_is_found(joined):
    least = min(p.length_mm for p in joined.pieces)
    assert faults(joined, SHORT)[1] == ""
    assert "short" in faults(joined, replace(SHORT, shortest_mm=least + 1))[0]


def test_numbers_that_are_not_the_order_of_laying_are_found(plan):
    assert "numbers" in faults(piece(plan, 0, number=2))[0]


def test_a_kerb_side_without_a_strip_is_found(plan):
    found = faults(replace(plan, kerb_strips=plan.kerb_strips[:-1]))[1]
    assert "of opening 0 has no strip" in found


@pytest.mark.parametrize(
    ("what", "says"),
    [
        ({"length_mm": 1200}, "does not pass the corners"),
        ({"width_mm": 200}, "too little to go up"),
        ({"hole": 3}, "goes up no kerb"),
        ({"takes_mm": 90}, "does not come out of 90 mm"),
        ({"beside": 2}, "does not come out of"),
    ],
)
def test_a_kerb_strip_too_short_too_narrow_or_from_nowhere_is_found(plan, what, says):
    assert says in faults(strip(plan, 0, **what))[1]


def test_more_strips_beside_one_another_than_a_roll_is_wide_are_found():
    wide = ((500, 1000), (5700, 1000), (5700, 2600), (500, 2600))
    task = replace(TASK, holes=[wide])
    plan = planned(task)
    assert faults(plan, task)[1] == ""
    assert sum(bool(s.beside) for s in plan.kerb_strips) == 2
    first = plan.kerb_strips[0].number
    crowd = tuple(replace(s, beside=0 if s.number == first else first) for s in plan.kerb_strips)
    assert "does not come out of" in faults(replace(plan, kerb_strips=crowd), task)[1]


def test_a_strip_over_the_piece_above_its_kerb_is_found(plan):
    place = next(i for i, s in enumerate(plan.kerb_strips) if s.goes_under)
    assert "lies over the piece above its kerb" in faults(strip(plan, place, goes_under=False))[1]


def test_the_checker_shares_no_code_with_the_planner():
    """Its only imports of the planner are the names of types."""
    lines = Path(roll_check.__file__).read_text(encoding="utf-8").splitlines()
    assert [x for x in lines if x.startswith(("from evenfall", "import evenfall"))] == []

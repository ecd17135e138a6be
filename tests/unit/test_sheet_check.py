"""The checker of sheet plans: true plans have no fault, and each fault, planted, is found."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.laws.test_layout_laws import roofs

from evenfall.calc.layout import sheet_check
from evenfall.calc.layout.sheet import plan_sheet, strip_rings
from evenfall.calc.layout.sheet_check import SheetTask, check_sheet
from evenfall.calc.layout.sheet_pieces import upstand_ring
from evenfall.standards import sheet_practice as practice

ROOF = ((0, 0), (8300, 0), (8300, 5100), (0, 5100))
STRIPS = ((1361, 250), (1140, 250), (1361, 250), (1140, 250))
PRACTICE = (practice.SEAM_LAP_MM.value, practice.SEAM_FROM_OUTLET_MM.value,
            practice.WIDTH_SHORT.value)  # fmt: skip
TASK = SheetTask(ROOF, (150, 240, 250, 240), *PRACTICE, STRIPS, ((4010, 300),), (0.0, -1.0))
NARROW = [(3050, 5000, 100, 1150, 1.4)]  # three strips, joined along their length as well
WIDE = [(9150, 30000, 100, 1150, 1.4)]


def planned(task, stock):
    return plan_sheet(
        task.outline, task.allowances_mm, 0, stock, downhill=task.downhill,
        outlets=task.outlets, upstands=task.upstands,
    ).chosen  # fmt: skip


def rings_of(option):
    return [upstand_ring(p, option.along) for p in option.upstands.pieces]


def faults(option, task=TASK, rings=None, cut_from=None):
    found = check_sheet(
        option, strip_rings(option) if rings is None else rings,
        rings_of(option) if cut_from is None else cut_from, task,
    )  # fmt: skip
    return {f.split(":")[0] for f in found}, " ".join(found)


def moved(ring, dx, dy):
    return tuple((x + dx, y + dy) for x, y in ring)


def upstand(option, place, **what):
    pieces = list(option.upstands.pieces)
    pieces[place] = pieces[place]._replace(**what)
    return replace(option, upstands=replace(option.upstands, pieces=tuple(pieces)))


@pytest.fixture(scope="module")
def grid():
    return planned(TASK, NARROW)


@pytest.fixture(scope="module")
def whole():
    return planned(TASK, WIDE)


def test_true_plans_have_no_fault(grid, whole):
    assert (faults(grid)[1], faults(whole)[1]) == ("", "")
    assert (whole.one_piece, grid.strips > 1, grid.t_joints > 0) == (True, True, True)


any_sheet = given(
    roofs(), st.sampled_from([0, 150, 251]), st.sampled_from([(0.0, -1.0), (1.0, 0.0), (3.0, 4.0)]),
    st.sampled_from([1520, 3050, 9150]), st.sampled_from([3500, 30000]),
    st.sampled_from([100, 500]), st.booleans(),
)  # fmt: skip


@settings(max_examples=10, deadline=None, derandomize=True)
@any_sheet
def test_so_has_the_sheet_of_any_roof(roof, allowance, downhill, width, longest, step, outlet):
    _sound(roof, allowance, downhill, (width, longest, step), outlet)


@pytest.mark.long
@settings(max_examples=300, deadline=None, derandomize=True)
@any_sheet
def test_so_have_the_sheets_of_many(roof, allowance, downhill, width, longest, step, outlet):
    _sound(roof, allowance, downhill, (width, longest, step), outlet)


def _sound(roof, allowance, downhill, roll, outlet):
    outline, _ = roof
    outlets = [(outline[0][0] + 700.0, outline[0][1] + 600.0)] if outlet else []
    task = SheetTask(outline, [allowance] * len(outline), *PRACTICE, STRIPS, outlets, downhill)
    assert faults(planned(task, [(*roll, 1150, 1.4)]), task)[1] == ""


def test_a_piece_left_out_is_a_gap(grid):
    found, _ = faults(grid, rings=strip_rings(grid)[:-1])
    assert {"gap", "pieces"} <= found


def test_a_turn_up_forgotten_is_found(whole):
    _, says = faults(whole, replace(TASK, allowances_mm=(150, 240, 400, 240)))
    assert "turn-up: side 2 has less than its 400 mm" in says


def test_a_lap_too_small_is_found(grid):
    rings = list(strip_rings(grid))
    rings[-1] = moved(rings[-1], 30, 30)
    assert "lap" in faults(grid, rings=rings)[0]


def test_strips_that_only_touch_are_found(grid):
    rings = list(strip_rings(grid))
    rings[-1] = moved(rings[-1], 100, 100)
    assert "lap" in faults(grid, rings=rings)[0]


def test_a_lap_against_the_fall_is_found(grid):
    assert "against the fall" in faults(grid, rings=strip_rings(grid)[::-1])[0]


def test_a_piece_wider_than_the_roll_surely_is_is_found(whole):
    slim = replace(whole, stock=whole.stock._replace(width_mm=whole.laid.wide))
    assert "piece" in faults(slim)[0]


def test_a_cut_that_no_merchant_makes_is_found(whole):
    odd = replace(whole, laid=whole.laid._replace(cut=whole.cut_mm + 13))
    assert "cut" in faults(odd)[0]
    long = replace(whole, stock=whole.stock._replace(longest_mm=whole.cut_mm - 100))
    assert "cut" in faults(long)[0]


def test_an_order_that_is_short_is_found(grid):
    assert "order" in faults(replace(grid, area_mm2=grid.area_mm2 - 1))[0]


def test_a_seam_near_an_outlet_that_is_not_told_is_found(grid):
    x, y = strip_rings(grid)[0][2]
    near = replace(TASK, outlets=((x - 40, y - 40),))
    assert "outlet" in faults(replace(grid, from_outlet_mm=900.0), near)[0]
    assert "outlet" not in faults(replace(grid, from_outlet_mm=10.0), near)[0]


def test_seams_that_are_not_told_are_found(grid):
    merged = [*strip_rings(grid)]
    single = replace(grid, laid=grid.laid._replace(strips=1, lengths=1))
    assert {"seams", "pieces"} <= faults(single, rings=merged)[0]


@pytest.mark.parametrize(
    ("what", "says"),
    [
        ({"along_mm": 900, "across_mm": 250}, "under 1361"),
        ({"along_mm": 1361, "across_mm": 230}, "narrower than 250"),
        ({"strip": 1}, "strip 0 is cut from nothing"),
        ({"strip": 9}, "for no strip or from nowhere"),
        ({"kind": "elsewhere"}, "for no strip or from nowhere"),
        ({"number": 7}, "not numbered from 1"),
    ],
)
def test_a_strip_too_short_too_narrow_or_forgotten_is_found(whole, what, says):
    assert says in faults(upstand(whole, 0, **what))[1]


def test_a_strip_cut_out_of_the_field_is_found(whole):
    rings = rings_of(whole)
    rings[0] = moved(rings[0], 0, -900)
    assert "cut where no sheet is free" in faults(whole, cut_from=rings)[1]


def test_a_strip_cut_beyond_the_sheet_is_found(whole):
    rings = rings_of(whole)
    rings[0] = moved(rings[0], 60_000, 0)
    assert "cut where no sheet is free" in faults(whole, cut_from=rings)[1]


def test_two_strips_out_of_one_place_are_found(whole):
    rings = rings_of(whole)
    assert "out of one place" in faults(whole, cut_from=[rings[2], *rings[1:]])[1]


def test_strips_of_a_further_cut_lie_within_it():
    task = SheetTask(((0, 0), (6000, 0), (6000, 3030), (0, 3030)), (0, 0, 0, 0), *PRACTICE, STRIPS)
    option = planned(task, [(3050, 30000, 100, 1150, 1.4)])
    assert option.upstands.of_kind("cut") == 4
    assert faults(option, task)[1] == ""
    short = replace(option, upstands=replace(option.upstands, cut_mm=100))
    assert "cut where no sheet is free" in faults(short, task)[1]


def test_a_joined_strip_without_its_lap_is_found():
    roof = ((0, 0), (6000, 0), (6000, 3030), (0, 3030))
    task = SheetTask(roof, (0, 0, 0, 0), *PRACTICE, ((4100, 250),))
    option = planned(task, [(3050, 30000, 100, 1150, 1.4)])
    assert faults(option, task)[1] == ""
    assert len(option.upstands.pieces) == 2
    short = upstand(option, 1, across_mm=option.upstands.pieces[1].across_mm - 100)
    assert "is 4000 mm long with its laps, under 4100" in faults(short, task)[1]


def test_the_checker_shares_no_code_with_the_planner():
    """Its only imports of the planner are the names of types."""
    lines = Path(sheet_check.__file__).read_text(encoding="utf-8").splitlines()
    assert [x for x in lines if x.startswith(("from evenfall", "import evenfall"))] == []

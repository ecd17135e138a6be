"""Laws of what is bought: a mirrored roof costs the same, and no order is ever short."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon
from tests.laws.test_layout_laws import few, roofs

from evenfall.calc.layout.board_check import check_board_plan
from evenfall.calc.layout.boards import BoardRules, plan_boards
from evenfall.calc.layout.rolls import plan_rolls
from evenfall.calc.layout.sheet import plan_sheet

STOCK = [
    (3050, 30000, 100, 1150, 1.4),
    (6100, 30000, 100, 1150, 1.4),
    (7620, 30000, 100, 1190, 1.4),
]
ROLL = (1080, 15000)
STRIPS = [(1360, 250), (1140, 250), (1360, 250), (1140, 250)]


def mirrored(outline):
    """The outline seen from below, its corners again anticlockwise."""
    return tuple((-x, y) for x, y in reversed(outline))


def turned(sides):
    """What stood at each side, in the order of the mirrored corners."""
    return [*reversed(sides[:-1]), sides[-1]]


any_sheet = given(roofs(), st.data())


@settings(few, max_examples=5)
@any_sheet
def test_the_sheet_of_a_mirrored_roof_costs_the_same(roof, data):
    _alike(roof, data)


@pytest.mark.long
@settings(few, max_examples=120)
@any_sheet
def test_so_do_many_mirrored_sheets(roof, data):
    _alike(roof, data)


def _alike(roof, data):
    outline, _ = roof
    allowances = [data.draw(st.sampled_from((0, 150, 240, 250))) for _ in outline]
    outlets = [outline[0]] if data.draw(st.booleans()) else []
    one = plan_sheet(outline, allowances, 12, STOCK, downhill=(1.0, -2.0), outlets=outlets,
                     upstands=STRIPS).chosen  # fmt: skip
    other = plan_sheet(mirrored(outline), turned(allowances), 12, STOCK, downhill=(-1.0, -2.0),
                       outlets=[(-x, y) for x, y in outlets], upstands=STRIPS).chosen  # fmt: skip
    for what in ("cost_pence", "area_mm2", "pieces", "seam_mm", "t_joints", "across_fall_mm"):
        assert getattr(other, what) == pytest.approx(getattr(one, what), abs=2), what


@settings(few, max_examples=8)
@given(roofs(), st.integers(0, 250), st.sampled_from([(1, 0), (0, 1), (3, -4)]))
def test_the_vcl_of_a_mirrored_roof_takes_as_many_rolls(roof, turn_up, along):
    outline, _ = roof
    low = (along[1], -along[0])
    one = plan_rolls(outline, turn_up, ROLL, along, low)
    other = plan_rolls(mirrored(outline), turn_up, ROLL, (-along[0], along[1]), (-low[0], low[1]))
    assert other.rolls == one.rolls
    assert other.laid_area_mm2 == pytest.approx(one.laid_area_mm2, rel=1e-3)


@settings(few, max_examples=6)
@given(roofs())
def test_neither_sheet_nor_vcl_is_ever_short_of_the_roof(roof):
    outline, _ = roof
    area = Polygon(outline).area
    best = plan_sheet(outline, [150] * len(outline), 10, STOCK, upstands=STRIPS).chosen
    strips = sum(a * b for a, b in STRIPS)
    assert len(best.upstands.pieces) >= len(STRIPS)
    assert best.area_mm2 >= area + strips
    rolls = plan_rolls(outline, 120, ROLL, (1, 0), (0, -1))
    assert rolls.rolls * ROLL[0] * ROLL[1] >= rolls.laid_area_mm2 >= area


@settings(few, max_examples=5)
@given(st.integers(40, 149), st.integers(900, 6000), st.integers(0, 1100))
def test_a_roof_narrower_than_the_smallest_piece_is_covered_and_says_what_it_breaks(
    narrow, long, kerf
):
    ring = ((0, 0), (long, 0), (long, narrow), (0, narrow))
    rules = BoardRules(kerf=kerf)
    plan = plan_boards(ring, (), (2400, 1200), rules, quick=True, steps=60)
    assert any(b.startswith(("perimeter piece", "piece")) for b in plan.breaches)
    told = {f.split(":")[0] for f in check_board_plan(plan, ring, (), (2400, 1200), rules)}
    assert told <= {b.split(":")[0] for b in plan.breaches}
    assert plan.boards_bought * 2400 * 1200 >= long * narrow

"""The sheet: direction, width, seams, lifting."""

import pytest

from evenfall.calc.layout.sheet import filter_of_three, filter_of_two, plan_sheet
from evenfall.errors import InvalidInput

ROOF = ((0, 0), (6200, 0), (6200, 4100), (0, 4100))
EDGES = (250, 240, 150, 240)  # wall, kerb, drip, kerb


def roll(width, longest=30000, step=100, price=1150, mass=1.4):
    return (width, longest, step, price, mass)


def test_the_uncertainty_is_added_on_every_side():
    chosen = plan_sheet(ROOF, EDGES, 12, [roll(7620)]).chosen
    assert sorted((chosen.need_along_mm, chosen.need_across_mm)) == [4524, 6704]


def test_the_cut_is_rounded_up_to_the_step():
    assert plan_sheet(ROOF, EDGES, 0, [roll(7620, step=500)]).chosen.cut_mm == 4500
    assert plan_sheet(ROOF, EDGES, 1, [roll(7620, step=500)]).chosen.cut_mm == 5000


def test_a_roll_that_the_factory_may_make_too_narrow_is_not_trusted():
    need = ((0, 0), (6000, 0), (6000, 4500), (0, 4500))
    chosen = plan_sheet(need, (0, 0, 0, 0), 0, [roll(4510)]).chosen
    assert not chosen.one_piece
    trusted = plan_sheet(need, (0, 0, 0, 0), 0, [roll(4510)], width_short=0.0).chosen
    assert trusted.one_piece


def test_seams_are_counted_where_no_roll_is_wide_enough():
    chosen = plan_sheet(ROOF, EDGES, 0, [roll(3050)]).chosen
    assert (chosen.pieces, chosen.seams, chosen.seam_mm) == (2, 1, 6680)


def test_one_piece_goes_before_a_cheaper_sheet_with_seams():
    plan = plan_sheet(ROOF, EDGES, 0, [roll(7620, price=2000), roll(3050, price=900)])
    assert (plan.chosen.one_piece, plan.chosen.stock.width_mm) == (True, 7620)
    assert min(plan.options, key=lambda o: o.cost_pence).stock.width_mm == 3050


def test_an_l_roof_is_covered_by_its_bounding_rectangle():
    shape = ((0, 0), (7000, 0), (7000, 3000), (3500, 3000), (3500, 5600), (0, 5600))
    chosen = plan_sheet(shape, (0,) * 6, 0, [roll(7620)]).chosen
    assert sorted((chosen.need_along_mm, chosen.need_across_mm)) == [5600, 7000]


def test_the_allowance_of_an_inner_side_does_not_grow_the_rectangle():
    shape = ((0, 0), (7000, 0), (7000, 3000), (3500, 3000), (3500, 5600), (0, 5600))
    chosen = plan_sheet(shape, (0, 0, 240, 240, 0, 0), 0, [roll(7620)]).chosen
    assert sorted((chosen.need_along_mm, chosen.need_across_mm)) == [5600, 7000]


def test_a_roof_turned_in_the_plan_needs_the_same_sheet():
    turned = ((0, 0), (4960, 3720), (2500, 7000), (-2460, 3280))  # 6.20 x 4.10 m, turned 3:4
    chosen = plan_sheet(turned, EDGES, 0, [roll(7620)]).chosen
    assert sorted((chosen.need_along_mm, chosen.need_across_mm)) == [4500, 6680]


def test_both_lifting_figures_are_told():
    plan = plan_sheet(ROOF, EDGES, 0, [roll(7620)])
    assert plan.two_people_practice_kg == 50
    assert plan.two_people_filter_kg == pytest.approx(33.33, abs=0.005)
    assert plan.three_people_filter_kg == 37.5
    assert plan.two_people_filter_kg < plan.chosen.piece_kg < plan.two_people_practice_kg


def test_the_filter_of_a_man_and_a_woman_is_lower():
    assert filter_of_two(25.0, 16.0) == pytest.approx(27.33, abs=0.005)
    assert filter_of_three(25.0, 16.0, 16.0) == 28.5


def test_each_side_wants_its_allowance():
    with pytest.raises(InvalidInput, match="3 allowances for 4 sides"):
        plan_sheet(ROOF, (1, 2, 3), 0, [roll(7620)])


def test_a_roll_narrower_than_its_lap_is_refused():
    with pytest.raises(InvalidInput, match=r"rolls of .* wider than a lap of 100 mm"):
        plan_sheet(ROOF, EDGES, 0, [roll(100)])

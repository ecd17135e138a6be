"""The reference roof, 6.20 x 4.10 m, worked by hand, against the cutting programs.

Fictional; wall and gutter on the long sides, kerbs on the short ones, rooflight 1.10 x 1.60 m.
Basis: calculated from planning seeds.
"""

import pytest

from evenfall.calc.layout.board_check import check_board_plan
from evenfall.calc.layout.boards import BoardRules, plan_boards
from evenfall.calc.layout.packs import need_at_worse_coverage, to_packs
from evenfall.calc.layout.rolls import plan_rolls
from evenfall.calc.layout.sheet import plan_sheet
from evenfall.standards.sheet_practice import (
    DRIP_ALLOWANCE_MM,
    DRIP_DRESS_MM,
    DRIP_HANDLING_MM,
    KERB_ALLOWANCE_MM,
    MASS_THIN_KG_M2,
    WALL_ALLOWANCE_MM,
    WALL_EXTRA_MM,
    WALL_UPSTAND_MM,
)

ROOF = ((0, 0), (6200, 0), (6200, 4100), (0, 4100))  # wall along y = 0
ROOFLIGHT = ((2000, 1500), (3100, 1500), (3100, 3100), (2000, 3100))  # place not given: ours
EDGES = tuple(
    int(a) for a in (WALL_ALLOWANCE_MM, KERB_ALLOWANCE_MM, DRIP_ALLOWANCE_MM, KERB_ALLOWANCE_MM)
)


@pytest.fixture(scope="module")
def sheet():
    mass = float(MASS_THIN_KG_M2)
    return plan_sheet(ROOF, EDGES, 0, [(w, 30000, 10, 1150, mass) for w in (6100, 7620)])


def one_piece(sheet, width):
    return next(o for o in sheet.options if o.one_piece and o.stock.width_mm == width)


def test_the_allowances_are_the_sums_of_their_parts():
    assert float(DRIP_ALLOWANCE_MM) == DRIP_DRESS_MM + DRIP_HANDLING_MM
    assert float(WALL_ALLOWANCE_MM) == WALL_UPSTAND_MM + WALL_EXTRA_MM


def test_option_one_is_34_3_square_metres_and_48_kg(sheet):
    one = one_piece(sheet, 7620)
    assert (one.need_across_mm, one.cut_mm) == (6680, 4500)
    assert one.area_mm2 / 1e6 == pytest.approx(34.3, abs=0.05)
    assert one.mass_kg == pytest.approx(48, abs=0.5)


def test_option_two_is_40_7_square_metres_and_57_kg(sheet):
    two = one_piece(sheet, 6100)
    assert (two.need_across_mm, two.cut_mm) == (4500, 6680)
    assert two.area_mm2 / 1e6 == pytest.approx(40.7, abs=0.05)
    assert two.mass_kg == pytest.approx(57, abs=0.5)


def test_option_one_is_chosen_and_passes_one_lifting_figure_only(sheet):
    assert sheet.chosen == one_piece(sheet, 7620)
    assert sheet.chosen.piece_kg < sheet.two_people_practice_kg
    assert sheet.chosen.piece_kg > sheet.two_people_filter_kg


def test_at_least_nine_boards_and_with_the_rooflight_here_nine_are_found():
    plan = plan_boards(ROOF, [ROOFLIGHT], (2400, 1200))
    assert (plan.net_area_mm2, plan.lower_bound) == (23_660_000, 9)
    assert plan.boards_bought == 9
    assert check_board_plan(plan, ROOF, [ROOFLIGHT], (2400, 1200), BoardRules()) == ()


def test_two_rolls_of_twenty_metres():
    """By hand without the openings cut out: 6.60 x 4.50 m and four laps of 80 mm."""
    plan = plan_rolls(ROOF, 200, (1080, 20000), (1, 0), (0, 1))
    assert plan.net_area_mm2 == 6600 * 4500
    assert plan.laid_area_mm2 >= (4500 + 4 * 80) * 6600
    assert plan.rolls == 2


def test_ten_litres_of_adhesive_on_one_face():
    need = need_at_worse_coverage(25.42, [3.0])
    assert need == pytest.approx(8.5, abs=0.05)
    assert to_packs(round(1000 * need), [(2500, 2900), (5000, 4900), (10000, 8600)]).bought == 10000

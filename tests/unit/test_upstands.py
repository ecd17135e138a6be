"""Upstand strips: from what is left beside the sheet where it is wide enough, else from more."""

import pytest

from evenfall.calc.layout.sheet import plan_sheet, strip_rings
from evenfall.calc.layout.upstands import Lot, plan_upstands
from evenfall.errors import InvalidInput

STRIPS = [(1360, 250), (1140, 250), (1360, 250), (1140, 250)]
ROOF = ((0, 0), (8300, 0), (8300, 5100), (0, 5100))
NARROW = [(3050, 30000, 100, 1150, 1.4)]


def beside(along, across):
    return [Lot("rest", 300.0, 4000.0, along, across)]


def counted(found):
    return found.of_kind("rest"), found.of_kind("cut"), found.cut_mm


def test_a_rest_that_is_wide_enough_gives_every_strip():
    found = plan_upstands(STRIPS, beside(5200, 251), 6100, 100, 100)
    assert counted(found) == (4, 0, 0)


def test_a_rest_one_millimetre_too_narrow_gives_none():
    found = plan_upstands(STRIPS, beside(5200, 249), 6100, 100, 100)
    assert counted(found) == (0, 4, 300)


def test_what_does_not_fit_beside_is_cut_from_more():
    found = plan_upstands(STRIPS, beside(2600, 250), 6100, 100, 100)
    assert counted(found) == (2, 2, 300)


def test_a_strip_longer_than_the_roll_is_wide_is_joined():
    found = plan_upstands([(4100, 250)], [], 3050, 100, 100)
    assert (found.joined, found.cut_mm) == (1, 500)


@pytest.mark.parametrize("wrong", [[(0, 250)], [(100, -1)]])
def test_a_strip_without_size_is_refused(wrong):
    with pytest.raises(InvalidInput, match="above 0"):
        plan_upstands(wrong, [], 3050, 100, 100)


def test_strips_for_kerbs_are_bought_with_the_sheet():
    bare = plan_sheet(ROOF, (0,) * 4, 0, NARROW).chosen
    kerbed = plan_sheet(ROOF, (0,) * 4, 0, NARROW, upstands=[(9000, 900)]).chosen
    assert kerbed.area_mm2 == bare.area_mm2 + kerbed.upstands.cut_mm * 3050 > bare.area_mm2


@pytest.mark.parametrize("downhill", [(0.0, -1.0), (1.0, 0.0)])
def test_seams_lie_with_the_fall(downhill):
    chosen = plan_sheet(ROOF, (0,) * 4, 0, NARROW, downhill=downhill).chosen
    assert chosen.across_fall_mm == 0
    share = chosen.along[0] * downhill[0] + chosen.along[1] * downhill[1]
    assert abs(share) == pytest.approx(1)


def test_the_strips_are_shifted_until_their_seams_are_clear_of_an_outlet():
    blind = plan_sheet(ROOF, (0,) * 4, 0, NARROW, downhill=(0, -1)).chosen
    _, y = min(strip_rings(blind)[1])
    at = (min(x for x, _ in strip_rings(blind)[1]) + 50, y + 900)
    found = plan_sheet(ROOF, (0,) * 4, 0, NARROW, downhill=(0, -1), outlets=[at]).chosen
    assert found.from_outlet_mm > 0
    assert found.seams_legal


def test_an_outlet_that_no_order_of_strips_clears_is_told():
    exact = ((0, 0), (6000, 0), (6000, 5850), (0, 5850))
    rolls = [(3000, 30000, 100, 1150, 1.4)]
    outlets = [(x, y) for x in range(0, 6001, 500) for y in range(0, 6001, 500)]
    found = plan_sheet(exact, (0,) * 4, 0, rolls, outlets=outlets).chosen
    assert not found.seams_legal


def test_the_strips_cover_the_roof_and_lap():
    rings = strip_rings(plan_sheet(ROOF, (0,) * 4, 0, NARROW).chosen)
    assert min(x for r in rings for x, _ in r) <= 0
    assert max(x for r in rings for x, _ in r) >= 8300
    assert min(y for r in rings for _, y in r) <= 0
    assert max(y for r in rings for _, y in r) >= 5100


def test_a_roll_whose_longest_cut_is_no_longer_than_a_lap_is_refused():
    with pytest.raises(InvalidInput, match="longer than a lap of 100 mm"):
        plan_sheet(ROOF, (0,) * 4, 0, [(3050, 100, 100, 1150, 1.4)])


def test_strips_come_from_the_notch_of_a_letter_l_where_it_is_wide_enough():
    """The notch is 2500 by 2300 mm, as much further on its open sides as on its shut ones."""
    letter = ((0, 0), (6100, 0), (6100, 2400), (3600, 2400), (3600, 4700), (0, 4700))
    roll = [(5100, 30000, 100, 1150, 1.4)]
    found = plan_sheet(letter, (150,) * 6, 0, roll, upstands=STRIPS).chosen
    bare = plan_sheet(letter, (150,) * 6, 0, roll).chosen
    assert (found.upstands.of_kind("notch"), found.upstands.cut_mm) == (4, 0)
    assert found.area_mm2 == bare.area_mm2


def test_a_notch_too_narrow_gives_none():
    letter = ((0, 0), (6100, 0), (6100, 4330), (5780, 4330), (5780, 4700), (0, 4700))
    found = plan_sheet(letter, (150,) * 6, 0, [(6400, 30000, 100, 1150, 1.4)], upstands=STRIPS)
    assert found.chosen.upstands.of_kind("notch") == 0


def test_the_lanes_of_a_notch_may_lie_across_it():
    found = plan_upstands([(1900, 240)] * 3, [Lot("notch", 0.0, 0.0, 760, 1950)], 3050, 100, 100)
    assert (found.of_kind("notch"), found.cut_mm) == (3, 0)
    assert [p.x for p in found.pieces] == [0.0, 240.0, 480.0]


def test_a_strip_too_long_for_the_roll_and_for_what_a_longer_one_left_is_joined():
    """The rest is long enough for either of two strips, not for both."""
    found = plan_upstands([(5000, 250), (5000, 250)], beside(8000, 260), 3050, 100, 100)
    assert found.of_kind("rest") >= 1
    assert found.joined == 1
    assert all(p.long_mm <= 3050 for p in found.pieces if p.kind == "cut")

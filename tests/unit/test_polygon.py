"""Plan polygons: awkward outlines, and what is refused."""

from __future__ import annotations

import math

import pytest

from evenfall.calc.geometry.clipping import (
    clip_half_plane,
    clip_polygon,
    clip_rectangle,
    net_area,
)
from evenfall.calc.geometry.polygon import (
    area,
    checked,
    contains,
    corner_angles,
    crossing_sides,
    distances_to_sides,
    is_simple,
    reflex_corners,
)
from evenfall.calc.geometry.rectangles import bounding_rectangle, smallest_rectangle
from evenfall.calc.geometry.setting_out import (
    measured_from_side,
    offset_sides,
    point_from_side,
    rectangle_from_side,
)
from evenfall.errors import InvalidInput

L_SHAPE = ((0.0, 0.0), (6.0, 0.0), (6.0, 3.0), (2.0, 3.0), (2.0, 5.0), (0.0, 5.0))
U_SHAPE = ((0, 0), (6, 0), (6, 4), (4, 4), (4, 1), (2, 1), (2, 4), (0, 4))
HOOK = ((0, 0), (6, 0), (6, 1), (1, 1), (1, 4), (5, 4), (5, 2), (6, 2), (6, 5), (0, 5))
STRAIGHT = ((0.0, 0.0), (2.0, 0.0), (5.0, 0.0), (5.0, 3.0), (0.0, 3.0))


def test_an_l_has_one_reflex_corner_and_its_area() -> None:
    assert reflex_corners(L_SHAPE) == (3,)
    assert area(L_SHAPE) == pytest.approx(22)
    assert math.degrees(corner_angles(L_SHAPE)[3]) == pytest.approx(270)


def test_a_corner_on_a_straight_side_is_simple_and_not_reflex() -> None:
    assert is_simple(STRAIGHT)
    assert reflex_corners(STRAIGHT) == ()
    assert math.degrees(corner_angles(STRAIGHT)[1]) == pytest.approx(180)


def test_a_side_that_runs_back_over_the_last_is_a_crossing() -> None:
    assert crossing_sides(((0, 0), (4, 0), (2, 0), (2, 3))) == ((0, 1), (0, 2))


def test_a_corner_that_touches_another_side_is_a_crossing() -> None:
    assert crossing_sides(((0, 0), (4, 0), (4, 3), (2, 0), (0, 3))) == ((0, 2), (0, 3))


def test_what_is_no_polygon_is_refused() -> None:
    with pytest.raises(InvalidInput, match="side 2 has no length"):
        checked(((0, 0), (1, 0), (1, 0), (0, 1)))
    with pytest.raises(InvalidInput, match="no number"):
        checked(((0, 0), (1, math.nan), (0, 1)))


def test_the_smallest_rectangle_lies_along_a_side_of_a_turned_roof() -> None:
    turned = tuple((0.8 * x - 0.6 * y, 0.6 * x + 0.8 * y) for x, y in L_SHAPE)
    around = smallest_rectangle(turned)
    assert sorted((around.along, around.across)) == pytest.approx([5, 6])
    assert area(around.corners) == pytest.approx(around.area)
    assert bounding_rectangle(turned).area > around.area
    with pytest.raises(InvalidInput, match="no length"):
        bounding_rectangle(turned, (0, 0))


def test_distances_are_to_the_sides_and_not_to_their_lines() -> None:
    found = distances_to_sides(L_SHAPE, (5.0, 4.0))
    assert found[3] == pytest.approx(3.0)
    assert found[2] == pytest.approx(1.0)


def test_the_notch_of_an_l_is_outside() -> None:
    assert contains(L_SHAPE, (1.0, 4.0))
    assert not contains(L_SHAPE, (3.0, 4.0))


def test_each_side_of_an_l_moves_by_its_own_overhang() -> None:
    found = offset_sides(L_SHAPE, (0.1, 0.2, 0.3, 0.4, 0.5, 0.6))
    expected = ((-0.6, -0.1), (6.2, -0.1), (6.2, 3.3), (2.4, 3.3), (2.4, 5.5), (-0.6, 5.5))
    assert found == tuple(pytest.approx(p) for p in expected)


def test_a_straight_corner_moves_square_when_both_sides_move_alike() -> None:
    assert offset_sides(STRAIGHT, (0.2,) * 5)[1] == pytest.approx((2.0, -0.2))


def test_a_straight_corner_gets_a_square_step_when_its_sides_move_differently() -> None:
    found = offset_sides(STRAIGHT, (0.2, 0.0, 0.0, 0.0, 0.0))
    expected = ((0.0, -0.2), (2.0, -0.2), (2.0, 0.0), (5.0, 0.0), (5.0, 3.0), (0.0, 3.0))
    assert found == tuple(pytest.approx(p) for p in expected)


def test_a_nearly_straight_corner_never_shoots_away() -> None:
    bent = ((0.0, 0.0), (2.0, 0.01), (5.0, 0.0), (5.0, 3.0), (0.0, 3.0))
    for point in offset_sides(bent, (0.3, 0.0, 0.0, 0.0, 0.0)):
        assert -0.01 <= point[0] <= 5.01


def test_a_roof_that_shrinks_to_nothing_is_refused() -> None:
    with pytest.raises(InvalidInput, match="side 2 vanishes"):
        offset_sides(L_SHAPE, (-1.6, 0.0, -1.5, 0.0, 0.0, 0.0))


def test_sides_that_meet_after_the_shift_are_refused() -> None:
    with pytest.raises(InvalidInput, match="meet"):
        offset_sides(HOOK, (0, 0, 0, 0, 0, 0, 1.2, 0, 0, 0))


def test_as_many_distances_as_sides_are_needed() -> None:
    with pytest.raises(InvalidInput, match="4 distances, expected 6"):
        offset_sides(L_SHAPE, (0.1,) * 4)


def test_an_opening_is_set_out_square_to_a_side_that_is_out_of_square() -> None:
    quad = ((0.0, 0.0), (6.0, 0.0), (6.5, 4.0), (0.0, 4.1))
    hole = rectangle_from_side(quad, 1, 0.8, 0.6, 1.2, 0.9)
    assert area(hole) == pytest.approx(1.08)
    assert measured_from_side(quad, 1, hole[2]) == pytest.approx((2.0, 1.5))
    assert all(contains(quad, p) for p in hole)


@pytest.mark.parametrize("side", [-1, 6])
def test_a_side_that_is_not_there_is_refused(side: int) -> None:
    with pytest.raises(InvalidInput, match="expected 0 to 5"):
        point_from_side(L_SHAPE, side, 1.0, 1.0)
    with pytest.raises(InvalidInput, match="expected 0 to 5"):
        measured_from_side(L_SHAPE, side, (1.0, 1.0))


def test_an_opening_without_size_is_refused() -> None:
    with pytest.raises(InvalidInput, match="both above 0"):
        rectangle_from_side(L_SHAPE, 0, 1.0, 1.0, 0.0, 1.0)


def test_a_line_across_a_u_leaves_two_pieces() -> None:
    found = clip_half_plane(U_SHAPE, (0.0, 2.5), (1.0, 0.0))
    assert [area(p) for p in found] == pytest.approx([3.0, 3.0])


def test_a_line_along_a_side_leaves_all_or_nothing() -> None:
    assert clip_half_plane(U_SHAPE, (0.0, 0.0), (1.0, 0.0))[0] == tuple(
        (float(x), float(y)) for x, y in U_SHAPE
    )
    assert clip_half_plane(U_SHAPE, (0.0, 0.0), (-1.0, 0.0)) == ()


def test_a_rectangle_keeps_pieces_and_drops_the_line_where_it_only_touches() -> None:
    found = clip_rectangle(U_SHAPE, 2.0, 1.0, 7.0, 9.0)
    assert [area(p) for p in found] == pytest.approx([6.0])
    with pytest.raises(InvalidInput, match="min below max"):
        clip_rectangle(U_SHAPE, 2.0, 1.0, 2.0, 9.0)


def test_openings_that_overlap_are_counted_once() -> None:
    holes = (((1, 1), (3, 1), (3, 2), (1, 2)), ((2, 1), (4, 1), (4, 2), (2, 2)))
    assert net_area(L_SHAPE, holes) == pytest.approx(19)
    assert net_area(L_SHAPE, ()) == pytest.approx(22)


def test_a_crossing_outline_is_not_cut() -> None:
    bow = ((0, 0), (4, 3), (4, 0), (0, 3))
    with pytest.raises(InvalidInput, match="sides that cross"):
        clip_polygon(L_SHAPE, bow)


def test_a_sliver_of_rounding_is_no_piece() -> None:
    assert clip_rectangle(L_SHAPE, 6.0 - 1e-11, 0.0, 9.0, 3.0) == ()


def test_a_spike_cannot_be_shifted() -> None:
    with pytest.raises(InvalidInput, match="folds back"):
        offset_sides(((0.0, 0.0), (4.0, 0.0), (2.0, 0.0), (2.0, 3.0)), (0.1, 0.2, 0.1, 0.1))

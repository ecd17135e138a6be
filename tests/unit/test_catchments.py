"""Strips of roof along the fall, and shapes laid over each other."""

import pytest
from tests.unit import plans

from evenfall.calc.drainage.catchments import strips
from evenfall.calc.geometry.worst_wins import cover
from evenfall.errors import InvalidInput


def test_water_leaves_by_the_first_edge_it_meets():
    """In a U that falls to the right, the left leg runs into the notch and not across it."""
    ring = ((0, 0), (9, 0), (9, 5), (7, 5), (7, 2), (3, 2), (3, 5), (0, 5))
    by_side: dict[int, float] = {}
    for strip in strips(ring, (1.0, 0.0)):
        by_side[strip.low] = by_side.get(strip.low, 0.0) + strip.area
    assert by_side == {1: pytest.approx(9 * 2 + 2 * 3), 5: pytest.approx(3 * 3)}


def test_a_slanting_wall_is_counted_by_its_own_length():
    ring = ((0, 0), (4, 0), (4, 3), (0, 6))
    (strip,) = strips(ring, (0.0, -1.0))
    assert strip.high_length == pytest.approx(5.0)
    assert strip.area == pytest.approx(18.0)


def test_a_direction_that_is_no_unit_vector_is_refused():
    with pytest.raises(InvalidInput, match="unit vector"):
        strips(plans.OBLONG, (0.0, -2.0))


def test_a_part_with_a_hole_is_cut_through_it():
    square = ((0, 0), (5, 0), (5, 4), (0, 4))
    hole = ((1, 1), (3, 1), (3, 2), (1, 2))
    parts = cover(square, (("hole", (hole,)), ("rest", (square,))))
    assert [name for name, _ in parts] == ["hole", "rest", "rest"]

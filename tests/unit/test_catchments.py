"""Strips of roof along the fall, and shapes laid over each other."""

import math
import random

import pytest
import shapely
from tests.unit import plans

from evenfall.calc.drainage.catchments import across, strips
from evenfall.calc.geometry.worst_wins import cover
from evenfall.errors import InvalidInput


def test_water_leaves_by_the_first_edge_it_meets():
    """In a U that falls to the right, the left leg runs into the notch and not across it."""
    ring = ((0, 0), (9, 0), (9, 5), (7, 5), (7, 2), (3, 2), (3, 5), (0, 5))
    by_side: dict[int, float] = {}
    for strip in strips(ring, (1.0, 0.0)):
        by_side[strip.low] = by_side.get(strip.low, 0.0) + strip.area
    assert by_side == {1: pytest.approx(9 * 2 + 2 * 3), 5: pytest.approx(3 * 3)}


@pytest.mark.parametrize("turn", [0.3, 2.2, 4.0])
def test_a_thousand_points_run_where_a_brute_rule_says(turn):
    """Each point walks down the fall in small steps; the side it leaves by is that of its strip."""
    rng = random.Random(7)
    ring = ((0, 0), (9, 0), (9, 5), (7, 5), (7, 2), (3, 2), (3, 5), (0, 5))
    downhill = (math.cos(turn), math.sin(turn))
    found, deck = strips(ring, downhill, (1.3, 4.4)), shapely.Polygon(ring)
    by_side: dict[int, float] = {}
    for strip in found:
        by_side[strip.low] = by_side.get(strip.low, 0.0) + strip.area
    counted: dict[int, int] = {}
    inside = 0
    edges = [shapely.LineString((a, b)) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)]
    while inside < 1000:
        x, y = rng.uniform(0, 9), rng.uniform(0, 5)
        if not deck.contains(shapely.Point(x, y)):
            continue
        inside += 1
        ray = shapely.LineString(((x, y), (x + 20 * downhill[0], y + 20 * downhill[1])))
        hits = [(e.intersection(ray).distance(shapely.Point(x, y)), i)
                for i, e in enumerate(edges) if e.intersects(ray)]  # fmt: skip
        counted[min(hits)[1]] = counted.get(min(hits)[1], 0) + 1
    for side in by_side.keys() | counted.keys():
        share = by_side.get(side, 0.0) / deck.area
        assert counted.get(side, 0) / 1000 == pytest.approx(share, abs=0.05)


def test_across_the_fall_is_measured_square_to_it():
    assert across((3.0, 4.0), (0.6, 0.8)) == pytest.approx(0.0)
    assert across((3.0, 4.0), (0.8, -0.6)) == pytest.approx(5.0)


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

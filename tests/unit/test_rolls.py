"""Rolls of the vapour control layer."""

import pytest

from evenfall.calc.layout.rolls import plan_rolls
from evenfall.errors import InvalidInput

ROOF = ((0, 0), (6200, 0), (6200, 4100), (0, 4100))
ROLL = (1080, 20000)


def lowest(piece):
    return min(y for _, y in piece.corners)


def test_strips_begin_at_the_low_side():
    down = plan_rolls(ROOF, 200, ROLL, (1, 0), (0, -1))
    up = plan_rolls(ROOF, 200, ROLL, (1, 0), (0, 1))
    assert [lowest(p) for p in down.pieces] == sorted(lowest(p) for p in down.pieces)
    assert [lowest(p) for p in up.pieces] == sorted((lowest(p) for p in up.pieces), reverse=True)


def test_the_first_piece_of_a_strip_lies_at_its_low_end():
    plan = plan_rolls(ROOF, 0, (1080, 4000), (0, 1), (0, -1))
    strip = [p for p in plan.pieces if p.strip == 2]
    assert len(strip) == 2
    assert lowest(strip[0]) < lowest(strip[1])
    other = [p for p in plan_rolls(ROOF, 0, (1080, 4000), (0, 1), (0, 1)).pieces if p.strip == 2]
    assert lowest(other[0]) > lowest(other[1])


def test_strips_lap_by_the_side_lap():
    plan = plan_rolls(ROOF, 200, ROLL, (1, 0), (0, -1), side_lap_mm=80)
    tops = [max(y for _, y in p.corners) for p in plan.pieces]
    assert [t - lowest(p) for t, p in zip(tops, plan.pieces[1:], strict=False)] == [80] * 4


def test_the_last_strip_is_cut_to_the_width_that_is_left():
    plan = plan_rolls(ROOF, 200, ROLL, (1, 0), (0, -1), side_lap_mm=80)
    assert [p.width_mm for p in plan.pieces] == [1080, 1080, 1080, 1080, 500]


def test_a_strip_longer_than_the_roll_has_an_end_lap():
    plan = plan_rolls(ROOF, 0, (4200, 5000), (1, 0), (0, -1), end_lap_mm=150)
    assert [p.length_mm for p in plan.pieces] == [5000, 1350]
    assert plan.rolls == 2


def test_no_piece_is_shorter_than_the_shortest_where_the_strip_is_longer():
    plan = plan_rolls(ROOF, 0, (4200, 6000), (1, 0), (0, -1), end_lap_mm=150, shortest_mm=1000)
    assert [p.length_mm for p in plan.pieces] == [5350, 1000]


def test_the_rest_of_a_roll_begins_the_next_strip():
    plan = plan_rolls(ROOF, 0, (1080, 10000), (1, 0), (0, -1))
    assert [(p.strip, p.roll) for p in plan.pieces][:3] == [(1, 1), (2, 1), (2, 2)]


def test_an_l_roof_has_strips_of_two_lengths():
    shape = ((0, 0), (7000, 0), (7000, 3000), (3500, 3000), (3500, 5600), (0, 5600))
    plan = plan_rolls(shape, 0, (1000, 60000), (1, 0), (0, -1), side_lap_mm=0)
    assert {p.length_mm for p in plan.pieces} == {7000, 3500}
    assert plan.laid_area_mm2 == plan.net_area_mm2 == 30_100_000


@pytest.mark.parametrize(
    "wrong",
    [{"side_lap_mm": 1080}, {"end_lap_mm": 10000}, {"shortest_mm": 15000}, {"side_lap_mm": -1}],
)
def test_laps_that_eat_the_roll_are_refused(wrong):
    with pytest.raises(InvalidInput, match="laps"):
        plan_rolls(ROOF, 200, ROLL, (1, 0), (0, -1), **wrong)


def test_no_direction_is_refused():
    with pytest.raises(InvalidInput, match="direction"):
        plan_rolls(ROOF, 200, ROLL, (0, 0), (0, -1))

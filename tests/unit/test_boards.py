"""Board plans: what a plan says of itself."""

from dataclasses import replace

import pytest

from evenfall.calc.layout.boards import BoardRules, plan_boards
from evenfall.errors import InvalidInput

BOARD = (2400, 1200)
L_ROOF = ((0, 0), (7000, 0), (7000, 3000), (3500, 3000), (3500, 5600), (0, 5600))


def test_the_sliver_of_the_half_bond_is_avoided():
    """A row of 6.20 m begun with half a board would end with 0.2 m."""
    plan = plan_boards(((0, 0), (6200, 0), (6200, 2400), (0, 2400)), [], BOARD, quick=True)
    assert plan.breaches == ()
    assert min(min(p.size) for p in plan.pieces) >= 300


def test_a_roof_of_whole_boards_wants_no_saw():
    plan = plan_boards(((0, 0), (2400, 0), (2400, 4800), (0, 4800)), [], BOARD)
    assert (plan.boards_bought, plan.lower_bound, plan.cuts, plan.offcut_mm2) == (4, 4, 0, 0)


def test_pieces_are_numbered_course_by_course():
    plan = plan_boards(L_ROOF, [], BOARD, quick=True)
    assert [p.number for p in plan.pieces] == list(range(1, len(plan.pieces) + 1))
    assert [p.course for p in plan.pieces] == sorted(p.course for p in plan.pieces)


def test_an_offcut_comes_after_the_first_piece_of_its_board():
    plan = plan_boards(L_ROOF, [], BOARD, quick=True)
    used = [p for p in plan.pieces if p.from_offcut]
    assert used
    assert all(any(q.from_board == p.from_board for q in plan.pieces[: p.number - 1]) for p in used)


def test_a_pipe_inside_a_board_is_a_cutout():
    pipe = ((1000, 500), (1110, 500), (1110, 610), (1000, 610))
    plan = plan_boards(((0, 0), (2400, 0), (2400, 1200), (0, 1200)), [pipe], BOARD)
    assert [len(p.cutouts) for p in plan.pieces] == [1]
    assert sorted(plan.pieces[0].cutouts[0]) == sorted(pipe)


def test_an_opening_across_the_roof_leaves_two_fields():
    gap = ((2400, -10), (3000, -10), (3000, 1300), (2400, 1300))
    plan = plan_boards(((0, 0), (5400, 0), (5400, 1200), (0, 1200)), [gap], BOARD)
    assert [p.size for p in plan.pieces] == [(2400, 1200)] * 2


def test_a_broken_rule_is_told_where_none_can_keep_it():
    plan = plan_boards(((0, 0), (6200, 0), (6200, 200), (0, 200)), [], BOARD)
    assert all(b.startswith("perimeter piece:") for b in plan.breaches)
    assert len(plan.breaches) == len(plan.pieces)


def test_a_clockwise_outline_is_the_same_roof():
    one, two = plan_boards(L_ROOF, [], BOARD), plan_boards(L_ROOF[::-1], [], BOARD)
    assert (one.boards_bought, one.breaches) == (two.boards_bought, two.breaches)


def test_the_same_roof_gives_the_same_plan():
    assert plan_boards(L_ROOF, [], BOARD) == plan_boards(L_ROOF, [], BOARD)


def test_more_steps_never_break_more_rules_than_the_quick_answer():
    roof = ((0, 0), (6213, 17), (6190, 4130), (-12, 4090))
    quick, full = plan_boards(roof, [], BOARD, quick=True), plan_boards(roof, [], BOARD)
    assert (len(full.breaches), full.boards_bought) <= (len(quick.breaches), quick.boards_bought)


def test_courses_may_follow_the_short_side():
    plan = plan_boards(((0, 0), (3600, 0), (3600, 2400), (0, 2400)), [], BOARD)
    assert (plan.boards_bought, abs(plan.along[1])) == (3, 1.0)


def test_a_wider_stagger_is_kept_where_it_can_be():
    rules = replace(BoardRules(), stagger=600)
    assert plan_boards(L_ROOF, [], BOARD, rules).breaches == ()


@pytest.mark.parametrize(
    "outline", [((0, 0), (10, 0)), ((0, 0), (4000, 4000), (4000, 0), (0, 4000))]
)
def test_an_outline_that_is_no_simple_polygon_is_refused(outline):
    with pytest.raises(InvalidInput, match="simple polygon"):
        plan_boards(outline, [], BOARD)


def test_an_opening_as_large_as_the_roof_is_refused():
    roof = ((0, 0), (4000, 0), (4000, 3000))
    with pytest.raises(InvalidInput, match="something to cover"):
        plan_boards(roof, [roof], BOARD)


def test_a_board_narrower_than_the_smallest_piece_is_refused():
    with pytest.raises(InvalidInput, match="board"):
        plan_boards(L_ROOF, [], (1200, 250))

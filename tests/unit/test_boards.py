"""Board plans: what a plan says of itself."""

from dataclasses import replace

import pytest
from shapely import Polygon

from evenfall.calc.layout.board_check import check_board_plan
from evenfall.calc.layout.board_lines import edges_kept, uneven_lines
from evenfall.calc.layout.board_settings import Terms, first_courses
from evenfall.calc.layout.boards import BoardRules, plan_boards
from evenfall.calc.layout.courses import turned
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


def test_no_board_is_notched_where_it_can_be_parted_at_the_opening():
    """Two pieces of half a board beside the opening come out of one board."""
    roof = ((0, 0), (4800, 0), (4800, 1200), (0, 1200))
    hole = ((1000, 600), (3400, 600), (3400, 1200), (1000, 1200))
    plan = plan_boards(roof, [hole], BOARD, BoardRules(kerf=0))
    assert (plan.boards_bought, plan.lower_bound, plan.proven) == (2, 2, True)


def test_the_bound_counts_the_cut_that_no_plan_can_do_without():
    """959 x 3000 mm is 2 877 000 of 2 880 000 mm2, but one cut of 5 mm takes the rest."""
    roof = ((0, 0), (3000, 0), (3000, 959), (0, 959))
    assert plan_boards(roof, [], BOARD, BoardRules(kerf=5)).lower_bound == 2
    assert plan_boards(roof, [], BOARD, BoardRules(kerf=0)).lower_bound == 1


def test_two_layers_may_share_a_board():
    """Half a board is left of each layer."""
    roof = ((0, 0), (6000, 0), (6000, 1196), (0, 1196))
    one = plan_boards(roof, [], BOARD)
    two = plan_boards(roof, [], BOARD, layers=2)
    assert (one.boards_bought, two.boards_bought) == (3, 5)
    assert two.net_area_mm2 == 2 * one.net_area_mm2


@pytest.mark.parametrize(
    ("rules", "layers", "told"),
    [
        (BoardRules(min_piece=0), 1, "pieces above 0"),
        (BoardRules(kerf=-1), 1, "saw cut"),
        (BoardRules(kerf=1300), 1, "the saw cut"),
        (BoardRules(), 3, "1 or 2"),
    ],
)
def test_rules_that_cannot_be_are_refused(rules, layers, told):
    with pytest.raises(InvalidInput, match=told):
        plan_boards(L_ROOF, [], BOARD, rules, layers=layers)


def test_a_board_larger_than_the_roof_is_cut_to_it():
    plan = plan_boards(((0, 0), (900, 0), (900, 700), (0, 700)), [], BOARD)
    assert (plan.boards_bought, [sorted(p.size) for p in plan.pieces]) == (1, [[700, 900]])


def test_an_opening_that_touches_an_edge_is_a_bay_in_the_roof():
    hole = ((1000, 0), (2000, 0), (2000, 900), (1000, 900))
    plan = plan_boards(((0, 0), (5000, 0), (5000, 3600), (0, 3600)), [hole], BOARD)
    assert sum(p.size[0] * p.size[1] for p in plan.pieces) >= plan.net_area_mm2 == 17_100_000


def test_the_quick_answer_searches_on_while_a_rule_is_broken():
    """Two layers over an irregular roof: no likely beginning keeps all rules, others do."""
    roof = ((0, 0), (4873, 0), (4916, 3123), (3955, 4180), (50, 4226))
    plan = plan_boards(roof, [], (1200, 1200), quick=True, layers=2)
    likely = plan_boards(roof, [], (1200, 1200), quick=True, layers=2, steps=1)
    assert plan.breaches == ()
    assert plan.steps > likely.steps


def test_a_first_course_is_tried_that_just_leaves_the_smallest_piece_beside_an_opening():
    """Courses of 600 mm: one line alone is clear of the edges of the roof and of the opening."""
    roof = turned([Polygon([(0, 0), (4000, 0), (4000, 2411), (0, 2411)],
                           [[(1000, 843), (1700, 843), (1700, 1607), (1000, 1607)]])],
                  (0, 0), (4000, 0))  # fmt: skip
    terms = Terms(1200, 600, 150, 150, 200, 5)
    tried = first_courses(roof, terms, quick=False)
    assert {(843 + 150) % 600, (1607 - 150) % 600} <= {round(q) for q in tried}


def test_a_small_roof_that_one_board_covers_is_one_piece():
    for roof in (
        ((0, 0), (1500, 0), (1500, 900), (0, 900)),
        ((0, 0), (900, 0), (900, 1500), (0, 1500)),
    ):
        for quick in (True, False):
            plan = plan_boards(roof, [], BOARD, quick=quick)
            assert (plan.boards_bought, len(plan.pieces), plan.cuts) == (1, 1, 2)


def test_boards_lie_across_a_low_course_where_that_saves_one():
    """What is left of a board that lies across ends another course; without it, 71 are bought."""
    roof = ((0, 0), (10862, 0), (10862, 4610), (0, 4610))
    plan = plan_boards(roof, [], (1200, 600), BoardRules(150, 150, 200, 5))
    assert (plan.breaches, plan.boards_bought, plan.lower_bound) == ((), 70, 70)


def test_no_piece_has_a_corner_that_does_not_bend():
    roof = ((0, 0), (5159, 0), (3122, 2711), (1358, 2711))
    hole = ((2090, 1690), (2626, 1690), (2626, 2226), (2090, 2226))
    for quick in (True, False):
        plan = plan_boards(roof, [hole], BOARD, quick=quick, steps=300)
        for piece in plan.pieces:
            ring = piece.polygon
            for p, q, r in zip(ring, ring[1:] + ring[:1], ring[2:] + ring[:2], strict=True):
                bend = (q[0] - p[0]) * (r[1] - q[1]) - (q[1] - p[1]) * (r[0] - q[0])
                assert abs(bend) > 0, (piece.number, q)


@pytest.mark.parametrize(
    ("roof", "holes", "most"),
    [
        # even courses leave a strip of 72 mm at the inner corner of the L, or one at the far edge
        (((0, 0), (11336, 0), (11336, 3128), (4272, 3128), (4272, 6559), (0, 6559)), [], 74),
        # and here one of 8 mm, or a rim of less than 150 mm beside an opening
        (((0, 0), (10211, 0), (10211, 4056), (5272, 4056), (5272, 7846), (0, 7846)),
         [((2993, 5544), (4032, 5544), (4032, 6328), (2993, 6328))], 91),
    ],
)  # fmt: skip
def test_a_course_in_the_middle_is_lower_where_no_even_ones_keep_the_rules(roof, holes, most):
    rules = BoardRules(150, 300, 300, 5)
    plan = plan_boards(roof, holes, (1200, 600), rules, quick=True)
    assert (plan.breaches, check_board_plan(plan, roof, holes, (1200, 600), rules)) == ((), ())
    assert plan.boards_bought <= most
    assert min(min(p.size) for p in plan.pieces if p.is_perimeter) >= 300


def test_no_lines_are_found_where_the_rules_leave_none():
    """A roof 650 mm deep takes two courses, of 300 to 350 mm; its step lies 150 to 200 above."""
    shape = ((0, 0), (9000, 0), (9000, 500), (4000, 500), (4000, 650), (0, 650))
    roof = turned([Polygon(shape)], shape[0], shape[1])
    terms = Terms(1200, 600, 150, 300, 300, 5)
    assert uneven_lines(roof, terms, 8) == ()
    assert not edges_kept(roof, terms, (325.0,))
    assert edges_kept(roof, replace(terms, min_perimeter_piece=150), (325.0,))


def test_joints_too_near_are_told_with_the_piece_that_ends_there():
    """Joints at most 1200 mm apart leave no place 700 mm off two of them."""
    plan = plan_boards(((0, 0), (5000, 0), (5000, 5000), (0, 5000)), [], (1200, 600),
                       BoardRules(150, 300, 700, 5), quick=True, steps=50)  # fmt: skip
    told = [b for b in plan.breaches if b.startswith("stagger")]
    assert told
    assert all("at the end of piece" in b for b in told)

"""The checker of board plans: each fault, planted, is found."""

from dataclasses import replace
from pathlib import Path

import pytest

from evenfall.calc.layout import board_check
from evenfall.calc.layout.board_check import check_board_plan
from evenfall.calc.layout.boards import BoardRules, plan_boards
from evenfall.calc.layout.guillotine import Part, Placed, SawnBoard

ROOF = ((0, 0), (6200, 0), (6200, 4100), (0, 4100))
ROOFLIGHT = ((2000, 1500), (3100, 1500), (3100, 3100), (2000, 3100))
BOARD = (2400, 1200)
RULES = BoardRules()


@pytest.fixture(scope="module")
def plan():
    return plan_boards(ROOF, [ROOFLIGHT], BOARD, steps=3000)


def faults(plan, rules=RULES, roof=ROOF, holes=(ROOFLIGHT,)):
    return [f.split(":")[0] for f in check_board_plan(plan, roof, holes, BOARD, rules)]


def changed(plan, place, **what):
    pieces = list(plan.pieces)
    pieces[place - 1] = replace(pieces[place - 1], **what)
    return replace(plan, pieces=tuple(pieces))


def moved(piece, dx, dy):
    return tuple((x + dx, y + dy) for x, y in piece.polygon)


def sawn_otherwise(plan, **what):
    """Change the first board that is cut."""
    i = next(i for i, b in enumerate(plan.boards) if b.cuts)
    boards = list(plan.boards)
    boards[i] = replace(boards[i], **{k: v(boards[i]) for k, v in what.items()})
    return replace(plan, boards=tuple(boards))


def test_the_true_plan_has_no_fault(plan):
    assert (faults(plan), plan.breaches) == ([], ())


def test_a_piece_left_out_is_a_gap(plan):
    assert "gap" in faults(replace(plan, pieces=plan.pieces[:-1]))


def test_a_piece_moved_overlaps_and_leaves_a_gap(plan):
    found = faults(changed(plan, 1, polygon=moved(plan.pieces[0], 40, 0)))
    assert {"gap", "overlap"} <= set(found)


def test_a_piece_beside_the_roof_is_an_overhang(plan):
    assert "overhang" in faults(changed(plan, 1, polygon=moved(plan.pieces[0], -40, -40)))


def test_a_board_over_an_opening_is_an_overhang(plan):
    other = tuple((x + 500, y) for x, y in ROOFLIGHT)
    assert "overhang" in faults(plan, holes=(other,))


def test_two_pieces_with_one_number_are_found(plan):
    assert "numbers" in faults(changed(plan, 2, number=1))


def test_a_cut_that_is_missing_is_found(plan):
    assert "sawing" in faults(sawn_otherwise(plan, cuts=lambda b: b.cuts[1:]))


def test_a_cut_one_millimetre_further_is_found(plan):
    def further(board: SawnBoard):
        return (board.cuts[0]._replace(at=board.cuts[0].at + 1), *board.cuts[1:])

    assert "sawing" in faults(sawn_otherwise(plan, cuts=further))


def test_a_cut_outside_its_part_is_found(plan):
    def outside(board: SawnBoard):
        return (board.cuts[0]._replace(at=5000), *board.cuts[1:])

    assert "sawing" in faults(sawn_otherwise(plan, cuts=outside))


def test_a_wider_saw_than_planned_is_found(plan):
    assert "sawing" in faults(plan, rules=replace(RULES, kerf=12))


def test_a_piece_cut_twice_is_found(plan):
    def twice(board: SawnBoard):
        return (*board.placed, Placed(board.placed[0].piece, Part(0, 0, 10, 10)))

    assert "sawing" in faults(sawn_otherwise(plan, placed=twice))


def test_a_rest_that_is_not_there_is_found(plan):
    assert "sawing" in faults(sawn_otherwise(plan, rests=lambda b: (Part(0, 0, 2400, 1200),)))


def test_a_piece_from_another_board_than_told_is_found(plan):
    other = plan.pieces[0].from_board + 1
    assert "sawing" in faults(changed(plan, 1, from_board=other))


def test_a_piece_drawn_larger_than_it_is_cut_is_found(plan):
    length, width = plan.pieces[0].size
    assert "size" in faults(changed(plan, 1, size=(length - 50, width)))


def test_a_perimeter_piece_told_as_an_inner_one_is_found(plan):
    assert "perimeter" in faults(changed(plan, 1, is_perimeter=False))


def test_pieces_under_the_smallest_are_found(plan):
    least = min(min(p.size) for p in plan.pieces if p.is_perimeter)
    assert "perimeter piece" in faults(plan, rules=replace(RULES, min_perimeter_piece=least + 9))


def test_joints_too_close_above_each_other_are_found():
    roof = ((0, 0), (6200, 0), (6200, 6100), (0, 6100))
    wide = plan_boards(roof, [], BOARD, steps=2000)
    found = check_board_plan(wide, roof, [], BOARD, replace(RULES, stagger=1250))
    assert {f.split(":")[0] for f in found} == {"stagger"}


def test_an_outline_that_crosses_itself_is_found(plan):
    (a, b, c, *rest) = plan.pieces[0].polygon
    assert "shape" in faults(changed(plan, 1, polygon=(a, c, b, *rest)))


def test_a_corner_that_does_not_bend_parts_no_joint(plan):
    """A joint drawn in two stretches is one joint, not two of one course above another."""
    one = next(p for p in plan.pieces if len(p.polygon) == 4 and p.size == BOARD)
    ring = one.polygon
    for i, ((x, y), (u, v)) in enumerate(zip(ring, ring[1:] + ring[:1], strict=True), start=1):
        polygon = (*ring[:i], ((x + u) // 2, (y + v) // 2), *ring[i:])
        assert faults(changed(plan, one.number, polygon=polygon)) == []


def test_a_thin_rim_beside_an_opening_is_found():
    roof = ((0, 0), (2400, 0), (2400, 1200), (0, 1200))
    hole = ((500, 90), (1900, 90), (1900, 800), (500, 800))
    plan = plan_boards(roof, [hole], BOARD)
    found = check_board_plan(plan, roof, [hole], BOARD, RULES)
    assert [f.split(":")[0] for f in found] == ["thin part"]
    assert [b.split(":")[0] for b in plan.breaches] == ["thin part"]


# --- two layers, and what the planner may not talk its way out of ---


@pytest.fixture(scope="module")
def two():
    return plan_boards(ROOF, [ROOFLIGHT], BOARD, quick=True, layers=2)


def test_two_true_layers_have_no_fault(two):
    assert (faults(two), two.breaches) == ([], ())
    assert {p.layer for p in two.pieces} == {1, 2}


def test_joints_of_two_layers_too_near_are_found(two):
    assert "layers" in faults(two, rules=replace(RULES, layer_offset=450))


def test_a_layer_told_as_the_other_is_found(two):
    found = faults(changed(two, 1, layer=2))
    assert {"gap", "overlap"} <= set(found)


def test_a_missing_layer_is_found(two):
    assert "numbers" in faults(replace(two, layers=3))


def test_the_same_layer_twice_is_found(two):
    """Every joint lies above another."""
    low = [p for p in two.pieces if p.layer == 1]
    twin = [replace(p, number=p.number + len(low), layer=2) for p in low]
    assert "layers" in faults(replace(two, pieces=(*low, *twin)))


def test_four_corners_in_one_point_are_found():
    roof = ((0, 0), (4800, 0), (4800, 2400), (0, 2400))
    bonded = plan_boards(roof, [], BOARD, replace(RULES, stagger=0), quick=True)
    corners = [((x, y), (x + 2400, y), (x + 2400, y + 1200), (x, y + 1200))
               for y in (0, 1200) for x in (0, 2400)]  # fmt: skip
    one = bonded.pieces[0]
    pieces = tuple(
        replace(one, number=n, polygon=c, size=BOARD, from_board=n - 1, from_offcut=False)
        for n, c in enumerate(corners, start=1)
    )
    boards = tuple(SawnBoard((), (Placed(n, Part(0, 0, *BOARD)),), ()) for n in range(1, 5))
    crossed = replace(bonded, side=0, along=(1.0, 0.0), pieces=pieces, boards=boards)
    found = check_board_plan(crossed, roof, [], BOARD, replace(RULES, stagger=0))
    assert {f.split(":")[0] for f in found} == {"cross joint"}


def test_a_wedge_is_measured_across_and_not_by_its_box():
    """A corner of 400 x 300 mm is 240 wide where it is turned to be narrowest."""
    roof = ((0, 0), (400, 0), (0, 300))
    plan = plan_boards(roof, [], BOARD, quick=True)
    assert [b.split(":")[0] for b in plan.breaches] == ["perimeter piece"]
    found = check_board_plan(plan, roof, [], BOARD, RULES)
    assert [f.split(":")[0] for f in found] == ["perimeter piece"]


def test_the_checker_shares_no_code_with_the_planner():
    """Its only imports of the planner are the names of types."""
    lines = Path(board_check.__file__).read_text(encoding="utf-8").splitlines()
    assert [x for x in lines if x.startswith(("from evenfall", "import evenfall"))] == []

"""Tapered boards in rows: what is bought, and a checker of its own that catches wrong plans."""

from __future__ import annotations

from dataclasses import replace
from math import cos, sin

import pytest
from shapely import Polygon

from evenfall.calc.layout.board_plan import BoardRules
from evenfall.calc.layout.guillotine import Part
from evenfall.calc.layout.tapered_check import check_tapered_plan
from evenfall.calc.layout.tapered_plan import (
    Slant,
    TaperedBoards,
    first_cut_mm,
    thickness_mm,
)
from evenfall.calc.layout.tapered_rows import lay_rows
from evenfall.errors import InvalidInput

SOLD = TaperedBoards(60, 1200, 1200, ((30, 50), (50, 70)))
NARROW = TaperedBoards(80, 900, 1200, ((25, 40), (40, 55), (55, 70)))
RULES = BoardRules()
DOWN = Slant((0, 0), (0.0, -1.0))
EL = ((0, 0), (6130, 0), (6130, 3000), (4000, 3000), (4000, 5210), (0, 5210))
HOLE = ((1500, 1500), (2300, 1500), (2300, 2700), (1500, 2700))
SKEWED = ((0, 0), (5210, 0), (5080, 4415), (60, 4300))


def turned(ring, angle=0.7, at=(830, -410)):
    c, s = cos(angle), sin(angle)
    return tuple((round(at[0] + c * x - s * y), round(at[1] + s * x + c * y)) for x, y in ring)


TURNED_DOWN = Slant((830, -410), (sin(0.7), -cos(0.7)))
ROOFS = [
    (EL, (HOLE,), SOLD, DOWN),
    (EL, (), NARROW, DOWN),
    (SKEWED, (HOLE,), SOLD, replace(DOWN, first_cut_mm=140)),
    (turned(EL), (turned(HOLE),), SOLD, TURNED_DOWN),
]


def checked(plan, roof=EL, holes=(HOLE,), sold=SOLD, slant=DOWN, rules=RULES):
    return check_tapered_plan(plan, roof, holes, sold, slant, rules)


@pytest.mark.parametrize(("roof", "holes", "sold", "slant"), ROOFS)
def test_the_checker_finds_nothing_and_the_bounds_hold(roof, holes, sold, slant):
    plan = lay_rows(roof, holes, sold, slant, RULES)
    assert checked(plan, roof, holes, sold, slant) == ()
    assert plan.breaches == ()
    assert all(b <= plan.bought(k) for k, b in enumerate(plan.bounds))


@pytest.mark.parametrize(("roof", "holes", "sold", "slant"), ROOFS)
def test_the_pieces_hold_the_foam_of_the_slope_that_heat_takes(roof, holes, sold, slant):
    plan = lay_rows(roof, holes, sold, slant, RULES)
    volume = 0.0
    for p in plan.pieces:
        shape, part = Polygon(p.polygon, p.cutouts), _part(plan, p)
        low = min(slant.up(q) for q in p.polygon)
        thin = sold.kinds[p.kind][0] + part.y / sold.one_in + p.fill_mm
        middle = slant.up((shape.centroid.x, shape.centroid.y)) - low
        volume += shape.area * (thin + middle / sold.one_in)
    whole = Polygon(roof, holes)
    asked = thickness_mm(sold, slant, (whole.centroid.x, whole.centroid.y))
    assert volume / whole.area == pytest.approx(asked, abs=0.05)


def _part(plan, piece):
    placed = plan.boards[piece.from_board].placed
    return next(p.part for p in placed if p.piece == piece.number)


def _with(plan, number, **changes):
    return replace(plan, pieces=tuple(
        replace(p, **changes) if p.number == number else p for p in plan.pieces
    ))  # fmt: skip


def test_a_row_laid_with_the_boards_of_another_is_caught():
    plan = lay_rows(EL, (HOLE,), SOLD, DOWN, RULES)
    second = next(p for p in plan.pieces if p.row == 1)
    assert "wedge" in checked(_with(plan, second.number, kind=0))[1]
    assert "another kind" in checked(_with(plan, second.number, kind=0))[0]
    assert "-40 mm off" in checked(_with(plan, _row(plan, 2), fill_mm=0))[0]


def _row(plan, row):
    return next(p.number for p in plan.pieces if p.row == row)


def test_a_turned_piece_is_caught():
    plan = lay_rows(EL, (HOLE,), SOLD, DOWN, RULES)
    assert checked(_with(plan, 1, falls_to=(0.0, 1.0))) == (
        "turned: piece T1 falls the other way than the roof",
    )
    assert "turned" in checked(_with(plan, 1, falls_to=(1.0, 0.0)))[0]


def test_a_wedge_that_is_cut_out_of_the_wrong_end_is_caught():
    slant = replace(DOWN, first_cut_mm=400)  # the thin end of the first row is cut off
    plan = lay_rows(EL, (HOLE,), SOLD, slant, RULES)
    assert checked(plan, slant=slant) == ()
    first = next(p for p in plan.pieces if p.row == 0)
    board = plan.boards[first.from_board]
    wrong = tuple(
        p._replace(part=Part(p.part.x, 0, p.part.length, p.part.width))
        if p.piece == first.number else p for p in board.placed
    )  # fmt: skip
    boards = list(plan.boards)
    boards[first.from_board] = replace(board, placed=wrong)
    found = checked(replace(plan, boards=tuple(boards)), slant=slant)
    assert any("-7 mm off the slope" in f for f in found)
    assert any("does not come out of" in f for f in found)


def test_a_wedge_in_two_pieces_along_the_fall_is_caught():
    plan = lay_rows(EL, (), SOLD, DOWN, RULES)
    piece = next(p for p in plan.pieces if p.row == 1 and p.size == (1200, 1200))
    (x0, y0), (x1, y1) = min(piece.polygon), max(piece.polygon)
    middle = (y0 + y1) // 2
    low = replace(piece, polygon=((x0, y0), (x1, y0), (x1, middle), (x0, middle)))
    high = replace(piece, polygon=((x0, middle), (x1, middle), (x1, y1), (x0, y1)))
    halved = tuple(q for p in plan.pieces for q in ((low, high) if p is piece else (p,)))
    found = checked(replace(plan, pieces=halved), holes=())
    assert any("joined along the fall" in f for f in found)


def test_other_wrong_plans_are_caught():
    plan = lay_rows(EL, (HOLE,), SOLD, DOWN, RULES)
    assert any("gap" in f for f in checked(replace(plan, pieces=plan.pieces[1:])))
    moved = tuple((x + 90, y) for x, y in plan.pieces[0].polygon)
    found = checked(_with(plan, 1, polygon=moved))
    assert any("overlap" in f for f in found)
    assert any("gap" in f for f in found)
    assert any("small" in f for f in checked(plan, rules=replace(RULES, min_perimeter_piece=1300)))
    assert any("stagger" in f for f in checked(plan, rules=replace(RULES, stagger=1100)))
    assert any("sawing" in f for f in checked(plan, rules=replace(RULES, kerf=9)))


def test_a_last_row_that_were_a_sliver_takes_from_the_first():
    deep = 2 * 1200 + 90
    roof = ((0, 0), (4000, 0), (4000, deep), (0, deep))
    cut = first_cut_mm(deep, SOLD, RULES.min_perimeter_piece)
    assert (cut, first_cut_mm(deep + 300, SOLD, 300), first_cut_mm(1200.2, SOLD, 300)) == (
        210,
        0,
        0,
    )
    assert lay_rows(roof, (), SOLD, DOWN, RULES).breaches
    assert lay_rows(roof, (), SOLD, replace(DOWN, first_cut_mm=cut), RULES).breaches == ()


def test_boards_too_narrow_for_the_bond_are_told_not_hidden():
    plan = lay_rows(EL, (), replace(NARROW, width_mm=600), DOWN, RULES)
    found = checked(plan, holes=(), sold=replace(NARROW, width_mm=600))
    assert 0 < len(plan.breaches) <= 4
    assert {f.split(":")[0] for f in found} == {b.split(":")[0] for b in plan.breaches}


def test_a_roof_below_its_low_edge_is_refused():
    with pytest.raises(InvalidInput, match="no corner below"):
        lay_rows(EL, (), SOLD, replace(DOWN, foot=(0, 500)), RULES)


def test_a_saw_wider_than_a_board_is_refused():
    with pytest.raises(InvalidInput, match="wider than"):
        lay_rows(EL, (), SOLD, DOWN, replace(RULES, kerf=1300))

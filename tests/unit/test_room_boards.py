"""The boards room: pieces that fill the roof, boards bought, notes on layers."""

import pytest
from shapely.geometry import Polygon
from shapely.ops import unary_union
from tests.unit import plans, rooms
from tests.unit.plans import codes, one

from evenfall.model.choice import Board
from evenfall.stages.takeoff import boards

FOAM = plans.build(plans.job()).board
SMALL = Board("small", "small board", 1200, 600, 32.0, 0.4, 90.0, 60.0, ((120, 0.022),))


def worked(ring=plans.OBLONG, board=FOAM, layers_mm=(120,)):
    return boards.work(plans.plan(ring, kinds=("verge",) * len(ring), walls_m=(0.0,) * len(ring)),
                       board, layers_mm, False, "demo")  # fmt: skip


@pytest.mark.parametrize("name", ["garage", "rear-extension", "courtyard"])
def test_the_pieces_fill_the_roof_beside_its_square_openings_and_never_overlap(name):
    w = rooms.taken_off(rooms.job(name))
    holes = [Polygon(boards.in_mm(o.hole)) for o in w.plan.openings if o.diameter_mm is None]
    roof = Polygon(boards.in_mm(w.plan.deck)).difference(unary_union(holes))
    for layer in range(1, len(w.boards.layers_mm) + 1):
        pieces = [Polygon(p.ring) for p in w.boards.laid_in(layer)]
        assert sum(p.area for p in pieces) == pytest.approx(roof.area, rel=1e-3)
        assert unary_union(pieces).symmetric_difference(roof).area < 1e-3 * roof.area


@pytest.mark.parametrize("name", ["garage", "rear-extension", "courtyard"])
def test_no_more_is_sawn_from_a_board_than_it_has(name):
    w = rooms.taken_off(rooms.job(name))
    whole = w.build.board.length_mm * w.build.board.width_mm
    sawn: dict[int, float] = {}
    for piece in w.boards.pieces:
        sawn[piece.board] = sawn.get(piece.board, 0.0) + piece.length_mm * piece.width_mm
    assert set(sawn) == set(range(1, w.boards.bought + 1))
    assert max(sawn.values()) <= whole


def test_the_boards_bought_lie_between_the_bound_and_one_for_each_piece():
    found = worked()
    assert found.bound == 9  # 25.42 / 2.88 = 8.8
    assert found.bound <= found.bought <= len(found.pieces)


def test_waste_is_what_the_roof_does_not_take():
    found = worked()
    assert found.waste_percent == pytest.approx(100 * (1 - 25.42 / (2.88 * found.bought)))


def test_two_layers_are_both_drawn_and_both_bought():
    one_layer, two = worked(), worked(layers_mm=(120, 120))
    assert 2 * one_layer.bound - 1 <= two.bound <= two.bought
    assert two.layers_mm == (120, 120)
    assert two.order[0].id == "board:foam:120"
    assert two.order[0].packs == ((two.bought, 1.0, "board"),)
    areas = [sum(Polygon(p.ring).area for p in two.laid_in(n)) for n in (1, 2)]
    assert areas == pytest.approx([25.42e6] * 2, rel=1e-3)


def test_every_cut_board_tells_its_cuts_and_its_pieces():
    found = worked()
    by_number = {p.number: p for p in found.pieces}
    assert found.sawn
    for board in found.sawn:
        assert all(0 < c.at_mm < max(c.part.length_mm, c.part.width_mm) for c in board.cuts)
        for number, part in board.pieces:
            piece = by_number[number]
            assert piece.board == board.number
            assert {part.length_mm, part.width_mm} == {piece.length_mm, piece.width_mm}


def test_two_layers_of_unequal_boards_are_two_lines_of_the_order():
    one_layer, two = worked(), worked(layers_mm=(100, 60))
    assert [line.id for line in two.order] == ["board:foam:100", "board:foam:60"]
    assert all(line.bought >= one_layer.bound for line in two.order)
    assert two.bought == sum(line.bought for line in two.order)


def test_the_order_is_the_count_of_the_plan():
    line = worked().order[0]
    assert line.packs == ((worked().bought, 1.0, "board"),)
    assert line.bought == line.need.value == worked().bought
    assert line.basis == "demo"


@pytest.mark.parametrize(("mm", "told"), [(120, []), (130, ["one-thick-layer"])])
def test_one_layer_above_120_mm_is_noted(mm, told):
    board = Board("b", "board", 2400, 1200, 32.0, 0.4, 90.0, 60.0, ((120, 0.022), (130, 0.022)))
    assert codes(worked(board=board, layers_mm=(mm,)).findings) == told


def test_a_second_layer_is_shifted_and_the_note_says_by_how_much():
    told = one(worked(layers_mm=(120, 120)).findings, "second-layer")
    assert "200 mm" in told.says


def test_a_plan_that_breaks_a_rule_says_so():
    narrow = ((0.0, 0.0), (5.3, 0.0), (5.3, 0.25), (0.0, 0.25))
    found = worked(ring=narrow, board=SMALL)
    assert found.breaches
    told = one(found.findings, "board-rule")
    assert told.level == "note"
    assert found.breaches[0] in told.says


@pytest.mark.parametrize(
    "kind", ["perimeter piece", "small piece", "thin part", "stagger", "layers"]
)
def test_every_rule_that_cannot_be_kept_has_its_own_cure(kind):
    told = boards.rules_broken((f"{kind}: piece 7 is so", "layers: another"), 5000)[0]
    assert boards.CURES[kind] in told.remedy.says
    assert "1 more" in told.says


@pytest.mark.parametrize(("wide_m", "words"), [
    (0.28, "the roof is 280 mm wide there"), (0.3, None),
])  # fmt: skip
def test_a_roof_narrower_than_the_least_piece_is_told_what_can_be_done(wide_m, words):
    """Shifting the first course helps no roof of 280 mm; one of 300 mm breaks no rule."""
    found = worked(ring=((0.0, 0.0), (5.3, 0.0), (5.3, wide_m), (0.0, wide_m)), board=SMALL)
    told = [f.remedy.says for f in found.findings if f.code == "board-rule"]
    assert bool(told) == (words is not None)
    assert all(words in says and "Shift" not in says for says in told)


def test_rings_are_rounded_to_whole_millimetres():
    assert boards.in_mm(((0.0004, 1.9996),)) == ((0, 2000),)


def test_only_the_pieces_that_nothing_lies_on_are_uppermost_and_no_two_share_a_number():
    """A field of two layers beside a thin zone of one."""
    field = plans.plan(plans.OBLONG, kinds=("verge",) * 4, walls_m=(0.0,) * 4)
    (x0, y0), (x1, y1) = plans.OBLONG[0], plans.OBLONG[2]
    zone = ((x0, y0), ((x0 + x1) / 2, y0), ((x0 + x1) / 2, y1), (x0, y1))
    found = boards.work(field, FOAM, (120, 120), False, "demo", thin=(((zone,), (100,)),))
    assert {(p.total_mm, p.layer) for p in found.uppermost} == {(240, 2), (100, 1)}
    area = sum(Polygon(p.ring).area for p in found.uppermost)
    assert area == pytest.approx(Polygon(boards.in_mm(field.deck)).area, rel=1e-3)
    assert len({p.number for p in found.pieces}) == len(found.pieces)

"""Laws of cutting: whatever is asked, what comes out is complete, fits and is honest."""

from collections import Counter
from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, unary_union

from evenfall.calc.layout.board_check import check_board_plan
from evenfall.calc.layout.boards import BoardRules, plan_boards
from evenfall.calc.layout.guillotine import area_bound, saw_boards, sawn
from evenfall.calc.layout.lengths import plan_lengths
from evenfall.calc.layout.packs import to_packs
from evenfall.calc.layout.rolls import plan_rolls
from evenfall.calc.layout.runs import split_run
from evenfall.calc.layout.sheet import plan_sheet

few = settings(max_examples=25, deadline=None, derandomize=True)
stock_lists = st.lists(
    st.tuples(st.integers(2500, 6000), st.integers(500, 3000)), min_size=1, max_size=3
)


@few
@given(st.lists(st.integers(150, 2500), max_size=14), stock_lists, st.integers(0, 5), st.booleans())
def test_every_piece_is_cut_once_and_fits(lengths, stock, kerf, quick):
    pieces = [(f"p{i}", s) for i, s in enumerate(lengths)]
    plan = plan_lengths(pieces, stock, kerf, quick=quick)
    assert Counter(c for b in plan.bars for c in b.cuts) == Counter(pieces)
    for bar in plan.bars:
        used = sum(c.length_mm for c in bar.cuts) + kerf * (len(bar.cuts) - 1)
        assert bar.cuts
        assert used <= bar.stock_mm
        assert bar.offcut_mm == max(0, bar.stock_mm - used - kerf)
    assert plan.lower_bound_pence <= plan.cost_pence == sum(b.price_pence for b in plan.bars)


@few
@given(st.lists(st.integers(150, 2500), min_size=1, max_size=12), stock_lists, st.integers(0, 5))
def test_the_exact_answer_is_never_dearer_than_the_quick_one(lengths, stock, kerf):
    pieces = [(f"p{i}", s) for i, s in enumerate(lengths)]
    quick = plan_lengths(pieces, stock, kerf, quick=True)
    exact = plan_lengths(pieces, stock, kerf)
    assert quick.lower_bound_pence <= exact.lower_bound_pence
    assert exact.cost_pence <= quick.cost_pence
    assert exact.optimal


@given(st.integers(1, 60000), st.integers(500, 6000), st.integers(0, 10))
def test_a_split_run_is_whole_even_and_as_few_as_can_be(length, stock, gap):
    parts = split_run(length, stock, gap)
    assert sum(parts) + gap * (len(parts) - 1) == length
    assert max(parts) <= stock
    assert max(parts) - min(parts) <= 1
    assert len(parts) == 1 or (len(parts) - 1) * stock + (len(parts) - 2) * gap < length


@few
@given(
    st.lists(st.tuples(st.integers(20, 2400), st.integers(20, 1200)), min_size=1, max_size=15),
    st.integers(0, 6),
)
def test_sawn_boards_give_every_piece_by_their_own_cuts(sizes, kerf):
    boards = saw_boards(sizes, (2400, 1200), kerf, steps=20)
    assert len(boards) >= area_bound(sizes, (2400, 1200), kerf)
    assert sorted(p.piece for b in boards for p in b.placed) == list(range(len(sizes)))
    for board in boards:
        parts = {(0, 0, 2400, 1200)}
        for cut in board.cuts:
            parts.remove(cut.part)
            start = cut.part.x if cut.axis == "x" else cut.part.y
            first, rest = sawn(cut.part, cut.axis, cut.at - start, kerf)
            parts |= {first} if rest is None else {first, rest}
        assert parts == {p.part for p in board.placed} | set(board.rests)
        for piece, part in board.placed:
            assert sorted(part[2:]) == sorted(sizes[piece])


def _boxes(kind, w, d, x, y):
    """Corners of each kind of roof, all within w x d."""
    return {
        "rectangle": [(0, 0), (w, 0), (w, d), (0, d)],
        "L": [(0, 0), (w, 0), (w, y), (x, y), (x, d), (0, d)],
        "T": [(0, 0), (w, 0), (w, y), (w - 700, y), (w - 700, d), (700, d), (700, y), (0, y)],
        "U": [(0, 0), (w, 0), (w, d), (w - 800, d), (w - 800, y), (800, y), (800, d), (0, d)],
        "trapezium": [(0, 0), (w, 0), (w - x // 2, d), (x // 3, d)],
        "skewed": [(0, 0), (w, 130), (w - 90, d), (-170, d - 210)],
    }[kind]


@st.composite
def roofs(draw):
    w, d = draw(st.integers(3200, 7500)), draw(st.integers(2400, 5500))
    x, y = draw(st.integers(900, w - 900)), draw(st.integers(900, d - 900))
    kind = draw(st.sampled_from(["rectangle", "L", "T", "U", "trapezium", "skewed"]))
    jitter = st.integers(-30, 30)
    outline = tuple((a + draw(jitter), b + draw(jitter)) for a, b in _boxes(kind, w, d, x, y))
    inner = Polygon(outline).buffer(-60)
    holes = []
    for _ in range(draw(st.integers(1, 4))):
        hx, hy = draw(st.integers(60, w)), draw(st.integers(60, d))
        side = draw(st.integers(60, 600))
        hole = ((hx, hy), (hx + side, hy), (hx + side, hy + side), (hx, hy + side))
        if inner.contains(Polygon(hole)) and all(Polygon(hole).disjoint(Polygon(h)) for h in holes):
            holes.append(hole)
    return outline, tuple(holes)


any_plan = given(
    roofs(), st.sampled_from([(2400, 1200), (1200, 1200), (1200, 600)]), st.booleans(),
    st.integers(1, 2),
)  # fmt: skip


@settings(few, max_examples=6)
@any_plan
def test_a_board_plan_passes_its_checker_or_tells_the_kind_of_all_it_breaks(
    roof, board, quick, layers
):
    _checked(roof, board, quick=quick, layers=layers, steps=60)


@pytest.mark.long
@settings(few, max_examples=60)
@any_plan
def test_so_do_many_board_plans_searched_closely(roof, board, quick, layers):
    _checked(roof, board, quick=quick, layers=layers, steps=2000)


def _checked(roof, board, *, quick, layers, steps):
    outline, holes = roof
    plan = plan_boards(outline, holes, board, quick=quick, steps=steps, layers=layers)
    faults = check_board_plan(plan, outline, holes, board, BoardRules())
    assert {f.split(":")[0] for f in faults} <= {b.split(":")[0] for b in plan.breaches} | (
        {"cross joint"} if any(b.startswith("stagger") for b in plan.breaches) else set()
    )
    assert plan.boards_bought >= plan.lower_bound
    net = Polygon(outline).area - sum(Polygon(h).area for h in holes)
    assert plan.boards_bought * board[0] * board[1] >= layers * net
    assert sum(p.size[0] * p.size[1] for p in plan.pieces) >= layers * net - 1


any_roof = given(roofs(), st.sampled_from([(2400, 1200), (1200, 600)]))


@settings(few, max_examples=4)
@any_roof
def test_a_mirrored_roof_costs_the_same(roof, board):
    _mirrored(roof, board, steps=60)


@pytest.mark.long
@settings(few, max_examples=40)
@any_roof
def test_so_do_many_mirrored_roofs_searched_closely(roof, board):
    _mirrored(roof, board, steps=2000)


def _mirrored(roof, board, steps):
    outline, holes = roof
    plan = plan_boards(outline, holes, board, quick=True, steps=steps)
    for sx, sy, swap in ((-1, 1, False), (1, -1, True)):
        rings = [
            tuple((sy * y, sx * x) if swap else (sx * x, sy * y) for x, y in ring)
            for ring in (outline, *holes)
        ]
        other = plan_boards(rings[0], rings[1:], board, quick=True, steps=steps)
        for what in ("boards_bought", "cuts", "lower_bound", "offcut_mm2", "breaches"):
            assert getattr(other, what) == getattr(plan, what)
        assert len(other.pieces) == len(plan.pieces)


@few
@given(roofs(), st.integers(0, 300), st.integers(0, 40), st.integers(0, 3))
def test_the_sheet_is_at_least_the_rectangle_it_must_cover(roof, allowance, doubt, step):
    outline, _ = roof
    stock = [(1500 * (step + 1), 15000, 10 ** (step % 3), 1100, 1.4), (7620, 30000, 100, 1300, 1.9)]
    plan = plan_sheet(outline, [allowance] * len(outline), doubt, stock)
    grown = Polygon(outline).area
    for option in plan.options:
        assert option.need_along_mm * option.need_across_mm >= grown
        assert option.area_mm2 >= option.need_along_mm * option.need_across_mm
        assert option.one_piece == (option.seam_mm == 0)
    assert plan.chosen.cost_pence == min(
        o.cost_pence for o in plan.options if o.one_piece == plan.chosen.one_piece
    )


@few
@given(roofs(), st.integers(0, 250), st.sampled_from([(1, 0), (0, 1), (3, -4)]), st.booleans())
def test_rolls_cover_the_roof_and_no_roll_is_longer_than_it_is(roof, turn_up, direction, up):
    outline, _ = roof
    low = (direction[1], -direction[0]) if up else (-direction[1], direction[0])
    plan = plan_rolls(outline, turn_up, (1080, 15000), direction, low)
    laid = unary_union([Polygon(p.corners) for p in plan.pieces]).buffer(2)
    assert Polygon(outline).buffer(turn_up, join_style="mitre", mitre_limit=3).within(laid)
    used = Counter()
    for piece in plan.pieces:
        used[piece.roll] += piece.length_mm
    assert max(used.values()) <= 15000
    assert sorted(used) == list(range(1, plan.rolls + 1))
    assert plan.laid_area_mm2 >= plan.net_area_mm2 - 2 * Polygon(outline).length


@given(
    st.integers(1, 30000),
    st.lists(
        st.tuples(st.integers(1, 40).map(lambda n: 250 * n), st.integers(1, 9999)),
        min_size=1,
        max_size=4,
    ),
)
@few
def test_packs_cover_and_cost_no_more_than_any_one_size_alone(need, packs):
    plan = to_packs(need, packs)
    assert plan.bought == sum(p.size * n for p, n in plan.packs) >= need
    assert plan.cost_pence == sum(p.price_pence * n for p, n in plan.packs)
    assert plan.cost_pence <= min(ceil(need / size) * price for size, price in packs)

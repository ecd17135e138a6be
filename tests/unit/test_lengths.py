"""Lengths: the odd ends of cutting."""

from itertools import pairwise

import pytest

from evenfall.calc.layout.cost_bound import Demand, levels
from evenfall.calc.layout.lengths import Cut, plan_lengths
from evenfall.calc.layout.pricing import can_yield
from evenfall.calc.layout.runs import plan_runs, split_run, whole_lengths
from evenfall.errors import InvalidInput


def test_the_saw_cut_is_taken_from_the_length():
    plan = plan_lengths([("a", 1500), ("b", 1500)], [(3000, 100)], kerf_mm=3)
    assert [b.offcut_mm for b in plan.bars] == [1497, 1497]


def test_the_last_piece_needs_no_saw_cut_when_it_ends_with_the_length():
    plan = plan_lengths([("a", 1500), ("b", 1497)], [(3000, 100)], kerf_mm=3)
    assert [(b.cuts, b.offcut_mm) for b in plan.bars] == [((Cut("a", 1500), Cut("b", 1497)), 0)]


def test_a_rest_thinner_than_the_saw_is_dust():
    plan = plan_lengths([("a", 2998)], [(3000, 100)], kerf_mm=3)
    assert plan.bars[0].offcut_mm == 0


def test_the_cheaper_price_wins_over_the_fewer_lengths():
    plan = plan_lengths([("a", 2400), ("b", 2400)], [(5000, 990), (2500, 410)], kerf_mm=3)
    assert ([b.stock_mm for b in plan.bars], plan.cost_pence) == ([2500, 2500], 820)


def test_a_dear_short_length_is_not_bought():
    plan = plan_lengths([("a", 900)], [(2500, 1400), (3000, 1300)], kerf_mm=3)
    assert plan.bars[0].stock_mm == 3000


def test_the_exact_answer_beats_first_fit():
    """Six pieces that fill two lengths wholly, but not when the longest go first."""
    pieces = [(f"p{i}", s) for i, s in enumerate((1300, 1000, 700, 1150, 950, 900))]
    quick = plan_lengths(pieces, [(3000, 1)], 0, quick=True)
    exact = plan_lengths(pieces, [(3000, 1)], 0)
    assert (len(exact.bars), exact.optimal) == (2, True)
    assert len(quick.bars) >= 2


def test_pieces_keep_their_names():
    names = ["verge left", "verge right", "eaves", "joiner", "joiner"]
    plan = plan_lengths(list(zip(names, (2050, 2051, 1430, 200, 200), strict=True)), [(3000, 5)], 3)
    assert sorted(c.name for b in plan.bars for c in b.cuts) == sorted(names)


def test_nothing_wanted_costs_nothing():
    plan = plan_lengths([], [(3000, 100)], 3)
    assert (plan.bars, plan.cost_pence, plan.optimal) == ((), 0, True)


def test_a_piece_longer_than_the_stock_is_refused_with_its_cure():
    with pytest.raises(InvalidInput, match="split the run"):
        plan_lengths([("fascia", 6214)], [(5000, 100)], 4)


@pytest.mark.parametrize(
    ("stock", "kerf"), [([], 3), ([(0, 100)], 3), ([(3000, 0)], 3), ([(3000, 100)], -1)]
)
def test_impossible_stock_is_refused(stock, kerf):
    with pytest.raises(InvalidInput):
        plan_lengths([("a", 100)], stock, kerf)


def test_a_piece_no_longer_than_the_saw_cut_is_refused_with_its_cure():
    with pytest.raises(InvalidInput, match="saw cut of 30 mm"):
        plan_lengths([("verge", 2000), ("end", 30)], [(3000, 1)], 30)
    assert plan_lengths([("verge", 2000), ("end", 31)], [(3000, 1)], 30).optimal


def test_a_run_as_long_as_the_stock_is_not_split():
    assert split_run(5000, 5000, 3) == (5000,)


def test_a_run_a_millimetre_longer_is_split_in_two():
    assert split_run(5001, 5000, 3) == (2499, 2499)


def test_a_run_of_no_length_is_refused():
    with pytest.raises(InvalidInput):
        split_run(0, 5000, 3)


def test_a_mix_that_is_long_enough_may_still_not_yield_the_pieces():
    demand = Demand((1703, 903), (2, 3), (3003, 2503), (1100, 940))
    assert sum(demand.items) < 3003 + 2 * 2503
    assert can_yield(demand, (1, 2), [])
    assert not can_yield(demand, (0, 2), [])
    assert not can_yield(demand, (2, 0), [])  # 6006 mm for 6115


def test_every_cost_below_the_known_plan_is_a_mix_of_the_prices():
    demand = Demand((2603, 1203), (3, 4), (3003, 2503), (1100, 940))
    found = levels(demand, 6600)
    assert found[-1] == (6600, ())
    for level in found[:-1]:
        for long, short in level.mixes:
            assert 1100 * long + 940 * short == level.cost < 6600
            assert long >= 3  # the pieces of 2600 fit in no shorter length


def test_too_many_mixes_are_counted_in_whole_steps():
    demand = Demand((503,), (300,), (6003, 4003, 2003), (30, 20, 10))
    found = levels(demand, 2900)
    assert {level.mixes for level in found[:-1]} == {None}
    assert found[0].cost == 760  # 150.9 m at 30 p for 6.003 m
    assert {b.cost - a.cost for a, b in pairwise(found)} == {10}


def test_a_long_run_is_cut_in_whole_lengths_where_that_buys_less():
    runs = [("gable", 5787), ("eaves", 5630), ("rear", 5590)]  # 17 m of fascia, 5 m boards
    stock = [(5000, 5000)]
    equal = [(n, part) for n, length in runs for part in split_run(length, 5000, 0)]
    assert plan_lengths(equal, stock, 4).cost_pence == 6 * 5000
    plan = plan_runs(runs, stock, 4, 0, 300)
    assert plan.cost_pence == 4 * 5000
    assert plan.optimal  # 17 m take four of 5 m however they are split
    by_run = {
        n: sum(c.length_mm for b in plan.bars for c in b.cuts if c.name == n) for n, _ in runs
    }
    assert by_run == dict(runs)


def test_equal_pieces_stay_where_they_cost_no_more():
    plan = plan_runs([("verge", 6000)], [(5000, 5000)], 4, 0, 300)
    assert sorted(c.length_mm for b in plan.bars for c in b.cuts) == [3000, 3000]


@pytest.mark.parametrize("length", [5001, 5299, 7777, 9999, 10_001, 12_345])
@pytest.mark.parametrize("gap", [0, 3])
def test_whole_lengths_make_the_run_and_leave_no_end_too_short(length, gap):
    parts = whole_lengths(length, 5000, gap, 300)
    assert sum(parts) + gap * (len(parts) - 1) == length
    assert len(parts) == len(split_run(length, 5000, gap))
    assert min(parts) >= 300
    assert max(parts) <= 5000

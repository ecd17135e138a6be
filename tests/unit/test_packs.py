"""Packs and the container trap."""

from math import ceil

import pytest

from evenfall.calc.layout.packs import need_at_worse_coverage, to_packs
from evenfall.errors import InvalidInput


def test_two_small_packs_may_be_cheaper_than_a_large_one():
    plan = to_packs(9000, [(5000, 4000), (10000, 8600)])
    assert ([(p.size, n) for p, n in plan.packs], plan.cost_pence) == ([(5000, 2)], 8000)


def test_of_equal_prices_the_least_left_over_is_bought():
    plan = to_packs(7000, [(7500, 5000), (10000, 5000)])
    assert (plan.bought, plan.over) == (7500, 500)


def test_a_dearer_pack_that_is_larger_may_save_two_small_ones():
    plan = to_packs(210, [(100, 900), (250, 1900)])
    assert [(p.size, n) for p, n in plan.packs] == [(250, 1)]


def test_one_unit_more_than_a_pack_wants_another():
    assert to_packs(5000, [(5000, 4000)]).bought == 5000
    assert to_packs(5001, [(5000, 4000)]).bought == 10000


def test_nothing_needed_buys_nothing():
    assert to_packs(0, [(5000, 4000)]).packs == ()


@pytest.mark.parametrize(("need", "packs"), [(-1, [(5, 4)]), (1, []), (1, [(0, 4)]), (1, [(5, 0)])])
def test_impossible_packs_are_refused(need, packs):
    with pytest.raises(InvalidInput):
        to_packs(need, packs)


def test_a_count_too_fine_to_list_is_refused():
    with pytest.raises(InvalidInput, match="larger unit"):
        to_packs(3_000_000, [(7, 4), (5, 3)])


def test_the_reported_container_trap_is_not_fallen_into():
    """85.5 m2: two pails of 18.93 l do 93 m2 by their label, but not at 2 m2/l."""
    label_m2_l = 9.29 / 3.785
    need_ml = ceil(1000 * need_at_worse_coverage(85.5, [2.0, label_m2_l]))
    assert need_ml == 42750
    assert to_packs(need_ml, [(18930, 9900)]).packs[0][1] == 3
    assert to_packs(ceil(1000 * 85.5 / label_m2_l), [(18930, 9900)]).packs[0][1] == 2


def test_a_coverage_of_nothing_is_refused():
    with pytest.raises(InvalidInput):
        need_at_worse_coverage(85.5, [2.0, 0.0])

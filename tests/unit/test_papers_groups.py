"""The client's price: groups at selling prices that add up to the penny and hide the cost."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.unit.papers import NAMES, worked

from evenfall.stages.papers.groups import GROUPS, group_of, net_of_groups, price_groups, share_out
from evenfall.stages.programme import order

WEIGHTS: st.SearchStrategy[dict[str, int]] = st.dictionaries(
    st.text(max_size=4), st.integers(0, 10**7), min_size=1, max_size=12
)


@given(st.integers(0, 10**8), WEIGHTS)
def test_parts_add_up_to_the_whole_and_none_is_a_penny_off(net: int, weights: dict) -> None:
    parts = share_out(net, weights)
    whole = sum(weights.values())
    assert sum(parts.values()) == net
    assert parts.keys() == weights.keys()
    if whole:
        assert all(abs(parts[k] - net * w / whole) < 1 for k, w in weights.items())


def test_left_over_pence_go_to_the_largest_remainders() -> None:
    assert share_out(1000, {"a": 1, "b": 5, "c": 1}) == {"a": 143, "b": 714, "c": 143}


@pytest.mark.parametrize("name", NAMES)
def test_the_groups_of_an_example_add_up_to_its_net_price(name: str) -> None:
    price = worked(name).price
    groups = price_groups(price.lines, round(price.net.value))
    assert sum(g.pence for g in groups) == price.net.value
    assert all(g.pence > 0 for g in groups)


@pytest.mark.parametrize("name", NAMES)
def test_no_group_stands_at_what_it_costs(name: str) -> None:
    price = worked(name).price
    cost = dict.fromkeys((k for k, _ in GROUPS), 0)
    for line in price.lines:
        cost[group_of(line.id, line.block)] += line.pence
    for group in price_groups(price.lines, round(price.net.value)):
        assert group.pence > cost[group.key]


@pytest.mark.parametrize("name", NAMES)
def test_every_line_of_the_examples_has_a_group_of_its_own(name: str) -> None:
    others = [x.id for x in worked(name).price.lines if group_of(x.id, x.block) == "other"]
    assert others == []


def test_every_kind_of_work_and_every_item_of_the_rates_has_a_group() -> None:
    rates = worked("garage").case.rates
    rows = (*order.BAY, *order.BOARDING, *order.DETAILS, *order.DRAINING)
    ids = [f"task:{row.task}" for row in rows] + [f"item:{i.name}" for i in rates.items]
    ids += [f"length:{s.name}" for s in rates.lengths]
    assert [i for i in ids if group_of(i, "materials") == "other"] == []


@pytest.mark.parametrize(
    ("id_", "block", "group"),
    [
        ("item:sandbags", "materials", "night"),
        ("charge:night-cover", "prelims", "night"),
        ("task:night-joint", "labour", "night"),
        ("length:firring-timber", "materials", "deck"),
        ("length:drip-trim", "materials", "edges"),
        ("item:rooflight-corner", "materials", "sheet"),
        ("task:kerb-on-boards", "labour", "warm"),
        ("screw:130", "materials", "warm"),
        ("charge:skip-6", "strip", "strip"),
        ("item:something-new", "materials", "other"),
    ],
)
def test_a_line_goes_where_a_client_would_look_for_it(id_: str, block: str, group: str) -> None:
    assert group_of(id_, block) == group


@pytest.mark.parametrize("name", NAMES)
def test_the_working_of_the_net_price_names_groups_only(name: str) -> None:
    net = net_of_groups(worked(name))
    assert net.value == worked(name).price.net.value
    assert {s for s, _, _ in net.of} <= {key for key, _ in GROUPS}

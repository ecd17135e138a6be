"""The order by counters: each line once, enough of it, and no price."""

from __future__ import annotations

import re
from collections import Counter

import pytest
from tests.unit.papers import NAMES, words, worked

from evenfall.stages.papers.order import COUNTERS, order


@pytest.mark.parametrize("name", NAMES)
def test_every_line_of_every_take_off_room_is_ordered_once(name: str) -> None:
    job = worked(name)
    rooms = (job.boards, job.sheet, job.rolls, job.lengths, job.items)
    wanted = Counter(line.id for room in rooms for line in room.order)
    found = Counter(x.id for c in order(job).counters for x in c.lines)
    assert found == wanted
    assert sum(found.values()) > 20


@pytest.mark.parametrize("name", NAMES)
def test_what_is_bought_covers_the_need(name: str) -> None:
    lines = [x for c in order(worked(name)).counters for x in c.lines]
    assert [x.id for x in lines if x.bought < x.need - 1e-9] == []


@pytest.mark.parametrize("name", NAMES)
def test_a_counter_has_a_name_of_its_own_and_only_its_goods(name: str) -> None:
    counters = order(worked(name)).counters
    assert len({c.name for c in counters}) == len(counters)
    for counter in counters:
        assert all(COUNTERS[x.id.partition(":")[0]] == counter.name for x in counter.lines)


@pytest.mark.parametrize("name", NAMES)
def test_no_price_stands_in_the_order(name: str) -> None:
    job = worked(name)
    told = set(re.findall(r"\d+", words(order(job))))
    costs = {str(x.pence) for x in job.price.lines if x.pence > 9999}
    assert not costs & told
    assert "£" not in words(order(job))


@pytest.mark.parametrize("name", NAMES)
def test_every_bar_is_in_the_cutting_list_and_no_longer_than_its_stock(name: str) -> None:
    job = worked(name)
    cuts = order(job).cuts
    assert len(cuts) == len(job.boards.sawn) + sum(len(run.bars) for run in job.lengths.runs)
    for cut in cuts:
        pieces = [int(mm) for mm in re.findall(r"(\d+) for ", cut.pieces)]
        if isinstance(cut.left, int):
            assert sum(pieces) + cut.left <= int(cut.stock.split()[0])
        else:
            assert re.match(r"1 a(cross|long) at \d+", cut.pieces)

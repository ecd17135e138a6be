"""The order by counters: each line once, enough of it, and no price."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace

import pytest
from tests.unit.papers import NAMES, changed, words, worked

from evenfall.stages.papers.cut_lists import cut_lists
from evenfall.stages.papers.drawn_sheet import draw_rolls, vcl_steps
from evenfall.stages.papers.drawn_tapers import draw_tapers
from evenfall.stages.papers.handover import products
from evenfall.stages.papers.hold_values import hold_values
from evenfall.stages.papers.order import counter_of, order


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
        assert all(counter_of(x.id) == counter.name for x in counter.lines)


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
            assert re.match(r"cut 1: a(cross|long), \d+ from the (left|lower) ", cut.pieces)


@pytest.mark.parametrize("name", NAMES)
def test_every_line_has_a_weight_and_a_delivery_is_their_sum(name: str) -> None:
    for counter in order(worked(name)).counters:
        if counter.name != "Windows, made to measure":
            assert counter.unweighed == ()
        assert counter.mass_kg == pytest.approx(sum(x.mass_kg or 0 for x in counter.lines))


def test_a_line_whose_weight_nobody_told_is_named() -> None:
    job = worked("garage")
    bare = tuple(i.model_copy(update={"mass_kg": None}) for i in job.case.rates.items)
    rates = job.case.rates.model_copy(update={"items": bare})
    found = order(replace(job, case=replace(job.case, rates=rates)))
    sundries = next(c for c in found.counters if c.name.startswith("Fixings"))
    assert "item:primer" in sundries.unweighed
    assert not [id_ for id_ in sundries.unweighed if id_.startswith("screw:")]


def test_a_length_of_more_than_four_metres_takes_two() -> None:
    job = worked("garage")
    long = {r.says for r in job.lengths.runs if max(b.stock_mm for b in r.bars) > 4000}
    told = {lift.what: lift.says for lift in order(job).lifts}
    assert long
    assert long <= set(told)
    assert all("two people" in told[what] for what in long)
    short = {r.says for r in job.lengths.runs} - long
    assert not short & set(told)


@pytest.mark.parametrize("name", NAMES)
def test_what_is_counted_is_told_in_whole_pieces_and_its_working_is_not_rounded(name: str) -> None:
    job = worked(name)
    lines = [x for c in order(job).counters for x in c.lines if x.unit == "each"]
    needs = {x.id: x.need.value for x in job.items.order}
    assert [x.id for x in lines if x.need % 1] == []
    assert [x.id for x in lines if x.id in needs and not 0 <= x.need - needs[x.id] < 1] == []
    assert any(needs[x.id] % 1 for x in lines if x.id in needs)


def test_the_new_deck_board_weighs_the_same_where_it_is_bought_and_where_it_is_lifted() -> None:
    found = order(worked("garage"))
    bought = next(x for c in found.counters for x in c.lines if x.id == "item:deck-board")
    lifted = next(x for x in found.lifts if x.what == bought.what)
    assert lifted.mass_kg == pytest.approx(bought.mass_kg / bought.bought)
    assert not [x for x in found.lifts if "17.5" in x.size]


@pytest.mark.parametrize("name", NAMES)
def test_every_piece_of_vcl_is_in_a_cut_list_with_its_size_and_short_ones_in_the_legend(
    name: str,
) -> None:
    job = worked(name)
    told = next(x for x in cut_lists(job) if x.name == job.rolls.order[0].says)
    cut = ", ".join(b.sawn for b in told.bars)
    pieces = [*job.rolls.strips, *job.rolls.kerb_strips]
    assert len(cut.split(", ")) == len(pieces)
    assert all(f"{p.number}: {p.length_mm} × {p.width_mm}" in cut for p in pieces)
    legend = " ".join(vcl_steps(job))
    lettered = words(draw_rolls(job))
    for p in job.rolls.strips:
        assert (f"{p.length_mm} mm, roll" in lettered) or f"{p.number} ({p.length_mm} ×" in legend


def test_tapered_boards_are_ordered_weighed_drawn_and_in_the_cut_lists() -> None:
    job = changed("garage", ("design.falls.kind", "tapered"), ("design.options", ()))
    laid = job.boards.tapered
    lines = [x for c in order(job).counters for x in c.lines if x.id.startswith("taper:")]
    assert [x.bought for x in lines] == [k.bought for k in laid.kinds]
    assert all(x.mass_kg and x.mass_kg > 0 for x in lines)
    cuts = [c for c in order(job).cuts if c.stock.startswith("board T")]
    assert len(cuts) == len(laid.sawn)
    told = next(x for x in cut_lists(job) if x.name.startswith("Tapered"))
    sawn = {p.number for p in laid.pieces if (p.across_mm, p.along_mm) != laid.size_mm}
    assert sawn
    assert all(re.search(rf"\bT{n}\b", " ".join(b.sawn for b in told.bars)) for n in sawn)
    drawn = words(draw_tapers(job))
    assert all(re.search(rf"\bT{p.number}\b", drawn) for p in laid.pieces)
    assert "none turned" in drawn
    assert draw_tapers(worked("garage")) is None
    named = [p.says for p in products(job) if p.what == "Insulation to falls"]
    assert named == [x.what for x in lines]
    held = " ".join(says for n in range(1, 12) for says in hold_values(job, n))
    assert "thin edge to A-B; see drawing P8" in held
    assert any(line.id == "taper:tapered-pir-80:25" for line in job.price.lines)

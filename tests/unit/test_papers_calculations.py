"""Calculation sheets: every working of every room, once, after what it is made of."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass

import pytest
from tests.unit.papers import NAMES, changed, words, worked

from evenfall.stages.papers.calculations import TITLES, book, flat, walk
from evenfall.stages.papers.sheets import calculations
from evenfall.working import Cited, Table, Working, total

PRICED = ("price", "tasks", "options", "findings", "meta", "case")


@dataclass(frozen=True)
class Pipe:
    id: str
    flow: Working


@dataclass(frozen=True)
class Room:
    pipes: tuple[Pipe, ...]
    table: Table


def test_walking_finds_workings_in_tuples_and_tables_and_names_their_owner() -> None:
    flow = total("Flow", "Q", "l/s", [("a", 1.0), ("b", 2.5)])
    table = Table("Months", (("month", "-"),), (("May",),), "us", "measured")
    room = Room((Pipe("gutter:A-B", flow),), table)
    assert [(about, x.title) for about, x in walk(room)] == [("A-B", "Flow"), ("", "Months")]


@pytest.mark.parametrize("name", NAMES)
def test_every_working_of_every_room_is_in_the_sheets(name: str) -> None:
    job = worked(name)
    walked = book(job)
    for key in TITLES:
        if key not in PRICED:
            found = [x for _, x in walk(getattr(job, key))]
            assert all(x in walked.numbers for x in found if isinstance(x, Working)), key


@pytest.mark.parametrize("name", NAMES)
def test_every_room_with_a_result_has_its_sheet(name: str) -> None:
    from evenfall.flow import KEYS

    assert set(KEYS) - {"meta", "tasks", "options", "findings"} == set(TITLES)


@pytest.mark.parametrize("name", NAMES)
def test_every_table_of_every_room_is_in_the_sheets(name: str) -> None:
    job = worked(name)
    titles = Counter(x.title for x in flat(book(job), ["grid"]))
    for key in TITLES:
        if key not in PRICED:
            for _, line in walk(getattr(job, key)):
                assert not isinstance(line, Table) or titles[line.title]


@pytest.mark.parametrize("name", NAMES)
def test_a_working_stands_after_what_it_is_made_of(name: str) -> None:
    seen: set[str] = set()
    for line in flat(book(worked(name)), ["sum"]):
        assert {i.ref for i in line.inputs if i.ref} <= seen
        assert line.number not in seen
        seen.add(line.number)


@pytest.mark.parametrize("name", NAMES)
def test_no_result_refers_to_a_working_that_is_not_there(name: str) -> None:
    sheets = calculations(worked(name))
    numbers = {line.number for room in sheets.rooms for line in room.lines}
    assert all(r.ref in numbers for r in sheets.results)
    refs = {ref for w in sheets.weak for ref in w.ref.split(", ")}
    assert refs <= numbers | {"", "…"}


@pytest.mark.parametrize("name", NAMES)
def test_nothing_of_cost_or_of_hours_is_in_the_sheets(name: str) -> None:
    price = worked(name).price
    text = words(calculations(worked(name)))
    numbers = set(re.findall(r"\d+", text))
    hidden = [round(v.value) for v in (price.cost, price.overhead, price.margin)]
    assert [h for h in hidden if str(h) in numbers] == []
    assert "overhead" not in text.lower()
    assert str(worked(name).case.rates.terms.labour_pence_hour) not in numbers
    assert "task:" not in text


@pytest.mark.parametrize("name", NAMES)
def test_the_selling_side_of_the_price_is_worked_from_the_groups(name: str) -> None:
    rooms = {r.key: r for r in calculations(worked(name)).rooms}
    assert [line.symbol[0][1] for line in rooms["price"].lines] == ["net", "part", "total", "per"]


@pytest.mark.parametrize("name", NAMES)
def test_numbers_from_memory_are_listed_for_checking(name: str) -> None:
    listed = {(w.what, w.source) for w in calculations(worked(name)).weak}
    memory = [n for _, n, _ in book(worked(name)).leaves if n.basis == "from memory"]
    assert memory
    assert {(n.where, n.source) for n in memory if n.source != "job"} <= listed


def test_several_numbers_of_one_table_are_one_line() -> None:
    weak = calculations(worked("garage")).weak
    assert len({(w.what, w.source) for w in weak}) == len(weak)
    assert any(w.value.endswith(" numbers") for w in weak if w.basis == "from memory")


def test_invented_rates_are_told_in_one_line() -> None:
    weak = calculations(worked("garage")).weak
    assert [w.basis for w in weak].count("demo") == 1
    assert weak[0].basis == "demo"


def test_u_is_told_to_two_decimals_except_near_its_limit() -> None:
    def u(name: str) -> str:
        return next(r.value for r in calculations(worked(name)).results if "Heat" in r.what)

    assert re.fullmatch(r"0\.\d\d W/\(m²K\)", u("courtyard"))
    assert re.fullmatch(r"0\.\d\d\d W/\(m²K\)", u("rear-extension"))


def test_a_gutter_too_small_is_said_so_and_not_as_a_negative_spare() -> None:
    results = calculations(changed("rear-extension", ("design.gutter", "keep"))).results
    assert any(re.fullmatch(r"too much by \d+ %", r.of) for r in results)


def test_findings_about_the_price_are_left_to_the_firm() -> None:
    assert all(c.subject != "price" for c in calculations(worked("courtyard")).checks)


def test_a_number_used_twice_is_listed_once() -> None:
    leaves = [(n.source, n.where, n.value) for _, n, _ in book(worked("garage")).leaves]
    assert len(leaves) == len(set(leaves))
    assert any(isinstance(n, Cited) for _, n, _ in book(worked("garage")).leaves)


@pytest.mark.parametrize("name", NAMES)
def test_what_a_working_is_about_is_a_name_and_no_data(name: str) -> None:
    assert all(len(line.about) < 40 for line in flat(book(worked(name))))

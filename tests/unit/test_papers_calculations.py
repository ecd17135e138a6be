"""Calculation sheets: every working of every room, once, after what it is made of."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass

import pytest
from tests.unit.papers import NAMES, changed, words, worked

from evenfall.stages.papers.calculations import CHAPTERS, TITLES, book, flat, walk
from evenfall.stages.papers.grouped import grouped
from evenfall.stages.papers.printed import Grid, Input, Many, Sum, numbers_of
from evenfall.stages.papers.sheets import calculations
from evenfall.stages.papers.whose import whose
from evenfall.working import Cited, Table, Working, total

LONGEST_NAME = 80  # two or three owners and the part of the load
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

    owners = {"margins", "extras", "invoices", "record"}  # no business of building control
    assert set(KEYS) - {"meta", "tasks", "options", "findings"} - owners == set(TITLES)


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
    for line in flat(book(worked(name))):
        if isinstance(line, Sum):
            assert {i.ref for i in line.inputs if i.ref} <= seen
        if isinstance(line, Many):
            assert {ref for row in line.rows for _, ref in row.cells if ref} <= seen
            assert {i.ref for i in line.shared if i.ref} <= seen
        own = set(numbers_of(line))
        assert not own & seen
        seen |= own


@pytest.mark.parametrize("name", NAMES)
def test_a_formula_is_told_once_in_its_room_unless_its_workings_are_made_of_one_another(
    name: str,
) -> None:
    for room in book(worked(name)).rooms:
        told = Counter((x.title, x.symbol, x.expression, x.source, len(x.inputs))
                       for x in room.lines if isinstance(x, Sum) and x.inputs)  # fmt: skip
        twice = [k for k, n in told.items() if n > 2]
        assert not [k for k in twice if k[4] <= 5], room.title


def test_workings_of_one_formula_keep_their_values_and_say_what_they_share() -> None:
    given = Input((("t", "t"),), "12 mm", "survey.covering.thickness_mm", "measured", "")
    made = [
        Sum(f"6.{n}", name, "Height", (("t", "H"),), (("t", "h − t"),), (), result, "us",
            "measured", (Input((("t", "h"),), h, "survey", "measured", ""), given))
        for n, (name, h, result) in enumerate(
            (("sill", "376 mm", "364 mm"), ("door", "301 mm", "289 mm")), 1)
    ]  # fmt: skip
    (many,) = grouped(made)
    assert isinstance(many, Many)
    assert many.shared == (given,)
    assert [(r.number, r.about, r.cells, r.result) for r in many.rows] == [
        ("6.1", "sill", (("376 mm", ""),), "364 mm"),
        ("6.2", "door", (("301 mm", ""),), "289 mm"),
    ]


def test_workings_made_of_one_another_are_never_told_as_rows_of_one_table() -> None:
    def sag(number: str, ref: str) -> Sum:
        given = Input((("t", "x"),), "1 mm", "", "measured", ref)
        return Sum(number, "", "Sag", (("t", "u"),), (("t", "x + 1"),), (), "2 mm", "us",
                   "measured", (given,))  # fmt: skip

    order = grouped([sag("1.1", ""), sag("1.2", "1.1"), sag("1.3", "1.2")])
    assert [x.number for x in order] == ["1.1", "1.2", "1.3"]


@pytest.mark.parametrize("name", NAMES)
def test_no_result_refers_to_a_working_that_is_not_there(name: str) -> None:
    sheets = calculations(worked(name))
    numbers = {n for room in sheets.rooms for line in room.lines for n in numbers_of(line)}
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
    weak = calculations(worked(name)).weak
    listed = {(what, w.source) for w in weak for what, _ in w.says}
    memory = [n for _, n, _ in book(worked(name)).leaves if n.basis == "from memory"]
    assert memory
    assert {(n.where, n.source) for n in memory if n.source != "job"} <= listed


def test_several_numbers_of_one_table_are_one_line() -> None:
    weak = calculations(worked("garage")).weak
    assert len({(w.basis, w.source) for w in weak}) == len(weak)
    values = [value for w in weak if w.basis == "from memory" for _, value in w.says]
    assert any(value.endswith(" numbers") for value in values)


def test_invented_rates_are_told_in_one_line() -> None:
    weak = calculations(worked("garage")).weak
    assert [w.basis for w in weak].count("demo") == 1
    assert weak[0].basis == "from memory"


@pytest.mark.parametrize("name", NAMES)
def test_the_joists_stand_side_by_side_before_their_workings(name: str) -> None:
    job = worked(name)
    (room,) = [r for r in calculations(job).rooms if r.key == "joists"]
    glance = room.lines[0]
    assert isinstance(glance, Grid)
    moments = [f"{c.name}, {of.says}" for c in job.joists.cases for of in c.combinations]
    assert [row[0] for row in glance.rows[: len(moments)]] == moments
    worst = max(c.bending.value for c in job.joists.cases)
    assert f"{worst * 100:.0f}" in {row[3] for row in glance.rows}


def test_every_chapter_begins_with_a_room_and_no_room_is_left_out() -> None:
    rooms = calculations(worked("garage")).rooms
    assert [r.chapter for r in rooms if r.chapter] == [chapter for chapter, _ in CHAPTERS]
    assert [r.key for r in rooms] == list(TITLES)


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
    for line in flat(book(worked(name))):
        named = [r.about for r in line.rows] if isinstance(line, Many) else [line.about]
        assert all(len(about) < LONGEST_NAME for about in named)


@pytest.mark.parametrize("name", NAMES)
def test_no_two_workings_of_one_formula_for_the_joists_bear_one_name_and_one_value(
    name: str,
) -> None:
    (joists,) = (r for r in book(worked(name)).rooms if r.key == "joists")
    for line in joists.lines:
        if isinstance(line, Many) and line.title in ("Stress over strength", "Bending stress"):
            named = [r.about for r in line.rows]
            assert all(named)
            assert len(named) == len(set(named))


def test_what_two_owners_share_bears_both_names_and_what_all_share_none() -> None:
    width = total("Width", "b", "m", [("b", 0.047)])
    felt = total("Mass", "m", "kg/m2", [("sample", 6.0)])
    before = total("Load", "q", "Pa", [("old felt", felt), ("joists", width)])
    night = total("Load at night", "q", "Pa", [("old felt", felt), ("sill", width)])
    after = total("Load after", "q", "Pa", [("sill", width), ("snow", 600.0)])
    said = whose([("before, bending", before), ("night, bending", night), ("after", after)])
    assert said[before] == "before, bending"
    assert said[felt] == "before and night, bending, old felt"
    assert said[width] == ""


def test_a_column_of_numbers_with_gaps_is_set_to_the_right() -> None:
    (joists,) = (r for r in book(worked("garage")).rooms if r.key == "joists")
    glance = next(x for x in joists.lines if isinstance(x, Grid))
    assert glance.right == (False, *[True] * 8)
    assert any("–" in row for row in glance.rows)

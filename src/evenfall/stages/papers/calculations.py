"""The calculation sheets as data: every Working and Table of every room, found by walking it.

The paper goes to building control and into the handover file. What the firm pays, adds and how
long its people take stays out: of the price only the selling side is shown, the task hours not at
all.
"""

from __future__ import annotations

import dataclasses
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date

from evenfall.model.designed import Combination, JoistCase, Joists, Seldom
from evenfall.model.priced import Price
from evenfall.model.words import pounds
from evenfall.stages.papers.grouped import grouped, renumbered
from evenfall.stages.papers.groups import net_of_groups
from evenfall.stages.papers.printed import Grid, Input, Line, Sum
from evenfall.stages.papers.symbols import minus, runs, unit
from evenfall.stages.papers.whose import field_words, whose
from evenfall.stages.papers.words import spoken
from evenfall.stages.papers.worked import WorkedRoof
from evenfall.working import Basis, Cited, Known, Measured, Table, Working, figure, weakest

MEGA = 1_000_000
STRESS = 100_000
"""Pascals from which a pressure is told as a stress, too: wind and snow stay far below."""

CHAPTERS: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = (
    ("The roof as it is and as it will stand", (
        ("plan", "Plan"),
        ("levels", "Levels of the old roof"),
        ("falls", "Falls"),
        ("ways", "Ways to make the fall"),
        ("heights", "Heights beside the roof"),
        ("windows", "Windows beside the roof"),
    )),
    ("Heat", (
        ("rise", "Thickness"),
        ("zones", "Thinner zones"),
        ("heat", "Heat through the roof"),
        ("edges", "Heat at the edges, and the coldest spots"),
    )),
    ("Moisture", (("moisture", "Moisture, month by month"), ("drying", "Drying"))),
    ("Wind", (("wind", "Wind and what holds it down"), ("fixings", "Screws, piece by piece"))),
    ("Structure", (("joists", "Joists: an aid, no structural design"),)),
    ("Rain", (("water", "Rain and the ways it leaves by"),)),
    ("Fire, planning, notices", (
        ("fire", "Fire from outside"),
        ("rules", "Planning, notices and the rules of the nation"),
    )),
    ("Quantities, days and price", (
        ("boards", "Boards"),
        ("sheet", "Rubber sheet"),
        ("rolls", "Vapour control layer"),
        ("lengths", "Timber, trims and gutter"),
        ("items", "Fixings, adhesives and sundries"),
        ("strip", "What comes off"),
        ("programme", "Days"),
        ("price", "Price"),
    )),
)  # fmt: skip
"""Chapters as an officer asks, and the rooms of each; tasks and options have nothing of their own.
"""
TITLES: dict[str, str] = {key: title for _, rooms in CHAPTERS for key, title in rooms}
"""Rooms in the order of the paper."""


PERCENT = 100
NOTHING = ("–", "-")  # stands where a row of numbers has none
BARE = frozenset({str, int, float, bool, type(None), date, Cited, Measured})
"""What holds no working."""


@dataclass(frozen=True, slots=True)
class Room:
    """One room of the worked job."""

    key: str
    number: int
    title: str
    lines: tuple[Line, ...]
    why_empty: str
    chapter: str = ""  # where one begins with it


@dataclass(frozen=True, slots=True)
class Book:
    """All that was walked: the rooms, and where each working stands."""

    rooms: tuple[Room, ...]
    numbers: dict[Working, str] = field(repr=False)
    leaves: tuple[tuple[str, Known, str], ...] = field(repr=False)  # symbol, number, where used
    formulas: tuple[tuple[Working, str], ...] = field(repr=False)


@dataclass(frozen=True, slots=True)
class Head:
    """Whose roof, who worked it, and when."""

    firm: str
    reference: str
    title: str
    client: str
    address: str
    surveyed_on: date
    on: date
    invented: bool


def walk(value: object, about: str = "") -> Iterator[tuple[str, Working | Table]]:
    """Find every Working and Table in a result, with the name of what it belongs to.

    Parameters
    ----------
    value : object
        A room's result, or any part of it [-].
    about : str
        Name of what is being looked into [-].

    Yields
    ------
    tuple of (str, Working or Table)
        In the order of the fields [-].

    Examples
    --------
    >>> from evenfall.working import total
    >>> [line.symbol for _, line in walk((total("Sum", "s", "m", []), "a word"))]
    ['s']
    """
    if isinstance(value, Working | Table):
        yield about, value
    elif isinstance(value, tuple):
        for part in value:
            if type(part) not in BARE:
                yield from walk(part, about)
    elif names := getattr(value, "__dataclass_fields__", None):
        own = _name(value) or about
        if isinstance(value, Combination):
            own = f"{about}, {value.says}"
        parts = [(n, p) for n in names if type(p := getattr(value, n)) not in BARE]
        titles = Counter(p.title for _, p in parts if isinstance(p, Working))
        for name, part in parts:
            alike = isinstance(part, Working) and titles[part.title] > 1
            told = field_words(value, name, alike)
            yield from walk(part, ", ".join(w for w in (own, told) if w))


def _name(value: object) -> str:
    if isinstance(value, Seldom):
        says = value.says.partition(" (")[0].removeprefix("water at ").removeprefix("a ")
        return says.replace("snow drifted against the", "drift at the")
    zone = getattr(value, "zone", None)
    if isinstance(zone, str):  # of the wind; a thinner zone on offer is no name
        return f"zone {zone}"
    id_, name = getattr(value, "id", ""), getattr(value, "name", "")
    kind, _, own = str(id_).partition(":")
    own = f"{kind} {own}" if own[:1].isdigit() else own  # screw:130
    return spoken((own or str(name)).replace(":", " "))


class _Walker:
    """Numbers workings in the order in which a reader needs them, each once."""

    def __init__(self) -> None:
        self.numbers: dict[Working, str] = {}
        self.bases: dict[int, Basis] = {}  # by the identity of a working that `numbers` keeps alive
        self.leaves: dict[tuple[str, str, float, str], tuple[str, Known, str]] = {}
        self.formulas: list[tuple[Working, str]] = []
        self.room, self.lines = 0, list[Line]()
        self.whose: dict[Working, str] = {}

    def enter(self, number: int, found: list[tuple[str, Working | Table]]) -> None:
        """Begin a room, and put down all that was found in it."""
        self.room, self.lines = number, []
        self.whose = whose((about, x) for about, x in found if isinstance(x, Working))
        for about, line in found:
            if isinstance(line, Table):
                self.lines.append(_grid(self._next(), about, line))
            elif line not in self.numbers:
                self._sum(line)

    def _next(self) -> str:
        return f"{self.room}.{len(self.lines) + 1}"

    def _sum(self, line: Working) -> None:
        for _, _, value in line.of:
            if isinstance(value, Working) and value not in self.numbers:
                self._sum(value)
        number = self._next()
        self.numbers[line] = number
        self.bases[id(line)] = basis = self._basis(line)
        self.formulas.append((line, number))
        inputs = tuple(self._input(s, u, v, number) for s, u, v in line.of)
        self.lines.append(_sum(number, self.whose[line], line, basis, inputs))

    def _basis(self, line: Working) -> Basis:
        """Give the weakest basis that went in; that of a working printed before is known."""
        found: list[Basis] = [line.own_basis]
        for _, _, value in line.of:
            if isinstance(value, Known):
                found.append(value.basis)
            elif isinstance(value, Working):
                found.append(self.bases.get(id(value)) or value.basis)
        return weakest(found)

    def _input(self, symbol: str, unit_: str, value: Known | Working | float, at: str) -> Input:
        shown = f"{minus(figure(float(value)))} {unit(unit_)}".strip()
        if isinstance(value, Working):
            return Input(runs(minus(symbol)), shown, "", "", self.numbers[value])
        if isinstance(value, Known):
            key = (value.source, value.where, value.value, value.unit)
            self.leaves.setdefault(key, (symbol, value, at))
            source = value.source if value.source != "job" else value.where
            return Input(runs(minus(symbol)), shown, source, value.basis, "")
        return Input(runs(minus(symbol)), shown, "", "", "")


def _sum(number: str, about: str, line: Working, basis: Basis, inputs: tuple[Input, ...]) -> Sum:
    result = f"{minus(figure(line.value))} {unit(line.unit)}".strip()
    if also := _also(line.value, line.unit):
        result = f"{result}, {also}"
    numbers = line.numbers if line.numbers not in (line.expression, figure(line.value)) else ""
    names = {symbol for symbol, _, _ in line.of}
    told = () if line.expression in names else runs(minus(line.expression))
    return Sum(
        number, about, line.title, runs(line.symbol), told, runs(minus(numbers)), result,
        line.source, basis, inputs,
    )  # fmt: skip


def _also(value: float, unit_: str) -> str:
    """Say a result once more in the unit that people of the trade read."""
    if unit_ == "pence":
        return pounds(value)
    if unit_ == "Pa" and abs(value) >= STRESS:
        return f"{minus(figure(value / MEGA))} N/mm²"
    return ""


def _grid(number: str, about: str, table: Table) -> Grid:
    columns = tuple(f"{n}, {unit(u)}" if unit(u) else n for n, u in table.columns)
    right = tuple(
        any(not isinstance(row[i], str) for row in table.rows)
        and all(not isinstance(row[i], str) or row[i] in NOTHING for row in table.rows)
        for i in range(len(columns))
    )
    rows = tuple(tuple(_cell(c) for c in row) for row in table.rows)
    return Grid(number, about, table.title, columns, right, rows, table.source, table.basis)


def _cell(cell: float | str) -> str:
    return cell if isinstance(cell, str) else minus(figure(float(cell)))


def book(worked: WorkedRoof) -> Book:
    """Walk all rooms and number what is found.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Book
        Rooms with their lines, numbered by room [-].
    """
    walker, found = _Walker(), []
    for number, key in enumerate(TITLES, 1):
        result = getattr(worked, key)
        walker.enter(number, list(_lines_of(worked, result)))
        found.append((number, grouped(walker.lines)))
    told, new = renumbered(found)
    rooms = tuple(
        Room(key, number, TITLES[key], tuple(_terse(x) for x in lines),
             getattr(getattr(worked, key), "why_empty", ""), _FIRST.get(key, ""))
        for (number, key), lines in zip(enumerate(TITLES, 1), told, strict=True)
    )  # fmt: skip
    return Book(
        rooms,
        {working: new[n] for working, n in walker.numbers.items()},
        tuple((symbol, known, new[at]) for symbol, known, at in walker.leaves.values()),
        tuple((working, new[n]) for working, n in walker.formulas),
    )


_FIRST = {rooms[0][0]: chapter for chapter, rooms in CHAPTERS}


def _lines_of(worked: WorkedRoof, result: object) -> Iterator[tuple[str, Working | Table]]:
    if isinstance(result, Price):
        yield from _selling(worked)
    elif isinstance(result, Joists):
        yield "", at_a_glance(result)
        yield from walk(result)
    else:
        yield from walk(result)


def at_a_glance(joists: Joists) -> Table:
    """Set the cases of the joists side by side.

    Parameters
    ----------
    joists : Joists
        The cases [-].

    Returns
    -------
    Table
        Shares of the strength used [%] and sags [mm].
    """
    columns = (("when", "-"), ("load", "N/m2"), ("k_mod", "-"), ("bending", "%"), ("shear", "%"),
               ("bearing", "%"), ("sag at once", "mm"), ("sag in the end", "mm"),
               ("allowed", "mm"))  # fmt: skip
    rows = tuple(row for case in joists.cases for row in _glances(case))
    seldom: tuple[tuple[float | str, ...], ...] = tuple(
        (s.says, round(s.deepest.value), "–",
         *(round(w.value * PERCENT) for w in (s.bending, s.shear, s.bearing)), *("–",) * 3)
        for s in joists.seldom
    )  # fmt: skip
    basis = weakest([c.bending.basis for c in joists.cases])
    return Table("Joists at a glance: share of the strength used", columns, rows + seldom,
                 "EN 1995-1-1", basis)  # fmt: skip


def _glances(case: JoistCase) -> Iterator[tuple[float | str, ...]]:
    """One row to a combination; the sags of one person stand beside its own."""
    even = (case.at_once, case.deflection)
    person = (case.person_at_once, case.person_deflection)
    for of in case.combinations:
        sags = {"all together": even, "one person": person}.get(of.says, (None, None))
        yield (
            f"{case.name}, {of.says}",
            round(case.load.value) if of.says == "all together" else "–", float(of.k_mod),
            *(round(w.value * PERCENT) for w in (of.bending, of.shear, of.bearing)),
            *("–" if sag is None else round(sag.value, 1) for sag in sags),
            round(case.limit_mm, 1),
        )  # fmt: skip


def _terse(line: Line) -> Line:
    """Leave out inputs without a source where the numbers stand in the expression already."""
    if isinstance(line, Sum) and line.numbers and not any(i.ref or i.source for i in line.inputs):
        return dataclasses.replace(line, inputs=())
    return line


def _selling(worked: WorkedRoof) -> Iterator[tuple[str, Working]]:
    """Show net, VAT, total and price a square metre from the groups of the quotation on."""
    price, net = worked.price, net_of_groups(worked)
    vat = _instead(price.vat, price.net, net)
    yield "", vat
    yield "", _instead(_instead(price.total, price.net, net), price.vat, vat)
    yield "", _instead(price.per_m2, price.net, net)


def _instead(line: Working, old: Working, new: Working) -> Working:
    """Put another working in the place of an input."""
    of = tuple((s, u, new if v == old else v) for s, u, v in line.of)
    return dataclasses.replace(line, of=of)


def flat(book_: Book, kinds: Iterable[str] = ("sum", "many", "grid")) -> Iterator[Line]:
    """Give all lines of all rooms.

    Parameters
    ----------
    book_ : Book
        What was walked [-].
    kinds : iterable of str
        Of ``sum``, ``many`` and ``grid`` [-].

    Yields
    ------
    Sum, Many or Grid
        In the order of the paper [-].
    """
    wanted = set(kinds)
    return (line for room in book_.rooms for line in room.lines if line.kind in wanted)

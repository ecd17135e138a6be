"""Workings of one formula told together: the formula once, then a row to each place."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from heapq import heappop, heappush

from evenfall.stages.papers.printed import Grid, Input, Line, Many, Row, Sum, numbers_of
from evenfall.stages.papers.symbols import Run
from evenfall.working import Basis, weakest

MOST_COLUMNS = 5  # inputs that differ from row to row; more do not fit beside a result
LEAST_ROWS = 2


@dataclass(frozen=True, slots=True)
class _Place:
    """A line with how many others stand above it in its room, one made of the other."""

    line: Line
    depth: int


def grouped(lines: Sequence[Line]) -> tuple[Line, ...]:
    """Tell the workings of one formula in one table, each line after what it is made of.

    Parameters
    ----------
    lines : sequence of Sum or Grid
        The lines of one room, each after what it is made of [-].

    Returns
    -------
    tuple of Sum, Many or Grid
        The same workings under the same numbers [-].
    """
    places = tuple(_depths(lines))
    keys = {n: _key(p) for p in places for n in numbers_of(p.line)}
    apart: set[object] = set()  # formulas whose workings are made of one another
    while True:
        order, stuck = _in_order(_units(places, apart))
        if not stuck:
            return order
        apart.add(keys[stuck[0].number])


def _units(places: Sequence[_Place], apart: set[object]) -> list[Line]:
    """Join what is alike; of the formulas in ``apart`` only what stands equally deep."""
    groups: dict[object, list[Line]] = {}
    for place in places:
        key = _key(place)
        groups.setdefault((key, place.depth) if key in apart else key, []).append(place.line)
    units: list[Line] = []
    for found in groups.values():
        sums = [x for x in found if isinstance(x, Sum)]
        if len(sums) >= LEAST_ROWS and _columns(sums) is not None:
            units.append(_many(sums))
        else:
            units += found
    return units


def _depths(lines: Sequence[Line]) -> Iterable[_Place]:
    depth: dict[str, int] = {}
    for line in lines:
        refs = [i.ref for i in line.inputs] if isinstance(line, Sum) else []
        deep = max((depth[r] + 1 for r in refs if r in depth), default=0)
        for number in numbers_of(line):
            depth[number] = deep
        yield _Place(line, deep)


def _key(place: _Place) -> object:
    line = place.line
    if not isinstance(line, Sum):
        return line.number
    symbols = tuple(i.symbol for i in line.inputs)
    return line.title, line.symbol, line.expression, line.source, symbols


def _columns(sums: Sequence[Sum]) -> tuple[int, ...] | None:
    """Find which inputs differ from row to row; None where they are too many for a table."""
    differ = tuple(
        n for n in range(len(sums[0].inputs))
        if len({(s.inputs[n].value, s.inputs[n].ref, s.inputs[n].source) for s in sums}) > 1
    )  # fmt: skip
    return differ if len(differ) <= MOST_COLUMNS else None


def _many(sums: Sequence[Sum]) -> Many:
    differ = _columns(sums) or ()
    first = sums[0]
    rows = tuple(
        Row(s.number, s.about, tuple(_cell(s.inputs[n]) for n in differ), s.result, s.basis)
        for s in sums
    )
    shared = tuple(i for n, i in enumerate(first.inputs) if n not in differ)
    basis: Basis = weakest([s.basis for s in sums])
    symbols: tuple[tuple[Run, ...], ...] = tuple(first.inputs[n].symbol for n in differ)
    return Many(first.number, first.title, first.symbol, first.expression, symbols, rows, shared,
                first.source, basis)  # fmt: skip


def _cell(given: Input) -> tuple[str, str]:
    """Give a value, and where it is from if that is another working."""
    return given.value, given.ref


def _in_order(units: Sequence[Line]) -> tuple[tuple[Line, ...], tuple[Many, ...]]:
    """Set units so that each stands after what it is made of; second the tables in a ring."""
    owner = {number: n for n, unit in enumerate(units) for number in numbers_of(unit)}
    left = {n: {owner[r] for r in _refs(unit) if r in owner} for n, unit in enumerate(units)}
    ready = [n for n, wait in left.items() if not wait]
    done: list[Line] = []
    while ready:
        n = heappop(ready)
        done.append(units[n])
        del left[n]
        for m, wait in left.items():
            if n in wait:
                wait.discard(n)
                if not wait:
                    heappush(ready, m)
    ring = [units[n] for n in sorted(left, key=lambda n: (n not in left[n], n))]
    return tuple(done), tuple(unit for unit in ring if isinstance(unit, Many))


def _refs(unit: Line) -> list[str]:
    if isinstance(unit, Sum):
        return [i.ref for i in unit.inputs if i.ref]
    if isinstance(unit, Many):
        own = [ref for row in unit.rows for _, ref in row.cells if ref]
        return own + [i.ref for i in unit.shared if i.ref]
    return []


def renumbered(
    rooms: Sequence[tuple[int, Sequence[Line]]],
) -> tuple[tuple[tuple[Line, ...], ...], Mapping[str, str]]:
    """Give lines and rows of every room their numbers from 1; references follow.

    Parameters
    ----------
    rooms : sequence of (int, sequence of Sum, Many or Grid)
        Number of each room, and its lines [-].

    Returns
    -------
    tuple of (tuple of tuple, mapping of str to str)
        The lines of each room, and the new number of each old one [-].
    """
    new: dict[str, str] = {}
    for room, lines in rooms:
        count = 0
        for line in lines:
            for number in numbers_of(line):
                count += 1
                new[number] = f"{room}.{count}"
    return tuple(tuple(_pointed(x, new) for x in lines) for _, lines in rooms), new


def _pointed(line: Line, new: Mapping[str, str]) -> Line:
    if isinstance(line, Grid):
        return replace(line, number=new[line.number])
    if isinstance(line, Sum):
        inputs = tuple(replace(i, ref=new.get(i.ref, i.ref)) for i in line.inputs)
        return replace(line, number=new[line.number], inputs=inputs)
    rows = tuple(
        replace(r, number=new[r.number], cells=tuple((v, new.get(ref, ref)) for v, ref in r.cells))
        for r in line.rows
    )
    shared = tuple(replace(i, ref=new.get(i.ref, i.ref)) for i in line.shared)
    return replace(line, number=rows[0].number, rows=rows, shared=shared)

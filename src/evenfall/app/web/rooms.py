"""Every room of a worked job as workings, facts and tables, whatever the room holds."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from evenfall.app.web.slips import Grid, Row, Slip, chain, grid, head, slip, told_of
from evenfall.app.web.words import heading, measure, number, unit
from evenfall.model.words import pounds
from evenfall.working import Known, Table, Working

TITLES = {
    "plan": "The plan from the tapes",
    "levels": "The old surface",
    "falls": "Falls",
    "zones": "Thinner zones",
    "heights": "Heights beside the roof",
    "windows": "Windows beside the roof",
    "rise": "The rise stick",
    "heat": "Heat",
    "edges": "Edges",
    "moisture": "Moisture, month by month",
    "drying": "Drying",
    "wind": "Wind",
    "joists": "Joists",
    "water": "Rain and the ways out",
    "fire": "Fire from outside",
    "rules": "Rules and notices",
    "boards": "Boards",
    "fixings": "Screws, piece by piece",
    "sheet": "Sheet",
    "rolls": "VCL",
    "lengths": "Trims and timber",
    "items": "Screws, tubes, litres",
    "strip": "What comes off",
    "tasks": "Work and hours",
    "programme": "Days and evenings",
}
"""The rooms that the desk shows, in the order of the work; the price is for the owner."""

_LEFT_OUT = {"findings", "changes", "order", "why_empty", "seen", "case"}
_SHAPES = {"ring", "hole", "deck", "fascia", "wall", "a", "b", "at", "centre", "outwards",
           "downhill", "towards", "night_line", "night_lines", "points", "places"}  # fmt: skip
_WATER = {"verdict", "without_vcl", "two_kelvin_colder"}
VERDICTS = {
    "a": "no water gathers",
    "b": "water gathers and dries",
    "c": "water gathers and stays",
}
"""What the letters of the moisture calculation mean."""
_WORDS = {True: "yes", False: "no", None: "none"}


@dataclass(frozen=True, slots=True)
class Room:
    """One room of the job, all that can be shown of it."""

    key: str = field(metadata={"help": "Name of the room in the flow."})
    title: str = field(metadata={"help": "Name of the room in words."})
    why_empty: str = field(metadata={"help": "Why there is nothing; else empty."})
    facts: tuple[Row, ...] = field(metadata={"help": "Single numbers and words."})
    workings: tuple[Slip, ...] = field(metadata={"help": "How its numbers came about."})
    grids: tuple[Grid, ...] = field(metadata={"help": "Its tables."})
    pictures: tuple[str, ...] = field(metadata={"help": "Its drawings as SVG; mostly none."})


def room(key: str, title: str, result: Any, pictures: tuple[str, ...] = ()) -> Room:
    """Show a room.

    Parameters
    ----------
    key, title : str
        Name of the room, in the flow and in words [-].
    result : dataclass
        What the room hands on [any].
    pictures : tuple of str
        Its sections, as SVG [-].

    Returns
    -------
    Room
        Everything that can be printed of it [-].

    Examples
    --------
    >>> from evenfall.model.designed import Drying
    >>> room("drying", "Drying", Drying(why_empty="All dry.")).why_empty
    'All dry.'
    """
    own = tuple(_fields(result))
    facts = [_fact(name, v) for name, v in own if _is_fact(v)]
    return Room(
        key,
        title,
        getattr(result, "why_empty", ""),
        tuple(f for f in facts if f.number),
        tuple(_unique(_slips(result))),
        tuple(_grids(result)),
        pictures,
    )


def _fields(value: Any) -> Iterator[tuple[str, Any]]:
    for f in dataclasses.fields(value):
        if f.name not in _LEFT_OUT | _SHAPES:
            yield f.name, getattr(value, f.name)


def _is_fact(value: Any) -> bool:
    return value is None or isinstance(value, Known | str | int | float | bool | date)


def _fact(name: str, value: Any) -> Row:
    words, said = heading(name)
    if name in _WATER:
        return Row(words, VERDICTS[value], "")
    if isinstance(value, Known):
        return Row(words, measure(value.value, value.unit), told_of(value))
    return Row(words, _printed(value, said), "")


def _printed(value: Any, said: str) -> str:
    if value is None or isinstance(value, bool):
        return _WORDS[value]
    if isinstance(value, date):
        return f"{value.day} {value:%b %Y}"
    if isinstance(value, str):
        return value
    if said.startswith("£"):
        return pounds(float(value)) + said.removeprefix("£")
    return f"{number(float(value))} {said}".rstrip()


def _slips(result: Any) -> Iterator[Slip]:
    """Yield each working of a room, and those inside it; one of many says of which."""
    for name, working in _workings(result):
        for part in chain(working):
            told = slip(part, rows=False)
            named = name and name not in told.title
            yield dataclasses.replace(told, title=f"{told.title}, {name}") if named else told


def _workings(value: Any, name: str = "") -> Iterator[tuple[str, Working]]:
    """Yield the workings of a room, its lists gone through in their order."""
    if isinstance(value, Working):
        yield name, value
    elif isinstance(value, tuple):
        for part in value:
            yield from _workings(part, _name_of(part) or name)
    elif dataclasses.is_dataclass(value) and not isinstance(value, Table):
        for f in dataclasses.fields(value):
            yield from _workings(getattr(value, f.name), name)


def _unique(slips: Iterator[Slip]) -> Iterator[Slip]:
    seen: set[tuple[str, str, str]] = set()
    for one in slips:
        told = (one.title, one.formula + one.numbers, one.answer)
        if told not in seen:
            seen.add(told)
            yield one


def _grids(value: Any, title: str = "") -> Iterator[Grid]:
    """Yield tables, and each list of like things as a table."""
    if isinstance(value, Table):
        yield grid(value)
    elif isinstance(value, tuple):
        for part in value:
            yield from _grids(part, _name_of(part))
    elif dataclasses.is_dataclass(value) and not isinstance(value, Working):
        for name, inner in _fields(value):
            if _is_list(inner):
                words = heading(name)[0].capitalize()
                yield from _listed(f"{words}: {title}" if title else words, inner)
            yield from _grids(inner)


def _is_list(value: Any) -> bool:
    return isinstance(value, tuple) and all(
        dataclasses.is_dataclass(v) and not isinstance(v, Working | Table) for v in value
    )


def _name_of(value: Any) -> str:
    return str(next((getattr(value, n) for n in ("says", "name", "id") if hasattr(value, n)), ""))


def _listed(title: str, things: tuple[Any, ...]) -> Iterator[Grid]:
    """Yield one table of like things, a column for each field that fits a cell."""
    if not things:
        return
    names = [name for name, _ in _fields(things[0]) if any(_fits(t, name) for t in things)]
    columns = [_column(things, name) for name in names]
    if columns:
        yield Grid(
            title,
            tuple(c[0] for c in columns),
            tuple(zip(*(c[1] for c in columns), strict=True)),
            tuple(c[2] for c in columns),
        )


def _fits(thing: Any, name: str) -> bool:
    value = getattr(thing, name)
    return _is_fact(value) or isinstance(value, Working) or _is_pairs(value)


def _is_pairs(value: Any) -> bool:
    """Tell whether a value is a short list such as the cuts of a bar."""
    return isinstance(value, tuple) and bool(value) and all(
        isinstance(v, tuple) and len(v) == 2 and isinstance(v[0], str) for v in value
    )  # fmt: skip


def _column(things: tuple[Any, ...], name: str) -> tuple[str, tuple[str, ...], bool]:
    values = [getattr(t, name) for t in things]
    words, said = heading(name)
    first = next((v for v in values if isinstance(v, Working | Known)), None)
    said = unit(first.unit) if first is not None else said
    if said.startswith("pence"):
        said = said.replace("pence", "£", 1)
    numeric = all(not isinstance(v, str | tuple | date) for v in values)
    return head(words, said), tuple(_short(v, said) for v in values), numeric


def _short(value: Any, said: str) -> str:
    """Print a cell without its unit, which stands in the head."""
    if _is_pairs(value):
        return "; ".join(f"{a} {number(b)}" for a, b in value)
    if isinstance(value, tuple | list):
        return ", ".join(_short(v, said) for v in value if _is_fact(v)) or "–"
    if isinstance(value, bool) or not isinstance(value, Working | float | int):
        return "–" if value is None else _printed(value, "")
    bare = float(value)
    return pounds(bare).replace("£", "") if said.startswith("£") else number(bare)

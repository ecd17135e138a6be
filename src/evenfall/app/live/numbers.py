"""Every number and word of a worked job by an id such as ``rise.chosen_mm`` or ``heat.u``.

An id is the room, then the fields; an entry of a list by its name, id, side or thickness:
``heights.items[back-door].margin``. Shapes (points, rings), tables and findings have no ids here.
"""

from __future__ import annotations

import dataclasses
import functools
import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from evenfall.app.web.words import heading, measure
from evenfall.model.change import steps
from evenfall.model.finding import Finding
from evenfall.model.words import short_day
from evenfall.working import Known, Table, Working

Plain = float | int | str | bool | None

NAMED_BY = ("id", "name", "side", "between", "number", "thickness_mm", "says")
"""Fields by which an entry of a list is named, the best first."""
DAY = "day"
"""What stands for the unit of a date."""
DEEPEST = 4
"""Steps of an id below its room."""
MOST = 120
"""Entries of a list that have ids; a longer one is drawn, not read."""
_NO_IDS = frozenset(
    {"findings", "table", "ring", "rings", "night_lines", "night_line", "basis", "source", "unit",
     "id", "name", "block"}
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Value:
    """One value as a program and as a person reads it."""

    value: Plain
    unit: str
    said: str = ""  # where it is told in words of its own

    @property
    def text(self) -> str:
        """The value as printed; made when it is asked for, since most values stay as they are."""
        value = self.value
        if self.said:
            return self.said
        if isinstance(value, bool):
            return "yes" if value else "no"
        if isinstance(value, str):
            return short_day(date.fromisoformat(value)) if self.unit == DAY else value
        return "" if value is None else measure(value, self.unit)


def values(room: str, answer: Any) -> dict[str, Value]:
    """List the values of a room.

    Parameters
    ----------
    room : str
        Its key [-].
    answer : object
        What it gave [-].

    Returns
    -------
    dict of str to Value
        By id, in the order of the room [-].

    Examples
    --------
    >>> from evenfall.working import Cited
    >>> values("heat", {"u": Cited(0.18, "W/(m2K)", "ISO 6946", "6.7", "published")})
    {'heat.u': Value(value=0.18, unit='W/(m2K)', said='')}
    """
    return dict(_walk(room, answer, "", 0))


def _walk(id_: str, found: Any, name: str, depth: int) -> Iterator[tuple[str, Value]]:
    if isinstance(found, Known | Working):
        yield id_, Value(float(found), found.unit)
    elif isinstance(found, bool | float | int | str | date):
        yield id_, _bare(found, name)
    elif found is None or depth > DEEPEST or isinstance(found, Table | Finding):
        return
    elif dataclasses.is_dataclass(found):
        kind: Any = type(found)
        for key in _fields(kind):
            yield from _walk(f"{id_}.{key}", getattr(found, key), key, depth + 1)
    elif isinstance(found, dict):
        for key, value in list(found.items())[:MOST]:
            yield from _walk(f"{id_}.{key}", value, str(key), depth + 1)
    elif isinstance(found, tuple) and len(found) <= MOST:
        for called, value in _entries(found):
            yield from _walk(f"{id_}[{called}]", value, name, depth + 1)


@functools.cache
def _fields(kind: Any) -> tuple[str, ...]:
    return tuple(f.name for f in dataclasses.fields(kind) if f.name not in _NO_IDS)


def _entries(found: tuple[Any, ...]) -> Iterator[tuple[str, Any]]:
    """Name the entries of a list of records; of a name twice the first has it."""
    told: set[str] = set()
    for entry in found:
        if not dataclasses.is_dataclass(entry) or isinstance(entry, Finding | Working | Table):
            continue
        called = next((str(v) for k in NAMED_BY if _names(v := getattr(entry, k, None))), "")
        if called and called not in told and not set(called) & set("[]."):
            told.add(called)
            yield called, entry


def _names(value: Any) -> bool:
    return isinstance(value, str | int) and not isinstance(value, bool) and value != ""


def _bare(value: Any, name: str) -> Value:
    if isinstance(value, bool | str):
        return Value(value, "")
    if isinstance(value, date):
        return Value(value.isoformat(), DAY)
    return Value(value, _unit(name))


@functools.cache
def _unit(name: str) -> str:
    """Read the unit from the name of a field: ``price_pence_m2`` is in pence a square metre."""
    if money := re.fullmatch(r"(?:.*_)?pence(?:_(\w+))?", name):
        return f"pence/{money[1]}" if money[1] else "pence"
    return heading(name)[1] or "-"


def find(worked: Any, id_: str) -> Any:
    """Find what an id names.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].
    id_ : str
        As `values` gives it [-].

    Returns
    -------
    object
        A Known, a Working, or a bare value [-].

    Raises
    ------
    KeyError
        There is nothing of that id.
    """
    found = worked
    for step in steps(id_):
        if isinstance(found, tuple):
            found = dict(_entries(found)).get(step)
        elif isinstance(found, dict):
            found = found.get(step)
        elif dataclasses.is_dataclass(found) and step in {
            f.name for f in dataclasses.fields(found)
        }:
            found = getattr(found, step)
        else:
            raise KeyError(id_)
        if found is None:
            raise KeyError(id_)
    return found

"""A working as a slip of paper: formula, numbers, source, basis; one slip lies on another."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from evenfall.app.web.words import measure, number, unit
from evenfall.working import Known, Table, Working

OWNER = frozenset({"net", "cost", "base", "overhead", "margin"})
"""Symbols of the price whose workings are for the owner only."""


@dataclass(frozen=True, slots=True)
class Row:
    """One number that went in."""

    name: str = field(metadata={"help": "Symbol or words, as in the formula."})
    number: str = field(metadata={"help": "Number with its unit."})
    told: str = field(metadata={"help": "Where it comes from, and how well it is known."})
    slip: Slip | None = field(default=None, metadata={"help": "Its own working, if it has one."})


@dataclass(frozen=True, slots=True)
class Slip:
    """One working, ready to print."""

    title: str = field(metadata={"help": "What the number is."})
    formula: str = field(metadata={"help": "Symbol and expression; empty where there is none."})
    numbers: str = field(metadata={"help": "The expression with its numbers."})
    answer: str = field(metadata={"help": "The number with its unit."})
    source: str = field(metadata={"help": "Document or practice of the formula."})
    basis: str = field(metadata={"help": "The weakest basis of all that went in."})
    rows: tuple[Row, ...] = field(default=(), metadata={"help": "What went in."})


@dataclass(frozen=True, slots=True)
class Grid:
    """A table of numbers and words."""

    title: str = field(metadata={"help": "What it shows."})
    columns: tuple[str, ...] = field(metadata={"help": "Heads, with their units."})
    rows: tuple[tuple[str, ...], ...] = field(metadata={"help": "Cells, as they are printed."})
    numeric: tuple[bool, ...] = field(metadata={"help": "Which columns are numbers."})
    source: str = field(default="", metadata={"help": "Document or practice."})
    basis: str = field(default="", metadata={"help": "How well it is known."})


def slip(working: Working, shut: frozenset[str] = frozenset(), *, rows: bool = True) -> Slip:
    """Write a working on a slip.

    Parameters
    ----------
    working : Working
        How a number came about [any].
    shut : frozenset of str
        Symbols whose own workings are not shown [-].
    rows : bool
        Whether what went in is listed as well [-].

    Returns
    -------
    Slip
        The slip, with a slip for each working inside it [-].

    Examples
    --------
    >>> from evenfall.working import measured, total
    >>> one = slip(total("Rise", "b", "mm", [("board", measured(120, "mm", "design.thickness"))]))
    >>> one.formula, one.answer, one.rows[0].told
    ('b = board', '120 mm', 'design.thickness in the job file · measured')
    """
    money = working.unit.startswith("pence")
    expression = working.expression
    return Slip(
        working.title,
        f"{working.symbol} = {expression}" if expression else "",
        f"= {working.numbers}".replace("-", "−") if expression and not money else "",
        measure(working.value, working.unit),
        working.source,
        working.basis,
        tuple(_row(name, code, value, shut) for name, code, value in working.of if rows),
    )


def _row(name: str, code: str, value: Known | Working | float, shut: frozenset[str]) -> Row:
    if isinstance(value, Working):
        open_ = value.symbol not in shut and bool(value.of)
        told = f"{value.title} · {value.basis}"
        inner = slip(value, shut) if open_ else None
        return Row(name, measure(value.value, value.unit), told, inner)
    if isinstance(value, Known):
        return Row(name, measure(value.value, value.unit), told_of(value))
    return Row(name, measure(value, code), "")


def told_of(known: Known) -> str:
    """Say where a number comes from.

    Parameters
    ----------
    known : Known
        A number from a document or from the job [any].

    Returns
    -------
    str
        Source, place and basis [-].
    """
    if known.source == "job":
        place = known.where if " " in known.where else f"{known.where} in the job file"
        return f"{place} · {known.basis}"
    place = f"{known.source}, {known.where}" if known.where else known.source
    return f"{place} · {known.basis}"


def chain(working: Working) -> Iterator[Working]:
    """Yield a working and all that went into it, each once, the last step first.

    Parameters
    ----------
    working : Working
        A number [any].

    Yields
    ------
    Working
        The workings [any].
    """
    yield working
    for _, _, value in working.of:
        if isinstance(value, Working):
            yield from chain(value)


def grid(table: Table) -> Grid:
    """Write a table of the job.

    Parameters
    ----------
    table : Table
        The table [any].

    Returns
    -------
    Grid
        The same as printed texts [-].
    """
    return Grid(
        table.title,
        tuple(head(name, unit(code)) for name, code in table.columns),
        tuple(tuple(_cell(cell) for cell in row) for row in table.rows),
        tuple(_numeric(row[i] for row in table.rows) for i in range(len(table.columns))),
        table.source,
        table.basis,
    )


def head(name: str, said: str) -> str:
    """Write the head of a column.

    Parameters
    ----------
    name, said : str
        Words and unit [-].

    Returns
    -------
    str
        Both, or the words alone [-].

    Examples
    --------
    >>> head("length", "m"), head("side", "")
    ('length, m', 'side')
    """
    return f"{name}, {said}" if said else name


def _cell(cell: float | str) -> str:
    return cell if isinstance(cell, str) else number(float(cell))


def _numeric(cells: Iterator[float | str]) -> bool:
    return all(not isinstance(cell, str) for cell in cells)

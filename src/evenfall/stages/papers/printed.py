"""Workings and tables as they are printed on the calculation sheets."""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.stages.papers.symbols import Run
from evenfall.working import Basis


@dataclass(frozen=True, slots=True)
class Input:
    """A number that went into a working; ``ref`` is the working it came from."""

    symbol: tuple[Run, ...]
    value: str
    source: str
    basis: str
    ref: str


@dataclass(frozen=True, slots=True)
class Sum:
    """One working."""

    number: str
    about: str
    title: str
    symbol: tuple[Run, ...]
    expression: tuple[Run, ...]
    numbers: tuple[Run, ...]
    result: str
    source: str
    basis: Basis
    inputs: tuple[Input, ...]
    kind: str = "sum"


@dataclass(frozen=True, slots=True)
class Row:
    """One of several workings of a formula: values with the working each is from."""

    number: str
    about: str
    cells: tuple[tuple[str, str], ...]
    result: str
    basis: str


@dataclass(frozen=True, slots=True)
class Many:
    """Several workings of one formula; ``shared`` are the inputs that are the same in all."""

    number: str  # of its first row
    title: str
    symbol: tuple[Run, ...]
    expression: tuple[Run, ...]
    columns: tuple[tuple[Run, ...], ...]
    rows: tuple[Row, ...]
    shared: tuple[Input, ...]
    source: str
    basis: Basis
    kind: str = "many"


@dataclass(frozen=True, slots=True)
class Grid:
    """One table."""

    number: str
    about: str
    title: str
    columns: tuple[str, ...]
    right: tuple[bool, ...]
    rows: tuple[tuple[str, ...], ...]
    source: str
    basis: str
    kind: str = "grid"


Line = Sum | Many | Grid


def numbers_of(line: Line) -> tuple[str, ...]:
    """Give the numbers under which a line can be referred to.

    Parameters
    ----------
    line : Sum, Many or Grid
        The line [-].

    Returns
    -------
    tuple of str
        One, or one to each row [-].
    """
    return tuple(r.number for r in line.rows) if isinstance(line, Many) else (line.number,)

"""A workbook read as rates, with every mistake told by its sheet and cell."""

from __future__ import annotations

import io
from collections.abc import Iterator
from datetime import datetime
from typing import Any

from evenfall.app.price_book.as_xlsx import BETWEEN, LINES
from evenfall.app.price_book.shape import OWNER, SheetShape, is_list, shapes
from evenfall.app.yaml_core import Document, Path, plain
from evenfall.errors import InvalidFile, Mistake

LARGEST = 5_000_000
"""Bytes of a workbook."""
MOST_ROWS = 5000


def document_of(raw: bytes, file_name: str) -> Document:
    """Read a workbook into plain data, with row and column of each value.

    Parameters
    ----------
    raw : bytes
        The workbook [-].
    file_name : str
        Its name, for the mistakes [-].

    Returns
    -------
    Document
        Data in the shape of the YAML file; places are rows and columns [-].

    Raises
    ------
    InvalidFile
        It is no workbook, or one of its sheets is none of the price book.
    """
    book = open_book(raw, file_name)
    known = {s.name: s for s in shapes()}
    document = Document(data={"format": 1})
    strange = [n for n in book.sheetnames if n not in known]
    if strange:
        words = ", ".join(known)
        raise InvalidFile(file_name, tuple(
            Mistake(1, 1, n, f'a sheet "{n}"', f"only sheets of the price book: {words}")
            for n in strange
        ))  # fmt: skip
    for name in sorted(book.sheetnames, key=lambda n: list(known).index(n)):
        rows = [tuple(r) for r in book[name].iter_rows(max_row=MOST_ROWS, values_only=True)]
        _taken(document, known[name], rows, file_name)
    return document


def open_book(raw: bytes, file_name: str) -> Any:
    """Open a workbook.

    Parameters
    ----------
    raw : bytes
        The file [-].
    file_name : str
        Its name, for the mistake [-].

    Returns
    -------
    Workbook
        Values, not formulas [-].

    Raises
    ------
    InvalidFile
        It is no workbook, or too large.
    """
    import zipfile

    import openpyxl

    if len(raw) > LARGEST:
        mistake = Mistake(1, 1, "", f"more than {LARGEST:,} bytes", "a workbook of prices")
        raise InvalidFile(file_name, (mistake,))
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as packed:
            whole = sum(i.file_size for i in packed.infolist())
        if whole > 20 * LARGEST:
            raise ValueError("it unpacks to too much")
        return openpyxl.load_workbook(io.BytesIO(raw), data_only=True, read_only=True)
    except (zipfile.BadZipFile, ValueError, KeyError, OSError, TypeError, EOFError) as error:
        mistake = Mistake(1, 1, "", "no workbook", "an XLSX file", do="save it as XLSX")
        raise InvalidFile(file_name, (mistake,)) from error


def _taken(
    document: Document, shape: SheetShape, rows: list[tuple[Any, ...]], file_name: str
) -> None:
    if shape.kind == "one":
        for row, cells in enumerate(rows[1:], 2):
            if cells and cells[0] is not None:
                key = str(cells[0])
                value = cells[1] if len(cells) > 1 else None
                _put(document, (shape.name, *key.split(".")), value, (row, 2), _lists(shape, key))
        return
    heads = [str(h) if h is not None else "" for h in (rows[0] if rows else ())]
    table, _, inner = shape.name.partition(".")
    if shape.kind == "many":
        document.data[table] = []
    for row, cells in enumerate(rows[1:], 2):
        if all(c is None for c in cells):
            continue
        named = dict(zip(heads, cells, strict=False))
        path = _entry(document, shape, table, inner, named, row, file_name)
        document.values[path] = (row, 1)
        for column, head in enumerate(heads, 1):
            if head and head != OWNER:
                at = (*path, *head.split("."))
                _put(document, at, named[head], (row, column), _lists(shape, head))


def _lists(shape: SheetShape, key: str) -> bool:
    field = shape.model.model_fields.get(key)
    return field is not None and is_list(field.annotation)


def _entry(
    document: Document, shape: SheetShape, table: str, inner: str, named: dict[str, Any],
    row: int, file_name: str,
) -> Path:  # fmt: skip
    """Make room for a new entry, and say where."""
    if shape.kind == "many":
        document.data[table].append({})
        return (table, len(document.data[table]) - 1)
    owner = named.get(OWNER)
    holder = document.data.get(table)
    if isinstance(holder, list):
        place = next((i for i, e in enumerate(holder) if e.get("name") == owner), None)
        if place is None:
            found = f'"{owner}"' if owner else "nothing"
            mistake = Mistake(row, 1, f"{shape.name}.{OWNER}", found,
                              f"a name of the sheet {table}")  # fmt: skip
            raise InvalidFile(file_name, (mistake,))
        holder[place].setdefault(inner, []).append({})
        return (table, place, inner, len(holder[place][inner]) - 1)
    if holder is None:
        holder = document.data.setdefault(table, {})
    holder.setdefault(inner, []).append({})
    return (table, inner, len(holder[inner]) - 1)


def _put(document: Document, path: Path, value: Any, place: tuple[int, int], listed: bool) -> None:
    if value is None:
        return
    data: Any = document.data
    for step in path[:-1]:
        data = data.setdefault(step, {}) if isinstance(data, dict) else data[step]
    data[path[-1]] = told = _plain(value, listed)
    document.values[path] = place
    document.written[path] = str(value)
    if isinstance(told, list):
        for i in range(len(told)):
            document.values[(*path, i)] = place


def _plain(value: Any, listed: bool) -> Any:
    """Turn a cell into what YAML would have given."""
    if listed:
        return list(_listed(value))
    if isinstance(value, datetime):
        return value.date().isoformat()
    if isinstance(value, float) and value.is_integer():
        return int(value)
    return value


def _listed(value: Any) -> Iterator[Any]:
    """Part a cell: numbers at semicolons, sentences at the ends of lines."""
    if not isinstance(value, str):
        yield _plain(value, listed=False)
        return
    numbers = [plain(part.strip()) for part in value.split(BETWEEN.strip()) if part.strip()]
    if all(isinstance(n, int | float) for n in numbers):
        yield from numbers
    else:
        yield from (line.strip() for line in value.split(LINES) if line.strip())

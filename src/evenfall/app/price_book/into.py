"""New prices written into the firm's own file: only the prices and their dates are touched."""

from __future__ import annotations

import io
from collections.abc import Iterable
from datetime import date, datetime
from pathlib import Path as FilePath
from typing import Any

from evenfall.app.price_book.compare import Changed
from evenfall.app.price_book.reading import read_rates
from evenfall.app.reading import Read, read_model
from evenfall.app.yaml_core import Path
from evenfall.errors import InvalidInput
from evenfall.model.rates import Rates

DATED = "priced_on"


def written(path: FilePath, changed: Iterable[Changed], on: date) -> bytes:
    """Give the file with its new prices; comments and order stay as they are.

    Parameters
    ----------
    path : Path
        The price book, YAML or XLSX [-].
    changed : iterable of Changed
        New prices [pence].
    on : date
        Their date [-].

    Returns
    -------
    bytes
        The whole new file; it reads back as the old one with these prices [-].

    Raises
    ------
    InvalidInput
        The file is JSON, or cannot be changed in place.
    """
    read, changes = read_rates(path), tuple(changed)
    if path.suffix.lower() == ".xlsx":
        return _in_workbook(path, read, changes, on)
    text = path.read_text(encoding="utf-8-sig")
    if text.lstrip().startswith("{"):
        raise InvalidInput("a JSON file", "prices in YAML or XLSX", where=str(path))
    new = _in_text(text, read, changes, on)
    wanted = _wanted(read.value, changes, on)
    if read_model(new, str(path), Rates) != wanted:
        raise InvalidInput("prices that are not where they seemed", "plain key: value lines",
                           where=str(path), do="change them by hand")  # fmt: skip
    return new.encode()


def _wanted(rates: Rates, changes: tuple[Changed, ...], on: date) -> Rates:
    data: Any = rates.model_dump()
    for one in changes:
        table: Any = data
        for step in one.entry.path[:-1]:
            table = table[step]
        table[one.entry.path[-1]] = one.pence
        table[DATED] = on
    return Rates.model_validate(data)


def _in_text(text: str, read: Read[Rates], changes: tuple[Changed, ...], on: date) -> str:
    """Replace the prices from the last to the first, so that no place moves before its turn."""
    lines = text.splitlines(keepends=True)
    document = read.document
    edits: list[tuple[tuple[int, int], Path, str]] = []
    for one in changes:
        path, dated = one.entry.path, (*one.entry.path[:-1], DATED)
        edits.append((document.values[path], path, str(one.pence)))
        if dated in document.values:
            edits.append((document.values[dated], dated, on.isoformat()))
        else:
            edits.append((document.values[path], dated, on.isoformat()))
    for (line, column), path, new in sorted(edits, key=lambda e: (e[0], len(e[1]), e[1][-1]),
                                            reverse=True):  # fmt: skip
        if path in document.values:
            old = document.written[path]
            row = lines[line - 1]
            lines[line - 1] = row[: column - 1] + new + row[column - 1 + len(old) :]
        else:
            _dated(lines, read, path, (line, column), new)
    return "".join(lines)


def _dated(
    lines: list[str], read: Read[Rates], path: Path, place: tuple[int, int], on: str
) -> None:
    """Write a date behind a price that had none: in its braces, or on a line of its own."""
    line, column = place
    price = next(p for p, at in read.document.values.items() if at == place and p[:-1] == path[:-1])
    end = column - 1 + len(read.document.written[price])
    row = lines[line - 1]
    key = read.document.keys[price][1] - 1
    if "{" in row[:key] or "," in row[:key]:
        lines[line - 1] = f"{row[:end]}, {DATED}: {on}{row[end:]}"
    else:
        newline = "" if row.endswith("\n") else "\n"
        lines[line - 1] = f"{row}{newline}{' ' * key}{DATED}: {on}\n"


def _in_workbook(
    path: FilePath, read: Read[Rates], changes: tuple[Changed, ...], on: date
) -> bytes:
    import openpyxl

    book = openpyxl.load_workbook(path)
    for one in changes:
        steps = one.entry.path
        sheet = book[".".join(str(s) for s in steps[:-1] if isinstance(s, str))]
        row, column = read.document.values[steps]
        if sheet.title == "screw":
            sheet.cell(row, 2, one.pence)
            _key_row(sheet, on)
            continue
        sheet.cell(row, column, one.pence)
        heads = [c.value for c in sheet[1]]
        if DATED not in heads:
            heads.append(DATED)
            sheet.cell(1, len(heads), DATED)
        sheet.cell(row, heads.index(DATED) + 1, datetime(on.year, on.month, on.day))
    target = io.BytesIO()
    book.save(target)
    return target.getvalue()


def _key_row(sheet: Any, on: date) -> None:
    rows = {str(c.value): c.row for c in sheet["A"]}
    row = rows.get(DATED, sheet.max_row + 1)
    sheet.cell(row, 1, DATED)
    sheet.cell(row, 2, datetime(on.year, on.month, on.day))

"""The rates as a workbook: one sheet to a table, in the shape of the YAML file."""

from __future__ import annotations

import io
from collections.abc import Iterator
from datetime import date, datetime
from typing import Any

import xlsxwriter
from pydantic import BaseModel

from evenfall.app.price_book.shape import OWNER, SheetShape, shapes
from evenfall.model.rates import Rates

BETWEEN, LINES = "; ", "\n"
"""Between the numbers of a list in one cell, and between its sentences."""
WIDE, NARROW = 46, 16
LONG = 20  # letters that make a column wide


def to_xlsx(rates: Rates) -> bytes:
    """Write rates as a workbook that reads back as the same rates.

    Parameters
    ----------
    rates : Rates
        The rates [-].

    Returns
    -------
    bytes
        The workbook; the same for the same rates [-].
    """
    target = io.BytesIO()
    book = xlsxwriter.Workbook(target, {"in_memory": True, "strings_to_formulas": False,
                                        "strings_to_numbers": False})  # fmt: skip
    on = rates.rates.priced_on
    book.set_properties({"title": rates.rates.name, "author": rates.firm.name,
                         "created": datetime(on.year, on.month, on.day)})  # fmt: skip
    for shape in shapes():
        _sheet(book, shape, rates)
    book.close()
    return target.getvalue()


def _sheet(book: Any, shape: SheetShape, rates: Rates) -> None:
    sheet = book.add_worksheet(shape.name)
    head = book.add_format({"bold": True, "bottom": 1})
    days = book.add_format({"num_format": "yyyy-mm-dd", "align": "left"})
    if shape.kind == "one":
        table = getattr(rates, shape.name)
        rows: list[tuple[Any, ...]] = [(key, _value(table, key)) for key in shape.columns]
        heads: tuple[str, ...] = ("key", "value")
    else:
        heads = (*((OWNER,) if shape.kind == "inner" else ()), *shape.columns)
        rows = list(_rows(shape, rates))
    for column, name in enumerate(heads):
        sheet.write_string(0, column, name, head)
        longest = max((len(str(r[column])) for r in rows), default=0)
        sheet.set_column(column, column, WIDE if longest > LONG else NARROW)
    for row, cells in enumerate(rows, 1):
        for column, cell in enumerate(cells):
            _cell(sheet, row, column, cell, days)
    sheet.freeze_panes(1, 0)


def _rows(shape: SheetShape, rates: Rates) -> Iterator[tuple[Any, ...]]:
    table, _, key = shape.name.partition(".")
    entries = getattr(rates, table)
    if shape.kind == "many":
        yield from (tuple(_value(e, c) for c in shape.columns) for e in entries)
        return
    owners: tuple[BaseModel, ...] = entries if isinstance(entries, tuple) else (entries,)
    for owner in owners:
        for entry in getattr(owner, key):
            name = getattr(owner, "name", table)
            yield (name, *(_value(entry, c) for c in shape.columns))


def _value(entry: Any, column: str) -> Any:
    for key in column.split("."):
        entry = None if entry is None else getattr(entry, key)
    return entry


def _cell(sheet: Any, row: int, column: int, cell: Any, days: Any) -> None:
    if cell is None:
        return
    if isinstance(cell, bool):
        sheet.write_boolean(row, column, cell)
    elif isinstance(cell, int | float):
        sheet.write_number(row, column, cell)
    elif isinstance(cell, date):
        sheet.write_datetime(row, column, datetime(cell.year, cell.month, cell.day), days)
    elif isinstance(cell, tuple):
        told = [f"{v:.10g}" if isinstance(v, float) else str(v) for v in cell]
        words = any(isinstance(v, str) for v in cell)
        sheet.write_string(row, column, (LINES if words else BETWEEN).join(told))
    else:
        sheet.write_string(row, column, cell)

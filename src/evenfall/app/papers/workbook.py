"""The order as a workbook: a sheet for each counter, for the saw and for lifting; no prices."""

from __future__ import annotations

import io
from collections.abc import Sequence
from datetime import datetime
from typing import Any

import xlsxwriter

from evenfall.flow import PAPERS, WorkedJob

HEADS = ("id", "what", "need", "unit", "packs", "bought", "left over", "mass, kg", "note", "basis")
WIDTHS = (26, 46, 10, 7, 34, 10, 10, 10, 44, 18)
RIGHT = ("need", "bought", "left over", "mass, kg", "left over, mm")
LOAD_HEADS = ("counter", "mass, kg", "lines", "weight not told")
LOAD_WIDTHS = (34, 10, 8, 70)
LIFT_HEADS = ("what", "mass, kg", "size", "who lifts it")
LIFT_WIDTHS = (46, 10, 26, 80)
CUT_HEADS = ("what", "stock", "sawn from it, in order", "left over, mm")
CUT_WIDTHS = (40, 12, 80, 24)
FACE = {"font_name": "Arial", "font_size": 10, "valign": "top"}
LONGEST_NAME = 31
"""Letters that the name of a sheet may have."""


def order_xlsx(worked: WorkedJob) -> bytes:
    """Write the order.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].

    Returns
    -------
    bytes
        The workbook; the same for the same job [-].
    """
    order, meta = PAPERS["order"](worked), worked.meta
    target = io.BytesIO()
    book = xlsxwriter.Workbook(target, {"in_memory": True, "strings_to_formulas": False})
    book.set_properties({
        "title": f"Order for {meta.title}", "author": meta.firm, "subject": meta.reference,
        "created": datetime(meta.on.year, meta.on.month, meta.on.day),
    })  # fmt: skip
    told = f"{meta.firm}: order for {meta.reference}, {meta.title}, {meta.address}"
    for counter in order.counters:
        rows = [(x.id, x.what, x.need, x.unit, x.packs, x.bought, x.left,
                 "" if x.mass_kg is None else x.mass_kg, x.note, x.basis)
                for x in counter.lines]  # fmt: skip
        _sheet(book, counter.name, told, HEADS, WIDTHS, rows)
    loads = [(c.name, c.mass_kg, len(c.lines), ", ".join(c.unweighed) or "-")
             for c in order.counters]  # fmt: skip
    _sheet(book, "Deliveries", told, LOAD_HEADS, LOAD_WIDTHS, loads)
    if order.cuts:
        cuts = [(c.what, c.stock, c.pieces, c.left) for c in order.cuts]
        _sheet(book, "Saw list", told, CUT_HEADS, CUT_WIDTHS, cuts)
    if order.lifts:
        lifts = [(x.what, x.mass_kg, x.size, x.says) for x in order.lifts]
        _sheet(book, "Lifting", told, LIFT_HEADS, LIFT_WIDTHS, lifts)
    book.close()
    return target.getvalue()


def _sheet(
    book: Any, name: str, told: str, heads: Sequence[str], widths: Sequence[int],
    rows: Sequence[tuple[Any, ...]],
) -> None:  # fmt: skip
    """Write one sheet: whose order, the heads over a line, then the rows."""
    sheet = book.add_worksheet(name[:LONGEST_NAME])
    plain = book.add_format({**FACE, "text_wrap": True})
    whole = book.add_format({**FACE, "num_format": "#,##0", "align": "right"})
    broken = book.add_format({**FACE, "num_format": "#,##0.00", "align": "right"})
    left = book.add_format({**FACE, "bold": True, "bottom": 1})
    right = book.add_format({**FACE, "bold": True, "bottom": 1, "align": "right"})
    sheet.write_string(0, 0, told, book.add_format({**FACE, "bold": True}))
    for column, (head, width) in enumerate(zip(heads, widths, strict=True)):
        sheet.set_column(column, column, width)
        sheet.write_string(2, column, head, right if head in RIGHT else left)
    for row, cells in enumerate(rows, 3):
        for column, cell in enumerate(cells):
            if isinstance(cell, str):
                sheet.write_string(row, column, cell, plain)
            else:
                is_whole = float(cell).is_integer()
                sheet.write_number(row, column, cell, whole if is_whole else broken)
    sheet.freeze_panes(3, 0)
    sheet.set_landscape()
    sheet.set_paper(9)  # A4
    sheet.fit_to_pages(1, 0)
    sheet.repeat_rows(2)
    sheet.set_footer("&L&A&R&P of &N")

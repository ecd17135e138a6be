"""The order as a workbook: a sheet for each counter, for the saw and for lifting; no prices."""

from __future__ import annotations

import io
from datetime import datetime

import xlsxwriter

from evenfall.app.papers.workbook_sheet import write_sheet
from evenfall.flow import PAPERS, WorkedJob

HEADS = ("id", "what", "need", "unit", "packs", "bought", "left over", "mass, kg", "note", "basis")
WIDTHS = (24, 38, 9, 6, 28, 9, 9, 9, 44, 12)
LOAD_HEADS = ("counter", "mass, kg", "lines", "weight not told")
LOAD_WIDTHS = (34, 10, 8, 70)
LIFT_HEADS = ("what", "mass, kg", "size", "who lifts it")
LIFT_WIDTHS = (46, 10, 26, 80)
CUT_HEADS = ("what", "stock", "sawn from it, in order", "left over, mm")
CUT_WIDTHS = (40, 12, 80, 24)


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
        write_sheet(book, counter.name, told, HEADS, WIDTHS, rows)
    loads = [(c.name, c.mass_kg, len(c.lines), ", ".join(c.unweighed) or "-")
             for c in order.counters]  # fmt: skip
    write_sheet(book, "Deliveries", told, LOAD_HEADS, LOAD_WIDTHS, loads)
    if order.cuts:
        cuts = [(c.what, c.stock, c.pieces, c.left) for c in order.cuts]
        write_sheet(book, "Saw list", told, CUT_HEADS, CUT_WIDTHS, cuts)
    if order.lifts:
        lifts = [(x.what, x.mass_kg, x.size, x.says) for x in order.lifts]
        write_sheet(book, "Lifting", told, LIFT_HEADS, LIFT_WIDTHS, lifts)
    book.close()
    return target.getvalue()

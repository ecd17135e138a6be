"""For the owner only: every line of the price with its workings, and the prices it was made with.

These lie in a folder of their own, so that nobody sends them to a client by mistake.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from datetime import datetime
from typing import Any

import xlsxwriter

from evenfall.app.papers.workbook_sheet import FACE, PENCE, POUNDS, Cells, write_sheet
from evenfall.app.price_book.as_yaml import to_yaml
from evenfall.flow import WorkedJob
from evenfall.working import Working

FOLDER = "owner-only"
KEPT = f"{FOLDER}/rates-*.yaml"
"""Prices of old quotations: they stay where new papers are written."""
FOOTER = "&L&A, for the owner only&R&P of &N"


def owner_files(worked: WorkedJob) -> dict[str, bytes]:
    """Write what only the owner sees.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].

    Returns
    -------
    dict of str to bytes
        The price as a workbook, and the price book under its mark [-].
    """
    return {
        f"{FOLDER}/price.xlsx": price_xlsx(worked),
        f"{FOLDER}/rates-{worked.price.mark}.yaml": to_yaml(worked.case.rates).encode(),
    }


def price_xlsx(worked: WorkedJob) -> bytes:
    """Write the price with everything behind it.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].

    Returns
    -------
    bytes
        The workbook; the same for the same job [-].
    """
    target = io.BytesIO()
    book = xlsxwriter.Workbook(target, {"in_memory": True, "strings_to_formulas": False})
    meta = worked.meta
    book.set_properties({
        "title": f"Price of {meta.title}, for the owner only", "author": meta.firm,
        "subject": meta.reference, "created": datetime(meta.on.year, meta.on.month, meta.on.day),
    })  # fmt: skip
    told = f"For the owner only. {meta.firm}: price of {meta.reference}, {meta.title}"
    _lines(book, told, worked)
    _before(book, told, worked)
    _hours(book, told, worked)
    _mishaps(book, told, worked)
    write_sheet(book, "Workings", told, ("what", "symbol", "expression", "numbers", "value", "unit",
           "basis"), (44, 12, 40, 50, 14, 9, 18), list(_workings(worked)), FOOTER)  # fmt: skip
    book.close()
    return target.getvalue()


def _lines(book: Any, told: str, worked: WorkedJob) -> None:
    price = worked.price
    rows: list[Cells] = [
        (x.block, x.id, x.says, x.quantity.value, x.unit, (x.rate_pence,), (x.pence,),
         "; ".join(f"{n} × {says}, {each / PENCE:,.2f} each" for n, says, each in x.packs),
         x.priced_on.isoformat() if x.priced_on else "", x.basis)
        for x in price.lines
    ]  # fmt: skip
    heads = ("block", "id", "what", "quantity", "unit", "rate, £", "cost, £", "packs",
             "priced on", "basis")  # fmt: skip
    sheet = write_sheet(
        book, "Price", told, heads, (10, 24, 42, 10, 7, 11, 12, 36, 11, 8), rows, FOOTER
    )
    bold = book.add_format({**FACE, "bold": True})
    money = book.add_format({**FACE, **POUNDS, "bold": True})
    first, last = 4, 3 + len(rows)
    sums = [
        ("Cost: the sum of the lines", f"=SUM(G{first}:G{last})", price.cost),
        ("Overhead", f"=ROUND(G{last + 2}*{worked.case.rates.terms.overhead_percent}/100,2)",
         price.overhead),
        ("Margin", None, price.margin),
        ("Price without VAT", None, price.net),
        (f"VAT {price.vat_percent:g} %", None, price.vat),
        ("Price with VAT", f"=G{last + 5}+G{last + 6}", price.total),
    ]  # fmt: skip
    for row, (says, formula, value) in enumerate(sums, last + 1):
        sheet.write_string(row, 2, says, bold)
        amount = value.value / PENCE
        if formula is None:
            sheet.write_number(row, 6, amount, money)
        else:
            sheet.write_formula(row, 6, formula, money, amount)
    sheet.write_string(last + 8, 2, f"Prices of {price.prices_on.isoformat()}, mark {price.mark}: "
                       f"kept in rates-{price.mark}.yaml", bold)  # fmt: skip


def _before(book: Any, told: str, worked: WorkedJob) -> None:
    """List what the firm itself has to settle before the quotation goes out."""
    rows: list[Cells] = [
        (f.level, f.says, f.remedy.says if f.remedy else "", f.source, f.basis)
        for f in worked.findings if f.subject == "price" and f.level != "fine"
    ] or [("", "Nothing.", "", "", "")]  # fmt: skip
    write_sheet(book, "Before it goes out", told, ("level", "what", "what to do", "source",
                "basis"), (9, 60, 50, 30, 20), rows, FOOTER)  # fmt: skip


def _hours(book: Any, told: str, worked: WorkedJob) -> None:
    """List the hours by task, low, typical and high, and the crew that is on site."""
    crew = worked.case.job.crew
    rows: list[Cells] = [
        (t.id, t.says, t.quantity.value, t.hours_low, t.hours.value, t.hours_high,
         max(t.least_people, 1))
        for t in worked.tasks.tasks
    ]  # fmt: skip
    rows.append(("", f"All, by a crew of {crew.people}", 0.0,
                 sum(t.hours_low for t in worked.tasks.tasks), worked.tasks.hours.value,
                 sum(t.hours_high for t in worked.tasks.tasks), crew.people))  # fmt: skip
    write_sheet(book, "Hours", told, ("id", "what", "quantity", "low, h", "typical, h", "high, h",
           "least people"), (26, 50, 10, 10, 10, 10, 10), rows, FOOTER)  # fmt: skip


def _mishaps(book: Any, told: str, worked: WorkedJob) -> None:
    kept = worked.margins
    rows: list[Cells] = [
        ("Profit as priced", "", (kept.profit.value,), ""),
        (f"Profit: {kept.share.value:.1f} % of the price without VAT", "", "", ""),
        ("Profit of a day on the roof", "", (kept.per_day.value,), ""),
    ]
    rows += [
        (e.says, (e.costs.value,), (e.left.value,),
         (e.left_charged.value,) if e.left_charged else "no rate agreed")
        for e in kept.events
    ]  # fmt: skip
    write_sheet(book, "What if", told, ("what", "costs, £", "profit left, if borne, £",
           "profit left, if charged as agreed, £"), (70, 14, 18, 22), rows, FOOTER)  # fmt: skip


def _workings(worked: WorkedJob) -> Iterator[Cells]:
    """List every working behind the price and the margins, each once."""
    price, kept = worked.price, worked.margins
    ends = [price.total, price.per_m2, kept.share, kept.per_day]
    ends += [e.left_charged or e.left for e in kept.events]
    ends += [x.quantity for x in price.lines]
    seen: set[tuple[str, str, float]] = set()
    stack: list[Any] = list(reversed(ends))
    while stack:
        one = stack.pop()
        if not isinstance(one, Working):
            continue
        key = (one.title, one.numbers, one.value)
        if key not in seen:
            seen.add(key)
            yield (one.title, one.symbol, one.expression, one.numbers, one.value, one.unit,
                   one.basis)  # fmt: skip
            stack += [v for _, _, v in reversed(one.of)]

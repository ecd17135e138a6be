"""One sheet of a workbook: whose it is, the heads over a line, then rows that fit their text."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

FACE = {"font_name": "Arial", "font_size": 10, "valign": "top"}
POUNDS = {"num_format": "#,##0.00;[Red]-#,##0.00", "align": "right"}
PENCE = 100
LONGEST_NAME = 31
"""Letters that the name of a sheet may have."""
LINE_POINTS = 13.5
"""Height of one line of the face, in points, with air."""
FULL = 1.1
"""Letters to one of the column's width, which counts in digits: letters are narrower, and a word
that does not fit goes down whole."""
A4 = 9

Cells = Sequence[Any]


def write_sheet(
    book: Any, name: str, told: str, heads: Sequence[str], widths: Sequence[int],
    rows: Sequence[Cells], footer: str = "&L&A&R&P of &N",
) -> Any:  # fmt: skip
    """Write one sheet.

    Rows get their height here, from the words in them: not every program makes it on opening, and
    then one row would lie on the next.

    Parameters
    ----------
    book : Workbook
        The workbook being written [-].
    name, told : str
        Name of the sheet and its first line [-].
    heads : sequence of str
        Over the columns [-].
    widths : sequence of int
        Of the columns [letters].
    rows : sequence of sequence
        Words, numbers, and amounts of money as a tuple of one number of pence [-].
    footer : str
        In the program's own words [-].

    Returns
    -------
    Worksheet
        The sheet, for what is added to it [-].
    """
    sheet = book.add_worksheet(name[:LONGEST_NAME])
    sheet.write_string(0, 0, told, book.add_format({**FACE, "bold": True}))
    left = book.add_format({**FACE, "bold": True, "bottom": 1, "text_wrap": True, "indent": 1})
    right = book.add_format({**FACE, "bold": True, "bottom": 1, "text_wrap": True,
                             "align": "right"})  # fmt: skip
    for column, (head, width) in enumerate(zip(heads, widths, strict=True)):
        sheet.set_column(column, column, width)
        numeric = bool(rows) and all(not isinstance(r[column], str) or not r[column] for r in rows)
        sheet.write_string(2, column, head, right if numeric else left)
    _rows(book, sheet, widths, rows)
    sheet.freeze_panes(3, 0)
    sheet.set_landscape()
    sheet.set_paper(A4)
    sheet.fit_to_pages(1, 0)
    sheet.repeat_rows(2)
    sheet.set_footer(footer)
    return sheet


def _rows(book: Any, sheet: Any, widths: Sequence[int], rows: Sequence[Cells]) -> None:
    plain = book.add_format({**FACE, "text_wrap": True, "indent": 1})
    money = book.add_format({**FACE, **POUNDS})
    whole = book.add_format({**FACE, "num_format": "#,##0", "align": "right"})
    broken = book.add_format({**FACE, "num_format": "#,##0.00", "align": "right"})
    for row, cells in enumerate(rows, 3):
        deep = max(lines(c, w) for c, w in zip(cells, widths, strict=True))
        if deep > 1:
            sheet.set_row(row, deep * LINE_POINTS)
        for column, cell in enumerate(cells):
            if isinstance(cell, tuple):
                sheet.write_number(row, column, cell[0] / PENCE, money)
            elif isinstance(cell, str):
                sheet.write_string(row, column, cell, plain)
            else:
                face = whole if float(cell).is_integer() else broken
                sheet.write_number(row, column, cell, face)


def lines(cell: object, width: int) -> int:
    """Tell how many lines a cell takes in a column.

    Parameters
    ----------
    cell : object
        Words, or a number that never breaks [-].
    width : int
        Of the column [letters].

    Returns
    -------
    int
        Lines, at least 1 [-].

    Examples
    --------
    >>> lines("a gutter of 112 mm", 40), lines("a gutter of 112 mm", 10), lines(3.5, 2)
    (1, 2, 1)
    """
    if not isinstance(cell, str):
        return 1
    return sum(max(1, math.ceil(len(part) / (FULL * width))) for part in cell.split("\n"))

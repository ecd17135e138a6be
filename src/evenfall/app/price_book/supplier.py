"""A supplier's list: CSV or XLSX, its columns mapped to ours."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from evenfall.app.price_book.from_xlsx import open_book
from evenfall.errors import InvalidInput

LARGEST = 20_000_000
"""Bytes of a list."""
HEAD_WITHIN = 30
"""Rows in which the heads of the columns must stand; above them suppliers put their address."""
MOST_ROWS = 50_000
WANTED = ("id", "code", "price_pounds", "price_pence", "pack", "says")
"""What a column may be mapped to."""


@dataclass(frozen=True, slots=True)
class Offer:
    """One line of a supplier's list, as it stands there."""

    row: int
    key: str  # our id, or his code
    price: str
    pack: str
    says: str


@dataclass(frozen=True, slots=True)
class Columns:
    """Which of his columns is which."""

    key: str
    by_code: bool
    price: str
    pounds: bool
    pack: str = ""
    says: str = ""


def columns(mapping: str) -> Columns:
    """Read a mapping such as ``id=Our no,price_pounds=Net,pack=Pack``.

    Parameters
    ----------
    mapping : str
        Pairs of our word and the head of his column [-].

    Returns
    -------
    Columns
        Which is which [-].

    Raises
    ------
    InvalidInput
        A word that is none of ours, or one that is needed and missing.

    Examples
    --------
    >>> columns("id=No,price_pounds=Net each").price
    'Net each'
    """
    pairs: dict[str, str] = {}
    for part in mapping.split(","):
        word, equals, head = (p.strip() for p in part.partition("="))
        if word not in WANTED or not equals or not head:
            raise InvalidInput(
                f'"{part.strip()}"',
                f"one of {', '.join(WANTED)} = a column",
                where="--map",
                do='such as "id=No,price_pounds=Net"',
            )
        pairs[word] = head
    keys = [w for w in ("id", "code") if w in pairs]
    prices = [w for w in ("price_pounds", "price_pence") if w in pairs]
    if len(keys) != 1 or len(prices) != 1:
        raise InvalidInput(f'"{mapping}"', "id or code, and price_pounds or price_pence",
                           where="--map")  # fmt: skip
    return Columns(pairs[keys[0]], keys[0] == "code", pairs[prices[0]], prices[0] == "price_pounds",
                   pairs.get("pack", ""), pairs.get("says", ""))  # fmt: skip


def read_list(path: Path, wanted: Columns) -> tuple[Offer, ...]:
    """Read a supplier's list.

    Parameters
    ----------
    path : Path
        CSV (commas, semicolons or tabs) or XLSX, its first sheet [-].
    wanted : Columns
        Which column is which [-].

    Returns
    -------
    tuple of Offer
        Lines with a key [-].

    Raises
    ------
    InvalidInput
        No such file, no such columns, or nothing in it.
    """
    try:
        raw = path.read_bytes()
    except OSError as error:
        raise InvalidInput(f"a file that cannot be opened ({error.strerror})", "a price list",
                           where=str(path)) from None  # fmt: skip
    if len(raw) > LARGEST:
        raise InvalidInput(f"more than {LARGEST:,} bytes", "a price list", where=str(path))
    rows = _sheet(raw, path) if path.suffix.lower() == ".xlsx" else _comma(raw)
    return _offers(rows, wanted, path)


def _sheet(raw: bytes, path: Path) -> list[list[str]]:
    book = open_book(raw, str(path))
    first = book[book.sheetnames[0]]
    return [[_text(c) for c in row] for row in first.iter_rows(max_row=MOST_ROWS, values_only=True)]


def _text(cell: Any) -> str:
    if cell is None:
        return ""
    return f"{cell:.10g}" if isinstance(cell, float) else str(cell).strip()


def _comma(raw: bytes) -> list[list[str]]:
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = raw.decode("cp1252", errors="replace")
    head = "\n".join(text.splitlines()[:HEAD_WITHIN])
    mark = max((";", "\t", ","), key=head.count)
    rows = csv.reader(io.StringIO(text), delimiter=mark)
    return [[c.strip() for c in row] for row, _ in zip(rows, range(MOST_ROWS), strict=False)]


def _offers(rows: list[list[str]], wanted: Columns, path: Path) -> tuple[Offer, ...]:
    heads = [h for h in (wanted.key, wanted.price, wanted.pack, wanted.says) if h]
    top = next((i for i, r in enumerate(rows[:HEAD_WITHIN]) if set(heads) <= set(r)), None)
    if top is None:
        seen = max(rows[:HEAD_WITHIN], key=lambda r: (len(set(heads) & set(r)), sum(map(bool, r))),
                   default=[])  # fmt: skip
        missing = [h for h in heads if h not in seen]
        raise InvalidInput(
            f'no column "{missing[0] if missing else heads[0]}"',
            f"the heads of its columns: {_listed(c for c in seen if c)}", where=str(path),
            do="name them in --map as they stand there",
        )  # fmt: skip
    at = {h: rows[top].index(h) for h in heads}

    def cell(row: list[str], head: str) -> str:
        return row[at[head]] if head and at[head] < len(row) else ""

    found = tuple(
        Offer(n, cell(r, wanted.key), cell(r, wanted.price), cell(r, wanted.pack),
              cell(r, wanted.says))
        for n, r in enumerate(rows[top + 1 :], top + 2) if cell(r, wanted.key)
    )  # fmt: skip
    if not found:
        raise InvalidInput("no line with a key", "a list of prices", where=str(path))
    return found


def _listed(heads: Iterable[str]) -> str:
    return ", ".join(heads) or "none"


def links(path: Path) -> dict[str, str]:
    """Read which of the supplier's codes is which of our ids: two columns, code and id.

    Parameters
    ----------
    path : Path
        A CSV file with the heads ``code`` and ``id`` [-].

    Returns
    -------
    dict of str to str
        Our id by his code [-].

    Raises
    ------
    InvalidInput
        No such file or columns, or one code for two ids.
    """
    found: dict[str, str] = {}
    for one in read_list(path, Columns("code", True, "id", True)):
        if found.get(one.key, one.price) != one.price:
            raise InvalidInput(f"the code {one.key} for {found[one.key]} and for {one.price}",
                               "one id for a code", where=f"{path}:{one.row}")  # fmt: skip
        found[one.key] = one.price
    return found

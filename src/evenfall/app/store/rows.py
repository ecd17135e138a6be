"""Revisions as rows of the database; every function runs inside a transaction of the caller."""

from __future__ import annotations

import json
import re
import secrets
import sqlite3
from collections import OrderedDict
from datetime import UTC, datetime
from threading import Lock
from typing import Any

from evenfall.app.store.kept import (
    LARGEST,
    LARGEST_LOGGED,
    Behind,
    Contents,
    Data,
    Kind,
    Listed,
    Revision,
    packed,
    unpacked,
)
from evenfall.app.store.logged import carried, log_of
from evenfall.model.job import FORMAT

REMEMBERED = 100
"""Documents that are kept in memory."""
_read_before: OrderedDict[str, Data] = OrderedDict()
_guard = Lock()


def show(
    base: sqlite3.Connection, head: Revision, shows: int, who: str, kind: Kind, why: str,
    like: int | None = None,
) -> Revision:  # fmt: skip
    """Add a revision with the contents of an earlier one."""
    old = contents_of(base, head.job, shows if like is None else like)
    return add(base, head, shows, old, who, why, (), kind)


def add(
    base: sqlite3.Connection, head: Revision, shows: int, contents: Contents, who: str, why: str,
    changes: tuple[Data, ...], kind: Kind,
) -> Revision:  # fmt: skip
    """Add a revision after the newest, with all of its log, and bring the list up to it."""
    number, at = head.number + 1, now()
    before = contents_of(base, head.job, head.number)
    contents = carried(contents, before)
    if log_of(contents.document) != log_of(before.document):
        name_entries(base, head.job, contents.document)
    new = Revision(head.job, number, head.number, shows, kind, at, who, why, FORMAT, changes)
    insert(base, new, put(base, contents))
    name, place, words, invented = about(contents.document)
    base.execute(
        "UPDATE jobs SET head = ?, changed = ?, name = ?, place = ?, words = ?, invented = ? "
        "WHERE id = ?",
        (number, at, name, place, words, invented, head.job),
    )
    return new


def at(base: sqlite3.Connection, job: str, began: int) -> Revision:
    """Find the newest revision, or raise `Behind` where another one was thought to be.

    What came from the roof in between is in nobody's way.
    """
    head = revision(base, job, None)
    sql = "SELECT count(*) FROM revisions WHERE job = ? AND number > ? AND kind = 'site'"
    if head.number - began != base.execute(sql, (job, began)).fetchone()[0]:
        raise Behind(began, head)
    return head


def revision(base: sqlite3.Connection, job: str, number: int | None) -> Revision:
    """Find a revision by its number, the newest for None; KeyError where there is none."""
    newest = "(SELECT head FROM jobs WHERE id = ?1)"
    sql = f"SELECT * FROM revisions WHERE job = ?1 AND number = ifnull(?2, {newest})"
    row = base.execute(sql, (job, number)).fetchone()
    if row is None:
        raise KeyError(job if number is None else f"{job}, revision {number}")
    return read(row)


def read(row: sqlite3.Row) -> Revision:
    """Make a revision of its row."""
    return Revision(
        row["job"], row["number"], row["parent"], row["shows"], row["kind"], row["at"], row["who"],
        row["why"], row["format"], tuple(json.loads(row["changes"])),
    )  # fmt: skip


def contents_of(base: sqlite3.Connection, job: str, number: int) -> Contents:
    """Give what a revision holds; nobody may change it, since it is shared."""
    sql = "SELECT document, rates, weather FROM revisions WHERE job = ? AND number = ?"
    hashes = tuple(base.execute(sql, (job, number)).fetchone())
    found = [got(base, h) if h else None for h in hashes]
    return Contents(found[0] or {}, found[1], found[2], hashes)


def got(base: sqlite3.Connection, hash_: str) -> Data:
    """Fetch a document by its hash; the last ones are kept in memory."""
    with _guard:
        if hash_ in _read_before:
            _read_before.move_to_end(hash_)
            return _read_before[hash_]
    row = base.execute("SELECT body FROM documents WHERE hash = ?", (hash_,)).fetchone()
    return _remembered(hash_, unpacked(row[0]))


def _remembered(hash_: str, data: Data) -> Data:
    with _guard:
        _read_before[hash_] = data
        while len(_read_before) > REMEMBERED:
            _read_before.popitem(last=False)
    return data


def put(base: sqlite3.Connection, contents: Contents) -> tuple[str | None, ...]:
    """Keep the documents that are not kept yet; give their hashes."""
    hashes: list[str | None] = []
    for data, known in zip(contents.parts, contents.hashes, strict=True):
        if data is not None and known is None:
            known, body = packed(data, LARGEST_LOGGED if log_of(data) else LARGEST)
            base.execute("INSERT OR IGNORE INTO documents VALUES (?, ?)", (known, body))
            _remembered(known, data)
        hashes.append(known)
    return tuple(hashes)


def insert(base: sqlite3.Connection, r: Revision, hashes: tuple[str | None, ...]) -> None:
    """Write the row of a revision."""
    changes = json.dumps(r.changes, ensure_ascii=False, default=str)
    told = (r.job, r.number, r.parent, r.shows, r.kind, r.at, r.who, r.why, r.format, changes)
    base.execute("INSERT INTO revisions VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?)", (*told, *hashes))


def name_entries(base: sqlite3.Connection, job: str, document: Data) -> None:
    """Note which entries of the log a job has, so that another job's are known as such."""
    ids = ((str(e["id"]), job) for e in log_of(document))
    base.executemany("INSERT OR IGNORE INTO entries VALUES (?, ?)", ids)


def listed(row: sqlite3.Row) -> Listed:
    """Make a job of the list of its row."""
    return Listed(
        row["id"], row["name"], row["place"], row["head"], row["made"], row["changed"],
        bool(row["archived"]), bool(row["invented"]), row["worked_on"],
        row["stops"] if row["stops_of"] == row["head"] else None, row["copied_from"],
    )  # fmt: skip


def about(document: Data) -> tuple[str, str, str, int]:
    """Take name, place and words of the list from a document, however little it says."""
    about: Any = document.get("job")
    about = about if isinstance(about, dict) else {}
    said = {k: v for k, v in about.items() if isinstance(v, str)}
    name = said.get("title") or said.get("client") or said.get("reference") or "A roof"
    words = (said.get(k, "") for k in ("title", "client", "address", "reference"))
    invented = int(about.get("invented") is True)
    return name, said.get("address", ""), " ".join(words).casefold(), invented


def words(revision: Revision) -> str:
    """Say what a revision changed, for the one that takes it back."""
    if revision.why:
        return revision.why
    return ", ".join(str(c.get("path", "")) for c in revision.changes) or revision.kind


def new_id(name: str) -> str:
    """Make the id of a new job: a few words of its name, and chance."""
    slug = re.sub(r"[^a-z0-9]+", "-", name.casefold()).strip("-")[:32].strip("-")
    return f"{slug or 'roof'}-{secrets.token_hex(4)}"


def now() -> str:
    """Say what time it is (UTC)."""
    return datetime.now(UTC).isoformat(timespec="milliseconds")

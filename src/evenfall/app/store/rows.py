"""Revisions as rows of the database; every function runs inside a transaction of the caller."""

from __future__ import annotations

import json
import re
import secrets
import sqlite3
from datetime import UTC, datetime
from typing import Any

from evenfall.app.store.kept import Behind, Contents, Data, Kind, Listed, Revision, packed, unpacked
from evenfall.model.job import FORMAT


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
    """Add a revision after the newest, and bring the list up to it."""
    number, at = head.number + 1, now()
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
    """Find the newest revision, or raise `Behind` where another one was thought to be."""
    head = revision(base, job, None)
    if head.number != began:
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
    """Give what a revision holds."""
    sql = "SELECT document, rates, weather FROM revisions WHERE job = ? AND number = ?"
    row = base.execute(sql, (job, number)).fetchone()
    found = [got(base, h) if h else None for h in row]
    return Contents(found[0] or {}, found[1], found[2])


def got(base: sqlite3.Connection, hash_: str) -> Data:
    """Fetch a document by its hash."""
    row = base.execute("SELECT body FROM documents WHERE hash = ?", (hash_,)).fetchone()
    return unpacked(row[0])


def put(base: sqlite3.Connection, contents: Contents) -> tuple[str | None, ...]:
    """Keep the documents that are not kept yet; give their hashes."""
    hashes: list[str | None] = []
    for data in (contents.document, contents.rates, contents.weather):
        if data is None:
            hashes.append(None)
            continue
        hash_, body = packed(data)
        base.execute("INSERT OR IGNORE INTO documents VALUES (?, ?)", (hash_, body))
        hashes.append(hash_)
    return tuple(hashes)


def insert(base: sqlite3.Connection, r: Revision, hashes: tuple[str | None, ...]) -> None:
    """Write the row of a revision."""
    changes = json.dumps(r.changes, ensure_ascii=False, default=str)
    told = (r.job, r.number, r.parent, r.shows, r.kind, r.at, r.who, r.why, r.format, changes)
    base.execute("INSERT INTO revisions VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?)", (*told, *hashes))


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

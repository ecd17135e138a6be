"""The database file: how it is opened, its tables, and its own format.

SQLite with a write-ahead log and ``synchronous=FULL``: what was acknowledged is on the disk. The
file may be shared by two desks; each writes in a short transaction of its own, and a save that
began from an older revision is refused there (`revisions`).
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from pathlib import Path

from evenfall.errors import InvalidInput

NAME = "evenfall.db"
MARK = 0x45564E46
"""``EVNF``: what marks the file as ours."""
FORMAT = 2
"""Format of the database; an older one is migrated, a newer one refused."""
WAIT_MS = 5000
"""How long a write waits for another desk; a write takes some milliseconds."""
FULL = 2

_TABLES = """
CREATE TABLE documents (hash TEXT PRIMARY KEY, body BLOB NOT NULL) STRICT, WITHOUT ROWID;
CREATE TABLE jobs (
  id TEXT PRIMARY KEY, head INTEGER NOT NULL, made TEXT NOT NULL, changed TEXT NOT NULL,
  name TEXT NOT NULL, place TEXT NOT NULL, words TEXT NOT NULL, archived INTEGER NOT NULL DEFAULT 0,
  invented INTEGER NOT NULL DEFAULT 0, worked_on TEXT, file TEXT, copied_from TEXT,
  stops INTEGER, stops_of INTEGER
) STRICT, WITHOUT ROWID;
CREATE TABLE revisions (
  job TEXT NOT NULL REFERENCES jobs(id) DEFERRABLE INITIALLY DEFERRED,
  number INTEGER NOT NULL, parent INTEGER, shows INTEGER NOT NULL, kind TEXT NOT NULL,
  at TEXT NOT NULL, who TEXT NOT NULL, why TEXT NOT NULL, format INTEGER NOT NULL,
  changes TEXT NOT NULL, document TEXT NOT NULL REFERENCES documents(hash),
  rates TEXT REFERENCES documents(hash), weather TEXT REFERENCES documents(hash),
  PRIMARY KEY (job, number)
) STRICT, WITHOUT ROWID;
CREATE TABLE issued (
  id INTEGER PRIMARY KEY, job TEXT NOT NULL REFERENCES jobs(id), revision INTEGER NOT NULL,
  paper TEXT NOT NULL, at TEXT NOT NULL, who TEXT NOT NULL, worked_on TEXT NOT NULL,
  worked TEXT NOT NULL, hash TEXT NOT NULL, body BLOB NOT NULL
) STRICT;
CREATE TABLE photos (
  hash TEXT NOT NULL, job TEXT NOT NULL REFERENCES jobs(id), type TEXT NOT NULL,
  bytes INTEGER NOT NULL, wide INTEGER NOT NULL, high INTEGER NOT NULL, about TEXT NOT NULL,
  at TEXT NOT NULL, who TEXT NOT NULL, PRIMARY KEY (job, hash)
) STRICT, WITHOUT ROWID;
"""

_SITE = """
CREATE TABLE entries (
  id TEXT NOT NULL, job TEXT NOT NULL REFERENCES jobs(id) DEFERRABLE INITIALLY DEFERRED,
  PRIMARY KEY (id, job)
) STRICT, WITHOUT ROWID;
CREATE TABLE turned_away (
  job TEXT NOT NULL REFERENCES jobs(id), id TEXT NOT NULL, hash TEXT NOT NULL, at TEXT NOT NULL,
  by TEXT NOT NULL, why TEXT NOT NULL, body TEXT NOT NULL, PRIMARY KEY (job, id, hash)
) STRICT, WITHOUT ROWID;
CREATE TABLE phones (
  id TEXT PRIMARY KEY, name TEXT NOT NULL, cookie TEXT NOT NULL UNIQUE, paired TEXT NOT NULL,
  heard TEXT NOT NULL, shut_out TEXT
) STRICT, WITHOUT ROWID;
CREATE TABLE phone_jobs (
  phone TEXT NOT NULL REFERENCES phones(id), job TEXT NOT NULL REFERENCES jobs(id),
  PRIMARY KEY (phone, job)
) STRICT, WITHOUT ROWID;
CREATE TABLE tokens (
  hash TEXT PRIMARY KEY, job TEXT NOT NULL REFERENCES jobs(id), until TEXT NOT NULL, used TEXT
) STRICT, WITHOUT ROWID;
CREATE TABLE guesses (at TEXT NOT NULL, address TEXT NOT NULL, what TEXT NOT NULL) STRICT;
CREATE TABLE own (name TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT, WITHOUT ROWID;
"""
"""What the roof brings: ids of the entries of each job's log, entries that were refused, paired
telephones and one-time tokens by the hash of their secret, wrong guesses, the desk's own mark."""

_KEPT = ("documents", "revisions", "issued")
"""Tables to which is only ever added."""


def connect(folder: Path) -> sqlite3.Connection:
    """Open the database of a folder, and make it where there is none.

    Parameters
    ----------
    folder : Path
        Where the jobs live; made where it does not exist [-].

    Returns
    -------
    Connection
        Open, with every write on the disk before it is acknowledged [-].

    Raises
    ------
    InvalidInput
        The file is no database of ours, is of a newer format, or cannot be opened.
    """
    folder.mkdir(parents=True, exist_ok=True)
    file = folder / NAME
    base = sqlite3.connect(
        file, timeout=WAIT_MS / 1000, isolation_level=None, check_same_thread=False
    )
    try:
        base.row_factory = sqlite3.Row
        base.execute("PRAGMA journal_mode=WAL")
        base.execute("PRAGMA synchronous=FULL")
        base.execute("PRAGMA foreign_keys=ON")
        _bring_up(base, file)
    except sqlite3.DatabaseError as error:
        base.close()
        raise _refused(file, error) from None
    except InvalidInput:
        base.close()
        raise
    return base


def _refused(file: Path, error: sqlite3.DatabaseError) -> InvalidInput:
    if "locked" in str(error):
        return busy(file)
    do = "move it away, or name another folder with --store"
    return InvalidInput(f"{file}: {error}", "a database of Evenfall", where="--store", do=do)


def busy(file: Path) -> InvalidInput:
    """Say that another program holds the database.

    Parameters
    ----------
    file : Path
        The database [-].

    Returns
    -------
    InvalidInput
        What to tell the person [-].
    """
    what = f"{file.name} is held by another program"
    return InvalidInput(what, "to write", where="store", do="end the other desk, or try again")


def _bring_up(base: sqlite3.Connection, file: Path) -> None:
    """Make the tables, or migrate older ones; all or nothing."""
    base.execute("BEGIN IMMEDIATE")
    try:
        mark = base.execute("PRAGMA application_id").fetchone()[0]
        number = base.execute("PRAGMA user_version").fetchone()[0]
        empty = not base.execute("SELECT 1 FROM sqlite_master LIMIT 1").fetchone()
        if mark != MARK and not empty:
            what = f"{file} is a database of another program"
            raise InvalidInput(what, "one of Evenfall", where="--store", do="name another folder")
        if number > FORMAT:
            what = f"{file} was written by a newer Evenfall (format {number})"
            raise InvalidInput(what, f"format {FORMAT}", where="--store", do="update Evenfall")
        for step in range(number, FORMAT):
            STEPS[step](base)
        base.execute(f"PRAGMA application_id={MARK}")
        base.execute(f"PRAGMA user_version={FORMAT}")
    except BaseException:
        base.execute("ROLLBACK")
        raise
    base.execute("COMMIT")


def _first(base: sqlite3.Connection) -> None:
    _make(base, _TABLES)
    for table in _KEPT:
        for deed in ("UPDATE", "DELETE"):
            base.execute(
                f"CREATE TRIGGER {table}_no_{deed.lower()} BEFORE {deed} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, '{table}: nothing is changed or taken away'); END"
            )


def _second(base: sqlite3.Connection) -> None:
    _make(base, _SITE)


def _make(base: sqlite3.Connection, tables: str) -> None:
    for statement in tables.split(";"):
        base.execute(statement)


STEPS: dict[int, Callable[[sqlite3.Connection], None]] = {0: _first, 1: _second}
"""From each older format of the database to the next one; 0 is an empty file."""

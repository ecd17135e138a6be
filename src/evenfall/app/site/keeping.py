"""Entries from the roof taken into a job: one new revision, on the disk before it is acknowledged.

It does not matter how they come (a phone that syncs, a file that is brought in), in what order, how
often or how late: an entry that is there already is acknowledged again, and nothing is written.
"""

from __future__ import annotations

import json
import secrets
import sqlite3
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from hashlib import sha256
from typing import Any

from evenfall.app.api.refusals import fault, of_error
from evenfall.app.site.as_kept import CLOCK_KIND, as_kept, refuse_clock
from evenfall.app.store import rows, shelves
from evenfall.app.store.kept import Data, Revision
from evenfall.app.store.logged import log_of, photos_of
from evenfall.app.store.store import Store
from evenfall.errors import InvalidInput
from evenfall.model.logbook import LARGEST_ENTRY

MOST_AT_ONCE = 500
"""Entries of one batch; a day has sixty."""
MOST_REMEMBERED = 500
"""Refused entries of a job that are kept for the owner; a phone that sends wrong ones without end
fills no disk."""
CLOCK_NEAR_S = 10.0
"""A clock that is this near is right; the way through the air takes a second or two."""
DESK = "the desk"


@dataclass(frozen=True, slots=True)
class Turned:
    """An entry (or a photo, by its hash) that was not taken, and why; ``kept`` stands there."""

    id: str
    error: dict[str, str]
    kept: Data | None = None
    sent: Data | None = None


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of a batch: ``kept`` is on the disk now, ``wanted`` photos are still to come."""

    kept: tuple[str, ...]
    refused: tuple[Turned, ...]
    wanted: tuple[str, ...]
    revision: Revision | None = None
    ahead_s: float = 0.0


@dataclass
class _Batch:
    """A batch while it is sorted, inside the transaction."""

    job: str
    new: dict[str, Data] = field(default_factory=dict)
    kept: dict[str, None] = field(default_factory=dict)
    refused: list[Turned] = field(default_factory=list)


def keep(
    store: Store, job: str, entries: Sequence[Any], photos: Mapping[str, bytes] | None = None, *,
    by: str, of: str | None = None, device: str | None = None, ahead_s: float = 0.0,
    now: datetime | None = None,
) -> Taken:  # fmt: skip
    """Take entries and photos from the roof into a job.

    Parameters
    ----------
    store : Store
        The jobs [-].
    job : str
        Id of the job [-].
    entries : sequence of dict
        Entries of the log, as they came [-].
    photos : mapping, optional
        Photos by the SHA-256 of their bytes [-].
    by : str
        Who brings them, for the history: the name of a phone or of a file [-].
    of : str, optional
        The job that they say they belong to [-].
    device : str, optional
        The phone that brings them [-].
    ahead_s : float
        How far its clock is ahead of the desk's [s].
    now : datetime, optional
        The desk's clock; else that of the machine [-].

    Returns
    -------
    Taken
        What is kept, what was refused and why, and which photos are still to come [-].

    Raises
    ------
    InvalidInput
        They belong to another job, or are too many.
    KeyError
        There is no such job.
    """
    _whole(store, job, entries, of)
    unkept = _photos(store, job, photos or {}, by)
    batch = _Batch(job)

    def choose(base: sqlite3.Connection, document: Data) -> Sequence[Data]:
        log = log_of(document)
        _sort(base, batch, entries, {str(e["id"]): e for e in log}, by)
        told = [*log, *batch.new.values()]
        clock = _clock(base, told, device, ahead_s, now or datetime.now(UTC))
        return [*batch.new.values(), *clock]

    many = len(entries)
    revision = store.append(job, choose, by, f"from the roof: {many} record{'s' * (many != 1)}")
    log = log_of(store.contents(store.head(job)).document)
    wanted = shelves.missing(store, job, (p for e in log for p in photos_of(e)))
    refused = (*unkept, *batch.refused)
    return Taken(tuple(batch.kept), refused, tuple(wanted), revision, ahead_s)


def _whole(store: Store, job: str, entries: Sequence[Any], of: str | None) -> None:
    """Refuse a batch as a whole: of another job, or without end."""
    name = store.job(job).name
    if of is not None and of != job:
        try:
            other = f'records of the job "{store.job(of).name}"'
        except KeyError:
            other = "records of another job"
        raise InvalidInput(other, f'those of "{name}"', where="job", do="open that job for them")
    if len(entries) > MOST_AT_ONCE:
        do = "send them in parts"
        raise InvalidInput(f"{len(entries)} entries", f"at most {MOST_AT_ONCE}", where="entries",
                           do=do)  # fmt: skip


def _photos(store: Store, job: str, photos: Mapping[str, bytes], by: str) -> list[Turned]:
    """Keep the photos that come along; one that cannot be kept stops nothing else."""
    new = {sha: photos[sha] for sha in shelves.missing(store, job, photos)}
    refused = shelves.keep_photos(store, job, new, by)[1] if new else {}
    return [Turned(sha, of_error(error)) for sha, error in refused.items()]


def _sort(
    base: sqlite3.Connection, batch: _Batch, entries: Sequence[Any], log: dict[str, Data], by: str
) -> None:
    """Part what is new from what is there already and from what cannot be taken."""
    for sent in entries:
        entry = _read(base, batch, sent, by)
        if entry is None:
            continue
        id_ = str(entry["id"])
        there = log.get(id_) or batch.new.get(id_)
        if there is None:
            try:
                _new(base, batch.job, entry)
            except InvalidInput as error:
                batch.refused.append(Turned(id_, of_error(error), sent=entry))
                _remember(base, batch.job, entry, str(error), by)
                continue
            batch.new[id_] = entry
            batch.kept[id_] = None
        elif as_kept(there) == entry:
            batch.kept[id_] = None
        else:
            batch.refused.append(_differs(base, batch.job, there, entry, by))


def _read(base: sqlite3.Connection, batch: _Batch, sent: Any, by: str) -> Data | None:
    """Read an entry as it is kept, or say what is wrong with it."""
    try:
        return as_kept(sent)
    except InvalidInput as error:
        id_ = str(sent.get("id", ""))[:64] if isinstance(sent, dict) else ""
        batch.refused.append(Turned(id_, of_error(error)))
        if isinstance(sent, dict):
            _remember(base, batch.job, {**sent, "id": id_}, str(error), by)
    return None


def _remember(base: sqlite3.Connection, job: str, sent: Data, why: str, by: str) -> None:
    """Note what was refused, for the owner; so much and no more of one job."""
    try:
        body = json.dumps(sent, ensure_ascii=False, sort_keys=True, allow_nan=False)
    except ValueError:
        return
    many = base.execute("SELECT count(*) FROM turned_away WHERE job = ?", (job,)).fetchone()[0]
    if many < MOST_REMEMBERED and len(body.encode(errors="replace")) <= LARGEST_ENTRY:
        body = body.encode(errors="replace").decode()
        base.execute(
            "INSERT OR IGNORE INTO turned_away VALUES (?,?,?,?,?,?,?)",
            (job, sent["id"], sha256(body.encode()).hexdigest(), rows.now(), by, why, body),
        )


def _new(base: sqlite3.Connection, job: str, entry: Data) -> None:
    """Refuse a new entry that only the desk may write, or that belongs to another job."""
    refuse_clock(entry)
    sql = "SELECT j.name FROM entries e JOIN jobs j ON j.id = e.job WHERE e.id = ? AND e.job <> ?"
    if other := base.execute(sql, (entry["id"], job)).fetchone():
        raise InvalidInput(f'a record of the job "{other[0]}"', "one of this job", where="id",
                           do="open that job for it")  # fmt: skip


def _differs(
    base: sqlite3.Connection, job: str, there: Data, entry: Data, by: str
) -> Turned:  # fmt: skip
    """Refuse an entry whose id says something else already; the owner sees both."""
    why = "an entry with this id is kept already, and says something else"
    _remember(base, job, entry, why, by)
    do = "write a new entry that replaces it"
    told = {**fault(400, why, "the same as before", where="id", do=do), "code": "conflict"}
    return Turned(str(entry["id"]), told, there, entry)


def turned_away(store: Store, job: str) -> list[Turned]:
    """List the entries that were refused: unreadable, of another job, or saying something else.

    Parameters
    ----------
    store : Store
        The jobs [-].
    job : str
        Id of the job [-].

    Returns
    -------
    list of Turned
        Each with the one that is kept and the one that was sent [-].
    """
    log = {e["id"]: e for e in log_of(store.contents(store.head(job)).document)}
    sql = "SELECT id, at, by, why, body FROM turned_away WHERE job = ? ORDER BY at, id, hash"
    with store.reading() as base:
        found = base.execute(sql, (job,)).fetchall()
    return [
        Turned(r["id"], fault(409, r["why"], "", where=f"{r['by']}, {r['at']}"),
               log.get(r["id"]), json.loads(r["body"]))
        for r in found
    ]  # fmt: skip


def own_mark(base: sqlite3.Connection) -> str:
    """Give the mark of this desk among the devices; made where there is none."""
    base.execute("INSERT OR IGNORE INTO own VALUES ('device', ?)", (secrets.token_hex(16),))
    return str(base.execute("SELECT value FROM own WHERE name = 'device'").fetchone()[0])


def _clock(
    base: sqlite3.Connection, log: Sequence[Data], device: str | None, ahead_s: float, now: datetime
) -> list[Data]:
    """Tell of a phone's clock, where it is not what was last told of it."""
    if device is None or not any(e.get("device") == device for e in log):
        return []
    mark = own_mark(base)
    mine = [e for e in log if e.get("device") == mark]
    told = [e for e in mine if e.get("kind") == CLOCK_KIND and e.get("of") == device]
    last = max(told, key=lambda e: int(e["n"]), default={"ahead_s": 0.0})
    if abs(float(last["ahead_s"]) - ahead_s) <= CLOCK_NEAR_S:
        return []
    n = 1 + max((int(e["n"]) for e in mine), default=0)
    entry = {
        "id": secrets.token_hex(16), "device": mark, "n": n, "kind": CLOCK_KIND, "of": device,
        "at": now.isoformat(timespec="seconds"), "who": DESK, "ahead_s": float(round(ahead_s)),
    }  # fmt: skip
    return [as_kept(entry)]

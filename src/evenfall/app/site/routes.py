"""What a paired phone may ask of the desk, and bring to it."""

from __future__ import annotations

import errno
import json
import re
import sqlite3
from collections.abc import Callable
from datetime import UTC, datetime
from hashlib import sha256
from typing import Annotated, Any, TypeVar

from fastapi import APIRouter, Request, Response
from fastapi import Path as InPath
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import FileResponse, JSONResponse
from pydantic import AwareDatetime, Field, StringConstraints

from evenfall.app.api.models import JobId, Model
from evenfall.app.api.refusals import Refused, fault, of_error, of_mistake
from evenfall.app.live.desk import Desk
from evenfall.app.live.from_roof import from_roof
from evenfall.app.site.admission import API, phone_of
from evenfall.app.site.keeping import MOST_AT_ONCE, Turned, keep
from evenfall.app.site.pairing import Pairing
from evenfall.app.store import shelves
from evenfall.app.store.logged import digest, log_of, photos_of
from evenfall.errors import InvalidInput
from evenfall.flow import PAPERS, WorkedJob

R = TypeVar("R")
Mark = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{32}$")]
Sha = Annotated[str, InPath(pattern=r"^[0-9a-f]{64}$")]
LARGEST_PHOTO = 12_000_000
"""Bytes of a photo that a phone could not shrink; a shrunk one has a twentieth."""
LARGEST_PACK = 32_000_000
"""Bytes of photos in one request; a phone packs three millions, or one photo that is larger."""
LARGEST_LINE = 60_000
"""Bytes of the line before them: five hundred photos."""
BUNDLE = "day bundle"
WORKED_WITHIN_S = 60.0
PRIVATE = {"cache-control": "no-store"}
NO_ROOM = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)
REFUSING = (sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR)
"""What the database says where its disk refuses a write, of whatever kind in particular."""
PRIMARY = 0xFF  # an extended code of the database holds its plain one in the lowest byte
FULL = "the disk of the desk is full"


class BatchIn(Model):
    """Entries that a phone brings; ``sent_at`` is the time by its own clock."""

    device: Mark
    sent_at: AwareDatetime
    job: JobId | None = None
    entries: Annotated[list[Any], Field(max_length=MOST_AT_ONCE)]


def site_routes(desk: Desk, pairing: Pairing, clock: Callable[[], datetime]) -> APIRouter:
    """Make the routes of the paired phones.

    Parameters
    ----------
    desk : Desk
        Jobs kept and worked [-].
    pairing : Pairing
        The paired phones [-].
    clock : callable
        Says what time it is [-].

    Returns
    -------
    APIRouter
        The routes [-].
    """
    router = APIRouter(prefix=API.rstrip("/"))
    _of_days(router, desk)
    _of_entries(router, desk, clock)
    _of_photos(router, desk)
    return router


def _of_days(router: APIRouter, desk: Desk) -> None:
    @router.get("/me")
    def me(request: Request) -> JSONResponse:
        """Say under what name the phone is known, and for which jobs."""
        phone = phone_of(request.scope)
        jobs = [{"id": j, "name": desk.store.job(j).name} for j in phone.jobs]
        return JSONResponse({"name": phone.name, "jobs": jobs}, headers=PRIVATE)

    @router.get("/{job}/bundle")
    def bundle(job: JobId, request: Request) -> Response:
        """Give all that the days of a job need on the roof; 304 where the phone has it."""
        worked = _worked(desk, job)
        days = PAPERS[BUNDLE](worked)
        days = {**days, "job": {**days["job"], "id": job}}
        body = json.dumps(days, ensure_ascii=False, default=str).encode()
        tag = f'"{sha256(body).hexdigest()[:32]}"'
        kept = {"etag": tag, "cache-control": "private, no-cache"}
        if request.headers.get("if-none-match") == tag:
            return Response(status_code=304, headers=kept)
        return Response(body, media_type="application/json", headers=kept)

    @router.get("/{job}/changed")
    def changed(job: JobId) -> JSONResponse:
        """Tell what the last records changed, and all together; no price but that of extra work."""
        told = from_roof(desk, job, _worked(desk, job), prices=False)
        return JSONResponse(
            {"by": told.by, "at": told.at, "last": told.last, "all": told.all}, headers=PRIVATE
        )


def _worked(desk: Desk, job: str) -> WorkedJob:
    """Give the newest revision worked to its end, or what was worked last."""
    _, sound, run = desk.run(job)
    if run is None:
        raise Refused(409, of_mistake(sound.problems[0]))
    run.ended.wait(WORKED_WITHIN_S)
    worked = run.worked or desk.worker.kept(job).worked
    if worked is None:
        told = fault(503, "the job is being worked", "its days", do="ask again in a minute")
        raise Refused(503, told)
    return worked


def _of_entries(router: APIRouter, desk: Desk, clock: Callable[[], datetime]) -> None:
    @router.post("/{job}/entries")
    def bring(job: JobId, body: BatchIn, request: Request) -> JSONResponse:
        """Take entries in; those in ``kept`` are on the disk, and need not be sent again."""
        phone, now = phone_of(request.scope), clock()
        ahead = (body.sent_at - now.astimezone(UTC)).total_seconds()
        taken = _on_disk(
            lambda: keep(
                desk.store, job, body.entries, by=phone.name, of=body.job, device=body.device,
                ahead_s=ahead, now=now,
            )
        )  # fmt: skip
        if taken.revision is not None:
            desk.later.soon(job)
        told = {
            "kept": taken.kept, "refused": [_told(t) for t in taken.refused],
            "wanted": taken.wanted, "ahead_s": round(ahead, 1), "desk_at": now.isoformat(),
        }  # fmt: skip
        return JSONResponse(told, headers=PRIVATE)

    @router.get("/{job}/entries")
    def entries(job: JobId, request: Request) -> JSONResponse:
        """Give the whole log; no more than its digest where the phone's is the same."""
        log = log_of(desk.store.contents(desk.store.head(job)).document)
        now = digest(str(e["id"]) for e in log)
        wanted = shelves.missing(desk.store, job, (p for e in log for p in photos_of(e)))
        same = request.query_params.get("digest") == now
        told: dict[str, Any] = {"digest": now, "same": same, "wanted": wanted}
        return JSONResponse(told if same else {**told, "entries": log}, headers=PRIVATE)


def _of_photos(router: APIRouter, desk: Desk) -> None:
    @router.post("/{job}/photos")
    async def bring_many(job: JobId, request: Request) -> Response:
        """Take many photos in, packed one behind the other; those in ``kept`` are on the disk."""
        body, phone = await request.body(), phone_of(request.scope)
        desk.later.still(job)

        def kept() -> Response:
            sent = unpacked(body)
            new = {sha: sent[sha] for sha in shelves.missing(desk.store, job, sent)}
            _, wrong = shelves.keep_photos(desk.store, job, new, phone.name)
            told = {
                "kept": [sha for sha in sent if sha not in wrong],
                "refused": [{"id": sha, "error": of_error(e)} for sha, e in wrong.items()],
            }
            return JSONResponse(told, headers=PRIVATE)

        return await run_in_threadpool(_on_disk, kept)

    @router.put("/{job}/photos/{sha}")
    async def bring(job: JobId, sha: Sha, request: Request) -> Response:
        """Take a photo in under its hash; the same photo again is acknowledged again."""
        body, phone = await request.body(), phone_of(request.scope)
        desk.later.still(job)

        def kept() -> Response:
            if not shelves.missing(desk.store, job, [sha]):
                return Response(status_code=204, headers=PRIVATE)
            shelves.keep_photo(desk.store, job, [body], "", phone.name, sha)
            return Response(status_code=201, headers=PRIVATE)

        return await run_in_threadpool(_on_disk, kept)

    @router.get("/{job}/photos/{sha}")
    def photo(job: JobId, sha: Sha) -> Response:
        """Give a photo of the job back."""
        if shelves.missing(desk.store, job, [sha]):
            told = fault(404, "a photo that is still to come", "one that is here", where="sha")
            raise Refused(404, told)
        file, kind = shelves.photo_file(desk.store, sha)
        return FileResponse(file, media_type=kind, headers={"cache-control": "private, immutable"})


def unpacked(body: bytes) -> dict[str, memoryview]:
    r"""Part a packed body: a line of JSON with hash and size of each photo, then their bytes.

    Parameters
    ----------
    body : bytes
        As it came [-].

    Returns
    -------
    dict
        Bytes by the hash that they are said to have; they are not looked at yet [-].

    Raises
    ------
    InvalidInput
        It is packed otherwise.

    Examples
    --------
    >>> sha = "ab" * 32
    >>> {k[:4]: bytes(v) for k, v in unpacked(f'[["{sha}", 3]]\n123'.encode()).items()}
    {'abab': b'123'}
    """
    line, _, _ = body[:LARGEST_LINE].partition(b"\n")
    at, found = len(line) + 1, dict[str, memoryview]()
    try:
        told = json.loads(line)
        if len(told) > MOST_AT_ONCE:
            raise ValueError
        for sha, size in told:
            if not re.fullmatch(r"[0-9a-f]{64}", sha) or type(size) is not int or size < 1:
                raise ValueError
            found[sha] = memoryview(body)[at : at + size]
            at += size
        if at != len(body):
            raise ValueError
    except (ValueError, TypeError, RecursionError):
        what, do = "photos packed otherwise", "send them again"
        raise InvalidInput(what, "[[SHA-256, bytes], ...], a new line, their bytes", where="body",
                           do=do) from None  # fmt: skip
    return found


def _told(turned: Turned) -> dict[str, Any]:
    return {
        "id": turned.id,
        "error": turned.error,
        **({"kept": turned.kept} if turned.kept else {}),
    }


def _on_disk(write: Callable[[], R]) -> R:
    """Write; where the disk takes no more say so, and have the phone keep what it has."""
    try:
        return write()
    except (OSError, sqlite3.OperationalError) as error:
        code = getattr(error, "sqlite_errorcode", 0) & PRIMARY
        if getattr(error, "errno", None) not in NO_ROOM and code not in REFUSING:
            raise
        do = "free space there; the phone keeps its records until then"
        raise Refused(507, fault(507, FULL, "room for the records", where="store", do=do)) from None

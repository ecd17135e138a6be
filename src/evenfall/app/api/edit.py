"""Saving changes and hearing what they move in one answer: no number waits for the disk.

The work begins as soon as a revision is sure to be the next one, while it is written. What moves is
told from there on; a line of its own says that the revision is on the disk, and only that line is a
promise. Were it not written after all, the stream ends with why.
"""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator, Callable
from functools import partial

from fastapi import APIRouter
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import Response, StreamingResponse

from evenfall.app.api import models as m
from evenfall.app.api.jobs import SOMEBODY, clash, known_or_400, listed_or_404, saved
from evenfall.app.api.refusals import of_error
from evenfall.app.api.work import FRESH, NDJSON, lines
from evenfall.app.live.desk import Desk, Edited
from evenfall.app.live.worker import Run
from evenfall.app.store.kept import Behind

Saving = asyncio.Future[Edited]
_saving: set[Saving] = set()
"""Saves under way; each goes on where its page has left."""


def routes(desk: Desk) -> APIRouter:
    """Make the routes of an edit.

    Parameters
    ----------
    desk : Desk
        Jobs kept and worked [-].

    Returns
    -------
    APIRouter
        The routes [-].
    """
    router = APIRouter(tags=["jobs"])
    conflict: dict[int | str, dict[str, object]] = {409: {"model": m.Clash}}

    @router.patch("/jobs/{id}", responses=conflict)
    def edit(id: str, body: m.EditIn) -> m.SavedOut:
        """Save changes as a new revision; what cannot be worked is saved too, with its problems."""
        return saved(edited(desk, id, body))

    @router.post("/jobs/{id}/edit", response_class=StreamingResponse, responses=conflict)
    async def follow(id: str, body: m.EditIn) -> Response:
        """Save changes and tell what they move, a line of JSON as each room is worked.

        The line with ``saved`` says that the new revision is on the disk.
        """
        loop = asyncio.get_running_loop()
        begun: asyncio.Future[Run] = loop.create_future()

        def begin(run: Run) -> None:
            loop.call_soon_threadsafe(begun.set_result, run)

        saving: Saving = asyncio.ensure_future(run_in_threadpool(edited, desk, id, body, begin))
        _saving.add(saving)
        saving.add_done_callback(_saving.discard)
        await asyncio.wait((begun, saving), return_when=asyncio.FIRST_COMPLETED)
        if not begun.done():  # refused, or nothing to work
            return Response(_kept(saving.result()), media_type=NDJSON, headers=FRESH)
        told = lines(desk, begun.result(), body.began)
        return StreamingResponse(_both(told, saving), media_type=NDJSON, headers=FRESH)

    return router


def edited(
    desk: Desk, id_: str, body: m.EditIn, begin: Callable[[Run], None] = lambda _: None
) -> Edited:
    """Save changes, or refuse.

    Parameters
    ----------
    desk : Desk
        Jobs kept and worked [-].
    id_ : str
        Id of the job [-].
    body : EditIn
        The changes, and from where they began [-].
    begin : callable
        Told of the run as soon as it begins, which is before it is on the disk [-].

    Returns
    -------
    Edited
        The new revision, on the disk [-].
    """
    listed_or_404(desk, id_)
    changes = [c.model_dump(exclude_unset=True) for c in body.changes]
    known_or_400(desk, id_, body.began)
    try:
        return desk.edit(id_, body.began, changes, body.who or SOMEBODY, body.why, begin)
    except Behind as behind:
        raise clash(desk, id_, behind, body.changes) from None


async def _both(told: AsyncIterator[bytes], saving: Saving) -> AsyncIterator[bytes]:
    """Give the lines of the work as they come, and that of the save once it is on the disk."""
    after = partial(anext, told, b"")
    line = asyncio.ensure_future(after())
    waiting: set[asyncio.Future[bytes] | Saving] = {line, saving}
    try:
        while waiting:
            done, waiting = await asyncio.wait(waiting, return_when=asyncio.FIRST_COMPLETED)
            if line in done and (text := line.result()):
                yield text
                line = asyncio.ensure_future(after())
                waiting.add(line)
            if saving in done:
                yield _ended(saving)
    finally:
        line.cancel()


def _ended(saving: Saving) -> bytes:
    try:
        return _kept(saving.result())
    except Exception as error:  # the answer has begun: it says so itself
        return _text({"error": of_error(error)})


def _kept(edited: Edited) -> bytes:
    return _text({"saved": True, **saved(edited).model_dump()})


def _text(told: dict[str, object]) -> bytes:
    return json.dumps(told, ensure_ascii=False).encode() + b"\n"

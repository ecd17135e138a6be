"""Routes of the jobs and their revisions."""

from __future__ import annotations

import dataclasses
import re
from typing import Annotated

from fastapi import APIRouter, Query, UploadFile

from evenfall.app.api import models as m
from evenfall.app.api.refusals import Refused, fault, of_mistake
from evenfall.app.live.cases import Sound
from evenfall.app.live.desk import Desk, Edited
from evenfall.app.store.kept import Behind, Contents, Listed
from evenfall.errors import InvalidInput
from evenfall.model.job import FORMAT

SOMEBODY = "at the desk"
"""Who changed something, where nobody says."""
LONGEST_NAME = 80


def listed_or_404(desk: Desk, job: str) -> Listed:
    """Find a job of the list, or refuse."""
    try:
        return desk.store.job(job)
    except KeyError:
        what, do = f'no job "{job[:80]}"', "look at the list of jobs"
        raise Refused(404, fault(404, what, "the id of a job", where="id", do=do)) from None


def name_of(upload: UploadFile, otherwise: str) -> str:
    """Give the bare name of a file that was sent, short and without signs that mean anything."""
    last = (upload.filename or "").replace("\\", "/").split("/")[-1]
    return re.sub(r"[^\w. -]", "", last)[:LONGEST_NAME] or otherwise


def problems_of(sound: Sound) -> list[m.Fault]:
    """Write the problems of a job that cannot be worked."""
    return [m.Fault(**of_mistake(p)) for p in sound.problems]


def saved(edited: Edited) -> m.SavedOut:
    """Answer a save."""
    r = edited.revision
    return m.SavedOut(id=r.job, revision=r.number, problems=problems_of(edited.sound))


def clash(desk: Desk, job: str, behind: Behind, changes: list[m.ChangeIn]) -> Refused:
    """Answer a save that began from an older revision: both values."""
    head, yours = behind.head, [c.model_dump() for c in changes]
    later = [r for r in desk.store.history(job) if r.number > behind.began]
    since = [dict(c) for r in reversed(later) for c in r.changes]
    touched = {str(c["path"]) for c in since}
    apart = bool(touched) and all(r.changes for r in later)
    apart = apart and not any(_meet(c.path, t) for c in changes for t in touched)
    what = f"the job is at revision {head.number} by now, changed by {head.who or SOMEBODY}"
    do = "look at both values and save again from the newest revision"
    told = fault(409, what, f"a save from {head.number}", where="from", do=do)
    return Refused(
        409, told, yours=yours, theirs=desk.theirs(job, behind.began, yours),
        revision=head.number, who=head.who, since=since, apart=apart,
    )  # fmt: skip


def _meet(one: str, other: str) -> bool:
    """Whether one path lies at or within another."""
    return any(a == b or a.startswith((f"{b}.", f"{b}[")) for a, b in ((one, other), (other, one)))


def routes(desk: Desk) -> APIRouter:
    """Make the routes of the jobs.

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
    _of_list(router, desk)
    _of_job(router, desk)
    _of_time(router, desk)
    return router


def _of_list(router: APIRouter, desk: Desk) -> None:
    @router.get("/alive", status_code=204)
    async def alive() -> None:
        """Say that the desk is there: an answer without words."""

    @router.get("/jobs")
    def jobs(
        search: Annotated[str, Query(max_length=200)] = "", archived: bool = False
    ) -> m.ListOut:
        """List the jobs, the last changed first; all words of a search must stand in them."""
        found = desk.store.jobs(search, archived)
        return m.ListOut(jobs=[m.ListedOut(**dataclasses.asdict(j)) for j in found])

    @router.post("/jobs", status_code=201)
    def make(body: m.MakeIn) -> m.SavedOut:
        """Make a job of a document, whole or partial, or as a copy of another."""
        who = body.who or SOMEBODY
        if body.copy_of is not None:
            listed_or_404(desk, body.copy_of)
            return saved(desk.copied(body.copy_of, who))
        document = {"format": FORMAT, **(body.document or {})}
        if body.name:
            about = document.get("job")
            document["job"] = {"title": body.name, **(about if isinstance(about, dict) else {})}
        contents = desk.bounded(Contents(document, body.rates))
        return saved(desk.saved(desk.store.make(contents, who)))


def _of_job(router: APIRouter, desk: Desk) -> None:
    @router.get("/jobs/{id}")
    def job(id: str) -> m.JobOut:
        """Give a job as data, as it was saved; ``defaults`` are the paths nobody has said yet."""
        listed = listed_or_404(desk, id)
        head = desk.store.head(id)
        contents, sound = desk.store.contents(head), desk.sound(head)
        return m.JobOut(
            id=id, name=listed.name, revision=head.number, document=contents.document,
            rates=contents.rates, own_rates=sound.own_rates, defaults=list(sound.defaults),
            problems=problems_of(sound), archived=listed.archived, invented=listed.invented,
            on=desk.on(id).isoformat(),
        )  # fmt: skip

    @router.post("/jobs/{id}/archive")
    def archive(id: str, body: m.ArchiveIn) -> m.SavedOut:
        """Put a job away, or take it out again."""
        listed = listed_or_404(desk, id)
        desk.store.archive(id, body.archived)
        return m.SavedOut(id=id, revision=listed.revision, problems=[])


def known_or_400(desk: Desk, job: str, number: int) -> None:
    """Find a revision of a job, or refuse."""
    try:
        desk.store.revision(job, number)
    except KeyError:
        told = fault(400, f"revision {number}", "a revision of this job", where="from")
        raise Refused(400, told) from None


def _of_time(router: APIRouter, desk: Desk) -> None:
    conflict: dict[int | str, dict[str, object]] = {409: {"model": m.Clash}}

    @router.post("/jobs/{id}/undo", responses=conflict)
    def undo(id: str, body: m.FromIn) -> m.SavedOut:
        """Show what stood before the last change; a new revision, so nothing is lost."""
        return _moved(desk, id, body, lambda who: desk.store.undo(id, body.began, who))

    @router.post("/jobs/{id}/redo", responses=conflict)
    def redo(id: str, body: m.FromIn) -> m.SavedOut:
        """Show again what the last undo took away."""
        return _moved(desk, id, body, lambda who: desk.store.redo(id, body.began, who))

    @router.post("/jobs/{id}/restore", responses=conflict)
    def restore(id: str, body: m.RestoreIn) -> m.SavedOut:
        """Take up an earlier revision as it was."""
        listed_or_404(desk, id)
        known_or_400(desk, id, body.to)
        return _moved(desk, id, body, lambda who: desk.store.restore(id, body.began, body.to, who))

    @router.get("/jobs/{id}/history")
    def history(id: str) -> m.HistoryOut:
        """List all revisions, the newest first."""
        listed_or_404(desk, id)
        told = [dataclasses.asdict(r) for r in desk.store.history(id)]
        for revision in told:
            del revision["job"]
        return m.HistoryOut(id=id, revisions=[m.RevisionOut(**r) for r in told])


def _moved(desk: Desk, id_: str, body: m.FromIn, deed: object) -> m.SavedOut:
    listed_or_404(desk, id_)
    try:
        return saved(desk.saved(deed(body.who or SOMEBODY)))  # type: ignore[operator]
    except Behind as behind:
        raise clash(desk, id_, behind, []) from None
    except InvalidInput as error:
        raise Refused(400, fault(400, error.what, error.expected, where=error.where)) from None

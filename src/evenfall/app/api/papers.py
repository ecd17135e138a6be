"""Routes of what is handed out and taken in: papers, photos, job files, agreements."""

from __future__ import annotations

import dataclasses
import hashlib
import mimetypes
from collections.abc import Iterator
from typing import Annotated, Any

from fastapi import APIRouter, File, Form, UploadFile
from fastapi.responses import FileResponse, Response

from evenfall.app.api import models as m
from evenfall.app.api.jobs import SOMEBODY, clash, listed_or_404, name_of, saved
from evenfall.app.api.refusals import Refused, fault, of_mistake
from evenfall.app.api.work import worked_of
from evenfall.app.as_json import as_json
from evenfall.app.live.desk import Desk
from evenfall.app.store import shelves
from evenfall.app.store.bringing import as_yaml, read_texts
from evenfall.app.store.kept import Behind
from evenfall.app.store.pictured import WrongType, kind_of
from evenfall.app.yaml_core import LARGEST
from evenfall.errors import InvalidFile, InvalidInput
from evenfall.flow import WorkedJob

PIECE = 1 << 20
SEALED = {
    "cache-control": "no-store", "x-content-type-options": "nosniff",
    "content-security-policy": "default-src 'none'; style-src 'unsafe-inline'; sandbox",
}  # fmt: skip
"""A file that was sent in is shown, and runs nothing."""
TYPES = {".dxf": "image/vnd.dxf", ".ics": "text/calendar", ".csv": "text/csv"}


def routes(desk: Desk) -> APIRouter:
    """Make the routes of papers, photos and files.

    Parameters
    ----------
    desk : Desk
        Jobs kept and worked [-].

    Returns
    -------
    APIRouter
        The routes [-].
    """
    router = APIRouter(tags=["papers"])
    _papers(router, desk)
    _sent(router, desk)
    _photos(router, desk)
    _files(router, desk)
    _agreed(router, desk)
    return router


def made(desk: Desk, worked: WorkedJob) -> dict[str, bytes]:
    """Make the papers of a worked job; those of the last one are kept."""
    from evenfall.app.papers import papers

    if desk.papers is None or desk.papers[0] is not worked:
        desk.papers = worked, papers(worked, desk.photos)
    return desk.papers[1]


def _paper(desk: Desk, worked: WorkedJob, name: str) -> bytes:
    """Make one paper; a printed one alone, unless all are made already."""
    from evenfall.app.papers import paper, printed

    if name in printed() and (desk.papers is None or desk.papers[0] is not worked):
        return paper(worked, name, desk.photos)
    found = made(desk, worked)
    if name not in found:
        told = fault(404, f'no paper "{name[:60]}"', f"one of {', '.join(found)}", where="name")
        raise Refused(404, told)
    return found[name]


def _file(name: str, body: bytes) -> Response:
    suffix = name[name.rfind(".") :]
    kind = TYPES.get(suffix) or mimetypes.guess_type(name)[0] or "application/octet-stream"
    last = name.rsplit("/", 1)[-1]
    shown = {"cache-control": "no-store", "content-disposition": f'inline; filename="{last}"'}
    return Response(body, media_type=kind, headers=shown)


def _papers(router: APIRouter, desk: Desk) -> None:
    @router.get("/jobs/{id}/papers")
    def papers(id: str) -> m.PapersOut:
        """List the papers of the newest revision."""
        worked = worked_of(desk, id)
        told = [m.PaperOut(name=n, bytes=len(b)) for n, b in made(desk, worked).items()]
        return m.PapersOut(revision=desk.store.head(id).number, papers=told)

    @router.get("/jobs/{id}/papers/{name:path}", response_class=Response)
    def paper(id: str, name: str) -> Response:
        """Give a paper as it would be printed now."""
        return _file(name, _paper(desk, worked_of(desk, id), name))


def _sent(router: APIRouter, desk: Desk) -> None:
    @router.post("/jobs/{id}/issued", status_code=201)
    def issue(id: str, body: m.IssueIn) -> m.IssuedOut:
        """Keep a paper as it is sent; what was sent is never made anew."""
        listed_or_404(desk, id)
        revision = desk.store.head(id).number
        worked = worked_of(desk, id)
        if desk.store.head(id).number != revision:
            raise Refused(503, fault(503, "the job was changed meanwhile", "a job at rest"))
        content = _paper(desk, worked, body.paper)
        digest = hashlib.sha256(as_json(worked).encode()).hexdigest()
        kept = shelves.keep_issued(
            desk.store, id, revision, body.paper, content, who=body.who or SOMEBODY,
            worked_on=worked.meta.on.isoformat(), worked=digest,
        )  # fmt: skip
        return m.IssuedOut(**dataclasses.asdict(kept))

    @router.get("/jobs/{id}/issued")
    def issued(id: str) -> m.IssuedListOut:
        """List the papers that were sent, the last first."""
        listed_or_404(desk, id)
        found = shelves.issued(desk.store, id)
        return m.IssuedListOut(issued=[m.IssuedOut(**dataclasses.asdict(i)) for i in found])

    @router.get("/jobs/{id}/issued/{number}", response_class=Response)
    def sent(id: str, number: m.Number) -> Response:
        """Give a paper back, byte for byte as it was sent."""
        listed_or_404(desk, id)
        try:
            return _file(*shelves.issued_body(desk.store, id, number))
        except KeyError:
            told = fault(404, f"no paper {number}", "one of those sent", where="number")
            raise Refused(404, told) from None


def _photos(router: APIRouter, desk: Desk) -> None:
    @router.post("/jobs/{id}/photos", status_code=201, responses={415: {"model": m.Refusal}})
    def photo(
        id: str, photo: Annotated[UploadFile, File()],
        about: Annotated[str, Form(max_length=200)] = "",
        who: Annotated[str, Form(max_length=80)] = "",
    ) -> m.PhotoOut:  # fmt: skip
        """Keep a photo (JPEG, PNG or WebP) of a job."""
        listed_or_404(desk, id)
        try:
            kept = shelves.keep_photo(desk.store, id, _pieces(photo), about, who or SOMEBODY)
        except InvalidInput as error:
            raise _refused(error) from None
        return m.PhotoOut(**dataclasses.asdict(kept))

    @router.get("/jobs/{id}/photos")
    def photos(id: str) -> m.PhotosOut:
        """List the photos of a job."""
        listed_or_404(desk, id)
        found = shelves.photos(desk.store, id)
        return m.PhotosOut(photos=[m.PhotoOut(**dataclasses.asdict(p)) for p in found])

    @router.get("/photos/{hash}", response_class=FileResponse)
    def shown(hash: str) -> FileResponse:
        """Give a photo."""
        try:
            file, kind = shelves.photo_file(desk.store, hash)
        except KeyError:
            told = fault(404, "no photo of that hash", "one that a job lists", where="hash")
            raise Refused(404, told) from None
        kept = {**SEALED, "cache-control": "private, max-age=31536000, immutable"}
        return FileResponse(file, media_type=kind, headers=kept)


def _pieces(upload: UploadFile) -> Iterator[bytes]:
    while piece := upload.file.read(PIECE):
        yield piece


def _refused(error: InvalidInput) -> Refused:
    status = 415 if isinstance(error, WrongType) else 413
    return Refused(
        status, fault(status, error.what, error.expected, where=error.where, do=error.do)
    )


def _files(router: APIRouter, desk: Desk) -> None:
    @router.post("/jobs/import", status_code=201, responses={415: {"model": m.Refusal}})
    def bring(
        job: Annotated[UploadFile, File()],
        rates: Annotated[UploadFile | None, File()] = None,
        weather: Annotated[UploadFile | None, File()] = None,
        who: Annotated[str, Form(max_length=80)] = "",
    ) -> m.SavedOut:
        """Bring in a job file (YAML or JSON), with its own rates and weather if it has any."""
        texts = [_text(u, n) for u, n in ((job, "job"), (rates, "rates"), (weather, "weather"))]
        name = name_of(job, "job")
        try:
            contents = read_texts(texts[0] or b"", name, texts[1], texts[2])
        except InvalidFile as error:
            told = [of_mistake(e) | {"line": e.line} for e in error.mistakes]
            raise Refused(400, of_mistake(error.mistakes[0]), problems=told) from None
        why = f"brought in from {name}"
        return saved(desk.saved(desk.store.make(contents, who or SOMEBODY, why)))

    @router.get("/jobs/{id}/export", response_class=Response)
    def export(id: str, part: str = "job") -> Response:
        """Write a job (or its ``rates`` or ``weather``) as a file that loads again as the same."""
        listed_or_404(desk, id)
        contents = desk.store.contents(desk.store.head(id))
        parts: dict[str, Any] = {
            "job": contents.document, "rates": contents.rates, "weather": contents.weather
        }  # fmt: skip
        if parts.get(part) is None:
            told = fault(404, f'no "{part[:20]}" of its own', "job, rates or weather", where="part")
            raise Refused(404, told)
        named = {"content-disposition": f'attachment; filename="{part}.yaml"'}
        return Response(as_yaml(parts[part]), media_type="application/yaml", headers=named)


def _text(upload: UploadFile | None, name: str) -> bytes | None:
    if upload is None:
        return None
    content = upload.file.read(LARGEST + 1)
    if len(content) > LARGEST:
        told = fault(413, "a file larger than that", f"at most {LARGEST:,} bytes", where=name)
        raise Refused(413, told)
    if named := kind_of(content[:2000]):
        told = fault(415, named, "a job file: YAML or JSON text", where=name)
        raise Refused(415, told)
    return content


def _agreed(router: APIRouter, desk: Desk) -> None:
    @router.post("/jobs/{id}/agreed", responses={409: {"model": m.Clash}})
    def agree(id: str, body: m.AgreeIn) -> m.SavedOut:
        """Note what somebody agreed to in writing; it lapses when its value worsens.

        What stops for a structural engineer needs the reference of the engineer's word.
        """
        worked = worked_of(desk, id)
        found = [f for f in worked.findings if (f.code, f.subject) == (body.finding, body.subject)]
        open_to = ("agree", "note", "stop") if found and found[0].by_engineer else ("agree", "note")
        if not found or found[0].level not in open_to:
            what = f"{body.finding} of {body.subject}"
            told = fault(400, what, "a finding that can be agreed to", where="finding")
            raise Refused(400, told)
        if found[0].by_engineer and body.reference is None:
            what = "the number of the engineer's letter or calculation"
            raise Refused(400, fault(400, "no reference", what, where="reference"))
        entry = {
            "finding": body.finding, "subject": body.subject, "by": body.who,
            "on": desk.on(id).isoformat(), "value": found[0].value,
            **({"reference": body.reference} if body.reference else {}),
        }  # fmt: skip
        changes = [{"path": "record.agreed[+]", "value": entry}]
        why = f"{body.who} agreed to {body.finding} of {body.subject}"
        try:
            return saved(desk.edit(id, body.began, changes, body.who, why))
        except Behind as behind:
            raise clash(desk, id, behind, [m.ChangeIn(**c) for c in changes]) from None

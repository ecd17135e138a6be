"""What the open job asks for beside the common routes: its state, slips, rooms, previews."""

from __future__ import annotations

import io
import zipfile
from dataclasses import asdict
from typing import Annotated, Any

from fastapi import APIRouter, Query
from fastapi.responses import Response

from evenfall.app.api.jobs import listed_or_404, problems_of
from evenfall.app.api.papers import made
from evenfall.app.api.refusals import Refused, fault
from evenfall.app.api.work import worked_of
from evenfall.app.live.desk import Desk
from evenfall.app.live.named import slip_of
from evenfall.app.web import rooms
from evenfall.app.web.begun import draw_begun
from evenfall.app.web.draw import WIDE, inked
from evenfall.app.web.preview import PREVIEWS, pages
from evenfall.app.web.state import as_data, build
from evenfall.drafting.complete import complete
from evenfall.drafting.walked import walked
from evenfall.flow import WorkedJob

FRESH = {"cache-control": "no-store"}
KEPT = {"cache-control": "private, max-age=600"}
DRAWN_ROOMS = ("drying", "edges", "fixings", "sheet", "rolls")
"""Rooms with a drawing of their own among their workings."""


def state_of(desk: Desk, id_: str, worked: WorkedJob) -> dict[str, Any]:
    """Give all that the page shows of a job, with its revision.

    Parameters
    ----------
    desk : Desk
        Jobs kept and worked [-].
    id_ : str
        Id of the job [-].
    worked : WorkedJob
        The job as last worked [-].

    Returns
    -------
    dict
        Plain data [-].
    """
    head = desk.store.head(id_)
    sound = desk.sound(head)
    return as_data(build(worked, own_rates=sound.own_rates)) | {
        "revision": head.number,
        "records": len(worked.given.job.record.log),
        "worked": desk.worker.kept(id_).worked_of,
        "problems": [p.model_dump() for p in problems_of(sound)],
    }


def routes(desk: Desk) -> APIRouter:
    """Make the routes of the open job.

    Parameters
    ----------
    desk : Desk
        Jobs kept and worked [-].

    Returns
    -------
    APIRouter
        The routes [-].
    """
    router = APIRouter(tags=["desk"])
    _told(router, desk)
    _previewed(router, desk)
    return router


def _told(router: APIRouter, desk: Desk) -> None:
    @router.get("/jobs/{id}/desk")
    def state(id: str) -> dict[str, Any]:
        """Give all that the desk shows of the newest revision, worked to its end."""
        return state_of(desk, id, worked_of(desk, id))

    @router.get("/jobs/{id}/outline.svg", response_class=Response)
    def outline(
        id: str, width: Annotated[float, Query(gt=0, le=10000)] = WIDE,
        height: Annotated[float | None, Query(gt=0, le=10000)] = None,
    ) -> Response:  # fmt: skip
        """Draw the roof from its tapes alone, at once, before the job is worked."""
        listed_or_404(desk, id)
        head = desk.store.head(id)
        document = desk.store.contents(head).document
        drafted = complete(document, desk.rates_of(head), desk.on(id))
        drawing = draw_begun(walked(drafted, document))
        text = inked(drawing, width, height, "begun")
        return Response(text, media_type="image/svg+xml", headers=FRESH)

    @router.get("/jobs/{id}/slips/{number:path}")
    def slip(id: str, number: str) -> dict[str, Any]:
        """Show how a number of the desk came about, as a slip of paper."""
        try:
            return asdict(slip_of(worked_of(desk, id), number))
        except KeyError:
            what = f'no working of "{number[:80]}"'
            told = fault(404, what, "an id such as heat.u", where="number")
            raise Refused(404, told) from None

    @router.get("/jobs/{id}/rooms/{key}")
    def room(id: str, key: str) -> dict[str, Any]:
        """Show every working of one room."""
        if key not in rooms.TITLES:
            told = fault(404, f'no room "{key[:40]}"', f"one of {', '.join(rooms.TITLES)}")
            raise Refused(404, told)
        shown = rooms.room(key, rooms.TITLES[key], getattr(worked_of(desk, id), key))
        return asdict(shown) | {"drawing": key if key in DRAWN_ROOMS else ""}

    @router.get("/jobs/{id}/rates")
    def rates(id: str) -> dict[str, Any]:
        """Give the rates that the job is worked with."""
        return worked_of(desk, id).case.rates.model_dump(mode="json")


def _previewed(router: APIRouter, desk: Desk) -> None:
    @router.get("/jobs/{id}/preview/{name}.svg", response_class=Response)
    def page(id: str, name: str, page: Annotated[int, Query(ge=1, le=200)] = 1) -> Response:
        """Show one page of a paper as it prints."""
        made = _pages(desk, id, name)
        if page > len(made):
            raise Refused(404, fault(404, f"page {page}", f"one of {len(made)} pages"))
        return Response(made[page - 1], media_type="image/svg+xml", headers=KEPT)

    @router.get("/jobs/{id}/preview/{name}")
    def count(id: str, name: str) -> dict[str, int]:
        """Say how many pages a paper has."""
        return {"pages": len(_pages(desk, id, name))}

    @router.get("/jobs/{id}/papers.zip", response_class=Response)
    def all_papers(id: str) -> Response:
        """Give all papers and plans in one file."""
        head = {"content-disposition": f'attachment; filename="{id}.zip"'}
        body = _zipped(made(desk, worked_of(desk, id)))
        return Response(body, media_type="application/zip", headers=FRESH | head)


def _zipped(files: dict[str, bytes]) -> bytes:
    """Pack files; the same files give the same bytes."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in files.items():
            archive.writestr(zipfile.ZipInfo(name), content)
    return packed.getvalue()


def _pages(desk: Desk, id_: str, name: str) -> tuple[str, ...]:
    listed_or_404(desk, id_)
    if name not in PREVIEWS:
        told = fault(404, f'no preview of "{name[:40]}"', f"one of {', '.join(PREVIEWS)}")
        raise Refused(404, told)
    return pages(worked_of(desk, id_), name, desk.photos)

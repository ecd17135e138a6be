"""Routes of what came from the roof: what it changed, where it stands, what was refused, photos."""

from __future__ import annotations

import io
import zipfile
from typing import Any

from fastapi import APIRouter
from fastapi.responses import Response

from evenfall.app.api.jobs import listed_or_404
from evenfall.app.api.models import Model
from evenfall.app.api.refusals import Refused, of_error
from evenfall.app.api.work import worked_of
from evenfall.app.live.desk import Desk
from evenfall.app.live.from_roof import from_roof
from evenfall.app.site.keeping import Turned, turned_away
from evenfall.errors import InvalidInput
from evenfall.flow import PAPERS

FRESH = {"cache-control": "no-store"}
SHOWN = 160
"""Letters of a value of a refused record that are shown."""
MARKS = ("id", "device", "n", "kind")
"""What names a record; the rest is what it says."""


class DiffersOut(Model):
    """What two records with one id say otherwise."""

    what: str
    kept: str
    sent: str


class TurnedAwayOut(Model):
    """A record that was refused: of what, by whom it came, why, and what it says otherwise."""

    id: str
    says: str
    came: str
    why: str
    differs: list[DiffersOut]


class ShotOut(Model):
    """A photo in the order of the handover file."""

    sha: str
    head: str
    says: str
    here: bool


class RoofOut(Model):
    """What came from the roof; ``last`` is what the last records changed, ``all`` all together."""

    revision: int
    records: int
    by: str
    at: str
    last: list[str]
    all: list[str]
    told: list[str]
    refused: list[TurnedAwayOut]
    photos: list[ShotOut]


def routes(desk: Desk) -> APIRouter:
    """Make the routes.

    Parameters
    ----------
    desk : Desk
        Jobs kept and worked [-].

    Returns
    -------
    APIRouter
        The routes [-].
    """
    router = APIRouter(tags=["roof"])

    @router.get("/jobs/{id}/roof")
    def roof(id: str) -> RoofOut:
        """Tell what the roof changed, where its record stands, what was refused, and its photos."""
        worked = worked_of(desk, id)
        moved, shots = from_roof(desk, id, worked), PAPERS["photos"](worked)
        here = {f.stem for f in desk.photos.iterdir()} if shots and desk.photos.is_dir() else set()
        return RoofOut(
            revision=desk.worker.kept(id).worked_of, records=moved.records, by=moved.by,
            at=moved.at, last=list(moved.last), all=list(moved.all),
            told=list(PAPERS["record"](worked)),
            refused=[shown(t) for t in turned_away(desk.store, id)],
            photos=[ShotOut(sha=sha, head=head, says=says, here=sha in here)
                    for sha, head, says, _ in shots],
        )  # fmt: skip

    @router.get("/jobs/{id}/client-photos.zip", response_class=Response)
    def photos(id: str) -> Response:
        """Give the client's copies: in order, with their marks, without place, time or camera."""
        from evenfall.app.papers.bare import client_photos

        listed_or_404(desk, id)
        try:
            copies, _ = client_photos(worked_of(desk, id), desk.photos)
        except InvalidInput as error:
            raise Refused(400, of_error(error)) from None
        packed = io.BytesIO()
        with zipfile.ZipFile(packed, "w") as archive:
            for name, content in copies:
                archive.writestr(zipfile.ZipInfo(name), content)
        named = {"content-disposition": f'attachment; filename="{id}-photos.zip"'}
        return Response(packed.getvalue(), media_type="application/zip", headers=FRESH | named)

    return router


def shown(turned: Turned) -> TurnedAwayOut:
    """Set a refused record beside the one that is kept; unlike values alone.

    Parameters
    ----------
    turned : Turned
        What was refused, and what is kept under its id [-].

    Returns
    -------
    TurnedAwayOut
        As the owner reads it [-].
    """
    sent, kept = turned.sent or {}, turned.kept or {}
    keys = [k for k in dict.fromkeys((*kept, *sent)) if k not in MARKS]
    differs = [
        DiffersOut(what=k.replace("_", " "), kept=_short(kept.get(k)), sent=_short(sent.get(k)))
        for k in keys if kept and sent.get(k) != kept.get(k)
    ]  # fmt: skip
    says = ", ".join(str(v) for v in (sent.get("kind"), sent.get("who"), sent.get("at")) if v)
    return TurnedAwayOut(
        id=turned.id, says=says[:SHOWN], came=turned.error["where"], why=turned.error["what"],
        differs=differs,
    )  # fmt: skip


def _short(value: Any) -> str:
    if value is None:
        return "nothing"
    return str(value if len(str(value)) <= SHOWN else f"{str(value)[:SHOWN]}…")

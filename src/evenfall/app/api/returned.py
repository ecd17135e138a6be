"""The route of what a telephone gave back: one file of a day, into the job that is open."""

from __future__ import annotations

import re
from typing import Annotated

from fastapi import APIRouter, File, UploadFile

from evenfall.app.api.guard import LARGEST_RETURNED
from evenfall.app.api.jobs import listed_or_404
from evenfall.app.api.models import Model, Refusal
from evenfall.app.api.refusals import Refused, fault
from evenfall.app.live.desk import Desk
from evenfall.app.site.bring import bring_back
from evenfall.app.site.returned import read_returned
from evenfall.errors import InvalidInput


class RefusedOut(Model):
    """A record that was not taken, and why."""

    id: str
    why: str


class LoadedOut(Model):
    """What became of a file: records new and known, photos new and still to come."""

    new: int
    before: int
    photos: int
    to_come: int
    refused: list[RefusedOut]
    revision: int


def routes(desk: Desk) -> APIRouter:
    """Make the route.

    Parameters
    ----------
    desk : Desk
        Jobs kept and worked [-].

    Returns
    -------
    APIRouter
        The route [-].
    """
    router = APIRouter(tags=["roof"])

    @router.post("/jobs/{id}/returned", responses={413: {"model": Refusal}})
    def returned(id: str, day: Annotated[UploadFile, File()]) -> LoadedOut:
        """Load the file that a day sheet gave back; the same file twice does no harm."""
        listed_or_404(desk, id)
        content = day.file.read(LARGEST_RETURNED + 1)
        name = re.sub(r"[^\w. -]", "", (day.filename or "").replace("\\", "/").split("/")[-1])
        try:
            loaded, revision = bring_back(
                desk.store, id, read_returned(content), name[:80] or "a file of a day"
            )
        except InvalidInput as error:
            told = fault(400, error.what, error.expected, where=error.where, do=error.do)
            raise Refused(400, told) from None
        if revision is not None:
            desk.saved(revision)
        return LoadedOut(
            new=len(loaded.new), before=len(loaded.before), photos=loaded.photos,
            to_come=len(loaded.to_come), revision=desk.store.head(id).number,
            refused=[RefusedOut(id=i, why=why) for i, why in loaded.refused],
        )  # fmt: skip

    return router

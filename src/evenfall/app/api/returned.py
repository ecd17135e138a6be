"""The route of what a telephone gave back: one file of a day, into the job that is open."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, File, UploadFile

from evenfall.app.api.jobs import listed_or_404, name_of
from evenfall.app.api.models import Model, Refusal
from evenfall.app.live.desk import Desk
from evenfall.app.site.bring import bring_back
from evenfall.app.site.returned import LARGEST, read_returned


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
        sent, name = read_returned(day.file.read(LARGEST + 1)), name_of(day, "a file of a day")
        loaded, revision = bring_back(desk.store, id, sent, name)
        if revision is not None:
            desk.saved(revision)
        return LoadedOut(
            new=len(loaded.new), before=len(loaded.before), photos=loaded.photos,
            to_come=len(loaded.to_come), revision=desk.store.head(id).number,
            refused=[RefusedOut(id=i, why=why) for i, why in loaded.refused],
        )  # fmt: skip

    return router

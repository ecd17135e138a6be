"""The desk as one web application: routes, pages, guard."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from fastapi import FastAPI

from evenfall.app.api import drafting, edit, jobs, papers, refusals, returned, roof, work
from evenfall.app.api.guard import Guard
from evenfall.app.api.models import Refusal
from evenfall.app.live.desk import Desk

REFUSALS: dict[int | str, dict[str, object]] = {
    status: {"model": Refusal} for status in (400, 403, 404, 413, 421, 503)
}


def make_api(
    desk: Desk, page: Callable[[int], str] | None = None,
    headers: Mapping[str, str] = refusals.HEADERS,
) -> FastAPI:  # fmt: skip
    """Make the application.

    Parameters
    ----------
    desk : Desk
        Jobs kept and worked [-].
    page : callable, optional
        Writes the page of a refusal, where a person asked for a page [-].
    headers : mapping
        With which every answer leaves [-].

    Returns
    -------
    FastAPI
        The application [-].
    """
    app = FastAPI(
        title="Evenfall: the desk", version="1", docs_url=None, redoc_url=None,
        openapi_url="/openapi.json",
        description="Jobs kept and worked on this machine. See docs/http.md.",
    )  # fmt: skip
    app.add_middleware(Guard, extra=headers)
    refusals.register(app, page)
    for part in (papers, jobs, edit, work, drafting, returned, roof):
        app.include_router(part.routes(desk), prefix="/api", responses=REFUSALS)
    return app

"""The pages around the sheet: the list of jobs, the first call, the walk, the roof's record."""

from __future__ import annotations

from typing import Any

from fastapi import FastAPI, HTTPException, Request
from fastapi.responses import HTMLResponse
from jinja2 import Environment

from evenfall.app.live.desk import Desk
from evenfall.app.web.light import chosen_light

FRESH = {"cache-control": "no-store"}


def add_roof_pages(app: FastAPI, desk: Desk, templates: Environment) -> None:
    """Add the pages to the desk's application; each is useful before its script has run.

    Parameters
    ----------
    app : FastAPI
        The application with its routes [-].
    desk : Desk
        Jobs kept and worked [-].
    templates : Environment
        Where the pages are written [-].
    """

    def page(request: Request, file: str, **told: Any) -> HTMLResponse:
        html = templates.get_template(file).render(light=chosen_light(request), **told)
        return HTMLResponse(html, headers=FRESH)

    def named(id_: str) -> str:
        try:
            return desk.store.job(id_).name
        except KeyError:
            raise HTTPException(404) from None

    @app.get("/", response_class=HTMLResponse, include_in_schema=False)
    def jobs(request: Request) -> HTMLResponse:
        """Show the list of jobs."""
        return page(request, "jobs.html", jobs=desk.store.jobs())

    @app.get("/call", response_class=HTMLResponse, include_in_schema=False)
    def call(request: Request) -> HTMLResponse:
        """Show the card of a first call."""
        return page(request, "call.html")

    @app.get("/share", response_class=HTMLResponse, include_in_schema=False)
    def share(request: Request, job: str = "") -> HTMLResponse:
        """Show the switch for phones."""
        return page(request, "share.html", jobs=desk.store.jobs(), chosen=job)

    @app.get("/job/{id}/roof", response_class=HTMLResponse, include_in_schema=False)
    def record(id: str, request: Request) -> HTMLResponse:
        """Show what came from the roof."""
        return page(request, "roof.html", id=id, name=named(id))

    @app.get("/job/{id}/walk", response_class=HTMLResponse, include_in_schema=False)
    def walk(id: str, request: Request) -> HTMLResponse:
        """Show the walk round a roof."""
        return page(request, "walk.html", id=id, name=named(id))

"""The desk's pages: the list of jobs, the open job as a light shell, its style, script and font."""

from __future__ import annotations

import json
from functools import cache
from importlib.util import find_spec
from pathlib import Path

from fastapi import FastAPI, HTTPException, Request
from fastapi.responses import FileResponse, HTMLResponse, RedirectResponse, Response
from jinja2 import Environment, FileSystemLoader, StrictUndefined

from evenfall.app.api.application import REFUSALS
from evenfall.app.live.desk import Desk
from evenfall.app.web.light import LIGHTS, chosen_light
from evenfall.app.web.morning_page import add_morning_page
from evenfall.app.web.roof_pages import add_roof_pages
from evenfall.app.web.routes import routes, state_of
from evenfall.app.web.sent import add_static

HERE = Path(__file__).parent
YEAR = 365 * 24 * 3600
WALK = "/job/{id}/walk"
"""Where a roof is walked; the sheet leads there if it is served."""
FONTS = {"regular": "SourceSansPro-Regular.otf", "bold": "SourceSansPro-Bold.otf"}
"""The face of the papers, sent along so that labels keep the room that was reckoned for them."""
KEPT = {"cache-control": f"private, max-age={YEAR}, immutable"}
FRESH = {"cache-control": "no-store"}

WRONG = {
    404: ("There is nothing here.", "Go back to the list of jobs."),
    400: ("That cannot be shown.", "Look at the address, or at what the job says."),
    403: ("Another page asked for this.", "Open the desk by its own address."),
    405: ("That is not how this is asked.", "Go back to the list of jobs."),
    421: ("This is not your desk.", "Open it by the address that the command line printed."),
    500: ("The desk could not draw this job.", "The command line says what went wrong."),
}
"""What went wrong, and what to do, by the number of the answer."""


def add_pages(app: FastAPI, desk: Desk) -> None:
    """Add the pages to the desk's application, and what they ask for.

    Parameters
    ----------
    app : FastAPI
        The application with its routes [-].
    desk : Desk
        Jobs kept and worked [-].
    """
    app.include_router(routes(desk), prefix="/api", responses=REFUSALS)
    add_static(app)
    add_roof_pages(app, desk, templates())
    add_morning_page(app, desk, templates())

    @app.get("/job/{id}", response_class=HTMLResponse, include_in_schema=False)
    def job(id: str, request: Request) -> HTMLResponse:
        """Show a job: what is known of it at once, the rest as it is worked."""
        walk = any(getattr(route, "path", "") == WALK for route in app.routes)
        page = shell(desk, id, chosen_light(request), walk=walk)
        return HTMLResponse(page, headers=FRESH)

    @app.get("/fonts/{name}.otf", include_in_schema=False)
    def font(name: str) -> FileResponse:
        """Send the face of the papers."""
        spec = find_spec("font_source_sans_pro")
        if name not in FONTS or spec is None or spec.origin is None:
            raise HTTPException(404)
        file = Path(spec.origin).parent / "files" / FONTS[name]
        return FileResponse(file, media_type="font/otf", headers=KEPT)

    app.get("/light/{name}", include_in_schema=False)(light_of)


def shell(desk: Desk, id_: str, light: str, *, walk: bool = False) -> str:
    """Write the page of a job without waiting for its work.

    Parameters
    ----------
    desk : Desk
        Jobs kept and worked [-].
    id_ : str
        Id of the job [-].
    light : str
        The light that was chosen, if any [-].
    walk : bool
        Whether the roof can be walked [-].

    Returns
    -------
    str
        HTML; with the state of the job where it is worked already [-].
    """
    try:
        listed = desk.store.job(id_)
    except KeyError:
        raise HTTPException(404) from None
    head, _, run = desk.run(id_)
    kept = desk.worker.kept(id_)
    known = ""
    if kept.worked is not None and (kept.worked_of == head.number or run is None):
        known = json.dumps(state_of(desk, id_, kept.worked), default=str, ensure_ascii=False)
    return (
        templates()
        .get_template("job.html")
        .render(
            id=id_, name=listed.name, about=listed.where, light=light, walk=walk,
            known=known.replace("<", "\\u003c"),
        )
    )  # fmt: skip


def light_of(name: str) -> Response:
    """Remember a light and go back to the desk."""
    if name not in LIGHTS:
        raise HTTPException(404)
    answer = RedirectResponse("/", 303, headers={"cache-control": "no-store"})
    if name == "machine":
        answer.delete_cookie("light", samesite="strict")
    else:
        answer.set_cookie("light", name, max_age=YEAR, samesite="strict")
    return answer


@cache
def templates() -> Environment:
    """Return the templates; every text is escaped, and a missing field is an error.

    Returns
    -------
    Environment
        The templates of the desk [-].
    """
    return Environment(
        loader=FileSystemLoader(HERE / "templates"), autoescape=True, undefined=StrictUndefined,
        trim_blocks=True, lstrip_blocks=True,
    )  # fmt: skip


def wrong_page(status: int) -> str:
    """Write the page of an error.

    Parameters
    ----------
    status : int
        Number of the answer [-].

    Returns
    -------
    str
        HTML [-].
    """
    says, do = WRONG.get(status, WRONG[404])
    return templates().get_template("wrong.html").render(says=says, do=do)

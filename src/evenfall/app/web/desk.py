"""The desk's pages: the list of jobs, the open job as a light shell, its style, script and font."""

from __future__ import annotations

import json
import logging
from collections.abc import Iterator
from functools import cache
from importlib.util import find_spec
from pathlib import Path

from fastapi import FastAPI, HTTPException, Request
from fastapi.responses import (
    FileResponse,
    HTMLResponse,
    RedirectResponse,
    Response,
    StreamingResponse,
)
from jinja2 import Environment, FileSystemLoader, StrictUndefined

from evenfall.app.api.application import REFUSALS
from evenfall.app.api.refusals import HEADERS, POLICY
from evenfall.app.live.desk import Desk
from evenfall.app.web.light import LIGHTS, chosen_light
from evenfall.app.web.morning_page import add_morning_page
from evenfall.app.web.roof_pages import add_roof_pages
from evenfall.app.web.routes import routes, state_of
from evenfall.app.web.sent import add_static, inline

HERE = Path(__file__).parent
YEAR = 365 * 24 * 3600
WALK = "/job/{id}/walk"
"""Where a roof is walked; the sheet leads there if it is served."""
FONTS = {"regular": "SourceSansPro-Regular.otf", "bold": "SourceSansPro-Bold.otf"}
"""The face of the papers, sent along so that labels keep the room that was reckoned for them."""
KEPT = {"cache-control": f"private, max-age={YEAR}, immutable"}
FRESH = {"cache-control": "no-store"}
INLINE = ("tokens.css", "base.css", "desk.css")
"""Style sheets that stand in the job's page itself; they are small, and a request would hold it."""
MODULES = (
    "sheet", "desk", "api", "dom", "head", "roll", "stick", "section", "marks", "evenings", "days",
    "under", "fields", "news",
)  # fmt: skip
"""All modules of the sheet, the first of which is its script; a browser asks for all at once."""
AT_LAST = "".join(
    (
        *(f'<link rel="modulepreload" href="/static/{name}.js">\n' for name in MODULES),
        f'<script type="module" src="/static/{MODULES[0]}.js"></script>\n</body>\n</html>\n',
    )
)
LOG = logging.getLogger("uvicorn.error")

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
    def job(id: str, request: Request) -> StreamingResponse:
        """Show a job: what is known of it at once, the rest as it is worked."""
        walk = any(getattr(route, "path", "") == WALK for route in app.routes)
        page = shell(desk, id, chosen_light(request), walk=walk)
        return StreamingResponse(page, media_type="text/html", headers=FRESH)

    @app.get("/fonts/{name}.otf", include_in_schema=False)
    def font(name: str) -> FileResponse:
        """Send the face of the papers."""
        spec = find_spec("font_source_sans_pro")
        if name not in FONTS or spec is None or spec.origin is None:
            raise HTTPException(404)
        file = Path(spec.origin).parent / "files" / FONTS[name]
        return FileResponse(file, media_type="font/otf", headers=KEPT)

    app.get("/light/{name}", include_in_schema=False)(light_of)


def headers() -> dict[str, str]:
    """Give the headers of every answer; the policy knows the style that stands in the job's page.

    Returns
    -------
    dict
        By their names [-].
    """
    policy = f"{POLICY}; style-src 'self' {inline(*INLINE)[1]}"
    return HEADERS | {"content-security-policy": policy}


def shell(desk: Desk, id_: str, light: str, *, walk: bool = False) -> Iterator[str]:
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
    iterator of str
        HTML: all that can be painted, then the state of the job where it is worked already [-].
    """
    try:
        listed = desk.store.job(id_)
    except KeyError:
        raise HTTPException(404) from None
    page = (
        templates()
        .get_template("job.html")
        .render(
            id=id_, name=listed.name, about=listed.where, light=light, walk=walk,
            first=desk.worker.kept(id_).worked is None, style=inline(*INLINE)[0],
        )
    )  # fmt: skip
    return _in_turn(desk, id_, page)


def _in_turn(desk: Desk, id_: str, page: str) -> Iterator[str]:
    """Send what can be painted, and only then see what is known."""
    yield page
    try:
        known = _known(desk, id_)
    except Exception:  # the page stands; its script asks again, and shows what is wrong
        LOG.exception("the state of the job %s", id_)
        known = ""
    if known:
        yield f'<script type="application/json" id="known">{known}</script>\n'
    yield AT_LAST


def _known(desk: Desk, id_: str) -> str:
    """Give the state of a job that is worked, to stand in a page; begin the work of another."""
    head, _, run = desk.run(id_)
    kept = desk.worker.kept(id_)
    if kept.worked is None or not (kept.worked_of == head.number or run is None):
        return ""
    told = json.dumps(state_of(desk, id_, kept.worked), default=str, ensure_ascii=False)
    return told.replace("<", "\\u003c")


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

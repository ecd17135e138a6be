"""The desk as a web application: one read-only page, its style, its script, nothing else."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Callable
from functools import cache, lru_cache
from pathlib import Path

from fastapi import FastAPI, HTTPException, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from fastapi.staticfiles import StaticFiles
from jinja2 import Environment, FileSystemLoader, StrictUndefined

from evenfall.app.api.guard import Guard
from evenfall.app.api.refusals import HEADERS
from evenfall.app.live.desk import Desk
from evenfall.app.web.page import build
from evenfall.app.web.roof_pages import add_roof_pages
from evenfall.app.web.source import Seen
from evenfall.flow import WorkedJob

HERE = Path(__file__).parent
LIGHTS = ("paper", "dusk", "sun", "machine")
"""What the page may be seen in; ``machine`` follows the settings of the machine."""
YEAR = 365 * 24 * 3600
LONGEST_S = 120.0
"""How long a page waits for its job to be worked; a first working takes some seconds."""

WRONG = {
    404: ("There is nothing here.", "The desk is one page, and it begins at its first line."),
    400: ("That cannot be shown.", "Look at the address, or at what the job file says."),
    403: ("Another page asked for this.", "Open the desk by its own address."),
    405: ("The desk only shows.", "It is changed in the job file, not from here."),
    421: ("This is not your desk.", "Open it by the address that the command line printed."),
    500: ("The desk could not draw this job.", "The command line says what went wrong."),
}
"""What went wrong, and what to do, by the number of the answer."""


def make_app(worked: WorkedJob | Callable[[], Seen], *, own_rates: bool = False) -> FastAPI:
    """Make the desk of a job.

    Parameters
    ----------
    worked : WorkedJob or callable
        The job worked out, or what gives it as it is now [-].
    own_rates : bool
        Whether the firm's own rates were found, where ``worked`` is a job [-].

    Returns
    -------
    FastAPI
        The application [-].
    """
    source = worked if callable(worked) else _fixed(Seen(worked, own_rates, "job.yaml"))
    app = FastAPI(title="Evenfall: the desk", docs_url=None, redoc_url=None, openapi_url=None)
    app.add_middleware(Guard, refuse=refused_page)
    app.mount("/static", StaticFiles(directory=HERE / "static"), name="static")
    rendered = lru_cache(maxsize=2 * len(LIGHTS))(_render)

    @app.get("/", response_class=HTMLResponse)
    def desk(request: Request) -> HTMLResponse:
        """Show the desk."""
        light = request.cookies.get("light", "")
        page = rendered(_Same(source()), light if light in LIGHTS[:-1] else "")
        return HTMLResponse(page, headers={"cache-control": "no-store"})

    app.get("/light/{name}")(light_of)
    for status in (404, 405, 500):
        app.add_exception_handler(status, _wrong)
    return app


def add_pages(app: FastAPI, desk: Desk) -> None:
    """Add the pages to the desk's application: the list of jobs, and each job as a sheet.

    Parameters
    ----------
    app : FastAPI
        The application with its routes [-].
    desk : Desk
        Jobs kept and worked [-].
    """
    app.mount("/static", StaticFiles(directory=HERE / "static"), name="static")
    rendered = lru_cache(maxsize=2 * len(LIGHTS))(_render)

    add_roof_pages(app, desk, templates())

    @app.get("/job/{id}", response_class=HTMLResponse, include_in_schema=False)
    def job(id: str, request: Request) -> HTMLResponse:
        """Show a job as a sheet."""
        seen = _seen(desk, id)
        light = request.cookies.get("light", "")
        page = rendered(_Same(seen), light if light in LIGHTS[:-1] else "")
        return HTMLResponse(page, headers={"cache-control": "no-store"})

    app.get("/light/{name}", include_in_schema=False)(light_of)


_last: dict[str, Seen] = {}


def _seen(desk: Desk, id_: str) -> Seen:
    """Give the newest revision worked; where it cannot be, the last one, with the trouble."""
    try:
        listed = desk.store.job(id_)
    except KeyError:
        raise HTTPException(404) from None
    _, sound, run = desk.run(id_)
    if run:
        run.ended.wait(LONGEST_S)
    worked = desk.worker.kept(id_).worked
    trouble = tuple(p.told(listed.name) for p in sound.problems)
    if run and run.error:
        trouble = tuple(str(run.error).splitlines())
    if worked is None:
        raise HTTPException(400)
    before = _last.get(id_)
    if before is None or before.worked is not worked or before.trouble != trouble:
        _last[id_] = Seen(worked, sound.own_rates, listed.name, trouble)
    return _last[id_]


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


def _fixed(seen: Seen) -> Callable[[], Seen]:
    return lambda: seen


@dataclasses.dataclass(frozen=True, eq=False)
class _Same:
    """A job that is equal only to itself, so that comparing it costs nothing."""

    seen: Seen

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.seen is self.seen

    def __hash__(self) -> int:
        return id(self.seen)


@cache
def templates() -> Environment:
    """Return the templates; every text is escaped, and a missing field is an error.

    Returns
    -------
    Environment
        The templates of the desk [-].
    """
    found = Environment(
        loader=FileSystemLoader(HERE / "templates"), autoescape=True, undefined=StrictUndefined,
        trim_blocks=True, lstrip_blocks=True,
    )  # fmt: skip
    found.filters["lowered"] = lowered
    return found


_SYMBOL = re.compile(r"\b([^\W\d_]{1,2})_(\w+)|([^\W_]+_\w+)")


def lowered(formula: str) -> list[tuple[str, str]]:
    """Part a formula into texts and the index that is lowered after each.

    A name of whole words is no symbol; it is written as words.

    Parameters
    ----------
    formula : str
        Such as ``U_c = U + ΔU_g`` [-].

    Returns
    -------
    list of tuple
        Text, and index or nothing [-].

    Examples
    --------
    >>> lowered("ΔU_g < build_up")
    [('ΔU', 'g'), (' < build up', '')]
    """
    parts, start = [("", "")], 0
    for found in _SYMBOL.finditer(formula):
        before = formula[start : found.start()]
        start = found.end()
        text, index = (found[3].replace("_", " "), "") if found[3] else (found[1], found[2])
        parts.append((before + text, index.replace("_", ",")))
    parts.append((formula[start:], ""))
    return _joined(parts)


def _joined(parts: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """Join texts that no index parts."""
    found: list[tuple[str, str]] = []
    for text, index in parts:
        if found and not found[-1][1]:
            text = found.pop()[0] + text
        found.append((text, index))
    return [part for part in found if part != ("", "")]


def _render(same: _Same, light: str) -> str:
    seen = same.seen
    page = build(seen.worked, own_rates=seen.own_rates)
    fields = {f.name: getattr(page, f.name) for f in dataclasses.fields(page)}
    told = {"light": light, "lights": LIGHTS, "trouble": seen.trouble, "file": seen.file}
    return templates().get_template("desk.html").render(**fields, **told)


async def _wrong(request: Request, error: Exception) -> HTMLResponse:
    """Say in words what went wrong; one page for every error."""
    status = int(getattr(error, "status_code", 500))
    extra = HEADERS if status == 500 else {}  # answered outside of the guard
    return HTMLResponse(wrong_page(status), status, extra)


def refused_page(status: int, told: dict[str, str]) -> HTMLResponse:
    """Answer a refusal with a page.

    Parameters
    ----------
    status : int
        Number of the answer [-].
    told : dict
        What is wrong, for programs [-].

    Returns
    -------
    HTMLResponse
        The page [-].
    """
    return HTMLResponse(wrong_page(status), status)


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

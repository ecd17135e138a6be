"""The morning on the desk: a forecast is chosen or pasted, the answer stands below. No script."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Annotated, Any

from fastapi import FastAPI, Form, HTTPException, Request, UploadFile
from fastapi.responses import HTMLResponse
from jinja2 import Environment

from evenfall.app.api.refusals import Refused
from evenfall.app.api.work import worked_of
from evenfall.app.live.desk import Desk
from evenfall.app.morning_words import cover_of, time_of, told
from evenfall.app.web.draw import inked
from evenfall.app.web.light import chosen_light
from evenfall.errors import InvalidFile, InvalidInput
from evenfall.flow import WorkedJob
from evenfall.model.morning import Morning
from evenfall.weather import draw_day, morning_of, read_weather

TAPE_WIDE = 640.0  # px; a telephone draws it along under the thumb
FRESH = {"cache-control": "no-store"}
LARGEST = 2_000_000  # letters of a forecast; a fortnight of hours has twenty thousand
MOST_TOLD = 8  # mistakes of a file told one by one
MOST_DONE = 300  # ticks: bays, and what comes before them
MOST_PEOPLE = 20  # hands, as the command line has it


@dataclass(frozen=True, slots=True)
class Asked:
    """What the form says."""

    forecast: str = ""
    name: str = "pasted forecast"
    now: str = ""
    done: tuple[str, ...] = ()
    covers: str = ""
    people: str = ""
    contact: bool = False


def add_morning_page(app: FastAPI, desk: Desk, templates: Environment) -> None:
    """Add the page of the morning to the desk.

    Parameters
    ----------
    app : FastAPI
        The application with its routes [-].
    desk : Desk
        Jobs kept and worked [-].
    templates : Environment
        Where the page is written [-].
    """

    def page(request: Request, id_: str, asked: Asked, status: int = 200, **more: Any) -> Any:
        html = templates.get_template("morning.html").render(
            light=chosen_light(request), id=id_, name=_name(desk, id_), asked=asked,
            parts=_parts(desk, id_), **{"lines": (), "tape": "", "wrong": ()} | more,
        )  # fmt: skip
        return HTMLResponse(html, status, headers=FRESH)

    @app.get("/job/{id}/morning", response_class=HTMLResponse, include_in_schema=False)
    def empty(id: str, request: Request) -> Any:
        """Show the form."""
        return page(request, id, Asked())

    @app.post("/job/{id}/morning", response_class=HTMLResponse, include_in_schema=False)
    def answered(
        id: str, request: Request, file: UploadFile | None = None,
        pasted: Annotated[str, Form(max_length=LARGEST)] = "",
        now: Annotated[str, Form(max_length=40)] = "",
        done: Annotated[list[str] | None, Form(max_length=MOST_DONE)] = None,
        covers: Annotated[str, Form(max_length=400)] = "",
        people: Annotated[str, Form(max_length=4)] = "",
        contact: Annotated[bool, Form()] = False,
    ) -> Any:  # fmt: skip
        """Answer for this morning, or say what is wrong with what was asked."""
        _name(desk, id)
        asked = Asked(pasted, "pasted forecast", now, tuple(done or ()), covers, people, contact)
        try:
            asked = _with_file(asked, file)
            answer = answer_of(worked_of(desk, id), asked)
        except InvalidFile as error:
            wrong = (str(m) for m in error.mistakes[:MOST_TOLD])
            return page(request, id, asked, 422, wrong=tuple(wrong))
        except InvalidInput as error:
            return page(request, id, asked, 422, wrong=(str(error),))
        tape = inked(draw_day(answer), TAPE_WIDE, None, "morning")
        return page(request, id, asked, lines=tuple(told(answer)), tape=tape)


def _name(desk: Desk, id_: str) -> str:
    try:
        return desk.store.job(id_).name
    except KeyError:
        raise HTTPException(404) from None


def _with_file(asked: Asked, file: UploadFile | None) -> Asked:
    """Take the file that was chosen before what was pasted."""
    if file is None or not file.filename:
        return asked
    raw = file.file.read(LARGEST + 1)
    if len(raw) > LARGEST:
        raise InvalidInput("a forecast of more than two million letters", "the hours to come",
                           where="forecast")  # fmt: skip
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise InvalidInput("signs that are not UTF-8", "text", where="forecast",
                           do="save it as UTF-8") from None  # fmt: skip
    return replace(asked, forecast=text, name=file.filename[:80])


def answer_of(worked: WorkedJob, asked: Asked) -> Morning:
    """Answer what the form asks.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].
    asked : Asked
        The form [-].

    Returns
    -------
    Morning
        The answer; the roofer decides [-].

    Raises
    ------
    InvalidFile
        The forecast cannot be read.
    InvalidInput
        It is too old, or something else cannot be so.
    """
    if not asked.forecast.strip():
        raise InvalidInput("no forecast", "a file of hours, or its lines pasted", where="forecast",
                           do="docs/forecast.md describes the columns")  # fmt: skip
    return morning_of(
        worked, read_weather(asked.forecast, asked.name),
        time_of(asked.now.strip() or None, "as at"), asked.done,
        tuple(cover_of(c, "covers") for c in _covers(asked.covers)), _people(asked.people),
        asked.contact,
    )  # fmt: skip


def _covers(text: str) -> list[str]:
    """Part the covers; a roofer writes "6.5 × 5.6, 4 × 4"."""
    return re.sub(r"\s*[x×X]\s*", "x", text).replace(",", " ").split()


def _parts(desk: Desk, id_: str) -> tuple[tuple[str, str], ...]:
    """Name what may be ticked as done; nothing before the job was worked out."""
    try:
        bays = worked_of(desk, id_).programme.bays
    except Refused:
        return ()
    return (("set-up", "set up"), *((f"bay:{b.number}", f"bay {b.number}") for b in bays))


def _people(text: str) -> int | None:
    if not text.strip():
        return None
    if not text.strip().isdigit() or not 1 <= int(text) <= MOST_PEOPLE:
        raise InvalidInput(f'"{text}" hands', f"a number from 1 to {MOST_PEOPLE}", where="hands")
    return int(text)

"""Routes of a job that is only begun: the roof as walked, defaults, which matter; first call."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Iterator
from typing import Any

from fastapi import APIRouter
from fastapi.responses import StreamingResponse

from evenfall.app.api import models as m
from evenfall.app.api.jobs import listed_or_404, problems_of, saved
from evenfall.app.live.desk import Desk
from evenfall.app.store.kept import Contents
from evenfall.drafting import asks, enquiry, rough
from evenfall.drafting.complete import Drafted, complete
from evenfall.drafting.matters import in_order, weigh
from evenfall.drafting.walked import walked
from evenfall.errors import EvenfallError
from evenfall.model.job import FORMAT
from evenfall.model.rates import Rates

NDJSON = "application/x-ndjson"
FRESH = {"cache-control": "no-store"}
LONGEST_S = 120.0
"""How long the weighing waits for the job to be worked as it stands."""


class DraftOut(m.Model):
    """A job as far as it is known: its roof, its defaults, what was set aside."""

    id: str
    name: str
    revision: int
    document: m.Data
    roof: m.Data
    filled: list[m.Data]
    aside: list[m.Fault]
    problems: list[m.Fault]
    choices: m.Data


class CallIn(m.Model):
    """What was said on the telephone."""

    answers: enquiry.Answers


class CallOut(m.Model):
    """What follows: the verdict with its reasons, what to bring and what to ask."""

    verdict: str
    reasons: list[m.Data]
    bring: list[str]
    ask: list[str]
    photos: list[str]


class BandOut(m.Model):
    """A rough price, marked as such; none without a size."""

    band: m.Data | None


class BeginIn(CallIn):
    """What was said, to become a job."""

    who: m.Who = ""


def routes(desk: Desk) -> APIRouter:
    """Make the routes of jobs that are only begun.

    Parameters
    ----------
    desk : Desk
        Jobs kept and worked [-].

    Returns
    -------
    APIRouter
        The routes [-].
    """
    router = APIRouter(tags=["drafting"])
    _of_job(router, desk)
    _of_call(router, desk)
    return router


def _of_job(router: APIRouter, desk: Desk) -> None:
    @router.get("/jobs/{id}/draft")
    def draft(id: str) -> DraftOut:
        """Give the roof as walked so far, every default with its reason, and what fits not."""
        name = listed_or_404(desk, id).name
        head = desk.store.head(id)
        contents, rates = desk.store.contents(head), desk.rates_of(head)
        drafted = complete(contents.document, rates, desk.on(id))
        return DraftOut(
            id=id, name=name, revision=head.number, document=contents.document,
            roof=_plain(walked(drafted, contents.document)),
            filled=[{k: v for k, v in _plain(f).items() if k != "others"} for f in drafted.filled],
            aside=_slips(drafted), problems=problems_of(desk.sound(head)),
            choices=_choices(rates),
        )  # fmt: skip

    @router.get("/jobs/{id}/matters", response_class=StreamingResponse)
    def matters(id: str) -> StreamingResponse:
        """Weigh the defaults one by one, a line of JSON each; the cheap ones come first."""
        listed_or_404(desk, id)
        return StreamingResponse(_weighed(desk, id), media_type=NDJSON, headers=FRESH)

    @router.get("/asks")
    def asked() -> m.Data:
        """Give what the walk asks: questions in everyday words, shapes, what can be placed."""
        return {
            "groups": _plain(asks.GROUPS), "side": _plain(asks.SIDE), "things": _plain(asks.THINGS),
            "shapes": _plain(asks.SHAPES), "kinds": _plain(asks.KINDS),
        }  # fmt: skip


def _weighed(desk: Desk, id_: str) -> Iterator[str]:
    head, sound, run = desk.run(id_)
    if run is None or sound.case is None:
        faults = [f.model_dump() for f in problems_of(sound)]
        yield _line({"done": True, "revision": head.number, "problems": faults})
        return
    run.ended.wait(LONGEST_S)
    worked = desk.worker.kept(id_).worked
    contents = desk.store.contents(head)
    filled = in_order(complete(contents.document, sound.case.rates, sound.case.on).filled)
    runs = 0
    for number, default in enumerate(filled, 1):
        if worked is None or desk.store.head(id_).number != head.number:
            yield _line({"done": False, "revision": head.number, "left": True, "runs": runs})
            return
        found = weigh(sound.case, default, worked)
        runs += found.runs
        yield _line({"at": number, "of": len(filled), "revision": head.number, **_plain(found)})
    yield _line({"done": True, "revision": head.number, "of": len(filled), "runs": runs})


def _of_call(router: APIRouter, desk: Desk) -> None:
    @router.get("/call")
    def questions() -> list[m.Data]:
        """Give the questions of a first call, in their order."""
        told: list[m.Data] = _plain(enquiry.QUESTIONS)
        return told

    @router.post("/call")
    def call(body: CallIn) -> CallOut:
        """Say at once what follows from a first call; saves nothing."""
        found = enquiry.card(body.answers, desk.today())
        told = _plain(found)
        del told["document"]
        return CallOut(**told)

    @router.post("/call/band")
    def rough_price(body: CallIn) -> BandOut:
        """Work out a rough price, which takes some seconds; it is no quotation."""
        return BandOut(band=_band(desk, body.answers))

    @router.post("/call/begin", status_code=201)
    def begin(body: BeginIn) -> m.SavedOut:
        """Make a job of a first call, with everything in it that was said."""
        document = {"format": FORMAT, **enquiry.document(body.answers)}
        contents = desk.bounded(Contents(document, None))
        return saved(desk.saved(desk.store.make(contents, body.who or "first call")))


def _band(desk: Desk, answers: enquiry.Answers) -> dict[str, Any] | None:
    try:
        found = rough.band(answers, desk.cases.rates, desk.today())
    except EvenfallError:
        return None  # no roof of that size can be worked; the verdict says what to do
    return _plain(found) if found else None


def _choices(rates: Rates) -> dict[str, Any]:
    named: dict[str, Any] = {"boards": rates.boards, "sheets": rates.sheets, "vcls": rates.vcls}
    return {key: [[s.name, s.says.split(",")[0]] for s in listed] for key, listed in named.items()}


def _slips(drafted: Drafted) -> list[m.Fault]:
    return [
        m.Fault(code="set-aside", where=s.path, what=s.found, expected=s.expected, do=s.do)
        for s in drafted.aside
    ]


def _plain(value: Any) -> Any:
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {f.name: _plain(getattr(value, f.name)) for f in dataclasses.fields(value)}
    if isinstance(value, dict):
        return {k: _plain(v) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(v) for v in value]
    return round(value, 6) if isinstance(value, float) else value


def _line(told: dict[str, Any]) -> str:
    return json.dumps(told, ensure_ascii=False) + "\n"

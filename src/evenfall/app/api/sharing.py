"""The switch on the desk: what is shared, with which phones, and until when."""

from __future__ import annotations

import dataclasses
from datetime import datetime
from io import BytesIO
from typing import Annotated, Any

import segno
from fastapi import APIRouter
from pydantic import StringConstraints

from evenfall.app.api.jobs import listed_or_404
from evenfall.app.api.models import JobId, Model
from evenfall.app.api.refusals import Refused, fault
from evenfall.app.site.keeping import turned_away
from evenfall.app.site.sharing import Sharing

GUESSES_TOLD = 50
QUIET = 4
"""Modules of white round a code, as its standard asks (ISO/IEC 18004, from memory)."""


class SwitchIn(Model):
    """Whether records are shared; and on which address of this machine, where it has several."""

    on: bool
    address: Annotated[str, StringConstraints(max_length=40)] | None = None


class TokenIn(Model):
    """The job that a phone is to be paired with."""

    job: JobId


class PhoneOut(Model):
    """A paired phone."""

    id: str
    name: str
    paired: str
    heard: str
    shut_out: str | None
    jobs: list[str]


class GuessOut(Model):
    """A try that opened nothing."""

    at: str
    address: str
    what: str


class SharingOut(Model):
    """The switch, the phones, and who tried in vain."""

    on: bool
    until: datetime | None
    url: str
    certificate_url: str
    certificate_code: str
    fingerprint: str
    phones: list[PhoneOut]
    guesses: list[GuessOut]


class CodeOut(Model):
    """A code that pairs one phone, once, within ten minutes; ``code`` is its picture (SVG)."""

    url: str
    code: str
    until: datetime


class TurnedOut(Model):
    """An entry that was refused because its id says something else already: both of them."""

    id: str
    why: str
    came: str
    kept: dict[str, Any] | None
    sent: dict[str, Any] | None


class TurnedListOut(Model):
    """All such entries of a job."""

    id: str
    turned_away: list[TurnedOut]


def routes(sharing: Sharing) -> APIRouter:
    """Make the routes of the switch.

    Parameters
    ----------
    sharing : Sharing
        The switch [-].

    Returns
    -------
    APIRouter
        The routes [-].
    """
    router = APIRouter(tags=["sharing"])
    _of_switch(router, sharing)
    _of_phones(router, sharing)
    return router


def _of_switch(router: APIRouter, sharing: Sharing) -> None:
    @router.get("/sharing")
    def state() -> SharingOut:
        """Say whether records are shared, with whom and until when."""
        return _state(sharing)

    @router.post("/sharing", include_in_schema=False)
    def switch(body: SwitchIn) -> SharingOut:
        """Turn the switch; a person does this, no program."""
        if body.on:
            sharing.start(body.address)
        else:
            sharing.stop()
        return _state(sharing)


def _of_phones(router: APIRouter, sharing: Sharing) -> None:
    @router.post("/sharing/code", status_code=201)
    def code(body: TokenIn) -> CodeOut:
        """Make a code that pairs one phone with one job."""
        listed_or_404(sharing.desk, body.job)
        if not sharing.on:
            told = fault(400, "nothing is shared", "the switch on", where="sharing", do="turn it")
            raise Refused(400, told)
        token, until = sharing.pairing.token(body.job)
        url = f"{sharing.url}pair#{token}"
        return CodeOut(url=url, code=drawn(url), until=until)

    @router.post("/sharing/phones/{phone}/shut-out")
    def shut_out(phone: str) -> SharingOut:
        """Take nothing more from a phone; what it brought stays."""
        try:
            sharing.pairing.shut_out(phone)
        except KeyError:
            told = fault(404, f"no phone {phone[:40]!r}", "one of the list", where="phone")
            raise Refused(404, told) from None
        return _state(sharing)

    @router.get("/jobs/{id}/turned-away")
    def turned(id: str) -> TurnedListOut:
        """List entries of the roof that were refused, beside what is kept in their place."""
        listed_or_404(sharing.desk, id)
        found = [
            TurnedOut(id=t.id, why=t.error["what"], came=t.error["where"], kept=t.kept, sent=t.sent)
            for t in turned_away(sharing.desk.store, id)
        ]
        return TurnedListOut(id=id, turned_away=found)


def _state(sharing: Sharing) -> SharingOut:
    phones = [PhoneOut(**{**dataclasses.asdict(p), "jobs": list(p.jobs)})
              for p in sharing.pairing.phones()]  # fmt: skip
    guesses = [GuessOut(**dataclasses.asdict(g)) for g in sharing.pairing.guesses()]
    url = sharing.certificate_url
    return SharingOut(
        on=sharing.on, until=sharing.until, url=sharing.url, certificate_url=url,
        certificate_code=drawn(url) if url else "", fingerprint=sharing.fingerprint,
        phones=phones, guesses=guesses[:GUESSES_TOLD],
    )  # fmt: skip


def drawn(text: str) -> str:
    """Draw a code that a camera reads.

    Parameters
    ----------
    text : str
        What it says [-].

    Returns
    -------
    str
        SVG, without size: the page gives it one [-].
    """
    file = BytesIO()
    segno.make(text, error="m", micro=False).save(
        file, kind="svg", xmldecl=False, omitsize=True, border=QUIET, light="#fff", dark="#000"
    )
    return file.getvalue().decode()

"""The page of the phone: its shell, its script that works without a network, how it is paired."""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Annotated

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from pydantic import StringConstraints

from evenfall.app.api.models import Model
from evenfall.app.api.refusals import Refused, fault
from evenfall.app.site.admission import COOKIE, ROOT, STATIC, address_of, cookie_of, refusal
from evenfall.app.site.pairing import COOKIE_LASTS, NotPaired, Pairing
from evenfall.app.web import sent
from evenfall.app.web.desk import HERE, templates

OWN = HERE / "static" / "site"
SHARED = ("tokens.css", "mark.svg")
"""Files of the desk's own pages that the phone's page uses too."""
WORKER = "sw.js"
TYPES = {".js": "text/javascript", ".css": "text/css", ".svg": "image/svg+xml"}
FRESH = {"cache-control": "no-cache"}
NAME = "Evenfall: the day"


class PairIn(Model):
    """The token of the code on the screen, and what the phone is to be called."""

    token: Annotated[str, StringConstraints(min_length=1, max_length=100)]
    name: Annotated[str, StringConstraints(max_length=80)] = ""


def files() -> dict[str, Path]:
    """List the files of the phone's page by their addresses.

    Returns
    -------
    dict
        Address to file, in their order [-].
    """
    own = sorted(p for p in OWN.iterdir() if p.suffix in TYPES and p.name != WORKER)
    shared = [HERE / "static" / name for name in SHARED]
    return {f"{STATIC}{p.name}": p for p in [*own, *shared]}


@cache
def version() -> str:
    """Name the page by its content, so that a phone knows a new one.

    Returns
    -------
    str
        Hash of all files that the phone keeps [-].
    """
    digest = sha256(_shell("page").encode())
    for address, file in files().items():
        digest.update(address.encode() + file.read_bytes())
    return digest.hexdigest()[:16]


def _shell(name: str, **told: str) -> str:
    return templates().get_template(f"site-{name}.html").render(**told)


def _worker() -> str:
    """Write the script that answers while there is no network."""
    kept = [f"{ROOT}/", f"{ROOT}/app.webmanifest", *files()]
    head = f"const VERSION = {json.dumps(version())}\nconst FILES = {json.dumps(kept)}\n"
    return head + (OWN / WORKER).read_text(encoding="utf-8")


MANIFEST = {
    "name": NAME, "short_name": "The day", "lang": "en-GB", "id": f"{ROOT}/",
    "start_url": f"{ROOT}/", "scope": f"{ROOT}/", "display": "standalone",
    "background_color": "#f6f2e9", "theme_color": "#f6f2e9",
    "icons": [{"src": f"{STATIC}mark.svg", "sizes": "any", "type": "image/svg+xml"}],
}  # fmt: skip


def add_site_pages(
    app: FastAPI, pairing: Pairing, authority: Callable[[], tuple[bytes, str]]
) -> None:
    """Add the pages of the phone.

    Parameters
    ----------
    app : FastAPI
        The application [-].
    pairing : Pairing
        The paired phones [-].
    authority : callable
        Gives the certificate to install, and its fingerprint [-].
    """

    @app.get(f"{ROOT}/", response_class=HTMLResponse)
    def page() -> HTMLResponse:
        """Show the day; what it shows comes later, from the phone itself."""
        return HTMLResponse(_shell("page"), headers=FRESH)

    @app.get(f"{ROOT}/pair", response_class=HTMLResponse)
    def pair_page() -> HTMLResponse:
        """Ask for a name; the token stands behind the # of the address, which no log sees."""
        return HTMLResponse(_shell("pair"), headers={"cache-control": "no-store"})

    @app.post(f"{ROOT}/pair")
    def pair(body: PairIn, request: Request) -> Response:
        """Pair the phone, once."""
        scope = request.scope
        try:
            new, job = pairing.pair(body.token, body.name, address_of(scope), cookie_of(scope))
        except NotPaired as error:
            return refusal(error)  # type: ignore[return-value]
        found = JSONResponse({"job": job}, headers={"cache-control": "no-store"})
        lasts = int(COOKIE_LASTS.total_seconds())
        found.set_cookie(COOKIE, new, max_age=lasts, path="/", secure=True, httponly=True,
                         samesite="strict")  # fmt: skip
        return found

    _add_certificate(app, authority)
    _add_files(app)


def _add_certificate(app: FastAPI, authority: Callable[[], tuple[bytes, str]]) -> None:
    @app.get(f"{ROOT}/certificate", response_class=HTMLResponse)
    def certificate() -> HTMLResponse:
        """Say how the certificate is installed, and what that means."""
        return HTMLResponse(_shell("certificate", fingerprint=authority()[1]), headers=FRESH)

    @app.get(f"{ROOT}/authority.crt")
    def crt() -> Response:
        """Send the certificate of the authority, which is no secret."""
        said = {"content-disposition": 'attachment; filename="evenfall-desk.crt"'}
        return Response(authority()[0], media_type="application/x-x509-ca-cert", headers=said)


def _add_files(app: FastAPI) -> None:
    @app.get(f"{ROOT}/{WORKER}")
    def worker() -> Response:
        """Send the script that answers while there is no network."""
        return Response(_worker(), media_type="text/javascript", headers=FRESH)

    @app.get(f"{ROOT}/app.webmanifest")
    def manifest() -> JSONResponse:
        """Say how the page is installed."""
        return JSONResponse(MANIFEST, media_type="application/manifest+json", headers=FRESH)

    @app.get(STATIC + "{name}")
    def static(name: str) -> Response:
        """Send a file of the page, without what only its reader needs."""
        file = files().get(f"{STATIC}{name}")
        if file is None:
            raise Refused(404, fault(404, name[:80], "a file of the page", where="name"))
        kind, content = sent.files()[file.relative_to(sent.STATIC).as_posix()]
        return Response(content, media_type=kind, headers=FRESH)

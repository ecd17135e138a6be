"""The shared address as an application of its own: it knows nothing but `/site/`."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime

from fastapi import FastAPI

from evenfall.app.api import refusals
from evenfall.app.api.guard import LARGEST_BODY, Asgi, Guard, Receive, Scope, Send
from evenfall.app.live.desk import Desk
from evenfall.app.site.admission import Admission
from evenfall.app.site.pages import add_site_pages
from evenfall.app.site.pairing import Pairing
from evenfall.app.site.routes import LARGEST_PACK, LARGEST_PHOTO, site_routes

PLAIN = ("/site/certificate", "/site/authority.crt", "/site/static/tokens.css")
"""All that is told without encryption: how the certificate is installed."""

HEADERS = {
    **refusals.HEADERS,
    "content-security-policy": f"{refusals.POLICY}; img-src 'self' blob:",
}
"""As at the desk; pictures may come from the phone itself, too."""


def _clock() -> datetime:
    return datetime.now(UTC)


def make_site(
    desk: Desk, pairing: Pairing, hosts: tuple[str, ...], *, scheme: str = "https",
    authority: Callable[[], tuple[bytes, str]] = lambda: (b"", ""),
    over: Callable[[], bool] = lambda: False, clock: Callable[[], datetime] = _clock,
) -> FastAPI:  # fmt: skip
    """Make the application that phones see.

    Parameters
    ----------
    desk : Desk
        Jobs kept and worked [-].
    pairing : Pairing
        The paired phones [-].
    hosts : tuple of str
        Addresses by which it answers [-].
    scheme : str
        ``https``; plain ``http`` only in a trial on one machine [-].
    authority : callable
        Gives the certificate to install, and its fingerprint [-].
    over : callable
        Whether sharing has ended [-].
    clock : callable
        Says what time it is [-].

    Returns
    -------
    FastAPI
        The application [-].
    """
    app = FastAPI(docs_url=None, redoc_url=None, openapi_url=None, redirect_slashes=False)
    app.add_middleware(Admission, pairing=pairing, over=over)
    app.add_middleware(Guard, hosts=hosts, scheme=scheme, most=most_at, extra=HEADERS)
    refusals.register(app)
    app.include_router(site_routes(desk, pairing, clock))
    add_site_pages(app, pairing, authority)
    return app


def most_at(path: str) -> int:
    """Say how many bytes a body may have at a shared address.

    Parameters
    ----------
    path : str
        The address [-].

    Returns
    -------
    int
        Bytes [-].
    """
    if path.endswith("/photos"):
        return LARGEST_PACK
    return LARGEST_PHOTO if "/photos/" in path else LARGEST_BODY


def plain_door(site: Asgi) -> Asgi:
    """Make the door without encryption, which only tells how the certificate is installed.

    Parameters
    ----------
    site : callable
        The application behind it, made for ``http`` [-].

    Returns
    -------
    callable
        Knows the addresses of `PLAIN` [-].
    """

    async def door(scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "http" and (scope["path"] not in PLAIN or scope["method"] != "GET"):
            told = refusals.fault(404, "nothing else", "the certificate", where=scope["path"][:80])
            await refusals.answer(404, told)(scope, receive, send)
            return
        await site(scope, receive, send)

    return door

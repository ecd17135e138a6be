"""Who may ask, how much, and with what headers every answer leaves.

The desk answers on this machine only. A page elsewhere that the browser has open could still ask
in the person's name; so the host must be ours (no name that was pointed at this machine), the
origin must be ours, and a change must come as JSON or as a form that our own page sends.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Mapping, MutableMapping
from typing import Any

from fastapi import HTTPException

from evenfall.app.api.refusals import HEADERS, answer, fault
from evenfall.app.site.returned import LARGEST as LARGEST_RETURNED

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
Asgi = Callable[[Scope, Receive, Send], Awaitable[None]]
Refuse = Callable[[int, dict[str, str]], Asgi]
Most = Callable[[str], int]

HOSTS = ("127.0.0.1", "localhost")
"""Names by which the desk answers; any other is a page elsewhere that asks in our name."""
SAFE = ("GET", "HEAD", "OPTIONS")
WEB_PORT = 80
WEB_PORTS = {"http": WEB_PORT, "https": 443}
LARGEST_BODY = 2_200_000
"""Bytes of a request; a job file is at most two million."""
LARGEST_UPLOAD = 26_000_000
"""Bytes of a photo or a job file with its rates; a photo of a phone has three to twelve million."""
UPLOADS = ("/photos", "/import")
RETURNED = "/returned"


def most_at(path: str) -> int:
    """Say how many bytes a body may have at an address of the desk.

    Parameters
    ----------
    path : str
        The address [-].

    Returns
    -------
    int
        Bytes [-].
    """
    if path.endswith(RETURNED):
        return LARGEST_RETURNED
    return LARGEST_UPLOAD if path.endswith(UPLOADS) else LARGEST_BODY


class Guard:
    """Refuses other hosts, other origins and bodies without end; sends every answer with headers.

    Parameters
    ----------
    app : callable
        The application behind it [-].
    refuse : callable
        Makes the answer of a refusal [-].
    hosts : tuple of str
        Names by which it answers [-].
    scheme : str
        How it is asked, ``http`` or ``https`` [-].
    most : callable
        Says how many bytes a body may have at an address [-].
    extra : mapping
        Headers with which every answer leaves [-].
    """

    def __init__(
        self, app: Asgi, refuse: Refuse = answer, *, hosts: tuple[str, ...] = HOSTS,
        scheme: str = "http", most: Most = most_at, extra: Mapping[str, str] = HEADERS,
    ) -> None:  # fmt: skip
        self.app, self.refuse = app, refuse
        self.hosts, self.scheme, self.most = hosts, scheme, most
        self.extra = [(k.encode(), v.encode()) for k, v in extra.items()]

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, or refuse it."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def headed(message: Message) -> None:
            if message["type"] == "http.response.start":
                message["headers"] = [*message.get("headers", ()), *self.extra]
            await send(message)

        headers = {k.decode("latin-1"): v.decode("latin-1") for k, v in scope["headers"]}
        if told := self._refused(scope, headers):
            await self.refuse(*told)(scope, receive, headed)
            return
        await self.app(scope, _limited(receive, self.most(scope["path"])), headed)

    def _refused(self, scope: Scope, headers: dict[str, str]) -> tuple[int, dict[str, str]] | None:
        port = (scope.get("server") or ("", WEB_PORT))[1]
        host = headers.get("host", "")
        if host not in self._names(port):
            what, do = f"the host {host[:80]!r}", "open the address that the command line printed"
            return 421, fault(421, what, f"{self.hosts[0]}:{port}", where="host", do=do)
        origin, own = headers.get("origin"), f"{self.scheme}://{host}"
        elsewhere = headers.get("sec-fetch-site", "none") not in ("none", "same-origin")
        safe = scope["method"] in SAFE
        if (origin is not None and origin != own) or (
            elsewhere and not (safe and headers.get("sec-fetch-mode") == "navigate")
        ):
            what, do = f"a page of {(origin or 'another host')[:80]}", "ask from the desk itself"
            return 403, fault(403, what, own, where="origin", do=do)
        length = headers.get("content-length", "0")
        if length.isdigit() and int(length) > self.most(scope["path"]):
            most = f"at most {self.most(scope['path']):,} bytes"
            return 413, fault(413, "more than that", most, where="body", do="send less")
        return None

    def _names(self, port: int) -> tuple[str, ...]:
        named = tuple(f"{host}:{port}" for host in self.hosts)
        return named + self.hosts if port == WEB_PORTS[self.scheme] else named


def _limited(receive: Receive, most: int) -> Receive:
    """Count the bytes of a body that does not say how long it is."""
    had = 0

    async def counted() -> Message:
        nonlocal had
        message = await receive()
        had += len(message.get("body", b""))
        if had > most:
            raise HTTPException(413)  # answered as any other refusal
        return message

    return counted

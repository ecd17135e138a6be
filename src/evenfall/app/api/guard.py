"""Who may ask, how much, and with what headers every answer leaves.

The desk answers on this machine only. A page elsewhere that the browser has open could still ask
in the person's name; so the host must be ours (no name that was pointed at this machine), the
origin must be ours, and a change must come as JSON or as a form that our own page sends.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable, MutableMapping
from typing import Any

from fastapi import HTTPException

from evenfall.app.api.refusals import HEADERS, answer, fault

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
Asgi = Callable[[Scope, Receive, Send], Awaitable[None]]
Refuse = Callable[[int, dict[str, str]], Asgi]

HOSTS = ("127.0.0.1", "localhost")
"""Names by which the desk answers; any other is a page elsewhere that asks in our name."""
SAFE = ("GET", "HEAD", "OPTIONS")
WEB_PORT = 80
LARGEST_BODY = 2_200_000
"""Bytes of a request; a job file is at most two million."""
LARGEST_UPLOAD = 26_000_000
"""Bytes of a photo or a job file with its rates; a photo of a phone has three to twelve million."""
UPLOADS = ("/photos", "/import")


class Guard:
    """Refuses other hosts, other origins and bodies without end; sends every answer with headers.

    Parameters
    ----------
    app : callable
        The application behind it [-].
    refuse : callable
        Makes the answer of a refusal [-].
    """

    def __init__(self, app: Asgi, refuse: Refuse = answer) -> None:
        self.app, self.refuse = app, refuse

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, or refuse it."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def headed(message: Message) -> None:
            if message["type"] == "http.response.start":
                extra = [(k.encode(), v.encode()) for k, v in HEADERS.items()]
                message["headers"] = [*message.get("headers", ()), *extra]
            await send(message)

        headers = {k.decode("latin-1"): v.decode("latin-1") for k, v in scope["headers"]}
        if told := _refused(scope, headers):
            await self.refuse(*told)(scope, receive, headed)
            return
        await self.app(scope, _limited(receive, _most(scope)), headed)


def _refused(scope: Scope, headers: dict[str, str]) -> tuple[int, dict[str, str]] | None:
    port = (scope.get("server") or ("", WEB_PORT))[1]
    host = headers.get("host", "")
    if host not in _names(port):
        what, do = f"the host {host[:80]!r}", "open the address that the command line printed"
        return 421, fault(421, what, f"127.0.0.1:{port}", where="host", do=do)
    origin = headers.get("origin")
    elsewhere = headers.get("sec-fetch-site", "none") not in ("none", "same-origin")
    safe = scope["method"] in SAFE
    if (origin is not None and origin != f"http://{host}") or (
        elsewhere and not (safe and headers.get("sec-fetch-mode") == "navigate")
    ):
        what, do = f"a page of {(origin or 'another host')[:80]}", "ask from the desk itself"
        return 403, fault(403, what, f"http://{host}", where="origin", do=do)
    length = headers.get("content-length", "0")
    if length.isdigit() and int(length) > _most(scope):
        return _large(scope)
    return None


def _names(port: int) -> tuple[str, ...]:
    named = tuple(f"{host}:{port}" for host in HOSTS)
    return named + HOSTS if port == WEB_PORT else named


def _most(scope: Scope) -> int:
    return LARGEST_UPLOAD if scope["path"].endswith(UPLOADS) else LARGEST_BODY


def _large(scope: Scope) -> tuple[int, dict[str, str]]:
    most = f"at most {_most(scope):,} bytes"
    return 413, fault(413, "more than that", most, where="body", do="send less")


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

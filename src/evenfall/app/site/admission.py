"""Who may pass on the shared address: a paired phone, to the jobs that it was paired for.

This stands before everything else, so that not a byte of a body is read for anybody unpaired.
"""

from __future__ import annotations

from collections.abc import Callable
from http.cookies import CookieError, SimpleCookie

from fastapi.concurrency import run_in_threadpool

from evenfall.app.api.guard import Asgi, Receive, Scope, Send
from evenfall.app.api.refusals import answer, fault
from evenfall.app.site.pairing import NotPaired, Pairing, Phone

COOKIE = "__Host-evenfall-site"
"""The prefix has the browser refuse it without ``Secure``, for another path or another host."""
ROOT = "/site"
API = f"{ROOT}/api/"
STATIC = f"{ROOT}/static/"
OPEN = (
    f"{ROOT}/", f"{ROOT}/pair", f"{ROOT}/sw.js", f"{ROOT}/app.webmanifest",
    f"{ROOT}/certificate", f"{ROOT}/authority.crt",
)  # fmt: skip
"""What an unpaired phone may see: the page without any data, and how it is paired."""
OF_THE_PHONE = "me"
"""The one address below `API` that is of no job."""


class Admission:
    """Lets paired phones pass.

    Parameters
    ----------
    app : callable
        The application behind it [-].
    pairing : Pairing
        The paired phones [-].
    over : callable
        Whether sharing has ended [-].
    """

    def __init__(self, app: Asgi, pairing: Pairing, over: Callable[[], bool]) -> None:
        self.app, self.pairing, self.over = app, pairing, over

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on with its phone, or refuse it."""
        if scope["type"] != "http":
            return
        path = str(scope["path"])
        if self.over():
            told = fault(503, "sharing has ended", "a desk that shares", do="ask the owner")
            await answer(503, told)(scope, receive, send)
            return
        if path in OPEN or path.startswith(STATIC):
            await self.app(scope, receive, send)
            return
        try:
            phone = await run_in_threadpool(self.pairing.who, cookie_of(scope), address_of(scope))
        except NotPaired as error:
            await refusal(error)(scope, receive, send)
            return
        job = path.removeprefix(API).split("/")[0] if path.startswith(API) else OF_THE_PHONE
        if job != OF_THE_PHONE and job not in phone.jobs:
            do = "scan the code of that job at the desk"
            told = fault(403, "a job that this phone is not paired for", phone.name, do=do)
            await answer(403, {**told, "code": "other-job"})(scope, receive, send)
            return
        scope.setdefault("state", {})["phone"] = phone
        await self.app(scope, receive, send)


def refusal(error: NotPaired) -> Asgi:
    """Make the answer to somebody who is not let in.

    Parameters
    ----------
    error : NotPaired
        Why [-].

    Returns
    -------
    callable
        The answer: 401, or 429 with the seconds to wait [-].
    """
    status = 429 if error.wait_s else 401
    found = answer(status, fault(status, error.says, "a paired phone", where="pair", do=error.do))
    if error.wait_s:
        found.headers["retry-after"] = str(int(error.wait_s) + 1)
    return found


def cookie_of(scope: Scope) -> str | None:
    """Find the cookie of a phone in a request.

    Parameters
    ----------
    scope : mapping
        The request [-].

    Returns
    -------
    str or None
        What it holds [-].
    """
    for name, value in scope["headers"]:
        if name == b"cookie":
            try:
                found = SimpleCookie(value.decode("latin-1")).get(COOKIE)
            except CookieError:
                return None
            return found.value[:200] if found else None
    return None


def address_of(scope: Scope) -> str:
    """Say from where a request comes.

    Parameters
    ----------
    scope : mapping
        The request [-].

    Returns
    -------
    str
        The address of the other machine [-].
    """
    client = scope.get("client")
    return str(client[0]) if client else "nowhere"


def phone_of(scope: Scope) -> Phone:
    """Give the phone that was let in.

    Parameters
    ----------
    scope : mapping
        The request [-].

    Returns
    -------
    Phone
        The phone [-].
    """
    found: Phone = scope["state"]["phone"]
    return found

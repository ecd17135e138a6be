"""One shape for every refusal: code, where, what, what was expected, what to do."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import HTMLResponse, JSONResponse, Response

from evenfall.errors import InvalidFile, InvalidInput, Mistake, OutOfScope

CODES = {
    400: "wrong-input", 401: "not-paired", 403: "wrong-origin", 404: "not-found",
    405: "wrong-method", 409: "conflict", 413: "too-large", 415: "wrong-type", 421: "wrong-host",
    429: "wait", 500: "our-fault", 503: "busy", 507: "full",
}  # fmt: skip
POLICY = (
    "default-src 'self'; base-uri 'none'; object-src 'none'; form-action 'self'; "
    "frame-ancestors 'none'"
)
HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
}
"""What every answer leaves with."""
SAID = {
    404: ("nothing of that name", "something the desk has", "look at the list of jobs"),
    405: ("a method that this address does not know", "one of those in /openapi.json", ""),
    413: ("more than the desk takes at once", "a smaller body", "send less"),
    500: ("a fault of the program", "none", "the command line says what went wrong"),
}
PROGRAMS = ("/api", "/openapi.json")
"""Addresses that programs ask; at the others a person looks."""
MOST_TOLD = 20
"""Mistakes of a request that are told in one sentence."""


class Refused(Exception):
    """A request that is answered with a refusal.

    Parameters
    ----------
    status : int
        Number of the answer [-].
    fault : dict
        What is wrong, as `fault` makes it [-].
    extra : dict
        What stands beside the error [-].
    """

    def __init__(self, status: int, fault: dict[str, str], **extra: Any) -> None:
        self.status, self.fault, self.extra = status, fault, extra
        super().__init__(fault["what"])


def fault(
    status: int, what: str, expected: str = "", *, where: str = "", do: str = "", near: str = ""
) -> dict[str, str]:
    """Write what is wrong.

    Parameters
    ----------
    status : int
        Number of the answer [-].
    what, expected, where, do, near : str
        In plain words [-].

    Returns
    -------
    dict
        The fields of an error [-].
    """
    told = {"code": CODES.get(status, "wrong-input"), "where": where, "what": what}
    return told | {"expected": expected, "nearest": near, "do": do}


def answer(status: int, told: dict[str, str], extra: dict[str, Any] | None = None) -> JSONResponse:
    """Make the answer of a refusal.

    Parameters
    ----------
    status : int
        Number of the answer [-].
    told : dict
        What is wrong [-].
    extra : dict, optional
        What stands beside it [-].

    Returns
    -------
    JSONResponse
        The answer [-].
    """
    return JSONResponse({"error": told, **(extra or {})}, status)


def of_mistake(mistake: Mistake) -> dict[str, str]:
    """Write a mistake of a job as an error.

    Parameters
    ----------
    mistake : Mistake
        The mistake [-].

    Returns
    -------
    dict
        The fields of an error [-].
    """
    m = mistake
    return fault(400, m.found, m.expected, where=m.path, do=m.do, near=m.nearest)


def of_error(error: Exception) -> dict[str, str]:
    """Write an error of working a job out.

    Parameters
    ----------
    error : Exception
        What was raised [-].

    Returns
    -------
    dict
        The fields of an error; a fault of ours says no more than that [-].
    """
    if isinstance(error, InvalidFile):
        return of_mistake(error.mistakes[0])
    if isinstance(error, InvalidInput):
        return fault(400, error.what, error.expected, where=error.where, do=error.do)
    if isinstance(error, OutOfScope):
        return fault(400, f"{error.name} = {error.value}", f"{error.limit} ({error.source})")
    return fault(500, *SAID[500][:2], do=SAID[500][2])


def register(app: FastAPI, page: Callable[[int], str] | None = None) -> None:
    """Have every error of an application answered in one shape.

    Parameters
    ----------
    app : FastAPI
        The application [-].
    page : callable, optional
        Writes the page that a person sees instead, where he asked for one [-].
    """

    @app.exception_handler(Refused)
    async def refused(request: Request, error: Refused) -> JSONResponse:
        return answer(error.status, error.fault, error.extra)

    @app.exception_handler(InvalidInput)
    async def invalid(request: Request, error: InvalidInput) -> JSONResponse:
        return answer(503 if error.where == "store" else 400, of_error(error))

    @app.exception_handler(OutOfScope)
    async def beyond(request: Request, error: OutOfScope) -> JSONResponse:
        return answer(400, of_error(error))

    @app.exception_handler(RequestValidationError)
    async def wrong(request: Request, error: RequestValidationError) -> JSONResponse:
        return answer(400, _of_request(error))

    async def http(request: Request, error: Exception) -> Response:
        status = int(getattr(error, "status_code", 500))
        extra = HEADERS if status == 500 else getattr(error, "headers", None)  # outside the guard
        if page and not request.url.path.startswith(PROGRAMS):
            return HTMLResponse(page(status), status, extra)
        what, expected, do = SAID.get(status, (str(getattr(error, "detail", "")), "", ""))
        found = answer(status, fault(status, what, expected, where=request.url.path, do=do))
        found.headers.update(extra or {})
        return found

    for status in CODES:
        app.add_exception_handler(status, http)


def _of_request(error: RequestValidationError) -> dict[str, str]:
    """Say the first mistake of a request, and how many more there are."""
    first, *more = error.errors()[:MOST_TOLD]
    place = [str(step) for step in first["loc"] if step not in ("body", "query", "path")]
    what = "nothing" if first["type"] == "missing" else repr(first.get("input"))[:80]
    also = f" (and {len(more)} more)" if more else ""
    return fault(400, what + also, first["msg"], where=".".join(place))

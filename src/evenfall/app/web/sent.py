"""The files of the pages as they are sent: styles and scripts lean, each marked by its bytes."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Callable
from functools import cache
from pathlib import Path

from fastapi import FastAPI, HTTPException, Request
from fastapi.responses import Response

from evenfall.app.web import lean

STATIC = Path(__file__).parent / "static"
KINDS: dict[str, tuple[str, Callable[[str], str]]] = {
    ".css": ("text/css", lean.style),
    ".js": ("text/javascript", lean.script),
    ".svg": ("image/svg+xml", str),
}
"""How each kind of file is sent; another is not."""
ASK = {"cache-control": "no-cache"}
"""A page asks whether a file is still the same, and is told so in no bytes."""


@cache
def files() -> dict[str, tuple[str, bytes]]:
    """Give every file by its name, with its kind, in the bytes that are sent.

    Returns
    -------
    dict
        By the path below ``/static/`` [-].
    """
    found = {}
    for file in sorted(STATIC.rglob("*")):
        if file.suffix in KINDS:
            kind, sent = KINDS[file.suffix]
            name = file.relative_to(STATIC).as_posix()
            found[name] = (kind, sent(file.read_text(encoding="utf-8")).encode())
    return found


def inline(*names: str) -> tuple[str, str]:
    """Give style sheets as one text that stands in a page, so that nothing holds its first paint.

    Parameters
    ----------
    *names : str
        Style sheets, as `files` names them [-].

    Returns
    -------
    tuple of str
        The text, and its mark for the policy of the page [-].
    """
    text = "".join(files()[name][1].decode() for name in names)
    mark = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
    return text, f"'sha256-{mark}'"


def add_static(app: FastAPI) -> None:
    """Add the files to the desk's application.

    Parameters
    ----------
    app : FastAPI
        The application [-].
    """

    @app.get("/static/{name:path}", include_in_schema=False)
    def static(name: str, request: Request) -> Response:
        """Send a file, or say that it is still the same."""
        if name not in files():
            raise HTTPException(404)
        kind, content = files()[name]
        mark = f'"{hashlib.sha256(content).hexdigest()[:16]}"'
        headers = ASK | {"etag": mark}
        if request.headers.get("if-none-match") == mark:
            return Response(status_code=304, headers=headers)
        return Response(content, media_type=kind, headers=headers)

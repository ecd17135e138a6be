"""The light in which the pages of the desk are seen, as the browser remembers it."""

from __future__ import annotations

from fastapi import Request

LIGHTS = ("paper", "dusk", "sun", "machine")
"""What the page may be seen in; ``machine`` follows the settings of the machine."""


def chosen_light(request: Request) -> str:
    """Say which light was chosen.

    Parameters
    ----------
    request : Request
        What the browser asks [-].

    Returns
    -------
    str
        Its name; nothing where the machine is followed [-].
    """
    light = request.cookies.get("light", "")
    return light if light in LIGHTS[:-1] else ""

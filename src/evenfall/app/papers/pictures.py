"""The plans as pictures: the roof with its chalk marks, and what is cut and laid."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.app.papers.pdf import to_scale
from evenfall.drawing import Drawing, to_svg
from evenfall.flow import DRAWINGS, WorkedJob

WIDE_MM, HIGH_MM = 390.0, 270.0
"""A sheet of paper twice the size of the letter's."""
PLANS = ("plan", "boards", "boards-2", "tapers", "saw", "fixings", "sheet", "rolls")
"""What is handed on, where there is any: no fixing plan where boards are glued."""
NAMES = {"rolls": "vcl", "saw": "saw-list"}
"""Words for the files, where the room is called otherwise."""


def plans(worked: WorkedJob) -> dict[str, bytes]:
    """Write every plan as SVG, to scale.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].

    Returns
    -------
    dict of str to bytes
        ``boards.svg`` and so on; UTF-8 text [-].
    """
    found: dict[str, bytes] = {}
    for name, drawing in _plans(worked):
        found[f"{name}.svg"] = to_svg(drawing, None, "paper", prefix=name).encode()
    return found


def _plans(worked: WorkedJob) -> Iterator[tuple[str, Drawing]]:
    for key in PLANS:
        drawing = DRAWINGS[key](worked)
        if drawing is not None:
            yield NAMES.get(key, key), to_scale(drawing, WIDE_MM, HIGH_MM)

<<<<<<< HEAD
"""The plans as pictures and as DXF: the roof with its chalk marks, and what is cut and laid."""
=======
"""Pictures of their own: the plan with every chalk mark, the board plans, the saw list."""
>>>>>>> main

from __future__ import annotations

from collections.abc import Iterator

from evenfall.app.papers.pdf import to_scale
from evenfall.drawing import Drawing, to_dxf, to_svg
from evenfall.flow import DRAWINGS, WorkedJob

WIDE_MM, HIGH_MM = 390.0, 270.0
"""A sheet of paper twice the size of the letter's."""
PLANS = ("plan", "boards", "fixings", "sheet", "rolls")
"""The plans that are handed on; there is no fixing plan where boards are glued."""
NAMES = {"rolls": "vcl"}
"""Words for the files, where the room is called otherwise."""


def plans(worked: WorkedJob) -> dict[str, bytes]:
    """Write every plan as SVG and as DXF, to scale.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].

    Returns
    -------
    dict of str to bytes
        ``boards.svg``, ``boards.dxf`` and so on; UTF-8 text [-].
    """
<<<<<<< HEAD
    found: dict[str, bytes] = {}
    for name, drawing in _plans(worked):
        found[f"{name}.svg"] = to_svg(drawing, None, "paper", prefix=name).encode()
        found[f"{name}.dxf"] = to_dxf(drawing).encode()
    return found


def _plans(worked: WorkedJob) -> Iterator[tuple[str, Drawing]]:
    for key in PLANS:
        drawing = DRAWINGS[key](worked)
        if drawing is not None:
            yield NAMES.get(key, key), to_scale(drawing, WIDE_MM, HIGH_MM)
=======
    plan = to_scale(DRAWINGS["plan"](worked), WIDE_MM, HIGH_MM)
    return to_svg(plan, None, "paper", prefix="plan").encode()


def saw_svgs(worked: WorkedJob) -> dict[str, bytes]:
    """Write the board plan of each layer and the saw list as SVG, for the day at the saw.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].

    Returns
    -------
    dict of str to bytes
        UTF-8 text by file name; only what there is to draw [-].
    """
    names = {"boards": "boards.svg", "boards-2": "boards-2.svg", "saw": "saw-list.svg"}
    drawn = {name: DRAWINGS[key](worked) for key, name in names.items()}
    return {
        name: to_svg(to_scale(drawing, WIDE_MM, HIGH_MM), None, "paper", prefix=name[0]).encode()
        for name, drawing in drawn.items()
        if drawing is not None
    }
>>>>>>> main

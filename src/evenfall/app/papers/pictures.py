"""Pictures of their own: the plan with every chalk mark, the board plans, the saw list."""

from __future__ import annotations

from evenfall.app.papers.pdf import to_scale
from evenfall.drawing import to_svg
from evenfall.flow import DRAWINGS, WorkedJob

WIDE_MM, HIGH_MM = 390.0, 270.0
"""A sheet of paper twice the size of the letter's."""


def plan_svg(worked: WorkedJob) -> bytes:
    """Write the plan as SVG, to scale.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].

    Returns
    -------
    bytes
        UTF-8 text [-].
    """
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

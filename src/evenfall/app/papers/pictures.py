"""The plan as a picture of its own, with every chalk mark."""

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

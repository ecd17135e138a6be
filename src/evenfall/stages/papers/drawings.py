"""Every drawing that the papers and the desk make of a worked job."""

from __future__ import annotations

from evenfall.drawing import Drawing
from evenfall.stages.papers.drawn_as_built import draw_as_built
from evenfall.stages.papers.drawn_beside import draw_height_section
from evenfall.stages.papers.drawn_boards import (
    draw_boards,
    draw_evening_rows,
    draw_evenings,
    draw_second_layer,
)
from evenfall.stages.papers.drawn_day import draw_days
from evenfall.stages.papers.drawn_drying import draw_drying
from evenfall.stages.papers.drawn_edges import draw_edges
from evenfall.stages.papers.drawn_fixings import draw_fixings, draw_zones
from evenfall.stages.papers.drawn_leaves import LEAVES, draw_dusk, draw_leaf
from evenfall.stages.papers.drawn_months import draw_months
from evenfall.stages.papers.drawn_plan import draw_plan
from evenfall.stages.papers.drawn_saw import draw_saw_list
from evenfall.stages.papers.drawn_section import draw_eaves_section
from evenfall.stages.papers.drawn_sheet import draw_rolls, draw_sheet
from evenfall.stages.papers.drawn_street import draw_street_view
from evenfall.stages.papers.drawn_survey import draw_survey
from evenfall.stages.papers.drawn_tapers import draw_tapers
from evenfall.stages.papers.drawn_window import draw_window_section
from evenfall.stages.papers.marking import chalked, marked
from evenfall.stages.papers.telling import for_client
from evenfall.stages.papers.worked import WorkedRoof

__all__ = [
    "LEAVES", "draw_as_built", "draw_boards", "draw_client_plan", "draw_days", "draw_drying",
    "draw_dusk", "draw_eaves_section", "draw_edges", "draw_evening_rows", "draw_evenings",
    "draw_fixings", "draw_found", "draw_height_section", "draw_leaf", "draw_months", "draw_plan",
    "draw_rolls", "draw_saw_list", "draw_second_layer", "draw_sheet", "draw_street_view",
    "draw_tapers",
    "draw_window_section", "draw_zones",
]  # fmt: skip


def draw_found(worked: WorkedRoof) -> Drawing:
    """Draw the survey: the roof as found, with every chalk mark.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Drawing
        The plan as found [mm].
    """
    return draw_survey(worked, draw_plan(worked, marked(worked, chalked(worked))))


def draw_client_plan(worked: WorkedRoof) -> Drawing:
    """Draw the plan with the chalk marks of the quotation, under the same numbers.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Drawing
        The plan [mm].
    """
    return draw_plan(worked, marked(worked, for_client(worked)))

"""Every drawing that the papers and the desk make of a worked job."""

from evenfall.stages.papers.drawn_boards import draw_boards, draw_evenings
from evenfall.stages.papers.drawn_plan import draw_plan
from evenfall.stages.papers.drawn_section import draw_eaves_section, draw_height_section

__all__ = [
    "draw_boards", "draw_eaves_section", "draw_evenings", "draw_height_section", "draw_plan",
]  # fmt: skip

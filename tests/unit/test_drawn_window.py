"""The section at a window and the survey drawing: what is drawn is what was worked."""

from dataclasses import replace

import pytest
from tests.unit.papers import NAMES, changed, worked
from tests.unit.test_papers_drawings import said

from evenfall.drawing import to_svg
from evenfall.drawing.sheet import Group
from evenfall.flow import work_out
from evenfall.model.change import apply
from evenfall.model.finding import Change
from evenfall.stages.papers.drawings import draw_found, draw_plan, draw_window_section
from evenfall.stages.papers.drawn_window import shown

LOW = ("survey.windows[scullery-window].sill_above_covering_mm", 346)
THICK = ("design.thickness_mm", 150)


def test_the_window_that_holds_the_job_is_drawn_with_what_it_is_short_of() -> None:
    job = changed("rear-extension", LOW, THICK)
    window = shown(job)
    assert window is not None
    assert window.held
    drawing = draw_window_section(job)
    assert drawing is not None
    assert any(text.endswith(" short") for text in said(drawing))
    assert "before" in said(drawing)
    assert "after" in said(drawing)


def test_a_window_passed_by_the_roof_is_said_to_be() -> None:
    buried = ("survey.windows[scullery-window].sill_above_covering_mm", 120)
    drawing = draw_window_section(changed("rear-extension", buried, THICK))
    assert drawing is not None
    assert any(text.startswith("roof passes the sill by ") for text in said(drawing))


@pytest.mark.parametrize(
    ("treatment", "words"), [("fix_glass", "fixed frame"), ("rehang", "inwards"), ("leave", "wall")]
)
def test_how_the_sheet_closes_is_lettered(treatment: str, words: str) -> None:
    path = "survey.windows[scullery-window]"
    drawing = draw_window_section(changed("rear-extension", (f"{path}.treatment", treatment)))
    assert drawing is not None
    assert words in " ".join(" ".join(said(drawing)).split())


def test_a_roof_without_windows_has_no_such_section() -> None:
    assert draw_window_section(worked("garage")) is None


@pytest.mark.parametrize("name", NAMES)
def test_the_survey_bears_every_level_and_an_ellipse_to_a_corner(name: str) -> None:
    job = worked(name)
    drawing = draw_found(job)
    keys = [g.key for x in drawing.layers for g in x.items if isinstance(g, Group)]
    assert sum(k.startswith("level:") for k in keys) == len(job.levels.spots)
    assert sum(k.startswith("ellipse:") for k in keys) == len(job.plan.corners)
    assert sum(k.startswith("pond:") for k in keys) == len(job.levels.ponds)
    assert to_svg(drawing, 700)


@pytest.mark.parametrize("name", NAMES)
def test_the_plan_bears_what_is_left_at_every_height(name: str) -> None:
    job = worked(name)
    told = said(draw_plan(job))
    for item in job.heights.items:
        if item.kind != "sash":
            assert any(f"{item.margin.value:.0f} left" in text for text in told)


def test_a_thinner_zone_is_drawn_with_its_boards() -> None:
    strip = {"name": "strip", "side": "C-D", "from_m": 0.7, "to_m": 2.2, "in_m": 3.2,
             "thickness_mm": 120}  # fmt: skip
    before = worked("rear-extension")
    job = apply(before.case.job, [Change("design.thin_zones", [strip])])
    again = work_out(replace(before.case, job=job), before)
    assert any(t.startswith("boards 120, not ") for t in said(draw_plan(again)))

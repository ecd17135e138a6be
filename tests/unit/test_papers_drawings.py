"""Plan, sections, board plan and evenings: what is drawn is what was worked."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import combinations

import pytest
from shapely.geometry import Point as Dot
from shapely.geometry import Polygon
from tests.unit.papers import NAMES, changed, worked

from evenfall.drawing import Area, Dimension, Drawing, Group, Label, NightLine, Staff, Text, to_svg
from evenfall.drawing.layout import lay_out
from evenfall.drawing.sheet import Item, piece_box
from evenfall.stages.papers.drawings import (
    draw_boards,
    draw_client_plan,
    draw_eaves_section,
    draw_evenings,
    draw_height_section,
    draw_plan,
)
from evenfall.stages.papers.drawn_beside import tightest
from evenfall.stages.papers.drawn_section import eaves_side
from evenfall.stages.papers.layers import courses, fascia_depth
from evenfall.stages.papers.marking import chalked, marked, place
from evenfall.stages.papers.section_parts import Names
from evenfall.stages.papers.stacked import pile


def items(drawing: Drawing, layer: str = "") -> Iterator[Item]:
    """Give all items of a drawing, or of one layer, groups opened."""
    for one in drawing.layers:
        if layer in ("", one.name):
            yield from _opened(one.items)


def _opened(some: tuple[Item, ...]) -> Iterator[Item]:
    for item in some:
        if isinstance(item, Group):
            yield from _opened(item.items)
        else:
            yield item


def said(drawing: Drawing) -> list[str]:
    names = [words for i in items(drawing) if isinstance(i, Names) for words, _ in i.rows]
    return names + [i.text for i in items(drawing) if isinstance(i, Text | Label | Dimension)]


# --- plan ---


@pytest.mark.parametrize("name", NAMES)
def test_the_plan_bears_the_length_of_every_side(name: str) -> None:
    job = worked(name)
    dimensions = [i for i in items(draw_plan(job), "tapes") if isinstance(i, Dimension)]
    assert [d.text for d in dimensions] == [f"{s.length_m:.3f}" for s in job.plan.sides]


def test_a_side_along_a_wall_is_measured_inside_the_roof() -> None:
    job = worked("rear-extension")
    dimensions = [i for i in items(draw_plan(job), "tapes") if isinstance(i, Dimension)]
    walls = [s.kind == "wall" for s in job.plan.sides]
    assert [d.offset < 0 for d in dimensions] == walls


class Frozen(tuple):
    """A tuple of tables that can be a key of a cache."""

    def __hash__(self) -> int:  # type: ignore[override]
        return hash(str(self))


@pytest.mark.parametrize("name", NAMES)
def test_every_finding_with_a_place_is_marked_there_with_its_number(name: str) -> None:
    job = worked(name)
    marks = marked(job, chalked(job))
    drawn = [g for x in draw_plan(job, marks).layers if x.name == "chalk marks" for g in x.items]
    placed = [m for m in marks if m.at is not None]
    assert [g.name for g in drawn if isinstance(g, Group)] == [
        f"{m.number}: {m.finding.says}" for m in placed
    ]
    assert placed


def test_subjects_are_found_where_they_lie() -> None:
    job = worked("rear-extension")
    a, b = (next((c.x_m, c.y_m) for c in job.plan.corners if c.name == n) for n in "AB")
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    assert place(job, "side:A-B") == pytest.approx(middle)
    assert place(job, "gutter:A-B") == pytest.approx(middle)
    assert place(job, "tape:A-B") == pytest.approx(middle)
    assert place(job, "corner:A") == a
    assert place(job, "opening:rooflight") == job.plan.openings[0].centre
    assert place(job, "window:scullery-window") == job.heights.items[0].at
    assert place(job, "roof") is None
    assert place(job, "side:Y-Z") is None
    assert place(job, "tape:A-Z") is None


def test_a_level_is_found_by_its_name() -> None:
    job = worked("garage")
    spot = job.levels.spots[4]
    assert place(job, f"level:{spot.name}") == spot.at


def test_water_runs_to_the_outlet_where_there_is_one() -> None:
    assert "1 in 55" in said(draw_plan(worked("courtyard")))
    assert "1 in 60" in said(draw_plan(worked("garage")))


def test_the_words_for_the_blind_name_every_side() -> None:
    for name in NAMES:
        alt = draw_client_plan(worked(name)).alt
        assert all(s.name in alt for s in worked(name).plan.sides)


def test_a_window_is_cut_out_of_its_wall() -> None:
    walls = draw_plan(worked("rear-extension")).layers[0]
    keys = {g.key for g in walls.items if isinstance(g, Group)}
    assert keys == {"window:scullery-window", "window:landing-window"}


# --- sections ---


@pytest.mark.parametrize("name", NAMES)
def test_the_courses_add_up_to_the_height_budget(name: str) -> None:
    """The budget allows 2 mm for the sheet; the section draws it as thick as it is."""
    job = worked(name)
    for item in job.heights.items:
        uphill = sum(float(v) for name, _, v in item.build_up.of if name == "uphill")
        laid = courses(job, job.falls.added_at(item.at))
        height = uphill + sum(c.thickness_mm for c in laid if c.name != "deck")
        sheet = courses(job, 0.0)[-1].thickness_mm
        assert height - sheet == pytest.approx(item.build_up.value - 2)


@pytest.mark.parametrize("name", NAMES)
def test_the_deck_lies_on_its_firrings_and_is_drawn_once(name: str) -> None:
    job = worked(name)
    assert [c.name for c in courses(job, 30.0)][:3] == ["firring", "deck", "vcl"]
    assert courses(job, 0.0)[0].name == "vcl"
    stack = pile(job, 20.0, 40.0)
    (deck,) = (row for row in stack.rows if row[0].name == "deck")
    assert deck[2] == (20.0, 40.0)  # its top, over the old top of the deck
    text = said(draw_eaves_section(job))
    assert sum(t.startswith("deck, ") for t in text) == 1


def test_the_section_stands_at_the_low_edge() -> None:
    assert [eaves_side(worked(n)).name for n in NAMES] == ["A-B", "A-B", "P-Q"]  # type: ignore[union-attr]


@pytest.mark.parametrize("name", NAMES)
def test_the_eaves_section_measures_the_rise_over_the_old_felt(name: str) -> None:
    job = worked(name)
    side = eaves_side(job)
    assert side is not None
    added = job.falls.added_at(side.place(side.length_m / 2))
    height = sum(c.thickness_mm for c in courses(job, added) if c.name != "deck")
    rise = height - job.case.job.survey.covering.thickness_mm
    section = draw_eaves_section(job)
    assert f"{rise:.0f} mm above the old felt" in section.alt
    ups = [d for d in said(section) if d.endswith(" up")]
    (up,) = ups
    assert float(up.split()[0]) == pytest.approx(rise, abs=4)


@pytest.mark.parametrize("wide", [280, 330, 600, None])
def test_the_names_beside_a_section_never_lie_on_one_another(wide: float | None) -> None:
    """They did below 330 px."""
    for name in NAMES:
        laid = lay_out(draw_eaves_section(worked(name)), width_px=wide)
        texts = [i for layer, found in laid.layers if layer.name == "names" for i in found
                 if isinstance(i, Text)]  # fmt: skip
        boxes = [piece_box(t, laid.paper).grown(-1e-6) for t in texts]
        assert len(boxes) > 3
        assert not any(a.meets(b) for a, b in combinations(boxes, 2))


def test_old_and_new_fascia_stand_side_by_side() -> None:
    text = said(draw_eaves_section(worked("garage")))
    assert {"fascia 300", "was 172"} <= set(text)


def test_a_fascia_that_stays_is_not_measured_anew() -> None:
    job = changed("garage", ("design.fascia", "keep"))
    assert fascia_depth(job, "A-B") is None
    assert not [t for t in said(draw_eaves_section(job)) if t.startswith("fascia")]


def test_a_roof_shut_in_by_walls_gets_the_section_of_its_field() -> None:
    sides = [s.model_dump() | {"kind": "wall", "wall_height_m": 2.5, "wall_head": None}
             for s in worked("garage").case.job.survey.sides]  # fmt: skip
    job = changed("garage", ("survey.sides", Frozen(sides)), ("survey.gutters", ()))
    assert eaves_side(job) is None
    section = draw_eaves_section(job)
    assert section.title == "Section of the field"
    assert "board 90" in said(section)


def test_no_height_section_where_nothing_stands_beside_the_roof() -> None:
    assert tightest(worked("garage")) is None
    assert draw_height_section(worked("garage")) is None


@pytest.mark.parametrize("name", NAMES[1:])
def test_the_height_section_says_what_is_left(name: str) -> None:
    job = worked(name)
    section = draw_height_section(job)
    assert section is not None
    item = tightest(job)
    assert item is not None
    assert f"{item.margin.value:.0f} mm left" in said(section)


def test_a_sheet_too_high_is_said_to_be_short() -> None:
    job = changed("rear-extension", ("design.thickness_mm", 160))
    section = draw_height_section(job)
    item = tightest(job)
    assert section is not None
    assert item is not None
    assert item.margin.value < 0
    assert f"{-item.margin.value:.0f} mm short" in said(section)


def test_the_clip_of_the_stick_stands_at_the_finished_surface() -> None:
    job = worked("rear-extension")
    section, item = draw_height_section(job), tightest(job)
    assert section is not None
    assert item is not None
    (staff,) = [i for i in items(section) if isinstance(i, Staff)]
    assert staff.clip == item.build_up.value
    assert staff.limit == item.available.value - item.required


# --- boards ---


@pytest.mark.parametrize("name", NAMES)
def test_every_piece_is_drawn_with_its_number_inside_it(name: str) -> None:
    job = worked(name)
    groups = [g for x in draw_boards(job).layers if x.name == "boards" for g in x.items]
    assert [g.key for g in groups if isinstance(g, Group)] == [
        f"board:{p.number}" for p in job.boards.laid_in(1)
    ]
    holes = [Polygon([(x * 1000, y * 1000) for x, y in o.hole]) for o in job.plan.openings
             if o.diameter_mm is None]  # fmt: skip
    for group, piece in zip(groups, job.boards.laid_in(1), strict=True):
        assert isinstance(group, Group)
        for text in (i for i in group.items if isinstance(i, Text)):
            at = Dot(text.x, text.y)
            assert Polygon(piece.ring).contains(at)
            assert not any(h.contains(at) for h in holes)


def test_offcuts_are_hatched_and_whole_boards_are_not() -> None:
    job = worked("rear-extension")
    areas = [i for i in items(draw_boards(job), "boards") if isinstance(i, Area)]
    assert [a.hatch == "foam" for a in areas] == [p.offcut for p in job.boards.pieces]


# --- evenings ---


@pytest.mark.parametrize("name", NAMES)
def test_each_day_is_one_small_roof(name: str) -> None:
    days = worked(name).programme.days
    groups = draw_evenings(worked(name)).layers[0].items
    assert [g.key for g in groups if isinstance(g, Group)] == [f"day:{d.number}" for d in days]


@pytest.mark.parametrize("name", NAMES)
def test_night_lines_are_drawn_on_the_evenings_that_have_them(name: str) -> None:
    days = worked(name).programme.days
    for group, day in zip(draw_evenings(worked(name)).layers[0].items, days, strict=True):
        assert isinstance(group, Group)
        lines = [i for i in group.items if isinstance(i, NightLine)]
        assert len(lines) == len(day.evening.night_lines)


@pytest.mark.parametrize("name", NAMES)
def test_small_roofs_do_not_lie_on_one_another(name: str) -> None:
    outlines = []
    for group in draw_evenings(worked(name)).layers[0].items:
        assert isinstance(group, Group)
        areas = [Polygon(i.rings[0]) for i in group.items if isinstance(i, Area)]
        outlines.append(max(areas, key=lambda p: p.area))
    for i, one in enumerate(outlines):
        assert not any(one.intersects(other) for other in outlines[i + 1 :])


@pytest.mark.parametrize("name", NAMES)
def test_every_drawing_can_be_printed(name: str) -> None:
    job = worked(name)
    for drawing in (draw_client_plan(job), draw_eaves_section(job), draw_boards(job),
                    draw_evenings(job)):  # fmt: skip
        text = to_svg(drawing, None, "print")
        assert "no room in the picture" not in text
        assert not re.search(r"\bnan\b|\binf\b", text)

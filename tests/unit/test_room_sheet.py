"""The sheet room: allowances, the roll chosen, and how many lift it."""

from dataclasses import replace

import pytest
from tests.unit import plans, rooms
from tests.unit.plans import codes, one

from evenfall.model.choice import Rubber
from evenfall.stages.takeoff import sheet

KINDS = ("eaves", "verge", "wall", "verge")


def rubber(*widths_m: float, kg_m2: float = 1.4, longest_m: float = 30.0) -> Rubber:
    return Rubber("rubber", "rubber sheet", 1.2, 0.2, 100.0, kg_m2, widths_m, longest_m, 0.1)


def worked(stock=None, kinds=KINDS, good_to_mm=0.0, parapet_mm=0.0):
    roof = plans.plan(kinds=kinds)
    sides = tuple(replace(s, parapet_height_mm=parapet_mm) for s in roof.sides)
    return sheet.work(replace(roof, sides=sides, good_to_mm=good_to_mm), stock or rubber(7.62),
                      "demo")  # fmt: skip


@pytest.mark.parametrize(
    ("kinds", "need"),
    [
        (("eaves", "verge", "wall", "verge"), (4500, 6680)),
        (("eaves", "eaves", "eaves", "eaves"), (4400, 6500)),
        (("wall", "wall", "wall", "wall"), (4600, 6700)),
        (("eaves", "party_line", "step", "verge"), (4500, 6680)),
    ],
)
def test_each_kind_of_edge_has_its_allowance(kinds, need):
    assert sorted(worked(kinds=kinds).need_mm) == sorted(need)


@pytest.mark.parametrize(("height_mm", "beyond_mm"), [(90, 250), (101, 251), (430, 580)])
def test_a_parapet_is_covered_up_its_face_and_over_its_top(height_mm, beyond_mm):
    found = worked(rubber(9.15), kinds=("parapet",) * 4, parapet_mm=height_mm)
    assert sorted(found.need_mm) == [4100 + 2 * beyond_mm, 6200 + 2 * beyond_mm]


def test_the_sheet_is_ordered_for_twice_what_the_plan_is_good_to():
    sure, unsure = worked(), worked(good_to_mm=3.2)
    assert [b - a for a, b in zip(sure.need_mm, unsure.need_mm, strict=True)] == [14, 14]


def test_of_the_rolls_that_cover_in_one_piece_the_smallest_is_taken():
    found = worked(rubber(6.1, 7.62, 9.15))
    assert found.chosen.strips == 1
    areas = [w.area_m2 for w in (found.chosen, *found.others)]
    assert areas == sorted(areas)


def test_what_is_bought_covers_the_need():
    line = worked().order[0]
    assert line.bought == pytest.approx(7.62 * 4.5)
    assert line.bought >= 6.68 * 4.5
    assert "7.62 × 4.50 m" in line.note


def test_seams_are_noted_only_where_no_roll_is_wide_enough():
    one_piece, strips = worked(), worked(rubber(3.05))
    assert "seams" not in codes(one_piece.findings)
    assert one(strips.findings, "seams").level == "note"
    assert strips.chosen.strips == 2
    assert 2 * 3.05 - 0.1 >= 4.5


@pytest.mark.parametrize(
    ("kg", "people", "level"),
    [(33.3, 2, None), (33.4, 3, "note"), (37.5, 3, "note"), (37.6, 4, "agree")],
)
def test_hands_are_counted_by_the_lower_figure(kg, people, level):
    found = worked(rubber(7.62, kg_m2=kg / (7.62 * 4.5)))
    assert found.hands.value == people
    assert [f.level for f in found.findings] == ([level] if level else [])


def test_both_lifting_figures_are_told():
    says = one(worked(rubber(7.62, kg_m2=1.9)).findings, "sheet-heavy").says
    assert "50" in says
    assert "33" in says
    assert "four people or a hoist" in says


def test_the_parapets_of_the_courtyard_are_in_its_order():
    low = rooms.changed(rooms.job("courtyard"), **{"survey.sides[Q-R].parapet_height_mm": 101})
    high, lower = (rooms.survey(j).plan for j in (rooms.job("courtyard"), low))
    assert sheet.allowance_mm(high.side("Q-R")) == 436 + 150
    assert sheet.allowance_mm(lower.side("Q-R")) == 251


@pytest.mark.parametrize(("kerb_mm", "verge_mm"), [(75, 240), (74.5, 240), (80.2, 246), (60, 225)])
def test_a_higher_kerb_takes_more_sheet_along_verges_and_party_lines_only(kerb_mm, verge_mm):
    sides = plans.plan(kinds=("eaves", "verge", "wall", "party_line")).sides
    assert [sheet.allowance_mm(s, kerb_mm) for s in sides] == [150, verge_mm, 250, verge_mm]

"""The fire room: reports that settle the finding, plastic rooflights, the word that settles it."""

from datetime import date

import pytest
from tests.unit import plans

from evenfall.model.finding import Finding
from evenfall.model.job import Answer, FireTest
from evenfall.model.surveyed import OpeningAt
from evenfall.stages.design import answers, fire

BUILT = fire.BuiltUp("epdm-12", "pir-foil", "planks", "screws", 0.0)
REPORT = FireTest(
    document="Invented report 88", fire_class="BROOF(t4)", sheet="epdm-12", board="pir-foil",
    deck="planks", boards_held_by="screws",
)  # fmt: skip


def told(boundary_m: float, *tests: FireTest, building: str = "garage"):
    sides = [s.model_copy(update={"boundary_m": 40.0}) for s in plans.job().survey.sides]
    sides[1] = sides[1].model_copy(update={"boundary_m": boundary_m})
    return fire.work(tuple(sides), building, tests, BUILT)


def test_a_report_of_this_very_build_up_settles_it():
    found = told(0.4, REPORT)
    assert plans.codes(found.findings) == ["fire-proved"]
    assert found.findings[0].level == "fine"
    assert found.reports[0].rows == (("Invented report 88", "BROOF(t4)", "yes", "the same"),)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"deck": "osb"}, "deck: osb tested, planks here"),
        ({"boards_held_by": "adhesive"}, "boards held by: adhesive tested, screws here"),
        ({"sheet": "epdm-15"}, "sheet: epdm-15 tested, epdm-12 here"),
        ({"board": "phenolic-foil"}, "board: phenolic-foil tested, pir-foil here"),
        ({"overlay_mm": 6.0}, "overlay: 6.0 tested, 0.0 here"),
    ],
)
def test_a_report_of_another_build_up_says_why_it_does_not(change, said):
    found = told(0.4, REPORT.model_copy(update=change)).findings[0]
    assert (found.code, found.level) == ("fire-proof-differs", "agree")
    assert said in found.says


@pytest.mark.parametrize(
    ("boundary_m", "fire_class", "code"),
    [
        (5.99, "CROOF(t4)", "fire-class-low"),
        (6.0, "CROOF(t4)", "fire-proved"),
        (11.9, "DROOF(t4)", "fire-class-low"),
        (11.9, "EROOF(t4)", "fire-class-low"),
        (12.0, "EROOF(t4)", "fire-proved"),
        (19.9, "FROOF(t4)", "fire-class-low"),
        (20.0, "FROOF(t4)", "fire-class-low"),
    ],
)
def test_a_class_is_held_to_the_distance(boundary_m, fire_class, code):
    found = told(boundary_m, REPORT.model_copy(update={"fire_class": fire_class}))
    assert found.findings[0].code == code


def test_the_best_of_several_reports_counts():
    low = REPORT.model_copy(update={"fire_class": "EROOF(t4)"})
    other = REPORT.model_copy(update={"deck": "osb"})
    assert told(0.4, low, other, REPORT).findings[0].code == "fire-proved"
    assert told(0.4, low, other).findings[0].code == "fire-class-low"


def test_a_house_with_a_lower_class_is_still_told_of_the_terrace():
    low = REPORT.model_copy(update={"fire_class": "CROOF(t4)"})
    assert "fire-terrace" in plans.codes(told(7.0, low, building="house").findings)
    assert "fire-terrace" not in plans.codes(told(7.0, REPORT, building="house").findings)


def light(name: str, x: float, y: float, w: float, d: float) -> OpeningAt:
    ring = ((x, y), (x + w, y), (x + w, y + d), (x, y + d))
    return OpeningAt(
        f"opening:{name}", name, "rooflight", ring, ring, (x + w / 2, y + d / 2), w * d,
        2 * (w + d), False, 90.0, None,
    )  # fmt: skip


def of_lights(*lights: OpeningAt, boundary_m: float = 9.0) -> list[str]:
    plan = plans.plan(boundary_m=boundary_m)
    return plans.codes(tuple(fire.rooflights(lights, plan)))


@pytest.mark.parametrize(
    ("depth", "code"), [(1.5, "rooflight-plastic"), (1.501, "rooflight-large")]
)
def test_a_plastic_rooflight_has_at_most_three_square_metres(depth, code):
    assert of_lights(light("a", 2.0, 1.0, 2.0, depth)) == [code]


@pytest.mark.parametrize(("gap", "near"), [(1.5, False), (1.49, True)])
def test_plastic_rooflights_keep_apart(gap, near):
    two = light("a", 0.5, 1.0, 1.0, 1.0), light("b", 1.5 + gap, 1.3, 1.0, 1.0)
    assert ("rooflights-near" in of_lights(*two)) is near


@pytest.mark.parametrize(("boundary_m", "near"), [(5.0, False), (4.99, True)])
def test_the_roof_between_counts_towards_the_boundary(boundary_m, near):
    found = of_lights(light("a", 1.0, 1.0, 1.2, 1.2), boundary_m=boundary_m)
    assert ("rooflight-boundary" in found) is near


NOTICE = Finding("notice-council", "roof", "agree", "Give notice.", "guidance", "published")


def answer(needed: bool, reference: str | None = None, about: str = "notice") -> Answer:
    return Answer(about=about, needed=needed, by="The council", on=date(2026, 10, 30),
                  reference=reference)  # fmt: skip


@pytest.mark.parametrize(
    ("given", "level", "said"),
    [
        (answer(False), "note", "not needed"),
        (answer(True), "agree", "no reference is on record yet"),
        (answer(True, "BN 7"), "note", "given under BN 7"),
        (answer(False, about="weight"), "agree", "Give notice."),
    ],
)
def test_the_word_of_building_control_settles_a_notice(given, level, said):
    found = answers.settled(NOTICE, (given,))
    assert found.level == level
    assert said in found.says


def test_the_last_answer_counts():
    assert answers.settled(NOTICE, (answer(True), answer(False))).level == "note"


def test_sources_that_differ_stand_side_by_side():
    rows = answers.sources().rows
    assert {r[1] for r in rows if r[0] == "notice"} == {"50 %", "25 %"}
    assert len({r[3] for r in rows if r[0] == "weight"}) == 2
    assert {r[1] for r in rows if r[0] == "planning"} == {"150 mm", "0 mm"}
    assert {r[1] for r in rows if r[0] == "flue"} == {"300 mm", "1000 mm", "600 mm", "2 m"}


def test_the_word_on_a_flue_settles_the_flue_and_nothing_else():
    flue = Finding("flue-engineer", "height:terminal", "agree", "Who says?", "AD J", "from memory")
    given = (answer(False, about="flue"),)
    assert answers.settled(flue, given).level == "note"
    assert answers.settled(NOTICE, given) == NOTICE
    low = Finding("upstand-short", "height:terminal", "stop", "Too low.", "AD J", "from memory")
    assert answers.settled(low, given).level == "stop"

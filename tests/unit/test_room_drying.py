"""The drying room: days to dry, the wettest deck that may be closed up, and what it leaves out."""

from datetime import date
from xml.etree import ElementTree

import pytest
from tests.unit import rooms
from tests.unit.rooms import codes, one

from evenfall.calc.physics.transient.climate import Hours
from evenfall.calc.physics.transient.materials import cups, tabulated
from evenfall.calc.physics.transient.section import Section, Sheet, Slab, even
from evenfall.drawing import to_svg
from evenfall.errors import InvalidInput
from evenfall.model.job import Reading
from evenfall.stages.design import damp_layers, drying
from evenfall.stages.papers.drawn_drying import draw_drying

EXTENSION, COURTYARD, GARAGE = (rooms.job(n) for n in ("rear-extension", "courtyard", "garage"))
SPRING, AUTUMN = date(2027, 4, 12), date(2027, 11, 2)


def worked(job=EXTENSION, on=SPRING, readings=None, **changes):
    job = rooms.changed(job, **changes)
    w = rooms.designed(job)
    s = job.survey
    given = s.readings if readings is None else readings
    return drying.work(w.rise.chosen_mm, w.build, s.deck, s.below, s.joists, given, job.site, on)


def reading(percent: float) -> tuple[Reading, ...]:
    return (Reading(name="by-gutter", percent=percent),)


def test_a_damp_deck_dries_through_an_open_ceiling_and_says_in_how_many_days():
    found = worked(readings=reading(24.0))
    assert 4 < found.wettest.value < 56
    told = one(found.findings, "drying-time")
    assert told.level == "note"
    assert "The rule stands" in told.says
    assert told.value == pytest.approx(found.wettest.value, abs=0.06)


def test_a_wetter_deck_takes_longer_and_a_dry_one_no_time():
    days = [worked(readings=reading(p)).wettest.value for p in (19.0, 21.5, 24.0, 27.0)]
    assert days[0] == 0
    assert days == sorted(days)
    assert days[1] < days[2] < days[3]


def test_a_sheet_in_the_ceiling_leaves_the_water_no_way_out():
    found = worked(COURTYARD)
    assert found.may_close is None
    assert found.wettest is None
    told = one(found.findings, "no-way-out")
    assert "the sheet in the ceiling" in told.says
    assert told.remedy is not None
    bare = worked(COURTYARD, **{"survey.below.ceiling_vcl": False})
    assert bare.may_close is not None
    assert "no-way-out" not in codes(bare.findings)


def test_the_ladder_is_climbed_no_higher_than_a_deck_that_is_kept():
    assert worked().may_close.value == drying.LADDER[-1] == 27
    assert "not replaced" in one(worked().findings, "way-out").says


def test_the_wettest_that_may_be_closed_is_dry_in_time_and_all_drier_ones_too():
    assert drying._may_close({21: 3.0, 22: 40.0, 23: 57.0}) == 22
    assert drying._may_close({21: 3.0, 22: None, 23: 9.0}) == 21
    assert drying._may_close({21: None, 22: 9.0}) is None


def test_a_damper_room_dries_the_deck_more_slowly():
    dry, damp = (
        worked(readings=reading(25.0), **{"survey.below.humidity_class": n}) for n in (1, 4)
    )
    assert damp.wettest.value > dry.wettest.value * 1.1


def test_the_season_matters():
    cold = {"survey.below.humidity_class": 3}
    spring, autumn = (worked(on=on, readings=reading(25.0), **cold) for on in (SPRING, AUTUMN))
    assert spring.wettest.value != autumn.wettest.value


def test_every_kind_of_deck_is_worked_and_a_thicker_one_takes_longer():
    for kind in ("osb", "plywood", "planks", "chipboard", "strawboard", "woodwool"):
        thin, thick = (
            worked(readings=reading(23.0), **{"survey.deck.kind": kind,
                                             "survey.deck.thickness_mm": mm})
            for mm in (12, 25)
        )  # fmt: skip
        days = [f.wettest.value for f in (thin, thick)]
        assert 0 < days[0] < days[1], kind


def test_without_readings_the_ladder_alone_is_told():
    found = worked(readings=())
    assert found.wettest is None
    assert found.may_close is not None
    assert codes(found.findings) == ["way-out"]
    assert [c.name for c in found.courses] == ["deck at 27 %"]


def test_vents_left_open_are_not_reckoned():
    found = worked(**{"design.vents": "leave"})
    assert "outside air" in found.why_empty
    assert found.findings == ()
    assert draw_drying(type("W", (), {"drying": found})) is None


def test_what_is_left_out_stands_beside_the_days():
    told = " ".join(row[0] for row in worked().left_out.rows)
    for word in ("air leaking", "sun", "one dimension", "meter"):
        assert word in told


def test_the_quilt_and_an_overlay_take_their_place_among_the_cells():
    job = rooms.changed(COURTYARD, **{"design.overlay_mm": 9})
    w = rooms.designed(job)
    s = job.survey
    roof, density = damp_layers.section(w.rise.chosen_mm, w.build, s.deck, s.below, s.joists)
    names = [slab.name for slab in roof.slabs]
    assert names == ["overlay board", "insulation", "deck", "quilt", "ceiling"]
    assert 400 < density < 800


def test_the_curves_are_drawn_with_the_line_they_come_below():
    for job in (EXTENSION, COURTYARD):
        drawing = draw_drying(type("W", (), {"drying": worked(job)}))
        assert "20 %" in drawing.alt
        svg = to_svg(drawing, 600, "css", prefix="d")
        ElementTree.fromstring(svg)
        assert "20 %: not wetter" in svg
        assert "days after it is closed up" in svg


PLAIN = tabulated("plain", 1e6, (0.1, 0.0), lambda p: 50 * p, cups(10, 10))


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        (lambda: Slab("deck", PLAIN, (0.0,)), "deck"),
        (lambda: Slab("deck", PLAIN, (-0.01, 0.01)), "deck"),
        (lambda: Sheet("VCL", -0.1, 100), "VCL"),
        (lambda: Sheet("VCL", 0.1, float("inf")), "VCL"),
        (lambda: Section((), ((),)), "slabs"),
        (lambda: tabulated("wool", -1, (0.04, 0), lambda p: p, cups(1, 1)), "wool"),
        (lambda: tabulated("wool", 1e4, (0.0, 0), lambda p: p, cups(1, 1)), "wool"),
        (lambda: tabulated("wool", 1e4, (0.04, 0), lambda p: 1 - p, cups(1, 1)), "wool"),
        (lambda: Hours([1.0] * 3, [500] * 2, [20] * 3, [900] * 3), "climate"),
        (lambda: Hours([1.0, float("nan")], [500] * 2, [20] * 2, [900] * 2), "climate"),
        (lambda: Hours([1.0] * 2, [900] * 2, [20] * 2, [900] * 2), "damper than 100 %"),
        (lambda: Section((Slab("s", PLAIN, even(0.01, 2)),), ((), ())).water_at(1.2, 20), "120"),
        (lambda: Section((Slab("s", PLAIN, even(0.01, 2)),), ((), ())).cells_of("t"), "t"),
    ],
)
def test_what_no_roof_can_be_is_refused_by_name(wrong, says):
    with pytest.raises(InvalidInput) as told:
        wrong()
    assert says in str(told.value) or says == "120"


def test_a_soaked_and_a_bone_dry_reading_are_worked_without_a_number_that_is_none():
    for percent in (0.0, 95.0, 100.0):
        found = worked(GARAGE, readings=reading(percent))
        told = [percent for c in found.courses for _, percent in c.points]
        assert all(0 <= v < 130 for v in told)
        assert found.courses[0].points[0] == (0.0, percent)
    assert found.wettest is None or found.wettest.value > 28


def test_hours_that_somebody_brings_are_gone_through_again_and_again():
    hours = Hours([1.0, 3.0, 8.0], [500.0] * 3, [20.0] * 3, [900.0] * 3)
    assert hours.mean(0, 3).theta_e == pytest.approx(4.0)
    assert hours.mean(2, 5).theta_e == pytest.approx((8 + 1 + 3) / 3)
    assert hours.mean(3000, 3001).theta_e == pytest.approx(1.0)

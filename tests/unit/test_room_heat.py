"""The heat room: the verdict, what is saved, and the failures of a roof turned warm."""

import pytest
from tests.unit import rooms
from tests.unit.plans import codes, one

from evenfall.working import Table

EXTENSION = rooms.job("rear-extension")
KEPT = {"design.quilt": "keep", "design.board": "pir-foil", "design.hold_boards_by": "adhesive"}


def worked(job=EXTENSION, **changes: object):
    return rooms.designed(rooms.changed(job, **changes))


def test_the_layers_are_listed_from_outside_to_inside():
    names = [a.name for a in worked().heat.layers]
    assert names == ["sheet", "insulation", "VCL", "deck", "void", "ceiling"]
    kept = [a.name for a in worked(rooms.job("courtyard")).heat.layers]
    assert kept == [
        "sheet", "overlay board", "insulation", "VCL", "deck", "void", "quilt", "ceiling VCL",
        "ceiling",
    ]  # fmt: skip


def test_every_layer_says_where_it_comes_from():
    assert all(a.source and a.basis for a in worked().heat.layers)
    table = worked().heat.parts[0]
    assert isinstance(table, Table)
    assert table.basis == "demo"


def test_heat_lost_and_saved_are_sums_of_what_is_shown():
    w = worked()
    hdd = w.heat.parts[-1].value
    assert w.heat.lost.value == pytest.approx(w.heat.u.value * w.plan.net.value * hdd * 0.024)
    assert w.heat.lost_before.value == pytest.approx(
        w.thicknesses.before_u.value * w.plan.net.value * hdd * 0.024
    )
    saved = (w.heat.lost_before.value - w.heat.lost.value) * 7.4
    assert w.heat.saved_pence.value == pytest.approx(saved)


def test_a_warm_enough_roof_is_fine():
    found = one(worked(**{"design.target_u": 0.162}).heat.findings, "heat-good")
    assert (found.level, found.limit) == ("fine", 0.162)


def test_the_roof_has_the_u_of_its_row_of_the_rise_stick():
    """Screws of the wind in both; the stick promises nothing that the roof does not keep."""
    for name in ("rear-extension", "garage", "courtyard"):
        w = worked(rooms.job(name))
        assert w.heat.u.value == pytest.approx(w.rise.row.u, rel=1e-12)
        assert w.heat.lost.value == pytest.approx(w.rise.row.heat_kwh, rel=1e-12)
        assert w.heat.saved_co2.value == pytest.approx(w.rise.row.saved_co2_kg, rel=1e-12)


def test_a_roof_that_is_too_cold_is_told_by_the_rise_stick_alone():
    assert codes(worked().heat.findings) == []


def test_each_failure_is_said_by_one_room_only():
    w = worked(**{"design.thickness_mm": 100})
    assert "heat-short" in codes(w.rise.findings)
    assert codes(w.heat.findings) == []


@pytest.mark.parametrize(("quilt_mm", "told"), [(73, False), (74, True)])
def test_a_third_of_the_warmth_at_most_may_lie_under_the_vcl(quilt_mm, told):
    """Over it 4.410; under it 0.006, 0.146, 0.16, 0.05 and the quilt: a third at 73.7 mm."""
    above = 0.0012 / 0.25 + 0.1 / 0.0227
    below = 0.0013 / 0.23 + 0.019 / 0.13 + 0.16 + quilt_mm / 40 + 0.0125 / 0.25
    assert (below > (above + below) / 3) is told
    changes = {"design.thickness_mm": 100, "survey.below.quilt_mm": quilt_mm}
    job = rooms.changed(EXTENSION, **KEPT, **changes)
    assert ("quilt-too-much" in codes(rooms.designed(job).heat.findings)) is told


def test_a_quilt_that_is_too_thick_is_cleared_by_taking_it_out():
    job = rooms.changed(
        EXTENSION, **KEPT, **{"design.thickness_mm": 60, "survey.below.quilt_mm": 150}
    )
    found = one(rooms.designed(job).heat.findings, "quilt-too-much")
    assert found.level == "agree"
    assert "quilt-too-much" not in codes(rooms.designed(rooms.cured(job, found)).heat.findings)


def test_a_wet_quilt_that_stays_is_stopped_and_taking_it_out_clears_that():
    job = rooms.changed(EXTENSION, **KEPT, **{"survey.below.quilt_wet": True})
    found = one(rooms.designed(job).heat.findings, "quilt-wet")
    assert found.level == "stop"
    assert "quilt-wet" not in codes(rooms.designed(rooms.cured(job, found)).heat.findings)


def test_a_wet_quilt_that_goes_is_no_matter_here():
    assert "quilt-wet" not in codes(worked(**{"survey.below.quilt_wet": True}).heat.findings)


def test_vents_half_closed_are_named_as_the_classic_failure():
    job = rooms.changed(EXTENSION, **{"design.vents": "close_some"})
    told = one(rooms.designed(job).heat.findings, "vents-open")
    assert told.level == "stop"
    assert "Half closed is the classic failure" in told.says
    assert "up to 4.0 W/m²K, not 0.16" in told.says  # 1 / (0.10 + 0.0125 / 0.25 + 0.10)
    left = rooms.changed(EXTENSION, **{"design.vents": "leave"})
    assert "Half closed" not in one(rooms.designed(left).heat.findings, "vents-open").says
    cured = rooms.cured(job, told)
    assert "vents-open" not in codes(rooms.designed(cured).heat.findings)


@pytest.mark.parametrize(("vents", "told"), [(0, False), (1, True)])
def test_one_old_vent_left_open_stops_the_job_and_closing_it_clears_that(vents, told):
    job = rooms.changed(EXTENSION, **{"design.vents": "leave", "survey.below.old_vents": vents})
    found = rooms.designed(job).heat.findings
    assert ("vents-open" in codes(found)) is told
    if told:
        cured = rooms.cured(job, one(found, "vents-open"))
        assert "vents-open" not in codes(rooms.designed(cured).heat.findings)

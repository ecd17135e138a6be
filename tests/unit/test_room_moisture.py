"""The moisture room: verdicts of a year, mould, and the ladder of timber readings."""

import pytest
from tests.unit import plans, rooms
from tests.unit.plans import codes, one

from evenfall.model.job import Reading
from evenfall.stages.design import moisture

EXTENSION = rooms.job("rear-extension")


def worked(job=EXTENSION, rates=None, **changes: object):
    return rooms.designed(rooms.changed(job, **changes), rates).moisture


def leaky(sd_m: float, board_sd_m: float = 0.0, mu: float = 20.0):
    """Rates whose VCL and boards hold back less vapour."""
    data = rooms.demo_rates().model_dump(mode="json")
    vcls = [v | {"sd_m": sd_m} for v in data["vcls"]]
    boards = [b | {"facing_sd_m": board_sd_m, "mu": mu} for b in data["boards"]]
    return rooms.rates_with(vcls=vcls, boards=boards)


WET = {"survey.below.humidity_class": 5, "survey.below.indoor_c": 23}


def test_a_tight_vcl_keeps_the_roof_dry():
    found = worked()
    assert (found.verdict, found.peak.value, found.peak_month) == ("a", 0, "none")
    assert one(found.findings, "dry").level == "fine"


def test_without_a_tight_vcl_water_gathers_at_the_sheet_and_more_in_a_damper_room():
    some = worked(rates=leaky(2.0), **{"survey.below.humidity_class": 1})
    more = worked(rates=leaky(2.0), **WET)
    assert (some.verdict, more.verdict) == ("b", "c")
    assert more.peak.value > some.peak.value > 0


def test_water_that_does_not_dry_in_the_year_stops_the_job():
    found = worked(rates=leaky(0.5), **WET)
    assert found.verdict == "c"
    told = one(found.findings, "never-dries")
    assert told.level == "stop"
    assert told.value == found.peak.value


def test_water_that_dries_is_told_with_its_months():
    found = worked(rates=leaky(8.0), **{"survey.below.humidity_class": 2})
    assert found.verdict == "b"
    told = one(found.findings, "gathers-and-dries")
    assert found.peak_month in told.says
    assert f"{found.peak.value * 1000:.0f} g/m²" in told.says
    assert told.level == "note"


def test_a_trace_of_water_is_not_rounded_to_none():
    told = one(worked(rates=leaky(20.0), **{"survey.below.humidity_class": 1}).findings,
               "gathers-and-dries")  # fmt: skip
    assert "2.1 g/m²" in told.says


def test_what_the_vcl_does_is_shown_by_leaving_it_out():
    order = "abc"
    found = worked(rates=leaky(50.0), **WET)
    assert order.index(found.without_vcl) >= order.index(found.verdict)


def test_a_clear_sky_is_never_kinder():
    order = "abc"
    for vcl_sd in (0.5, 8.0, 1000.0):
        found = worked(rates=leaky(vcl_sd), **WET)
        assert order.index(found.two_kelvin_colder) >= order.index(found.verdict)


def test_the_temperature_factor_is_that_of_the_plane_roof():
    w = rooms.designed(EXTENSION)
    assert w.moisture.f_rsi.value > 0.95
    assert w.moisture.f_rsi.value > w.moisture.f_rsi_required.value
    assert not {"mould", "room-damp"} & set(codes(w.moisture.findings))


def test_a_cold_ceiling_in_a_damp_room_grows_mould():
    found = worked(
        rooms.job("garage"),
        **{
            "design.thickness_mm": 50, "survey.below.humidity_class": 4,
            "survey.below.indoor_c": 13.9,
        },
    )  # fmt: skip
    assert {"mould", "room-damp"} & set(codes(found.findings))


@pytest.mark.parametrize(
    ("percent", "code", "level"),
    [
        (17.9, "timber-dry", "fine"),
        (18.0, "timber-dry", "fine"),
        (18.1, "timber-damp", "note"),
        (20.0, "timber-damp", "note"),
        (20.1, "timber-wet", "stop"),
        (27.9, "timber-wet", "stop"),
        (28.0, "timber-rotten", "stop"),
        (28.1, "timber-rotten", "stop"),
    ],
)
def test_a_reading_is_judged_by_the_ladder_of_the_handbook(percent, code, level):
    job = plans.job()
    s = job.survey
    found = moisture.work(
        120, plans.build(job), s.deck, s.below, s.joists,
        (Reading(name="by-gutter", percent=percent),), job.site,
    )  # fmt: skip
    told = one(found.findings, code)
    assert (told.level, told.subject, told.value) == (level, "reading:by-gutter", percent)
    assert f"{percent:g} %" in told.says
    assert (told.remedy is None) == (level == "fine")


def test_the_months_say_where_the_outside_humidity_is_from():
    assert "Invented monthly means for a town in the hills" in worked().months.source

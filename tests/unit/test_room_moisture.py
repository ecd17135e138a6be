"""The moisture room: verdicts of a year, mould, and the ladder of timber readings."""

import pytest
from tests.unit import plans, rooms
from tests.unit.plans import codes, one

from evenfall.calc.physics.condensation import monthly
from evenfall.model.job import Reading
from evenfall.stages.design import layering, moisture, what_if

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
        120, plans.build(job), s.deck, s.below, s.joists, s.covering,
        (Reading(name="by-gutter", percent=percent),), job.site,
    )  # fmt: skip
    told = one(found.findings, code)
    assert (told.level, told.subject, told.value) == (level, "reading:by-gutter", percent)
    assert f"{percent:g} %" in told.says
    assert (told.remedy is None) == (level == "fine")


def test_the_months_say_where_the_outside_humidity_is_from():
    assert "Invented monthly means for a town in the hills" in worked().months.source


def test_a_dry_roof_tells_each_month_how_near_it_comes():
    found = worked()
    assert found.verdict == "a"
    assert len(found.months.rows) == 12
    assert [c[0] for c in found.months.columns][1] == "nearest to wet"
    for month, where, p, p_sat, left in found.months.rows:
        assert p_sat - p == pytest.approx(left, abs=1)
        assert left > 0, (month, where)
    coldest = min(found.months.rows, key=lambda row: row[4])
    assert coldest[0] in ("Nov", "Dec", "Jan", "Feb", "Mar", "Apr")


def test_a_wet_roof_tells_each_month_its_water():
    found = worked(rates=leaky(2.0), **WET)
    assert found.months.columns[1][1] == "kg/m2"


def row(found, name):
    return next(r for r in found.what_ifs.rows if r[0].startswith(name))


ORDER = ("stays dry", "gathers and dries", "does not dry")


def test_the_what_ifs_grow_worse_as_the_vcl_does():
    found = worked(rates=leaky(1500.0), **WET)
    whole, holed, none = (
        row(found, n) for n in ("as designed", "the VCL is pierced (", "the VCL is left out")
    )
    assert whole[2] <= holed[2] <= none[2]
    assert none[2] > 0
    assert ORDER.index(whole[1]) <= ORDER.index(none[1])


def test_the_quilt_is_asked_both_ways():
    out = worked(rooms.job("rear-extension"))
    assert row(out, "the quilt is left between the joists")
    kept = worked(rooms.job("courtyard"))
    assert row(kept, "the quilt is taken out")
    bare = worked(rooms.job("garage"))
    assert not [r for r in bare.what_ifs.rows if "quilt" in r[0]]


def test_old_felt_under_the_new_vcl_never_makes_the_roof_wetter_than_a_pierced_vcl():
    found = worked(rates=leaky(2.0), **WET)
    assert (
        row(found, "the old felt stays under the VCL")[2] <= row(found, "the VCL is pierced (")[2]
    )


def test_a_wetted_deck_takes_months_by_the_monthly_method_or_stays_wet_under_a_ceiling_sheet():
    assert "dry after" in row(worked(), "1 kg/m²")[1]
    shut = worked(rooms.job("courtyard"))
    assert shut.what_ifs.rows[-1][0].startswith("1 kg/m²")


def test_a_roof_that_hangs_on_its_vcl_is_told_so():
    found = worked(rates=rooms.rates_with(boards=[
        b.model_dump(mode="json") | {"facing_sd_m": 0.0, "mu": 20.0}
        for b in rooms.demo_rates().boards
    ]), **WET)  # fmt: skip
    if found.without_vcl == "c":
        assert "vcl-must-be-whole" in codes(found.findings)
    assert found.verdict != "c"


def test_the_cure_names_the_least_vcl_and_it_is_just_enough():
    job = rooms.changed(EXTENSION, **WET)
    rates = leaky(0.5)
    w = rooms.designed(job, rates)
    roof = what_if.Roof(w.rise.chosen_mm, w.build, job.survey.deck, job.survey.below,
                        job.survey.joists)  # fmt: skip
    months = layering.year(job.site, job.survey.below)
    assert what_if.year(roof.layers, months).verdict == "c"
    needed = what_if.least_vcl(roof.layers, months)
    passing, failing = (
        what_if.year(what_if.with_vcl(roof.layers, s), months).verdict
        for s in (needed, 0.85 * needed)
    )
    assert passing != "c"
    assert failing == "c"
    told = one(w.moisture.findings, "never-dries").remedy.says
    assert f"sd {needed:g} m or more" in told


def test_a_vcl_that_is_sold_is_offered_and_clears_the_finding():
    data = rooms.demo_rates().model_dump(mode="json")
    boards = [b | {"facing_sd_m": 0.0, "mu": 20.0} for b in data["boards"]]
    tight = data["vcls"][0]
    loose = tight | {"name": "loose-sheet", "sd_m": 0.5}
    rates = rooms.rates_with(vcls=[loose, *data["vcls"]], boards=boards)
    job = rooms.changed(EXTENSION, **WET, **{"design.vcl": "loose-sheet"})
    found = one(rooms.designed(job, rates).moisture.findings, "never-dries")
    assert [c.path for c in found.remedy.changes] == ["design.vcl"]
    cured = rooms.cured(job, found)
    assert "never-dries" not in codes(rooms.designed(cured, rates).moisture.findings)


def test_in_the_cold_spell_a_loose_roof_gathers_too_much():
    assert worked().spell.value == 0
    found = worked(rates=leaky(0.1, mu=5.0), **WET)
    assert found.spell.value > 0.35
    told = one(found.findings, "cold-spell")
    assert told.level == "agree"
    assert told.limit == 0.35


def test_a_room_colder_than_outside_all_year_is_a_finding_and_no_crash():
    warm = {"site.climate_region": 4, "survey.below.indoor_c": 5.0, "site.altitude_m": 0}
    found = worked(**warm)
    assert one(found.findings, "room-colder").level == "note"
    assert found.f_rsi_required.value == 0
    told = [found.peak.value, found.f_rsi.value, found.spell.value]
    assert all(v == v for v in told)  # no NaN


def test_layers_inside_out_are_seen_as_a_roof_that_does_not_dry():
    months = layering.year(EXTENSION.site, EXTENSION.survey.below)
    right = (("sheet", 0.005, 60.0), ("insulation", 5.45, 7.2), ("VCL", 0.0, 1500.0),
             ("deck", 0.14, 2.7))  # fmt: skip
    turned = monthly(right[::-1], months)
    assert monthly(right, months).verdict == "a"
    assert turned.verdict == "c"
    assert turned.highest == turned.highest

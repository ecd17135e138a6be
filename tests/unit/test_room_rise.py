"""The rise stick: what passes, what fits, what is proposed, and what governs."""

from dataclasses import replace

import pytest
from tests.unit import plans, rooms
from tests.unit.plans import codes, one

from evenfall.model.designed import Thickness, Thicknesses
from evenfall.model.job import Covering, Height
from evenfall.model.standing import Zones
from evenfall.model.surveyed import Slope
from evenfall.stages.design import rise
from evenfall.working import Working, measured

COVERING = Covering(
    layers=3, chippings=False, thickness_mm=10, thickness_give_or_take_mm=1,
    sample_300_by_300_kg=0.9, laid_year=2001, asbestos="none_found",
)  # fmt: skip
BEFORE = Working("Before", "U", "W/(m2K)", "by hand", 1.3)
US = {60: 0.31, 100: 0.19, 120: 0.16}
LEVEL = Slope(0.0, 0.0, 0.0)
PRICES = ((60, 1500), (100, 2400), (120, 2880))


def sill(above_mm: float) -> Height:
    return Height(name="back", kind="sill", side="C-D", along_m=2.0, above_covering_mm=above_mm)


def worked(
    thickness=None, us=US, heights=(), held="adhesive", screws=None, target=0.16, moisture="a"
):
    rows = tuple(
        Thickness(mm, u, moisture, 8.0, (screws or {}).get(mm, 150), 200.0) for mm, u in us.items()
    )
    build = replace(plans.build(plans.job()), thickness_mm=thickness, hold_boards_by=held)
    known = Thicknesses(rows, BEFORE, measured(target, "W/(m2K)", "target"))
    return rise.work(
        known, build, COVERING, heights, (), plans.plan(), plans.falls(), PRICES, Zones(), LEVEL
    )


@pytest.mark.parametrize(("u", "passes"), [(0.1599, True), (0.16, True), (0.1601, False)])
def test_a_thickness_passes_at_its_target_and_not_above(u, passes):
    assert worked(us=US | {120: u}).rows[2].passes_u is passes


@pytest.mark.parametrize(("above_mm", "fits"), [(262.9, True), (262.8, True), (262.7, False)])
def test_a_thickness_fits_when_the_upstand_is_just_left(above_mm, fits):
    """150 of upstand, 120 of board, 0.8 of VCL, 2 of sheet, 10 of old felt taken off."""
    assert worked(heights=(sill(above_mm),)).rows[2].fits is fits


def test_the_thinnest_that_passes_and_fits_is_proposed():
    found = worked(us={60: 0.2, 100: 0.155, 120: 0.13})
    assert (found.chosen_mm, found.chosen_by) == (100, "proposed")
    assert found.governs == "Heat governs: 100 is the thinnest that reaches 0.16 W/m²K."


def test_where_none_passes_the_thickest_that_fits_is_proposed():
    found = worked(heights=(sill(250.0),))
    assert found.chosen_mm == found.thickest_that_fits_mm == 100
    assert found.governs == "back governs: 120 would be 13 mm too high there."


def test_where_none_fits_the_thinnest_that_passes_is_proposed_and_said_to_be_too_high():
    found = worked(heights=(sill(100.0),))
    assert (found.chosen_mm, found.thickest_that_fits_mm) == (120, None)
    assert found.governs == "back governs: 120 is 163 mm too high there."


def test_a_thickness_that_no_screw_reaches_is_not_proposed_where_boards_are_screwed():
    us, screws = {60: 0.155, 100: 0.14, 120: 0.12}, {60: None}
    assert worked(us=us, held="screws", screws=screws).chosen_mm == 100
    assert worked(us=us, held="adhesive", screws=screws).chosen_mm == 60


def test_a_thickness_that_never_dries_is_not_proposed_first():
    assert worked(us={60: 0.15, 100: 0.12, 120: 0.1}, moisture="c").chosen_mm == 120


def test_the_choice_of_the_owner_stands():
    found = worked(thickness=60)
    assert (found.chosen_mm, found.chosen_by) == (60, "owner")
    assert found.row.u == 0.31


def test_the_price_is_that_of_a_square_metre_of_board():
    assert worked().rows[1].price_pence_m2 == round(2400 / 2.88)


def test_too_cold_is_to_be_agreed_and_names_what_would_reach_it():
    told = one(worked(thickness=100).findings, "heat-short")
    assert told.level == "agree"
    assert told.remedy is not None
    assert [(c.path, c.value) for c in told.remedy.changes] == [("design.thickness_mm", 120)]
    assert worked(thickness=120).findings == ()


def test_where_nothing_warm_enough_fits_there_are_only_words():
    told = one(worked(thickness=100, heights=(sill(250.0),)).findings, "heat-short")
    assert told.remedy is not None
    assert told.remedy.changes == ()
    assert "fits" in told.says


@pytest.mark.parametrize(("held", "told"), [("screws", ["screw-too-short"]), ("adhesive", [])])
def test_a_screw_that_is_too_short_is_stopped_and_glue_clears_it(held, told):
    found = worked(thickness=120, held=held, screws={120: None}).findings
    assert codes(found) == told


def test_the_remedies_clear_their_findings_in_a_real_job():
    cold = rooms.changed(rooms.job("rear-extension"), **{"design.thickness_mm": 110})
    found = one(rooms.designed(cold).rise.findings, "heat-short")
    assert rooms.designed(rooms.cured(cold, found)).rise.findings == ()


SHORT = rooms.rates_with(
    screw=rooms.demo_rates().screw.model_dump(mode="json") | {"lengths_mm": [60, 90], "tube_mm": 0}
)


def test_glue_clears_a_short_screw_where_the_vcl_sticks():
    job = rooms.changed(rooms.job("garage"), **{"design.vcl": "bitumen-plain"})
    found = one(rooms.designed(job, SHORT).rise.findings, "screw-too-short")
    assert rooms.designed(rooms.cured(job, found), SHORT).rise.findings == ()


def test_glue_is_not_offered_over_a_vcl_that_lies_loose():
    job = rooms.changed(rooms.job("garage"), **{"design.vcl": "polythene"})
    found = one(rooms.designed(job, SHORT).rise.findings, "screw-too-short")
    assert found.remedy is not None
    assert found.remedy.changes == ()


@pytest.mark.parametrize("vcl", ["polythene", "aluminium-polythene"])
def test_boards_glued_to_a_loose_vcl_are_stopped_and_screws_clear_that(vcl):
    job = rooms.changed(
        rooms.job("garage"), **{"design.hold_boards_by": "adhesive", "design.vcl": vcl}
    )
    found = one(rooms.designed(job).rise.findings, "glue-on-loose-vcl")
    assert found.level == "stop"
    assert rooms.designed(rooms.cured(job, found)).rise.findings == ()


def test_with_two_layers_the_remedy_names_one_board():
    job = rooms.changed(
        rooms.job("courtyard"), **{"design.thickness_mm": 50, "design.target_u": 0.12}
    )
    found = one(rooms.designed(job).rise.findings, "heat-short")
    assert found.remedy is not None
    assert found.remedy.changes[0].value == 75
    assert rooms.designed(rooms.cured(job, found)).rise.findings == ()


def test_the_sash_is_named_where_it_is_what_governs():
    job = rooms.changed(
        rooms.job("rear-extension"),
        **{
            "survey.windows[scullery-window].agreed_upstand_mm": 10,
            "survey.windows[scullery-window].sash_above_covering_mm": 370,
            "survey.heights": [],
            "design.board": "phenolic-foil",
            "design.layers": 2,
            "design.thickness_mm": 130,
        },
    )
    assert rooms.designed(job).rise.governs.startswith("The sash of scullery-window governs: 300 ")

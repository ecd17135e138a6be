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
PRICES = rise.Prices(((60, 1500), (100, 2400), (120, 2880)), 20.0, 150.0, 10.0, "demo")
FLAT = plans.job().survey.deck
ROW = Thickness(
    thickness_mm=60, boards=(60,), u=0.3, moisture="a", f_rsi=0.93, mass_kg_m2=8.0,
    added_kg_m2=-2.0, screw_mm=150, screw_most_mm=None, screws_m2=0.0, glued_m2=1.5, heat_kwh=200.0,
)  # fmt: skip


def sill(above_mm: float) -> Height:
    return Height(name="back", kind="sill", side="C-D", along_m=2.0, above_covering_mm=above_mm)


def worked(
    thickness=None, us=US, heights=(), held="adhesive", screws=None, target=0.16, moisture="a",
    two=None, deck=FLAT, rows=None,
):  # fmt: skip
    """Work the stick from U-values by hand; ``two`` are pairs of boards with theirs."""
    made = {(mm,): u for mm, u in us.items()} | (two or {})
    rows = rows or tuple(
        replace(
            ROW, thickness_mm=sum(boards), boards=boards, u=u, moisture=moisture,
            screw_mm=(screws or {}).get(sum(boards), 150), heat_kwh=1000 * u,
        )
        for boards, u in made.items()
    )  # fmt: skip
    build = replace(plans.build(plans.job()), thickness_mm=thickness, hold_boards_by=held)
    known = Thicknesses(rows, BEFORE, measured(target, "W/(m2K)", "target"), before_kwh=1300.0)
    return rise.work(known, build, COVERING, heights, (), plans.plan(), plans.falls(), PRICES, deck,
                     Zones(), Slope(0.0, 0.0, 0.0))  # fmt: skip


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


def test_where_nothing_warm_enough_fits_the_best_that_fits_is_taken_and_the_reason_recorded():
    """A roof held low by its windows: no bare fail."""
    found = worked(heights=(sill(250.0),))
    told = one(found.findings, "heat-held-low")
    assert (told.level, told.value, told.limit) == ("agree", 0.19, 0.16)
    assert told.says == (
        "100 mm is the best that fits: 0.190 W/m²K. 0.16 is asked for. back holds it low: 120 mm "
        "is 13 too high. The next step, 120 mm (0.160), needs 13 mm more room at back, costs £42 "
        "more and saves 30 kWh a year."
    )  # £1.67 of board more on a square metre, 25.42 m2 of roof
    assert told.remedy is not None
    assert told.remedy.changes == ()
    assert "Record the reason" in told.remedy.says


def test_a_thinner_board_than_the_best_that_fits_is_sent_to_the_best():
    told = one(worked(thickness=60, heights=(sill(250.0),)).findings, "heat-short")
    assert told.remedy is not None
    assert [(c.path, c.value) for c in told.remedy.changes] == [("design.thickness_mm", 100)]


def test_two_layers_are_offered_where_one_layer_is_too_cold():
    """Staggered joints leave no gaps; the same height may then be warm enough."""
    found = worked(heights=(sill(250.0),), two={(60, 60): 0.15, (50, 50): 0.159})
    told = one(found.findings, "heat-short")
    assert told.remedy is not None
    assert [(c.path, c.value) for c in told.remedy.changes] == [
        ("design.thickness_mm", 50), ("design.layers", 2),
    ]  # fmt: skip
    assert "100 mm in two layers (50 + 50) would reach it." in told.says


def test_a_board_that_is_too_thick_for_every_screw_is_no_way_out():
    us, screws = {60: 0.2, 100: 0.155}, {100: None}
    told = one(worked(60, us=us, held="screws", screws=screws).findings, "heat-held-low")
    assert told.remedy is not None
    assert told.remedy.changes == ()
    assert "needs longer screws" in told.says


def test_glue_is_spoken_of_only_where_it_would_hold():
    us = {60: 0.2, 100: 0.19}
    uneven = FLAT.model_copy(update={"dish_under_2m_mm": 14.0})
    flat, dished = (
        one(worked(us=us, held="screws", deck=deck).findings, "heat-held-low").remedy
        for deck in (FLAT, uneven)
    )
    assert flat is not None
    assert dished is not None
    assert "glued" in flat.says
    assert "glued" not in dished.says


def test_a_screw_whose_point_would_reach_a_cable_is_not_taken():
    short = replace(ROW, boards=(60,), u=0.15, screw_mm=100, screw_most_mm=99)
    long = replace(ROW, thickness_mm=100, boards=(100,), u=0.12, screw_mm=130, screw_most_mm=130)
    found = worked(held="screws", rows=(short, long))
    assert found.chosen_mm == 100
    assert found.rows[0].against == ("no screw",)


def test_payback_is_set_against_the_next_thinner():
    """24 pence of boards dearer a square metre: by hand."""
    found = worked().rows
    dearer = (round(2400 / 2.88) - round(1500 / 2.88)) * 25.42
    assert found[0].payback_years is None
    assert found[1].payback_years == pytest.approx(dearer / ((310 - 190) * 10.0))
    assert found[2].payback_years == pytest.approx((1000 - 833) * 25.42 / (30 * 10.0))


def test_a_thicker_board_that_saves_nothing_never_pays():
    assert worked(us={60: 0.3, 100: 0.3}).rows[1].payback_years is None


def test_heat_and_carbon_saved_are_against_the_old_roof():
    row = worked().rows[2]
    assert row.saved_kwh == pytest.approx(1300 - 160)
    assert row.saved_co2_kg == pytest.approx((1300 - 160) * 0.210 / 0.9)


def test_what_holds_the_boards_costs_screws_or_glue():
    glued = worked().rows[0]
    screwed = worked(held="screws", rows=(replace(ROW, screws_m2=3.5, glued_m2=0.0),)).rows[0]
    assert glued.fixing_pence_m2 == round(1.5 * 150)
    assert screwed.fixing_pence_m2 == 70


def test_the_sentence_says_why_this_thickness():
    good = worked(us={60: 0.2, 100: 0.155, 120: 0.13})
    assert good.why == (
        "100 mm is the thinnest that reaches 0.16 W/m²K, fits everywhere and stays dry."
    )
    more = worked(thickness=120, us={60: 0.2, 100: 0.155, 120: 0.13})
    assert more.why == ("100 mm would do; 120 mm costs £42 more and saves another 25 kWh a year.")
    less = worked(thickness=60, us={60: 0.2, 100: 0.155, 120: 0.13})
    assert less.why == "100 mm would do all that is asked."


def test_an_edge_that_was_not_tried_in_every_gap_is_named_under_the_table():
    sure, unsure = (rooms.designed(rooms.job(n)).rise.table.source for n in ("garage", "courtyard"))
    assert "not tried" not in sure
    assert "at S-T some thicknesses are read between solved ones and not tried" in unsure


def test_the_table_names_every_thickness_and_no_price():
    found = worked(heights=(sill(250.0),))
    assert [row[0] for row in found.table.rows] == ["60", "100", "120"]
    assert [row[-1] for row in found.table.rows] == ["too cold", "taken, too cold", "too high"]
    assert not [name for name, _ in found.table.columns if "price" in name or "cost" in name]


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


def test_with_two_layers_the_remedy_names_both_boards():
    job = rooms.changed(
        rooms.job("courtyard"), **{"design.thickness_mm": 50, "design.target_u": 0.125}
    )
    found = one(rooms.designed(job).rise.findings, "heat-short")
    assert found.remedy is not None
    assert [(c.path, c.value) for c in found.remedy.changes] == [
        ("design.thickness_mm", 75), ("design.upper_layer_mm", 50),
    ]  # fmt: skip
    assert rooms.designed(rooms.cured(job, found)).rise.findings == ()


def test_two_unequal_boards_are_carried_to_weight_cutting_and_price():
    job = rooms.changed(
        rooms.job("rear-extension"),
        **{"design.layers": 2, "design.thickness_mm": 90, "design.upper_layer_mm": 50},
    )
    w = rooms.taken_off(job)
    assert (w.rise.chosen_mm, w.rise.row.boards) == (140, (90, 50))
    assert [line.id for line in w.boards.order] == ["board:pir-foil:90", "board:pir-foil:50"]
    assert w.heat.u.value == pytest.approx(w.rise.row.u)
    assert w.wind.screw_mm == w.rise.row.screw_mm
    priced = {line.id: line for line in rooms.priced(w).lines}
    for id_, pence in (("board:pir-foil:90", 5065), ("board:pir-foil:50", 3140)):
        assert any(id_ in key for key in priced), (id_, list(priced)[:5], pence)


def test_the_sash_is_named_where_it_is_what_governs():
    job = rooms.changed(
        rooms.job("rear-extension"),
        **{
            "survey.windows[scullery-window].agreed_upstand_mm": 10,
            "survey.windows[scullery-window].sash_above_covering_mm": 370,
            "survey.heights": [],
            "design.board": "phenolic-foil",
            "design.layers": 2,
            "design.thickness_mm": 150,
            "design.upper_layer_mm": 120,
        },
    )
    assert rooms.designed(job).rise.governs.startswith("The sash of scullery-window governs: 280 ")

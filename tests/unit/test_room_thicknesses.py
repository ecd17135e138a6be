"""Every thickness that is sold: heat, weight, screw, target; by hand where the sum is short."""

from dataclasses import replace

import pytest
from tests.unit import plans, rooms

from evenfall.stages.design import dead_weight, layering
from evenfall.stages.design import thicknesses as room
from evenfall.standards.sap_climate import external_temperatures
from evenfall.working import Working

JOB = rooms.changed(
    plans.job(),
    **{"survey.below.ceiling_mm": 0, "survey.below.quilt_mm": 0, "survey.deck.thickness_mm": 21},
)  # fmt: skip
PLAN = replace(
    plans.plan(), net=Working("Net", "A_net", "m2", "by hand", 23.66, own_basis="measured")
)


def worked(build=None, job=JOB):
    s = job.survey
    return room.work(
        build or plans.build(job), s.deck, s.below, s.covering, s.joists, job.site, job.job.nation,
        job.design.target_u, PLAN, s.sides, plans.ADHESIVE,
    )  # fmt: skip


def rows(layers=1, **given):
    return [r for r in worked(**given).rows if len(r.boards) == layers]


def u_by_hand(mm: float, lambda_: float, gaps: bool = True) -> float:
    """Surfaces, rubber 1.2 mm, board, bitumen 0.8 mm, 21 mm OSB; one layer has open joints."""
    R1 = mm / 1000 / lambda_
    R = 0.04 + 0.0012 / 0.2 + R1 + 0.0008 / 0.23 + 0.021 / 0.13 + 0.10
    more = 0.01 * (R1 / R) ** 2 if gaps else 0.0
    return 1 / R + (more if more >= 0.03 / R else 0.0)


def test_glued_boards_on_a_deck_without_ceiling_have_the_u_of_a_sum_by_hand():
    found = {r.thickness_mm: r.u for r in rows()}
    assert found == pytest.approx(
        {60: u_by_hand(60, 0.024), 100: u_by_hand(100, 0.023), 120: u_by_hand(120, 0.022)}, rel=1e-9
    )


def test_two_staggered_layers_have_no_open_joints():
    found = rows(2)[0]
    assert found.thickness_mm == 120
    assert found.u == pytest.approx(u_by_hand(120, 0.024, gaps=False), rel=1e-9)


def test_every_total_of_two_boards_is_made_of_boards_that_are_sold_the_warmest_first():
    """60 at 0.024, 100 at 0.023 and 120 at 0.022 make six totals."""
    assert [r.boards for r in rows(2)] == [
        (60, 60), (100, 60), (120, 60), (100, 100), (120, 100), (120, 120)
    ]  # fmt: skip
    assert [r.thickness_mm for r in rows(2)] == [120, 160, 180, 200, 220, 240]


def test_two_unequal_boards_have_the_resistance_of_both():
    """Each board has the conductivity of its own band."""
    R = 0.04 + 0.0012 / 0.2 + 0.1 / 0.023 + 0.06 / 0.024 + 0.0008 / 0.23 + 0.021 / 0.13 + 0.10
    assert rows(2)[1].u == pytest.approx(1 / R, rel=1e-9)


def test_of_two_ways_to_one_total_the_warmer_is_taken_and_then_the_more_even():
    sizes = ((50, 0.03), (60, 0.03), (70, 0.022), (80, 0.03))
    board = replace(plans.build(JOB).board, sizes=sizes)
    assert board.made_of(120, 2) == (70, 50)
    assert board.made_of(110, 2) == (60, 50)
    assert board.made_of(140, 2) == (70, 70)


def test_the_boards_that_the_owner_chose_stay_as_he_chose_them():
    build = replace(plans.build(JOB, 60, layers=2), upper_mm=100)
    assert build.boards(160) == (60, 100)
    assert build.boards(180) == (120, 60)


def test_screws_are_those_that_the_wind_asks_for():
    """A windier place has more screws, and the stick shows the colder roof."""
    screwed = rooms.changed(JOB, **{"design.hold_boards_by": "screws"})
    windy = rooms.changed(screwed, **{"site.peak_pressure_kpa": 2.4})
    build = plans.build(screwed)
    calm, gale = rows(build=build, job=screwed)[1], rows(build=build, job=windy)[1]
    assert gale.screws_m2 > calm.screws_m2 > 0
    assert gale.u > calm.u
    assert calm.glued_m2 == 0


def test_the_longest_screw_ends_15_mm_below_the_deck_where_cables_lie():
    wired = rooms.changed(JOB, **{"survey.below.cables_in_void": True})
    assert rows(job=wired)[1].screw_most_mm == 136  # 100 + 0.8 + 21 + 15
    bare = rooms.changed(JOB, **{"survey.below.cables_in_void": False})
    assert rows(job=bare)[1].screw_most_mm is None
    ceiling = rooms.changed(bare, **{"survey.below.ceiling_mm": 12.5})
    depth = ceiling.survey.joists.depth_mm
    assert rows(job=ceiling)[1].screw_most_mm == int(100.8 + 21 + depth)


def test_the_added_weight_is_the_new_layers_less_the_old_felt():
    found, felt = rows()[1], JOB.survey.covering.sample_300_by_300_kg / 0.09
    assert found.added_kg_m2 == pytest.approx(found.mass_kg_m2 - felt)


def test_the_air_between_joists_counts_only_behind_a_ceiling():
    closed = rooms.changed(JOB, **{"survey.below.ceiling_mm": 12.5})
    open_, shut = rows()[1].u, rows(job=closed)[1].u
    assert 1 / shut - 1 / open_ > 0.16  # the void and the plasterboard


def test_screws_lower_the_warmth_and_glue_does_not():
    screwed = rooms.changed(JOB, **{"design.hold_boards_by": "screws"})
    build = replace(plans.build(screwed), screw=plans.build(JOB).screw)
    for glued, held in zip(rows(), rows(build=build, job=screwed), strict=True):
        assert held.u > glued.u


def test_a_plastic_tube_spares_warmth():
    screwed = rooms.changed(JOB, **{"design.hold_boards_by": "screws"})
    plain = plans.build(screwed)
    tubed = replace(plain, screw=replace(plain.screw, tube_mm=55.0))
    assert rows(build=tubed, job=screwed)[2].u < rows(build=plain, job=screwed)[2].u


def test_the_mass_is_the_sum_of_the_layers():
    build = replace(plans.build(JOB), overlay_mm=18)
    assert dead_weight.mass(build, 120).value == pytest.approx(
        0.12 * 32 + 0.4 + 0.9 + 1.4 + 0.018 * 640
    )


def test_two_layers_have_two_pairs_of_facings():
    one, two = plans.build(JOB), plans.build(JOB, 60, layers=2)
    assert dead_weight.mass(two, 120).value - dead_weight.mass(one, 120).value == pytest.approx(0.4)


@pytest.mark.parametrize(("overlay_mm", "screw"), [(19.1, 150), (19.3, 160)])
def test_the_screw_reaches_30_mm_into_the_deck(overlay_mm, screw):
    """100 of board, 0.8 of VCL and 30 of embedment leave 19.2 mm of a screw of 150."""
    build = replace(plans.build(JOB), overlay_mm=overlay_mm)
    assert room.screw_length(build, 100, JOB.survey.deck) == screw


def test_no_screw_is_none():
    assert room.screw_length(plans.build(JOB), 160, JOB.survey.deck) is None


@pytest.mark.parametrize(
    ("nation", "renew", "target"),
    [
        ("england", 99, 0.16), ("england", 100, 0.15), ("wales", 100, 0.13), ("wales", 40, 0.16),
        ("scotland", 10, 0.12), ("northern_ireland", 30, 0.18),
    ],
)  # fmt: skip
def test_the_target_is_that_of_the_nation_and_a_new_deck_asks_for_more(nation, renew, target):
    job = rooms.changed(JOB, **{"job.nation": nation, "survey.deck.renew_percent": renew})
    assert worked(job=job).target_u == target


def test_the_owner_may_set_his_own_target():
    found = worked(job=rooms.changed(JOB, **{"design.target_u": 0.135})).target_u
    assert (float(found), found.basis) == (0.135, "declared")


def before(**changes: object) -> Working:
    s = rooms.changed(JOB, **changes).survey
    return room.before_u(s.deck, s.below, s.covering, s.joists)


def test_the_old_roof_is_felt_and_deck_where_nothing_else_is():
    by_hand = 1 / (0.04 + 0.010 / 0.23 + 0.021 / 0.13 + 0.10)
    assert before().value == pytest.approx(by_hand)


def test_above_a_ventilated_void_nothing_counts():
    aired = {"survey.below.old_vents": 4, "survey.below.ceiling_mm": 12.5}
    assert before(**aired).value == pytest.approx(1 / (0.10 + 0.0125 / 0.25 + 0.10))
    thick = before(**aired, **{"survey.deck.thickness_mm": 60}).value
    assert thick == pytest.approx(before(**aired).value)


def test_a_ventilated_void_over_nothing_is_two_surfaces():
    assert before(**{"survey.below.old_vents": 4}).value == pytest.approx(5.0)


def test_the_old_roof_carries_the_basis_of_what_went_in():
    assert before().basis == "from memory"


def test_degree_days_are_those_of_a_sum_by_hand():
    site = JOB.site
    theta = external_temperatures(site.climate_region, site.altitude_m)
    days = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
    by_hand = sum(max(0.0, 15.5 - float(t)) * n for t, n in zip(theta, days, strict=True))
    assert room.degree_days(site).value == pytest.approx(by_hand)


def test_heat_goes_with_u_area_and_degree_days():
    row = worked().rows[0]
    assert row.heat_kwh == pytest.approx(row.u * 23.66 * room.degree_days(JOB.site).value * 0.024)


@pytest.mark.parametrize(("layers", "facings"), [(1, 2), (2, 4)])
def test_each_layer_of_boards_has_two_facings_that_hold_vapour_back(layers, facings):
    s, build = JOB.survey, plans.build(JOB, 60, layers)
    found = layering.finished(build, 60 * layers, s.deck, s.below, s.joists)
    board = next(a for a in found if a.name == "insulation")
    assert board.s_d == pytest.approx(60.0 * 0.06 * layers + facings * 90.0)


def test_no_sheet_is_tighter_than_what_may_be_treated_as_impermeable():
    s, build = JOB.survey, plans.build(JOB)
    foil = replace(build, vcl=replace(build.vcl, sd_m=9000.0))
    found = layering.finished(foil, 120, s.deck, s.below, s.joists)
    assert next(a for a in found if a.name == "VCL").s_d == 1500

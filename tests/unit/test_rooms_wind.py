"""The wind room: pressure, zones on the real plan, screws, beads, and what is said of them."""

import pytest
from tests.unit import plans

from evenfall.model.designed import Wind
from evenfall.model.job import Job
from evenfall.model.surveyed import Plan
from evenfall.stages.design import suction, wind


def worked(job: Job, plan: Plan | None = None, **over: object) -> Wind:
    survey = job.survey
    given = {"adhesive": plans.ADHESIVE, "chosen_mm": 120, "tapered_mm": ()} | over
    return wind.work(
        job.site, survey.sides, survey.deck, survey.below.cables_in_void, plans.build(job),
        given["chosen_mm"], plan or plans.plan(), given["adhesive"], given["tapered_mm"],
    )  # type: ignore[arg-type]  # fmt: skip


def test_the_larger_of_two_methods_is_taken_and_both_are_shown():
    q_p = worked(plans.job()).q_p
    both = {name: float(value) for name, _, value in q_p.of}
    assert q_p.value == max(both["q_EN"], both["q_Sb"])
    assert both["q_EN"] != both["q_Sb"]
    assert q_p.basis == "from memory"


def test_a_pressure_given_by_the_user_replaces_both_and_needs_no_note():
    found = worked(plans.job(site__peak_pressure_kpa=0.71))
    assert found.q_p.value == pytest.approx(710.0)
    assert "wind-without-charts" not in plans.codes(found.findings)


def test_the_sea_beside_raises_the_pressure():
    inland = worked(plans.job()).q_p.value
    assert worked(plans.job(site__distance_to_sea_km=1.0)).q_p.value > inland


def test_a_town_by_the_sea_counts_as_country():
    town = worked(plans.job(site__terrain="town", site__distance_to_sea_km=1.9)).q_p.value
    country = worked(plans.job(site__terrain="village", site__distance_to_sea_km=1.9)).q_p.value
    assert town == pytest.approx(country)


def test_above_the_old_table_only_the_european_chain_is_left():
    found = worked(plans.job(site__roof_height_m=15.1))
    assert found.q_p.symbol == "q_p"
    assert "q_Sb" not in [name for name, _, _ in found.q_p.of]


def test_a_site_below_the_sea_is_taken_at_the_sea():
    low = worked(plans.job(site__altitude_m=-4)).q_p.value
    assert low == worked(plans.job(site__altitude_m=0)).q_p.value


def test_a_parapet_raises_the_height():
    tall = plans.job(
        **{"survey__sides[A-B]__kind": "parapet", "survey__sides[A-B]__parapet_height_mm": 450}
    )
    _, z = suction.pressure(tall.site, tall.survey.sides)
    assert z.value == pytest.approx(2.9 + 0.45)


def test_parapets_shelter_only_where_they_stand_along_every_open_edge():
    sides = {
        f"survey__sides[{s}]__{k}": v
        for s in ("A-B", "B-C", "D-A")
        for k, v in (("kind", "parapet"), ("parapet_height_mm", 520))
    }
    all_round = plans.job(**sides)
    assert suction.eaves(all_round.survey.sides, 3.42, 120) == (
        "parapet",
        pytest.approx(0.4 / 3.42),
    )
    one_open = plans.job(**(sides | {"survey__sides[B-C]__kind": "verge"}))
    assert suction.eaves(one_open.survey.sides, 3.42, 120) == ("sharp", 0.0)


def test_a_parapet_that_the_roof_swallows_shelters_nothing():
    sides = {
        f"survey__sides[{s}]__{k}": v
        for s in ("A-B", "B-C", "D-A")
        for k, v in (("kind", "parapet"), ("parapet_height_mm", 120))
    }
    assert suction.eaves(plans.job(**sides).survey.sides, 3.02, 120) == ("sharp", 0.0)


def test_zones_of_an_oblong_are_those_of_the_four_winds():
    """e = 5.8 for wind on the long side (b = 6.2, 2h = 5.8) and 4.1 on the short one."""
    found = worked(plans.job())
    area = {z: sum(p.area_m2 for p in found.zones if p.zone == z) for z in "FGHI"}
    e_long, e_short = 5.8, 4.1
    corner = (
        (e_long / 4) * (e_long / 10)
        + (e_short / 10) * (e_short / 4)
        - (e_long / 10) * (e_short / 10)
    )
    assert area["F"] == pytest.approx(4 * corner)
    assert sum(area.values()) == pytest.approx(6.2 * 4.1)


def test_the_edge_inside_an_l_gets_its_own_corner_and_edge_strip():
    ring = plans.LETTER_L
    found = worked(plans.job(), plans.plan(ring, ("eaves",) * 6, (0.0,) * 6))
    at_nose = [
        z.zone
        for z in found.zones
        if any(abs(x - 7.3) < 1e-6 and abs(y - 2.9) < 1e-6 for x, y in z.ring)
    ]
    assert at_nose == ["F"]
    inner = [z for z in found.zones if z.zone == "G" and any(y == 2.9 for _, y in z.ring)]
    assert inner


def test_every_source_of_the_least_number_stands_side_by_side():
    least = worked(plans.job()).least_per_board
    assert len({n.source for n in least}) == len(least) >= 3


def test_screws_are_the_larger_of_wind_and_every_source():
    found = worked(plans.job())
    for zone in found.zones:
        assert zone.per_board >= max(float(n) for n in found.least_per_board)
        assert zone.per_board * found.resistance.value >= 1.5 * -zone.pressure.value * 2.4 * 1.2


def test_glue_is_sized_for_the_corner_over_the_whole_roof():
    found = worked(plans.job())
    corner = min(z.pressure.value for z in found.zones)
    assert len({z.bond_pa for z in found.zones}) == 1
    assert found.bond.value == pytest.approx(-1.5 * corner)


def test_beads_keep_to_the_pattern_where_they_are_strong_and_close_up_where_not():
    strong = {z.zone: z.bead_mm for z in worked(plans.job()).zones}
    assert (strong["F"], strong["G"], strong["H"]) == (150, 200, 300)
    weak = plans.ADHESIVE.model_copy(update={"strength_kpa": 10.0})
    found = worked(plans.job(), adhesive=weak)
    assert {z.bead_mm for z in found.zones} == {int(found.centres.value * 100) * 10}


@pytest.mark.parametrize(("dish", "said"), [(5.0, False), (5.1, True)])
def test_a_dished_deck_calls_for_screws(dish, said):
    job = plans.job(survey__deck__dish_under_2m_mm=dish)
    found = worked(job).findings
    assert ("deck-dished" in plans.codes(found)) is said


def test_screws_clear_the_dished_deck():
    job = plans.job(survey__deck__dish_under_2m_mm=7.0)
    dished = plans.one(worked(job).findings, "deck-dished")
    assert "without new decking" in dished.says
    assert "deck-dished" not in plans.codes(worked(plans.cured(job, dished)).findings)


def test_glue_whose_beads_would_touch_is_stopped_and_screws_clear_it():
    job, weak = plans.job(), plans.ADHESIVE.model_copy(update={"strength_kpa": 1.9})
    told = plans.one(worked(job, adhesive=weak).findings, "board-glue-weak")
    assert told.level == "stop"
    after = worked(plans.cured(job, told), adhesive=weak).findings
    assert "board-glue-weak" not in plans.codes(after)


@pytest.mark.parametrize(("more", "code"), [(0.001, "bond-chain"), (-0.001, "sheet-bond-weak")])
def test_the_bond_of_the_sheet_is_judged_at_the_corner(more, code):
    need = worked(plans.job()).bond.value / 1000
    glue = plans.ADHESIVE.model_copy(update={"sheet_bond_kpa": need + more})
    assert code in plans.codes(worked(plans.job(), adhesive=glue).findings)


@pytest.mark.parametrize(
    ("pulled", "asked"), [((), True), ((900.0, 980.0), True), ((900.0, 980.0, 940.0), False)]
)
def test_three_pull_out_tests_are_needed_before_screws_count(pulled, asked):
    job = plans.job(design__hold_boards_by="screws", survey__deck__pull_outs_n=pulled)
    assert ("pull-out-untested" in plans.codes(worked(job).findings)) is asked


def test_tests_on_the_roof_lower_the_resistance_but_never_raise_it():
    weak = plans.job(survey__deck__pull_outs_n=[520.0, 560.0, 505.0, 541.0])
    strong = plans.job(survey__deck__pull_outs_n=[2900.0, 3100.0, 3050.0])
    assert worked(weak).resistance.value < 410.0
    assert worked(strong).resistance.value == 410.0


def test_tests_that_scatter_too_much_are_a_finding_and_no_error():
    job = plans.job(
        design__hold_boards_by="screws", survey__deck__pull_outs_n=[100.0, 900.0, 400.0]
    )
    told = plans.one(worked(job).findings, "pull-out-scatter")
    assert told.level == "stop"


def test_the_screw_goes_through_boards_and_vcl_and_30_mm_into_the_deck():
    assert worked(plans.job()).screw_mm == 160  # 120 + 0.8 + 30 = 150.8


def test_where_no_screw_reaches_through_the_tapers_glue_is_the_way_out():
    job, tapers = plans.job(design__hold_boards_by="screws"), (0.0, 0.0, 40.0, 40.0)
    found = worked(job, tapered_mm=tapers)
    assert found.screw_mm is None
    told = plans.one(found.findings, "screw-short-of-tapers")
    after = worked(plans.cured(job, told), tapered_mm=tapers).findings
    assert "screw-short-of-tapers" not in plans.codes(after)


def test_a_board_that_no_screw_reaches_through_is_left_to_the_rise_stick():
    found = worked(plans.job(design__hold_boards_by="screws", design__overlay_mm=40))
    assert found.screw_mm is None
    assert not [c for c in plans.codes(found.findings) if c.startswith("screw")]


@pytest.mark.parametrize(("deck_mm", "near"), [(24.2, False), (24.1, True)])
def test_screws_stay_out_of_a_void_with_cables(deck_mm, near):
    """160 mm through 120.8 mm ends 39.2 mm below the top of the deck: 24.2 + 15."""
    job = plans.job(
        design__hold_boards_by="screws", survey__below__cables_in_void=True,
        survey__deck__thickness_mm=deck_mm, survey__deck__pull_outs_n=[900.0, 980.0, 940.0],
    )  # fmt: skip
    assert ("screw-near-cables" in plans.codes(worked(job).findings)) is near


def test_tapered_boards_need_the_screw_of_their_thick_end():
    assert worked(plans.job(), tapered_mm=(0.0, 0.0, 25.0, 25.0)).screw_mm == 180


def test_glue_is_no_way_out_on_a_dished_deck():
    job = plans.job(design__hold_boards_by="screws", survey__deck__dish_under_2m_mm=9)
    found = worked(job, tapered_mm=(0.0, 0.0, 40.0, 40.0)).findings
    told = plans.one(found, "screw-short-of-tapers")
    assert told.remedy is not None
    assert not told.remedy.changes

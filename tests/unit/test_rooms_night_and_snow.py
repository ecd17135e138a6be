"""The night's bath, drifts of snow, a kerb on the boards: loads that lean on one side."""

from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from tests.unit import plans

from evenfall.calc.loads.leaning_load import leaning_moment
from evenfall.model.designed import Joists, Night
from evenfall.model.job import Job
from evenfall.model.surveyed import Firring, OpeningAt, Plan, Slope
from evenfall.stages.design import joists, night
from evenfall.stages.design.seldom import at_far_bearing, leaning_part
from evenfall.working import measured

RAIN = measured(0.021, "l/(s m2)", "site.rain_l_s_m2")
SOUTH = (0.0, -1.0)
PARAPETS = plans.plan(kinds=("eaves", "parapet", "wall", "parapet"))


def held(plan: Plan | None = None, fall: float = 25.0, brim: float = 120.0) -> Night:
    return night.night(plan or plans.plan(walls_m=(0.0,) * 4), (0.0, -1.0), fall, brim, RAIN)


def worked(job: Job, plan: Plan | None = None, rise: int = 120) -> Joists:
    s = job.survey
    return joists.work(
        s.joists, s.deck, s.covering, s.below, job.site, plans.build(job), rise, "keep", (),
        plans.around(plan)._replace(sides=s.sides),
    )  # fmt: skip


def test_the_bath_is_a_wedge_along_the_low_side():
    """25 mm over 6.2 x 4.1 m, 1:40: 0.6355 m3 stand as deep as the root of 2 V S / b."""
    bath = held()
    assert bath.volume.value == pytest.approx(0.025 * 6.2 * 4.1)
    assert bath.depth.value == pytest.approx((2 * 0.6355 * 0.025 / 6.2) ** 0.5)
    assert bath.load.value == pytest.approx(bath.depth.value * 9810)
    assert bath.reach_m == pytest.approx(bath.depth.value / 0.025)


def test_low_edge_timbers_let_the_rest_run_over():
    assert held(brim=50.0).depth.value == pytest.approx(0.050)


def test_on_a_level_roof_the_rain_lies_evenly():
    assert held(fall=0.0).depth.value == pytest.approx(0.025)


def test_walls_above_fill_the_bath_further():
    assert held(plans.plan()).volume.value == pytest.approx(0.025 * (6.2 * 4.1 + 0.5 * 6.2 * 3.0))


def test_the_gap_carries_the_hardest_rain_with_the_water_that_may_stand():
    """0.5338 l/s over an edge with 25 mm of water: Q x 24000 / h^1.5."""
    bath = held()
    assert bath.flow.value == pytest.approx(0.021 * 25.42)
    assert bath.way_out.value == pytest.approx(0.021 * 25.42 * 24000 / 125)
    (told,) = night.tell(bath)
    assert (told.level, told.code) == ("note", "night-way-out")
    assert "110 mm wide" in told.says


def test_snow_drifts_against_the_wall_and_the_parapets_by_annex_b():
    """Wall of 3 m less 0.12 m of rise, house 8 m deep, roof 4.1 m: mu = 2 x 8 / 4.1."""
    found = worked(plans.job())
    (drift,) = (s for s in found.seldom if s.id == "drift:C-D")
    s_k = (0.15 + 0.1 * 3 + 0.05 + (84 - 100) / 525) * 1000
    assert drift.reach_m == pytest.approx(4.1)
    assert drift.deepest.value == pytest.approx(16 / 4.1 * s_k)
    assert [s.id for s in found.seldom] == ["night", "drift:C-D"]


def test_a_deeper_house_drifts_more_and_a_parapet_lost_in_the_rise_drifts_none():
    deeper = plans.job(**{"survey__sides[C-D]__house_depth_m": 11.0})
    drift = next(s for s in worked(deeper).seldom if s.id == "drift:C-D")
    assert (
        drift.deepest.value
        > next(s for s in worked(plans.job()).seldom if s.id == "drift:C-D").deepest.value
    )
    tall = replace(
        PARAPETS, sides=tuple(replace(s, parapet_height_mm=400.0) for s in PARAPETS.sides)
    )
    low = replace(PARAPETS, sides=tuple(replace(s, parapet_height_mm=90.0) for s in PARAPETS.sides))
    assert "drift:B-C" in [s.id for s in worked(plans.job(), tall).seldom]
    assert "drift:B-C" not in [s.id for s in worked(plans.job(), low).seldom]


def test_a_house_that_nobody_measured_is_named_where_its_number_stands():
    """Nowhere once it is measured; the engineer's table says it too."""
    found = worked(plans.job())
    (drift,) = (s for s in found.seldom if s.id == "drift:C-D")
    assert "house behind it taken as 8 m deep" in drift.says
    assert any("taken as 8 m deep" in str(row[0]) for row in found.engineer.rows)
    measured_one = worked(plans.job(**{"survey__sides[C-D]__house_depth_m": 7.4}))
    (drift,) = (s for s in measured_one.seldom if s.id == "drift:C-D")
    assert "taken" not in drift.says
    assert drift.if_deep is None


def test_the_depth_of_the_house_is_asked_for_where_a_deeper_one_would_be_too_much():
    sizes = ({"survey__joists__depth_mm": d, "survey__joists__span_m": 4.0}
             for d in range(60, 145, 3))  # fmt: skip
    for size in sizes:
        found = worked(plans.job(**size))
        codes = plans.codes(found.findings)
        if "house-depth-asked" in codes:
            break
    told = plans.one(found.findings, "house-depth-asked")
    assert "snow-drift-heavy" not in codes
    assert told.level == "agree"
    assert "house_depth_m" in told.remedy.says
    deep = worked(plans.job(**size, **{"survey__sides[C-D]__house_depth_m": 16.0}))
    assert plans.one(deep.findings, "snow-drift-heavy").value == pytest.approx(told.value)


def test_weak_joists_under_a_drift_go_to_the_engineer_and_say_how_they_stood():
    job = plans.job(survey__joists__depth_mm=72, survey__joists__span_m=4.0)
    told = plans.one(worked(job).findings, "snow-drift-heavy")
    assert told.subject == "side:C-D"
    assert "as found" in told.says
    assert "structural engineer" in told.says


def test_a_blocked_way_out_that_breaks_the_joists_stops():
    job = plans.job(survey__joists__depth_mm=97, survey__joists__span_m=4.1,
                    survey__joists__spacing_mm=600)  # fmt: skip
    soft = plans.around()
    deep = replace(soft.night, load=replace(soft.night.load, value=2600.0), reach_m=4.0)
    s = job.survey
    found = joists.work(s.joists, s.deck, s.covering, s.below, job.site, plans.build(job), 120,
                        "keep", (), soft._replace(night=deep))  # fmt: skip
    told = plans.one(found.findings, "night-bath-heavy")
    assert told.level == "stop"
    assert "two ways out" in told.remedy.says.lower()


def kerb(on_boards: bool) -> Plan:
    ring = ((2.0, 1.0), (3.2, 1.0), (3.2, 1.9), (2.0, 1.9))
    light = OpeningAt("opening:light", "light", "rooflight", ring, ring, (2.6, 1.45), 1.08, 4.2,
                      on_boards, 150.0, None)  # fmt: skip
    return plans.plan(openings=(light,))


@pytest.mark.parametrize(
    ("kpa", "code", "level"),
    [(None, "kerb-bearing-unknown", "agree"), (150.0, "kerb-bears", "fine"),
     (20.0, "kerb-crushes-boards", "stop")],
)  # fmt: skip
def test_a_kerb_on_the_boards_is_compared_with_what_they_bear_for_good(kpa, code, level):
    job = plans.job()
    s, build = job.survey, plans.build(job)
    build = replace(build, board=replace(build.board, compressive_kpa=kpa))
    found = joists.work(s.joists, s.deck, s.covering, s.below, job.site, build, 120, "keep", (),
                        plans.around(kerb(True)))  # fmt: skip
    told = plans.one(found.findings, code)
    assert (told.level, told.subject) == (level, "opening:light")


def test_a_kerb_on_the_deck_presses_no_board():
    assert worked(plans.job(), kerb(False)).kerbs == ()


def test_one_person_governs_a_short_joist_and_the_even_load_a_long_one():
    short = worked(plans.job(survey__joists__span_m=1.5)).cases[3]
    long = worked(plans.job(survey__joists__span_m=6.0)).cases[3]
    assert short.worst[1] == "bending under one person"
    assert long.worst[1] == "bending"


def test_the_engineers_table_lists_section_loads_uses_and_drifts():
    rows = {row[0]: row[1:] for row in worked(plans.job()).engineer.rows}
    assert rows["joist, depth"] == (145.0, "mm")
    assert rows["one person"] == (900.0, "N")
    assert "after: new roof" in rows
    taken = "snow drifted against the wall C-D (house behind it taken as 8 m deep): deepest"
    assert taken in rows
    assert rows["after, one person, k_mod 0.9: shear used"][1] == "%"
    assert rows[taken.replace("deepest", "bearing used")][1] == "%"


def test_shear_and_bearing_under_a_drift_by_hand():
    """Joists run to the wall C-D: even load and a triangle of 4.1 m over a span of 2.9 m."""
    found = worked(plans.job())
    (drift,) = (s for s in found.seldom if s.id == "drift:C-D")
    G = 0.4 * sum(
        float(v) for n, _, v in found.cases[3].load.of if n not in ("imposed", "snow")
    )  # fmt: skip
    q = drift.deepest.value * 0.4
    at_end = q * (1 - 2.9 / 4.1)
    V = (G + at_end) * 2.9 / 2 + (q - at_end) * 2.9 / 3
    k = 1.1 * 1.1  # instantaneous, shared; gamma_M of an accident is 1
    assert drift.shear.value == pytest.approx(1.5 * V / (0.67 * 0.047 * 0.145) / (k * 3.2e6))
    assert drift.bearing.value == pytest.approx(V / (0.047 * 0.080) / (k * 2.2e6))


def test_a_deep_bath_may_use_a_short_joist_up_in_bearing_and_says_so():
    soft = plans.around()
    deep = replace(soft.night, load=replace(soft.night.load, value=80000.0), reach_m=1.0)
    s = (job := plans.job(survey__joists__span_m=1.0)).survey
    found = joists.work(s.joists, s.deck, s.covering, s.below, job.site, plans.build(job), 120,
                        "keep", (), soft._replace(night=deep))  # fmt: skip
    bath = found.seldom[0]
    assert bath.worst[1] == "bearing"
    told = plans.one(found.findings, "night-bath-heavy")
    assert told.value == pytest.approx(bath.bearing.value)
    assert "% in bearing by water" in told.says


def test_water_on_a_level_roof_is_even_and_no_triangle():
    level = at_far_bearing(98.0, 1.0, 6.0, 4.2)
    assert level == 98.0
    assert leaning_part(98.0, level) == 0.0


@given(f=st.floats(0.0, 1.0), a=st.floats(0.5, 12.0), span=st.floats(0.5, 6.0))
def test_what_leans_and_what_is_even_give_the_moment_of_the_water_itself(f, a, span):
    assume(f == 0.0 or a >= span)  # only water over the whole roof is left at its end
    q, w, steps = 98.0, 210.0, 4000
    dx = span / steps
    xs = [(i + 0.5) * dx for i in range(steps)]
    load = [w + (q * (1 - (1 - f) * x / a) if x < a else 0.0) for x in xs]
    near = sum(p * (span - x) * dx for p, x in zip(load, xs, strict=True)) / span
    shear, moment, most = near, 0.0, 0.0
    for p in load:
        moment += (shear - p * dx / 2) * dx
        shear -= p * dx
        most = max(most, moment)
    even = at_far_bearing(q, f, a, span)
    found = leaning_moment(w + even, leaning_part(q, even), min(a, span), span)
    assert found.value == pytest.approx(most, rel=2e-3)


@pytest.mark.parametrize(
    ("kind", "lifted", "fall", "way"),
    [("tapered", 0, 8.0, (0.0, 1.0)), ("keep", 0, 8.0, (0.0, 1.0)), ("firrings", 40, 17.0, SOUTH),
     ("firrings", 1, 8.0, (0.0, 1.0))],
)  # fmt: skip
def test_under_the_cover_the_deck_falls_as_found_unless_firrings_have_raised_it(
    kind, lifted, fall, way
):
    """Found: 8 mm/m to C-D; what is made: 17 mm/m to A-B. Tapers come over the VCL."""
    firring = Firring("f", 4100, 0, lifted)
    falls = replace(
        plans.falls(), kind=kind, rise=Slope(0.0, 0.0, 25.0),
        firrings=(firring,) if kind == "firrings" else (),
    )  # fmt: skip
    lies = night.lies(Slope(0.0, 0.0, -8.0), falls)
    assert lies.fall.value == pytest.approx(fall)
    assert lies.downhill == pytest.approx(way)


def test_a_level_old_deck_under_tapers_is_a_level_bath():
    lies = night.lies(Slope(0.0, 0.2, 0.3), replace(plans.falls(), kind="tapered"))
    assert lies.downhill == (0.0, 0.0)
    bath = night.night(plans.plan(), *lies, 120.0, RAIN)
    assert bath.depth.value == pytest.approx(bath.volume.value / 25.42)
    assert (bath.far_share, bath.low_side) == (1.0, "")
    assert "on the level deck" in next(iter(night.tell(bath))).says


def test_the_bath_names_the_side_where_it_is_deepest():
    assert held().low_side == "A-B"

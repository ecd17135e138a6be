"""The water room: what runs where, gutters with their walls, outlets, overflows."""

import pytest
from tests.unit import plans

from evenfall.model.designed import Water
from evenfall.model.job import Gutter, Job
from evenfall.model.surveyed import OpeningAt, Plan
from evenfall.stages.design import water
from evenfall.stages.design.hanging import Wanted
from evenfall.stages.papers import section_parts

SOUTH = (0.0, -1.0)
REFERENCE = Gutter(
    side="A-B", width_mm=100, fall_mm_per_m=0, outlet_at="end", outlet_mm=63,
    top_below_covering_mm=20, pipe_mm=63, pipe_length_m=3,
)  # fmt: skip


def worked(job: Job, plan: Plan | None = None) -> Water:
    wanted = Wanted(renew=job.design.gutter == "renew", new=job.design.new_gutters)
    return water.work(
        job.site.rain_l_s_m2, job.survey.gutters, plan or plans.plan(), SOUTH, 25.0, 120.0, wanted
    )


def with_gutter(**changes: object) -> Job:
    """A gutter that stays, under rain read from the map."""
    gutter = REFERENCE.model_copy(update=changes).model_dump()
    return plans.job(survey__gutters=[gutter], design__gutter="keep", site__rain_l_s_m2=0.021)


def test_the_trap_of_the_reference_job_the_wall_is_counted():
    """25.42 m2 and half of 6.2 x 3 m of wall are 34.7 m2; the gutter is good for 33 m2 or so."""
    check = worked(with_gutter()).checks[0]
    assert check.area.value == pytest.approx(34.72)
    assert check.gutter is not None
    assert check.gutter.value / 0.021 == pytest.approx(33.4, abs=0.1)
    assert "gutter-small" in plans.codes(worked(with_gutter()).findings)


def test_without_its_wall_the_same_gutter_is_enough():
    found = worked(with_gutter(), plans.plan(walls_m=(0.0,) * 4))
    assert plans.codes(found.findings) == ["gutter-carries", "gutter-far-below", "night-way-out"]
    assert found.checks[0].spare_percent > 0


def test_the_next_gutter_clears_it():
    job = with_gutter()
    told = plans.one(worked(job).findings, "gutter-small")
    assert told.remedy is not None
    assert [(c.path, c.value) for c in told.remedy.changes] == [("design.gutter", "renew")]
    mended = plans.cured(job, told)
    assert "gutter-small" not in plans.codes(worked(mended).findings)
    assert worked(mended).hung[0].width_mm == 115
    assert mended.survey.gutters == job.survey.gutters, "what was found stays as it was found"


@pytest.mark.parametrize(("depth_m", "place"), [(6.5, "in the middle"), (8.1, "at both ends")])
def test_where_no_gutter_is_wide_enough_the_outlet_moves(depth_m, place):
    ring = ((0.0, 0.0), (12.4, 0.0), (12.4, depth_m), (0.0, depth_m))
    job, large = with_gutter(), plans.plan(ring)
    told = plans.one(worked(job, large).findings, "gutter-small")
    assert told.remedy is not None
    assert place in told.remedy.says
    assert "gutter-small" not in plans.codes(worked(plans.cured(job, told), large).findings)


@pytest.mark.parametrize(
    ("code", "changes"),
    [("outlet-small", {"outlet_mm": 40, "width_mm": 125}), ("pipe-small", {"pipe_mm": 34})],
)
def test_a_small_outlet_or_pipe_is_cleared_by_the_next_size(code, changes):
    job = with_gutter(**changes)
    told = plans.one(worked(job).findings, code)
    assert told.level == "stop"
    assert code not in plans.codes(worked(plans.cured(job, told)).findings)


def test_a_gutter_that_just_carries_the_rain_passes_and_a_little_more_rain_does_not():
    capacity = worked(with_gutter()).checks[0].gutter
    assert capacity is not None
    just = capacity.value / 34.72
    below, above = (
        worked(
            plans.job(
                site__rain_l_s_m2=just * factor,
                survey__gutters=[REFERENCE.model_dump()],
                design__gutter="keep",
            )
        )
        for factor in (0.999, 1.001)
    )
    assert "gutter-small" not in plans.codes(below.findings)
    assert "gutter-small" in plans.codes(above.findings)


def test_a_bend_near_the_outlet_costs_a_fifth():
    straight = worked(with_gutter()).checks[0].gutter
    bent = worked(with_gutter(bend_from_outlet_m=1.2)).checks[0].gutter
    assert straight is not None
    assert bent is not None
    assert bent.value == pytest.approx(0.8 * straight.value)


def test_a_gutter_longer_than_the_table_is_worked_at_its_end():
    long = plans.plan(((0.0, 0.0), (60.0, 0.0), (60.0, 0.4), (0.0, 0.4)), walls_m=(0.0,) * 4)
    check = worked(with_gutter(), long).checks[0]
    assert check.gutter is not None
    assert check.gutter.value == pytest.approx(0.60 * 0.7778, rel=1e-3)


def test_flank_walls_shed_on_the_roof_as_well():
    flanked = plans.plan(kinds=("eaves", "wall", "wall", "verge"), walls_m=(0.0, 2.4, 3.0, 0.0))
    area = worked(with_gutter(), flanked).checks[0].area
    assert area.value == pytest.approx(25.42 + 9.3 + 4.1 * 2.4 / 2)


def test_two_gutters_of_an_l_share_the_roof_by_what_runs_to_each():
    """Falling to the left, each of D-E and F-A takes the roof to its right."""
    ring = ((0.0, 0.0), (7.3, 0.0), (7.3, 6.7), (4.2, 6.7), (4.2, 3.8), (0.0, 3.8))
    shape = plans.plan(ring, ("verge", "verge", "verge", "eaves", "verge", "eaves"), (0.0,) * 6)
    gutters = tuple(REFERENCE.model_copy(update={"side": side}) for side in ("D-E", "F-A"))
    found = water.work(0.021, gutters, shape, (-1.0, 0.0), 25.0, 120.0)
    areas = {c.id: c.area.value for c in found.checks}
    assert areas["gutter:D-E"] == pytest.approx(2.9 * 3.1)
    assert areas["gutter:F-A"] == pytest.approx(3.8 * 7.3)


def test_water_that_runs_to_a_side_without_a_gutter_is_stopped():
    ring = ((0.0, 0.0), (7.3, 0.0), (7.3, 6.7), (4.2, 6.7), (4.2, 3.8), (0.0, 3.8))
    shape = plans.plan(ring, ("verge", "verge", "verge", "eaves", "verge", "eaves"), (0.0,) * 6)
    gutter = REFERENCE.model_copy(update={"side": "F-A"})
    found = water.work(0.021, (gutter,), shape, (-1.0, 0.0), 25.0, 120.0)
    told = plans.one(found.findings, "gutter-missing")
    assert (told.subject, told.level) == ("side:D-E", "stop")


@pytest.mark.parametrize(("depth", "said"), [(1.0, False), (1.01, True)])
def test_a_roof_above_six_square_metres_must_be_drained(depth, said):
    small = plans.plan(((0.0, 0.0), (6.0, 0.0), (6.0, depth), (0.0, depth)))
    found = water.work(0.021, (), small, SOUTH, 25.0, 120.0)
    assert plans.codes(found.findings) == (["no-drainage"] if said else []) + ["night-way-out"]


def closed(*outlets: OpeningAt) -> Plan:
    return plans.plan(
        kinds=("parapet", "parapet", "wall", "parapet"), walls_m=(0.0, 0.0, 3.0, 0.0),
        openings=outlets,
    )  # fmt: skip


def test_one_outlet_among_parapets_wants_a_second_way_out_and_an_overflow():
    found = water.work(0.021, (), closed(plans.outlet("drain", 3.0, 0.2)), SOUTH, 25.0, 120.0)
    assert {"outlet-alone", "overflow-missing"} <= set(plans.codes(found.findings))
    assert plans.one(found.findings, "overflow-missing").level == "agree"
    assert plans.one(found.findings, "outlet-alone").level == "agree"


def test_each_outlet_has_the_part_of_the_roof_that_falls_to_it():
    """By hand: cut half-way at 2.95 m; each with half of its length of the wall of 3 m above."""
    both = closed(plans.outlet("left", 1.2, 0.2), plans.outlet("right", 4.7, 0.2))
    found = water.work(0.021, (), both, SOUTH, 25.0, 120.0)
    areas = [c.area.value for c in found.checks]
    assert areas == [pytest.approx(2.95 * (4.1 + 1.5)), pytest.approx(3.25 * (4.1 + 1.5))]
    assert [c.flow.value for c in found.checks] == [pytest.approx(0.021 * a) for a in areas]
    assert [row[1:] for row in found.catchments.rows] == [
        pytest.approx((b * 4.1, b * 1.5, b * 5.6)) for b in (2.95, 3.25)
    ]
    assert "outlet-alone" not in plans.codes(found.findings)
    assert "overflow-missing" in plans.codes(found.findings)


def test_what_a_gutter_takes_does_not_run_to_the_outlets():
    """An L that falls south: A-B has the gutter, the arm over C-D its own outlet."""
    ring = ((0.0, 0.0), (3.1, 0.0), (3.1, 2.4), (7.3, 2.4), (7.3, 6.7), (0.0, 6.7))
    drains = tuple(plans.outlet(n, x, y) for n, x, y in (("near", 4.0, 2.6), ("far", 6.4, 2.7)))
    plan = plans.plan(ring, ("eaves",) * 6, (0.0,) * 6, openings=drains)
    found = water.work(0.021, (REFERENCE,), plan, SOUTH, 25.0, 120.0)
    area = {c.id: c.area.value for c in found.checks}
    assert area == {
        "gutter:A-B": pytest.approx(3.1 * 6.7),
        "opening:near": pytest.approx((5.2 - 3.1) * 4.3),
        "opening:far": pytest.approx((7.3 - 5.2) * 4.3),
    }


def test_the_heavier_half_of_a_gutter_is_full_first():
    """The roof over the left half is twice as deep as over the right: its arm fills at 3/4 load."""
    ring = ((0.0, 0.0), (6.0, 0.0), (6.0, 2.0), (3.0, 2.0), (3.0, 4.0), (0.0, 4.0))
    uneven = plans.plan(ring, ("eaves",) * 6, (0.0,) * 6)
    even = plans.plan(((0.0, 0.0), (6.0, 0.0), (6.0, 3.0), (0.0, 3.0)), walls_m=(0.0,) * 4)
    middle = with_gutter(outlet_at="middle")
    two, one = (worked(middle, plan).checks[0] for plan in (even, uneven))
    assert (two.area.value, one.area.value) == (pytest.approx(18.0), pytest.approx(18.0))
    assert one.gutter.value / two.gutter.value == pytest.approx(0.5 / (12 / 18))
    ends = worked(with_gutter(outlet_at="both_ends"), uneven).checks[0]
    alone = worked(with_gutter(outlet_at="end"), uneven).checks[0]
    assert ends.pipe.value == pytest.approx(alone.pipe.value / (12 / 18))
    assert ends.outlet.value == pytest.approx(alone.outlet.value / (12 / 18))


def test_the_pipe_under_an_outlet_is_checked_by_its_filling_degree():
    """EN 12056-3 Table 8: 100 mm carries 10.7 l/s at f = 0.33, its strainer far less."""
    found = water.work(0.021, (), closed(plans.outlet("drain", 3.0, 0.2, 100.0)), SOUTH, 25.0, 120)
    (check,) = found.checks
    assert check.pipe.value == pytest.approx(10.7, abs=0.05)
    assert check.outlet.value == pytest.approx(2.761 / 2, abs=0.001)
    told = plans.one(found.findings, "roof-outlet-carries")
    assert "A pipe of 50 mm or more" in told.says


def test_a_pipe_too_narrow_for_its_catchment_is_stopped():
    """40 mm carries 0.9 l/s by the formula, beyond the table; 200 m2 bring 4.2."""
    ring = ((0.0, 0.0), (20.0, 0.0), (20.0, 10.0), (0.0, 10.0))
    plan = plans.plan(ring, ("parapet",) * 4, (0.0,) * 4,
                      openings=(plans.outlet("drain", 9.0, 0.2, 40.0),))  # fmt: skip
    told = plans.one(water.work(0.021, (), plan, SOUTH, 25.0, 120.0).findings, "roof-pipe-small")
    assert told.level == "stop"
    assert "82 mm" in told.remedy.says


def test_an_open_verge_is_an_overflow():
    shape = plans.plan(openings=(plans.outlet("drain", 3.0, 0.2),))
    assert "overflow-missing" not in plans.codes(
        water.work(0.021, (), shape, SOUTH, 25.0, 120.0).findings
    )


def test_a_small_outlet_is_stopped():
    found = water.work(0.021, (), closed(plans.outlet("drain", 3.0, 0.2, 50.0)), SOUTH, 25.0, 120.0)
    assert plans.one(found.findings, "roof-outlet-small").level == "stop"


def test_every_number_of_a_check_names_its_source():
    for check in worked(with_gutter()).checks:
        for number in (check.area, check.flow, check.gutter, check.outlet, check.pipe):
            assert number is not None
            assert number.source
            assert number.numbers


@pytest.mark.parametrize(
    ("shape", "more", "points"),
    [
        ("rectangular", {"depth_mm": 70.0}, ((-100, 0), (-100, -70), (0, -70), (0, 0))),
        (
            "trapezoidal",
            {"depth_mm": 60.0, "sole_mm": 64.0},
            ((-100, 0), (-82, -60), (-18, -60), (0, 0)),
        ),
    ],
)
def test_a_gutter_is_drawn_in_its_own_shape(shape, more, points):
    hung = worked(with_gutter(shape=shape, width_mm=100.0, **more)).hung[0]
    assert section_parts.gutter(0.0, 0.0, hung).points == points


def test_a_half_round_gutter_is_as_deep_as_half_its_width():
    drawn = section_parts.gutter(-20.0, 5.0, worked(with_gutter(width_mm=112.0)).hung[0])
    assert min(y for _, y in drawn.points) == pytest.approx(5.0 - 56.0)
    assert (drawn.points[0][0], drawn.points[-1][0]) == pytest.approx((-132.0, -20.0))


def test_a_new_gutter_says_how_much_longer_its_pipe_is():
    """Water drops 120 mm more over the boards, 20 mm as found, 15 mm as it is to hang."""
    job = with_gutter(top_below_covering_mm=20.0)
    again = plans.job(survey__gutters=[g.model_dump() for g in job.survey.gutters],
                      site__rain_l_s_m2=0.021)  # fmt: skip
    found = worked(again)
    told = [f for f in found.findings if f.code == "gutter-rises"]
    assert f"{found.hung[0].lift.value:.0f} mm longer than the old one" in told[0].says

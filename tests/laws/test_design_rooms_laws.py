"""Laws of the design rooms: zones and strips cover the roof once; more load never helps."""

import math
from itertools import combinations

import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.unit import plans

from evenfall.calc.drainage.catchments import strips
from evenfall.calc.geometry.polygon import area
from evenfall.calc.geometry.worst_wins import cover
from evenfall.stages.design import joists, rules, suction, water, wind
from evenfall.working import Working

SIZE = st.floats(1.3, 14.0)
TURN = st.floats(0.0, 2 * math.pi)


@st.composite
def letters(draw):
    """An L, turned a little, as a survey gives it."""
    w, d = draw(SIZE), draw(SIZE)
    u, v = draw(st.floats(0.2, 0.8)), draw(st.floats(0.2, 0.8))
    ring = ((0, 0), (w, 0), (w, d * v), (w * u, d * v), (w * u, d), (0, d))
    turn = draw(st.floats(-0.05, 0.05))
    c, s = math.cos(turn), math.sin(turn)
    return tuple((c * x - s * y, s * x + c * y) for x, y in ring)


def laid(ring):
    return plans.plan(ring, ("eaves",) * len(ring), (0.0,) * len(ring))


@given(letters(), st.floats(2.1, 9.0))
@settings(max_examples=40, deadline=None)
def test_wind_zones_cover_the_deck_once(ring, height):
    job = plans.job(site__roof_height_m=height)
    survey = job.survey
    found = wind.work(
        job.site, survey.sides, survey.deck, survey.below, plans.build(job), 120, laid(ring),
        plans.ADHESIVE, plans.rise(120),
    )  # fmt: skip
    shapes = [shapely.Polygon(z.ring) for z in found.zones]
    assert math.isclose(sum(z.area_m2 for z in found.zones), area(ring), rel_tol=1e-5)
    assert math.isclose(shapely.union_all(shapes, grid_size=1e-7).area, area(ring), rel_tol=1e-5)
    for a, b in combinations(shapes, 2):
        assert a.intersection(b).area < 1e-5  # ten square millimetres


@given(letters())
@settings(max_examples=40, deadline=None)
def test_the_worse_zone_holds_more(ring):
    job = plans.job()
    survey = job.survey
    found = wind.work(
        job.site, survey.sides, survey.deck, survey.below, plans.build(job), 120, laid(ring),
        plans.ADHESIVE, plans.rise(120),
    )  # fmt: skip
    for a, b in combinations(found.zones, 2):
        if a.pressure.value < b.pressure.value:
            assert a.per_board >= b.per_board
            assert a.bead_mm <= b.bead_mm


@given(letters(), st.floats(0.2, 2.4), st.floats(1.0, 2.0))
@settings(max_examples=20, deadline=None)
def test_more_wind_never_means_fewer_fixings(ring, q_p, more):
    """Zone by zone: screws, beads, and the bond of every glued face."""
    calm, gale = (
        plans.job(site__peak_pressure_kpa=q, survey__deck__pull_outs_n=[700.0, 730.0, 690.0])
        for q in (q_p, q_p * more)
    )
    low, high = (
        wind.work(j.site, j.survey.sides, j.survey.deck, j.survey.below, plans.build(j), 120,
                  laid(ring), plans.ADHESIVE, plans.rise(120))
        for j in (calm, gale)
    )  # fmt: skip
    for a, b in zip(low.zones, high.zones, strict=True):
        assert (b.zone, b.ring) == (a.zone, a.ring)
        assert b.per_board >= a.per_board
        assert b.bead_mm <= a.bead_mm
    assert high.bond.value >= low.bond.value


@given(st.floats(15, 39), st.floats(0.1, 1.0), st.floats(0, 200))
@settings(max_examples=60, deadline=None)
def test_more_wind_never_lowers_the_pressure(speed, more, sea_km):
    low, high = (
        suction.pressure(site, *suction.heights(site, (), plans.rise(120))).value
        for site in (
            plans.job(site__map_wind_m_s=v, site__distance_to_sea_km=sea_km).site
            for v in (speed, speed + more)
        )
    )
    assert high > low


@given(letters(), TURN)
@settings(max_examples=80, deadline=None)
def test_strips_along_the_fall_cover_the_roof_once(ring, turn):
    found = strips(ring, (math.cos(turn), math.sin(turn)))
    assert math.isclose(sum(s.area for s in found), area(ring), rel_tol=1e-7)
    assert all(s.low != s.high for s in found)


@given(letters(), TURN)
@settings(max_examples=60, deadline=None)
def test_no_rain_is_lost_between_roof_and_gutter(ring, turn):
    gutter = plans.job().survey.gutters[0]
    walls = tuple(1.7 if i in (1, 4) else 0.0 for i in range(len(ring)))
    plan = plans.plan(ring, ("eaves",) * len(ring), walls)
    found = water.work(0.021, (gutter,), plan, (math.cos(turn), math.sin(turn)), 25.0, 120.0)
    half = sum(s.length_m * s.wall_height_m for s in plan.sides) / 2
    assert math.isclose(found.checks[0].area.value, area(ring) + half, rel_tol=2e-3)


@given(letters(), letters())
@settings(max_examples=40, deadline=None)
def test_what_lies_over_each_other_is_counted_once(deck, shape):
    parts = cover(deck, (("first", (shape,)), ("second", (deck,))))
    assert math.isclose(sum(area(ring) for _, ring in parts), area(deck), rel_tol=1e-6)
    first = shapely.Polygon(deck).intersection(shapely.Polygon(shape)).area
    assert math.isclose(
        sum(area(r) for name, r in parts if name == "first"), first, rel_tol=1e-6, abs_tol=1e-6
    )


@given(st.floats(1.2, 5.0), st.floats(0.05, 1.5), st.integers(1, 5))
@settings(max_examples=40, deadline=None)
def test_a_longer_span_or_more_snow_never_helps_the_joists(span, more, zone):
    def bending(span_m, snow_zone):
        job = plans.job(survey__joists__span_m=span_m, site__snow_zone=snow_zone)
        s = job.survey
        found = joists.work(
            s.joists,
            s.deck,
            s.covering,
            s.below,
            job.site,
            plans.build(job),
            120,
            "keep",
            (),
            plans.around(),
        )
        return [c.bending.value for c in found.cases]

    start = bending(span, zone)
    assert all(b > a for a, b in zip(start, bending(span + more, zone), strict=True))
    assert all(b >= a for a, b in zip(start, bending(span, zone + 1), strict=True))


@given(st.floats(-40, 400))
def test_the_planning_margin_is_always_printed(rise_mm):
    job = plans.job()
    survey = job.survey
    rise = Working("Rise", "rise", "mm", "by hand", rise_mm, own_basis="measured")
    found = rules.work(
        "england", "house", False, True, survey.sides, survey.covering, "osb", survey.below,
        ((), ()), 2.9, "standard", job.calendar.start_on, (rise, rise),
        plans.renewed(job),
    )  # fmt: skip
    told = next(f for f in found.findings if f.code == "planning-rise")
    assert f"{abs(150 - rise_mm):.0f} mm" in told.says
    assert math.isclose(found.planning_margin.value, 150 - rise_mm)


PLACES = st.lists(
    st.tuples(st.floats(0, 8), st.floats(0, 8)), min_size=1, max_size=4,
    unique_by=lambda p: round(p[0] * 7 + p[1], 3),
)  # fmt: skip


@given(letters(), TURN, PLACES)
@settings(max_examples=60, deadline=None)
def test_outlets_and_gutter_together_take_all_the_rain_once(ring, turn, places):
    """Wherever outlets stand, roof and half of the walls are shared out with nothing lost."""
    downhill = (math.cos(turn), math.sin(turn))
    walls = tuple(1.7 if i in (1, 4) else 0.0 for i in range(len(ring)))
    drains = tuple(plans.outlet(f"drain-{n}", x, y) for n, (x, y) in enumerate(places))
    plan = plans.plan(ring, ("eaves",) * len(ring), walls, openings=drains)
    gutter = plans.job().survey.gutters[0]
    found = water.work(0.021, (gutter,), plan, downhill, 25.0, 120.0)
    half = sum(s.length_m * s.wall_height_m for s in plan.sides) / 2
    assert math.isclose(sum(c.area.value for c in found.checks), area(ring) + half, rel_tol=2e-3)

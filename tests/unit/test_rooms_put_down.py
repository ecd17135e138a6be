"""Boards put down during the work: over which wall, on how many joists, how many at most."""

from types import SimpleNamespace

import pytest
from shapely.geometry import Polygon, box
from tests.unit import plans

from evenfall.calc.loads.patch_load import patch
from evenfall.errors import InvalidInput, OutOfScope
from evenfall.model.designed import PutDown
from evenfall.model.job import Job
from evenfall.stages.design import joists
from evenfall.stages.papers.drawn_put_down import put_down

TIGHT = 3.4
"""Span at which a few boards use up what crew and water leave of the joist, m."""


def worked(job: Job, mm: int = 120):
    s = job.survey
    return joists.work(
        s.joists, s.deck, s.covering, s.below, job.site, plans.build(job), mm, "keep", (),
        plans.around()._replace(sides=s.sides),
    )  # fmt: skip


def down(job: Job, mm: int = 120) -> PutDown:
    return worked(job, mm).put_down


def test_a_stack_goes_over_the_walls_that_carry_the_joists_and_not_on_the_overhang():
    """Joists run along B-C: they bear on A-B, whose overhang is 250 mm, and on C-D."""
    found = down(plans.job())
    assert found.sides == ("A-B", "C-D")
    assert found.in_m == (0.25, 0.0)
    assert found.joists == 6  # 2.4 m across joists at 400 mm


@pytest.mark.parametrize("mm", [60, 100, 120])
def test_no_stack_is_higher_than_a_metre(mm):
    assert down(plans.job(), mm).most * mm <= 1000


def test_more_boards_may_stand_over_a_wall_than_at_mid_span():
    job = plans.job(survey__joists__span_m=TIGHT)
    found = down(job)
    assert found.by_wall.value > found.mid_span.value
    assert found.most > found.most_mid
    told = plans.one(worked(job).findings, "boards-down")
    assert f"{found.most} boards of 120 mm" in told.says
    assert f"{found.most_mid or 'none'} in the middle of a span" in told.says


def test_where_crew_and_water_use_the_joist_up_no_stack_is_put_down():
    job = plans.job(survey__joists__depth_mm=97, survey__joists__span_m=3.9)
    assert down(job).most == 0
    assert "No stack of boards" in plans.one(worked(job).findings, "boards-down").says


def test_the_boards_allowed_use_the_joist_to_nine_tenths_by_hand():
    """At mid-span: what else lies there uses eta_0, n boards the rest; bending governs."""
    job = plans.job(survey__joists__span_m=TIGHT)
    found = down(job)
    case = next(c for c in worked(job).cases if c.name == "during")
    of = {n: float(v) for n, _, v in case.load.of}
    G = sum(v for n, v in of.items() if n not in ("pack of boards", "water at the open way out"))
    w = (1.35 * G + 1.5 * of["water at the open way out"]) * 0.4
    M_0 = w * TIGHT**2 / 8 + 1.5 * 900 * TIGHT / 4
    m = 0.12 * 32 + 0.4
    M_1 = 1.5 * m * 9.81 * 0.4 * 1.2 * (2 * TIGHT - 1.2) / 8
    M_R = 0.047 * 0.145**2 / 6 * 0.9 * 1.1 * (150 / 145) ** 0.2 * 16e6 / 1.3
    a = 1 / (1 - plans.ponding(0.047, 0.145, TIGHT, 0.4))
    assert found.mid_span.value == pytest.approx((0.9 / a * M_R - M_0) / M_1)


@pytest.mark.parametrize(("a", "L"), [(0.6, 2.9), (1.2, 3.3), (2.5, 2.5)])
@pytest.mark.parametrize("at_bearing", [True, False])
def test_a_patch_agrees_with_slices_of_it_as_point_loads(a, L, at_bearing):
    """Ten thousand slices, their reactions and moments added up one by one."""
    n, w = 10_000, 100.0
    start = 0.0 if at_bearing else (L - a) / 2
    at = [start + (i + 0.5) * a / n for i in range(n)]
    P = w * a / n
    R = sum(P * (1 - x / L) for x in at)
    places = [i * L / 300 for i in range(301)]
    M = max(R * x - sum(P * (x - y) for y in at[:: n // 500] if y < x) * (n // 500) for x in places)
    found = patch(w, a, L, at_bearing)
    assert found[0].value == pytest.approx(M, rel=5e-3)
    assert found[1].value == pytest.approx(R, rel=1e-6)


def test_a_patch_beyond_the_span_is_refused_with_value_and_limit():
    with pytest.raises(OutOfScope, match=r"3.*0 to 2\.5"):
        patch(100.0, 3.0, 2.5, True)
    with pytest.raises(InvalidInput, match="above 0"):
        patch(100.0, 0.0, 2.5, True)


def test_the_places_are_drawn_clear_of_openings():
    """A hole at the middle of A-B: its place moves along the side, the other stays."""
    shape = plans.plan(openings=(plans.outlet("drain", 3.1, 0.6),))
    roof = SimpleNamespace(plan=shape, joists=worked(plans.job()))
    layer = put_down(roof)
    assert [item.key for item in layer.items] == ["down:A-B", "down:C-D"]
    first, second = (item.items[0].points for item in layer.items)
    hole = box(3100, 600, 3200, 700)
    assert not Polygon(first).intersects(hole)
    assert sum(x for x, _ in second[:4]) / 4 == pytest.approx(3100)
    assert min(y for _, y in first) == pytest.approx(250)  # clear of the overhang


def test_no_place_is_drawn_where_no_stack_may_stand():
    job = plans.job(survey__joists__depth_mm=97, survey__joists__span_m=3.9)
    assert put_down(SimpleNamespace(plan=plans.plan(), joists=worked(job))).items == ()

"""Snow round kerbs and chimneys, and on the glass of a kerb that stands within a wall's drift."""

import pytest
from tests.unit import plans

from evenfall.model.designed import Joists
from evenfall.model.job import Job
from evenfall.model.surveyed import OpeningAt, Plan
from evenfall.stages.design import joists
from evenfall.standards.dead_loads import KERB_WIDTH

RING = ((2.0, 1.0), (3.2, 1.0), (3.2, 1.9), (2.0, 1.9))
S_K = (0.15 + 0.1 * 3 + 0.05 + (84 - 100) / 525) * 1000


def roof(kind: str = "rooflight", kerb_mm: float = 400.0, on_boards: bool = False, up: float = 0.0,
         openings: bool = True) -> Plan:  # fmt: skip
    ring = tuple((x, y + up) for x, y in RING)
    light = OpeningAt("opening:light", "light", kind, ring, ring, (2.6, 1.45), 1.08, 4.2,  # type: ignore[arg-type]
                      on_boards, kerb_mm, None)  # fmt: skip
    return plans.plan(openings=(light,) if openings else ())


def worked(shape: Plan, job: Job | None = None) -> Joists:
    job = job or plans.job()
    s = job.survey
    return joists.work(s.joists, s.deck, s.covering, s.below, job.site, plans.build(job), 120,
                       "keep", (), plans.around(shape)._replace(sides=s.sides))  # fmt: skip


def drifts(found: Joists) -> dict[str, object]:
    return {s.id: s for s in found.seldom if s.id.endswith(":light")}


def permanent(found: Joists) -> float:
    of = found.cases[3].load.of
    return 0.4 * sum(float(v) for n, _, v in of if n not in ("imposed", "snow"))


def test_a_kerb_stops_a_drift_by_annex_b_over_the_joist_beside_it_by_hand():
    """400 mm less 120 of rise: mu = 2 h / s_k, l_s = 5 h; 0.9 m of kerb and l_s of a 2.9 m span."""
    found = worked(roof())
    one = drifts(found)["kerb:light"]
    h, l_s = 0.28, 1.4
    assert one.reach_m == pytest.approx(l_s)
    assert one.deepest.value == pytest.approx(2000 * h)
    q, a, w = 2000 * h * 0.4, 0.9 + l_s, permanent(found)
    M = w * 2.9**2 / 8 + q * a * (2 * 2.9 - a) / 8
    M_side = w * 2.9**2 / 8 + q * a**2 * (1 - a / 5.8) ** 2 / 2
    V = w * 2.9 / 2 + q * a * (1 - a / 5.8)
    k = 1.1 * 1.1
    strength = k * (150 / 145) ** 0.2 * 16e6
    assert one.bending.value == pytest.approx(max(M, M_side) / (0.047 * 0.145**2 / 6) / strength)
    assert one.shear.value == pytest.approx(1.5 * V / (0.67 * 0.047 * 0.145) / (k * 3.2e6))
    assert one.bearing.value == pytest.approx(V / (0.047 * 0.080) / (k * 2.2e6))


def test_clause_6_2_is_worked_beside_it_with_full_factors_by_hand():
    found = worked(roof())
    one = drifts(found)["6.2:light"]
    mu_2 = max(0.8, min(2000 * 0.28 / S_K, 2.0))
    assert mu_2 > 1.1
    assert one.deepest.value == pytest.approx(mu_2 * S_K)
    q_d = 1.35 * permanent(found) / 0.4
    q_d += max(1.5 * 600 + 0.75 * mu_2 * S_K, 1.05 * 600 + 1.5 * mu_2 * S_K)
    strength = 0.8 * 1.1 * (150 / 145) ** 0.2 * 16e6 / 1.3
    stress = q_d * 0.4 * 2.9**2 / 8 / (0.047 * 0.145**2 / 6)
    assert one.bending.value == pytest.approx(stress / strength)


@pytest.mark.parametrize(
    ("kerb_mm", "on_boards", "h"),
    [(400.0, True, 0.40), (90.0, False, 0.15), (90.0, True, 0.15), (300.0, False, 0.18)],
)
def test_a_kerb_stands_as_high_as_the_rise_leaves_and_no_lower_than_an_upstand(
    kerb_mm, on_boards, h
):
    one = drifts(worked(roof(kerb_mm=kerb_mm, on_boards=on_boards)))["kerb:light"]
    assert one.deepest.value == pytest.approx(2000 * h)


def test_a_chimney_is_taken_as_high_as_makes_the_most_of_it():
    one = drifts(worked(roof("chimney")))["kerb:light"]
    assert one.deepest.value == pytest.approx(5 * S_K)
    assert one.reach_m == pytest.approx(3.0)  # of roof, from 3.2 m to B-C


@pytest.mark.parametrize("kind", ["pipe", "outlet", "flue"])
def test_round_slim_things_no_drift_is_worked(kind):
    assert drifts(worked(roof(kind))) == {}


def test_a_joist_that_a_drift_at_a_kerb_uses_up_stops_for_the_engineer():
    job = plans.job(survey__joists__depth_mm=72, survey__joists__span_m=3.9)
    found = worked(roof("chimney"), job).findings
    told = next(f for f in found
                if f.code == "snow-drift-heavy" and f.subject == "opening:light")  # fmt: skip
    assert (told.level, told.by_engineer) == ("stop", True)
    assert "snow drifted against light" in told.says


def test_glass_within_a_drift_carries_it_and_presses_its_boards_the_more():
    """Wall C-D at 4.1 m: kerb from 1.9 or 3.9 m, drift over all of the 4.1 m."""
    far, near = (worked(roof(on_boards=True, up=up)) for up in (0.0, 2.0))
    wall = next(s for s in far.seldom if s.id == "drift:C-D").deepest.value
    for found, off in ((far, 2.2), (near, 0.2)):
        s = max(0.8 * S_K, wall * (1 - off / 4.1))
        p = (1.08 * (30 * 9.81 + s) / 4.2 + 8 * 9.81) / KERB_WIDTH / 1000
        assert found.kerbs[0].value == pytest.approx(p)
    assert near.kerbs[0].value > far.kerbs[0].value

"""The strip room: mass and volume of what comes off, and the skips that hold it."""

import pytest
from tests.unit import plans
from tests.unit.plans import codes

from evenfall.errors import InvalidInput
from evenfall.stages.takeoff import strip

JOB = plans.job()
SKIPS = (("small", "small", 1.5), ("middle", "middle", 3.1), ("toilet", "toilet", None),
         ("large", "large", 6.1), ("huge", "huge", 9.2))  # fmt: skip
PLAIN = {"survey__deck__renew_percent": 0, "survey__below__quilt_mm": 0}


def worked(kinds=("wall",) * 4, quilt="remove", charges=SKIPS, **changes: object):
    s = plans.job(**(PLAIN | changes)).survey
    return strip.work(plans.plan(kinds=kinds), s.covering, s.deck, s.below, quilt, charges)


def rows(found) -> dict[str, tuple[float, float]]:
    return {str(name): (float(m), float(v)) for name, m, v in found.table.rows}


def test_felt_is_weighed_by_its_sample_over_the_gross_area():
    assert rows(worked())["felt"] == pytest.approx((0.99 / 0.09 * 25.42, 0.99 / 0.09 * 25.42 / 350))


def test_the_share_of_the_deck_that_is_renewed_comes_off():
    found = rows(worked(survey__deck__renew_percent=30))["deck"]
    assert found == pytest.approx((0.3 * 25.42 * 0.018 * 640, 0.3 * 25.42 * 0.018 * 2.1))


@pytest.mark.parametrize(("wet", "kg_m3"), [(False, 20), (True, 100)])
def test_a_wet_quilt_weighs_five_times_a_dry_one(wet, kg_m3):
    found = rows(worked(survey__below__quilt_mm=85, survey__below__quilt_wet=wet))["quilt"]
    assert found == pytest.approx((25.42 * 0.085 * kg_m3, 25.42 * 0.085 * 1.2))


def test_a_quilt_that_stays_is_not_stripped():
    assert "quilt" not in rows(worked(quilt="keep", survey__below__quilt_mm=85))


def test_old_edges_come_off_along_eaves_and_verges():
    found = rows(worked(kinds=("eaves", "verge", "wall", "party_line")))["edges"]
    assert found == pytest.approx(((6.2 + 4.1) * 2.5, (6.2 + 4.1) * 0.012))
    assert "edges" not in rows(worked())


def test_felt_with_asbestos_never_fills_the_skip_but_is_weighed():
    clean = worked(kinds=("eaves", "verge", "wall", "verge"))
    bad = worked(kinds=("eaves", "verge", "wall", "verge"), survey__covering__asbestos="found")
    assert bad.mass.value == clean.mass.value
    [(_, _, filled), _] = bad.skips.of
    assert filled.value == pytest.approx(rows(bad)["edges"][1])
    assert bad.skip == "small"


def test_mass_and_volume_are_the_sums_of_the_table():
    found = worked(kinds=("eaves", "verge", "wall", "verge"), survey__deck__renew_percent=25,
                   survey__below__quilt_mm=100)  # fmt: skip
    assert found.mass.value == pytest.approx(sum(m for m, _ in rows(found).values()))
    assert found.volume.value == pytest.approx(sum(v for _, v in rows(found).values()))


@pytest.mark.parametrize(
    ("kg", "skip", "number"),
    [(1.85, "small", 1), (1.87, "middle", 1), (3.84, "middle", 1), (3.85, "large", 1),
     (7.55, "large", 1), (7.6, "large", 2)],
)  # fmt: skip
def test_the_smallest_skip_that_holds_it_all_is_taken_and_none_over_eight_yards(kg, skip, number):
    """V = sample / 0.09 x 25.42 / 350."""
    found = worked(survey__covering__sample_300_by_300_kg=kg)
    assert (found.skip, found.skips.value) == (skip, number)


def test_rates_without_a_skip_are_refused():
    with pytest.raises(InvalidInput, match="skip"):
        worked(charges=(("toilet", "toilet", None), ("huge", "huge", 9.2)))


@pytest.mark.parametrize(("layers", "told"), [(3, []), (4, ["second-system"])])
def test_more_than_three_layers_are_a_second_system(layers, told):
    assert codes(worked(survey__covering__layers=layers).findings) == told

"""Survey adjustment: reference collection "Loads and water", section 7.

Critical values: computed. SURVEY-1: inputs of Ghilani, "Adjustment Computations", example 14.1,
from memory; results computed. SURVEY-2 and SURVEY-3: published listings of adjustment programs.
SURVEY-5: own case, computed.
"""

from __future__ import annotations

import math

import pytest

from evenfall.calc.geometry.critical_values import (
    chi_square_limit,
    delta_0,
    normal_limit,
    tau_limit,
)
from evenfall.calc.geometry.tapes import Adjusted, Station, Tape, adjust
from evenfall.standards.survey_practice import DELTA_0, ONE_MORE, W_CRITICAL

QUANTILE, DELTA = 0.00005, 0.0005  # the collection's own tolerances

CHI_SQUARE = {  # dof: 0.95, 0.99, 0.025, 0.975
    1: (3.8415, 6.6349, 0.0010, 5.0239),
    2: (5.9915, 9.2103, 0.0506, 7.3778),
    3: (7.8147, 11.3449, 0.2158, 9.3484),
    4: (9.4877, 13.2767, 0.4844, 11.1433),
    5: (11.0705, 15.0863, 0.8312, 12.8325),
    6: (12.5916, 16.8119, None, None),
    8: (15.5073, 20.0902, None, None),
    10: (18.3070, 23.2093, 3.2470, 20.4832),
    20: (31.4104, 37.5662, None, None),
}


@pytest.mark.parametrize(("alpha", "z"), [(0.05, 1.9600), (0.01, 2.5758), (0.001, 3.2905)])
def test_the_normal_limits_are_those_of_the_table(alpha: float, z: float) -> None:
    assert normal_limit(alpha) == pytest.approx(z, abs=QUANTILE)


@pytest.mark.parametrize(
    ("alpha", "power", "expected"),
    [(0.001, 0.80, 4.132), (0.01, 0.80, 3.417), (0.05, 0.80, 2.802), (0.01, 0.90, 3.857)],
)
def test_delta_0_is_that_of_the_table(alpha: float, power: float, expected: float) -> None:
    assert delta_0(alpha, power) == pytest.approx(expected, abs=DELTA)


def test_the_non_centrality_of_the_usual_risks_is_17_075() -> None:
    assert delta_0(0.001, 0.80) ** 2 == pytest.approx(17.075, abs=0.0005)


@pytest.mark.parametrize("dof", CHI_SQUARE)
def test_the_chi_square_limits_are_those_of_the_table(dof: int) -> None:
    for expected, alpha in zip(CHI_SQUARE[dof], (0.05, 0.01, 0.975, 0.025), strict=True):
        if expected is not None:
            assert chi_square_limit(dof, alpha) == pytest.approx(expected, abs=QUANTILE)


@pytest.mark.parametrize(
    ("dof", "alpha", "tau"),
    [
        (2, 0.05, 1.4099),
        (3, 0.05, 1.6454),
        (5, 0.05, 1.8143),
        (10, 0.05, 1.9039),
        (3, 0.001, 1.7303),
        (5, 0.001, 2.1781),
        (10, 0.001, 2.6786),
    ],
)
def test_the_critical_tau_is_that_of_the_table(dof: int, alpha: float, tau: float) -> None:
    assert tau_limit(dof, alpha) == pytest.approx(tau, abs=QUANTILE)


def test_the_stored_limits_are_the_computed_ones() -> None:
    assert pytest.approx(normal_limit(), abs=QUANTILE) == W_CRITICAL
    assert pytest.approx(delta_0(), abs=DELTA) == DELTA_0
    assert pytest.approx(chi_square_limit(1), abs=QUANTILE) == ONE_MORE


@pytest.fixture(scope="module")
def survey_1() -> Adjusted:
    """One point from three distances, in feet, unit weights."""
    known = (
        Station("A", 865.40, 4527.15),
        Station("B", 2432.55, 2047.25),
        Station("C", 2865.22, 27.15),
    )
    read = (("A", 6049.00), ("B", 4736.83), ("C", 5446.49))
    return adjust(("U",), tuple(Tape(p + "U", p, "U", d, 1.0) for p, d in read), known)


def test_survey_1_places_the_point(survey_1: Adjusted) -> None:
    assert survey_1.polygon[0] == pytest.approx((6861.3168, 3727.8186), abs=1e-4)


def test_survey_1_has_the_residuals_of_the_book_case(survey_1: Adjusted) -> None:
    residuals = [c.residual for c in survey_1.tapes]
    assert residuals == pytest.approx([-0.0374, 0.0768, -0.0474], abs=1e-4)


def test_survey_1_has_the_adjusted_distances(survey_1: Adjusted) -> None:
    adjusted = [c.adjusted for c in survey_1.tapes]
    assert adjusted == pytest.approx([6048.9626, 4736.9068, 5446.4426], abs=1e-4)


def test_survey_1_has_one_degree_of_freedom_and_its_s0(survey_1: Adjusted) -> None:
    assert survey_1.dof == 1
    assert survey_1.s0 == pytest.approx(0.0977, abs=1e-4)


def test_survey_1_has_the_cofactors(survey_1: Adjusted) -> None:
    u = survey_1.corners[0]  # unit weights: covariances are cofactors
    found = (u.sigma_x**2, u.covariance, u.sigma_y**2)
    assert found == pytest.approx((0.6302, -0.7284, 2.4947), abs=1e-4)


def test_survey_1_has_the_standard_errors_scaled_by_s0(survey_1: Adjusted) -> None:
    u = survey_1.corners[0]
    found = (u.sigma_x * survey_1.s0, u.sigma_y * survey_1.s0)
    assert found == pytest.approx((0.0775, 0.1542), abs=1e-4)


def test_survey_2_fails_the_test_of_all_observations() -> None:
    t = 4.30623**2 * (11 - 8)
    assert t == pytest.approx(55.63073, abs=2e-4)
    assert t > chi_square_limit(3)
    assert t > chi_square_limit(3, 0.025)


def test_survey_3_has_its_standard_error_and_flags_its_outlier() -> None:
    m0 = math.sqrt(298.052 / (15 - 4))
    assert m0 == pytest.approx(5.2053, abs=5e-5)
    assert m0 == pytest.approx(5.21, abs=0.005)
    assert normal_limit(0.05) < 2.38 < normal_limit(0.001)


ROOF = (
    ("A", "B", 8.004),
    ("B", "C", 5.001),
    ("C", "D", 7.998),
    ("D", "A", 4.997),
    ("A", "C", 9.436),
    ("B", "D", 9.431),
)


def _roof(ac: float = 9.436) -> Adjusted:
    tapes = (Tape(a + b, a, b, ac if a + b == "AC" else d, 0.003) for a, b, d in ROOF)
    return adjust(("A", "B", "C", "D"), tuple(tapes))


@pytest.fixture(scope="module")
def survey_5() -> Adjusted:
    return _roof()


def test_survey_5_places_the_corners(survey_5: Adjusted) -> None:
    a, b, c, d = survey_5.polygon
    assert a == (0, 0)
    assert b == pytest.approx((8.00366, 0), abs=5e-6)
    assert c == pytest.approx((8.00236, 5.00079), abs=5e-6)
    assert d == pytest.approx((0.00470, 4.99679), abs=5e-6)


def test_survey_5_passes_with_one_degree_of_freedom(survey_5: Adjusted) -> None:
    assert survey_5.t == pytest.approx(0.0708, abs=5e-5)
    assert survey_5.dof == 1
    assert survey_5.limit == pytest.approx(3.8415, abs=5e-5)
    assert not survey_5.detected


def test_survey_5_has_the_residuals(survey_5: Adjusted) -> None:
    found = [1000 * c.residual for c in survey_5.tapes]
    assert found == pytest.approx([-0.338, -0.211, -0.339, -0.212, 0.399, 0.399], abs=5e-4)


def test_survey_5_has_the_redundancy_numbers(survey_5: Adjusted) -> None:
    found = [c.redundancy for c in survey_5.tapes]
    expected = [0.1797, 0.0701, 0.1799, 0.0702, 0.2501, 0.2499]
    assert found == pytest.approx(expected, abs=5e-5)


def test_survey_5_has_the_smallest_detectable_blunders(survey_5: Adjusted) -> None:
    found = [round(1000 * (c.least_seen or 0)) for c in survey_5.tapes]
    assert found == [29, 47, 29, 47, 25, 25]


def test_survey_5_with_a_blunder_of_20_mm_is_detected_but_not_located() -> None:
    wrong = _roof(9.456)
    assert wrong.t == pytest.approx(9.4244, abs=5e-5)
    assert [abs(c.w) for c in wrong.tapes] == pytest.approx([3.07] * 6, abs=0.005)
    assert wrong.detected
    assert not wrong.located
    assert set(wrong.suspects) == {"AB", "BC", "CD", "DA", "AC", "BD"}

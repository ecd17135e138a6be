"""Snow by EN 1991-1-3 and the UK National Annex; imposed load of EN 1991-1-1.

SNOW-1: Single-Storey Steel Buildings Part 3 App. A pp. 3-36 to 3-43 (published). SNOW-2: a
published calculation sheet (published, second-hand). Ground snow: formula from memory, its sign
published in the corrigendum of 29 June 2007; values computed.
"""

import pytest

from evenfall.calc.loads.snow import (
    exceptional_ground_snow,
    ground_snow,
    ground_snow_kn_m2,
    roof_snow,
)
from evenfall.calc.loads.snow_drifts import (
    abutting_coefficient,
    coefficient_at_edge,
    drift_at_obstruction,
    drift_length,
    exceptional_obstruction_coefficient,
    obstruction_coefficient,
    obstruction_drift_length,
    parapet_coefficient,
    parapet_drift_length,
)
from evenfall.errors import InvalidInput, OutOfScope
from evenfall.standards import en_1991_1_1, en_1991_1_3

S_K = 650.0  # Pa, of SNOW-1


def printed(value, digits):
    return pytest.approx(value, abs=0.5001 * 10**-digits)


@pytest.mark.parametrize(
    ("zone", "altitude", "expected"),
    [
        (3, 100, 0.5000),
        (3, 150, 0.5952),
        (4, 100, 0.6000),
        (4, 90, 0.5810),
        (2, 50, 0.3048),
        (5, 300, 1.0810),
    ],
)
def test_ground_snow(zone, altitude, expected):
    assert ground_snow_kn_m2(zone, altitude) == printed(expected, 4)
    assert ground_snow(zone, altitude).value == pytest.approx(1000 * expected, abs=0.05)


def test_ground_snow_has_the_corrected_sign():
    """Corrigendum: A + 100 was changed to A − 100."""
    assert ground_snow_kn_m2(3, 100) == pytest.approx(0.15 + 0.35)


def test_ground_snow_near_the_sheet_for_inverness():
    assert ground_snow_kn_m2(4, 90) == pytest.approx(0.60, abs=0.02)


@pytest.mark.parametrize(
    ("zone", "altitude", "mistake"),
    [(0, 50, InvalidInput), (7, 50, InvalidInput), (3, 1501, OutOfScope), (3, -1, OutOfScope)],
)
def test_sites_beyond_the_annex_are_refused(zone, altitude, mistake):
    with pytest.raises(mistake):
        ground_snow(zone, altitude)


def test_snow_1_undrifted_and_drifted_half():
    assert roof_snow(S_K) == pytest.approx(520.0)
    assert roof_snow(S_K) / 2 == pytest.approx(260.0)


def test_snow_1_exceptional():
    s_Ad = exceptional_ground_snow(S_K)
    assert s_Ad == pytest.approx(1300.0)
    assert (roof_snow(s_Ad), roof_snow(s_Ad) / 2) == (pytest.approx(1040), pytest.approx(520))


@pytest.mark.parametrize(
    ("h", "widths", "weight", "l_s"), [(3.0, 8.333, 9.231, 6.0), (4.25, 5.882, 13.077, 8.5)]
)
def test_snow_1_lower_roof_against_a_taller_building(h, widths, weight, l_s):
    assert (10 + 40) / (2 * h) == printed(widths, 3)
    assert en_1991_1_3.SNOW_WEIGHT * h / S_K == printed(weight, 3)
    mu_w = abutting_coefficient(10.0, 40.0, h, S_K)
    assert mu_w == 4.0
    assert roof_snow(S_K, mu_w) == pytest.approx(2600.0)
    assert drift_length(h) == l_s


@pytest.mark.parametrize(
    ("b_1", "b_2", "h", "s_k", "expected"),
    [(8.0, 6.0, 4.0, 650.0, 1.75), (2.0, 1.0, 4.0, 650.0, 0.8), (30.0, 30.0, 0.6, 1200.0, 1.0)],
)
def test_each_bound_of_the_abutting_coefficient_governs_in_turn(b_1, b_2, h, s_k, expected):
    assert abutting_coefficient(b_1, b_2, h, s_k) == pytest.approx(expected)


def test_snow_1_parapet():
    l_s = parapet_drift_length(3.0, 12.5)
    mu = parapet_coefficient(3.0, S_K, 25.0, l_s)
    assert l_s == 12.5
    assert printed(9.23, 2) == 2 * 3.0 / 0.65
    assert mu == pytest.approx(4.00)
    assert roof_snow(S_K, mu) == pytest.approx(2600.0)


def test_snow_1_last_row_is_right_for_the_bracket_of_40_m_not_for_its_label():
    """Trap: labelled b2 = 25 m; the printed 5.33 and 3.46 kN/m2 belong to 40 m."""
    l_s = parapet_drift_length(3.0, 40.0)
    assert l_s == 15.0
    mu = parapet_coefficient(3.0, S_K, 40.0, l_s)
    assert mu == printed(5.33, 2)
    assert roof_snow(S_K, 5.33) / 1000 == printed(3.46, 2)
    assert parapet_coefficient(3.0, S_K, 25.0, l_s) == printed(3.33, 2)


def test_snow_2_obstruction():
    found = drift_at_obstruction(2.0, 6.0, 1500.0)
    assert printed(2.67, 2) == en_1991_1_3.SNOW_WEIGHT * 2.0 / 1500.0
    assert (found.mu_2.value, found.l_s.value, en_1991_1_3.MU_1) == (2.0, 5.0, 0.8)
    assert found.mu_edge is None


def test_a_roof_that_ends_within_the_drift_keeps_part_of_it():
    """Computed from clause 6.2, own case, not an authority."""
    assert coefficient_at_edge(0.8, 2.0, 5.0, 3.0) == pytest.approx(1.28)
    assert drift_at_obstruction(2.0, 3.0, 1500.0).mu_edge.value == pytest.approx(1.28)


def test_a_low_kerb_makes_no_less_than_the_flat_roof():
    assert obstruction_coefficient(0.15, 600.0) == 0.8


def test_exceptional_drift_at_an_obstruction():
    assert exceptional_obstruction_coefficient(0.3, 500.0) == pytest.approx(1.2)
    assert exceptional_obstruction_coefficient(4.0, 500.0) == 5.0
    lengths = [obstruction_drift_length(h, b) for h, b in ((0.3, 6.0), (0.3, 1.1), (2.0, 6.0))]
    assert lengths == pytest.approx([1.5, 1.1, 5.0])  # the least of 5 h, b and 5 m


def test_imposed_load_of_category_h_keeps_both_values():
    assert (en_1991_1_1.Q_K_EN, en_1991_1_1.POINT_K_EN) == (400, 1000)
    assert (en_1991_1_1.Q_K_UK, en_1991_1_1.POINT_K_UK) == (600, 900)
    assert en_1991_1_1.Q_K_UK.basis == "from memory"

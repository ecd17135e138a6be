"""Wind by EN 1991-1-4:2005+A1:2010 and the UK National Annex.

WIND-1: Single-Storey Steel Buildings Part 3, App. B, pp. 3-47 and 3-48 (published). WIND-2: a
published calculation sheet. WIND-3 to WIND-5: published, second-hand. Table NA.1: published. The
exposure table and the displacement height are computed. Zones and coefficients: the file of roofs.
"""

import pytest

from evenfall.calc.loads.roof_zones import reference_height, zone_length
from evenfall.calc.loads.walls_and_parapets import (
    height_parts,
    wall_strips,
)
from evenfall.calc.loads.wind import displacement_height, exposure, site_pressure, terrain
from evenfall.calc.loads.wind_exposure import (
    exposure_factor,
    mean_velocity,
    peak_pressure,
    peak_pressure_by_mean,
    roughness_factor,
    terrain_factor,
    turbulence_intensity,
)
from evenfall.calc.loads.wind_speed import (
    altitude_factor,
    basic_pressure,
    basic_velocity,
    direction_factor,
    probability_factor,
    sector_factor,
)
from evenfall.calc.loads.wind_withdrawn import effective_velocity, exposure_by_s_b, s_b
from evenfall.errors import InvalidInput, OutOfScope
from evenfall.standards import en_1991_1_4 as en


def printed(value, digits):
    """Tolerance of half a unit in the last printed digit."""
    return pytest.approx(value, abs=0.5001 * 10**-digits)


# --- 1.1 the chain -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("category", "z_0", "z_min"),
    [("0", 0.003, 1), ("I", 0.01, 1), ("II", 0.05, 2), ("III", 0.3, 5), ("IV", 1.0, 10)],
)
def test_table_4_1_terrain(category, z_0, z_min):
    assert (terrain(category).z_0, terrain(category).z_min) == (z_0, z_min)


@pytest.mark.parametrize("category", ["I", "II"])
def test_remembered_terrain_says_so(category):
    assert exposure(9.0, category).basis == "from memory"


@pytest.mark.parametrize(
    ("p", "expected"),
    [
        (0.02, 1.0),
        (0.01, 1.0385),
        (0.05, 0.9462),
        (0.10, 0.9025),
        (0.20, 0.8545),
        (0.50, 0.7764),
        (1 / 75, 1.0227),
    ],
)
def test_probability_factor(p, expected):
    assert probability_factor(p) == printed(expected, 4)


EXPOSURE = {
    2: (2.138, 1.878, 1.423, 1.281, 1.176),
    3: (2.339, 2.088, 1.640, 1.281, 1.176),
    4: (2.487, 2.243, 1.801, 1.281, 1.176),
    5: (2.604, 2.367, 1.929, 1.281, 1.176),
    6: (2.702, 2.470, 2.037, 1.389, 1.176),
    8: (2.860, 2.636, 2.212, 1.566, 1.176),
    10: (2.985, 2.769, 2.352, 1.709, 1.176),
    12: (3.088, 2.879, 2.469, 1.829, 1.294),
    15: (3.218, 3.016, 2.616, 1.980, 1.444),
    20: (3.388, 3.198, 2.810, 2.182, 1.644),
}


@pytest.mark.parametrize("z", EXPOSURE)
@pytest.mark.parametrize("category", en.TERRAIN)
def test_exposure_factor_by_height_and_terrain(z, category):
    """Computed from the EN formula at full precision."""
    expected = EXPOSURE[z][list(en.TERRAIN).index(category)]
    assert exposure(z, category).value == printed(expected, 3)


# --- 1.2 velocity pressure ------------------------------------------------------------------


def test_wind_1_every_step_at_full_precision():
    k_r = terrain_factor(0.3)
    c_r = roughness_factor(k_r, 8.0, 0.3, 5.0)
    c_e = exposure_factor(c_r, k_r)
    q_b = basic_pressure(26.0, en.RHO)
    assert q_b == pytest.approx(422.5)
    assert (k_r, c_r, c_e) == (printed(0.21539, 5), printed(0.70721, 5), printed(1.5664, 4))
    assert peak_pressure(c_e, q_b) == printed(661.817, 3)


def test_wind_1_agrees_with_the_printed_pressure_that_rounds_its_steps():
    q_p = peak_pressure(exposure(8.0, "III").value, basic_pressure(26.0, en.RHO))
    assert q_p == pytest.approx(659.0, rel=0.005)
    assert terrain_factor(0.3) == printed(0.215, 3)


def test_wind_1_geometry_of_the_gable():
    e = zone_length(32.0, 8.0)
    assert e == 16.0
    assert printed(0.13, 2) == 8.0 / 60.0
    assert height_parts(8.0, 32.0) == 1
    assert wall_strips(e, 60.0) == pytest.approx((3.2, 12.8, 44.0))


@pytest.fixture
def wind_2():
    z_e = reference_height(13.080, 0.400)
    v_m = mean_velocity(roughness_factor(terrain_factor(0.3), z_e, 0.3, 5.0), 22.0)
    return z_e, v_m, turbulence_intensity(z_e, 0.3, 5.0)


def test_wind_2_parapet_raises_the_reference_height(wind_2):
    assert wind_2[0] == pytest.approx(13.480)


def test_wind_2_full_precision(wind_2):
    _, v_m, I_v = wind_2
    assert basic_pressure(22.0, en.RHO) == pytest.approx(302.5)
    assert (v_m / 22.0, v_m, I_v) == (printed(0.81960, 5), printed(18.031, 3), printed(0.26280, 5))
    assert peak_pressure_by_mean(v_m, I_v) == printed(577.007, 3)


def test_wind_2_printed_digits(wind_2):
    _, v_m, I_v = wind_2
    assert basic_pressure(22.0, en.RHO) / 1000 == printed(0.303, 3)
    assert (v_m / 22.0, v_m, I_v) == (printed(0.82, 2), printed(18.0, 1), printed(0.263, 3))
    assert peak_pressure_by_mean(v_m, I_v) / 1000 == printed(0.58, 2)


def test_wind_2_walls_are_one_part_on_the_long_face_and_two_on_the_short():
    assert (height_parts(13.080, 14.420), height_parts(13.080, 11.200)) == (1, 2)


def test_both_routes_to_the_peak_pressure_agree(wind_2):
    z_e, v_m, I_v = wind_2
    by_factor = peak_pressure(exposure(z_e, "III").value, basic_pressure(22.0, en.RHO))
    assert peak_pressure_by_mean(v_m, I_v) == pytest.approx(by_factor, rel=1e-12)


def test_wind_3_rounded_altitude_factor():
    assert basic_velocity(22.2, 1.01) == printed(22.42, 2)
    assert basic_pressure(22.42) == pytest.approx(308.13, abs=0.01)


def test_wind_3_unrounded_altitude_factor():
    c_alt = altitude_factor(9.0, 6.0).value
    assert c_alt == pytest.approx(1.009)
    assert basic_velocity(22.2, c_alt) == printed(22.3998, 4)


def test_wind_4_only_its_pressure_is_a_test():
    assert basic_pressure(23.17) == pytest.approx(329.09, abs=0.01)


def test_wind_4_its_own_formula_contradicts_its_arithmetic():
    """Trap: printed 1.05 and 23.17 m/s; the printed formula gives 1.0587 and 23.29 m/s."""
    c_alt = altitude_factor(66.0, 18.0).value
    v_b = basic_velocity(22.0, c_alt)
    assert c_alt == printed(1.0587, 4)
    assert v_b == printed(23.29, 2)
    assert v_b / 23.17 - 1 == pytest.approx(0.005, abs=0.0005)


def test_wind_5_withdrawn_standard():
    V_e = effective_velocity(20.0, 1 + 0.001 * 150, 1.68392)
    assert V_e == pytest.approx(38.7303, rel=1e-5)
    assert basic_pressure(V_e) == pytest.approx(919.52, rel=1e-5)


# --- 1.3 UK National Annex ------------------------------------------------------------------


def test_altitude_factor_is_continuous_at_ten_metres():
    assert altitude_factor(140.0, 10 + 1e-9).value == pytest.approx(
        altitude_factor(140.0, 10).value
    )


@pytest.mark.parametrize(
    ("degrees", "published", "exact"),
    [(45, 0.73, 0.73), (135, 0.77, 0.765), (225, 0.97, 0.965), (315, 0.87, 0.865)],
)
def test_direction_factor_between_the_lines(degrees, published, exact):
    assert direction_factor(degrees) == pytest.approx(exact)
    assert direction_factor(degrees) == pytest.approx(published, abs=0.0051)


def test_direction_factor_of_table_na_1_and_its_worst_case():
    expected = (0.78, 0.73, 0.73, 0.74, 0.73, 0.80, 0.85, 0.93, 1.00, 0.99, 0.91, 0.82)
    assert tuple(direction_factor(30 * i) for i in range(12)) == expected
    assert max(expected) == en.C_DIR_WORST


def test_direction_factor_closes_the_circle():
    assert direction_factor(345.0) == direction_factor(-15.0) == pytest.approx(0.80)


@pytest.mark.parametrize(
    ("x", "expected"),
    [(9.0, 3.6), (12.0, 3.6), (20.0, 3.2), (30.0, 1.2), (35.99, 0.002)],
)
def test_displacement_height(x, expected):
    """Computed from A.5 (from memory), own case: obstructions of 6 m, house of 6 m."""
    assert displacement_height(x, 6.0, 6.0).value == pytest.approx(expected)


def test_displacement_height_ends_at_six_heights():
    assert displacement_height(36.0, 6.0, 6.0) is None


@pytest.mark.parametrize(
    ("height", "km", "town", "S_b", "factor"),
    [
        (2, 0, False, 1.48, 1.949),
        (2, 2, False, 1.40, 1.744),
        (5, 10, False, 1.57, 2.194),
        (10, 100, False, 1.62, 2.336),
        (15, 0, False, 1.85, 3.046),
        (2, 2, True, 1.18, 1.239),
        (2, 100, True, 1.07, 1.019),
        (5, 2, True, 1.50, 2.002),
        (10, 10, True, 1.69, 2.542),
        (15, 100, True, 1.71, 2.602),
    ],
)
def test_s_b_and_its_conversion(height, km, town, S_b, factor):
    """BS 6399-2 Table 4, from memory, medium confidence; conversion computed."""
    assert s_b(height, km, town) == pytest.approx(S_b)
    assert exposure_by_s_b(S_b) == printed(factor, 3)


@pytest.mark.parametrize("z", [5, 10])
def test_inland_country_is_near_category_ii(z):
    assert exposure_by_s_b(s_b(z, 100, False)) == pytest.approx(exposure(z, "II").value, rel=0.031)


def test_s_b_takes_the_distance_nearer_the_sea():
    assert s_b(5, 9.9, False) == 1.62


@pytest.mark.parametrize(("height", "km", "town"), [(15.1, 5, False), (4, 1.9, True)])
def test_s_b_refuses_what_its_table_does_not_hold(height, km, town):
    with pytest.raises(OutOfScope):
        s_b(height, km, town)


# --- the chain as a room uses it -------------------------------------------------------------


def test_the_chain_of_a_site_shows_where_its_numbers_come_from():
    found = site_pressure(22.0, 66.0, 18.0, "III")
    assert found.v_b.value == printed(23.29, 2)
    assert found.q_p.value == pytest.approx(found.c_e.value * found.q_b.value)
    assert found.q_p.basis == "published, second-hand"
    assert found.q_p.line.startswith("q_p = c_e × q_b = ")


@pytest.mark.parametrize(
    ("call", "mistake"),
    [
        (lambda: exposure(8.0, "V"), InvalidInput),
        (lambda: exposure(201.0, "II"), OutOfScope),
        (lambda: exposure(0.0, "II"), InvalidInput),
        (lambda: altitude_factor(-1.0, 5.0), InvalidInput),
        (lambda: site_pressure(22.0, 10.0, 3.0, "III", h_dis=3.5), InvalidInput),
        (lambda: displacement_height(-1.0, 6.0, 6.0), InvalidInput),
        (lambda: direction_factor(float("nan")), InvalidInput),
    ],
)
def test_what_the_chain_cannot_answer_is_refused(call, mistake):
    with pytest.raises(mistake):
        call()


def test_the_sector_takes_the_worst_direction_within_45_degrees():
    """Table NA.1 by hand: 45 to 135 holds 90; 315 to 45 is worst at its end, 315."""
    assert sector_factor(90.0).value == pytest.approx(0.765)
    assert sector_factor(0.0).value == pytest.approx(0.865)
    assert sector_factor(-10.0).value == pytest.approx(0.82 + (0.91 - 0.82) / 30 * 25)
    assert {sector_factor(d).value for d in (200, 240, 280)} == {1.0}
    assert sector_factor(350.0).value == sector_factor(-10.0).value

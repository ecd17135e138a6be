"""Wind by EN 1991-1-4:2005+A1:2010 and the UK National Annex.

WIND-1, PARAPET-1, friction: Single-Storey Steel Buildings Part 3 App. B pp. 3-47 and 3-48, and
Multi-Storey Steel Buildings Part 3 App. A (published). WIND-2: a published calculation sheet.
WIND-3 to WIND-5: published, second-hand. Table 7.2 and Table NA.1: published. Cases named "own" are
computed, own case, not an authority: q_p is published, the zone pressures are computed.
"""

import pytest

from evenfall.calc.loads.pressure_coefficients import (
    Coefficients,
    coefficient,
    coefficient_between,
    coefficient_uk,
    coefficients,
    external_pressure,
    net_pressure,
)
from evenfall.calc.loads.roof_zones import envelope, reference_height, zone_length, zones
from evenfall.calc.loads.walls_and_parapets import (
    friction_from,
    height_parts,
    parapet_zones,
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


# --- 1.4 zones -------------------------------------------------------------------------------


@pytest.fixture
def sizes():
    def of(b, d, h):
        return {
            zone.zone: tuple(
                (pytest.approx(x1 - x0), pytest.approx(y1 - y0))
                for x0, y0, x1, y1 in zone.rectangles
            )
            for zone in zones(b, d, h)
        }

    return of


@pytest.mark.parametrize(
    ("b", "d", "F", "G", "H", "I"),
    [
        (32, 60, (4.0, 1.6), (24.0, 1.6), (32, 6.4), (32, 52)),
        (60, 32, (4.0, 1.6), (52, 1.6), (60, 6.4), (60, 24)),
    ],
)
def test_zones_of_the_large_roofs(sizes, b, d, F, G, H, I):
    """Computed, own case, not an authority."""
    assert sizes(b, d, 8) == {"F": (F, F), "G": (G,), "H": (H,), "I": (I,)}
    assert sum(zone.area for zone in zones(b, d, 8)) == pytest.approx(1920)


def test_zones_of_the_small_roofs(sizes):
    """Computed, own case, not an authority."""
    wide, deep, third = sizes(6, 4, 3), sizes(4, 6, 3), sizes(10, 6, 3.2)
    assert wide["F"][0] == (1.5, 0.6)
    assert wide["H"][0] == (6, 2.4)
    assert wide["I"][0] == (6, 1)
    assert deep["F"][0] == (1.0, 0.4)
    assert deep["I"][0] == (4, 4)
    assert third["F"][0] == (1.6, 0.64)


def test_zone_h_is_cut_off_where_the_roof_is_shallower_than_half_e():
    found = {zone.zone: zone for zone in zones(10.0, 2.5, 3.2)}
    assert "I" not in found
    assert found["H"].rectangles == ((0.0, pytest.approx(0.64), 10.0, 2.5),)


# --- 1.5 coefficients ------------------------------------------------------------------------

TABLE_7_2 = [
    ("sharp", 0, (-1.8, -2.5), (-1.2, -2.0), (-0.7, -1.2)),
    ("parapet", 0.025, (-1.6, -2.2), (-1.1, -1.8), (-0.7, -1.2)),
    ("parapet", 0.05, (-1.4, -2.0), (-0.9, -1.6), (-0.7, -1.2)),
    ("parapet", 0.10, (-1.2, -1.8), (-0.8, -1.4), (-0.7, -1.2)),
    ("curved", 0.05, (-1.0, -1.5), (-1.2, -1.8), (-0.4, -0.4)),
    ("curved", 0.10, (-0.7, -1.2), (-0.8, -1.4), (-0.3, -0.3)),
    ("curved", 0.20, (-0.5, -0.8), (-0.5, -0.8), (-0.3, -0.3)),
    ("mansard", 30, (-1.0, -1.5), (-1.0, -1.5), (-0.3, -0.3)),
    ("mansard", 45, (-1.2, -1.8), (-1.3, -1.9), (-0.4, -0.4)),
    ("mansard", 60, (-1.3, -1.9), (-1.3, -1.9), (-0.5, -0.5)),
]


def pairs(eaves, parameter):
    return [(float(c.c_pe_10), float(c.c_pe_1)) for c in coefficients(eaves, parameter)]


@pytest.mark.parametrize(("eaves", "parameter", "F", "G", "H"), TABLE_7_2)
def test_table_7_2(eaves, parameter, F, G, H):
    assert pairs(eaves, parameter) == [F, G, H, (-0.2, -0.2)]


@pytest.mark.parametrize(("eaves", "parameter", "F", "G", "H"), TABLE_7_2)
def test_table_7_2_was_read(eaves, parameter, F, G, H):
    assert {c.c_pe_10.basis for c in coefficients(eaves, parameter)} == {"published"}


def test_curved_eaves_are_not_read_at_the_misprinted_radius():
    """Trap: a public copy prints 0.010 for r/h = 0.10."""
    assert pairs("curved", 0.10)[0] == (-0.7, -1.2)
    assert pairs("curved", 0.010) == pairs("sharp", 0)


def test_mansard_above_60_degrees_goes_towards_sharp_eaves():
    assert pairs("mansard", 75)[0] == pytest.approx((-1.55, -2.2))
    assert pairs("mansard", 90) == pairs("sharp", 0)


def test_parapet_below_the_table_goes_towards_sharp_eaves_and_is_only_practice():
    F = coefficients("parapet", 0.0125)[0]
    assert (F.c_pe_10, F.c_pe_1) == (pytest.approx(-1.7), pytest.approx(-2.35))
    assert F.c_pe_10.basis == "common practice"


def test_parapet_above_the_table_keeps_its_last_line():
    assert pairs("parapet", 0.31) == pairs("parapet", 0.10)


def test_zone_i_also_has_the_downward_sign():
    assert en.C_PE_I_PRESSURE == 0.2


@pytest.mark.parametrize(
    ("eaves", "parameter", "mistake"),
    [("mansard", 29.0, OutOfScope), ("parapet", -0.1, OutOfScope), ("hipped", 0.0, InvalidInput)],
)
def test_eaves_outside_the_table_are_refused(eaves, parameter, mistake):
    with pytest.raises(mistake):
        coefficients(eaves, parameter)


# --- 1.6 loaded area -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("area", "F", "G", "H"),
    [
        (1, -2.5, -2.0, -1.2),
        (2, -2.289, -1.759, -1.049),
        (2.88, -2.178, -1.632, -0.970),
        (5, -2.011, -1.441, -0.851),
        (10, -1.8, -1.2, -0.7),
    ],
)
def test_loaded_area_between_1_and_10_m2(area, F, G, H):
    found = [float(coefficient(area, zone)) for zone in coefficients("sharp")[:3]]
    assert found == pytest.approx([F, G, H], abs=0.0005)


def test_loaded_area_ends_meet_the_table():
    assert coefficient_between(1.0, -2.5, -1.8) == -2.5
    assert coefficient_between(10.0, -2.5, -1.8) == pytest.approx(-1.8)


def test_uk_rule_has_nothing_between_and_is_from_memory():
    F = coefficients("sharp")[0]
    assert (coefficient_uk(1.0, F), coefficient_uk(1.01, F)) == (
        pytest.approx(-2.5),
        pytest.approx(-1.8),
    )
    assert coefficient_uk(0.5, F).basis == "from memory"


def test_loaded_area_of_nothing_is_refused():
    with pytest.raises(InvalidInput):
        coefficient(0.0, coefficients("sharp")[0])


# --- 1.7 inside pressure ---------------------------------------------------------------------


def test_the_more_onerous_inside_pressure_for_suction_is_plus_0_2():
    assert (en.C_PI_PRESSURE, en.C_PI_SUCTION) == (0.2, -0.3)
    assert net_pressure(659.0, -1.8) < net_pressure(659.0, -1.8, en.C_PI_SUCTION)


# --- 1.8 complete roofs ----------------------------------------------------------------------


def by_zone(found: tuple[Coefficients, ...]):
    return {c.zone: (float(c.c_pe_10), float(c.c_pe_1)) for c in found}


def test_roof_1_coefficients_and_pressures(wind_2):
    """ROOF-1, own case on the q_p of WIND-2: computed, not an authority."""
    found = by_zone(coefficients("parapet", 0.4 / 13.08))
    expected = {"F": (-1.555, -2.155), "G": (-1.055, -1.755), "H": (-0.7, -1.2), "I": (-0.2, -0.2)}
    assert found == {zone: pytest.approx(pair, abs=0.0005) for zone, pair in expected.items()}
    pressures = {zone: [external_pressure(0.5770, c) for c in pair] for zone, pair in found.items()}
    assert pressures["F"] == pytest.approx([-0.897, -1.244], abs=0.0005)
    assert pressures["G"] == pytest.approx([-0.609, -1.013], abs=0.0005)
    assert pressures["H"] == pytest.approx([-0.404, -0.692], abs=0.0005)
    assert pressures["I"] == pytest.approx([-0.115, -0.115], abs=0.0005)
    assert external_pressure(0.5770, en.C_PE_I_PRESSURE) == pytest.approx(0.115, abs=0.0005)


@pytest.mark.parametrize(
    ("b", "d", "F", "G", "H", "I"),
    [
        (14.42, 11.2, (3.605, 1.442), (7.21, 1.442), (14.42, 5.768), (14.42, 3.99)),
        (11.2, 14.42, (2.8, 1.12), (5.6, 1.12), (11.2, 4.48), (11.2, 8.82)),
    ],
)
def test_roof_1_zones(sizes, b, d, F, G, H, I):
    """ROOF-1, computed, own case, not an authority."""
    assert sizes(b, d, 13.48) == {"F": (F, F), "G": (G,), "H": (H,), "I": (I,)}


@pytest.mark.parametrize(
    ("zone", "outside", "net"),
    [
        ("F", (-1.186, -1.648), (-1.318, -1.779)),
        ("G", (-0.791, -1.318), (-0.923, -1.450)),
        ("H", (-0.461, -0.791), (-0.593, -0.923)),
    ],
)
def test_roof_2(zone, outside, net):
    """ROOF-2, own case on the printed q_p of WIND-1: computed, not an authority."""
    pair = by_zone(coefficients("sharp"))[zone]
    assert [external_pressure(0.659, c) for c in pair] == pytest.approx(outside, abs=0.001)
    assert [net_pressure(0.659, c) for c in pair] == pytest.approx(net, abs=0.001)


def test_roof_3_coefficients():
    """ROOF-3, geometry published, coefficients computed, own case."""
    found = by_zone(coefficients("parapet", 1.5 / 33.5))
    assert found["F"] == pytest.approx((-1.442, -2.042), abs=0.0005)
    assert found["G"] == pytest.approx((-0.942, -1.642), abs=0.0005)
    assert found["H"] == (-0.7, -1.2)


def test_parapet_1():
    found = [(name, pytest.approx(end), float(c)) for name, end, c in parapet_zones(1.5)]
    inf = float("inf")
    assert found == [("A", 0.45, 2.1), ("B", 3.0, 1.8), ("C", 6.0, 1.4), ("D", inf, 1.2)]


def test_friction_acts_only_on_the_gable_wind():
    """Multi-Storey Steel Buildings Part 3: 120 × 10 × 35 m."""
    assert friction_from(120.0, 10.0, 35.0) is None
    assert friction_from(10.0, 120.0, 35.0) == 20.0


# --- the chain as a room uses it -------------------------------------------------------------


def test_the_chain_of_a_site_shows_where_its_numbers_come_from():
    found = site_pressure(22.0, 66.0, 18.0, "III")
    assert found.v_b.value == printed(23.29, 2)
    assert found.q_p.value == pytest.approx(found.c_e.value * found.q_b.value)
    assert found.q_p.basis == "published, second-hand"
    assert found.q_p.line.startswith("q_p = c_e × q_b = ")


def test_the_envelope_knows_that_g_may_be_worse_than_f():
    """Curved eaves of r/h = 0.05: G −1.2 is worse than F −1.0, where they meet on a slim tower."""
    curved = {c.zone: float(c.c_pe_10) for c in coefficients("curved", 0.05)}
    sharp = {c.zone: float(c.c_pe_10) for c in coefficients("sharp")}
    areas = [{z.zone: z.area for z in envelope(4.0, 20.0, 10.0, c)} for c in (curved, sharp)]
    assert areas[0]["G"] > areas[1]["G"]
    assert areas[0]["F"] < areas[1]["F"]


@pytest.mark.parametrize(
    ("call", "mistake"),
    [
        (lambda: exposure(8.0, "V"), InvalidInput),
        (lambda: exposure(201.0, "II"), OutOfScope),
        (lambda: exposure(0.0, "II"), InvalidInput),
        (lambda: altitude_factor(-1.0, 5.0), InvalidInput),
        (lambda: zones(6.0, 4.0, 0.0), InvalidInput),
        (lambda: site_pressure(22.0, 10.0, 3.0, "III", h_dis=3.5), InvalidInput),
        (lambda: displacement_height(-1.0, 6.0, 6.0), InvalidInput),
        (lambda: direction_factor(float("nan")), InvalidInput),
    ],
)
def test_what_the_chain_cannot_answer_is_refused(call, mistake):
    with pytest.raises(mistake):
        call()

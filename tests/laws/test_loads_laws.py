"""Laws of wind, fixings, snow and joists that hold for any roof."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenfall.calc.loads.fixings import fixings_for_wind, fixings_per_board, least_fixings
from evenfall.calc.loads.joists import Joist, deflection, stresses
from evenfall.calc.loads.ponding import amplification
from evenfall.calc.loads.pressure_coefficients import coefficient, coefficients, net_pressure
from evenfall.calc.loads.pull_out import pull_out
from evenfall.calc.loads.roof_zones import zones, zones_from
from evenfall.calc.loads.snow import ground_snow
from evenfall.calc.loads.snow_drifts import drift_at_obstruction
from evenfall.calc.loads.timber import strength_class
from evenfall.calc.loads.wind import displacement_height, exposure
from evenfall.calc.loads.wind_speed import direction_factor, probability_factor
from evenfall.standards import en_1991_1_4 as en
from evenfall.standards import en_1995_1_1

few = settings(max_examples=40, deadline=None)

lengths = st.floats(0.6, 60.0)
heights = st.floats(2.2, 40.0)
categories = st.sampled_from(list(en.TERRAIN))
SIDES = ("bottom", "right", "top", "left")


@few
@given(lengths, lengths, heights)
def test_zones_cover_the_roof_once(b, d, h):
    """2F + G + H + I = b × d, cut off or not."""
    assert sum(zone.area for zone in zones(b, d, h)) == pytest.approx(b * d)


@few
@given(lengths, lengths, heights, st.sampled_from(SIDES))
def test_zones_turn_with_the_wind_and_stay_on_the_roof(width, depth, h, side):
    turned = zones_from(side, width, depth, h)
    b, d = (width, depth) if side in ("bottom", "top") else (depth, width)
    areas = {zone.zone: zone.area for zone in turned}
    assert areas == {zone.zone: pytest.approx(zone.area) for zone in zones(b, d, h)}
    for zone in turned:
        for x0, y0, x1, y1 in zone.rectangles:
            assert -1e-9 <= x0 <= x1 <= width + 1e-9
            assert -1e-9 <= y0 <= y1 <= depth + 1e-9


@few
@given(categories, st.floats(0.5, 100.0), st.floats(1.0, 1.9))
def test_higher_is_windier_or_the_same_below_z_min(category, z, more):
    row = en.TERRAIN[category]
    low, high = exposure(z, category).value, exposure(z * more, category).value
    assert low <= high * (1 + 1e-12)
    if z * more <= row.z_min:
        assert low == high


@few
@given(st.floats(0.5, 150.0))
def test_rougher_land_is_calmer(z):
    found = [exposure(z, category).value for category in en.TERRAIN]
    assert found == sorted(found, reverse=True)


@few
@given(st.floats(-720.0, 720.0))
def test_direction_factor_is_periodic_and_never_above_the_worst(degrees):
    assert 0.73 <= direction_factor(degrees) <= en.C_DIR_WORST
    assert direction_factor(degrees + 360) == pytest.approx(direction_factor(degrees), abs=1e-9)


@few
@given(st.floats(0.002, 0.6), st.floats(1.01, 1.5))
def test_a_rarer_wind_is_stronger(p, more):
    assert probability_factor(p) > probability_factor(p * more)


@few
@given(st.floats(0, 80), st.floats(1, 15), st.floats(2, 30))
def test_displacement_falls_with_distance_and_stays_below_the_house(x, h_ave, h):
    def of(distance):
        found = displacement_height(distance, h_ave, h)
        return 0.0 if found is None else found.value

    assert 0 <= of(x + 0.5) <= of(x) + 1e-9 <= 0.6 * h + 2e-9


@few
@given(st.floats(0.0, 0.3), st.floats(0.001, 0.05))
def test_a_higher_parapet_never_adds_suction(ratio, more):
    low, high = coefficients("parapet", ratio), coefficients("parapet", ratio + more)
    assert all(a.c_pe_10 <= b.c_pe_10 + 1e-12 for a, b in zip(low, high, strict=True))


@few
@given(st.floats(0.1, 30.0), st.floats(1.0, 2.0))
def test_a_larger_loaded_area_never_adds_suction(area, more):
    for zone in coefficients("sharp"):
        assert float(coefficient(area, zone)) <= float(coefficient(area * more, zone)) + 1e-12


@few
@given(st.floats(50, 2000), st.floats(-2.5, 0.2))
def test_inside_pressure_adds_to_suction(q_p, c_pe):
    assert net_pressure(q_p, c_pe) == pytest.approx(q_p * c_pe - 0.2 * q_p)


@few
@given(st.floats(-3000, 500), st.floats(100, 900), st.sampled_from([600, 1200, 2400]))
def test_screws_of_a_board_carry_the_factored_load_and_no_source_is_undercut(w, R_d, length):
    area = length / 1000 * 1.2
    wind = fixings_for_wind.show(w, area, R_d)
    least = least_fixings(length, 1200, 100, adhered=True)
    found = fixings_per_board(wind, least)
    assert found.number * R_d >= 1.5 * -w * area * (1 - 1e-12)
    assert found.number >= max(float(n) for n in least)
    assert (wind.value - 1) * R_d < max(1.5 * -w * area, 1e-9) or wind.value == 0


@few
@given(st.lists(st.floats(900, 1100), min_size=3, max_size=40))
def test_characteristic_value_lies_below_the_mean(results):
    assert 0 < pull_out(results).value <= sum(results) / len(results) * (1 + 1e-12)


@few
@given(st.integers(1, 6), st.floats(20, 1400), st.floats(1, 90))
def test_snow_grows_with_zone_and_altitude(zone, altitude, more):
    assert ground_snow(zone, altitude + more).value > ground_snow(zone, altitude).value
    if zone < 6:
        assert ground_snow(zone + 1, altitude).value > ground_snow(zone, altitude).value


@few
@given(st.floats(0.05, 6.0), st.floats(0.5, 20.0), st.floats(200, 2000))
def test_a_drift_is_never_lighter_than_flat_snow(h, b, s_k):
    found = drift_at_obstruction(h, b, s_k)
    assert found.s.value >= 0.8 * s_k * (1 - 1e-12)
    if found.mu_edge is not None:
        assert 0.8 - 1e-12 <= found.mu_edge.value <= found.mu_2.value + 1e-12


joists = st.builds(
    Joist,
    st.floats(0.035, 0.075),
    st.floats(0.09, 0.25),
    st.floats(1.0, 6.0),
    st.floats(0.3, 0.6),
    st.sampled_from([strength_class("C16"), strength_class("C24")]),
)


@few
@given(joists, st.floats(50, 3000), st.floats(1.1, 3.0))
def test_deflection_and_utilisation_are_proportional_to_the_load(joist, w, more):
    once, twice = deflection(joist, w).value, deflection(joist, w * more).value
    assert twice == pytest.approx(more * once)
    short = en_1995_1_1.K_MOD["short"]
    small, large = stresses(joist, w, short, 0.06), stresses(joist, w * more, short, 0.06)
    assert large.bending.value == pytest.approx(more * small.bending.value)
    assert large.bearing.value == pytest.approx(more * small.bearing.value)


@few
@given(joists, st.floats(50, 3000), st.floats(0.3, 8.0), st.floats(1.0, 1.5))
def test_a_longer_free_edge_never_helps(joist, w, free, more):
    short = en_1995_1_1.K_MOD["short"]
    near = stresses(joist, w, short, 0.06, free_length=free).bending.value
    far = stresses(joist, w, short, 0.06, free_length=free * more).bending.value
    assert far >= near * (1 - 1e-12)


@few
@given(st.floats(0.0, 0.95))
def test_ponding_sums_its_own_sags(C):
    """1/(1 − C) = 1 + C + C² + ..."""
    series = sum(C**n for n in range(1000))
    assert amplification(C).value == pytest.approx(series, rel=1e-9)

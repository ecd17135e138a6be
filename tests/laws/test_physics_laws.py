"""Laws of heat and moisture that hold for any roof."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenfall.calc.physics.condensation import monthly, taut_string
from evenfall.calc.physics.corrections import correction_fasteners
from evenfall.calc.physics.monthly_air import year_of_class
from evenfall.calc.physics.mould import plane_factor, plane_factor_short
from evenfall.calc.physics.psychrometrics import (
    dew_point,
    saturation_pressure,
    saturation_temperature,
)
from evenfall.calc.physics.tapered import (
    Part,
    corners_differ,
    rectangle,
    thickest_at_apex,
    thinnest_at_apex,
    whole_roof,
)
from evenfall.calc.physics.transmittance import Bridge, Layer, combined_method, total_resistance
from evenfall.standards.sap_climate import external_temperatures

few = settings(max_examples=40, deadline=None)

bases = st.floats(0.2, 8.0)
tapers = st.one_of(st.just(0.0), st.floats(1e-12, 1e-3), st.floats(1e-3, 12.0))


@few
@given(bases, tapers, tapers)
def test_taper_lies_between_its_thinnest_and_its_thickest_corner(R0, R1, R2):
    U = corners_differ(R0, R1, R2)
    assert 1 / (R0 + max(R1, R2)) * (1 - 1e-13) <= U <= 1 / R0 * (1 + 1e-13)


@few
@given(bases, tapers)
def test_hip_loses_more_than_rectangle_and_valley_less(R0, R1):
    hip, plain, valley = (f(R0, R1) for f in (thickest_at_apex, rectangle, thinnest_at_apex))
    assert valley <= plain * (1 + 1e-13)
    assert plain <= hip * (1 + 1e-13)


@few
@given(bases, tapers)
def test_hip_and_valley_together_make_a_rectangle(R0, R1):
    """A rectangle cut along its diagonal."""
    both = (thickest_at_apex(R0, R1) + thinnest_at_apex(R0, R1)) / 2
    assert both == pytest.approx(rectangle(R0, R1), rel=1e-12)


@few
@given(bases, st.floats(0.1, 10.0))
def test_general_triangle_tends_to_the_hip_as_its_middle_corner_sinks(R0, R2):
    assert corners_differ(R0, 1e-9, R2) == pytest.approx(thickest_at_apex(R0, R2), rel=1e-8)


@few
@given(bases, st.floats(0.1, 10.0))
def test_general_triangle_tends_to_the_valley_as_two_corners_meet(R0, R2):
    found = corners_differ(R0, R2 * (1 - 1e-10), R2)
    assert found == pytest.approx(thinnest_at_apex(R0, R2), rel=1e-9)


@few
@given(bases)
def test_taper_has_no_jump_where_the_series_ends(R0):
    low, high = (corners_differ(R0, 0.004 * R0, R0 * y) for y in (0.01 - 1e-13, 0.01 + 1e-13))
    assert low == pytest.approx(high, rel=1e-12)


@few
@given(bases, tapers, st.floats(0.1, 50.0), st.floats(0.1, 50.0))
def test_equal_parts_make_a_roof_of_the_same_transmittance(R0, R1, a, b):
    parts = (Part("rectangle", a, 0.02, R0, R1), Part("rectangle", b, 0.02, R0, R1))
    assert whole_roof(parts) == pytest.approx(rectangle(R0, R1), rel=1e-12)


@few
@given(st.floats(0.02, 0.9), st.floats(0.3, 4.0), st.floats(0.3, 4.0), st.floats(0.1, 3.0))
def test_lower_limit_of_the_combined_method_is_never_above_the_upper(fraction, wool, wood, rest):
    bridge = Bridge("joists", fraction, resistance=wood)
    roof = [Layer("rest", resistance=rest), Layer("quilt", resistance=wool, bridge=bridge)]
    try:
        found = combined_method(roof)
    except ValueError:  # beyond the range of the method, which is the law's other half
        assert max(wool, wood) > 1.5 * min(wool, wood)
        return
    assert found.R_lower <= found.R_upper * (1 + 1e-12)
    assert 0 <= found.error + 1e-12 < 0.2 + 1e-9


@few
@given(st.floats(0.02, 0.9), st.floats(0.3, 4.0))
def test_bridge_of_the_same_resistance_changes_nothing(fraction, R):
    bridge = Bridge("joists", fraction, resistance=R)
    bridged = combined_method([Layer("quilt", resistance=R, bridge=bridge)])
    plain = total_resistance([Layer("quilt", resistance=R)]).value
    found = bridged.R_T
    assert found == pytest.approx(plain, rel=1e-12)
    assert bridged.error == pytest.approx(0, abs=1e-12)


@few
@given(st.floats(0.01, 0.2), st.floats(0.01, 1.0))
def test_recessed_fastener_corrects_no_more_than_one_all_through(d0, share):
    d1 = d0 * share
    args = (6, 50, 1.8e-5, d0)
    whole = correction_fasteners(*args, None, d0 / 0.022, d0 / 0.022 + 0.36).value
    recessed = correction_fasteners(*args, d1, d1 / 0.022, d0 / 0.022 + 0.36).value
    assert recessed <= whole * (1 + 1e-12)


@few
@given(st.floats(-40.0, 60.0))
def test_saturation_temperature_undoes_saturation_pressure(theta):
    assert saturation_temperature(saturation_pressure(theta)) == pytest.approx(theta, abs=1e-10)


@few
@given(st.floats(-30.0, 50.0), st.floats(0.05, 1.0))
def test_dew_point_is_never_above_the_air(theta, phi):
    assert dew_point(theta, phi) <= theta + 1e-10


@few
@given(st.floats(0.05, 3.0))
def test_short_form_of_the_temperature_factor_is_on_the_safe_side(U):
    assert plane_factor_short(U) < plane_factor(U)


pressures = st.lists(st.floats(300.0, 3000.0), min_size=3, max_size=12)


@few
@given(pressures, st.data())
def test_taut_string_is_nowhere_above_a_point_and_bends_up_where_dry(p, data):
    gaps = st.lists(st.floats(0.1, 50.0), min_size=len(p) - 1, max_size=len(p) - 1)
    s = [0.0]
    for gap in data.draw(gaps):
        s.append(s[-1] + gap)
    touched = taut_string(s, p, [0.0] * (len(p) - 2))
    slopes = [(p[b] - p[a]) / (s[b] - s[a]) for a, b in itertools.pairwise(touched)]
    assert all(x < y + 1e-9 for x, y in itertools.pairwise(slopes))
    for a, b in itertools.pairwise(touched):
        for i in range(a, b):
            line = p[a] + (p[b] - p[a]) * (s[i] - s[a]) / (s[b] - s[a])
            assert line <= p[i] + 1e-7


layers = st.lists(
    st.tuples(st.just("layer"), st.floats(0.0, 3.0), st.floats(0.01, 100.0)),
    min_size=1,
    max_size=4,
)
PHI_E = (0.86, 0.84, 0.81, 0.78, 0.76, 0.76, 0.77, 0.79, 0.82, 0.85, 0.87, 0.87)


def a_year(excess, region=15):
    return year_of_class(external_temperatures(region), PHI_E, 20.0, excess)


@few
@given(layers, st.floats(300.0, 1360.0))
def test_water_is_never_negative_and_adds_up(roof, excess):
    year = monthly(roof, a_year(excess))
    for before, month in zip((year.months[-1], *year.months), year.months, strict=False):
        start = before.M_a if month is not year.months[0] or year.verdict == "b" else [0.0] * 99
        for held, g, after in zip(start, month.g_c, month.M_a, strict=False):
            assert after >= 0
            assert held + g == pytest.approx(after, abs=1e-11)


@few
@given(layers, st.floats(300.0, 1200.0), st.floats(1.0, 160.0))
def test_damper_room_never_makes_a_drier_roof(roof, excess, more):
    drier, damper = (monthly(roof, a_year(e)) for e in (excess, excess + more))
    assert drier.verdict <= damper.verdict
    if drier.verdict == damper.verdict == "b":
        assert drier.highest <= damper.highest + 1e-9


@few
@given(layers, st.floats(300.0, 1360.0), st.integers(0, 11))
def test_verdict_does_not_depend_on_the_month_that_the_climate_starts_with(roof, excess, start):
    months = a_year(excess)
    year, turned = monthly(roof, months), monthly(roof, months[start:] + months[:start])
    assert turned.verdict == year.verdict
    if year.verdict == "b":
        assert turned.highest == pytest.approx(year.highest, abs=1e-9)


@few
@given(layers, st.floats(300.0, 1360.0), st.floats(0.1, 1500.0))
def test_vapour_control_layer_inside_never_brings_water_into_a_dry_roof(roof, excess, s_d):
    """For a warm inner face; in a wet roof it may also keep water in, so no more is claimed."""
    warm = [*roof, ("board", 2.0, 5.0)]
    before, after = monthly(warm, a_year(excess)), monthly([*warm, ("VCL", 0, s_d)], a_year(excess))
    assert after.verdict == "a" or before.verdict != "a"


@few
@given(st.floats(0.3, 6.0), st.floats(1.0, 60.0), st.floats(300.0, 1360.0))
def test_vapour_control_layer_inside_keeps_a_plain_warm_roof_drier(R, s_d, excess):
    roof = [("membrane", 0.0, 60.0), ("board", R, s_d)]
    plain = monthly(roof, a_year(excess))
    controlled = monthly([*roof, ("VCL", 0.0, 1500.0)], a_year(excess))
    assert controlled.highest <= plain.highest

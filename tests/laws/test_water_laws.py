"""Laws of rainwater and falls that hold for any roof."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenfall.calc.drainage.downpipe import downpipe_capacity
from evenfall.calc.drainage.falls import (
    common_line_fall,
    fall_along,
    least_design_fall,
    remaining_fall,
    valley_fall,
)
from evenfall.calc.drainage.gutter import half_round_capacity, length_factor
from evenfall.calc.drainage.gutter_shape import shape_factor
from evenfall.calc.drainage.outlet import (
    circular_head_mm,
    circular_outlet,
    other_outlet,
    slot_length_mm,
    weir_l_s,
)
from evenfall.calc.drainage.run_off import effective_area, exceedance, wall_area

few = settings(max_examples=40, deadline=None)

diameters = st.floats(40, 200)
heads = st.floats(1, 200)


@few
@given(diameters, heads, st.floats(1.001, 2.0))
def test_deeper_water_flows_faster_and_without_a_jump(D, h, more):
    assert circular_outlet(D, h * more).value > circular_outlet(D, h).value
    below, above = circular_outlet(D, D / 2 * (1 - 1e-9)), circular_outlet(D, D / 2 * (1 + 1e-9))
    assert below.value == pytest.approx(above.value, rel=1e-7)


@few
@given(diameters, heads, st.booleans())
def test_head_is_the_inverse_of_flow(D, h, grated):
    assert circular_head_mm(circular_outlet(D, h, grated).value, D, grated) == pytest.approx(h)


@few
@given(st.floats(100, 900), st.floats(1000, 20000), heads)
def test_weir_and_orifice_take_turns_at_the_smaller_flow(L_w, A, h):
    found = other_outlet(L_w, A, h).value
    assert found <= weir_l_s(L_w, h) * (1 + 1e-12)


@few
@given(st.floats(0.05, 20), st.floats(5, 100))
def test_slot_carries_the_flow_it_was_sized_for(Q, h):
    assert weir_l_s(slot_length_mm(Q, h), h) == pytest.approx(Q)


@few
@given(st.floats(50, 299), st.floats(0.2, 0.32))
def test_wider_or_fuller_pipe_carries_more(d, f):
    assert downpipe_capacity(d + 1, f).value > downpipe_capacity(d, f).value
    assert downpipe_capacity(d, f + 0.01).value > downpipe_capacity(d, f).value


@few
@given(st.floats(0.1, 20.0), st.floats(0.04, 0.1), st.floats(0, 12), st.floats(0, 3))
def test_a_steeper_gutter_carries_no_less(length, depth, fall, more):
    low = length_factor(length, depth, fall).value
    assert length_factor(length, depth, fall + more).value >= low - 1e-12


@few
@given(st.floats(0.5, 12.0), st.floats(1.0, 1.6))
def test_a_longer_level_gutter_carries_no_more(length, more):
    near, far = half_round_capacity(100.0, length), half_round_capacity(100.0, length * more)
    assert far.value <= near.value * (1 + 1e-12)


@few
@given(st.floats(0.0, 1.0), st.floats(0.02, 0.4), st.floats(0.5, 3.0))
def test_shape_factor_knows_no_scale_and_stays_between_triangle_and_rectangle(s, T, scale):
    found = shape_factor(s * T, T)
    assert found == pytest.approx(shape_factor(s * T * scale, T * scale), rel=1e-6)
    assert 0.893 < found <= 1 + 1e-9


@few
@given(st.floats(1.1, 500), st.integers(1, 100))
def test_exceedance_grows_with_time_and_is_a_probability(T, N):
    assert 0 < exceedance(T, N) <= exceedance(T, N + 1) <= 1


@few
@given(st.floats(1, 80), st.floats(0, 69))
def test_a_pitch_never_shrinks_the_effective_area(plan, pitch):
    assert effective_area(plan, pitch).value >= plan * (1 - 1e-12)


@few
@given(st.floats(0.5, 20), st.floats(0.1, 30))
def test_wall_counts_at_most_half_and_no_more_above_10_m(L, H):
    assert wall_area(L, H) <= 0.5 * L * min(H, 10) * (1 + 1e-12)


@few
@given(st.floats(0.005, 0.1), st.floats(0, 2 * math.pi), st.floats(0.2, math.pi - 0.2))
def test_no_line_is_steeper_than_its_plane_and_a_valley_follows_both(s, turn, between):
    one = (s * math.cos(turn), s * math.sin(turn))
    other = (s * math.cos(turn + between), s * math.sin(turn + between))
    found = common_line_fall(one, other)
    assert found <= s * (1 + 1e-12)
    assert found == pytest.approx(s * math.cos(between / 2))


@few
@given(st.floats(0.005, 0.1))
def test_square_planes_are_the_special_case(s):
    assert common_line_fall((s, 0.0), (0.0, s)) == pytest.approx(valley_fall(s))
    assert fall_along((s, 0.0), (-1.0, 0.0)) == pytest.approx(-s)


@few
@given(st.floats(0, 0.05), st.floats(1, 8))
def test_design_fall_leaves_the_finished_fall(delta, L):
    laid = least_design_fall(delta, L)
    assert remaining_fall(laid, delta, L) == pytest.approx(1 / 80)

"""Leaning loads and the night's bath: closed forms against sums over many slices."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenfall.calc.drainage.bath import bath
from evenfall.calc.drainage.tilted_tray import pools
from evenfall.calc.loads.leaning_load import leaning_moment
from evenfall.errors import InvalidInput

TRAY = ((0.0, 0.0), (6.2, 0.0), (6.2, 4.1), (0.0, 4.1))
LOADS = st.floats(0.0, 4000.0)


def sliced_moment(w: float, q: float, a: float, L: float) -> float:
    """Greatest moment of a beam under slices of load, by statics alone."""
    edges = np.linspace(0, L, 4001)
    x = (edges[1:] + edges[:-1]) / 2
    p = (w + np.where(x < a, q * (1 - x / a), 0.0)) * L / 4000
    reaction = float((p * (L - x)).sum() / L)
    at = np.linspace(0, L, 801)
    moments = [reaction * s - float((p[x < s] * (s - x[x < s])).sum()) for s in at]
    return max(moments)


@given(w=LOADS, q=LOADS, share=st.floats(0.05, 1.0), L=st.floats(0.8, 8.0))
def test_the_moment_agrees_with_slices(w, q, share, L):
    if w + q < 1:
        w += 1
    found = leaning_moment(w, q, share * L, L).value
    assert found == pytest.approx(sliced_moment(w, q, share * L, L), rel=2e-4)


@pytest.mark.parametrize(
    ("w", "q", "a", "L"),
    [(100.0, 50.0, 3.1, 3.0), (-1.0, 50.0, 1.0, 3.0), (0.0, 0.0, 1.0, 3.0), (1.0, 1.0, 0.0, 3.0)],
)
def test_impossible_loads_are_refused(w, q, a, L):
    with pytest.raises(InvalidInput):
        leaning_moment(w, q, a, L)


@given(
    rain=st.floats(0.001, 0.2), A=st.floats(3.0, 150.0), S=st.floats(0.0, 0.06),
    b=st.floats(1.0, 15.0), l=st.floats(1.0, 12.0),
)  # fmt: skip
def test_the_bath_holds_what_the_rain_brought(rain, A, S, b, l):
    """Water summed over slices up the fall is the volume, where no brim lets it run over."""
    tray = ((0.0, 0.0), (b, 0.0), (b, l), (0.0, l))
    found = bath(rain, A, tray, (0.0, -1.0), S, 100.0)
    up = (np.arange(20_000) + 0.5) * l / 20_000
    stands = np.clip(found.depth.value - S * up, 0.0, None).sum() * l / 20_000 * b
    assert stands == pytest.approx(rain * A, rel=2e-3)
    assert found.reach_m <= l * (1 + 1e-9)


@given(st.floats(0.001, 0.1), st.floats(0.001, 0.3))
def test_no_more_stands_than_the_edge_timber_holds(rain, brim):
    assert bath(rain, 25.0, TRAY, (0.0, -1.0), 0.0125, brim).depth.value <= brim


def test_a_fall_into_a_corner_makes_a_deeper_pool_than_one_to_a_side():
    """A square corner cut off at 45 degrees: r² of plan, its middle at 2r/3, so V = S r³/3."""
    down = (-(0.5**0.5), -(0.5**0.5))
    found = bath(0.005, 25.42, TRAY, down, 0.02, 100.0)
    assert found.depth.value == pytest.approx(0.02 * (3 * 0.1271 / 0.02) ** (1 / 3))
    assert found.lowest == (0.0, 0.0)
    assert found.depth.value > bath(0.005, 25.42, TRAY, (0.0, -1.0), 0.02, 100.0).depth.value


def test_a_narrow_low_side_holds_the_rain_of_the_whole_roof_deeper():
    """A T whose stem, 2 m wide and 3 m long, is the low side: stem and bar summed by hand."""
    stem = ((3, 0), (5, 0), (5, 3), (8, 3), (8, 6), (0, 6), (0, 3), (3, 3))
    S, V = 0.02, 0.010 * 30.0
    found = bath(0.010, 30.0, stem, (0.0, -1.0), S, 100.0)
    assert found.reach_m > 3
    by_stem = 2 * (found.depth.value * 3 - S * 9 / 2)
    by_bar = 8 * (found.depth.value - S * 3) ** 2 / (2 * S)
    assert by_stem + by_bar == pytest.approx(V)
    mean_side = (2 * V * S / (30.0 / 6)) ** 0.5  # area over length, as if it were an oblong
    assert found.depth.value > 1.1 * mean_side


def test_each_leg_of_a_u_is_its_own_bath_until_it_runs_over():
    """The shorter leg, its tip 1 m up, runs over the floor between them at 0.02 x (4 - 1) m."""
    u = ((0, 0), (2, 0), (2, 4), (4, 4), (4, 1), (6, 1), (6, 6), (0, 6))
    S = 0.02
    deep, shallow = sorted(pools(u, (0.0, -1.0), S, 0.9), key=lambda p: p.spills)
    assert (deep.lowest, deep.spills) == ((0, 0), False)
    assert shallow.spills
    assert shallow.reach == pytest.approx(3.0, abs=1e-4)
    small = pools(u, (0.0, -1.0), S, 0.02)
    assert [p.spills for p in small] == [False, False]
    assert all(2 * S * p.reach**2 / 2 == pytest.approx(0.02) for p in small)


@given(
    x=st.floats(0.3, 6.0), turn=st.floats(0.0, 2 * np.pi), S=st.floats(0.002, 0.05),
    rain=st.floats(0.002, 0.06),
)  # fmt: skip
@settings(max_examples=30)
def test_water_over_a_trapezium_is_what_the_rain_brought_for_any_fall(x, turn, S, rain):
    """Summed over a raster of the plan; one pool, as the plan is convex."""
    ring, down = ((0.0, 0.0), (x, 0.0), (6.2, 4.1), (0.0, 4.1)), (np.cos(turn), np.sin(turn))
    found = bath(rain, 25.0, ring, down, S, 100.0)
    xs, ys = np.meshgrid((np.arange(400) + 0.5) * 6.2 / 400, (np.arange(300) + 0.5) * 4.1 / 300)
    on = xs < x + (6.2 - x) * ys / 4.1
    lowest = max(px * down[0] + py * down[1] for px, py in ring)
    deep = np.clip(found.depth.value - S * (lowest - xs * down[0] - ys * down[1]), 0, None)
    assert (deep * on).sum() * 6.2 * 4.1 / 120_000 == pytest.approx(rain * 25.0, rel=2e-2)


def test_kerbs_take_room_from_the_water():
    kerb = ((1.0, 0.0), (3.0, 0.0), (3.0, 2.0), (1.0, 2.0))
    free = bath(0.025, 25.42, TRAY, (0.0, -1.0), 0.0125, 100.0)
    less = bath(0.025, 25.42, TRAY, (0.0, -1.0), 0.0125, 100.0, (kerb,))
    assert less.depth.value > free.depth.value
    level = bath(0.025, 25.42, TRAY, (0.0, -1.0), 0.0, 100.0, (kerb,))
    assert level.depth.value == pytest.approx(0.025 * 25.42 / (25.42 - 4.0))

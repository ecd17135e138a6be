"""Water by two methods: ours, and the open-source hydraulics library fluids (or integration).

The two SIA weirs of that library are not asked: for (0.2, 0.5, 1, 2) one returns 1.0409 where its
own documented formula gives 0.159, the other returns 1.1876 where physics gives 0.65.
"""

import fluids
import numpy as np
import pytest
from scipy.optimize import brentq

from evenfall.calc.drainage.falls import hydraulic_radius, manning_velocity
from evenfall.calc.drainage.gutter import half_round_flow_l_s
from evenfall.calc.drainage.gutter_shape import shape_factor
from evenfall.calc.drainage.outlet import circular_orifice_l_s, weir_l_s

kindsvater_carter = fluids.Q_weir_rectangular_Kindsvater_Carter


@pytest.mark.parametrize(
    ("found", "expected"),
    [
        (fluids.V_Manning(Rh=0.2859, S=0.005236, n=0.03), 1.0467782),
        (kindsvater_carter(0.2, 0.5, 1), 0.15545929),
        (fluids.Q_weir_rectangular_full_Rehbock(0.3, 0.4, 2), 0.64868563),
        (fluids.Q_weir_rectangular_full_Kindsvater_Carter(0.3, 0.4, 2), 0.64156030),
        (fluids.Q_weir_rectangular_full_Ackers(0.9, 0.6, 5), 9.2519382),
        (fluids.Q_weir_V_Shen(0.6, 45), 0.21071726),
    ],
)
def test_the_witness_still_says_what_it_said(found, expected):
    assert found == pytest.approx(expected, rel=1e-7)


@pytest.mark.parametrize(
    ("R_h", "S", "n"), [(0.2859, 0.005236, 0.03), (0.025, 0.005, 0.012), (0.0375, 0.0125, 0.009)]
)
def test_manning_agrees_with_fluids(R_h, S, n):
    assert manning_velocity(R_h, S, n) == pytest.approx(fluids.V_Manning(Rh=R_h, S=S, n=n))


def test_hydraulic_radius_is_area_over_wetted_edge():
    assert hydraulic_radius(0.15, 0.075) == pytest.approx(0.15 * 0.075 / (0.15 + 2 * 0.075))


@pytest.mark.parametrize(
    ("h_mm", "witness"), [(25, 2.085), (30, 2.738), (40, 4.208), (50, 5.875), (75, 10.772)]
)
def test_overflow_slot_is_three_quarters_of_kindsvater_carter(h_mm, witness):
    """A sill 0.1 m above the bed: the depth with which the recorded values agree."""
    found = kindsvater_carter(h_mm / 1000, 0.1, 0.3) * 1000
    assert found == pytest.approx(witness, abs=0.0006)
    assert weir_l_s(300.0, h_mm) / found == pytest.approx(0.75, abs=0.005)


@pytest.mark.parametrize("h_mm", [60.0, 85.0, 140.0])
def test_deep_outlet_carries_what_an_orifice_of_c_d_0_606_does(h_mm):
    """Q = C_d × A × sqrt(2 g h)."""
    flow = 0.606 * np.pi * 0.1**2 / 4 * np.sqrt(2 * 9.81 * h_mm / 1000) * 1000
    assert circular_orifice_l_s(100.0, h_mm) == pytest.approx(flow, rel=0.001)


def theory_of(width, depth):
    """Flow in m3/s of a level frictionless gutter, critical at the outlet, by integration."""

    def to(y):
        at = np.linspace(0.0, y, 20001)
        w = width(at)
        return np.trapezoid(w, at), np.trapezoid(w * (y - at), at)

    def unbalance(y):
        A, M = to(y)
        return A**2 / width(y) + M - to(depth)[1]

    y = brentq(unbalance, 0.05 * depth, depth)
    return np.sqrt(9.81 * to(y)[0] ** 3 / width(y))


@pytest.mark.parametrize("d", [0.075, 0.112, 0.150])
def test_half_round_gutter_is_0_801_of_the_theory_at_any_diameter(d):
    """Semicircle with its water line at the diameter."""

    def width(y):
        return 2 * np.sqrt(np.maximum((d / 2) ** 2 - (d / 2 - y) ** 2, 0))

    A_mm2 = np.pi * (d * 1000) ** 2 / 8
    assert half_round_flow_l_s(A_mm2) / 1000 / theory_of(width, d / 2) == pytest.approx(
        0.801, abs=0.001
    )


@pytest.mark.parametrize(("S", "T", "W"), [(0.0, 0.1, 0.07), (0.06, 0.1, 0.04), (0.09, 0.12, 0.1)])
def test_shape_factor_agrees_with_integration_at_any_depth(S, T, W):
    A = (S + T) / 2 * W
    flow = theory_of(lambda y: S + (T - S) * y / W, W)
    rectangle = np.sqrt(9.81) / 3**0.75 * A**1.25 * (W / T) ** 0.25
    assert shape_factor(S, T) == pytest.approx(flow / rectangle, rel=1e-4)

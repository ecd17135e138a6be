"""Laws of heat and moisture over time that hold for any roof."""

import numpy as np
import pytest
from hypothesis import Phase, given, reject, settings
from hypothesis import strategies as st
from tests.published.test_en_15026 import body_material

from evenfall.calc.physics.psychrometrics import saturation_pressure
from evenfall.calc.physics.transient.materials import cups, tabulated, wood_equilibrium
from evenfall.calc.physics.transient.section import Section, Sheet, Slab, even, surface
from evenfall.calc.physics.transient.steps import Air, State
from evenfall.errors import OutOfScope
from evenfall.standards.wood_moisture import coefficients

AT = coefficients(20.0)
WOOD = tabulated("wood", 8e5, (0.13, 0), lambda p: 500 * wood_equilibrium(p, *AT), cups(50, 20))
WOOL = tabulated("wool", 2e4, (0.04, 1e-3), lambda p: 0.3 * p + 90 * p**40, cups(1, 1))
STONE = body_material()
HOUR = 3600
FIND = (Phase.explicit, Phase.reuse, Phase.generate)  # shrinking a roof takes minutes

slabs = st.lists(
    st.tuples(st.sampled_from([WOOD, WOOL, STONE]), st.floats(0.005, 0.2), st.integers(1, 5)),
    min_size=1, max_size=4,
)  # fmt: skip
airs = st.tuples(st.floats(-20, 40), st.floats(0.05, 1), st.floats(5, 30), st.floats(0.05, 1))
waters = st.floats(0.02, 1.6)


def section(parts) -> Section:
    made = tuple(Slab(f"s{k}", m, even(d, n)) for k, (m, d, n) in enumerate(parts))
    inner = tuple((Sheet("sheet", 0.01, 5.0),) if k % 2 else () for k in range(len(made) - 1))
    return Section(made, ((surface("out", 0.04), Sheet("rubber", 0, 9.0)), *inner,
                          (surface("in", 0.1),)))  # fmt: skip


def held(roof: Section, share: float) -> np.ndarray:
    tops = [m for s in roof.slabs for m in [s.material.w_top] * len(s.cells)]
    return share * np.array(tops)


def air(told) -> Air:
    theta_e, phi_e, theta_i, phi_i = told
    return Air(theta_e, phi_e * saturation_pressure(theta_e), theta_i,
               phi_i * saturation_pressure(theta_i))  # fmt: skip


@settings(max_examples=40, deadline=None, phases=FIND)
@given(slabs, airs, waters, st.sampled_from([0.2, 1, 24, 168]))
def test_no_water_is_lost_or_made_and_nothing_is_no_number(parts, told, share, hours):
    roof = section(parts)
    w = held(roof, share)[None]
    state = State(roof, np.full(w.shape, 15.0), w.copy())
    try:
        for _ in range(12):
            state.step(hours * HOUR, air(told))
    except OutOfScope:  # told, not glossed over; an hour is never too long
        assert hours > 1
        reject()
    assert np.all(np.isfinite(state.theta))
    assert np.all(np.isfinite(state.w))
    assert (state.w - w) @ roof.d == pytest.approx(state.gained, rel=1e-9, abs=1e-9 * w.sum())


@settings(max_examples=25, deadline=None, phases=FIND)
@given(slabs, airs, waters, st.sampled_from([0.01, 0.05]))
def test_no_heat_is_lost_or_made(parts, told, share, hours):
    """Heat through the faces is what the cells took up, and what their vapour took to form."""
    roof = section(parts)
    w = held(roof, share)[None]
    state = State(roof, np.full(w.shape, 15.0), w.copy())
    taken = 0.0
    for _ in range(8):
        wet, warm = state.w.copy(), state.theta.copy()
        state.step(hours * HOUR, air(told))
        taken += ((roof.heat + 4190 * wet) * (state.theta - warm)) @ roof.d
    scale = 1e4 + float(abs(taken[0]))
    assert taken + state.owed() == pytest.approx(state.heated, abs=1e-8 * scale)


@settings(max_examples=15, deadline=None, phases=FIND)
@given(slabs, airs, st.lists(waters, min_size=2, max_size=4))
def test_starts_side_by_side_are_as_each_alone(parts, told, shares):
    roof = section(parts)
    rows = np.array([held(roof, s) for s in shares])
    beside = State(roof, np.full(rows.shape, 12.0), rows.copy())
    alone = [State(roof, np.full((1, rows.shape[1]), 12.0), row[None].copy()) for row in rows]
    for _ in range(6):
        for state in (beside, *alone):
            state.step(60, air(told))
    together = np.concatenate([s.w for s in alone])
    assert beside.w == pytest.approx(together, rel=1e-9)


@pytest.mark.parametrize("phi", [0.3, 0.6, 0.9])
def test_a_roof_in_balance_with_its_air_stays_as_it_is(phi):
    roof = section([(WOOD, 0.02, 4), (WOOL, 0.1, 3), (STONE, 0.05, 4)])
    w = roof.water_at(phi, 20.0)[None]
    state = State(roof, np.full(w.shape, 20.0), w.copy())
    for _ in range(20):
        state.step(24 * HOUR, air((20.0, phi, 20.0, phi)))
    assert state.w == pytest.approx(w, rel=2e-3)
    assert state.theta == pytest.approx(20.0, abs=0.01)

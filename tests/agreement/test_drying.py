"""Drying over time against closed forms, another integrator and the monthly method.

A slab of constant permeability has a series solution, a half-space of heat the error function. Two
integrators: ours, linear in each step, and SciPy's BDF on equations written anew. Stretched steps
against every hour with the swing of the day. The steady state against the arithmetic of ISO 13788.
"""

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.special import erf

from evenfall.calc.physics.monthly_air import year_of
from evenfall.calc.physics.psychrometrics import saturation_pressure, vapour_pressure
from evenfall.calc.physics.transient.climate import Hours, from_months
from evenfall.calc.physics.transient.follow import dried
from evenfall.calc.physics.transient.materials import cups, tabulated, wood_equilibrium
from evenfall.calc.physics.transient.section import Section, Sheet, Slab, even, surface
from evenfall.calc.physics.transient.steps import Air, State
from evenfall.standards.wood_moisture import coefficients

DAY = 86400
STILL_AIR = 26.1e-6 / 461.5 / 293.15  # kg/(m s Pa) at 20 C
RHO = 500.0


def wood():
    at = coefficients(20.0)
    return tabulated(
        "wood", RHO * 1600, (0.13, 0.0), lambda phi: RHO * wood_equilibrium(phi, *at), cups(50, 20)
    )


def roof(cells: int = 6) -> Section:
    """Tight above, a deck of 19 mm, a void and a board of 12.5 mm below."""
    foam = tabulated("foam", 42e3, (0.022, 0), lambda p: 0.5 * p / 0.8 + p**9, cups(60, 60))
    board = tabulated("board", 85e4, (0.25, 0), lambda p: 6 * p + 90 * p**12, cups(10, 4))
    return Section(
        (Slab("foam", foam, even(0.12, 4)), Slab("deck", wood(), even(0.019, cells)),
         Slab("board", board, even(0.0125, 2))),
        ((surface("outside", 0.04), Sheet("rubber", 0.005, 60)), (Sheet("VCL", 0.01, 1500),),
         (Sheet("void", 0.16, 0.01),), (surface("inside", 0.10),)),
    )  # fmt: skip


MONTHS = year_of(
    (4.3, 4.9, 6.5, 8.9, 11.7, 14.6, 16.6, 16.4, 14.1, 10.6, 7.1, 4.2),
    (714, 727, 784, 889, 1044, 1262, 1454, 1473, 1319, 1086, 877, 717),
    (20.0,) * 12,
    (1350, 1339, 1330, 1338, 1381, 1481, 1591, 1618, 1558, 1467, 1400, 1357),
)


def test_a_slab_of_constant_permeability_follows_its_series():
    """Water held in step with humidity: diffusion of one constant; tight above, open below."""
    d, capacity, mu, theta = 0.04, 20.0, 10.0, 20.0
    plain = tabulated("plain", 8e5, (0.13, 0), lambda p: capacity * p, cups(mu, mu))
    slab = Section(
        (Slab("slab", plain, even(d, 60)),), ((Sheet("tight", 0.1, 1e9),), (Sheet("open", 0, 0),))
    )
    w = slab.water_at(0.9, theta)[None]
    p_sat = saturation_pressure(theta)
    D = STILL_AIR / mu * p_sat / capacity
    state = State(slab, np.full(w.shape, theta), w.copy())
    air = Air(theta, 0.5 * p_sat, theta, 0.5 * p_sat)
    for _ in range(300):
        state.step(0.01 * DAY, air)
    t, x = 3 * DAY, np.cumsum(slab.d) - slab.d / 2
    odd = np.arange(1, 400, 2)
    terms = 4 / (odd * np.pi) * (-1.0) ** ((odd - 1) // 2)
    wave = terms * np.exp(-((odd * np.pi / 2 / d) ** 2) * D * t)
    share = (wave * np.cos(np.outer(x, odd * np.pi / 2 / d))).sum(axis=1)
    assert 0.2 < share[0] < 0.9  # well on its way
    assert state.w[0] == pytest.approx(capacity * (0.5 + 0.4 * share), rel=0.006)


def test_heat_runs_into_a_deep_body_by_the_error_function():
    stone = tabulated("stone", 2e6, (1.5, 0), lambda p: 1e-6 * p, cups(1e9, 1e9))
    deep = Section(
        (Slab("stone", stone, even(4.0, 400)),), ((Sheet("o", 0, 1e9),), (Sheet("i", 0, 1e9),))
    )
    w = deep.water_at(0.5, 10.0)[None]
    state = State(deep, np.full(w.shape, 10.0), w)
    for _ in range(480):
        state.step(3600, Air(30.0, 1000.0, 10.0, 600.0))
    x, t = np.cumsum(deep.d) - deep.d / 2, 480 * 3600
    exact = 30 - 20 * erf(x / (2 * np.sqrt(1.5 / 2e6 * t)))
    shallow = x < 2.5  # where the far face is not felt yet
    assert state.theta[0][shallow] == pytest.approx(exact[shallow], abs=0.03)


def test_another_integrator_on_equations_written_anew_finds_the_same_days():
    """Sorption of real wood, steeply curved; one temperature; SciPy's BDF, 30 cells."""
    n, d, theta, mu = 30, 0.018, 20.0, 40.0
    p_sat, at = saturation_pressure(theta), coefficients(20.0)
    phi = np.append(np.linspace(1e-3, 0.9999, 20000), 1.0)
    held = RHO * wood_equilibrium(phi, *at)
    below, p_room = 0.3, 0.5 * p_sat  # s_d to the room, m

    def rate(_, w):
        p = p_sat * np.interp(w, held, phi)
        step = d / n
        between = STILL_AIR / mu * np.diff(p) / step
        last = STILL_AIR * (p_room - p[-1]) / (below + mu * step / 2)
        return np.diff(np.concatenate([[0.0], between, [last]])) / step

    def dry(_, w):
        return float(w.max()) - 0.20 * RHO

    dry.terminal = True
    other = solve_ivp(
        rate, (0, 200 * DAY), np.full(n, 0.26 * RHO), "BDF", events=dry, rtol=1e-7, atol=1e-6
    )
    days = other.t_events[0][0] / DAY

    plain = tabulated("wood", 8e5, (0.13, 0), lambda p: RHO * wood_equilibrium(p, *at),
                      cups(mu, mu))  # fmt: skip
    ours = Section(
        (Slab("deck", plain, even(d, n)),), ((Sheet("t", 0.1, 1e9),), (Sheet("b", 0.1, below),))
    )
    constant = [np.full(24, v) for v in (theta, p_room, theta, p_room)]
    course = dried(ours, "deck", [np.full(n, 0.26 * RHO)], theta, Hours(*constant), 0, 4800,
                   0.20 * RHO, longest=1)  # fmt: skip
    found = course.first_below(0.20 * RHO)[0]
    assert days > 5
    # the latent heat cools ours a little: slower, never faster
    assert found == pytest.approx(days, rel=0.03)


@pytest.fixture(scope="module")
def by_the_hour():
    return _dried(longest=1, swing=5.0)


def _dried(longest: int, swing: float = 0.0, cells: int = 6):
    section = roof(cells)
    starts = []
    for percent in (21, 24, 28, 40):
        water = section.water_at(0.6, 20.0)
        water[section.cells_of("deck")] = percent / 100 * RHO
        starts.append(water)
    return dried(section, "deck", starts, 15.0, from_months(MONTHS, swing), 24 * 320, 24 * 400,
                 0.20 * RHO, step=0.005 * RHO, longest=longest)  # fmt: skip


def test_stretched_steps_find_the_days_of_every_hour_with_its_swing(by_the_hour):
    quick = _dried(longest=7 * 24)
    assert quick.days.size < by_the_hour.days.size / 6
    exact, found = (c.first_below(0.20 * RHO) for c in (by_the_hour, quick))
    assert None not in exact
    assert found == pytest.approx(exact, abs=0.5, rel=0.02)


def test_finer_cells_find_the_same_days():
    coarse, fine = (_dried(168, cells=n).first_below(0.20 * RHO) for n in (6, 24))
    assert coarse == pytest.approx(fine, abs=0.5)


def test_the_steady_flow_is_that_of_the_monthly_method():
    """After years of one air the vapour runs by delta (p_i - p_e) / s_T, nothing gathering."""
    plain = tabulated("plain", 8e5, (0.13, 0), lambda p: 80 * p, cups(40, 40))
    section = Section(
        (Slab("slab", plain, even(0.02, 10)),),
        ((surface("outside", 0.04), Sheet("rubber", 0.005, 3.0)), (surface("inside", 0.10),)),
    )
    p_i, p_e = vapour_pressure(20.0, 0.6), vapour_pressure(15.0, 0.6)
    w = section.water_at(0.5, 18.0)[None]
    state = State(section, np.full(w.shape, 18.0), w)
    for _ in range(600):
        state.step(10 * DAY, Air(15.0, p_e, 20.0, p_i))
    phi = (state.w[0] / 80) ** (293.15 / (state.theta[0] + 273.15))  # one suction, Kelvin
    p = phi * saturation_pressure(state.theta[0])
    s_d = 3.0 + 0.02 * 40 + 0.02
    flow = (p_i - p_e) / s_d
    assert (p[-1] - p[0]) / (0.018 * 40) == pytest.approx(flow, rel=0.03)
    R_T = 0.04 + 0.005 + 0.02 / 0.13 + 0.10
    theta = 20 - 5 * (0.10 + 0.001 / 0.13) / R_T
    assert state.theta[0, -1] == pytest.approx(theta, abs=0.01)

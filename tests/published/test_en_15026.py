"""EN 15026:2007 Annex A: heat and moisture into a semi-infinite body.

Conditions, times and the 2.5 % band published (read in public descriptions of the benchmark);
functions of the material from memory; profiles computed by two independent solvers, not the
standard's printed limits.
"""

import numpy as np
import pytest

from evenfall.calc.physics.psychrometrics import vapour_pressure
from evenfall.calc.physics.transient.materials import tabulated
from evenfall.calc.physics.transient.section import Section, Sheet, Slab
from evenfall.calc.physics.transient.steps import Air, State
from evenfall.standards import en_15026 as en
from evenfall.standards import iso_13788

DAY = 86400
DEPTH = 30.0  # m: 12 m would read 0.06 to 0.15 K low after a year

WATER = {
    7: {0.005: 80.29, 0.01: 51.90, 0.015: 45.16, 0.02: 43.39, 0.03: 42.95},
    30: {0.005: 109.3, 0.01: 82.13, 0.02: 52.77, 0.03: 45.52, 0.04: 43.51, 0.05: 43.04},
    365: {
        0.01: 118.8, 0.02: 105.6, 0.05: 64.10, 0.08: 49.63, 0.1: 46.04, 0.12: 44.31, 0.15: 43.29,
        0.2: 42.97,
    },
}  # fmt: skip
THETA = {
    7: {0.1: 29.322, 0.25: 28.289, 0.5: 26.641, 1: 23.839, 1.5: 21.912, 2: 20.813, 3: 20.089},
    30: {0.25: 29.178, 0.5: 28.347, 1: 26.748, 2: 24.003, 3: 22.068, 4: 20.922, 6: 20.115},
    365: {1: 29.055, 2: 28.106, 4: 26.302, 6: 24.696, 8: 23.346, 10: 22.276, 15: 20.702},
}
VALUES = [("w", day, x, w) for day, row in WATER.items() for x, w in row.items()]
VALUES += [("theta", day, x, t) for day, row in THETA.items() for x, t in row.items()]


def body_material(steps_of_20_c: float = float(en.THETA_REFERENCE)):
    """The material of the annex: storage by suction, vapour by what is left empty, liquid."""
    scale = -en.WATER_DENSITY * iso_13788.GAS_CONSTANT * (steps_of_20_c + iso_13788.KELVIN)

    def held(phi):
        with np.errstate(divide="ignore"):
            suction = scale * np.log(phi)
        x = (en.STORAGE_SCALE * suction) ** float(en.STORAGE_POWER)
        return en.FREE_SATURATION / (1 + x) ** float(en.STORAGE_ROOT)

    def ease(phi):
        empty = 1 - held(phi) / en.FREE_SATURATION
        return np.maximum(empty, 1e-9) / (en.EASE_SQUARE * empty**2 + en.EASE_CONSTANT) / en.MU

    def liquid(w):
        D = w - en.LIQUID_MIDDLE
        return np.exp(sum(float(c) * D**i for i, c in enumerate(en.LIQUID)))

    conductivity = (float(en.CONDUCTIVITY), float(en.CONDUCTIVITY_SLOPE))
    return tabulated("body", float(en.HEAT_CAPACITY), conductivity, held, ease, liquid)


def body(first: float = 0.0005, grow: float = 1.06) -> Section:
    """Cells that grow from the surface; the outermost is a skin that takes the air's state."""
    cells = [1e-6]
    while sum(cells) < DEPTH:
        cells.append(first * grow ** (len(cells) - 1))
    slab = Slab("body", body_material(), tuple(cells))
    return Section((slab,), ((Sheet("surface", 0, 0),), (Sheet("depth", 0, 0),)))


def run(section: Section, share: float = 0.01):
    """Give depth, and water and temperature after 7, 30 and 365 days."""
    start, air = float(en.START_C), float(en.AIR_C)
    w = section.water_at(float(en.START_PHI), start)[None]
    state = State(section, np.full(w.shape, start), w)
    outside = vapour_pressure(air, float(en.AIR_PHI))
    faces = Air(air, outside, start, vapour_pressure(start, float(en.START_PHI)))
    now, found = 0.0, {}
    for day in map(int, en.DAYS):
        while now < day * DAY:
            dt = min(max(1.0, share * now), day * DAY - now, DAY)
            state.step(dt, faces)
            now += dt
        found[day] = {"w": state.w[0].copy(), "theta": state.theta[0].copy()}
    return np.cumsum(section.d) - section.d / 2, found


@pytest.fixture(scope="module")
def profiles():
    return run(body())


@pytest.mark.parametrize(("what", "day", "x", "expected"), VALUES)
def test_every_tabulated_value_lies_in_the_band(profiles, what, day, x, expected):
    depth, found = profiles
    got = float(np.interp(x, depth, found[day][what]))
    assert got == pytest.approx(expected, rel=float(en.BAND))


def test_every_tabulated_value_is_met_to_half_a_per_cent(profiles):
    depth, found = profiles
    for what, day, x, expected in VALUES:
        got = float(np.interp(x, depth, found[day][what]))
        assert got == pytest.approx(expected, rel=0.005), (what, day, x)


def test_the_start_and_the_surface_are_those_of_the_closed_form(profiles):
    section = body()
    assert section.water_at(0.5, 20.0)[0] == pytest.approx(42.943, abs=0.001)
    assert section.water_at(0.95, 30.0)[0] == pytest.approx(128.299, abs=0.001)
    _, found = profiles
    assert found[365]["w"][0] == pytest.approx(128.299, rel=0.001)


def test_profiles_coincide_over_depth_by_the_root_of_time(profiles):
    """Needs no reference: the equations have only x / sqrt(t) to hang on."""
    depth, found = profiles
    x = np.linspace(0.005, 0.04, 15)
    for early, late in ((7, 30), (30, 365)):
        stretched = x * (late / early) ** 0.5
        for what in ("w", "theta"):
            one = np.interp(x, depth, found[early][what])
            other = np.interp(stretched, depth, found[late][what])
            assert one == pytest.approx(other, rel=0.006)


def test_half_the_material_in_water_would_be_caught(profiles):
    """The band is no rubber band: without liquid water the front stays far behind."""
    depth, found = profiles
    dry = body()
    dry.tables = (*dry.tables[:3], np.zeros_like(dry.tables[3]))
    _, without = run(dry, share=0.03)
    assert np.interp(0.005, depth, without[30]["w"]) < 0.9 * WATER[30][0.005]
    assert np.interp(0.005, depth, found[30]["w"]) > 0.99 * WATER[30][0.005]

"""Flat roofs by EN 1991-1-4:2005+A1:2010: zones, pressure coefficients, loaded area.

Table 7.2: published (public copy of the Bulgarian edition). Figures 7.2 and 7.6: from memory.
PARAPET-1 and friction: Multi-Storey Steel Buildings Part 3, App. A (published). ROOF-1 to
ROOF-3 and the sizes of zones: computed, own case, not an authority (q_p is published).
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
from evenfall.calc.loads.roof_zones import zones
from evenfall.calc.loads.walls_and_parapets import (
    friction_from,
    parapet_zones,
)
from evenfall.errors import InvalidInput, OutOfScope
from evenfall.standards import en_1991_1_4 as en


def printed(value, digits):
    """Tolerance of half a unit in the last printed digit."""
    return pytest.approx(value, abs=0.5001 * 10**-digits)


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


def test_roof_1_coefficients_and_pressures():
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
    assert sizes(b, d, 13.08) == {"F": (F, F), "G": (G,), "H": (H,), "I": (I,)}


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


@pytest.mark.parametrize("sizes_of", [(6.0, 4.0, 0.0), (6.0, -4.0, 3.0)])
def test_a_roof_without_a_size_is_refused(sizes_of):
    with pytest.raises(InvalidInput):
        zones(*sizes_of)

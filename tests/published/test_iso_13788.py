"""ISO 13788:2012: condensation and mould by month.

The printed monthly results of the standard could not be read. All results here are ours, computed,
proved with two algorithms; they are not the standard's printed values. Method, climate and layers
of roofs R1 and R2 from memory; the outside humidity of K1, K2 and K2b is arbitrary test data.
"""

import math

import pytest

from evenfall.calc.physics.condensation import monthly, vapour_thickness
from evenfall.calc.physics.monthly_air import internal_vapour_pressure, year_of, year_of_class
from evenfall.calc.physics.mould import (
    demand,
    plane_factor,
    plane_factor_short,
    required_factor,
)
from evenfall.calc.physics.psychrometrics import saturation_pressure, vapour_pressure
from evenfall.calc.physics.transmittance import Layer, total_resistance
from evenfall.errors import InvalidInput, OutOfScope
from evenfall.standards import iso_13788
from evenfall.standards.sap_climate import external_temperatures

WATER = 0.00001

# --- 3.2: the standard's own example, roofs R1 and R2

THETA_E = (-1, 0, 4, 9, 14, 18, 19, 19, 15, 10, 5, 1)
PHI_E = (0.85, 0.84, 0.78, 0.72, 0.68, 0.69, 0.73, 0.75, 0.79, 0.83, 0.88, 0.88)
THETA_I = (20, 20, 20, 20, 22, 24, 24.5, 24.5, 22.5, 20, 20, 20)
PHI_I = (0.39, 0.40, 0.44, 0.49, 0.54, 0.58, 0.59, 0.59, 0.55, 0.50, 0.45, 0.41)
P_E = (478, 513, 634, 826, 1086, 1423, 1603, 1647, 1346, 1019, 767, 578)
P_I = (911, 935, 1028, 1145, 1427, 1730, 1813, 1813, 1498, 1168, 1052, 958)

R1 = (("membrane", 0.05, 1000), ("insulation", 3.0, 15), ("liner", 0.075, 0.12))
R2 = (*R1[:2], ("vapour barrier", 0.0, 1000), R1[2])


def pressures(theta, phi):
    return [vapour_pressure(float(t), f) for t, f in zip(theta, phi, strict=True)]


def own_example():
    return year_of(THETA_E, pressures(THETA_E, PHI_E), THETA_I, pressures(THETA_I, PHI_I))


@pytest.fixture(scope="module")
def r1():
    return monthly(R1, own_example())


@pytest.fixture(scope="module")
def r2():
    return monthly(R2, own_example())


def test_vapour_pressures_of_the_example():
    assert pressures(THETA_E, PHI_E) == pytest.approx(P_E, abs=0.5)
    assert pressures(THETA_I, PHI_I) == pytest.approx(P_I, abs=0.5)


def test_r1_gathers_water_under_the_membrane_only(r1):
    assert [plane.name for plane in r1.planes] == ["membrane | insulation"]


def test_r1_gathers_and_dries_as_computed(r1):
    expected = [0.00522, 0.00974, 0.01134, 0.00952, 0.00662]
    expected += [-0.00107, -0.00715, -0.01250, -0.01464]
    assert " ".join(m.name for m in r1.months[:9]) == "Nov Dec Jan Feb Mar Apr May Jun Jul"
    assert [m.gain for m in r1.months[:9]] == pytest.approx(expected, abs=WATER)


def test_r1_is_fullest_in_march(r1):
    assert (r1.highest, r1.highest_month) == (pytest.approx(0.04244, abs=WATER), "Mar")


def test_r1_is_dry_in_august(r1):
    assert (r1.dry_month, r1.verdict) == ("Aug", "b")


def test_r2_with_a_vapour_barrier_hardly_gathers_water(r2):
    assert " ".join(m.name for m in r2.months[:4]) == "Nov Dec Jan Feb"
    gains = [m.gain for m in r2.months[:4]]
    assert gains == pytest.approx([0.00001, 0.00009, 0.00011, 0.00008], abs=WATER)
    assert r2.highest == pytest.approx(0.00029, abs=WATER)
    assert r2.highest_month in ("Feb", "Mar")


def test_r2_is_dry_in_may(r2):
    assert (r2.dry_month, r2.verdict) == ("May", "b")


# --- 3.3: constructed cases K1, K2, K2b

K_THETA_E = external_temperatures(0)
K_PHI_E = (0.86, 0.84, 0.81, 0.78, 0.76, 0.76, 0.77, 0.79, 0.82, 0.85, 0.87, 0.87)
K_P_E = (713.9, 727.3, 783.7, 889.0, 1044.5, 1262.4, 1453.8, 1472.7, 1318.7, 1085.9, 877.2, 717.2)
K_P_I = (1349.8, 1338.8, 1330.4, 1338.5, 1380.6, 1481.1)
K_P_I += (1591.5, 1618.5, 1557.6, 1466.6, 1399.6, 1357.1)
CLASS_3 = iso_13788.HUMIDITY_CLASSES[3].excess

MEMBRANE = ("membrane", 0.0048, 60)
BOARD = ("rigid insulation", 0.120 / 0.022, 7.2)
VCL = ("vapour control layer", 0.0, 1500)
DECK = ("plywood", 0.018 / 0.13, 2.7)
CEILING = ("plasterboard", 0.05, 0.125)
K1 = (MEMBRANE, BOARD, DECK, CEILING)
K2 = (MEMBRANE, BOARD, VCL, DECK, CEILING)


def constructed(colder=0.0):
    year = year_of_class(K_THETA_E, K_PHI_E, 20.0, CLASS_3)
    return tuple(month._replace(theta_e=month.theta_e - colder) for month in year)


@pytest.fixture(scope="module")
def k1():
    return monthly(K1, constructed())


@pytest.fixture(scope="module")
def k2b():
    return monthly(K2, constructed(colder=2.0))


def test_vapour_pressures_of_the_constructed_cases():
    year = constructed()
    assert [m.p_e for m in year] == pytest.approx(K_P_E, abs=0.05)
    assert [m.p_i for m in year] == pytest.approx(K_P_I, abs=0.05)


@pytest.mark.parametrize("roof", [K1, K2])
def test_total_resistance_of_the_constructed_cases(roof):
    total = total_resistance(Layer(name, resistance=R) for name, R, _ in roof)
    assert total.value == pytest.approx(5.7878, abs=0.00005)


K1_GAIN = {
    "Oct": 0.00800,
    "Nov": 0.01869,
    "Dec": 0.02707,
    "Jan": 0.02628,
    "Feb": 0.02131,
    "Mar": 0.01732,
    "Apr": 0.00771,
    "May": -0.00297,
    "Jun": -0.01302,
    "Jul": -0.01992,
    "Aug": -0.01683,
    "Sep": -0.00540,
}
K1_HELD = (0.00800, 0.02669, 0.05376, 0.08004, 0.10136, 0.11867)
K1_HELD += (0.12639, 0.12341, 0.11039, 0.09047, 0.07364, 0.06824)


def test_k1_starts_in_october_and_gathers_water_as_computed(k1):
    assert [m.name for m in k1.months] == list(K1_GAIN)
    assert [m.gain for m in k1.months] == pytest.approx(list(K1_GAIN.values()), abs=WATER)


def test_k1_holds_water_as_computed(k1):
    assert [m.total for m in k1.months] == pytest.approx(K1_HELD, abs=WATER)


def test_k1_is_fullest_in_april_under_the_membrane(k1):
    assert (k1.highest, k1.highest_month) == (pytest.approx(0.12639, abs=WATER), "Apr")
    assert k1.worst_plane.name == "membrane | rigid insulation"


def test_k1_does_not_dry(k1):
    assert (k1.verdict, k1.dry_month) == ("c", None)


def test_k1_in_january_by_hand(k1):
    """At the plane under the membrane: temperature, saturation, flow in less flow out."""
    R_T = 0.04 + 0.10 + sum(R for _, R, _ in K1)
    theta_c = 4.3 + (20 - 4.3) * (0.04 + 0.0048) / R_T
    p_c = saturation_pressure(theta_c)
    assert theta_c == pytest.approx(4.42152, abs=0.000005)
    assert p_c == pytest.approx(837.281, abs=0.0005)
    g = 2e-10 * ((1349.8 - p_c) / 10.025 - (p_c - 713.9) / 60)
    assert g == pytest.approx(9.8137e-9, rel=1e-4)
    january = next(m for m in k1.months if m.name == "Jan")
    assert january.gain == pytest.approx(0.026285, abs=0.000005)


def test_k2_with_a_vapour_control_layer_stays_dry():
    year = monthly(K2, constructed())
    assert (year.verdict, year.planes, year.highest, year.highest_month) == ("a", (), 0, None)
    assert (year.dry_month, year.worst_plane) == (None, None)


def test_k2b_colder_by_2_kelvin_gathers_a_trace(k2b):
    assert " ".join(m.name for m in k2b.months[:4]) == "Nov Dec Jan Feb"
    gains = [m.gain for m in k2b.months[:4]]
    assert gains == pytest.approx([0.00011, 0.00018, 0.00010, -0.00007], abs=WATER)


def test_k2b_is_fullest_in_january_and_dry_in_march(k2b):
    assert (k2b.highest, k2b.highest_month) == (pytest.approx(0.00038, abs=WATER), "Jan")
    assert (k2b.dry_month, k2b.verdict) == ("Mar", "b")


def test_k2b_outside_air_lies_above_its_saturation_in_december():
    december = constructed(colder=2.0)[11]
    assert saturation_pressure(december.theta_e) == pytest.approx(715.4, abs=0.05)
    assert december.p_e == pytest.approx(717.2, abs=0.05)


def test_k2b_limited_to_saturation_outside_differs_by_the_vapour_through_the_membrane(k2b):
    """By hand 2e-10 / 60 x 31 d x 1.8 Pa = 0.000016: the verdict and its months stay."""
    december = constructed(colder=2.0)[11]
    limit = saturation_pressure(december.theta_e)
    limited = monthly(K2, (*constructed(colder=2.0)[:11], december._replace(p_e=limit)))
    less = 2e-10 / 60 * 31 * 86400 * (december.p_e - limit)
    assert k2b.months[1].gain - limited.months[1].gain == pytest.approx(less, rel=1e-9)
    assert (limited.verdict, limited.highest_month, limited.dry_month) == ("b", "Jan", "Mar")


def test_table_of_the_working_has_a_line_for_each_month(k1):
    assert [row[0] for row in k1.table.rows] == list(K1_GAIN)
    assert k1.table.rows[6][2] == pytest.approx(0.12639, abs=WATER)


# --- 3.1: conventions

CLASSES = [(1, 270), (2, 540), (3, 810), (4, 1080), (5, 1360)]


@pytest.mark.parametrize(("number", "excess"), CLASSES)
def test_humidity_class_has_its_full_excess_at_0_and_below(number, excess):
    full = iso_13788.HUMIDITY_CLASSES[number].excess
    assert internal_vapour_pressure(500.0, 0.0, full) == 500 + excess
    assert internal_vapour_pressure(300.0, -7.0, full) == 300 + excess


def test_excess_falls_on_a_straight_line_to_none_at_20():
    assert internal_vapour_pressure(900.0, 15.0, CLASS_3) == pytest.approx(900 + 810 / 4)
    assert internal_vapour_pressure(1600.0, 23.0, CLASS_3) == 1600


def test_humid_run_off_is_told_above_200_g():
    damp = year_of_class(K_THETA_E, K_PHI_E, 20.0, iso_13788.HUMIDITY_CLASSES[5].excess)
    assert monthly(K1, damp).may_run_off
    assert not monthly(K1, constructed()).may_run_off


def test_rubber_of_1_2_mm_by_the_table_resists_only_7_2_m():
    assert vapour_thickness(6000, 0.0012) == pytest.approx(7.2)


def test_two_seasons_of_water_that_dry_are_not_called_wet_for_ever():
    """A first short season, dry before the main one, must not decide the verdict."""
    cold = [8.0] * 12
    p_e = [700.0] * 12
    inside = [1000.0] * 12
    for month in (2, 10, 11, 0):
        inside[month] = 1500.0
    inside[1] = 600.0
    roof = (("membrane", 0.0, 20), ("board", 5.0, 8))
    year = monthly(roof, year_of(cold, p_e, [20.0] * 12, inside))
    assert year.verdict == "b"
    for start in range(12):
        turned = year_of(cold, p_e, [20.0] * 12, inside)
        again = monthly(roof, turned[start:] + turned[:start])
        assert (again.verdict, again.highest) == ("b", pytest.approx(year.highest))


def test_layer_without_vapour_resistance_makes_one_plane_of_two():
    roof = (("membrane", 0.0, 60), ("quilt", 2.6, 0.0), ("deck", 0.1, 5.0))
    year = monthly(roof, constructed())
    assert [plane.name for plane in year.planes] == ["membrane | quilt"]


@pytest.mark.parametrize(
    ("layer", "word"),
    [(("sheet", 0.1, math.inf), "1500"), (("sheet", -0.1, 2.0), "R"), (("sheet", 0.1, -2), "s_d")],
)
def test_layer_without_sense_is_refused_by_its_name(layer, word):
    with pytest.raises(InvalidInput, match=f"sheet.*{word}"):
        monthly([*K1, layer], constructed())


def test_roof_without_vapour_resistance_is_refused():
    with pytest.raises(InvalidInput, match="no vapour resistance"):
        monthly([("quilt", 2.0, 0.0)], constructed())


def test_year_of_eleven_months_is_refused():
    with pytest.raises(InvalidInput, match="11 months"):
        monthly(K1, constructed()[:11])


def test_climate_of_uneven_columns_is_refused():
    with pytest.raises(InvalidInput, match="12"):
        year_of([4.0] * 12, [700.0] * 11, [20.0] * 12, [1200.0] * 12)


# --- 3.1 and 3.4: mould

TRANSMITTANCES = (0.16, 0.18, 0.25, 0.35, 0.70, 1.0, 1.5)
FACTORS = (0.9609, 0.9562, 0.9398, 0.9169, 0.8416, 0.7826, 0.6939)
SHORT = (0.96, 0.955, 0.9375, 0.9125, 0.825, 0.75, 0.625)


@pytest.mark.parametrize(("U", "f"), [*zip(TRANSMITTANCES, FACTORS, strict=True)])
def test_temperature_factor_of_a_plane_roof(U, f):
    assert plane_factor(U) == pytest.approx(f, abs=0.00005)


@pytest.mark.parametrize(("U", "f"), [*zip(TRANSMITTANCES, SHORT, strict=True)])
def test_short_form_of_the_temperature_factor(U, f):
    assert plane_factor_short(U) == pytest.approx(f, abs=1e-12)


REQUIRED = (0.672, 0.650, 0.601, 0.524, 0.421, 0.313, 0.243, 0.359, 0.506, 0.589, 0.644, 0.679)


def test_temperature_factor_asked_for_by_each_month_of_class_3():
    found = [f for _, f in demand(constructed()).months]
    assert found == pytest.approx(REQUIRED, abs=0.0005)


@pytest.mark.parametrize(("excess", "f"), [(540, 0.513), (810, 0.679), (1080, 0.824)])
def test_december_governs_the_temperature_factor(excess, f):
    year = demand(year_of_class(K_THETA_E, K_PHI_E, 20.0, excess))
    assert (year.governing_month, year.f_Rsi_min) == ("Dec", pytest.approx(f, abs=0.0005))


def test_month_as_warm_outside_as_inside_asks_for_nothing():
    warm = constructed()[6]._replace(theta_e=20.0)
    year = demand((constructed()[0], warm))
    assert year.months[1] == ("Jul", None)
    assert year.table.rows[1] == ("Jul", "none")


def test_temperature_factor_of_a_warm_month_alone_is_refused():
    with pytest.raises(OutOfScope, match="theta_e"):
        required_factor(20.0, 20.0, 1300.0)


def test_year_without_a_cold_month_is_refused():
    with pytest.raises(InvalidInput, match="no month colder"):
        demand([constructed()[0]._replace(theta_e=21.0)])


def test_humidity_given_in_per_cent_is_refused():
    with pytest.raises(InvalidInput, match="80"):
        required_factor(4.3, 20.0, 1349.8, humidity=80)

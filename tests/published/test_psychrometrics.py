"""Moist air by the formulas of ISO 13788:2012 Annex E (from memory).

Compared with ASHRAE Handbook 2017 chapter 1 table 3 (published, read in a public copy), public dew
points and a public table of absolute humidity (published), and our own table (computed).
"""

import numpy as np
import pytest

from evenfall.calc.physics.psychrometrics import (
    absolute_humidity,
    dew_point,
    saturation_over_ice,
    saturation_pressure,
    saturation_temperature,
    vapour_pressure,
)
from evenfall.errors import InvalidInput, OutOfScope
from evenfall.standards import iso_13788

ASHRAE = [
    # C, Pa, relative tolerance: ISO lies below ASHRAE by 0.15 % at most from 0 to 30 C, by 0.6 %
    # below 0 C; at 50 C, beyond the range of that comparison, by 0.2 %
    (-20, 103.24, 0.006),
    (-5, 401.74, 0.006),
    (5, 872.6, 0.0015),
    (25, 3169.7, 0.0015),
    (50, 12351.3, 0.002),
]


@pytest.mark.parametrize(("theta", "p", "tolerance"), ASHRAE)
def test_saturation_pressure_lies_just_below_ashrae(theta, p, tolerance):
    assert saturation_pressure(float(theta)) == pytest.approx(p, rel=tolerance)
    assert saturation_pressure(float(theta)) < p


ISO = [
    (-10, 259.33),
    (0, 610.50),
    (5, 871.86),
    (10, 1227.31),
    (15, 1704.41),
    (18, 2062.83),
    (20, 2336.95),
    (22, 2642.41),
    (25, 3165.92),
    (30, 4240.51),
]


@pytest.mark.parametrize(("theta", "p"), ISO)
def test_saturation_pressure_has_the_computed_digits(theta, p):
    assert saturation_pressure(float(theta)) == pytest.approx(p, abs=0.005)


def test_saturation_over_ice_uses_265_5_and_not_267_5():
    assert saturation_pressure(-20.0) == pytest.approx(102.74, abs=0.005)
    wrong = saturation_over_ice(-20.0, b=267.5)
    assert wrong == pytest.approx(104.23, abs=0.005)
    assert iso_13788.ICE_OFFSET == 265.5


@pytest.mark.parametrize(
    ("theta", "phi", "printed", "tolerance", "computed"),
    [(22, 0.70, 16.3, 0.05, 16.28), (22, 0.45, 9.5, 0.05, 9.53), (30, 0.55, 20, 0.5, 19.97)],
)
def test_dew_point_of_public_glossaries(theta, phi, printed, tolerance, computed):
    found = dew_point(float(theta), phi)
    assert found == pytest.approx(printed, abs=tolerance)
    assert found == pytest.approx(computed, abs=0.005)


SATURATED = [
    (30, 30.4, 30.31),
    (25, 23.0, 23.01),
    (20, 17.3, 17.27),
    (15, 12.8, 12.82),
    (10, 9.4, 9.39),
    (5, 6.8, 6.79),
    (0, 4.8, 4.84),
]


@pytest.mark.parametrize(("theta", "printed_g", "computed_g"), SATURATED)
def test_absolute_humidity_of_saturated_air(theta, printed_g, computed_g):
    found_g = absolute_humidity(float(theta), 1.0) * 1000
    assert found_g == pytest.approx(printed_g, abs=0.1)  # at 30 C the table itself is 0.09 high
    assert found_g == pytest.approx(computed_g, abs=0.005)


@pytest.mark.parametrize(
    ("phi", "printed", "computed"),
    [(0.5, 9, 9.3), (0.6, 12, 12.0), (0.7, 14, 14.4), (0.8, 16, 16.4), (0.9, 18, 18.3)],
)
def test_dew_point_at_20_degrees_of_the_public_table(phi, printed, computed):
    assert dew_point(20.0, phi) == pytest.approx(printed, abs=0.5)
    assert dew_point(20.0, phi) == pytest.approx(computed, abs=0.05)


HUMIDITIES = (0.40, 0.45, 0.50, 0.55, 0.60, 0.65, 0.70, 0.75, 0.80)
DEW_POINTS = {
    16: (2.42, 4.09, 5.59, 6.97, 8.25, 9.43, 10.54, 11.57, 12.55),
    18: (4.21, 5.90, 7.43, 8.83, 10.13, 11.33, 12.45, 13.50, 14.50),
    20: (6.00, 7.72, 9.27, 10.69, 12.00, 13.22, 14.36, 15.43, 16.44),
    21: (6.90, 8.62, 10.19, 11.62, 12.94, 14.17, 15.32, 16.40, 17.42),
    22: (7.79, 9.53, 11.11, 12.55, 13.88, 15.12, 16.28, 17.36, 18.39),
    24: (9.58, 11.34, 12.94, 14.40, 15.76, 17.01, 18.19, 19.29, 20.33),
}


@pytest.mark.parametrize("theta", DEW_POINTS)
def test_dew_point_table(theta):
    found = [dew_point(float(theta), phi) for phi in HUMIDITIES]
    assert found == pytest.approx(DEW_POINTS[theta], abs=0.005)


def test_arrays_give_the_same_as_single_numbers():
    theta = np.array([-12.5, -0.1, 0.0, 3.7, 21.0])
    phi = np.array([0.93, 0.81, 1.0, 0.6, 0.47])
    single = [dew_point(float(t), float(f)) for t, f in zip(theta, phi, strict=True)]
    assert dew_point(theta, phi) == pytest.approx(single, rel=1e-14)
    humid = [absolute_humidity(float(t), 0.5) for t in theta]
    assert absolute_humidity(theta, 0.5) == pytest.approx(humid, rel=1e-14)


def test_single_numbers_come_back_as_plain_floats():
    assert type(saturation_pressure(20.0)) is float
    assert type(dew_point(20.0, 0.5)) is float


@pytest.mark.parametrize("phi", [1.01, 55, -0.1])
def test_humidity_that_is_no_fraction_is_refused(phi):
    with pytest.raises(InvalidInput, match="fraction"):
        vapour_pressure(20.0, phi)


def test_perfectly_dry_air_has_no_dew_point():
    with pytest.raises(InvalidInput, match="more than 0"):
        dew_point(20.0, 0.0)


def test_temperature_beyond_the_pole_of_the_formula_is_refused():
    with pytest.raises(OutOfScope, match=r"-237\.3"):
        saturation_pressure(np.array([20.0, -237.3]))


def test_saturation_temperature_changes_branch_at_0_degrees():
    assert saturation_temperature(610.5) == 0
    assert saturation_temperature(102.74) == pytest.approx(-20.0, abs=0.001)

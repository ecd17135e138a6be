"""Moist air: our ISO 13788 formulas beside psychrolib (ASHRAE 2017) and CoolProp (water).

The witnesses are first held against the published ASHRAE values (Handbook 2017, chapter 1).
"""

import psychrolib
import pytest
from CoolProp.CoolProp import PropsSI

from evenfall.calc.physics.psychrometrics import (
    absolute_humidity,
    dew_point,
    saturation_pressure,
    saturation_temperature,
    vapour_pressure,
)

psychrolib.SetUnitSystem(psychrolib.SI)

ASHRAE = [(-20, 103.24), (-5, 401.74), (5, 872.6), (25, 3169.7), (50, 12351.3)]


@pytest.mark.parametrize(("theta", "p"), ASHRAE)
def test_the_witness_has_the_published_saturation_pressure(theta, p):
    assert psychrolib.GetSatVapPres(theta) == pytest.approx(p, rel=3e-4)


def test_the_witness_has_the_published_saturation_pressure_of_deep_cold():
    assert psychrolib.GetSatVapPres(-60) == pytest.approx(1.08, abs=0.01)


@pytest.mark.parametrize(
    ("altitude", "p"), [(-500, 107478), (0, 101325), (500, 95461), (1000, 89875)]
)
def test_the_witness_has_the_published_standard_atmosphere(altitude, p):
    assert psychrolib.GetStandardAtmPressure(altitude) == pytest.approx(p, abs=1)


@pytest.fixture(scope="module")
def example_1():
    """Dry bulb 40 C, wet bulb 20 C, 101325 Pa."""
    return psychrolib.GetHumRatioFromTWetBulb(40, 20, 101325)


def test_the_witness_has_the_published_humidity_ratio_of_example_1(example_1):
    assert example_1 == pytest.approx(0.0065, abs=0.0001)


def test_the_witness_has_the_published_enthalpy_and_volume_of_example_1(example_1):
    assert psychrolib.GetMoistAirEnthalpy(40, example_1) / 1000 == pytest.approx(56.7, abs=0.05)
    volume = psychrolib.GetMoistAirVolume(40, example_1, 101325)
    assert volume == pytest.approx(0.896, abs=0.0005)


def test_our_dew_point_and_humidity_of_example_1_are_the_published_ones(example_1):
    p = psychrolib.GetVapPresFromHumRatio(example_1, 101325)
    assert saturation_temperature(p) == pytest.approx(7, abs=0.5)
    assert p / saturation_pressure(40.0) == pytest.approx(0.14, abs=0.01)


PRINTED = [  # C, psychrolib Pa, CoolProp Pa
    (-10, 259.90, None),
    (0, 611.15, None),
    (5, 872.49, 872.58),
    (10, 1228.00, 1228.20),
    (15, 1705.45, 1705.79),
    (18, 2064.29, 2064.73),
    (20, 2338.80, 2339.32),
    (22, 2644.75, 2645.34),
    (25, 3169.22, 3169.93),
    (30, 4246.03, 4246.97),
]


@pytest.mark.parametrize(("theta", "ashrae", "_"), PRINTED)
def test_saturation_pressure_beside_ashrae(theta, ashrae, _):
    witness = psychrolib.GetSatVapPres(theta)
    assert witness == pytest.approx(ashrae, abs=0.005)
    share = 0.0015 if theta >= 0 else 0.006
    assert saturation_pressure(float(theta)) == pytest.approx(witness, rel=share)


@pytest.mark.parametrize(("theta", "_", "water"), [row for row in PRINTED if row[2]])
def test_saturation_pressure_beside_coolprop(theta, _, water):
    witness = PropsSI("P", "T", theta + 273.15, "Q", 0, "Water")
    assert witness == pytest.approx(water, abs=0.005)
    # CoolProp lies 0.02 % above ASHRAE, for which 0.15 % is the stated tolerance
    assert saturation_pressure(float(theta)) == pytest.approx(witness, rel=0.0017)


@pytest.mark.parametrize("theta", [16.0, 18.0, 20.0, 21.0, 22.0, 24.0])
@pytest.mark.parametrize("phi", [0.40, 0.55, 0.80])
def test_dew_point_beside_ashrae(theta, phi):
    assert dew_point(theta, phi) == pytest.approx(
        psychrolib.GetTDewPointFromRelHum(theta, phi), abs=0.02
    )


@pytest.mark.parametrize("theta", [5.0, 9.0, 13.0, 27.0])
@pytest.mark.parametrize("phi", [0.72, 0.86, 0.97])
def test_dew_point_beside_ashrae_in_the_hours_of_a_forecast(theta, phi):
    assert dew_point(theta, phi) == pytest.approx(
        psychrolib.GetTDewPointFromRelHum(theta, phi), abs=0.03
    )


@pytest.mark.parametrize(("theta", "phi"), [(3.7, 0.91), (19.5, 0.47), (28.0, 0.62)])
def test_absolute_humidity_beside_ashrae(theta, phi):
    ratio = psychrolib.GetHumRatioFromRelHum(theta, phi, 101325)
    volume = psychrolib.GetMoistAirVolume(theta, ratio, 101325)
    assert absolute_humidity(theta, phi) == pytest.approx(ratio / volume, rel=0.0015)


def test_vapour_pressure_beside_ashrae():
    witness = psychrolib.GetVapPresFromRelHum(12.3, 0.71)
    assert vapour_pressure(12.3, 0.71) == pytest.approx(witness, rel=0.0015)

"""ISO 6946 tapered layers (2007 Annex C, 2017 Annex E).

Formulas published, second-hand (the general triangle from memory); the numbers are computed by us
and proved by integration of 1/R over the area, not printed in the document.
"""

import pytest

from evenfall.calc.physics import tapered
from evenfall.calc.physics.tapered import Part, whole_roof
from evenfall.errors import InvalidInput, OutOfScope

EXACT = 1e-12


@pytest.mark.parametrize(
    ("function", "resistances", "U"),
    [
        ("rectangle", (1.24, 3.2), 0.39860718650850),
        ("thickest_at_apex", (1.24, 3.2), 0.48113494256108),
        ("thinnest_at_apex", (1.24, 3.2), 0.31607943045592),
        ("corners_differ", (1.24, 1.6, 3.2), 0.37360801788815),
    ],
)
@pytest.mark.parametrize("form", ["", "_formula"])
def test_shape_has_the_exact_transmittance(function, resistances, U, form):
    found = getattr(tapered, function + form)(*resistances)
    assert found == pytest.approx(U, rel=2 * EXACT)  # the table stops at 14 decimals


BASE = 0.10 + 0.04 + 0.0125 / 0.25 + 0.018 / 0.13 + 0.005 / 0.17
TAPER = 0.0667 / 0.022

# least board in mm: rectangle, hip, valley; wrong by mean thickness, wrong by mean of the ends
PRACTICAL = {
    60: (0.22576, 0.25132, 0.20021, 0.21734, 0.24381),
    100: (0.15878, 0.17147, 0.14609, 0.15578, 0.16498),
}


@pytest.fixture(params=PRACTICAL)
def practical(request):
    return BASE + request.param / 1000 / 0.022, PRACTICAL[request.param]


def test_rectangle_of_a_practical_taper(practical):
    R0, expected = practical
    assert tapered.rectangle(R0, TAPER) == pytest.approx(expected[0], abs=0.00001)


def test_hip_of_a_practical_taper(practical):
    R0, expected = practical
    assert tapered.thickest_at_apex(R0, TAPER) == pytest.approx(expected[1], abs=0.00001)


def test_valley_of_a_practical_taper(practical):
    R0, expected = practical
    assert tapered.thinnest_at_apex(R0, TAPER) == pytest.approx(expected[2], abs=0.00001)


def test_no_shape_returns_the_transmittance_at_mean_thickness(practical):
    R0, expected = practical
    wrong = 1 / (R0 + TAPER / 2)
    assert wrong == pytest.approx(expected[3], abs=0.00001)
    assert tapered.rectangle(R0, TAPER) - wrong > 0.001


def test_no_shape_returns_the_mean_of_the_ends(practical):
    R0, expected = practical
    wrong = (1 / R0 + 1 / (R0 + TAPER)) / 2
    assert wrong == pytest.approx(expected[4], abs=0.00001)
    assert wrong - tapered.rectangle(R0, TAPER) > 0.001


def test_whole_roof_averages_transmittance_by_area_and_not_resistance():
    parts = (
        Part("rectangle", 11.3, 1 / 60, 3.0851, TAPER),
        Part("thickest at apex", 2.9, 1 / 60, 3.0851, TAPER),
        Part("thinnest at apex", 1.7, 1 / 60, 3.0851, TAPER),
    )
    areas, U = (11.3, 2.9, 1.7), (0.22576, 0.25132, 0.20021)
    mean = sum(a * u for a, u in zip(areas, U, strict=True)) / sum(areas)
    by_resistance = sum(areas) / sum(a / u for a, u in zip(areas, U, strict=True))
    assert whole_roof(parts) == pytest.approx(mean, abs=0.00001)
    assert abs(whole_roof(parts) - by_resistance) > 0.0005


def test_part_with_three_thicknesses_takes_both_resistances():
    part = Part("corners differ", 3.1, 0.04, 1.24, 1.6, 3.2)
    found = part.U
    assert found == pytest.approx(0.37360801788815, rel=2 * EXACT)


def test_slope_of_5_per_cent_is_allowed():
    found = Part("rectangle", 2.0, 0.05, 1.24, 3.2).U
    assert found == pytest.approx(0.3986071865085)


@pytest.mark.parametrize("slope", [0.0501, -0.01])
def test_slope_beyond_the_annex_is_refused(slope):
    with pytest.raises(OutOfScope, match="slope"):
        Part("rectangle", 2.0, slope, 1.24, 3.2)


@pytest.mark.parametrize(("R0", "R1"), [(0.0, 1.0), (-1.0, 1.0), (1.0, -0.1)])
def test_resistances_without_sense_are_refused(R0, R1):
    with pytest.raises(InvalidInput, match="taper"):
        tapered.thickest_at_apex(R0, R1)


def test_rectangle_without_resistance_is_refused():
    with pytest.raises(InvalidInput, match="taper"):
        tapered.rectangle(0.0, 1.0)


def test_part_without_area_is_refused():
    with pytest.raises(InvalidInput, match="area"):
        Part("rectangle", 0.0, 0.02, 1.24, 3.2)


@pytest.mark.parametrize(("shape", "R2"), [("rectangle", 3.2), ("corners differ", None)])
def test_second_resistance_belongs_to_three_corners_only(shape, R2):
    with pytest.raises(InvalidInput, match="R2"):
        Part(shape, 2.0, 0.02, 1.24, 1.6, R2)


def test_roof_without_parts_is_refused():
    with pytest.raises(InvalidInput, match="no part"):
        whole_roof(())

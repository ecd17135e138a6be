"""Falls: BS 6229:2018 as trade articles quote it (published, second-hand); valley falls, deflection
and Manning are computed, own cases, not an authority.
"""

import pytest

from evenfall.calc.drainage.falls import (
    channel_flow,
    common_line_fall,
    fall_along,
    hydraulic_radius,
    least_design_fall,
    manning_velocity,
    remaining_fall,
    thick_end_mm,
    valley_fall,
)
from evenfall.calc.drainage.tapering import Scheme, folds, heights, to_outlet
from evenfall.calc.geometry.contours import gutters
from evenfall.calc.geometry.relief import net, relief
from evenfall.errors import InvalidInput
from evenfall.standards import falls_practice as practice


def test_design_fall_is_twice_the_finished_fall():
    assert pytest.approx(1 / 40) == practice.DESIGN_FALL
    assert pytest.approx(1 / 80) == practice.FINISHED_FALL
    assert pytest.approx(float(practice.DESIGN_FALL)) == practice.DOUBLE * practice.FINISHED_FALL
    assert practice.FINISHED_FALL.basis == "published, second-hand"
    assert practice.STANDING_HOURS == 48


@pytest.mark.parametrize(("n", "expected"), [(40, 56.6), (60, 84.9), (80, 113.1)])
def test_valley_of_two_equal_planes(n, expected):
    assert 1 / valley_fall(1 / n) == pytest.approx(expected, abs=0.051)


def test_planes_at_1_in_56_6_give_1_in_80_along_the_mitre():
    assert 1 / valley_fall(1 / 56.6) == pytest.approx(80, abs=0.05)


def test_valley_of_two_planes_is_the_projection_on_their_line():
    assert common_line_fall((0.0, 1 / 40), (1 / 40, 0.0)) == pytest.approx(valley_fall(1 / 40))
    assert fall_along((1 / 40, 0.0), (3.0, 3.0)) == pytest.approx(valley_fall(1 / 40))


def test_both_planes_agree_on_the_fall_of_their_valley():
    one, other = (0.011, 0.027), (0.019, -0.004)
    line = (one[1] - other[1], other[0] - one[0])
    assert fall_along(one, line) == pytest.approx(fall_along(other, line))
    assert common_line_fall(one, other) == pytest.approx(abs(fall_along(one, line)))


@pytest.mark.parametrize(
    ("n", "expected", "half_digit"),
    [(150, 273, 0.5), (200, 111, 0.5), (250, 82.0, 0.1), (300, 69.8, 0.051), (360, 62.1, 0.051)],
)
def test_fall_left_at_the_end_of_a_sagging_joist(n, expected, half_digit):
    assert 1 / remaining_fall(1 / 40, 4.2 / n, 4.2) == pytest.approx(expected, abs=half_digit)


def test_a_sag_of_l_over_250_is_why_1_in_40_leaves_1_in_80():
    assert 1 / remaining_fall(1 / 40, 1 / 250, 1.0) > 80
    assert 1 / least_design_fall(1 / 250, 1.0) == pytest.approx(39.5, abs=0.05)


@pytest.mark.parametrize(("n", "mm"), [(40, 25.0), (60, 16.7), (80, 12.5)])
def test_millimetres_per_metre(n, mm):
    assert thick_end_mm(0.0, 1000.0, 1 / n) == pytest.approx(mm, abs=0.05)


def test_firring_of_the_handbook():
    """4.1 m at 1:40 runs from 25 to 127 mm (127.5)."""
    assert thick_end_mm(25.0, 4100.0) == pytest.approx(127.5)


@pytest.mark.parametrize(
    ("b", "y", "S", "V", "litres", "half_digit"),
    [
        (0.1, 0.05, 1 / 200, 0.5038, 2.519, 0.0005),
        (0.15, 0.075, 1 / 350, 0.4990, 5.614, 0.0005),
        (0.3, 0.05, 1 / 80, 1.0438, 15.66, 0.005),
    ],
)
def test_manning_in_rectangular_channels(b, y, S, V, litres, half_digit):
    found = manning_velocity(hydraulic_radius(b, y), S)
    assert found == pytest.approx(V, abs=0.00005)
    assert channel_flow(found, b, y) * 1000 == pytest.approx(litres, abs=half_digit)


@pytest.mark.parametrize(
    "call",
    [
        lambda: fall_along((0.01, 0.02), (0.0, 0.0)),
        lambda: common_line_fall((0.01, 0.02), (0.01, 0.02)),
        lambda: least_design_fall(0.01, 0.0),
    ],
)
def test_a_line_of_no_length_is_refused(call):
    with pytest.raises(InvalidInput):
        call()


@pytest.mark.parametrize(("n", "expected"), [(40, 56.6), (60, 84.9), (80, 113.1)])
def test_the_mitres_of_boards_cut_to_an_outlet_fall_as_two_planes_do(n, expected):
    """The same table by geometry: zones cut out of a plan, their valleys measured."""
    ring, outlet = ((0.0, 0.0), (7.1, 0.0), (7.1, 4.3), (0.0, 4.3)), (2.9, 1.7)
    scheme = Scheme((to_outlet(outlet, (1.0, 0.0), (1 / n, 1 / n, 1 / n, 1 / n)),))
    surface = relief(net(ring, (), folds(scheme, 20.0)), lambda p: heights(scheme, p))
    mitres = [fall for _, _, fall, inner in gutters(surface, frozenset()) if inner]
    assert len(mitres) == 4
    assert [1 / fall for fall in mitres] == pytest.approx([expected] * 4, abs=0.051)

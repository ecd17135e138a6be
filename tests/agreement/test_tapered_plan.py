"""The tapered plan cut into rectangles and triangles against a plain sum over a fine grid."""

from __future__ import annotations

import numpy as np
import pytest

from evenfall.calc.geometry.polygon import area
from evenfall.calc.physics.tapered_plan import cut_up, mean_u
from evenfall.errors import InvalidInput, OutOfScope

R0, LAMBDA = 3.0851, 0.022
WIDE, DEEP, ONE_IN = 6.3, 4.1, 45.0
FINE = 1500  # cells along each side of the grid


def planes(x, y):
    """Four planes that fall to an outlet in one corner of the middle: thickest at the edge."""
    return np.maximum.reduce([2.9 - x, x - 2.9, 1.4 - y, y - 1.4]) / ONE_IN


def summed(added, keep=lambda x, y: np.ones_like(x, dtype=bool)) -> float:
    """Mean of 1/R over the middle of each cell."""
    x, y = np.meshgrid((np.arange(FINE) + 0.5) / FINE * WIDE, (np.arange(FINE) + 0.5) / FINE * DEEP)
    u = 1 / (R0 + added(x, y) / LAMBDA)
    return float(u[keep(x, y)].mean())


def triangle_of(a, b):
    """One of the four parts: a side of the roof and the outlet, cut off where planes meet."""
    return (a, b, (2.9, 1.4))


def test_a_rectangle_that_falls_along_its_length():
    ring = ((0.0, 0.0), (WIDE, 0.0), (WIDE, DEEP), (0.0, DEEP))
    cuts = cut_up(ring, (0.0, WIDE / ONE_IN, WIDE / ONE_IN, 0.0))
    assert [c.shape for c in cuts] == ["rectangle"]
    assert mean_u(cuts, R0, LAMBDA) == pytest.approx(summed(lambda x, y: x / ONE_IN), rel=1e-6)


def test_a_rectangle_that_falls_aslant_is_two_triangles():
    def added(x, y):
        return (0.6 * x + 0.8 * y) / ONE_IN

    ring = ((0.0, 0.0), (WIDE, 0.0), (WIDE, DEEP), (0.0, DEEP))
    cuts = cut_up(ring, [added(*p) for p in ring])
    assert [c.shape for c in cuts] == ["corners differ", "corners differ"]
    assert mean_u(cuts, R0, LAMBDA) == pytest.approx(summed(added), rel=1e-6)


def test_four_parts_of_unequal_height_that_fall_to_one_outlet():
    """The parts meet on lines at 45 degrees from the outlet; every corner is where one says."""
    parts = (
        ((0.0, 0.0), (1.5, 0.0), (2.9, 1.4), (0.2, 4.1), (0.0, 4.1)),
        ((1.5, 0.0), (4.3, 0.0), (2.9, 1.4)),
        ((4.3, 0.0), (6.3, 0.0), (6.3, 4.1), (5.6, 4.1), (2.9, 1.4)),
        ((5.6, 4.1), (0.2, 4.1), (2.9, 1.4)),
    )
    cuts = [c for ring in parts for c in cut_up(ring, [float(planes(*p)) for p in ring])]
    assert sum(c.area for c in cuts) == pytest.approx(WIDE * DEEP)
    assert mean_u(cuts, R0, LAMBDA) == pytest.approx(summed(planes), rel=1e-6)


def test_an_opening_is_taken_off_where_it_lies():
    """On the thick side it costs more warmth than on the thin side."""

    def added(x, y):
        return x / ONE_IN

    ring = ((0.0, 0.0), (WIDE, 0.0), (WIDE, DEEP), (0.0, DEEP))
    found = {}
    for left in (0.63, 4.62):  # on lines of the grid
        hole = ((left, 0.82), (left + 1.26, 0.82), (left + 1.26, 2.05), (left, 2.05))
        cuts = [
            *cut_up(ring, [added(*p) for p in ring]),
            *cut_up(hole, [added(*p) for p in hole], off=True),
        ]
        assert sum(c.area for c in cuts) == pytest.approx(WIDE * DEEP - area(hole))

        def keep(x, y, hole=hole):
            inside = (x > hole[0][0]) & (x < hole[1][0]) & (y > hole[0][1]) & (y < hole[2][1])
            return ~inside

        found[left] = mean_u(cuts, R0, LAMBDA)
        assert found[left] == pytest.approx(summed(added, keep), rel=1e-5)
    assert found[4.62] > found[0.63]


def test_mean_thickness_and_mean_of_the_ends_are_both_wrong():
    ring = ((0.0, 0.0), (3.0, 0.0), (3.0, 2.5), (0.0, 2.5))
    right = mean_u(cut_up(ring, (0.0, 0.0667, 0.0667, 0.0)), R0, LAMBDA)
    by_thickness = 1 / (R0 + 0.0667 / 2 / LAMBDA)
    by_ends = (1 / R0 + 1 / (R0 + 0.0667 / LAMBDA)) / 2
    assert by_thickness + 0.005 < right < by_ends - 0.005


@pytest.mark.parametrize(("high", "steep"), [(0.0499, False), (0.0501, True)])
def test_a_taper_steeper_than_the_annex_is_refused(high, steep):
    ring = ((0.0, 0.0), (1.0, 0.0), (1.0, 2.0), (0.0, 2.0))
    if steep:
        with pytest.raises(OutOfScope, match="slope"):
            cut_up(ring, (0.0, high, high, 0.0))
    else:
        assert cut_up(ring, (0.0, high, high, 0.0))


@pytest.mark.parametrize("added", [(0.0, 0.01), (0.0, -0.01, 0.0), (0.0, float("nan"), 0.0)])
def test_a_taper_without_sense_is_refused(added):
    with pytest.raises(InvalidInput, match="taper"):
        cut_up(((0.0, 0.0), (1.0, 0.0), (0.0, 1.0)), added)


def test_a_part_without_area_is_refused():
    with pytest.raises(InvalidInput, match="one line"):
        cut_up(((0.0, 0.0), (1.0, 0.0), (2.0, 0.0)), (0.0, 0.01, 0.02))

"""Surfaces through spot levels: the plane, the triangles, and what is refused."""

from __future__ import annotations

import math

import pytest

from evenfall.calc.geometry.surface import (
    Plane,
    fall_towards,
    falls_back,
    fit_plane,
    levels_at,
    one_in,
    surface,
)
from evenfall.errors import InvalidInput

SPOTS = ((0.0, 0.0, 0.10), (6.0, 0.2, 0.09), (6.2, 4.0, 0.03), (0.0, 4.1, 0.02), (3.0, 2.0, 0.02))


def test_a_dish_is_a_spot_below_the_plane() -> None:
    fit = fit_plane(SPOTS)
    assert min(fit.residuals) == fit.residuals[4]
    assert fit.worst == pytest.approx(-fit.residuals[4])


def test_a_plane_in_one_in_eighty_says_so() -> None:
    plane = fit_plane(((0, 0, 0.05), (6, 0, 0.05), (6, 4, 0.0), (0, 4, 0.0))).plane
    assert one_in(plane.fall) == pytest.approx(80)
    assert plane.downhill == pytest.approx((0, 1))


def test_a_plane_that_falls_to_the_wall_falls_back() -> None:
    plane = Plane(0.0, 0.0, 0.01)
    assert falls_back(plane, (0, 1))
    assert not falls_back(plane, (0, -1))


def test_a_fall_below_the_least_one_counts_as_none() -> None:
    plane = Plane(0.0, 0.0, -0.01)
    assert falls_back(plane, (0, 1), least=0.0125)
    assert not falls_back(plane, (0, 1), least=0.01)


def test_a_level_plane_has_no_direction() -> None:
    assert Plane(0.1, 0.0, 0.0).downhill == (0.0, 0.0)
    assert one_in(0.0) == math.inf


def test_a_direction_of_no_length_is_refused() -> None:
    with pytest.raises(InvalidInput, match="a direction of no length"):
        fall_towards(Plane(0.1, 0.0, 0.0), (0, 0))


def test_the_surface_goes_through_its_spots() -> None:
    found = levels_at(surface(SPOTS), tuple((x, y) for x, y, _ in SPOTS))
    assert found == pytest.approx([z for _, _, z in SPOTS])


def test_beyond_the_rim_the_level_is_that_of_the_nearest_rim() -> None:
    found = levels_at(surface(SPOTS), ((-2.0, -3.0), (-5.0, 2.05)))
    assert found == pytest.approx((0.10, 0.06))


def test_no_points_have_no_levels() -> None:
    assert levels_at(surface(SPOTS), ()) == ()


@pytest.mark.parametrize("make", [fit_plane, surface])
def test_spots_that_make_no_surface_are_refused(make: object) -> None:
    assert callable(make)
    with pytest.raises(InvalidInput, match="2 spot levels"):
        make(SPOTS[:2])
    with pytest.raises(InvalidInput, match="in one line"):
        make(((0, 0, 0.1), (1, 0.5, 0.1), (4, 2, 0.0)))
    with pytest.raises(InvalidInput, match="no number"):
        make((*SPOTS, (1.0, 1.0, math.nan)))


def test_two_levels_in_one_place_are_refused_by_the_triangles() -> None:
    with pytest.raises(InvalidInput, match="two spot levels in one place"):
        surface((*SPOTS, (3.0, 2.0, 0.05)))

"""Laws of plan geometry: what may not change when a roof is turned, named or cut otherwise."""

from __future__ import annotations

import math
from itertools import combinations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from evenfall.calc.geometry.clipping import clip_half_plane, net_area
from evenfall.calc.geometry.polygon import Point, Polygon, area, is_simple, perimeter
from evenfall.calc.geometry.rectangles import bounding_rectangle, smallest_rectangle
from evenfall.calc.geometry.setting_out import (
    measured_from_side,
    offset_sides,
    point_from_side,
)
from evenfall.calc.geometry.surface import fit_plane, levels_at, surface
from evenfall.calc.geometry.tapes import Adjusted, Tape, adjust

ANGLES = st.floats(0, math.tau)
FEW = settings(max_examples=40, deadline=None)


@st.composite
def outlines(draw: st.DrawFn) -> Polygon:
    """Star-shaped outlines of 3 to 8 corners, anticlockwise, some of them reflex."""
    n = draw(st.integers(3, 8))
    sizes = draw(st.lists(st.floats(1.5, 6.0), min_size=n, max_size=n))
    shifts = draw(st.lists(st.floats(-0.3, 0.3), min_size=n, max_size=n))
    step = math.tau / n
    found = tuple(
        (r * math.cos((i + s) * step), r * math.sin((i + s) * step))
        for i, (r, s) in enumerate(zip(sizes, shifts, strict=True))
    )
    assume(is_simple(found))
    return found


def turned(plan: Polygon, by: float, shift: Point = (0.0, 0.0)) -> Polygon:
    c, s = math.cos(by), math.sin(by)
    return tuple((c * x - s * y + shift[0], s * x + c * y + shift[1]) for x, y in plan)


def taped(plan: Polygon, errors: list[float], order: tuple[int, ...] = ()) -> Adjusted:
    """All distances, each with its error in mm."""
    pairs = tuple(combinations(range(len(plan)), 2))
    tapes = tuple(
        Tape(f"{i}-{j}", str(i), str(j), math.dist(plan[i], plan[j]) + e / 1000)
        for (i, j), e in zip(pairs, errors, strict=False)
    )
    corners = order or tuple(range(len(plan)))
    return adjust(tuple(str(i) for i in corners), tapes)


ERRORS = st.lists(st.floats(-6, 6), min_size=28, max_size=28)


@FEW
@given(outlines())
def test_exact_tapes_give_the_outline_back(plan: Polygon) -> None:
    found = taped(plan, [0.0] * 28).polygon
    for (i, p), (j, q) in combinations(enumerate(plan), 2):
        assert math.dist(found[i], found[j]) == pytest.approx(math.dist(p, q), abs=1e-6)


@FEW
@given(outlines(), ERRORS)
def test_redundancy_numbers_add_up_to_the_degrees_of_freedom(
    plan: Polygon, errors: list[float]
) -> None:
    found = taped(plan, errors)
    assert sum(c.redundancy for c in found.tapes) == pytest.approx(found.dof, abs=1e-6)
    assert all(0 <= c.redundancy <= 1 for c in found.tapes)


@FEW
@given(outlines(), ERRORS)
def test_the_plan_lies_in_its_frame(plan: Polygon, errors: list[float]) -> None:
    found = taped(plan, errors).polygon
    assert found[0] == (0, 0)
    assert found[1][1] == 0
    assert found[1][0] > 0
    assert is_simple(found)


@FEW
@given(outlines(), ERRORS, st.integers(1, 7))
def test_it_does_not_matter_which_corner_is_first(
    plan: Polygon, errors: list[float], first: int
) -> None:
    n = len(plan)
    order = tuple((i + first) % n for i in range(n))
    one, other = taped(plan, errors), taped(plan, errors, order)
    assert one.t == pytest.approx(other.t, rel=1e-6, abs=1e-9)
    assert one.sigma_mm == pytest.approx(other.sigma_mm, rel=1e-6)
    assert area(one.polygon) == pytest.approx(area(other.polygon), rel=1e-7)


@FEW
@given(outlines(), st.floats(0.001, 0.010))
def test_worse_tapes_make_a_plan_worse_in_proportion(plan: Polygon, sigma: float) -> None:
    pairs = tuple(combinations(range(len(plan)), 2))

    def good_to(s: float) -> float:
        tapes = tuple(
            Tape(f"{i}-{j}", str(i), str(j), math.dist(plan[i], plan[j]), s) for i, j in pairs
        )
        return adjust(tuple(str(i) for i in range(len(plan))), tapes).sigma_mm

    assert good_to(2 * sigma) == pytest.approx(2 * good_to(sigma), rel=1e-6)


@FEW
@given(outlines(), ANGLES, st.floats(-50, 50))
def test_turning_and_shifting_changes_no_size(plan: Polygon, by: float, shift: float) -> None:
    moved = turned(plan, by, (shift, -shift))
    assert area(moved) == pytest.approx(area(plan))
    assert perimeter(moved) == pytest.approx(perimeter(plan))
    assert smallest_rectangle(moved).area == pytest.approx(smallest_rectangle(plan).area)


@FEW
@given(outlines(), ANGLES)
def test_a_bounding_rectangle_holds_every_corner(plan: Polygon, by: float) -> None:
    around = bounding_rectangle(plan, (math.cos(by), math.sin(by)))
    for point in plan:
        along, inwards = measured_from_side(around.corners, 0, point)
        assert -1e-9 <= along <= around.along + 1e-9
        assert -1e-9 <= inwards <= around.across + 1e-9


@FEW
@given(outlines(), ANGLES, st.floats(-3, 3))
def test_the_two_halves_of_a_cut_add_up_to_the_whole(plan: Polygon, by: float, x: float) -> None:
    way = (math.cos(by), math.sin(by))
    left = clip_half_plane(plan, (x, 0.3), way)
    right = clip_half_plane(plan, (x, 0.3), (-way[0], -way[1]))
    assert sum(map(area, left)) + sum(map(area, right)) == pytest.approx(area(plan), abs=1e-7)
    assert net_area(plan, left) == pytest.approx(sum(map(area, right)), abs=1e-7)


@FEW
@given(outlines(), st.integers(0, 7), st.floats(0, 5), st.floats(-3, 3))
def test_setting_out_and_measuring_undo_each_other(
    plan: Polygon, side: int, along: float, inwards: float
) -> None:
    side %= len(plan)
    point = point_from_side(plan, side, along, inwards)
    assert measured_from_side(plan, side, point) == pytest.approx((along, inwards), abs=1e-9)


@FEW
@given(outlines(), st.floats(0.001, 0.05))
def test_a_shift_outwards_makes_every_corner_as_far_from_its_sides(
    plan: Polygon, by: float
) -> None:
    moved = offset_sides(plan, (by,) * len(plan))
    for i, point in enumerate(moved):
        for side in (i - 1, i):
            inwards = measured_from_side(plan, side % len(plan), point)[1]
            assert inwards == pytest.approx(-by, abs=1e-9)


@FEW
@given(outlines(), st.floats(-0.05, 0.05), st.floats(-0.05, 0.05), ANGLES)
def test_spots_of_a_plane_give_that_plane_and_flat_triangles(
    plan: Polygon, a: float, b: float, by: float
) -> None:
    spots = tuple((x, y, 0.2 + a * x + b * y) for x, y in turned(plan, by))
    fit = fit_plane(spots)
    assert (fit.plane.rise_x, fit.plane.rise_y) == pytest.approx((a, b), abs=1e-9)
    assert fit.worst < 1e-9
    level = levels_at(surface(spots), ((0.0, 0.0),))[0]
    lowest, highest = min(s[2] for s in spots), max(s[2] for s in spots)
    assert lowest - 1e-9 <= level <= highest + 1e-9

"""Two methods for one answer: scipy's least squares, shapely's areas, numeric integration."""

from __future__ import annotations

import math
from itertools import combinations

import numpy as np
import pytest
import shapely
from scipy.interpolate import LinearNDInterpolator
from scipy.optimize import least_squares
from shapely.ops import nearest_points

from evenfall.calc.geometry.polygon import (
    area,
    contains,
    corner_angles,
    crossing_sides,
    distances_to_sides,
    is_simple,
    perimeter,
)
from evenfall.calc.geometry.rectangles import smallest_rectangle
from evenfall.calc.geometry.setting_out import offset_sides
from evenfall.calc.geometry.surface import fit_plane, levels_at, surface
from evenfall.calc.geometry.tapes import Adjusted, Tape, adjust

OUTLINES = (
    ((0.0, 0.0), (6.21, 0.0), (6.18, 4.12), (-0.02, 4.09)),
    ((0.0, 0.0), (6.2, 0.0), (6.22, 3.1), (2.9, 3.05), (2.93, 5.6), (-0.03, 5.63)),
    ((0, 0), (6, 0), (6, 2), (4, 2.1), (4, 5), (1.9, 5.1), (2, 2), (0, 2.05)),
)


def _noisy(plan: tuple[tuple[float, float], ...], seed: int) -> tuple[Tape, ...]:
    """Every distance, with errors of 4 mm and standard errors that differ from tape to tape."""
    draw = np.random.default_rng(seed)
    found = []
    for i, j in combinations(range(len(plan)), 2):
        length = math.dist(plan[i], plan[j]) + 0.004 * draw.normal()
        sigma = float(draw.uniform(0.002, 0.006))
        found.append(Tape(f"{i}-{j}", str(i), str(j), round(length, 4), sigma))
    return tuple(found)


def _by_scipy(found: Adjusted, tapes: tuple[Tape, ...]) -> tuple[np.ndarray, float, np.ndarray]:
    """Places with the first corner held and the second on the x axis, cost and their Jacobian."""

    def spread(v: np.ndarray) -> np.ndarray:
        return np.concatenate([[0, 0, v[0], 0], v[1:]]).reshape(-1, 2)

    def misfit(v: np.ndarray) -> np.ndarray:
        xy = spread(v)
        return np.array(
            [(np.hypot(*(xy[int(t.a)] - xy[int(t.b)])) - t.length) / t.sigma for t in tapes]
        )

    start = np.round(np.array(found.polygon).ravel()[[2, *range(4, 2 * len(found.corners))]], 1)
    done = least_squares(misfit, start, xtol=1e-14, ftol=1e-14, gtol=1e-14, jac="3-point")
    return spread(done.x), 2 * done.cost, done.jac


@pytest.mark.parametrize("plan", OUTLINES)
def test_scipy_finds_the_same_plan_and_the_same_squares(
    plan: tuple[tuple[float, float], ...],
) -> None:
    tapes = _noisy(plan, 7)
    found = adjust(tuple(str(i) for i in range(len(plan))), tapes)
    xy, squares, _ = _by_scipy(found, tapes)
    assert np.array(found.polygon) == pytest.approx(xy, abs=1e-7)
    assert found.t == pytest.approx(squares, rel=1e-8)


@pytest.mark.parametrize("plan", OUTLINES)
def test_redundancy_numbers_do_not_depend_on_the_datum(
    plan: tuple[tuple[float, float], ...],
) -> None:
    tapes = _noisy(plan, 8)
    found = adjust(tuple(str(i) for i in range(len(plan))), tapes)
    _, _, jacobian = _by_scipy(found, tapes)
    q, _ = np.linalg.qr(jacobian)
    assert [c.redundancy for c in found.tapes] == pytest.approx(1 - (q**2).sum(axis=1), abs=1e-6)


def test_standard_errors_are_those_of_many_repeated_surveys() -> None:
    plan, draw = OUTLINES[0], np.random.default_rng(3)
    pairs = tuple(combinations(range(4), 2))
    exact = np.array(plan)
    true = [math.dist(plan[i], plan[j]) for i, j in pairs]
    spread = []
    for _ in range(400):
        tapes = tuple(
            Tape(f"{i}-{j}", str(i), str(j), d + 0.003 * draw.normal())
            for (i, j), d in zip(pairs, true, strict=True)
        )
        found = adjust(("0", "1", "2", "3"), tapes)
        spread.append(_laid_over(np.array(found.polygon), exact) - exact)
    measured = np.sqrt((np.array(spread) ** 2).mean(axis=0))
    told = np.array([(c.sigma_x, c.sigma_y) for c in found.corners])
    assert measured == pytest.approx(told, rel=0.12)  # 400 draws: 3.5 % each, three times over


def _laid_over(xy: np.ndarray, onto: np.ndarray) -> np.ndarray:
    """Shift and turn a plan so that it lies best on another (the inner datum)."""
    a, b = xy - xy.mean(axis=0), onto - onto.mean(axis=0)
    angle = math.atan2((a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]).sum(), (a * b).sum())
    c, s = math.cos(angle), math.sin(angle)
    laid: np.ndarray = a @ np.array([[c, s], [-s, c]]) + onto.mean(axis=0)
    return laid


@pytest.mark.parametrize("plan", OUTLINES)
def test_shapely_agrees_on_area_perimeter_and_distances(
    plan: tuple[tuple[float, float], ...],
) -> None:
    shape = shapely.Polygon(plan)
    assert area(plan) == pytest.approx(shape.area)
    assert perimeter(plan) == pytest.approx(shape.length)
    for point in ((0.3, 1.7), (5.5, 4.6), (-1.0, 2.0)):
        assert min(distances_to_sides(plan, point)) == pytest.approx(
            shape.exterior.distance(shapely.Point(point))
        )
        assert contains(plan, point) == shape.contains(shapely.Point(point))


def test_shapely_agrees_on_which_outlines_cross() -> None:
    draw = np.random.default_rng(11)
    seen = set()
    for _ in range(300):
        plan = tuple((int(x), int(y)) for x, y in draw.integers(0, 5, size=(5, 2)))
        if len(set(plan)) < 5:
            continue
        assert is_simple(plan) == shapely.LinearRing(plan).is_simple, plan
        seen.add(is_simple(plan))
    assert seen == {True, False}


def test_shapely_finds_no_smaller_rectangle_than_that_along_a_side() -> None:
    for plan in OUTLINES:
        hull = shapely.Polygon(plan).convex_hull
        around = smallest_rectangle(tuple(hull.exterior.coords[:-1]))
        assert around.area == pytest.approx(hull.minimum_rotated_rectangle.area)


@pytest.mark.parametrize("plan", OUTLINES)
def test_an_even_shift_is_shapelys_mitred_buffer(plan: tuple[tuple[float, float], ...]) -> None:
    for by in (0.15, -0.2):
        found = shapely.Polygon(offset_sides(plan, (by,) * len(plan)))
        buffer = shapely.Polygon(plan).buffer(by, join_style="mitre", mitre_limit=10)
        assert found.symmetric_difference(buffer).area < 1e-9


def test_the_angles_of_an_outline_add_up() -> None:
    for plan in OUTLINES:
        assert sum(corner_angles(plan)) == pytest.approx((len(plan) - 2) * math.pi)
        assert crossing_sides(plan) == ()


def test_the_plane_is_that_of_the_normal_equations() -> None:
    draw = np.random.default_rng(5)
    spots = tuple((float(x), float(y), float(z)) for x, y, z in draw.uniform(0, 6, (9, 3)))
    xyz = np.array(spots)
    design = np.column_stack([np.ones(9), xyz[:, :2]])
    c, a, b = np.linalg.solve(design.T @ design, design.T @ xyz[:, 2])
    plane = fit_plane(spots).plane
    assert (plane.level, plane.rise_x, plane.rise_y) == pytest.approx((c, a, b))


def test_levels_between_spots_are_those_of_scipys_interpolator() -> None:
    draw = np.random.default_rng(6)
    spots = tuple((float(x), float(y), float(z)) for x, y, z in draw.uniform(0, 6, (14, 3)))
    xyz, at = np.array(spots), draw.uniform(0, 6, (200, 2))
    witness = LinearNDInterpolator(xyz[:, :2], xyz[:, 2])(at)
    found = np.array(levels_at(surface(spots), tuple(map(tuple, at.tolist()))))
    inside = ~np.isnan(witness)
    assert inside.sum() > 50
    assert found[inside] == pytest.approx(witness[inside])


def test_levels_beyond_the_rim_are_those_of_shapelys_nearest_point() -> None:
    draw = np.random.default_rng(9)
    spots = tuple((float(x), float(y), float(z)) for x, y, z in draw.uniform(0, 6, (14, 3)))
    bent, hull = surface(spots), shapely.MultiPoint([s[:2] for s in spots]).convex_hull
    outside = [p for p in draw.uniform(-3, 9, (60, 2)) if not hull.contains(shapely.Point(p))]
    rim = [nearest_points(hull.buffer(-1e-9), shapely.Point(p))[0].coords[0] for p in outside]
    found = levels_at(bent, tuple(map(tuple, np.array(outside).tolist())))
    assert found == pytest.approx(levels_at(bent, tuple(rim)), abs=1e-6)

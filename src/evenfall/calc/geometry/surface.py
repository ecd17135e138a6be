"""The surface through spot levels: a plane by least squares, and triangles between the spots."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import Delaunay, QhullError

from evenfall.calc.geometry.polygon import Point
from evenfall.errors import InvalidInput

Spot = tuple[float, float, float]  # x, y, level


@dataclass(frozen=True, slots=True)
class Plane:
    """A plane: its level at the origin and how much it rises per metre in x and in y."""

    level: float
    rise_x: float
    rise_y: float

    @property
    def fall(self) -> float:
        """Steepest fall, as metres down per metre along."""
        return math.hypot(self.rise_x, self.rise_y)

    @property
    def downhill(self) -> Point:
        """Direction in which the water runs, a unit vector; (0, 0) where level."""
        size = self.fall
        return (-self.rise_x / size, -self.rise_y / size) if size else (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class PlaneFit:
    """A plane through spot levels; ``residuals`` are spot minus plane in m (a dish is negative)."""

    plane: Plane
    residuals: tuple[float, ...]

    @property
    def worst(self) -> float:
        """Largest distance of a spot from the plane in m."""
        return max(map(abs, self.residuals))


@dataclass(frozen=True, slots=True)
class Surface:
    """Spots, and the triangles between them by their indices."""

    spots: tuple[Spot, ...]
    triangles: tuple[tuple[int, int, int], ...]


def fit_plane(spots: tuple[Spot, ...]) -> PlaneFit:
    """Lay a plane through spot levels by least squares of the levels.

    Parameters
    ----------
    spots : tuple of (x, y, level)
        Three or more spots, not all in one line [m].

    Returns
    -------
    PlaneFit
        The plane and how far each spot is above it [m].

    Examples
    --------
    >>> fit = fit_plane(((0, 0, 0.10), (6, 0, 0.10), (6, 4, 0.02), (0, 4, 0.02), (3, 2, 0.05)))
    >>> fit.plane.fall, fit.plane.downhill, fit.worst
    (0.02, (0.0, 1.0), 0.008)
    """
    xyz = _spots(spots)
    middle = xyz.mean(axis=0)
    moved = xyz - middle
    _refuse_line(moved[:, :2])
    (a, b), *_ = np.linalg.lstsq(moved[:, :2], moved[:, 2])
    level = float(middle[2] - a * middle[0] - b * middle[1])
    residuals = moved[:, 2] - moved[:, :2] @ (a, b)
    return PlaneFit(Plane(level, float(a), float(b)), tuple(map(float, residuals)))


def plane_level(plane: Plane, point: Point) -> float:
    """Return the level of a plane at a point.

    Parameters
    ----------
    plane : Plane
        The plane [m].
    point : (x, y)
        The point [m].

    Returns
    -------
    float
        Level [m].

    Examples
    --------
    >>> plane_level(Plane(0.10, 0.0, -0.02), (3.0, 4.0))
    0.02
    """
    return plane.level + plane.rise_x * point[0] + plane.rise_y * point[1]


def fall_towards(plane: Plane, direction: Point) -> float:
    """Return the fall of a plane in a direction; negative is a rise.

    Parameters
    ----------
    plane : Plane
        The plane [m].
    direction : (x, y)
        Direction, of any length but 0 [-].

    Returns
    -------
    float
        Metres down per metre along [-].

    Examples
    --------
    >>> fall_towards(Plane(0.10, 0.0, -0.02), (3.0, 4.0))
    0.016
    """
    size = math.hypot(*direction)
    if not size:
        raise InvalidInput("a direction of no length", "a direction", where="direction")
    return -(plane.rise_x * direction[0] + plane.rise_y * direction[1]) / size


def one_in(fall: float) -> float:
    """Say a fall as 1 in so many; infinite where level, negative for a back-fall.

    Parameters
    ----------
    fall : float
        Metres down per metre along [-].

    Returns
    -------
    float
        n of 1:n [-].

    Examples
    --------
    >>> one_in(0.0125), one_in(0.0)
    (80.0, inf)
    """
    return 1 / fall if fall else math.inf


def falls_back(plane: Plane, drain: Point, least: float = 0.0) -> bool:
    """Tell whether a plane does not fall towards its drained edge.

    Parameters
    ----------
    plane : Plane
        The plane [m].
    drain : (x, y)
        Direction towards the gutter or outlet [-].
    least : float
        Fall that is needed at least, 0 for any fall at all [-].

    Returns
    -------
    bool
        True for a back-fall, and for a level surface [-].

    Examples
    --------
    >>> falls_back(Plane(0.10, 0.0, -0.02), (0, 1)), falls_back(Plane(0.10, 0.0, 0.0), (0, 1))
    (False, True)
    """
    fall = fall_towards(plane, drain)
    return fall <= 0 or fall < least


def surface(spots: tuple[Spot, ...]) -> Surface:
    """Join spot levels by triangles (Delaunay's, in which no triangle is thinner than it must be).

    Parameters
    ----------
    spots : tuple of (x, y, level)
        Three or more spots, no two in one place, not all in one line [m].

    Returns
    -------
    Surface
        Spots and triangles [m].

    Examples
    --------
    >>> len(surface(((0, 0, 0.1), (6, 0, 0.1), (6, 4, 0.0), (0, 4, 0.0), (2, 3, 0.05))).triangles)
    4
    """
    xyz = _spots(spots)
    if len(np.unique(xyz[:, :2], axis=0)) < len(xyz):
        raise InvalidInput("two spot levels in one place", "one level per place", where="spots")
    _refuse_line(xyz[:, :2] - xyz[:, :2].mean(axis=0))
    try:
        found = Delaunay(xyz[:, :2]).simplices
    except QhullError as error:  # what the check of a line lets through by a hair
        raise InvalidInput("spots that give no area", "spots apart", where="spots") from error
    triangles = sorted(tuple(sorted(map(int, t))) for t in found)
    return Surface(tuple(spots), tuple((a, b, c) for a, b, c in triangles))


def levels_at(surface: Surface, points: tuple[Point, ...]) -> tuple[float, ...]:
    """Return the level of a surface at points; beyond its rim, the level of the nearest rim.

    Parameters
    ----------
    surface : Surface
        Spots and triangles [m].
    points : tuple of (x, y)
        Any points [m].

    Returns
    -------
    tuple of float
        Levels [m].

    Examples
    --------
    >>> bent = surface(((0, 0, 0.1), (6, 0, 0.1), (6, 4, 0.0), (0, 4, 0.0)))
    >>> levels_at(bent, ((3.0, 1.0), (3.0, 9.0)))
    (0.075, 0.0)
    """
    if not points:
        return ()
    xyz, corner = np.array(surface.spots, float), np.array(surface.triangles)
    at = np.array(points, float)
    shares = _shares(xyz[corner, :2], at)  # point, triangle, corner
    depth = shares.min(axis=2)
    best = depth.argmax(axis=1)
    rows = np.arange(len(at))
    levels = (shares[rows, best] * xyz[corner[best], 2]).sum(axis=1)
    outside = depth[rows, best] < 0
    if outside.any():
        levels[outside] = _rim_levels(xyz, corner, at[outside])
    return tuple(map(float, levels))


def _shares(triangles: NDArray[np.float64], at: NDArray[np.float64]) -> NDArray[np.float64]:
    """Weights of the three corners of each triangle at each point; all positive inside."""
    a, b, c = triangles[:, 0], triangles[:, 1], triangles[:, 2]
    double = _cross(b - a, c - a)
    to = at[:, None]
    second, third = _cross(to - a, c - a) / double, _cross(b - a, to - a) / double
    return np.stack([1 - second - third, second, third], axis=2)


def _cross(p: NDArray[np.float64], q: NDArray[np.float64]) -> NDArray[np.float64]:
    return p[..., 0] * q[..., 1] - p[..., 1] * q[..., 0]


def _rim_levels(
    xyz: NDArray[np.float64], corner: NDArray[np.int64], at: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Level at the nearest place of the rim (edges that belong to one triangle only)."""
    edges = np.sort(np.concatenate([corner[:, [0, 1]], corner[:, [1, 2]], corner[:, [0, 2]]]))
    edges, times = np.unique(edges, axis=0, return_counts=True)
    p, q = xyz[edges[times == 1, 0]], xyz[edges[times == 1, 1]]
    way = (q - p)[:, :2]
    t = ((at[:, None] - p[:, :2]) * way).sum(axis=2) / (way**2).sum(axis=1)
    foot = p + np.clip(t, 0, 1)[..., None] * (q - p)
    near = np.hypot(*(foot[..., :2] - at[:, None]).transpose(2, 0, 1)).argmin(axis=1)
    levels: NDArray[np.float64] = foot[np.arange(len(at)), near, 2]
    return levels


def _spots(spots: tuple[Spot, ...]) -> NDArray[np.float64]:
    if len(spots) < 3:
        raise InvalidInput(f"{len(spots)} spot levels", "3 or more", where="spots")
    xyz = np.array(spots, float)
    if not np.isfinite(xyz).all():
        raise InvalidInput("a spot that is no number", "numbers", where="spots")
    return xyz


def _refuse_line(xy: NDArray[np.float64]) -> None:
    """Refuse spots (measured from their middle) that are all in one line."""
    along, across = np.linalg.svd(xy, compute_uv=False)
    if across <= along * 1e-6:
        raise InvalidInput("spot levels in one line", "spots apart in x and y", where="spots")

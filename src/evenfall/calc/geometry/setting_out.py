"""Setting out from the sides of a roof: a point, a rectangle, the outline with shifted sides."""

from __future__ import annotations

import math

from evenfall.calc.geometry.polygon import Point, Polygon, checked, crossing_sides, sides
from evenfall.errors import InvalidInput

STRAIGHT = 0.1  # sine of the turn below which a corner is taken for nearly straight


def side_directions(polygon: Polygon) -> tuple[Point, ...]:
    """Return the direction of each side.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners in order [m].

    Returns
    -------
    tuple of (x, y)
        Unit vectors from the first corner of the side to the next [-].

    Examples
    --------
    >>> side_directions(((0, 0), (3, 4), (0, 8)))[0]
    (0.6, 0.8)
    """
    found = []
    for p, q in sides(checked(polygon)):
        size = math.dist(p, q)
        found.append(((q[0] - p[0]) / size, (q[1] - p[1]) / size))
    return tuple(found)


def point_from_side(polygon: Polygon, side: int, along: float, inwards: float) -> Point:
    """Locate a point as a roofer measures it: along a side, then square in from it.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners in order, anticlockwise [m].
    side : int
        Index of the side, 0 for the first [-].
    along : float
        Distance along the side from its first corner [m].
    inwards : float
        Distance square to the side, positive into the roof [m].

    Returns
    -------
    (x, y)
        The point [m].

    Examples
    --------
    >>> point_from_side(((0, 0), (6, 0), (6, 4), (0, 4)), 1, 1.0, 0.5)
    (5.5, 1.0)
    """
    if not 0 <= side < len(polygon):
        raise InvalidInput(f"side {side}", f"0 to {len(polygon) - 1}", where="side")
    (x, y), (u, v) = polygon[side], side_directions(polygon)[side]
    return (x + along * u - inwards * v, y + along * v + inwards * u)


def rectangle_from_side(
    polygon: Polygon, side: int, along: float, inwards: float, length: float, depth: float
) -> Polygon:
    """Locate a rectangle by its nearest corner, measured along a side and square in from it.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners in order, anticlockwise [m].
    side : int
        Index of the side, 0 for the first [-].
    along, inwards : float
        Where the corner of the rectangle is that is nearest to the side's first corner [m].
    length, depth : float
        Size along the side and square to it, above 0 [m].

    Returns
    -------
    tuple of (x, y)
        Its four corners, anticlockwise, the nearest first [m].

    Examples
    --------
    >>> rectangle_from_side(((0, 0), (6, 0), (6, 4), (0, 4)), 0, 2.0, 1.0, 1.6, 1.1)
    ((2.0, 1.0), (3.6, 1.0), (3.6, 2.1), (2.0, 2.1))
    """
    if length <= 0 or depth <= 0:
        raise InvalidInput(f"a rectangle of {length} × {depth} m", "both above 0", where="size")
    ends = ((0.0, 0.0), (length, 0.0), (length, depth), (0.0, depth))
    return tuple(point_from_side(polygon, side, along + a, inwards + b) for a, b in ends)


def measured_from_side(polygon: Polygon, side: int, point: Point) -> tuple[float, float]:
    """Measure a point from a side: along it, and square in from its line.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners in order, anticlockwise [m].
    side : int
        Index of the side, 0 for the first [-].
    point : (x, y)
        The point [m].

    Returns
    -------
    (along, inwards)
        What `point_from_side` takes [m].

    Examples
    --------
    >>> measured_from_side(((0, 0), (6, 0), (6, 4), (0, 4)), 1, (5.5, 1.0))
    (1.0, 0.5)
    """
    if not 0 <= side < len(polygon):
        raise InvalidInput(f"side {side}", f"0 to {len(polygon) - 1}", where="side")
    (x, y), (u, v) = polygon[side], side_directions(polygon)[side]
    dx, dy = point[0] - x, point[1] - y
    return (dx * u + dy * v, dy * u - dx * v)


def offset_sides(polygon: Polygon, distances: tuple[float, ...]) -> Polygon:
    """Shift each side square to itself and join neighbours where their lines meet.

    A nearly straight corner whose two sides are shifted differently gets a square step: two
    corners instead of one. Otherwise the number of corners stays.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners in order, anticlockwise, not crossing itself [m].
    distances : tuple of float
        Shift of each side, outwards positive [m].

    Returns
    -------
    tuple of (x, y)
        The new outline; `InvalidInput` if a side vanishes or sides meet [m].

    Examples
    --------
    >>> offset_sides(((0, 0), (6, 0), (6, 4), (0, 4)), (0.0, 0.1, 0.2, 0.3))
    ((-0.3, 0.0), (6.1, 0.0), (6.1, 4.2), (-0.3, 4.2))
    """
    if len(distances) != len(polygon):
        raise InvalidInput(f"{len(distances)} distances", f"{len(polygon)}", where="distances")
    ways = side_directions(polygon)
    joints = tuple(
        _joint(polygon[i], ways[i - 1], ways[i], distances[i - 1], distances[i])
        for i in range(len(polygon))
    )
    _refuse_collapse(joints, ways)
    return tuple(point for joint in joints for point in joint)


def _joint(at: Point, before: Point, after: Point, d: float, e: float) -> tuple[Point, ...]:
    """Meet the side before, shifted by d, and the side after, shifted by e."""
    cross = before[0] * after[1] - before[1] * after[0]
    ahead = before[0] * after[0] + before[1] * after[1]
    if abs(cross) < STRAIGHT and ahead > 0 and d != e:
        return (_shifted(at, before, d), _shifted(at, after, e))
    if d == e and ahead > -1 + STRAIGHT**2:
        share = d / (1 + ahead)
        return ((at[0] + share * (before[1] + after[1]), at[1] - share * (before[0] + after[0])),)
    if not cross:
        raise InvalidInput("a side that folds back on the last", "a corner", where="polygon")
    # the point at + (e·before - d·after) / cross is on both shifted lines
    x = at[0] + (e * before[0] - d * after[0]) / cross
    y = at[1] + (e * before[1] - d * after[1]) / cross
    return ((x, y),)


def _shifted(at: Point, way: Point, distance: float) -> Point:
    return (at[0] + distance * way[1], at[1] - distance * way[0])


def _refuse_collapse(joints: tuple[tuple[Point, ...], ...], ways: tuple[Point, ...]) -> None:
    """Refuse an outline in which a side has turned round or meets another."""
    for i, (u, v) in enumerate(ways):
        p, q = joints[i][-1], joints[(i + 1) % len(ways)][0]
        if (q[0] - p[0]) * u + (q[1] - p[1]) * v <= 0:
            raise InvalidInput(f"side {i + 1} vanishes", "a smaller shift", where="distances")
    outline = tuple(point for joint in joints for point in joint)
    if crossing_sides(outline):
        raise InvalidInput("shifted sides that meet", "a smaller shift", where="distances")

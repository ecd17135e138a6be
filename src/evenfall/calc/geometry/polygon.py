"""Plan polygons as tuples of points: area, sides, corners, crossings, distances.

Corners go round anticlockwise; side ``i`` runs from corner ``i`` to the next. Rectangles
around are in `rectangles`, setting out and shifted sides in `setting_out`, cutting in `clipping`.
"""

from __future__ import annotations

import math

from evenfall.errors import InvalidInput

Point = tuple[float, float]
Polygon = tuple[Point, ...]


def checked(polygon: Polygon) -> Polygon:
    """Refuse what is no polygon: too few corners, a corner twice in a row, a number missing.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners in order [m].

    Returns
    -------
    tuple of (x, y)
        The same [m].

    Examples
    --------
    >>> checked(((0, 0), (1, 0)))
    Traceback (most recent call last):
    evenfall.errors.InvalidInput: polygon: 2 corners, expected 3 or more
    """
    if len(polygon) < 3:
        raise InvalidInput(f"{len(polygon)} corners", "3 or more", where="polygon")
    if not all(math.isfinite(v) for p in polygon for v in p):
        raise InvalidInput("a coordinate that is no number", "numbers", where="polygon")
    for i, (p, q) in enumerate(sides(polygon)):
        if p == q:
            raise InvalidInput(f"side {i + 1} has no length", "corners apart", where="polygon")
    return polygon


def sides(polygon: Polygon) -> tuple[tuple[Point, Point], ...]:
    """Return the sides, each from its first corner to the next.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners in order [m].

    Returns
    -------
    tuple of (point, point)
        Sides [m].

    Examples
    --------
    >>> sides(((0, 0), (4, 0), (0, 3)))[2]
    ((0, 3), (0, 0))
    """
    return tuple(zip(polygon, polygon[1:] + polygon[:1], strict=True))


def side_names(names: tuple[str, ...]) -> tuple[str, ...]:
    """Name the sides after their corners.

    Parameters
    ----------
    names : tuple of str
        Names of the corners in order [-].

    Returns
    -------
    tuple of str
        Such as ``A-B`` [-].

    Examples
    --------
    >>> side_names(("A", "B", "C"))
    ('A-B', 'B-C', 'C-A')
    """
    return tuple(f"{a}-{b}" for a, b in zip(names, names[1:] + names[:1], strict=True))


def side_lengths(polygon: Polygon) -> tuple[float, ...]:
    """Return the length of each side.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners in order [m].

    Returns
    -------
    tuple of float
        Lengths in the order of the sides [m].

    Examples
    --------
    >>> side_lengths(((0, 0), (4, 0), (0, 3)))
    (4.0, 5.0, 3.0)
    """
    return tuple(math.dist(p, q) for p, q in sides(polygon))


def perimeter(polygon: Polygon) -> float:
    """Return the length all round.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners in order [m].

    Returns
    -------
    float
        Sum of the sides [m].

    Examples
    --------
    >>> perimeter(((0, 0), (4, 0), (0, 3)))
    12.0
    """
    return math.fsum(side_lengths(polygon))


def signed_area(polygon: Polygon) -> float:
    """Return the area, positive if the corners go anticlockwise.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners in order [m].

    Returns
    -------
    float
        Area with its sign [m2].

    Examples
    --------
    >>> signed_area(((0, 0), (0, 3), (4, 0)))
    -6.0
    """
    (x0, y0), *_ = polygon
    return 0.5 * math.fsum(
        (a - x0) * (d - y0) - (c - x0) * (b - y0) for (a, b), (c, d) in sides(polygon)
    )


def area(polygon: Polygon) -> float:
    """Return the gross area.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners in order, of a polygon that does not cross itself [m].

    Returns
    -------
    float
        Area [m2].

    Examples
    --------
    >>> area(((0, 0), (6.2, 0), (6.2, 4.1), (0, 4.1)))
    25.42
    """
    return abs(signed_area(polygon))


def turn(p: Point, q: Point, r: Point) -> float:
    """Return twice the area of a triangle, positive if it goes round anticlockwise.

    Parameters
    ----------
    p, q, r : (x, y)
        Corners of the triangle [m].

    Returns
    -------
    float
        The cross product of ``q - p`` and ``r - p`` [m2].

    Examples
    --------
    >>> turn((0, 0), (4, 0), (0, 3))
    12
    """
    return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])


def segments_meet(p: Point, q: Point, r: Point, s: Point) -> bool:
    """Tell whether two straight pieces have a point in common.

    Parameters
    ----------
    p, q, r, s : (x, y)
        Ends of the first and of the second piece [m].

    Returns
    -------
    bool
        True also where one only touches the other [-].

    Examples
    --------
    >>> segments_meet((0, 0), (2, 2), (0, 2), (2, 0)), segments_meet((0, 0), (1, 0), (2, 0), (3, 0))
    (True, False)
    """
    a, b = turn(p, q, r), turn(p, q, s)
    c, d = turn(r, s, p), turn(r, s, q)
    if (a > 0) != (b > 0) and (c > 0) != (d > 0) and a and b and c and d:
        return True
    ends = ((a, p, q, r), (b, p, q, s), (c, r, s, p), (d, r, s, q))
    return any(cross == 0 and _between(u, v, w) for cross, u, v, w in ends)


def _between(u: Point, v: Point, w: Point) -> bool:
    """Tell whether w, known to be on the line of u and v, is between them."""
    return all(min(a, b) <= c <= max(a, b) for a, b, c in zip(u, v, w, strict=True))


def crossing_sides(polygon: Polygon) -> tuple[tuple[int, int], ...]:
    """Find the pairs of sides that cross, touch or fold back on each other.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners in order [m].

    Returns
    -------
    tuple of (int, int)
        Indices of the sides, the lower first [-].

    Examples
    --------
    >>> crossing_sides(((0, 0), (4, 3), (4, 0), (0, 3)))
    ((0, 2),)
    """
    edges, n = sides(polygon), len(polygon)
    found = []
    for i in range(n):
        for j in range(i + 1, n):
            if j == i + 1 or (i == 0 and j == n - 1):
                first, second = (i, j) if j == i + 1 else (j, i)
                bad = _folds_back(edges[first], edges[second])
            else:
                bad = segments_meet(*edges[i], *edges[j])
            if bad:
                found.append((i, j))
    return tuple(found)


def _folds_back(one: tuple[Point, Point], next_: tuple[Point, Point]) -> bool:
    """Tell whether a side runs back over the one before it."""
    (p, q), (_, r) = one, next_
    ahead = (q[0] - p[0]) * (r[0] - q[0]) + (q[1] - p[1]) * (r[1] - q[1])
    return turn(p, q, r) == 0 and ahead <= 0


def is_simple(polygon: Polygon) -> bool:
    """Tell whether no side meets another but at their common corner.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners in order [m].

    Returns
    -------
    bool
        True for a proper outline [-].

    Examples
    --------
    >>> is_simple(((0, 0), (4, 0), (4, 3), (0, 3))), is_simple(((0, 0), (4, 3), (4, 0), (0, 3)))
    (True, False)
    """
    return len(polygon) >= 3 and not crossing_sides(polygon)


def corner_angles(polygon: Polygon) -> tuple[float, ...]:
    """Return the angle inside each corner of an anticlockwise polygon.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners in order, anticlockwise [m].

    Returns
    -------
    tuple of float
        Angles from 0 to 2 pi; pi is straight on [rad].

    Examples
    --------
    >>> [round(math.degrees(a)) for a in corner_angles(((0, 0), (4, 0), (4, 4), (0, 4)))]
    [90, 90, 90, 90]
    """
    n = len(polygon)
    return tuple(
        _angle(polygon[i - 1], polygon[i], polygon[(i + 1) % n]) % math.tau for i in range(n)
    )


def _angle(before: Point, at: Point, after: Point) -> float:
    """Turn from the side ahead to the side behind."""
    ahead = (after[0] - at[0], after[1] - at[1])
    behind = (before[0] - at[0], before[1] - at[1])
    cross = ahead[0] * behind[1] - ahead[1] * behind[0]
    return math.atan2(cross, ahead[0] * behind[0] + ahead[1] * behind[1])


def reflex_corners(polygon: Polygon) -> tuple[int, ...]:
    """Find the corners that point into the roof.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners in order, anticlockwise [m].

    Returns
    -------
    tuple of int
        Indices of the corners with more than a straight angle inside [-].

    Examples
    --------
    >>> reflex_corners(((0, 0), (6, 0), (6, 3), (2, 3), (2, 5), (0, 5)))
    (3,)
    """
    n = len(polygon)
    return tuple(i for i in range(n) if turn(polygon[i - 1], polygon[i], polygon[(i + 1) % n]) < 0)


def distances_to_sides(polygon: Polygon, point: Point) -> tuple[float, ...]:
    """Return the shortest distance from a point to each side.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners in order [m].
    point : (x, y)
        The point, inside or outside [m].

    Returns
    -------
    tuple of float
        Distances, each to the side itself and not to its line [m].

    Examples
    --------
    >>> distances_to_sides(((0, 0), (6, 0), (6, 4), (0, 4)), (1, 3))
    (3.0, 5.0, 1.0, 1.0)
    """
    return tuple(_to_segment(p, q, point) for p, q in sides(polygon))


def _to_segment(p: Point, q: Point, point: Point) -> float:
    dx, dy = q[0] - p[0], q[1] - p[1]
    share = ((point[0] - p[0]) * dx + (point[1] - p[1]) * dy) / (dx * dx + dy * dy)
    t = min(1.0, max(0.0, share))
    return math.dist(point, (p[0] + t * dx, p[1] + t * dy))


def contains(polygon: Polygon, point: Point) -> bool:
    """Tell whether a point is inside a polygon.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners in order [m].
    point : (x, y)
        The point [m].

    Returns
    -------
    bool
        True inside; on the outline itself either way [-].

    Examples
    --------
    >>> contains(((0, 0), (6, 0), (6, 4), (0, 4)), (1, 3))
    True
    """
    x, y = point
    inside = False
    for (a, b), (c, d) in sides(polygon):
        if (b > y) != (d > y) and x < a + (y - b) * (c - a) / (d - b):
            inside = not inside
    return inside

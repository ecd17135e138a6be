"""Cutting plan polygons: by a line, by a rectangle, and the area that is left beside openings."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache

import shapely
from shapely.geometry import Polygon as Shape
from shapely.geometry.base import BaseGeometry

from evenfall.calc.geometry.polygon import Point, Polygon, checked, is_simple
from evenfall.calc.geometry.rectangles import bounding_rectangle
from evenfall.errors import InvalidInput

KEPT = 1024
"""Shapes kept: the same outlines are cut again and again, and to check one costs most."""
SLIVER = 1e-9  # m2; less is the rounding of a touch, not a piece
GRID = 1e-9  # m; on no grid GEOS sometimes loses a cut along an edge that it has made itself


def pieces(shape: BaseGeometry) -> tuple[Polygon, ...]:
    """Keep what has an area; drop points and lines where shapes only touch.

    Parameters
    ----------
    shape : shapely geometry
        A result of cutting [m].

    Returns
    -------
    tuple of polygon
        Outer outlines, anticlockwise, ordered from the lowest corner in x, then y [m].

    Examples
    --------
    >>> pieces(shapely.from_wkt("GEOMETRYCOLLECTION (POINT (1 1), LINESTRING (0 0, 1 0))"))
    ()
    """
    return tuple(sorted(_outline(part) for part in _parts(shape)))


def _parts(shape: BaseGeometry) -> Iterator[Shape]:
    if isinstance(shape, Shape):
        if shape.area > SLIVER:
            yield shape
        return
    for part in getattr(shape, "geoms", ()):
        yield from _parts(part)


def _outline(part: Shape) -> Polygon:
    """Return corners from the lowest in x and y, anticlockwise."""
    ring = shapely.geometry.polygon.orient(part).exterior.coords[:-1]
    points = tuple((float(x), float(y)) for x, y in ring)
    first = points.index(min(points))
    return points[first:] + points[:first]


@lru_cache(maxsize=KEPT)
def _shape(polygon: Polygon) -> Shape:
    """Check an outline and make a shape of it, once for all the cuts through it."""
    if not is_simple(checked(polygon)):
        raise InvalidInput("sides that cross", "a simple outline", where="polygon")
    return Shape(polygon)


def clip_half_plane(polygon: Polygon, point: Point, direction: Point) -> tuple[Polygon, ...]:
    """Keep the part of a polygon to the left of a line.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners in order, not crossing itself [m].
    point : (x, y)
        A point of the line [m].
    direction : (x, y)
        Direction of the line, of any length but 0 [-].

    Returns
    -------
    tuple of polygon
        The pieces, none if all is to the right [m].

    Examples
    --------
    >>> clip_half_plane(((0, 0), (6, 0), (6, 4), (0, 4)), (2.5, 0), (0, 1))
    (((0.0, 0.0), (2.5, 0.0), (2.5, 4.0), (0.0, 4.0)),)
    """
    around = bounding_rectangle((*polygon, point), direction)
    u, v = around.direction
    reach = 2 * math.hypot(around.along, around.across)
    ends = ((-reach, 0.0), (reach, 0.0), (reach, reach), (-reach, reach))
    half = Shape([(point[0] + a * u - b * v, point[1] + a * v + b * u) for a, b in ends])
    return pieces(shapely.intersection(_shape(polygon), half, grid_size=GRID))


def clip_rectangle(
    polygon: Polygon, x_min: float, y_min: float, x_max: float, y_max: float
) -> tuple[Polygon, ...]:
    """Keep the part of a polygon within an upright rectangle.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners in order, not crossing itself [m].
    x_min, y_min, x_max, y_max : float
        The rectangle [m].

    Returns
    -------
    tuple of polygon
        The pieces, none if the two only touch [m].

    Examples
    --------
    >>> len(clip_rectangle(((0, 0), (6, 0), (6, 4), (4, 4), (4, 1), (2, 1), (2, 4), (0, 4)),
    ...                    0, 2, 6, 3))
    2
    """
    if not (x_min < x_max and y_min < y_max):
        raise InvalidInput("a rectangle without area", "min below max", where="rectangle")
    box = shapely.box(x_min, y_min, x_max, y_max)
    return pieces(shapely.intersection(_shape(polygon), box, grid_size=GRID))


def clip_polygon(polygon: Polygon, other: Polygon) -> tuple[Polygon, ...]:
    """Keep the part of a polygon within another.

    Parameters
    ----------
    polygon, other : tuple of (x, y)
        Corners in order, not crossing themselves [m].

    Returns
    -------
    tuple of polygon
        The pieces, none if the two only touch [m].

    Examples
    --------
    >>> clip_polygon(((0, 0), (6, 0), (6, 4), (0, 4)), ((6, 0), (8, 0), (8, 4), (6, 4)))
    ()
    """
    return pieces(shapely.intersection(_shape(polygon), _shape(other), grid_size=GRID))


def cut_out(polygon: Polygon, others: tuple[Polygon, ...]) -> tuple[Polygon, ...]:
    """Keep the part of a polygon outside others that reach to its edge.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners in order, not crossing itself [m].
    others : tuple of polygon
        What is cut out; one that lies wholly inside leaves no hole, so it must touch the edge [m].

    Returns
    -------
    tuple of polygon
        The pieces, none if nothing is left [m].

    Examples
    --------
    >>> cut_out(((0, 0), (6, 0), (6, 4), (0, 4)), (((0, 0), (2, 0), (2, 4), (0, 4)),))
    (((2.0, 0.0), (6.0, 0.0), (6.0, 4.0), (2.0, 4.0)),)
    """
    away = shapely.union_all([_shape(o) for o in others], grid_size=GRID)
    return pieces(shapely.difference(_shape(polygon), away, grid_size=GRID))


def net_area(polygon: Polygon, openings: tuple[Polygon, ...]) -> float:
    """Return the area without openings; where two overlap, or one reaches outside, once.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners of the roof in order, not crossing itself [m].
    openings : tuple of polygon
        Outlines of the openings [m].

    Returns
    -------
    float
        Net area [m2].

    Examples
    --------
    >>> rooflight = ((2, 1), (3.6, 1), (3.6, 2.1), (2, 2.1))
    >>> net_area(((0, 0), (6.2, 0), (6.2, 4.1), (0, 4.1)), (rooflight,))
    23.66
    """
    holes = shapely.union_all([_shape(o) for o in openings])
    return float(shapely.difference(_shape(polygon), holes, grid_size=GRID).area)

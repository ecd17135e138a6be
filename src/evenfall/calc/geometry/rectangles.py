"""Rectangles around a plan polygon, upright or along a side: what a sheet must cover."""

from __future__ import annotations

import math
from dataclasses import dataclass

from evenfall.calc.geometry.polygon import Point, Polygon, checked, sides
from evenfall.errors import InvalidInput


@dataclass(frozen=True, slots=True)
class Rectangle:
    """A rectangle around a polygon: its four corners anticlockwise, the first at its own origin.

    ``along`` is its extent in ``direction`` (a unit vector), ``across`` square to it, both in m.
    """

    corners: Polygon
    direction: Point
    along: float
    across: float

    @property
    def area(self) -> float:
        """Area in m²."""
        return self.along * self.across


def bounding_rectangle(polygon: Polygon, direction: Point = (1.0, 0.0)) -> Rectangle:
    """Return the smallest rectangle around a polygon with one side in a direction.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners in order [m].
    direction : (x, y)
        Direction of the rectangle, of any length but 0; the x axis if left out [-].

    Returns
    -------
    Rectangle
        Corners, direction and both extents [m].

    Examples
    --------
    >>> r = bounding_rectangle(((0, 0), (5.98, 0.02), (6.03, 4.08), (-0.04, 4.12)))
    >>> r.along, r.across
    (6.07, 4.12)
    """
    size = math.hypot(*direction)
    if not size:
        raise InvalidInput("a direction of no length", "a direction", where="direction")
    u, v = direction[0] / size, direction[1] / size
    along = [x * u + y * v for x, y in polygon]
    across = [y * u - x * v for x, y in polygon]
    low, high, left, right = min(along), max(along), min(across), max(across)
    ring = ((low, left), (high, left), (high, right), (low, right))
    corners = tuple((a * u - c * v, a * v + c * u) for a, c in ring)
    return Rectangle(corners, (u, v), high - low, right - left)


def smallest_rectangle(polygon: Polygon) -> Rectangle:
    """Return the rectangle of least area around a polygon along one of its sides.

    Parameters
    ----------
    polygon : tuple of (x, y)
        Corners in order [m].

    Returns
    -------
    Rectangle
        Corners, direction and both extents; the first side of several equally good ones [m].

    Examples
    --------
    >>> smallest_rectangle(((0, 0), (3, 4), (-1, 7), (-4, 3))).area
    25.0
    """
    around = [
        bounding_rectangle(polygon, (q[0] - p[0], q[1] - p[1])) for p, q in sides(checked(polygon))
    ]
    return min(around, key=lambda r: r.area)

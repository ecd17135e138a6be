"""Falls as sums: how steep, how thick a firring must be, and lines across a plan."""

from __future__ import annotations

from math import hypot

from evenfall.calc.geometry.polygon import Point, Polygon, sides
from evenfall.working import formula


@formula("s", "mm/m", "geometry")
def steepest_fall(rise_x: float, rise_y: float) -> float:
    """Steepest fall of a plane.

    Parameters
    ----------
    rise_x, rise_y : float
        How much the plane rises along x and along y [mm/m].

    Returns
    -------
    float
        Fall along the way that water takes [mm/m].

    Examples
    --------
    >>> steepest_fall(3.0, -4.0)
    5.0
    """
    return hypot(rise_x, rise_y)


@formula("s_fin", "mm/m", "geometry")
def finished_fall(s_old: float, s_added: float) -> float:
    """Fall of the finished roof towards its low side.

    Parameters
    ----------
    s_old : float
        Fall of the old surface towards the low side [mm/m].
    s_added : float
        Fall that firrings or tapered boards add [mm/m].

    Returns
    -------
    float
        Finished fall [mm/m].

    Examples
    --------
    >>> finished_fall(8.0, 17.0)
    25.0
    """
    return s_old + s_added


def crossings(ring: Polygon, direction: Point, offset: float) -> tuple[tuple[float, float], ...]:
    """Find where a straight line lies inside a plan.

    Parameters
    ----------
    ring : tuple of (x, y)
        Corners in order [m].
    direction : (x, y)
        Unit vector of the line [-].
    offset : float
        Distance of the line from the origin, square to the left of the direction [m].

    Returns
    -------
    tuple of (from, to)
        Stretches along the direction, in order [m].

    Examples
    --------
    >>> crossings(((0, 0), (6, 0), (6, 3), (2, 3), (2, 5), (0, 5)), (1.0, 0.0), 4.0)
    ((0.0, 2.0),)
    """
    u, v = direction
    turned = [(x * u + y * v, y * u - x * v - offset) for x, y in ring]
    cuts = [
        p[0] + (q[0] - p[0]) * p[1] / (p[1] - q[1])
        for p, q in sides(tuple(turned))
        if (p[1] > 0) != (q[1] > 0)
    ]
    cuts.sort()
    return tuple(zip(cuts[::2], cuts[1::2], strict=True))


def reach(ring: Polygon, direction: Point) -> tuple[float, float]:
    """Find how far a plan goes in a direction.

    Parameters
    ----------
    ring : tuple of (x, y)
        Corners in order [m].
    direction : (x, y)
        Unit vector [-].

    Returns
    -------
    (least, most)
        Along the direction from the origin [m].

    Examples
    --------
    >>> reach(((0, 0), (6, 0), (6, 4)), (0.0, 1.0))
    (0.0, 4.0)
    """
    along = [x * direction[0] + y * direction[1] for x, y in ring]
    return (min(along), max(along))

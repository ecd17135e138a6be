"""Boards cut to falls: zones that fall to a side or an outlet, and crickets behind kerbs.

To an outlet the boards fall from four sides, like a square funnel, with a valley along each mitre;
between two outlets lies a ridge. A cricket is a small ridge on the upper side of a kerb that parts
the water; its valleys run to the corners of the kerb.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations, product
from math import dist, hypot

from evenfall.calc.geometry.polygon import Point, Polygon, area, turn
from evenfall.calc.geometry.relief import SPECK, Line, Net
from evenfall.calc.geometry.surface import Plane, plane_level
from evenfall.errors import InvalidInput

SQUARE = 0.94  # cosine of some 20 degrees: a kerb that stands square to the fall
PARALLEL = 1e-9  # falls that differ by less do not cross on a roof


@dataclass(frozen=True, slots=True)
class Cricket:
    """A ridge behind a kerb: its foot from corner to corner, and where its ridge begins and ends.

    ``fall`` is the fall of both its sides towards the corners.
    """

    a: Point
    b: Point
    fall: float

    @property
    def middle(self) -> Point:
        """Foot of the ridge, where it is highest over the boards."""
        return ((self.a[0] + self.b[0]) / 2, (self.a[1] + self.b[1]) / 2)

    @property
    def tip(self) -> Point:
        """Upper end of the ridge, where it runs out."""
        (x, y), half = self.middle, dist(self.a, self.b) / 2
        u, v = (self.b[0] - self.a[0]) / (2 * half), (self.b[1] - self.a[1]) / (2 * half)
        return (x + v * half, y - u * half)


@dataclass(frozen=True, slots=True)
class Scheme:
    """Heights of boards cut to falls: of each zone the highest plane, of all zones the lowest."""

    zones: tuple[tuple[Plane, ...], ...]
    crickets: tuple[Cricket, ...] = ()


def to_side(low: Line, outwards: Point, fall: float) -> tuple[Plane, ...]:
    """Make a zone that falls to a side.

    Parameters
    ----------
    low : (point, point)
        Side at which the boards begin [m].
    outwards : (x, y)
        Unit vector over that side [-].
    fall : float
        Fall of the boards, more than 0 [-].

    Returns
    -------
    tuple of Plane
        One plane, nothing along the side [m].

    Examples
    --------
    >>> to_side(((0, 0), (6, 0)), (0.0, -1.0), 1 / 40)
    (Plane(level=0.0, rise_x=0.0, rise_y=0.025),)
    """
    x, y = -outwards[0] * fall, -outwards[1] * fall
    return (Plane(0.0 - x * low[0][0] - y * low[0][1], 0.0 + x, 0.0 + y),)


def to_outlet(
    outlet: Point, along: Point, falls: tuple[float, float, float, float]
) -> tuple[Plane, ...]:
    """Make a zone that falls to an outlet from four sides.

    Parameters
    ----------
    outlet : (x, y)
        Middle of the outlet [m].
    along : (x, y)
        Unit vector with which two of the sides run [-].
    falls : tuple of float
        Fall of the boards from the side ahead, on the left, behind, on the right [-].

    Returns
    -------
    tuple of Plane
        Four planes, nothing at the outlet [m].

    Examples
    --------
    >>> funnel = to_outlet((1.0, 0.0), (1.0, 0.0), (1 / 40, 1 / 40, 1 / 40, 1 / 40))
    >>> max(plane_level(p, (3.0, 1.0)) for p in funnel)
    0.05
    """
    x, y = outlet
    return tuple(
        Plane(-fall * (a * x + b * y), fall * a, fall * b)
        for fall, (a, b) in zip(falls, four_ways(along), strict=True)
    )


def four_ways(along: Point) -> tuple[Point, Point, Point, Point]:
    """Give the four ways of a square funnel.

    Parameters
    ----------
    along : (x, y)
        Unit vector [-].

    Returns
    -------
    tuple of (x, y)
        Ahead, to the left, behind, to the right [-].

    Examples
    --------
    >>> four_ways((0.0, 1.0))[1]
    (-1.0, 0.0)
    """
    u, v = along
    return ((u, v), (-v, u), (-u, -v), (v, -u))


def behind(kerb: Polygon, downhill: Point, fall: float, least: float) -> Cricket | None:
    """Make the cricket behind a kerb.

    Parameters
    ----------
    kerb : polygon
        Outline, anticlockwise [m].
    downhill : (x, y)
        Unit vector of the fall [-].
    fall : float
        Fall of the sides of the cricket [-].
    least : float
        Width from which on a kerb holds water back [m].

    Returns
    -------
    Cricket, optional
        None where the kerb is narrow, or stands with a corner up the fall and parts the water
        itself [m].

    Examples
    --------
    >>> found = behind(((1, 1), (3, 1), (3, 2), (1, 2)), (0.0, -1.0), 1 / 40, 0.3)
    >>> found.middle, found.tip
    ((2.0, 2.0), (2.0, 3.0))
    """
    for a, b in zip(kerb, (*kerb[1:], kerb[0]), strict=True):
        width = dist(a, b)
        out = ((b[1] - a[1]) / width, (a[0] - b[0]) / width)
        if width >= least and -(out[0] * downhill[0] + out[1] * downhill[1]) > SQUARE:
            return Cricket(a, b, fall)
    return None


def heights(scheme: Scheme, points: tuple[Point, ...]) -> tuple[float, ...]:
    """Give the height of the boards at points.

    Parameters
    ----------
    scheme : Scheme
        Zones, one or more, and crickets [m].
    points : tuple of (x, y)
        Any points [m].

    Returns
    -------
    tuple of float
        Height over their thinnest place [m].

    Examples
    --------
    >>> low = Scheme((to_side(((0, 0), (6, 0)), (0.0, -1.0), 1 / 40),))
    >>> heights(low, ((3.0, 2.0), (1.0, 4.0)))
    (0.05, 0.1)
    """
    if not scheme.zones:
        raise InvalidInput("no zone", "a side or an outlet to fall to", where="zones")
    return tuple(
        min(max(plane_level(p, at) for p in zone) for zone in scheme.zones)
        + sum(_over(c, at) for c in scheme.crickets)
        for at in points
    )


def _over(cricket: Cricket, at: Point) -> float:
    """Height of a cricket over the boards; nothing beside its triangle."""
    width = dist(cricket.a, cricket.b)
    u, v = (cricket.b[0] - cricket.a[0]) / width, (cricket.b[1] - cricket.a[1]) / width
    x, y = at[0] - cricket.middle[0], at[1] - cricket.middle[1]
    along, out = x * u + y * v, x * v - y * u
    return cricket.fall * max(0.0, width / 2 - abs(along) - out) if out >= -SPECK else 0.0


def folds(scheme: Scheme, far: float) -> tuple[Line, ...]:
    """List the hips, valleys and ridges along which boards cut to falls meet.

    Parameters
    ----------
    scheme : Scheme
        Zones and crickets [m].
    far : float
        How far a line may lie from the origin [m].

    Returns
    -------
    tuple of (point, point)
        Lines, some of them longer than the roof [m].

    Examples
    --------
    >>> funnel = to_outlet((1.0, 0.0), (1.0, 0.0), (1 / 40, 1 / 40, 1 / 40, 1 / 40))
    >>> len(folds(Scheme((funnel,)), 9.0))  # four mitres
    4
    """
    found = []
    for zone in scheme.zones:
        for p, q in combinations(zone, 2):
            found += _fold(p, q, (zone,), far)
    for one, other in combinations(scheme.zones, 2):
        for p, q in product(one, other):
            found += _fold(p, q, (one, other), far)
    for c in scheme.crickets:
        found += [(c.a, c.tip), (c.tip, c.b), (c.middle, c.tip), (c.a, c.b)]
    return tuple(found)


def _fold(p: Plane, q: Plane, zones: tuple[tuple[Plane, ...], ...], far: float) -> list[Line]:
    """Find the stretch on which two planes meet and both are the highest of their zones."""
    dx, dy, dl = p.rise_x - q.rise_x, p.rise_y - q.rise_y, p.level - q.level
    size = hypot(dx, dy)
    if size < PARALLEL:
        return []
    foot = (-dl * dx / size**2, -dl * dy / size**2)
    way = (-dy / size, dx / size)
    start, end = -far, far
    at, run = plane_level(p, foot), p.rise_x * way[0] + p.rise_y * way[1]
    for other in (o for zone in zones for o in zone):
        gap = at - plane_level(other, foot)
        gain = run - other.rise_x * way[0] - other.rise_y * way[1]
        if abs(gain) < PARALLEL:
            if gap < -PARALLEL:
                return []
        elif gain > 0:
            start = max(start, -gap / gain)
        else:
            end = min(end, -gap / gain)
    if end - start < 0.001:
        return []
    return [
        (
            (foot[0] + start * way[0], foot[1] + start * way[1]),
            (foot[0] + end * way[0], foot[1] + end * way[1]),
        )
    ]


def pieces(cells: Net, most: int = 4) -> tuple[Polygon, ...]:
    """Cut convex cells into triangles and quadrangles.

    Parameters
    ----------
    cells : Net
        Convex cells [m].
    most : int
        Corners that a piece may have [-].

    Returns
    -------
    tuple of polygons
        Pieces that together are the cells [m].

    Examples
    --------
    >>> from evenfall.calc.geometry.relief import net
    >>> five = net(((0, 0), (4, 0), (5, 2), (3, 4), (0, 3)))
    >>> sorted(len(p) for p in pieces(five))
    [3, 4]
    """
    found: list[Polygon] = []
    for cell in cells.cells:
        ring = _corners([cells.points[i] for i in cell])
        while len(ring) > most:
            found.append((ring[0], ring[1], ring[2]))
            ring = [ring[0], *ring[2:]]
        found.append(tuple(ring))
    return tuple(ring for ring in found if area(ring) > SPECK)


def _corners(ring: list[Point]) -> list[Point]:
    """Leave out corners that are none: a neighbour ends there, the outline runs straight on."""
    kept = [
        here
        for before, here, after in zip((ring[-1], *ring[:-1]), ring, (*ring[1:], ring[0]),
                                       strict=True)
        if turn(before, here, after) > SPECK * 10 * dist(before, after)
    ]  # fmt: skip
    return kept if len(kept) > 2 else ring

"""How the edges of a roof are drawn: walls, verges, eaves, parapets, corners, the night line.

The sides of a roof run counter-clockwise, so that outside is on the right hand of a side.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely.geometry import Polygon

from evenfall.drawing.inks import TEXT, Ink, Paper, Weight
from evenfall.drawing.sheet import Area, Circle, Item, Line, Point, Ring, Text
from evenfall.errors import InvalidInput


def along(a: Point, b: Point) -> Point:
    """Return the direction of a side.

    Parameters
    ----------
    a, b : Point
        Its two ends [mm].

    Returns
    -------
    Point
        A vector of length one [-].

    Raises
    ------
    InvalidInput
        Where both ends are one point.

    Examples
    --------
    >>> along((0, 0), (0, 5))
    (0.0, 1.0)
    """
    length = math.dist(a, b)
    if not length > 0:
        raise InvalidInput(f"a side from {a} to {b}", "two different ends")
    return (b[0] - a[0]) / length, (b[1] - a[1]) / length


def outward(a: Point, b: Point) -> Point:
    """Return the direction out of the roof at a side.

    Parameters
    ----------
    a, b : Point
        Its two ends, the roof on the left hand [mm].

    Returns
    -------
    Point
        A vector of length one [-].

    Examples
    --------
    >>> outward((0, 0), (5, 0))
    (0.0, -1.0)
    """
    x, y = along(a, b)
    return y, -x


def moved(p: Point, way: Point, by: float) -> Point:
    """Return a point moved along a direction.

    Parameters
    ----------
    p : Point
        The point [mm].
    way : Point
        The direction [-].
    by : float
        How far [mm].

    Returns
    -------
    Point
        The point it comes to [mm].

    Examples
    --------
    >>> moved((1, 2), (0, 1), 5)
    (1, 7)
    """
    return p[0] + way[0] * by, p[1] + way[1] * by


def beside(points: Sequence[Point], distance: float) -> tuple[Point, ...]:
    """Return a line that runs beside another, with mitred corners.

    Parameters
    ----------
    points : sequence of Point
        The line [mm].
    distance : float
        How far to its right hand; below nought to its left [mm].

    Returns
    -------
    tuple of Point
        As many points as the line has [mm].

    Examples
    --------
    >>> beside([(0, 0), (9, 0), (9, 7)], 2)
    ((0.0, -2.0), (11.0, -2.0), (11.0, 7.0))
    """
    normals = [outward(a, b) for a, b in pairwise(points)]
    pairs = zip([normals[0], *normals], [*normals, normals[-1]], strict=True)
    found = []
    for p, (m, n) in zip(points, pairs, strict=True):
        fold = max(1 + m[0] * n[0] + m[1] * n[1], 0.1)  # a mitre no longer than it should be
        found.append(moved(p, ((m[0] + n[0]) / fold, (m[1] + n[1]) / fold), distance))
    return tuple(found)


def wall(points: Sequence[Point], thickness: float, face: Weight = "cut") -> tuple[Item, ...]:
    """Draw a house wall outside some sides: paired strokes behind a cut line.

    Parameters
    ----------
    points : sequence of Point
        Its face along the roof, outside on the right hand [mm].
    thickness : float
        Thickness of the wall [mm].
    face : Weight
        Weight of the line of its face [-].

    Returns
    -------
    tuple of Item
        Area and face [mm].

    Examples
    --------
    >>> area, face = wall([(0, 500), (0, 0)], 300)
    >>> area.rings[0]
    ((0, 500), (0, 0), (-300.0, 0.0), (-300.0, 500.0))
    """
    back = beside(points, thickness)
    ring = (*points, *reversed(back))
    return Area((ring,), "wall", weight="thin"), Line(tuple(points), weight=face)


def wall_opening(a: Point, b: Point, thickness: float) -> tuple[Item, ...]:
    """Draw a window or door in a house wall: reveals, and the frame between them.

    Parameters
    ----------
    a, b : Point
        Its two reveals on the face of the wall, outside of the roof on the right hand [mm].
    thickness : float
        Thickness of the wall [mm].

    Returns
    -------
    tuple of Item
        Bare ground, reveals and frame [mm].

    Examples
    --------
    >>> len(wall_opening((0, 0), (900, 0), 300))
    5
    """
    out = outward(a, b)
    ends = tuple((p, moved(p, out, thickness)) for p in (a, b))
    frame = tuple(
        Line((moved(a, out, thickness * t), moved(b, out, thickness * t)), weight="thin")
        for t in (0.4, 0.6)
    )
    ground = Area(((a, b, ends[1][1], ends[0][1]),), "plain", weight=None)
    return ground, *(Line(e, weight="line") for e in ends), *frame


def parapet(points: Sequence[Point], width: float) -> tuple[Item, ...]:
    """Draw a parapet outside some sides: a second cut line.

    Parameters
    ----------
    points : sequence of Point
        Its inner face, outside on the right hand [mm].
    width : float
        Width of the parapet [mm].

    Returns
    -------
    tuple of Item
        Top of the parapet and its two faces [mm].

    Examples
    --------
    >>> len(parapet([(0, 0), (900, 0)], 220))
    3
    """
    outer = beside(points, width)
    top = Area(((*points, *reversed(outer)),), "plain", weight="thin")
    return top, Line(tuple(points), weight="cut"), Line(outer, weight="cut")


def spread(room: float, pitch: float) -> int:
    """Return how many signs stand along a side.

    Parameters
    ----------
    room : float
        Length of the side [mm].
    pitch : float
        About the distance between two signs [mm].

    Returns
    -------
    int
        At least one, at most 400 [-].

    Examples
    --------
    >>> spread(1000, 140), spread(10, 140), spread(1e9, 1)
    (7, 1, 400)
    """
    return max(1, round(min(room / pitch, 400)))


@dataclass(frozen=True, slots=True)
class Verge:
    """A verge: ticks outward along a side."""

    a: Point
    b: Point
    length: float = 7.0
    pitch: float = 14.0

    def drawn(self, paper: Paper) -> tuple[Item, ...]:
        """Return the ticks, evenly spread."""
        room, out = math.dist(self.a, self.b), outward(self.a, self.b)
        count = spread(room, paper.mm(self.pitch))
        way, step = along(self.a, self.b), room / count
        feet = [moved(self.a, way, (i + 0.5) * step) for i in range(count)]
        return tuple(Line((p, moved(p, out, paper.mm(self.length)))) for p in feet)


@dataclass(frozen=True, slots=True)
class Gutter:
    """An eaves gutter: two lines outside a side, stopped at both ends."""

    a: Point
    b: Point
    near: float = 5.0
    far: float = 14.0

    def drawn(self, paper: Paper) -> tuple[Item, ...]:
        """Return the trough as one ring on bare ground."""
        way, out = along(self.a, self.b), outward(self.a, self.b)
        a, b = moved(self.a, way, -paper.mm(6)), moved(self.b, way, paper.mm(6))
        near, far = paper.mm(self.near), paper.mm(self.far)
        ring = (moved(a, out, near), moved(b, out, near))
        return (Area(((*ring, moved(b, out, far), moved(a, out, far)),), "plain"),)


@dataclass(frozen=True, slots=True)
class Outlet:
    """A downpipe or outlet in a gutter: a ring outside a point of the eaves."""

    at: Point
    out: Point = (0.0, -1.0)
    reach: float = 9.5

    def drawn(self, paper: Paper) -> tuple[Item, ...]:
        """Return the ring."""
        x, y = moved(self.at, self.out, paper.mm(self.reach))
        return (Circle(x, y, paper.mm(4.5), fill="sheet"),)


@dataclass(frozen=True, slots=True)
class NightLine:
    """Where the dry roof ends tonight: the heaviest line, teeth the way it sheds.

    Teeth stand on the right hand of the line, on its left where ``left``.
    """

    points: tuple[Point, ...]
    left: bool = False
    pitch: float = 16.0

    def drawn(self, paper: Paper) -> tuple[Item, ...]:
        """Return the line and its teeth."""
        teeth = [
            self._tooth(a, b, at, paper)
            for a, b in zip(self.points, self.points[1:], strict=False)
            for at in self._feet(math.dist(a, b), paper)
        ]
        return (*teeth, Line(self.points, "evening", "night"))

    def _feet(self, room: float, paper: Paper) -> list[float]:
        count = spread(room, paper.mm(self.pitch))
        return [(i + 0.5) * room / count for i in range(count)]

    def _tooth(self, a: Point, b: Point, at: float, paper: Paper) -> Area:
        way, out = along(a, b), outward(a, b)
        foot, half = moved(a, way, at), paper.mm(4)
        tip = moved(foot, out, paper.mm(10) * (-1 if self.left else 1))
        ring = (moved(foot, way, -half), moved(foot, way, half), tip)
        return Area((ring,), "solid", "evening", None)


@dataclass(frozen=True, slots=True)
class Inset:
    """A second line inside the edge of an area: finished sheet."""

    ring: Ring
    by: float = 7.0
    ink: Ink = "ink"
    weight: Weight = "thin"

    def drawn(self, paper: Paper) -> tuple[Item, ...]:
        """Return the inner ring, or nothing where the area is too narrow for one."""
        inner = Polygon(self.ring).buffer(-paper.mm(self.by), join_style="mitre")
        parts = [p for p in getattr(inner, "geoms", [inner]) if not p.is_empty]
        rings = [tuple((float(x), float(y)) for x, y in p.exterior.coords[:-1]) for p in parts]
        return tuple(Area((r,), "none", self.ink, self.weight) for r in rings)


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of the roof: a ring and its letter, the ring dashed while it is a guess."""

    at: Point
    name: str
    out: Point = (-1.0, -1.0)
    known: bool = True

    def drawn(self, paper: Paper) -> tuple[Item, ...]:
        """Return ring and letter."""
        x, y = self.at
        ink: Ink = "ink" if self.known else "pencil"
        ring = Circle(x, y, paper.mm(5), ink, "line", "sheet", "solid" if self.known else "ring")
        reach = 19 / max(math.hypot(*self.out), 1e-9)
        shift = (self.out[0] * reach, self.out[1] * reach)
        return ring, Text(x, y, self.name, TEXT, ink=ink, bold=True, shift=shift)


def corners(
    ring: Sequence[Point], names: Sequence[str], guessed: frozenset[str] = frozenset()
) -> tuple[Corner, ...]:
    """Name the corners of a roof, each letter outside its corner.

    Parameters
    ----------
    ring : sequence of Point
        The corners, counter-clockwise [mm].
    names : sequence of str
        A name for each [-].
    guessed : frozenset of str
        Names of corners that are not taped yet [-].

    Returns
    -------
    tuple of Corner
        Rings with letters [mm].

    Examples
    --------
    >>> [c.name for c in corners([(0, 0), (9, 0), (9, 7)], "ABC")]
    ['A', 'B', 'C']
    """
    found = []
    for i, (p, name) in enumerate(zip(ring, names, strict=True)):
        m, n = outward(ring[i - 1], p), outward(p, ring[(i + 1) % len(ring)])
        out = (m[0] + n[0], m[1] + n[1])
        found.append(Corner(p, name, out if math.hypot(*out) > 0.1 else m, name not in guessed))
    return tuple(found)

"""Shapes of pieces: their outline, their least width, and whether some part of them is too thin."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import hypot

from shapely import LinearRing, MultiPolygon, Polygon, union_all

Point = tuple[float, float]
Parts = Sequence[Sequence[Point]]

SLACK = 0.02  # sizes are rounded up, but not for this [mm]
GRID = 0.001  # parts of a piece are joined to a thousandth [mm]
FLAT_CORNERS = 2  # corners that enclose nothing
STRAIGHT = 0.02  # a corner that bends less is none [mm]


def least_width(points: Sequence[Point]) -> float:
    """Measure the least width of a piece: of the narrowest rectangle round it, however turned.

    Parameters
    ----------
    points : sequence of (float, float)
        Corners [mm].

    Returns
    -------
    float
        Width [mm].

    Examples
    --------
    >>> round(least_width([(0.0, 0.0), (400.0, 0.0), (0.0, 300.0)]), 6)
    240.0

    References
    ----------
    [1] One side of the narrowest strip round a convex outline lies along one of its sides
        (M. Shamos, Computational Geometry, 1978), from memory.
    """
    corners = _hull(points)
    return min(
        (
            max(abs((x - px) * (qy - py) - (y - py) * (qx - px)) for x, y in corners)
            / hypot(qx - px, qy - py)
            for (px, py), (qx, qy) in zip(corners, corners[1:] + corners[:1], strict=True)
        ),
        default=0.0,
    )


def _hull(points: Sequence[Point]) -> list[Point]:
    """Return the corners of the convex outline, anticlockwise; none when it is flat."""
    ends = sorted(set(points))
    hull: list[Point] = []
    for way in (ends, ends[::-1]):
        chain: list[Point] = []
        for x, y in way:
            while len(chain) > 1 and _left(chain[-2], chain[-1], (x, y)) <= 0:
                chain.pop()
            chain.append((x, y))
        hull += chain[:-1]
    return hull if len(hull) > FLAT_CORNERS else []


def _left(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def shape_of(parts: Parts, box: tuple[float, float, float, float]) -> tuple[Polygon, int]:
    """Join the parts of a piece.

    Parameters
    ----------
    parts : sequence of sequence of (float, float)
        Convex parts that make up the piece [mm].
    box : tuple of float
        The rectangle that it is cut from: left, lower, right and upper end [mm].

    Returns
    -------
    tuple of (Polygon, int)
        Its outline, and how many of its edges are cut by hand, beside its box [mm].

    Examples
    --------
    >>> parts = (((0, 0), (9, 0), (9, 4), (0, 4)), ((0, 4), (5, 4), (5, 8), (0, 8)))
    >>> shape_of(parts, (0, 0, 9, 8))[1]
    2
    """
    x0, y0, x1, y1 = box
    if len(parts) == 1 and len(set(parts[0])) == 4:
        corners = parts[0]
        if all(x in (x0, x1) and y in (y0, y1) for x, y in corners):
            return Polygon(corners), 0
    joined = union_all([Polygon(p) for p in parts], grid_size=GRID)
    if isinstance(joined, MultiPolygon):  # parts that meet in less than a millimetre
        joined = max(joined.geoms, key=lambda g: g.area)
    shape = _plain(joined)
    points = list(shape.exterior.coords)
    lines = ((0, x0), (0, x1), (1, y0), (1, y1))
    own = sum(
        not any(abs(p[k] - v) < 1 and abs(q[k] - v) < 1 for k, v in lines)
        for p, q in pairwise(points)
    )
    return shape, own + sum(len(ring.coords) - 1 for ring in shape.interiors)


def _plain(shape: Polygon) -> Polygon:
    """Leave out corners that do not bend; the first corner of a ring is turned on to be seen."""
    rings = []
    for ring in (shape.exterior, *shape.interiors):
        once = list(ring.simplify(STRAIGHT).coords)[:-1]
        again = list(LinearRing([*once[1:], once[0]]).simplify(STRAIGHT).coords)[:-1]
        rings.append([again[-1], *again[:-1]] if len(again) == len(once) else again)
    return Polygon(rings[0], rings[1:])


def too_thin(shape: Polygon, least: int) -> bool:
    """Tell whether some part of a shaped piece is narrower than a board may be.

    Parameters
    ----------
    shape : Polygon
        The piece [mm].
    least : int
        Smallest width [mm].

    Returns
    -------
    bool
        Whether a part of more than half a square of that width is narrower [-].

    Examples
    --------
    >>> too_thin(Polygon([(0, 0), (900, 0), (900, 100), (0, 100)]), 150)
    True
    """
    half = (least - 1) / 2
    opened = shape.buffer(-half, join_style="mitre").buffer(half, join_style="mitre")
    return bool(shape.difference(opened).area > least * least / 2)


def has_rim(parts: Parts, least: int) -> bool:
    """Tell quickly whether a notched piece has a rim that is too thin; slopes are left out.

    Parameters
    ----------
    parts : sequence of sequence of (float, float)
        Rectangles that make up the piece [mm].
    least : int
        Smallest width [mm].

    Returns
    -------
    bool
        Whether some part of it is narrower both along and across [-].

    Examples
    --------
    >>> parts = (((0, 0), (900, 0), (900, 90), (0, 90)), ((0, 90), (300, 90), (300, 600), (0, 600)))
    >>> has_rim(parts, 150), has_rim(parts, 80)
    (True, False)
    """
    boxes = [(p[0][0], p[0][1], p[2][0], p[2][1]) for p in parts if len(p) == 4]
    if len(boxes) < len(parts) or any(b[0] != p[3][0] for b, p in zip(boxes, parts, strict=True)):
        return False
    xs = sorted({x for b in boxes for x in (b[0], b[2])})
    ys = sorted({y for b in boxes for y in (b[1], b[3])})
    full = [
        [any(b[0] <= x0 < b[2] and b[1] <= y0 < b[3] for b in boxes) for x0 in xs[:-1]]
        for y0 in ys[:-1]
    ]
    long = [_stretches(row, xs) for row in full]
    high = [_stretches(list(column), ys) for column in zip(*full, strict=True)]
    return any(
        full[j][i] and min(long[j][i], high[i][j]) < least - SLACK
        for j in range(len(full))
        for i in range(len(xs) - 1)
    )


def _stretches(filled: list[bool], ends: list[float]) -> list[float]:
    """Return for each filled place the length of the filled stretch that it is in."""
    found = [0.0] * len(filled)
    start = 0
    for i, full in enumerate([*filled, False]):
        if not full:
            found[start:i] = [ends[i] - ends[start]] * (i - start)
            start = i + 1
    return found

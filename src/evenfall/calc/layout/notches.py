"""Notches: the rectangles of a sheet that lie beside the roof, as in the corner of an L."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from math import floor

import shapely

from evenfall.calc.layout.upstands import Lot

Point = tuple[float, float]
Box = tuple[float, float, float, float]
CRUMB_MM2 = 1e4  # a square decimetre gives no strip


def notches(needed: Sequence[Sequence[Point]]) -> list[Lot]:
    """Find what a rectangular sheet has left over within the rectangle round what it covers.

    Parameters
    ----------
    needed : sequence of rings
        Outlines that together are covered, square to the sheet [mm].

    Returns
    -------
    list of Lot
        The largest first; they do not overlap [mm].

    Examples
    --------
    >>> letter_l = [(0, 0), (6000, 0), (6000, 2500), (3600, 2500), (3600, 5200), (0, 5200)]
    >>> notches([letter_l])
    [Lot(kind='notch', x=3600.0, y=2500.0, along_mm=2400, across_mm=2700)]
    """
    whole = covered(needed)
    if whole.is_empty or whole.geom_type != "Polygon":
        return []
    hull = shapely.box(*whole.bounds)
    if hull.area - whole.area < CRUMB_MM2:
        return []
    found: list[Box] = []
    inside = whole.buffer(-1e-3)
    for box in sorted(set(_tried(whole)), key=_size, reverse=True):
        if _size(box) < CRUMB_MM2 or shapely.box(*box).intersects(inside):
            continue
        if all(_apart(box, other) for other in found):
            found.append(box)
    return [Lot("notch", x0, y0, floor(x1 - x0), floor(y1 - y0)) for x0, y0, x1, y1 in found]


def needed_rings(points: Sequence[Point]) -> list[list[Point]]:
    """Find what a sheet covers from the corners of a roof and where its allowances reach.

    Parameters
    ----------
    points : sequence of (x, y)
        Of each corner three: itself, moved out with the side before it, and with the side after
        it [mm].

    Returns
    -------
    list of rings
        The roof, a strip beyond each side, what is folded beyond each corner [mm].

    Examples
    --------
    >>> corners = [(0, 0), (6000, 0), (6000, 2500), (3600, 2500), (3600, 5200), (0, 5200)]
    >>> notches(needed_rings([point for corner in corners for point in (corner,) * 3]))[0].along_mm
    2400
    """
    rings: list[list[Point]] = [list(points[::3])]
    for i in range(0, len(points), 3):
        (x, y), before, after = points[i : i + 3]
        following, beyond = points[(i + 3) % len(points)], points[(i + 4) % len(points)]
        square = _tip((x, y), before, after)
        rings += [[(x, y), after, beyond, following], [(x, y), before, square, after]]
    return [ring for ring in rings if _wide(ring)]


def covered(needed: Sequence[Sequence[Point]]) -> shapely.Polygon | shapely.MultiPolygon:
    """Join the rings that a sheet covers.

    Parameters
    ----------
    needed : sequence of rings
        As `needed_rings` gives them [mm].

    Returns
    -------
    Polygon or MultiPolygon
        Their union [mm].

    Examples
    --------
    >>> covered([[(0, 0), (2, 0), (2, 1), (0, 1)], [(2, 0), (3, 0), (3, 1), (2, 1)]]).area
    3.0
    """
    return shapely.union_all([shapely.Polygon(ring).buffer(0) for ring in needed])


def trim_line(points: Sequence[Point]) -> tuple[tuple[int, int], ...]:
    """Draw the line to which a sheet is cut back once it is dressed.

    Parameters
    ----------
    points : sequence of (x, y)
        As `needed_rings` takes them, in the plan [mm].

    Returns
    -------
    tuple of (int, int)
        Outline of all that is covered [mm].

    Examples
    --------
    >>> sorted(trim_line([p for p in ((0, 0), (60, 0), (60, 40), (0, 40)) for _ in range(3)]))
    [(0, 0), (0, 40), (60, 0), (60, 40)]
    """
    whole = covered(needed_rings(points)).buffer(0.5, join_style="mitre").buffer(-0.5)
    outer = whole if whole.geom_type == "Polygon" else whole.convex_hull
    plain = outer.simplify(1.0).exterior.coords[:-1]
    return tuple((round(x), round(y)) for x, y in plain)


def _tip(corner: Point, before: Point, after: Point) -> Point:
    """Find how far the fold of a corner reaches: to a square, or where two turn-ups meet."""
    (x, y), (a, b) = corner, (before[0] - corner[0], before[1] - corner[1])
    c, d = after[0] - x, after[1] - y
    across = a * d - b * c
    if a * c + b * d <= 0 or abs(across) < 1.0:
        return x + a + c, y + b + d
    p, q = a * a + b * b, c * c + d * d
    return x + (p * d - q * b) / across, y + (q * a - p * c) / across


def _wide(ring: Sequence[Point]) -> bool:
    """Whether an outline has an area at all."""
    pairs = zip(ring, (*ring[1:], ring[0]), strict=True)
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs)) > 1.0


def _tried(whole: shapely.Polygon) -> Iterator[Box]:
    """Boxes from one corner of the outline, or between two, to the rectangle round it."""
    x0, y0, x1, y1 = whole.bounds
    corners = [(x, y) for x, y in whole.exterior.coords[:-1]]
    for x, y in corners:
        yield x0, y0, x, y
        yield x, y0, x1, y
        yield x0, y, x, y1
        yield x, y, x1, y1
    for (ax, ay), (bx, by) in combinations(corners, 2):
        left, right = min(ax, bx), max(ax, bx)
        low, high = min(ay, by), max(ay, by)
        yield left, high, right, y1
        yield left, y0, right, low
        yield right, low, x1, high
        yield x0, low, left, high


def _size(box: Box) -> float:
    return max(box[2] - box[0], 0.0) * max(box[3] - box[1], 0.0)


def _apart(a: Box, b: Box) -> bool:
    return a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]

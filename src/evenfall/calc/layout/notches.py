"""Notches: the rectangles of a sheet that lie beside the roof, as in the corner of an L."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from math import floor

import shapely

Point = tuple[float, float]
Box = tuple[float, float, float, float]
CRUMB_MM2 = 1e4  # a square decimetre gives no strip


def notches(needed: Sequence[Sequence[Point]]) -> list[tuple[int, int]]:
    """Find what a rectangular sheet has left over within the rectangle round what it covers.

    Parameters
    ----------
    needed : sequence of rings
        Outlines that together are covered, square to the sheet [mm].

    Returns
    -------
    list of (int, int)
        Length along the sheet and width of each, the largest first; they do not overlap [mm].

    Examples
    --------
    >>> letter_l = [(0, 0), (6000, 0), (6000, 2500), (3600, 2500), (3600, 5200), (0, 5200)]
    >>> notches([letter_l])
    [(2400, 2700)]
    """
    whole = shapely.union_all([shapely.Polygon(ring).buffer(0) for ring in needed])
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
    return [(floor(x1 - x0), floor(y1 - y0)) for x0, y0, x1, y1 in found]


def beside(points: Sequence[Point]) -> list[tuple[int, int]]:
    """Find the notches of a sheet from the corners of a roof and where its allowances reach.

    Parameters
    ----------
    points : sequence of (x, y)
        Of each corner three: itself, moved out with the side before it, and with the side after
        it [mm].

    Returns
    -------
    list of (int, int)
        As `notches` gives them [mm].

    Examples
    --------
    >>> corners = [(0, 0), (6000, 0), (6000, 2500), (3600, 2500), (3600, 5200), (0, 5200)]
    >>> beside([point for corner in corners for point in (corner,) * 3])
    [(2400, 2700)]
    """
    rings: list[list[Point]] = [list(points[::3])]
    for i in range(0, len(points), 3):
        (x, y), before, after = points[i : i + 3]
        following, beyond = points[(i + 3) % len(points)], points[(i + 4) % len(points)]
        square = before[0] + after[0] - x, before[1] + after[1] - y
        rings += [[(x, y), after, beyond, following], [(x, y), before, square, after]]
    return notches([ring for ring in rings if _wide(ring)])


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

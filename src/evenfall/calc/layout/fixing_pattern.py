"""Where the screws of one piece of board go: even columns across its long way, off its edges."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

import numpy as np
import shapely
from shapely import affinity

from evenfall.errors import InvalidInput

Point = tuple[float, float]
Ring = tuple[Point, ...]
UNEVEN = 2.5
"""Columns stand at most so many times as far apart as the screws in them, or the other way round:
four screws suit a board of 2400 by 1200 mm, one row of five does not."""
SLANT_MM = 50
"""An outer column may stand so much further in: 100 mm from the edge become 150 at the most."""
NEAR_MM = 60
"""No two screws stand nearer to one another: their washers or tubes would touch."""
NARROW = 3.0
"""A piece narrower than three edge distances is screwed a third of its width in."""


def pattern(ring: Ring, number: int, edge_mm: float) -> tuple[Point, ...]:
    """Place screws in a piece of board.

    Parameters
    ----------
    ring : tuple of (x, y)
        Outline of the piece, any polygon without crossing sides [mm].
    number : int
        Screws that it needs, 1 or more [-].
    edge_mm : float
        Distance of the outer screws from the edge; less where the piece is too narrow [mm].

    Returns
    -------
    tuple of (x, y)
        Places, as many as asked or a few more, column by column [mm].

    Raises
    ------
    InvalidInput
        No screw asked for, no edge distance, or an outline without an area.

    Examples
    --------
    >>> board = ((0.0, 0.0), (2400.0, 0.0), (2400.0, 1200.0), (0.0, 1200.0))
    >>> [(round(x), round(y)) for x, y in pattern(board, 6, 100.0)]
    [(100, 100), (100, 1100), (1200, 100), (1200, 1100), (2300, 100), (2300, 1100)]
    """
    piece = shapely.Polygon(ring) if len(ring) > 2 else shapely.Polygon()
    if number < 1 or edge_mm <= 0 or piece.area <= 0 or not piece.is_valid:
        asked = f"{number} screws {edge_mm:g} mm from the edge of {len(ring)} corners"
        raise InvalidInput(asked, "a screw or more in a sound outline", where="pattern")
    turn = _long_way(piece)
    lying = affinity.rotate(piece, -turn, origin=(0, 0), use_radians=True) if turn else piece
    inner = _inset(lying, edge_mm)
    x0, y0, x1, y1 = inner.bounds
    for columns, rows in _grids(number, x1 - x0, y1 - y0):
        places = tuple(_places(inner, columns, rows))
        if len(places) >= number:
            break
    if not turn:
        return places
    turned = affinity.rotate(shapely.MultiPoint(places), turn, origin=(0, 0), use_radians=True)
    return tuple((p.x, p.y) for p in turned.geoms)


def _long_way(piece: shapely.Polygon) -> float:
    """Angle of the long side of the smallest rectangle round the piece, as a roofer sees it."""
    box = piece.minimum_rotated_rectangle
    (ax, ay), (bx, by), (cx, cy) = box.exterior.coords[:3]
    first, second = np.hypot(bx - ax, by - ay), np.hypot(cx - bx, cy - by)
    x, y = (bx - ax, by - ay) if first >= second else (cx - bx, cy - by)
    angle = float(np.arctan2(y, x)) % np.pi
    return 0.0 if np.pi - angle < 1e-9 else angle  # a half turn is no turn


def _inset(piece: shapely.Polygon, edge_mm: float) -> shapely.Geometry:
    """Keep off the edges, as far as the piece is wide enough."""
    off = edge_mm
    if piece.buffer(-edge_mm * NARROW / 2, join_style="mitre").is_empty:  # too narrow for that
        off = min(edge_mm, 2 * float(shapely.maximum_inscribed_circle(piece).length) / NARROW)
    inner = piece.buffer(-off, join_style="mitre")
    return inner if not inner.is_empty else piece.representative_point()


def _grids(number: int, length: float, width: float) -> list[tuple[int, int]]:
    """List grids that hold enough, the fewest screws first, then the most even."""
    found = []
    for columns in range(1, 2 * number + 1):
        for more in (0, 1):
            rows = ceil(number / columns) + more
            along, across = _apart(length, columns), _apart(width, rows)
            uneven = max(along / across, across / along)
            found.append((uneven > UNEVEN, columns * rows, uneven, columns, rows))
    return [(columns, rows) for *_, columns, rows in sorted(found)]


def _apart(reach: float, count: int) -> float:
    """Distance between screws; a single row leaves half the reach free on each side of it."""
    return max(reach, 1.0) / (count - 1) if count > 1 else 2 * max(reach, 1.0)


def _cut(inner: shapely.Geometry, x: float) -> shapely.Geometry:
    _, y0, _, y1 = inner.bounds
    return inner.intersection(shapely.LineString(((x, y0 - 1), (x, y1 + 1))))


def _squared(inner: shapely.Geometry, x: float, way: int) -> float:
    """Move an outer column in a little where a slanting end would leave it a single screw."""
    whole = _cut(inner, sum(inner.bounds[::2]) / 2).length
    tries = (x + way * step for step in range(0, SLANT_MM + 1, SLANT_MM // 5))
    return next((at for at in tries if _cut(inner, at).length > whole / 2), x)


def _places(inner: shapely.Geometry, columns: int, rows: int) -> Iterator[Point]:
    """Lay columns over the piece; each part of a column is filled from end to end."""
    x0, _, x1, _ = inner.bounds
    if columns > 1:
        x0, x1 = _squared(inner, x0, 1), _squared(inner, x1, -1)
    xs = np.array([(x0 + x1) / 2]) if columns == 1 else np.linspace(x0, x1, columns)
    _, y0, _, y1 = inner.bounds
    ends = np.column_stack((xs, np.full_like(xs, y0 - 1), xs, np.full_like(xs, y1 + 1)))
    cuts = shapely.intersection(inner, shapely.linestrings(ends.reshape(-1, 2, 2)))
    parts, column = shapely.get_parts(cuts, return_index=True)
    for (_, low, _, high), x in zip(shapely.bounds(parts), xs[column], strict=True):
        if np.isnan(low):
            continue
        fit = min(rows, 1 + int((high - low) // NEAR_MM))
        ys = [(low + high) / 2] if fit == 1 else np.linspace(low, high, fit)
        yield from ((float(x), float(y)) for y in ys)

"""Lay shapes over a roof so that each place belongs to one of them: the first named wins."""

from __future__ import annotations

import shapely
from shapely.geometry import MultiPolygon as Areas
from shapely.geometry import Polygon as Shape
from shapely.geometry.base import BaseGeometry

from evenfall.calc.geometry.clipping import pieces
from evenfall.calc.geometry.polygon import Polygon

GRID_M = 1e-7
"""Corners are put on a grid of a ten-thousandth of a millimetre, so that edges that all but lie
on each other leave no slivers, gaps or false holes."""

Layer = tuple[str, tuple[Polygon, ...]]


def cover(deck: Polygon, layers: tuple[Layer, ...]) -> tuple[tuple[str, Polygon], ...]:
    """Divide a roof among layers; where two lie over each other the earlier one wins.

    Parameters
    ----------
    deck : polygon
        The roof [m].
    layers : tuple
        Name and shapes of each layer, the worst first [m].

    Returns
    -------
    tuple
        Name and outline of each part, without holes and without overlap [m].

    Examples
    --------
    >>> square = ((0, 0), (4, 0), (4, 4), (0, 4))
    >>> middle = ((1, 1), (3, 1), (3, 3), (1, 3))
    >>> [name for name, _ in cover(square, (("inner", (middle,)), ("rest", (square,))))]
    ['inner', 'rest', 'rest']
    """
    left: BaseGeometry = Shape(deck)
    found: list[tuple[str, Polygon]] = []
    for name, shapes in layers:
        over = shapely.union_all([Shape(s) for s in shapes], grid_size=GRID_M)
        taken = _areas(shapely.intersection(left, over, grid_size=GRID_M))
        left = _areas(shapely.difference(left, over, grid_size=GRID_M))
        found += [(name, part) for part in _whole(taken)]
    return tuple(found)


def _whole(shape: BaseGeometry) -> tuple[Polygon, ...]:
    """Cut a shape through its holes until none is left."""
    holes = [ring for part in _polygons(shape) for ring in part.interiors]
    if not holes:
        return pieces(shape)
    x0, y0, x1, y1 = shape.bounds
    at = Shape(holes[0]).centroid.x
    halves = (shapely.box(x0, y0, at, y1), shapely.box(at, y0, x1, y1))
    cut = (_areas(shapely.intersection(shape, half, grid_size=GRID_M)) for half in halves)
    return tuple(part for half in cut for part in _whole(half))


def _areas(shape: BaseGeometry) -> BaseGeometry:
    """Drop the points and lines in which shapes only touch."""
    return shape if shape.geom_type in ("Polygon", "MultiPolygon") else Areas(_polygons(shape))


def _polygons(shape: BaseGeometry) -> list[Shape]:
    if isinstance(shape, Shape):
        return [shape]
    return [p for part in getattr(shape, "geoms", ()) for p in _polygons(part)]

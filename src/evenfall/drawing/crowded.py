"""A roof with more corners than a sheet has room for: its lettering finds its own places."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from evenfall.drawing.chalk import Label
from evenfall.drawing.dimensions import Dimension
from evenfall.drawing.edges import Corner
from evenfall.drawing.inks import NOTE, TEXT
from evenfall.drawing.sheet import Circle, Drawing, Group, Item, Layer

MARGIN = 60.0
"""What the frame takes of a sheet, px."""
SHORT = 64.0
"""A side drawn shorter has no room for its length beside its neighbours, px."""
MANY = 3
"""So many short sides, and the roof is crowded."""
TAPES, CORNERS = "tapes", "corners"
RING = 5.0
"""Half the width of the ring round a corner, px."""


def eased(drawing: Drawing, mm_per_px: float) -> Drawing:
    """Ease a crowded plan: its letters move aside, and short sides are lettered when it is larger.

    Parameters
    ----------
    drawing : Drawing
        A plan of a roof [mm].
    mm_per_px : float
        Size at which it is drawn [mm/px].

    Returns
    -------
    Drawing
        The same drawing where there is room for all of it [mm].

    Examples
    --------
    >>> from evenfall.drawing.sheet import Line
    >>> line = Line(((0, 0), (9, 0)))
    >>> edge = Drawing("edge", "one edge", (Layer("roof outline", (line,)),))
    >>> eased(edge, 10.0) is edge
    True
    """
    tapes = next((layer.items for layer in drawing.layers if layer.name == TAPES), ())
    if sum(_length(t) < SHORT * mm_per_px for t in tapes) <= MANY:
        return drawing
    return replace(drawing, layers=tuple(_layer(layer, mm_per_px) for layer in drawing.layers))


def size_in(drawing: Drawing, width: float, height: float | None) -> float:
    """Find about how large a drawing comes out in the room of a page.

    Parameters
    ----------
    drawing : Drawing
        The drawing [mm].
    width, height : float
        Room on the page [px].

    Returns
    -------
    float
        Its size [mm/px].
    """
    box = drawing.bounds()
    k = box.width / max(width - MARGIN, 1)
    return max(k, box.height / max(height - MARGIN, 1)) if height else k


def _length(item: Item) -> float:
    """Give the length of the side that a dimension measures, or nought [mm]."""
    line = item.items[0] if isinstance(item, Group) else None
    return math.dist(line.a, line.b) if isinstance(line, Dimension) else 0.0


def _layer(layer: Layer, k: float) -> Layer:
    if layer.name == TAPES:
        kept = (_lettered(i) for i in layer.items if _length(i) >= SHORT * k)
        return replace(layer, items=tuple(kept))
    if layer.name == CORNERS:
        return replace(layer, items=tuple(p for i in layer.items for p in _corner(i, k)))
    return layer


def _lettered(item: Item) -> Item:
    """Give the length of a side as a label that finds its own place."""
    line = item.items[0] if isinstance(item, Group) else None
    if not isinstance(item, Group) or not isinstance(line, Dimension):
        return item
    x, y = (line.a[0] + line.b[0]) / 2, (line.a[1] + line.b[1]) / 2
    return replace(item, items=(Label(x, y, line.text, NOTE, bold=True, seat="beside"),))


def _corner(item: Item, k: float) -> Iterator[Item]:
    """Part a corner into its ring and a letter that finds its own place."""
    if not isinstance(item, Corner):
        yield item
        return
    x, y = item.at
    yield Circle(x, y, RING * k, "ink", "line", "sheet", "solid" if item.known else "ring")
    yield Label(x, y, item.name, TEXT, bold=True, seat="beside", clear=RING + 2)

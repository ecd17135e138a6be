"""The outline of a job before it is worked: what its tapes alone say, in the inks of the desk."""

from __future__ import annotations

from evenfall.drafting.walked import Placed, Roof, Walked
from evenfall.drawing import (
    Area,
    Dimension,
    Drawing,
    Gutter,
    Item,
    Layer,
    Verge,
    corners,
    frame_plan,
    parapet,
    wall,
)

MM = 1000
WALL_MM, PARAPET_MM = 260, 200  # how thick they are drawn; nobody measured them
INSIDE, OUTSIDE = -46.0, 44.0  # where a length stands beside a wall and an open edge, paper units
RING = 3  # corners of what has a shape; anything less is no more than a place

Point = tuple[float, float]


def draw_begun(roof: Roof) -> Drawing:
    """Draw the roof as walked: its shape, what its sides are, what was taped and what is guessed.

    Parameters
    ----------
    roof : Roof
        The roof as far as it is known [m].

    Returns
    -------
    Drawing
        A plan in its frame [mm].
    """
    ring = tuple(_mm(c.at) for c in roof.corners)
    ends = tuple(zip(ring, (*ring[1:], ring[0]), strict=True))
    sides = tuple(zip(roof.sides, ends, strict=True))
    through = [p for p in roof.placed if p.table == "openings" and len(p.ring) >= RING]
    layers = (
        Layer("walls", tuple(i for s, e in sides for i in _wall(s, e))),
        Layer("roof outline", (Area((ring,), "plain", weight="cut"),)),
        Layer("edges", tuple(i for s, e in sides for i in _edge(s, e))),
        Layer("openings", tuple(_hole(p) for p in through)),
        Layer("corners", corners(ring, [c.name for c in roof.corners])),
        Layer("tapes", tuple(_length(s, e) for s, e in sides)),
    )
    alt = f"The roof as it was taped: {len(ring)} corners, about {roof.area_m2:.1f} m²."
    kept = tuple(layer for layer in layers if layer.items)
    return frame_plan(Drawing("The roof before it is worked out", alt, kept), ring[0])


def _mm(point: Point) -> Point:
    return point[0] * MM, point[1] * MM


def _wall(side: Walked, ends: tuple[Point, Point]) -> tuple[Item, ...]:
    if side.kind in ("wall", "step"):
        return wall(ends, WALL_MM)
    return parapet(ends, PARAPET_MM) if side.kind == "parapet" else ()


def _edge(side: Walked, ends: tuple[Point, Point]) -> tuple[Item, ...]:
    if side.kind == "eaves":
        return (Gutter(*ends),)
    return (Verge(*ends),) if side.kind in ("verge", "party_line") else ()


def _hole(placed: Placed) -> Item:
    return Area((tuple(_mm(p) for p in placed.ring),), "plain", weight="line")


def _length(side: Walked, ends: tuple[Point, Point]) -> Item:
    stands = INSIDE if side.kind in ("wall", "step", "parapet") else OUTSIDE
    if side.taped_m is None:
        return Dimension(*ends, f"about {side.length_m:.1f}", stands, "guess")
    return Dimension(*ends, f"{side.taped_m:.3f}", stands)

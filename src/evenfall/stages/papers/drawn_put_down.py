"""Where boards may be put down: a dashed place over each bearing that carries a stack."""

from __future__ import annotations

from collections.abc import Iterator

from shapely.geometry import Polygon

from evenfall.drawing import TICK, Group, Item, Layer, Line, Text
from evenfall.model.surveyed import Point, SideAt
from evenfall.stages.papers.drawn_plan import mm
from evenfall.stages.papers.worked import WorkedRoof

MM = 1000
ALONG = (0.5, 0.35, 0.65, 0.2, 0.8)
"""Where along a side a place is tried, the middle first; openings lie in the way."""
KINDS = ("boards-", "overlay")
"""Work on whose days the places are drawn."""


def put_down(worked: WorkedRoof) -> Layer:
    """Draw the places where a stack of boards may stand, each with how many at most.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Layer
        Empty where no stack may stand [mm].
    """
    return Layer("boards down", tuple(_places(worked)))


def _places(worked: WorkedRoof) -> Iterator[Item]:
    down, plan = worked.joists.put_down, worked.plan
    if not down.most:
        return
    deck = Polygon(plan.deck)
    taken = [Polygon(o.ring) for o in plan.openings]
    for name, in_m in zip(down.sides, down.in_m, strict=True):
        side = plan.side(name)
        rings = (_ring(side, t, in_m, down.long_m, down.wide_m) for t in ALONG)
        free = (r for r in rings if _fits(Polygon(r), deck, taken))
        ring = next(free, None)
        if ring is None:
            continue
        at = tuple(mm(p) for p in ring)
        x, y = (sum(v) / len(at) for v in zip(*at, strict=True))
        edge = Line((*at, at[0]), weight="thin", dash="before")
        told = f"boards may be put down here, {down.most} on each other at most"
        yield Group(f"down:{name}", told, (edge, Text(x, y, f"≤ {down.most}", TICK)))


def _ring(side: SideAt, t: float, in_m: float, long_m: float, wide_m: float) -> tuple[Point, ...]:
    (x0, y0), (u, v), (n, m) = side.a, side.along, side.outwards
    start = t * side.length_m - long_m / 2
    corners = ((start, in_m), (start + long_m, in_m), (start + long_m, in_m + wide_m),
               (start, in_m + wide_m))  # fmt: skip
    return tuple((x0 + u * a - n * d, y0 + v * a - m * d) for a, d in corners)


def _fits(place: Polygon, deck: Polygon, taken: list[Polygon]) -> bool:
    inside = deck.buffer(1 / MM).contains(place)
    return inside and not any(place.intersects(o) for o in taken)

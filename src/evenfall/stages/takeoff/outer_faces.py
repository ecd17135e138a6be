"""Lengths along the outer face: what turns an outer corner is longer than the deck's own side."""

from __future__ import annotations

from evenfall.model.job import Side
from evenfall.model.surveyed import Plan, SideAt
from evenfall.stages.design.edge_parts import wall_of

MM = 1000
OPEN = ("eaves", "verge")
STRAIGHT = 0.17  # sine of some 10 degrees: two sides that run on without a corner


def outer_mm(plan: Plan, sides: tuple[Side, ...]) -> dict[str, int]:
    """Measure each side along its outer face: of the fascia, or of the parapet.

    Parameters
    ----------
    plan : Plan
        Sides and corners [m].
    sides : tuple of Side
        Thickness of fascias and parapets [mm].

    Returns
    -------
    dict of str to int
        Length by side; longer at outer corners, shorter at inner ones [mm].
    """
    known = {s.side: s for s in sides}
    thick = [_thick(s, known[s.name]) for s in plan.sides]
    turned = [
        _turn(a, b) for a, b in zip(plan.sides, (*plan.sides[1:], plan.sides[0]), strict=True)
    ]
    found = {}
    for n, side in enumerate(plan.sides):
        before, after = n - 1, (n + 1) % len(plan.sides)
        more = 0.0
        for other, turn in ((before, turned[before]), (after, turned[n])):
            if _alike(side, plan.sides[other]):
                more += _beyond(thick[n], thick[other], turn)
        found[side.name] = round((side.length_m + more) * MM)
    return found


def _alike(side: SideAt, other: SideAt) -> bool:
    """Tell whether two faces meet at their corner: parapets do, and open edges do."""
    return all(s.kind == "parapet" for s in (side, other)) or all(
        s.kind in OPEN for s in (side, other)
    )


def _thick(side: SideAt, told: Side) -> float:
    """How far the outer face lies outside the deck, m."""
    if side.kind == "parapet":
        return wall_of(told)[0].thickness
    return told.fascia_thickness_mm / MM


def _turn(side: SideAt, after: SideAt) -> tuple[float, float]:
    """Sine and cosine of the turn from one side to the next; above 0 at an outer corner."""
    (u, v), (x, y) = side.along, after.along
    return u * y - v * x, u * x + v * y


def _beyond(own: float, other: float, turn: tuple[float, float]) -> float:
    """How far the outer face of a side runs beyond its corner, m."""
    sine, cosine = turn
    return 0.0 if abs(sine) < STRAIGHT else (other - own * cosine) / sine

"""Edges: which edges the roof has. Their heat loss waits for the two-dimensional calculation."""

from __future__ import annotations

from evenfall.model.designed import EdgeAt, Edges
from evenfall.model.finding import Change, Finding, Remedy
from evenfall.model.job import Side
from evenfall.model.surveyed import Plan
from evenfall.standards import roofing_practice

WHY_EMPTY = (
    "No psi value is given yet: the two-dimensional heat flow of ISO 10211 is not worked in this "
    "version. Edges and lengths are listed."
)
KINDS = {
    "wall": "wall abutment",
    "eaves": "eaves",
    "verge": "verge",
    "parapet": "parapet",
    "party_line": "party line",
    "step": "step",
}


def work(sides: tuple[Side, ...], plan: Plan, wall_head: str) -> Edges:
    """List the edges with their lengths, and say where a wall head stays open.

    Parameters
    ----------
    sides : tuple of Side
        What each side is, with its wall head [mm].
    plan : Plan
        The plan [m].
    wall_head : str
        ``fill`` or ``leave`` [-].

    Returns
    -------
    Edges
        Edges, and why they carry no heat loss yet [m].
    """
    known = {s.side: s for s in sides}
    listed = tuple(EdgeAt(s.id, _says(known[s.name], wall_head), s.length_m) for s in plan.sides)
    kerbs = tuple(
        EdgeAt(o.id, f"rooflight kerb on the {'boards' if o.on_boards else 'deck'}", o.perimeter_m)
        for o in plan.openings
        if o.kind == "rooflight"
    )
    found = tuple(_open(s) for s in sides if _left_open(s, wall_head))
    return Edges((*listed, *kerbs), WHY_EMPTY, found)


def _says(side: Side, wall_head: str) -> str:
    """Say what an edge is, with what its heat will hang on."""
    said = [KINDS[side.kind]]
    if side.wall_of is not None:
        said.append(f"against {side.wall_of}")
    head = side.wall_head
    if head is not None:
        state = "left open" if _left_open(side, wall_head) else "filled"
        size = f"{head.slot_height_mm:.0f} × {head.slot_width_mm:.0f} mm"
        said.append(f"wall head {size} {state}")
    return ", ".join(said)


def _left_open(side: Side, wall_head: str) -> bool:
    head = side.wall_head
    return wall_head == "leave" and head is not None and head.state != "filled"


def _open(side: Side) -> Finding:
    head = side.wall_head
    assert head is not None
    says = (
        f"The wall head along {side.side} stays open, {head.slot_height_mm:.0f} mm high: a cold "
        "strip and mould inside. Fill it from the wall top to the deck."
    )
    limit = roofing_practice.WALL_HEAD_LEFT
    return Finding(
        "wall-head-open", f"side:{side.side}", "agree", says, limit.source, limit.basis,
        head.slot_height_mm, limit.value, "mm",
        Remedy("Fill it.", (Change("design.wall_head", "fill"),)),
    )  # fmt: skip

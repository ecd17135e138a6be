"""Edges drawn by hand, for the tests of their sections and values."""

from __future__ import annotations

from evenfall.calc.physics.details import (
    Abutment,
    Course,
    Edge,
    Head,
    OpenEdge,
    Parapet,
    PartyLine,
    Roof,
    RooflightKerb,
    Timbers,
    Wall,
)

WOOD = 0.13
LINING = Course("lining", 0.031, 0.0233)


def roof(
    board: float = 0.123, lambda_: float = 0.0222, way: str = "to", ceiling: bool = True
) -> Roof:
    """Draw a roof of unequal measures."""
    return Roof(
        (Course("insulation", board, lambda_),),
        Course("deck", 0.019, WOOD),
        (Course("void", 0.171, 0.171 / 0.16),) if ceiling else (),
        Course("ceiling", 0.0125, 0.25) if ceiling else None,
        Timbers(0.047, 0.402, WOOD, way),  # type: ignore[arg-type]
    )


def wall(cavity: float = 0.053, lambda_: float = 0.29) -> Wall:
    """Build a cavity wall."""
    return Wall(
        (
            Course("outer leaf", 0.1025, 0.77),
            Course("cavity", cavity, lambda_),
            Course("inner leaf", 0.104, 0.56),
            Course("plaster", 0.013, 0.4),
        )
    )


def eaves(state: str | None = "filled", over: Roof | None = None, **more: object) -> OpenEdge:
    """Draw eaves, without a wall head where no state is given."""
    head = Head(0.041, 0.04, state) if state else None  # type: ignore[arg-type]
    given = {"out": 0.096, "fascia": 0.019, "timber": 0.05, "kerb": 0.0, "wood": WOOD} | more
    return OpenEdge(over or roof(), wall(), head=head, **given)  # type: ignore[arg-type]


def kerb(lined: bool = True, on_boards: bool = False, over: Roof | None = None) -> RooflightKerb:
    """Draw a rooflight kerb."""
    lining = LINING if lined else None
    return RooflightKerb(over or roof(), 0.047, 0.15, WOOD, on_boards, lining)


EVERY: dict[str, Edge] = {
    "eaves, head open": eaves("open"),
    "eaves, head half filled": eaves("half"),
    "eaves, head filled": eaves("filled"),
    "eaves, no head, no ceiling": eaves(None, roof(ceiling=False)),
    "eaves without fascia or overhang": eaves("open", out=0.0, fascia=0.0),
    "verge": eaves(None, roof(way="along"), kerb=0.082, out=0.0),
    "wall": Abutment(roof(way="along"), wall()),
    "parapet": Parapet(roof(), wall(), 0.44),
    "parapet, lined": Parapet(roof(), wall(), 0.44, LINING),
    "party line": PartyLine(roof(), wall(), 0.05, WOOD),
    "kerb": kerb(lined=False),
    "kerb, lined": kerb(),
    "kerb on boards": kerb(lined=False, on_boards=True),
    "kerb on boards, lined, no ceiling": kerb(on_boards=True, over=roof(ceiling=False)),
}
"""One of each kind and state."""

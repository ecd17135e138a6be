"""What else lets rain in at night: holes, edges and windows over work that is not finished."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.calc.geometry.polygon import contains
from evenfall.model.programmed import Bay, Hole, Task
from evenfall.model.surveyed import OpeningAt, Plan
from evenfall.stages.programme.order import SHEET as SHEETED
from evenfall.stages.programme.order import TURNED_UP
from evenfall.stages.programme.slices import common

BEGUN = {
    "rooflight": ("kerb-dress", "a cover over the kerb, turned down over its VCL, tied and "
                  "weighted; the well stays boarded"),
    "chimney": ("upstand", "the VCL turned up and taped to the brick all round"),
    "pipe": ("pipe-boot", "the VCL taped round it, the tape pressed and looked at"),
    "post": ("pipe-boot", "the VCL taped round it, the tape pressed and looked at"),
    "flue": ("pipe-boot", "the VCL sealed round it with what bears its heat; never covered while "
             "the appliance is lit"),
    "outlet": ("outlet", "open and guarded, plugs out, the VCL dressed into it"),
}  # fmt: skip
WALLS = ("upstand", "sheet or VCL taped to the wall, its top edge covered: rain runs down the wall")
PARAPET = ("capping", "its top covered, the cover tied down on both sides")
_REFRAMED = "the new window in and sealed; until then a board and a sheet over the hole, screwed on"
SASHES = {
    "leave": "shut and locked from inside, its room told, until the upstand below it is done",
    "fix_shut": "screwed shut and sealed before the first cut",
    "raise_sill": _REFRAMED,
    "rehang": _REFRAMED,
    "fix_glass": _REFRAMED,
}
GUTTER = ("gutter", "the gutter hung back, or a temporary one: no water down the wall or into it")


def holes(
    plan: Plan, bays: tuple[Bay, ...], opened: frozenset[int], left: frozenset[str],
    tasks: tuple[Task, ...],
) -> tuple[Hole, ...]:  # fmt: skip
    """List what must be covered tonight besides the bays.

    Parameters
    ----------
    plan : Plan
        Sides and openings [m].
    bays : tuple of Bay
        The bays [m].
    opened : frozenset of int
        Bays whose felt is off [-].
    left : frozenset of str
        Ids of the work that is not done [-].
    tasks : tuple of Task
        All work [-].

    Returns
    -------
    tuple of Hole
        Each with what keeps the rain out of it tonight [-].
    """
    return tuple(_holes(plan, bays, opened, _undone(left, tasks)))


def _undone(left: frozenset[str], tasks: tuple[Task, ...]) -> dict[str, set[str]]:
    """Name by kind the places at which work is not done."""
    found: dict[str, set[str]] = {}
    for t in tasks:
        if t.id in left:
            found.setdefault(t.id.removeprefix("task:").split("/")[0], set()).update(t.at)
    return found


def _holes(
    plan: Plan, bays: tuple[Bay, ...], opened: frozenset[int], undone: dict[str, set[str]]
) -> Iterator[Hole]:
    for o in plan.openings:
        work, says = BEGUN[o.kind]
        if o.id in undone.get(work, ()) and opened & _around(o, bays):
            yield Hole(o.id, says)
    yield from _sashes(plan, bays, opened, undone)
    for side in plan.sides:
        at = {b.number for b in bays if any(common(b.ring, (side.a, side.b)))}
        if not opened & at:
            continue
        if side.kind in ("wall", "step") and side.id in undone.get(WALLS[0], ()):
            yield Hole(side.id, WALLS[1])
        if side.kind == "parapet" and side.id in undone.get(PARAPET[0], ()):
            yield Hole(side.id, PARAPET[1])
        if side.kind == "eaves" and side.id in undone.get(GUTTER[0], ()):
            yield Hole(side.id, GUTTER[1])


def _sashes(
    plan: Plan, bays: tuple[Bay, ...], opened: frozenset[int], undone: dict[str, set[str]]
) -> Iterator[Hole]:
    """Windows over an opened bay, until the sheet stands up the wall below them."""
    sides = {s.id: s for s in plan.sides}
    for sash in plan.sashes:
        side = sides[sash.side]
        at = {b.number for b in bays if any(common(b.ring, (side.a, side.b)))}
        below = side.id in undone.get(WALLS[0], ())
        if opened & at and (below or (side.kind not in TURNED_UP and SHEETED in undone)):
            yield Hole(sash.id, SASHES[sash.treatment])


def _around(opening: OpeningAt, bays: tuple[Bay, ...]) -> set[int]:
    """Find the bay that an opening lies in."""
    return {b.number for b in bays if contains(b.ring, opening.centre)}

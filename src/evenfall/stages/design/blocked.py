"""Blocked: every outlet stopped up in the hardest rain; overflows, the depth and its weight."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf
from typing import NamedTuple

from evenfall.calc.drainage.bath import share_at_the_end
from evenfall.calc.drainage.outlet import weir_l_s
from evenfall.model.designed import Blocked, SpillCheck
from evenfall.model.drained import Overflow
from evenfall.model.job import Height, Window
from evenfall.model.surveyed import Falls, Plan, Point, Slope
from evenfall.stages.design import night
from evenfall.stages.design.dead_weight import water_weight
from evenfall.standards import en_12056_3 as en
from evenfall.working import Cited, Working, formula, measured

MM = 1000
DOORS = ("threshold", "sill")
HEIGHTS_MM = (60.0, 50.0, 40.0, 30.0, 20.0)  # a slot that a hand can clear, if there is room
HEIGHT_MM = HEIGHTS_MM[0]
STEPS = 60  # halvings of the height of the water: far below a hair


@formula("d", "m", "geometry")
def standing_m(sill_mm: float, h_mm: float) -> float:
    """Depth of the water at the lowest place.

    Parameters
    ----------
    sill_mm, h_mm : float
        Sill or rim above the lowest place, head of the water over it [mm].

    Returns
    -------
    float
        Depth [m].

    Examples
    --------
    >>> standing_m(85.0, 25.0)
    0.11
    """
    return (sill_mm + h_mm) / 1000


@dataclass(frozen=True, slots=True)
class Lie:
    """How the finished roof lies, and what stands beside it."""

    plane: Slope  # of the old covering, mm
    falls: Falls
    up_mm: float  # boards and overlay
    kerb_mm: float  # of a verge, above the finished roof
    heights: tuple[Height, ...] = ()
    windows: tuple[Window, ...] = ()

    def finished(self, p: Point) -> float:
        """Height of the finished roof at a point, mm over the datum of the plane."""
        return self.plane.at(p) + self.falls.added_at(p) + self.up_mm


class Slot(NamedTuple):
    """A way out at a height; ``sill`` over the datum."""

    name: str
    sill: float  # mm
    width_mm: float
    height_mm: float


class Full(NamedTuple):
    """The roof with its outlets blocked: what is held, the overflows, the level of the water."""

    held: Blocked | None = None
    checks: tuple[SpillCheck, ...] = ()
    level: float = 0.0  # mm over the datum
    low: float = 0.0  # mm over the datum, the lowest place of the finished roof
    door: tuple[str, float] | None = None  # the lowest way in
    slots: tuple[Slot, ...] = ()


def blocked(
    plan: Plan,
    lie: Lie | None,
    overflows: tuple[Overflow, ...],
    downhill: Point,
    fall_mm_m: float,
    flow: Working,
) -> Full:
    """Work out how high the water rises with every outlet blocked.

    Parameters
    ----------
    plan : Plan
        Sides [m].
    lie : Lie, optional
        How the finished roof lies; None works nothing [mm].
    overflows : tuple of Overflow
        Slots that are to be cut [mm].
    downhill : (x, y)
        Unit vector of the finished fall [-].
    fall_mm_m : float
        Finished fall [mm/m].
    flow : Working
        The hardest rain on roof and walls [l/s].

    Returns
    -------
    Full
        Depth, load and reach; nothing held where an open edge lets it go [-].
    """
    if lie is None:
        return Full()
    slots = (*_found(plan, lie), *_new(plan, lie, overflows))
    low = min(lie.finished(p) for p in plan.deck)
    rim_name, rim = _rim(plan, lie)
    doors = tuple(_doors(plan, lie))
    door = min(doors, key=lambda d: d[1], default=None)
    level, stops = rim, rim_name
    sills = [s for s in slots if s.sill < rim]
    if sills:
        risen = _risen(tuple(sills), flow.value, rim)
        if risen < rim:
            level, stops = risen, min(sills, key=lambda s: s.sill).name
    if door is not None and door[1] < level:
        level, stops = door[1], door[0]
    checks = tuple(_check(s, low, level, doors, stops) for s in slots)
    depth = level - low
    if depth <= 0 or depth == inf:
        return Full(None, checks, level, low, door, slots)
    lowest = min((s.sill for s in sills if s.sill < level), default=level)
    d = standing_m.show(
        measured(lowest - low, "mm", f"{stops}, above the lowest place of the finished roof"),
        Cited(level - lowest, "mm", en.SOURCE, "Table 7, all overflows at one level",
              "published, second-hand"),
    )  # fmt: skip
    length = night.down(plan, downhill)
    fall = fall_mm_m if fall_mm_m >= night.LEVEL_MM_M else 0.0
    reach = min(depth / fall, length) if fall else length
    far = share_at_the_end(depth, fall, reach)
    held = Blocked(flow, d, water_weight.show(d), reach, far, stops)
    return Full(held, checks, level, low, door, slots)


def _found(plan: Plan, lie: Lie) -> Iterator[Slot]:
    """Overflows that were there, as high as they were: the roof rises in front of them."""
    for h in lie.heights:
        if h.kind == "overflow" and h.width_m:
            at = plan.side(h.side).place(h.along_m, h.in_m)
            sill = lie.plane.at(at) + h.above_covering_mm
            if sill >= lie.finished(at):  # else it lies behind the boards
                yield Slot(h.name, sill, h.width_m * MM, HEIGHT_MM)


def _new(plan: Plan, lie: Lie, overflows: tuple[Overflow, ...]) -> Iterator[Slot]:
    for o in overflows:
        at = plan.side(o.side).place(o.along_m)
        yield Slot(o.name, lie.finished(at) + o.sill_above_roof_mm, o.width_mm, o.height_mm)


def _rim(plan: Plan, lie: Lie) -> tuple[str, float]:
    """Find the lowest edge that water runs over; walls have none."""
    found = []
    for side in plan.sides:
        for p in (side.a, side.b):
            top = lie.finished(p)
            if side.kind in ("verge", "party_line"):
                found.append((side.name, top + lie.kerb_mm))
            elif side.kind == "parapet":
                found.append((side.name, max(top, lie.plane.at(p) + side.parapet_height_mm)))
            elif side.kind == "eaves":
                found.append((side.name, top))
    return min(found, key=lambda f: f[1], default=("", inf))


def _doors(plan: Plan, lie: Lie) -> Iterator[tuple[str, float]]:
    """Give every way in for water: thresholds, sills and windows beside the roof."""
    for h in lie.heights:
        if h.kind in DOORS:
            at = plan.side(h.side).place(h.along_m, h.in_m)
            yield h.name, lie.plane.at(at) + h.above_covering_mm
    for w in lie.windows:
        sill = w.new_sill_above_covering_mm or w.sill_above_covering_mm
        yield w.name, lie.plane.at(plan.side(w.side).place(w.along_m)) + sill


def _lets_go(slots: tuple[Slot, ...], level: float) -> float:
    """Give what the slots carry together at a level of the water, l/s; a full slot as when full."""
    heads = [(s.width_mm, min(max(level - s.sill, 0.0), s.height_mm)) for s in slots]
    return sum(weir_l_s(width, h) for width, h in heads)


def _risen(slots: tuple[Slot, ...], flow: float, rim: float) -> float:
    """Halve the interval until the slots carry the flow; the rim where they never do."""
    low, high = min(s.sill for s in slots), min(rim, max(s.sill + s.height_mm for s in slots))
    if _lets_go(slots, high) < flow:
        return rim
    for _ in range(STEPS):
        middle = (low + high) / 2
        low, high = (middle, high) if _lets_go(slots, middle) < flow else (low, middle)
    return high


def _check(
    s: Slot, low: float, level: float, doors: tuple[tuple[str, float], ...], stops: str
) -> SpillCheck:
    key = f"design.overflows[{s.name}]"
    carries = weir_l_s.show(
        measured(s.width_mm, "mm", f"{key}.width_mm"),
        measured(s.height_mm, "mm", f"{key}.height_mm"),
    )
    room = min((z for _, z in doors), default=None)
    return SpillCheck(
        f"overflow:{s.name}", carries, s.sill - low, None if room is None else room - level
    )

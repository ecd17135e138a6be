"""Packings of wall heads: one for each gap between two joists, and its foam."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from evenfall.model.job import Joists, Side
from evenfall.model.surveyed import Plan
from evenfall.standards import take_off_practice

MM = 1000
ALONG = 0.3  # a joist crosses a wall unless it runs within some 17 degrees of it


@dataclass(frozen=True, slots=True)
class Packing:
    """The packings along one side; all alike, the last cut to what is left."""

    side: str
    number: int
    length_mm: int
    height_mm: int
    depth_mm: int

    @property
    def says(self) -> str:
        """Length, height and depth, as they are cut."""
        return f"{self.length_mm} × {self.height_mm} × {self.depth_mm} mm"

    @property
    def foam_m(self) -> float:
        """Joints that are foamed: along each packing and up both of its ends."""
        return self.number * take_off_practice.PACKING_FOAM * (self.length_mm + self.height_mm) / MM


def packings(plan: Plan, sides: tuple[Side, ...], joists: Joists) -> list[Packing]:
    """Cut the packings of every wall head that is not yet filled.

    Parameters
    ----------
    plan : Plan
        Sides [m].
    sides : tuple of Side
        Slots of the wall heads [mm].
    joists : Joists
        Centres, width, and the side that they run along [mm].

    Returns
    -------
    list of Packing
        Between joists as long as centres less joist; along a wall that joists run by, in lengths
        of the same size [mm].
    """
    u, v = plan.side(joists.along).along
    clear = round(joists.spacing_mm - joists.width_mm)
    found = []
    for side in sides:
        head = side.wall_head
        if head is None or head.state == "filled":
            continue
        at = plan.side(side.side)
        crossed = abs(u * at.along[1] - v * at.along[0])
        step = joists.spacing_mm / crossed if crossed > ALONG else clear
        length = round(step - joists.width_mm / crossed) if crossed > ALONG else clear
        number = ceil(at.length_m * MM / step)
        high, deep = round(head.slot_height_mm), round(head.slot_width_mm)
        found.append(Packing(side.side, number, length, high, deep))
    return found


def joist_ends(plan: Plan, joists: Joists) -> float:
    """Count the ends of the joists along the sides that they run against.

    Parameters
    ----------
    plan : Plan
        Sides [m].
    joists : Joists
        Which side they run along, and their spacing [mm].

    Returns
    -------
    float
        Ends [each].
    """
    u, v = plan.side(joists.along).along
    crossed = sum(abs(u * s.along[1] - v * s.along[0]) * s.length_m for s in plan.sides)
    return crossed / (joists.spacing_mm / MM)

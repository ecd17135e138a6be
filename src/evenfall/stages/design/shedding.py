"""Shedding: which side the rain on roof and walls runs to, and which gutter takes it."""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.calc.drainage.catchments import strips
from evenfall.calc.drainage.run_off import wall_area
from evenfall.model.job import Gutter
from evenfall.model.surveyed import Plan, Point, SideAt
from evenfall.working import Working, measured, total

MM = 1000


Wall = tuple[SideAt, float]
"""A wall and how much of its length sheds rain here, in m."""


@dataclass(frozen=True, slots=True)
class Shed:
    """What runs to one place: roof, and lengths of the walls above it."""

    roof: float  # m2
    walls: tuple[Wall, ...] = ()

    @property
    def area(self) -> Working:
        """Effective area: the roof and half of each wall, in m2."""
        lengths: dict[str, float] = {}
        for side, length in self.walls:
            lengths[side.name] = lengths.get(side.name, 0.0) + length
        of = {side.name: side for side, _ in self.walls}
        roof = measured(self.roof, "m2", "share of the plan")
        walls = [(f"half the wall {n}", _half(of[n], length)) for n, length in lengths.items()]
        return total("Effective area", "A", "m2", [("roof", roof), *walls])


def catch(plan: Plan, downhill: Point) -> dict[str, Shed]:
    """Trace the rain to the side it runs to; a wall beside the fall goes under ``rest``.

    Parameters
    ----------
    plan : Plan
        Sides and the walls above them [m].
    downhill : (x, y)
        Unit vector of the finished fall [-].

    Returns
    -------
    dict
        What runs to each side, by its name [m2].
    """
    found: dict[str, Shed] = {}
    left = {s.name: s.length_m for s in plan.sides if s.wall_height_m}
    for strip in strips(plan.deck, downhill):
        low, high = plan.sides[strip.low], plan.sides[strip.high]
        shed = found.get(low.name, Shed(0.0))
        walls = shed.walls
        if high.name in left:
            walls = (*walls, (high, strip.high_length))
            left[high.name] -= strip.high_length
        found[low.name] = Shed(shed.roof + strip.area, walls)
    beside = tuple((plan.side(n), length) for n, length in left.items() if length * MM > 1)
    return found | ({"rest": Shed(0.0, beside)} if beside else {})


def _half(side: SideAt, length: float) -> Working:
    L = measured(length, "m", f"survey.tapes, {side.name}")
    H = measured(side.wall_height_m, "m", f"survey.sides[{side.name}].wall_height_m")
    return wall_area.show(L, H)


def to_gutters(
    shed: dict[str, Shed], gutters: tuple[Gutter, ...], plan: Plan, downhill: Point, outlets: bool
) -> tuple[dict[str, Shed], Shed]:
    """Give each gutter what runs to its side; the rest goes to outlets or the lowest gutter.

    Parameters
    ----------
    shed : dict
        What runs to each side [m2].
    gutters : tuple of Gutter
        Which sides have one [-].
    plan : Plan
        The sides [m].
    downhill : (x, y)
        Unit vector of the finished fall [-].
    outlets : bool
        Whether the roof has outlets of its own [-].

    Returns
    -------
    tuple
        By the side of each gutter, and what is left for the outlets [m2].
    """
    sides = {g.side for g in gutters}
    runs = {side: shed.get(side, Shed(0.0)) for side in sides}
    others = [s for name, s in shed.items() if name not in sides]
    rest = _added(others)
    if runs and not outlets:
        lowest = max(sides, key=lambda name: _reach(plan.side(name), downhill))
        runs[lowest] = _added([runs[lowest], rest])
    return runs, rest


def _added(sheds: list[Shed]) -> Shed:
    return Shed(sum(s.roof for s in sheds), tuple(w for s in sheds for w in s.walls))


def _reach(side: SideAt, downhill: Point) -> float:
    x, y = side.place(side.length_m / 2)
    return x * downhill[0] + y * downhill[1]

"""Shedding: which side the rain on roof and walls runs to, and which gutter takes it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

from evenfall.calc.drainage.catchments import Strip, across, strips
from evenfall.calc.drainage.run_off import wall_area
from evenfall.model.job import Gutter
from evenfall.model.surveyed import OpeningAt, Plan, Point, SideAt
from evenfall.working import Working, measured, total

MM = 1000


Wall = tuple[SideAt, float]
"""A wall and how much of its length sheds rain here, in m."""


HALF = 0.5
OWN = "strips along the fall whose low end lies nearest to it, across the fall"
MANY = 40  # parts into which a wall that runs across two catchments is cut


@dataclass(frozen=True, slots=True)
class Shed:
    """What runs to one place: roof, and lengths of the walls above it."""

    roof: float  # m2
    walls: tuple[Wall, ...] = ()
    of: str = "roof that falls to this side, strip by strip"
    heavier: float = HALF  # share of it that the heavier half of a gutter takes

    @property
    def area(self) -> Working:
        """Effective area: the roof and half of each wall, in m2."""
        lengths: dict[str, float] = {}
        for side, length in self.walls:
            lengths[side.name] = lengths.get(side.name, 0.0) + length
        of = {side.name: side for side, _ in self.walls}
        roof = measured(self.roof, "m2", self.of)
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
    middles = tuple(across(s.place(s.length_m / 2), downhill) for s in plan.sides)
    parts = strips(plan.deck, downhill, middles)
    for strip in parts:
        low, high = plan.sides[strip.low], plan.sides[strip.high]
        shed = found.get(low.name, Shed(0.0))
        walls = shed.walls
        if high.name in left:
            walls = (*walls, (high, strip.high_length))
            left[high.name] -= strip.high_length
        found[low.name] = Shed(shed.roof + strip.area, walls)
    for name, shed in found.items():
        found[name] = replace(shed, heavier=_heavier(plan, name, parts, middles))
    beside = tuple((plan.side(n), length) for n, length in left.items() if length * MM > 1)
    return found | ({"rest": Shed(0.0, beside)} if beside else {})


def _half(side: SideAt, length: float) -> Working:
    L = measured(length, "m", f"survey.tapes, {side.name}")
    H = measured(side.wall_height_m, "m", f"survey.sides[{side.name}].wall_height_m")
    return wall_area.show(L, H)


def to_gutters(
    shed: dict[str, Shed], gutters: tuple[Gutter, ...], plan: Plan, downhill: Point, outlets: bool
) -> dict[str, Shed]:
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
    dict
        By the side of each gutter; what is left goes to the outlets, as `to_outlets` says [m2].
    """
    sides = {g.side for g in gutters}
    runs = {side: shed.get(side, Shed(0.0)) for side in sides}  # each with its own halves
    others = [s for name, s in shed.items() if name not in sides]
    rest = _added(others)
    if runs and not outlets:
        lowest = max(sides, key=lambda name: _reach(plan.side(name), downhill))
        runs[lowest] = _joined(runs[lowest], rest)
    return runs


def _heavier(plan: Plan, name: str, parts: tuple[Strip, ...], middles: tuple[float, ...]) -> float:
    """Give the share of the rain on a side that runs to the heavier half of its length."""
    at = next(i for i, s in enumerate(plan.sides) if s.name == name)
    halves = [0.0, 0.0]
    for strip in parts:
        if strip.low == at:
            wall = (plan.sides[strip.high], strip.high_length)
            of = Shed(strip.area, (wall,) if wall[0].wall_height_m else ())
            halves[strip.across > middles[at]] += of.area.value
    return max(halves) / sum(halves) if sum(halves) else HALF


def _joined(own: Shed, more: Shed) -> Shed:
    """Add what comes from elsewhere; nobody knows where along the gutter, so in equal halves."""
    both = _added([own, more])
    if not both.area.value:
        return both
    heavy = own.heavier * own.area.value + HALF * more.area.value
    return replace(both, heavier=heavy / both.area.value)


def to_outlets(
    plan: Plan, outlets: tuple[OpeningAt, ...], gutters: tuple[Gutter, ...], downhill: Point
) -> dict[str, Shed]:
    """Give each outlet in the roof its own catchment.

    The rain runs down the fall to the low side of its strip, then along that side to the outlet
    that is nearest across the fall. What a gutter takes does not come; a wall beside the fall
    sheds to the outlet nearest to each part of it.

    Parameters
    ----------
    plan : Plan
        The sides and the walls above them [m].
    outlets : tuple of OpeningAt
        Outlets in the roof, at least one [-].
    gutters : tuple of Gutter
        Which sides have one [-].
    downhill : (x, y)
        Unit vector of the finished fall [-].

    Returns
    -------
    dict
        What runs to each outlet, by its name [m2].
    """
    places = sorted((across(o.centre, downhill), o.name) for o in outlets)
    cuts = tuple((a + b) / 2 for (a, _), (b, _) in pairwise(places))
    guttered = {g.side for g in gutters}
    left = {s.name: s.length_m for s in plan.sides if s.wall_height_m}
    roof, walls = {o.name: 0.0 for o in outlets}, {o.name: list[Wall]() for o in outlets}
    for strip in strips(plan.deck, downhill, cuts):
        low, high = plan.sides[strip.low], plan.sides[strip.high]
        if high.name in left:
            left[high.name] -= strip.high_length
        if low.name in guttered:
            continue
        to = _nearest(strip.across, places)
        roof[to] += strip.area
        if high.name in left:
            walls[to].append((high, strip.high_length))
    for name, length in left.items():
        if length * MM > 1:
            for to, share in _along(plan.side(name), places, downhill).items():
                walls[to].append((plan.side(name), length * share))
    return {name: Shed(roof[name], tuple(walls[name]), OWN) for name in roof}


def _nearest(at: float, places: list[tuple[float, str]]) -> str:
    return min(places, key=lambda place: abs(place[0] - at))[1]


def _along(side: SideAt, places: list[tuple[float, str]], downhill: Point) -> dict[str, float]:
    """Give each outlet its share of a wall, part by part."""
    found: dict[str, float] = {}
    for n in range(MANY):
        at = across(side.place(side.length_m * (n + HALF) / MANY), downhill)
        to = _nearest(at, places)
        found[to] = found.get(to, 0.0) + 1 / MANY
    return found


def _added(sheds: list[Shed]) -> Shed:
    return Shed(sum(s.roof for s in sheds), tuple(w for s in sheds for w in s.walls))


def _reach(side: SideAt, downhill: Point) -> float:
    x, y = side.place(side.length_m / 2)
    return x * downhill[0] + y * downhill[1]

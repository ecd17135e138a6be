"""Thinner zones: where they lie, the mean of their U-values, and whether water leaves them."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from evenfall.calc.geometry.clipping import clip_polygon, net_area
from evenfall.calc.geometry.polygon import area, sides
from evenfall.calc.physics.weighting import mean_by_area, weighted
from evenfall.errors import InvalidInput
from evenfall.model.designed import Thickness
from evenfall.model.job import ThinZone
from evenfall.model.standing import ZoneAt
from evenfall.model.surveyed import Falls, Plan, Point, SideAt, Slope
from evenfall.working import Known, Working, formula, total

REST_M2 = 0.0025  # a field that is left less than this is none
ON_EDGE_M = 0.002  # a point this near to a side lies on it
OPEN = ("eaves",)  # sides that water leaves by, besides the low side


@formula("UA", "W/K", "definition of the transmittance")
def conducts(U: float, A: float) -> float:
    """Heat that a part of the roof lets through for one kelvin.

    Parameters
    ----------
    U : float
        Transmittance [W/(m2K)].
    A : float
        Area [m2].

    Returns
    -------
    float
        Heat flow [W/K].

    Examples
    --------
    >>> conducts(0.16, 25.0)
    4.0
    """
    return U * A


def mean_u(parts: Iterable[tuple[str, Known | Working | float, float]]) -> Working:
    """Weigh the transmittances of several parts by their area.

    Parameters
    ----------
    parts : iterable of (name, U, area)
        At least one, U in W/(m2K) and area in m2 [any].

    Returns
    -------
    Working
        Mean; it lies between the least and the greatest [W/(m2K)].
    """
    listed = list(parts)
    flow = total("Heat let through by all parts", "UA", "W/K",
                 [(name, conducts.show(u, a)) for name, u, a in listed])  # fmt: skip
    whole = total("Area of all parts", "A", "m2", [(name, a) for name, _, a in listed])
    return weighted.show(flow, whole)


def mixed(
    rows: tuple[Thickness, ...], zones: tuple[ZoneAt, ...], net_m2: float
) -> tuple[Thickness, ...]:
    """Weigh the heat of every thickness with that of the thinner zones.

    Parameters
    ----------
    rows : tuple of Thickness
        Every thickness sold, as if the roof were even [-].
    zones : tuple of ZoneAt
        Thinner zones; one that is no thinner than the field counts as the field [m2].
    net_m2 : float
        Area under boards [m2].

    Returns
    -------
    tuple of Thickness
        The same with U and heat of the whole roof [-].
    """
    us = {t.thickness_mm: t.u for t in rows}

    def of(row: Thickness) -> Thickness:
        within = [z for z in thinner(zones, row.thickness_mm) if z.thickness_mm in us]
        if not within:
            return row
        rest = net_m2 - sum(z.area_m2 for z in within)
        u = mean_by_area([(row.u, rest), *((us[z.thickness_mm], z.area_m2) for z in within)])
        return replace(row, u=u, heat_kwh=row.heat_kwh * u / row.u)

    return tuple(of(row) for row in rows)


def thinner(zones: tuple[ZoneAt, ...], field_mm: int) -> tuple[ZoneAt, ...]:
    """Pick the zones that are thinner than the field.

    Parameters
    ----------
    zones : tuple of ZoneAt
        Zones as chosen [-].
    field_mm : int
        Insulation of the field [mm].

    Returns
    -------
    tuple of ZoneAt
        Those that make a step [-].
    """
    return tuple(z for z in zones if z.thickness_mm < field_mm)


def placed(zone: ThinZone, plan: Plan) -> ZoneAt:
    """Put a zone in its place on the deck.

    Parameters
    ----------
    zone : ThinZone
        Along which side, from where to where, how far in [m].
    plan : Plan
        The deck and its openings [m].

    Returns
    -------
    ZoneAt
        With its rings on the deck and its area under boards [m2].

    Raises
    ------
    InvalidInput
        It lies nowhere on the deck, or covers all of it.
    """
    side = plan.side(zone.side)
    to_m = min(zone.to_m, side.length_m)
    corners = tuple(
        side.place(a, d)
        for a, d in ((zone.from_m, 0.0), (zone.from_m, zone.in_m), (to_m, zone.in_m), (to_m, 0.0))
    )
    where = f"design.thin_zones[{zone.name}]"
    rings = clip_polygon(plan.deck, corners) if to_m > zone.from_m else ()
    if not rings:
        raise InvalidInput(
            f"{zone.from_m:g} to {zone.to_m:g} m along {zone.side}, which is {side.length_m:.3f} m",
            "a part of the deck", where=where, do="measure from the first corner of the side",
        )  # fmt: skip
    holes = tuple(o.hole for o in plan.openings)
    under = sum(net_area(ring, holes) for ring in rings)
    if under >= plan.net.value - REST_M2:
        raise InvalidInput(
            "a zone as large as the roof", "a part of it", where=where,
            do="take it out and choose a thinner board",
        )  # fmt: skip
    inwards = (-side.outwards[0], -side.outwards[1])
    return ZoneAt(
        f"zone:{zone.name}", zone.name, zone.side, side.a, side.along, inwards, zone.from_m, to_m,
        zone.in_m, zone.thickness_mm, rings, under,
    )  # fmt: skip


def deeper(zone: ZoneAt, in_m: float, plan: Plan) -> ZoneAt | None:
    """Run a zone further in from its side.

    Parameters
    ----------
    zone : ZoneAt
        The zone [m].
    in_m : float
        How far in [m].
    plan : Plan
        The deck [m].

    Returns
    -------
    ZoneAt or None
        The longer zone; None where it would cover the whole roof [m].
    """
    longer = ThinZone(
        name=zone.name, side=zone.side, from_m=zone.from_m, to_m=zone.to_m, in_m=in_m,
        thickness_mm=zone.thickness_mm,
    )  # fmt: skip
    try:
        return placed(longer, plan)
    except InvalidInput:
        return None


def overlap(one: ZoneAt, other: ZoneAt) -> float:
    """Return the area that two zones share.

    Parameters
    ----------
    one, other : ZoneAt
        Two zones [m].

    Returns
    -------
    float
        Shared area [m2].
    """
    return sum(area(p) for r in one.rings for s in other.rings for p in clip_polygon(r, s))


def held_back(zone: ZoneAt, field_mm: float, plan: Plan, falls: Falls, plane: Slope) -> float:
    """Work out how deep water stands behind the step of a thinner zone.

    Parameters
    ----------
    zone : ZoneAt
        The zone, lower than the roof round it [m].
    field_mm : float
        Insulation round it [mm].
    plan, falls : Plan, Falls
        Sides and outlets, and what is added under the boards [-].
    plane : Slope
        The old surface [mm].

    Returns
    -------
    float
        Depth at its lowest place; nought where it runs to an open edge or an outlet [mm].
    """
    step = max(field_mm - zone.thickness_mm, 0.0)
    outlets = [o.centre for o in plan.openings if o.kind == "outlet"]

    def surface(at: Point) -> float:
        return plane.at(at) + (falls.added_at(at) if falls.tapers else falls.rise.at(at))

    deepest = 0.0
    for ring in zone.rings:
        ways = [surface(c) for c in outlets if zone.holds(c, 0.0)]
        for a, b in sides(ring):  # on a plane the lowest place of an edge is one of its ends
            edge = min(surface(a), surface(b))
            side = _side_at(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), plan)
            if side is None:
                ways.append(edge + step)
            elif side.kind in OPEN or _leaves(side, falls):
                ways.append(edge)
        lowest = min(surface(at) for at in ring)
        deepest = max(deepest, min(ways, default=lowest + step) - lowest)
    return deepest


def _leaves(side: SideAt, falls: Falls) -> bool:
    """Tell whether water leaves over the low side: not through a wall or a parapet."""
    return side.name == falls.low_side and side.kind in ("verge", "party_line")


def _side_at(at: Point, plan: Plan) -> SideAt | None:
    """Find the side of the deck that a point lies on; an open one first."""
    on = [s for s in plan.sides if _off(s, at) < ON_EDGE_M]
    return min(on, key=lambda s: s.kind not in OPEN, default=None)


def _off(side: SideAt, at: Point) -> float:
    x, y = at[0] - side.a[0], at[1] - side.a[1]
    t = min(max(x * side.along[0] + y * side.along[1], 0.0), side.length_m)
    return math.dist((x, y), (t * side.along[0], t * side.along[1]))

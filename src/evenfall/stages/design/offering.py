"""The thinner zones that would let a thicker board pass under everything beside the roof."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from evenfall.calc.geometry.slopes import crossings
from evenfall.errors import InvalidInput
from evenfall.model.choice import BuildUp
from evenfall.model.finding import Change
from evenfall.model.job import Covering, ThinZone
from evenfall.model.standing import ZoneAt, ZoneOffer
from evenfall.model.surveyed import Falls, Plan, SideAt
from evenfall.stages.design import budget, zoning
from evenfall.stages.design.beside import Item
from evenfall.standards import roofing_practice
from evenfall.working import Known

BESIDE_M = 0.15  # a zone reaches past what it is for, so that the sheet can be dressed there
BEHIND_M = 0.3  # and so far in, where it need not run down the roof
RUNS = 0.5  # cosine above which a side looks up or down the fall
CENTIMETRES = 100
END = 0.02  # share of a strip left out at its ends: at a corner a line may miss the deck


@dataclass(frozen=True, slots=True)
class Roof:
    """What an offer is worked from."""

    build: BuildUp
    covering: Covering
    plan: Plan
    falls: Falls
    ground: budget.Ground
    items: tuple[Item, ...]
    us: Mapping[int, float]  # transmittance of every thickness that may be taken
    target: Known


def offer(roof: Roof, most_share: float = 0.5) -> ZoneOffer | None:
    """Find the thinnest field that passes with thinner zones under what it would not fit.

    Parameters
    ----------
    roof : Roof
        Everything that it is worked from [-].
    most_share : float
        Part of the roof that zones may take; above it a thinner board is simpler [-].

    Returns
    -------
    ZoneOffer or None
        None where nothing is too low, or where no zone helps [-].
    """
    rooms = {i.id: budget.room(i, roof.build, roof.falls, roof.covering, roof.ground).value
             for i in roof.items}  # fmt: skip
    for field_mm in sorted(roof.us):
        if roof.us[field_mm] > roof.target:
            continue
        tight = tuple(i for i in roof.items if rooms[i.id] < field_mm + budget.FITS)
        if not tight:
            return None
        found = _for(roof, field_mm, tight, rooms)
        if found is not None and found.area_m2 <= most_share * roof.plan.net.value:
            return found
    return None


def _for(
    roof: Roof, field_mm: int, tight: tuple[Item, ...], rooms: Mapping[str, float]
) -> ZoneOffer | None:
    """Lay zones under what is too low for a field; None where they do not do."""
    wanted: dict[str, ThinZone] = {}
    for item in tight:
        thin = budget.fitting(roof.us, rooms[item.id])
        if thin is None:
            return None
        zone = _strip(item, thin, roof.plan, roof.falls)
        if zone is None:
            return None
        before = wanted.get(item.side)
        wanted[item.side] = _joined(before, zone) if before else zone
    try:
        zones = tuple(zoning.placed(z, roof.plan) for z in wanted.values())
    except InvalidInput:  # it would cover the whole roof
        return None
    if not _stands(roof, field_mm, zones):
        return None
    return _told(roof, field_mm, tuple(wanted.values()), zones)


def _stands(roof: Roof, field_mm: int, zones: tuple[ZoneAt, ...]) -> bool:
    """Tell whether zones lie apart, drain, and let everything fit."""
    apart = all(zoning.overlap(a, b) == 0 for n, a in enumerate(zones) for b in zones[n + 1 :])
    plane, dry = roof.ground.plane, roofing_practice.ZONE_PONDS
    drained = all(zoning.held_back(z, field_mm, roof.plan, roof.falls, plane) <= dry for z in zones)
    ground = replace(roof.ground, zones=zones)
    return (
        apart
        and drained
        and all(
            budget.left(i, roof.build, field_mm, roof.falls, roof.covering, ground).value
            >= budget.FITS
            for i in roof.items
        )
    )


def _told(
    roof: Roof, field_mm: int, wanted: tuple[ThinZone, ...], zones: tuple[ZoneAt, ...]
) -> ZoneOffer | None:
    parts = [(z.name, roof.us[z.thickness_mm], z.area_m2) for z in zones]
    under = sum(z.area_m2 for z in zones)
    mean = zoning.mean_u([("field", roof.us[field_mm], roof.plan.net.value - under), *parts])
    if mean.value > roof.target:
        return None
    told = ", ".join(
        f"{z.thickness_mm} mm for {z.to_m - z.from_m:.2f} m along {z.side}, {z.in_m:.2f} m in"
        for z in wanted
    )
    says = f"{field_mm} mm, and {told}: {mean.value:.3f} W/m²K on the whole"
    build = roof.build
    changes = (
        *build.take(build.boards(field_mm)),
        Change("design.thin_zones", [z.model_dump(mode="json") for z in wanted]),
    )
    thinnest = min(z.thickness_mm for z in wanted)
    return ZoneOffer(field_mm, thinnest, under, mean, says, changes)


def _strip(item: Item, thin: int, plan: Plan, falls: Falls) -> ThinZone | None:
    """Lay a zone round an item so that it drains: down the fall to the edge, or shallow there."""
    side = plan.side(item.side)
    low, high, deep = _span(item, side)
    low, high = max(low - BESIDE_M, 0.0), min(high + BESIDE_M, side.length_m)
    along = side.along[0] * falls.downhill[0] + side.along[1] * falls.downhill[1]
    away = -(side.outwards[0] * falls.downhill[0] + side.outwards[1] * falls.downhill[1])
    in_m = deep + BEHIND_M
    if away > RUNS:
        in_m = _across(plan, side, low, high)
    elif away > -RUNS:
        low, high = (low, side.length_m) if along > 0 else (0.0, high)
    low, high, in_m = _down(low), _up(high), _up(in_m)
    if high <= low or in_m <= 0:
        return None
    name = f"at-{item.name}"[:40]
    return ThinZone(name=name, side=side.name, from_m=low, to_m=high, in_m=in_m, thickness_mm=thin)


def _span(item: Item, side: SideAt) -> tuple[float, float, float]:
    """Where an item lies along its side, from and to, and how far in it is looked at, m."""
    rel = [(x - side.a[0], y - side.a[1]) for x, y in item.spots]
    along = [x * side.along[0] + y * side.along[1] for x, y in rel]
    inwards = [-(x * side.outwards[0] + y * side.outwards[1]) for x, y in rel]
    return min(along), max(along), max(*inwards, 0.0)


def _across(plan: Plan, side: SideAt, low: float, high: float) -> float:
    """How deep the deck is, square in from a stretch of a side, m."""
    way = (-side.outwards[0], -side.outwards[1])
    start = side.a[0] * way[0] + side.a[1] * way[1]
    depths = [0.0]
    for t in (END, 1 / 2, 1 - END):
        x, y = side.place(low + t * (high - low))
        for a, b in crossings(plan.deck, way, y * way[0] - x * way[1]):
            if a <= start + BESIDE_M <= b:
                depths.append(b - start)
    return max(depths)


def _joined(one: ThinZone, other: ThinZone) -> ThinZone:
    """Make one zone of two along the same side, as thin as the thinner."""
    return one.model_copy(update={
        "from_m": min(one.from_m, other.from_m), "to_m": max(one.to_m, other.to_m),
        "in_m": max(one.in_m, other.in_m),
        "thickness_mm": min(one.thickness_mm, other.thickness_mm),
    })  # fmt: skip


def _down(value: float) -> float:
    return math.floor(value * CENTIMETRES) / CENTIMETRES


def _up(value: float) -> float:
    return math.ceil(value * CENTIMETRES) / CENTIMETRES

"""Steps and conditions: thinner zones that hold water, overflows set too high, low thresholds."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.model.finding import Finding
from evenfall.model.job import Height
from evenfall.model.standing import ZoneAt
from evenfall.model.surveyed import Falls, Plan, Slope
from evenfall.stages.design import zoning
from evenfall.stages.design.saying import cure, finding
from evenfall.standards import roofing_practice
from evenfall.standards.programme_practice import HOLD_POINTS
from evenfall.working import Table

DOORS = ("threshold", "sill")
DETAILS = next(h.number for h in HOLD_POINTS if "details" in h.when)
EDGES = next(h.number for h in HOLD_POINTS if "gutter" in h.when)


def steps(
    zones: tuple[ZoneAt, ...], field_mm: int, plan: Plan, falls: Falls, plane: Slope
) -> Iterator[Finding]:
    """Tell the step of every thinner zone, and stop one that holds water.

    Parameters
    ----------
    zones : tuple of ZoneAt
        Zones as chosen [mm].
    field_mm : int
        Insulation of the field [mm].
    plan, falls : Plan, Falls
        Sides, outlets, and what is added under the boards [-].
    plane : Slope
        The old surface [mm].

    Yields
    ------
    Finding
        One to a zone [mm].
    """
    by = roofing_practice.ZONE_PONDS
    for zone in zones:
        step = field_mm - zone.thickness_mm
        if step <= 0:
            says = (
                f"The zone {zone.name} of {zone.thickness_mm} mm is no thinner than the "
                f"{field_mm} mm round it: it is laid like the rest."
            )
            take_out = cure("Take it out of the job.")
            yield finding("zone-even", zone.id, "note", says, by, remedy=take_out)
            continue
        deep = zoning.held_back(zone, field_mm, plan, falls, plane)
        if deep > by:
            yield _ponds(zone, step, deep, field_mm, plan, falls, plane)
        else:
            says = (
                f"At {zone.name} the boards step down {step} mm, from {field_mm} to "
                f"{zone.thickness_mm}: a tilt fillet along the step, so that the sheet does not "
                "bridge it, and the fall tried with water before it is covered."
            )
            yield finding("zone-step", zone.id, "note", says, by, deep)


def _ponds(
    zone: ZoneAt, step: int, deep: float, field_mm: int, plan: Plan, falls: Falls, plane: Slope
) -> Finding:
    by = roofing_practice.ZONE_PONDS
    says = (
        f"The zone {zone.name} lies {step} mm lower than the boards below it: water would stand "
        f"{deep:.0f} mm deep in it. It must run down to the eaves or to an outlet."
    )
    reach = _far(plan)
    path = f"design.thin_zones[{zone.name}].in_m"
    longer = zoning.deeper(zone, reach, plan)
    drains = longer and zoning.held_back(longer, field_mm, plan, falls, plane) <= by
    way = (
        cure("Run it down the roof to the edge.", (path, reach))
        if drains
        else cure("Move it, run it to the edge, or make an outlet in it.")
    )
    return finding("zone-ponds", zone.id, "stop", says, by, deep, way)


def _far(plan: Plan) -> float:
    """Return a depth that crosses the whole roof, in whole metres."""
    xs, ys = zip(*plan.deck, strict=True)
    return float(int(max(xs) - min(xs) + max(ys) - min(ys)) + 1)


def overflows(heights: tuple[Height, ...], plan: Plan, plane: Slope) -> Iterator[Finding]:
    """Stop an overflow that lies no lower than a door or a sill.

    Parameters
    ----------
    heights : tuple of Height
        Measured items, each above the old covering where it stands [mm].
    plan : Plan
        Where they stand [m].
    plane : Slope
        The old surface [mm].

    Yields
    ------
    Finding
        One to an overflow that would run too late [mm].
    """

    def level(item: Height) -> float:
        at = plan.side(item.side).place(item.along_m, item.in_m)
        return plane.at(at) + item.above_covering_mm

    by = roofing_practice.OVERFLOW_UNDER
    doors = [h for h in heights if h.kind in DOORS]
    for item in (h for h in heights if h.kind == "overflow"):
        lowest = min(doors, key=level, default=None)
        if lowest is None or level(item) < level(lowest):
            continue
        over = level(item) - level(lowest)
        says = (
            f"The overflow {item.name} lies {over:.0f} mm above {lowest.name}: with the outlet "
            "blocked, water comes in there before it runs over outside."
        )
        lower = cure("Cut the overflow lower than every door and sill.")
        yield finding("overflow-high", f"height:{item.name}", "stop", says, by, over, lower)


def doors(heights: tuple[Height, ...]) -> Iterator[Finding]:
    """Name the conditions under which 75 mm at a door are enough: each is a hold point.

    Parameters
    ----------
    heights : tuple of Height
        Measured items [mm].

    Yields
    ------
    Finding
        One to a threshold with a drained channel [mm].
    """
    low = roofing_practice.UPSTAND_AT_DOOR
    for item in low_doors(heights):
        says = (
            f"{low:.0f} mm at {item.name} hold only with all of these, each looked at before the "
            f"next work covers it: {'; '.join(says for _, says in _conditions())}."
        )
        yield finding("threshold-low", f"height:{item.name}", "note", says, low)


def low_doors(heights: tuple[Height, ...]) -> tuple[Height, ...]:
    """Pick the thresholds that rely on a drained channel.

    Parameters
    ----------
    heights : tuple of Height
        Measured items [mm].

    Returns
    -------
    tuple of Height
        In the order measured [-].
    """
    return tuple(h for h in heights if h.kind == "threshold" and h.drained_channel)


def _conditions() -> tuple[tuple[int, str], ...]:
    """Name what must be seen at a low door, and at which hold point."""
    reveal, gap = roofing_practice.DOOR_REVEAL, roofing_practice.DOOR_GAP
    return (
        (DETAILS, f"the sheet {reveal:.0f} mm up both reveals and the wall"),
        (DETAILS, "its top taken fully under the bottom rail of the frame and sealed"),
        (EDGES, "a drained channel across the whole door, and water poured into it runs away"),
        (EDGES, f"{gap:.0f} mm or more between the frame and the channel"),
    )


def hold_points(heights: tuple[Height, ...]) -> Iterator[Table]:
    """List the hold points that low doors bring.

    Parameters
    ----------
    heights : tuple of Height
        Measured items [mm].

    Yields
    ------
    Table
        Hold point, place and what must be seen; none where no door is low [-].
    """
    rows = tuple((n, h.name, says) for h in low_doors(heights) for n, says in _conditions())
    if rows:
        low = roofing_practice.UPSTAND_AT_DOOR
        columns = (("hold point", "-"), ("at", "-"), ("seen", "-"))
        yield Table("Hold points at low doors", columns, rows, low.source, low.basis)

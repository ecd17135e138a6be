"""What holds the boards: wind zones, and every screw in its piece, or the centres of the beads."""

from __future__ import annotations

from shapely.geometry import Polygon

from evenfall.drawing import (
    NOTE,
    Area,
    Circle,
    Drawing,
    Group,
    Layer,
    Text,
    corners,
    frame_plan,
)
from evenfall.drawing.inks import HatchName
from evenfall.model.surveyed import Point, Ring
from evenfall.model.taken_off import PieceFixed
from evenfall.stages.papers.drawn_plan import mm
from evenfall.stages.papers.worked import WorkedRoof

HEAD_MM = 22.0  # radius of a screw's washer as drawn, mm of roof
ZONES: dict[str, HatchName] = {"F": "wall", "G": "deck", "H": "none", "I": "none"}
KILO = 1000
LETTER_M2 = 0.25  # smaller parts of a zone carry no letter


def draw_fixings(worked: WorkedRoof) -> Drawing:
    """Draw the fixing plan: each screw where boards are screwed, else the bead centres by zone.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Drawing
        The plan in its frame [mm].
    """
    fixings, plan = worked.fixings, worked.plan
    glued = not fixings.pieces
    ring = tuple(mm(p) for p in plan.deck)
    zones = tuple(
        Area((tuple(mm(p) for p in z.ring),), ZONES[z.zone], "hair", weight="thin", dash="limit")
        for z in worked.wind.zones
    )
    letters = tuple(
        Text(*_inside(z.ring), f"{z.zone} {z.bead_mm}" if glued else z.zone, NOTE, bold=True,
             halo=True)
        for z in worked.wind.zones
        if z.area_m2 > LETTER_M2
    )  # fmt: skip
    holes = tuple(tuple(mm(p) for p in o.hole) for o in plan.openings if o.diameter_mm is None)
    layers = (
        Layer("wind zones", zones),
        Layer("boards", tuple(
            Area((tuple((float(x), float(y)) for x, y in b.ring),), "none", weight="line")
            for b in worked.boards.pieces)),
        Layer("openings", tuple(Area((h,), "plain", weight="line") for h in holes)),
        Layer("screws", tuple(_screws(f) for f in fixings.pieces)),
        Layer("zone letters", letters),
        Layer("roof outline", (Area((ring,), "none", weight="cut"),)),
        Layer("corners", corners(ring, [c.name for c in plan.corners])),
    )  # fmt: skip
    title = "Bead plan" if glued else "Fixing plan"
    return frame_plan(Drawing(title, _alt(worked), layers), mm(plan.deck[0]))


def draw_zones(worked: WorkedRoof) -> Drawing:
    """Draw the wind zones, each with its letter and its worst pull.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Drawing
        The plan in its frame [mm].
    """
    plan, zones = worked.plan, worked.wind.zones
    ring = tuple(mm(p) for p in plan.deck)
    areas = tuple(
        Area((tuple(mm(p) for p in z.ring),), ZONES[z.zone], "hair", weight="thin", dash="limit")
        for z in zones
    )
    told = tuple(
        Text(*_inside(z.ring), f"{z.zone} {-z.pressure.value / KILO:.2f}", NOTE, bold=True)
        for z in zones
        if z.area_m2 > LETTER_M2
    )
    layers = (
        Layer("wind zones", areas),
        Layer("zone letters", told),
        Layer("roof outline", (Area((ring,), "none", weight="cut"),)),
        Layer("corners", corners(ring, [c.name for c in plan.corners])),
    )
    most = {
        z.zone: -z.pressure.value / KILO for z in sorted(zones, key=lambda z: -z.pressure.value)
    }
    said = ", ".join(f"{zone} {pull:.2f}" for zone, pull in sorted(most.items()))
    alt = f"Wind zones with their worst pull in kN/m²: {said}. Paired strokes: F. Rules: G."
    return frame_plan(Drawing("Wind zones, pull in kN/m²", alt, layers), mm(plan.deck[0]))


def _alt(worked: WorkedRoof) -> str:
    """Say in words what the drawing shows."""
    fixings, wind = worked.fixings, worked.wind
    if not fixings.pieces:
        beads = {z.zone: z.bead_mm for z in sorted(wind.zones, key=lambda z: -z.bead_mm)}
        told = ", ".join(f"{zone} {mm_} mm" for zone, mm_ in sorted(beads.items()))
        return f"Bead plan: centres of the beads of adhesive by wind zone: {told}."
    most: dict[str, int] = {}
    for z in wind.zones:
        most[z.zone] = max(z.per_board, most.get(z.zone, 0))
    told = ", ".join(f"{zone}: {n} a board" for zone, n in sorted(most.items()))
    lengths = " and ".join(f"{band.length_mm}" for band in wind.screws)
    return (
        f"Fixing plan: {fixings.screws.value:.0f} screws of {lengths} mm in "
        f"{len(fixings.pieces)} pieces. Wind zones {told}."
    )


def _inside(ring: Ring) -> Point:
    """Find a place for a letter within a part of a zone, corners and all."""
    at = Polygon([mm(p) for p in ring]).representative_point()
    return float(at.x), float(at.y)


def _screws(fixed: PieceFixed) -> Group:
    """Draw the screws of one piece."""
    heads = tuple(
        Circle(float(x), float(y), HEAD_MM, "ink", "thin", fill="ink") for x, y in fixed.places
    )
    says = f"piece {fixed.piece}: {len(fixed.places)} screws, zone {fixed.zone}"
    return Group(f"fixing:{fixed.piece}", says, heads)

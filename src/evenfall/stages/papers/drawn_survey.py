"""What was found and what will be, as lines of level: contours, ponds, ellipses, thinner zones."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from evenfall.drawing import (
    NOTE,
    TICK,
    Area,
    Arrow,
    Circle,
    Dimension,
    Drawing,
    Group,
    Item,
    Label,
    Layer,
    Line,
    Pool,
)
from evenfall.model import surveyed
from evenfall.model.surveyed import CornerAt, Point, SideAt, TapeAt
from evenfall.stages.papers.words import spoken
from evenfall.stages.papers.worked import WorkedRoof

MM = 1000
GROWN = 30.0  # how many times an error ellipse is drawn larger than it is
TURNS = 24  # sides of an ellipse
REACH = 230.0  # half the length of an arrow of fall, mm
APART_M = 0.55  # least distance of two arrows of fall, m
LOW = 0.15  # where in a zone its words stand, from its lower edge
INSIDE = -46.0  # where a dimension along a wall stands, paper units from its side
OUTSIDE = 44.0  # where a dimension along an open edge stands, paper units from its side
SHORT_M = 1.0  # a shorter side has no room for a dimension with its ticks
CLEAR = 8  # how far a level stands off its dot, paper units
WORDED_M2 = 0.15  # a smaller pond is drawn without its depth


def contours(lines: Sequence[surveyed.Contour]) -> Iterator[Item]:
    """Draw lines of one level.

    Parameters
    ----------
    lines : sequence of Contour
        Levels, and their lines in metres [mm].

    Yields
    ------
    Item
        A group to a level [mm].
    """
    for contour in lines:
        drawn = tuple(
            Line(tuple((x * MM, y * MM) for x, y in line), "hair", "hair")
            for line in contour.lines
            if len(line) > 1
        )
        if drawn:
            yield Group(f"contour:{contour.z_mm:g}", f"level {contour.z_mm:.0f} mm", drawn)


def ponds(found: Sequence[surveyed.Pond]) -> Iterator[Item]:
    """Draw standing water with its depth.

    Parameters
    ----------
    found : sequence of Pond
        Ponds [m].

    Yields
    ------
    Item
        A group to a pond [mm].
    """
    for pond in found:
        ring = tuple((x * MM, y * MM) for x, y in pond.rings[0])
        told = f"{pond.depth_mm:.0f} deep" if pond.area_m2 >= WORDED_M2 else ""
        name = f"{pond.depth_mm:.0f} mm deep over {pond.area_m2:.1f} m², {pond.volume_l:.0f} l"
        words = Label(pond.deepest[0] * MM, pond.deepest[1] * MM, told, TICK, "water", bold=True,
                      seat="beside") if told else None  # fmt: skip
        yield Group(pond.id, name, (Pool(ring), *((words,) if words else ())))


def falling(arrows: Sequence[surveyed.Arrow]) -> Iterator[Item]:
    """Draw arrows of fall, no two so near that they could not be told apart.

    Parameters
    ----------
    arrows : sequence of Arrow
        The fall at many points [m].

    Yields
    ------
    Item
        Arrows [mm].
    """
    kept: list[Point] = []
    for arrow in arrows:
        if all(math.dist(arrow.at, other) >= APART_M for other in kept):
            kept.append(arrow.at)
            (x, y), (u, v) = arrow.at, arrow.towards
            tail = (x * MM - REACH * u, y * MM - REACH * v)
            yield Arrow(tail, (x * MM + REACH * u, y * MM + REACH * v))


def zones(worked: WorkedRoof) -> Iterator[Item]:
    """Draw where the boards are thinner, with the step in words.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Yields
    ------
    Item
        A group to a zone [mm].
    """
    for zone in worked.zones.zones:
        if zone.thickness_mm >= worked.rise.chosen_mm:
            continue
        rings = [tuple((x * MM, y * MM) for x, y in ring) for ring in zone.rings]
        xs, ys = zip(*rings[0], strict=True)
        told = f"boards {zone.thickness_mm}, not {worked.rise.chosen_mm}"
        middle = ((min(xs) + max(xs)) / 2, min(ys) + LOW * (max(ys) - min(ys)))
        edge = tuple(Area((r,), "none", "pencil", "line", "before") for r in rings)
        label = Label(*middle, told, TICK, "pencil")
        yield Group(zone.id, f"{spoken(zone.name)}, {told} mm", (*edge, label))


def ellipses(corners: Sequence[CornerAt]) -> Iterator[Item]:
    """Draw how well each corner is known, many times larger than it is.

    Parameters
    ----------
    corners : sequence of CornerAt
        Corners, with their error ellipses in mm [m].

    Yields
    ------
    Item
        A group to a corner [mm].
    """
    for corner in corners:
        long, short = (half * GROWN for half in corner.ellipse_mm)
        if not long:
            continue
        turn = math.radians(corner.ellipse_turn_deg)
        ring = tuple(
            (
                corner.x_m * MM + long * math.cos(t) * math.cos(turn)
                - short * math.sin(t) * math.sin(turn),
                corner.y_m * MM + long * math.cos(t) * math.sin(turn)
                + short * math.sin(t) * math.cos(turn),
            )
            for t in (2 * math.pi * n / TURNS for n in range(TURNS))
        )  # fmt: skip
        name = f"corner {corner.name}, good to {corner.give_or_take_mm:.1f} mm"
        yield Group(f"ellipse:{corner.name}", name, (Area((ring,), "none", "pencil", "thin"),))


def residual(side: SideAt, tapes: Sequence[TapeAt]) -> str:
    """Say how far a side lies off its tape, where that is a whole millimetre or more.

    Parameters
    ----------
    side : SideAt
        The side [m].
    tapes : sequence of TapeAt
        Readings with what was left over [mm].

    Returns
    -------
    str
        Such as ``+3``; nothing where it agrees or was not taped [-].
    """
    off = next((t.off_mm for t in tapes if t.id == f"tape:{side.name}"), 0.0)
    return f"{off:+.0f}".replace("-", "−") if abs(off) >= 1 else ""


def draw_survey(worked: WorkedRoof, plan: Drawing) -> Drawing:
    """Draw the roof as found: old felt, levels and contours, ponds, how well corners are known.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    plan : Drawing
        The plan of the finished roof, whose sheet, water and heights are exchanged [mm].

    Returns
    -------
    Drawing
        The survey in the same frame [mm].
    """
    ring = tuple((x * MM, y * MM) for x, y in worked.plan.deck)
    levels = worked.levels
    low = min((s.z_mm for s in levels.spots), default=0.0)
    spots = tuple(_spot((s.at[0] * MM, s.at[1] * MM), f"{s.z_mm - low:.0f}") for s in levels.spots)
    put = {
        "roof outline": (
            Layer("roof outline", (Area((ring,), "felt", weight="cut"),)),
            Layer("contours", tuple(contours(levels.contours))),
            Layer("ponds", tuple(ponds(levels.ponds))),
            Layer("corner ellipses", tuple(ellipses(worked.plan.corners))),
        ),
        "water": (Layer("falls", tuple(falling(levels.arrows))), Layer("levels", spots)),
        "tapes": (Layer("tapes", tuple(_taped(worked))),),
    }
    layers = tuple(new for layer in plan.layers for new in put.get(layer.name, (layer,)))
    gone = ("finished contours", "finished ponds", "zones", "heights", "names")
    kept = tuple(layer for layer in layers if layer.name not in gone)
    alt = (
        f"The roof as found: {len(levels.spots)} levels above its lowest point, corners good to "
        f"{worked.plan.good_to_mm:.0f} mm, water stands in {len(levels.ponds)} places."
    )
    return replace(plan, title=f"{plan.title}, as found", alt=alt, layers=kept)


def dimension(side: SideAt, text: str) -> Item:
    """Measure a side; a short one beside its neighbours has only a number that finds its place.

    Parameters
    ----------
    side : SideAt
        The side [m].
    text : str
        Its length as lettered [-].

    Returns
    -------
    Item
        Dimension or label [mm].
    """
    a, b = ((x * MM, y * MM) for x, y in (side.a, side.b))
    if side.length_m < SHORT_M:
        return Label((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, text, TICK, bold=True, seat="beside")
    return Dimension(a, b, text, INSIDE if side.kind in ("wall", "step") else OUTSIDE)


def _taped(worked: WorkedRoof) -> Iterator[Item]:
    """Give the sides as worked, each with how far its tape was off."""
    for side in worked.plan.sides:
        off = residual(side, worked.plan.taped)
        text = f"{side.length_m:.3f}" + (f" ({off})" if off else "")
        said = f"side {side.name}, {text}"
        yield Group(f"tape:{side.name}", said, (dimension(side, text),))


def _spot(at: Point, height: str) -> Group:
    dot = Circle(*at, MM / 24, weight="thin", fill="ink")
    label = Label(*at, height, NOTE, bold=True, seat="beside", clear=CLEAR)
    return Group(f"level:{at}", f"level {height} mm", (dot, label))

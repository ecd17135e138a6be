"""True sections: the eaves before and after, and the tightest place under something that stays."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evenfall.drawing import (
    NOTE,
    TICK,
    Area,
    Box,
    Break,
    Dimension,
    Drawing,
    Item,
    Layer,
    Line,
    Staff,
    Text,
)
from evenfall.drawing.inks import Ink
from evenfall.model.designed import HeightAt
from evenfall.model.surveyed import Point, SideAt
from evenfall.stages.papers.layers import Course, courses, fascia_depth
from evenfall.stages.papers.section_parts import (
    CAP,
    band,
    behind,
    gutter,
    joist,
    named,
    parapet_upstand,
    standing,
)
from evenfall.stages.papers.words import spoken
from evenfall.stages.papers.worked import WorkedRoof

MM = 1000
DEPTH = 620.0  # how much of the roof a section shows, mm
WALL_MM = 215.0  # how thick a wall is drawn; nobody measured it
BELOW = 60.0  # how far the section reaches below the joists, mm
TIMBER_MM = 50.0  # width of the edge timber as drawn, mm
UP = 13  # how far lettering stands over its line, paper units
ASIDE = 26  # how far lettering stands beside its line, paper units
HOLES_APART = 19.0  # least distance of two holes on the stick, mm at one to ten
SCALE = 10.0  # sections are printed at one to ten
EDGES = ("eaves", "verge", "party_line", "parapet")


@dataclass(frozen=True, slots=True)
class Stack:
    """The layers of a section: courses with their lower and upper height at both ends."""

    rows: tuple[tuple[Course, tuple[float, float], tuple[float, float]], ...]

    def top(self, share: float) -> float:
        """Height of the finished surface; share 0 is the first end, 1 the second [mm]."""
        _, _, (a, b) = self.rows[-1]
        return a + (b - a) * share


def _stack(worked: WorkedRoof, first: float, second: float) -> Stack:
    """Pile the courses up; the wedge differs between the two ends."""
    low = (0.0, 0.0)
    rows = []
    for course in courses(worked, max(first, second)):
        wedge = course.name in ("firring", "taper")
        a, b = (first, second) if wedge else (course.thickness_mm, course.thickness_mm)
        high = (low[0] + a, low[1] + b)
        rows.append((course, low, high))
        low = high
    return Stack(tuple(rows))


def _draw_stack(stack: Stack, x0: float, x1: float, inset: float = 0.0) -> Iterator[Item]:
    """Draw each course between two ends; boards and overlay stop short of the edge timber."""
    for course, (a, b), (c, d) in stack.rows:
        left = x0 + (inset if course.name in ("board", "taper", "overlay") else 0.0)
        if course.name == "vcl":
            yield Line(((x0, a), (x1, b)), "evening", "cut")
        elif course.name == "sheet":
            yield Line(((x0, c), (x1, d)), "ink", "cut")
        else:
            yield band((left, a, c), (x1, b, d), course.hatch)


def eaves_side(worked: WorkedRoof) -> SideAt | None:
    """Find the edge that the section is drawn at: the low side if it is open, else the next best.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    SideAt or None
        An eaves, verge, party line or parapet; None where walls stand all round [-].
    """
    sides = worked.plan.sides
    low = [s for s in sides if s.name == worked.falls.low_side and s.kind in EDGES]
    ranked = [*low, *(s for kind in EDGES for s in sides if s.kind == kind)]
    return ranked[0] if ranked else None


def draw_eaves_section(worked: WorkedRoof) -> Drawing:
    """Draw the true section at the eaves, with the line of the old roof.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Drawing
        The section, outside on the left; where no edge is open, the tightest place instead [mm].
    """
    side = eaves_side(worked)
    if side is None:
        return draw_height_section(worked) or _bare(worked)
    at = side.length_m / 2
    first = worked.falls.added_at(side.place(at))
    second = worked.falls.added_at(side.place(at, DEPTH / MM))
    stack = _stack(worked, first, second)
    old = worked.case.job.survey.covering.thickness_mm
    rise = stack.top(0) - old
    inset = 0.0 if side.kind == "parapet" else TIMBER_MM
    layers = [
        Layer("structure", tuple(_structure(worked, side))),
        Layer("build-up", tuple(_draw_stack(stack, 0.0, DEPTH, inset))),
        Layer("edge", tuple(_edge(worked, side, stack))),
        Layer("old roof", tuple(_old(worked, side, old))),
        Layer("names", tuple(_names(worked, stack, old))),
        Layer("measures", tuple(_rise(worked, side, stack, old))),
        Layer("breaks", (Break((DEPTH, stack.top(1) + CAP), (DEPTH, _foot(worked) - CAP)),)),
    ]
    kind = spoken(side.kind)
    alt = (
        f"Section at {side.name}, {kind}: the new surface lies {rise:.0f} mm above the old felt. "
        f"From the deck up: {', '.join(c.says for c, _, _ in stack.rows)}."
    )
    return Drawing(f"Section at the {kind}, {side.name}", alt, tuple(layers), SCALE)


def _foot(worked: WorkedRoof) -> float:
    survey = worked.case.job.survey
    return -survey.deck.thickness_mm - survey.joists.depth_mm


def _bare(worked: WorkedRoof) -> Drawing:
    """Draw the layers alone, for a roof shut in by walls with nothing measured beside it."""
    side = worked.plan.sides[0]
    added = worked.falls.added_at(side.place(side.length_m / 2))
    stack = _stack(worked, added, added)
    old = worked.case.job.survey.covering.thickness_mm
    layers = (
        Layer("structure", tuple(_structure(worked, side))),
        Layer("build-up", tuple(_draw_stack(stack, 0.0, DEPTH))),
        Layer("names", tuple(_names(worked, stack, old))),
    )
    return Drawing("Section of the field", "The layers from the deck up.", layers, SCALE)


def _structure(worked: WorkedRoof, side: SideAt) -> Iterator[Item]:
    """Deck, joists and the wall below, from the edge of the deck inwards."""
    survey = worked.case.job.survey
    deck, depth = survey.deck.thickness_mm, survey.joists.depth_mm
    across = worked.plan.side(survey.joists.along).along
    runs_in = abs(across[0] * side.outwards[0] + across[1] * side.outwards[1]) > 0.5
    yield Area((Box(0.0, -deck, DEPTH, 0.0).ring,), "wood", weight="line")
    yield from joist(survey.joists, -deck, DEPTH, runs_in)
    measured = next(s for s in survey.sides if s.side == side.name)
    if side.kind in ("eaves", "verge", "party_line"):
        face = measured.overhang_mm
        slot = measured.wall_head.slot_height_mm if measured.wall_head else 0.0
        head, foot = -deck - slot, -deck - depth - BELOW
        back = face + WALL_MM
        yield from behind(Box(face, foot, back, min(head, -deck)), runs_in, -deck - depth)
        filled = worked.case.job.design.wall_head == "fill"
        if measured.wall_head and (filled or measured.wall_head.state == "filled"):
            deep = min(measured.wall_head.slot_width_mm, WALL_MM)
            yield Area((Box(face, head, face + deep, -deck).ring,), "wool", "pencil", "thin")


def _edge(worked: WorkedRoof, side: SideAt, stack: Stack) -> Iterator[Item]:
    """Edge timber, trim, fascia and gutter; or the upstand of a parapet."""
    survey, design = worked.case.job.survey, worked.case.job.design
    measured = next(s for s in survey.sides if s.side == side.name)
    vcl = next(high[0] for c, _, high in stack.rows if c.name == "vcl")
    top = stack.top(0)
    if side.kind == "parapet":
        height = (measured.parapet_height_mm or 0.0) + survey.covering.thickness_mm
        yield from parapet_upstand(height, top, -survey.deck.thickness_mm - BELOW)
        return
    yield Area((Box(0.0, vcl, TIMBER_MM, top).ring,), "wood", weight="line")
    kerb = design.kerb_height_mm if side.kind != "eaves" else 0.0
    if kerb:
        yield Area((Box(0.0, top, TIMBER_MM, top + kerb).ring,), "wood", weight="line")
        yield Line(((TIMBER_MM, top), (TIMBER_MM, top + kerb), (0.0, top + kerb)), "ink", "cut")
    depth = fascia_depth(worked, side.name)
    thick = max(measured.fascia_thickness_mm, TIMBER_MM / 4)
    if depth:
        yield Area((Box(-thick, top + kerb - depth, 0.0, top + kerb).ring,), weight="line")
    drip = thick + TIMBER_MM / 4
    lip = ((0.0, top + kerb), (-drip, top + kerb), (-drip, top + kerb - TIMBER_MM))
    yield Line(lip, "ink", "cut")
    hung = next((g for g in survey.gutters if g.side == side.name), None)
    if hung is not None:
        above = top if design.gutter == "renew" else survey.covering.thickness_mm
        yield gutter(-thick, above - hung.top_below_covering_mm, hung.width_mm)


def _old(worked: WorkedRoof, side: SideAt, old: float) -> Iterator[Item]:
    """Dash the old felt, fascia and gutter."""
    measured = next(s for s in worked.case.job.survey.sides if s.side == side.name)
    yield Line(((0.0, old), (DEPTH, old)), "pencil", "thin", "before")
    if side.kind != "parapet" and measured.fascia_depth_mm:
        thick = max(measured.fascia_thickness_mm, TIMBER_MM / 4)
        foot = old - measured.fascia_depth_mm
        ring = ((0.0, old), (-thick, old), (-thick, foot), (0.0, foot))
        yield Line(ring, "pencil", "thin", "before")


def _names(worked: WorkedRoof, stack: Stack, old: float) -> Iterator[Item]:
    """Letter the layers in a column beside the section, each on its own height."""
    rows = [(f"{c.says}", (b + d) / 2) for c, (_, b), (_, d) in stack.rows]
    deck = worked.case.job.survey.deck
    lines = [(f"deck, {spoken(deck.kind)} {deck.thickness_mm:g}", -deck.thickness_mm / 2), *rows]
    yield from named([*lines, ("old felt", old)], DEPTH)


def _rise(worked: WorkedRoof, side: SideAt, stack: Stack, old: float) -> Iterator[Item]:
    """Measure the rise at the edge, and the depth of the fascia before and after."""
    top = stack.top(0)
    inside = TIMBER_MM * 3
    share = inside / DEPTH
    yield Dimension((inside, stack.top(share)), (inside, old), f"{top - old:.0f} up", 0.0,
                    "worked", TICK)  # fmt: skip
    measured = next(s for s in worked.case.job.survey.sides if s.side == side.name)
    depth = fascia_depth(worked, side.name)
    if depth and side.kind != "parapet":
        kerb = worked.case.job.design.kerb_height_mm if side.kind != "eaves" else 0.0
        thick = max(measured.fascia_thickness_mm, TIMBER_MM / 4)
        gone = next((g.width_mm for g in worked.case.job.survey.gutters if g.side == side.name), 0)
        x = -thick - gone - TIMBER_MM
        top += kerb
        yield Dimension((x, top), (x, top - depth), f"fascia {depth:.0f}", 0.0, "worked", TICK)
        if measured.fascia_depth_mm:
            before = measured.fascia_depth_mm
            x -= TIMBER_MM * 3 / 2
            text = f"was {before:.0f}"
            yield Dimension((x, old), (x, old - before), text, 0.0, "taped", TICK, "pencil")


# --- the tightest place --------------------------------------------------------------------------

BESIDE = ("sill", "sash", "threshold", "dpc", "flashing", "weep", "air_brick")


def tightest(worked: WorkedRoof) -> HeightAt | None:
    """Find the item beside the roof with the least room left.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    HeightAt or None
        None where nothing stands beside the roof [-].
    """
    return next((h for h in worked.heights.items if h.kind in BESIDE), None)


def draw_height_section(worked: WorkedRoof) -> Drawing | None:
    """Draw the true section at the tightest item, with the rise stick beside it.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Drawing or None
        The section, the wall on the right; None where nothing stands beside the roof [mm].
    """
    item = tightest(worked)
    if item is None:
        return None
    added = item.build_up.value - sum(c.thickness_mm for c in courses(worked, 0.0))
    inward = _inward(worked, item.at)
    stack = _stack(worked, max(added + inward, 0.0), added)
    top, old = item.build_up.value, worked.case.job.survey.covering.thickness_mm
    name = spoken(item.name)
    layers = (
        Layer("structure", tuple(_deck(worked))),
        Layer("build-up", tuple(_draw_stack(stack, -DEPTH, 0.0))),
        Layer("wall", tuple(standing(item, WALL_MM, -worked.case.job.survey.deck.thickness_mm))),
        Layer("upstand", tuple(_upstand(item, top))),
        Layer("old roof", (Line(((-DEPTH, old), (0.0, old)), "pencil", "thin", "before"),)),
        Layer("names", tuple(_named_left(stack, old))),
        Layer("rise stick", tuple(_stick(worked, item))),
    )
    left = item.margin.value
    room = f"{left:.0f} mm left" if left >= 0 else f"{-left:.0f} mm short"
    alt = (
        f"Section at {name}: the sheet lies {top:.0f} mm above the deck, the {spoken(item.kind)} "
        f"{item.available.value:.0f}; {item.required:.0f} mm of upstand are asked for, {room}."
    )
    return Drawing(f"Section at {name}", alt, layers, SCALE)


def _inward(worked: WorkedRoof, at: Point) -> float:
    """Return how much less or more the wedge adds away from the wall, over the section's depth."""
    near = min(worked.plan.sides, key=lambda s: _off(s, at))
    inside = (at[0] - near.outwards[0] * DEPTH / MM, at[1] - near.outwards[1] * DEPTH / MM)
    return worked.falls.added_at(inside) - worked.falls.added_at(at)


def _off(side: SideAt, at: Point) -> float:
    (u, v), (x, y) = side.along, (at[0] - side.a[0], at[1] - side.a[1])
    t = min(max(x * u + y * v, 0.0), side.length_m)
    return float(((x - t * u) ** 2 + (y - t * v) ** 2) ** 0.5)


def _deck(worked: WorkedRoof) -> Iterator[Item]:
    deck = worked.case.job.survey.deck.thickness_mm
    yield Area((Box(-DEPTH, -deck, 0.0, 0.0).ring,), "wood", weight="line")
    yield from joist(worked.case.job.survey.joists, -deck, DEPTH, False, -DEPTH)


def _upstand(item: HeightAt, top: float) -> Iterator[Item]:
    """Turn the sheet up the wall, and measure what must stay and what is left."""
    must = top + item.required
    yield Line(((0.0, top), (0.0, min(must, item.available.value))), "ink", "cut")
    x = -TIMBER_MM
    yield Dimension((x, must), (x, top), f"{item.required:.0f}", 0.0, "worked", TICK)
    yield Text(x, (must + top) / 2, "upstand", TICK, "end", shift=(-ASIDE, 0))
    left = item.margin.value
    told = f"{left:.0f} mm left" if left >= 0 else f"{-left:.0f} mm short"
    height = item.available.value
    yield Line(((-DEPTH, height), (0.0, height)), "ink", "line", "limit")
    ink: Ink = "chalk" if left < TIMBER_MM / 2 else "ink"
    yield Text(x, max(must, height), told, NOTE, "end", ink, bold=True, shift=(0, UP))


def _named_left(stack: Stack, old: float) -> Iterator[Item]:
    for course, (a, _), (c, _) in stack.rows:
        if c - a > TIMBER_MM:
            yield Text(-DEPTH / 2, (a + c) / 2, course.says, NOTE, bold=True)
    top = stack.rows[-1][2][0]
    yield Text(-DEPTH / 2, top, "sheet", TICK, shift=(0, UP))
    yield Text(-DEPTH + TIMBER_MM, old, "old felt", TICK, "start", "pencil")


def _stick(worked: WorkedRoof, item: HeightAt) -> Iterator[Item]:
    """Stand the staff beside the section: a hole at each surface that boards on sale would give."""
    base = item.build_up.value - worked.rise.chosen_mm
    limit = item.available.value - item.required
    most = max(limit, item.build_up.value) + 2 * TIMBER_MM
    shown = [item.build_up.value]
    for row in worked.rise.rows:
        hole = base + row.thickness_mm
        if hole < most and all(abs(hole - h) >= HOLES_APART for h in shown):
            shown.append(hole)
    x = -DEPTH - 2 * TIMBER_MM
    yield Break((-DEPTH, item.build_up.value + CAP), (-DEPTH, _foot(worked) - CAP))
    yield Staff(x, 0.0, most, tuple(shown[1:]), item.build_up.value, limit)
    yield Break((x - TIMBER_MM / 2, most), (x + TIMBER_MM / 2, most))

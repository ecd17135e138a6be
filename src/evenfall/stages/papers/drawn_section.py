"""The true section at the eaves, before and after."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from evenfall.drawing import (
    TICK,
    Area,
    Box,
    Break,
    Dimension,
    Drawing,
    Item,
    Layer,
    Line,
)
from evenfall.model.surveyed import SideAt
from evenfall.stages.papers.drawn_beside import draw_height_section
from evenfall.stages.papers.layers import fascia_depth, trim_depth
from evenfall.stages.papers.section_parts import (
    CAP,
    behind,
    gutter,
    joist,
    named,
    parapet_upstand,
)
from evenfall.stages.papers.stacked import Stack, chain, drawn_stack, foot, pile
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
CHAIN = 70.0  # room for the chain of sizes beside a section, mm
HIGH = 40.0  # how far a size stands over the edge, or under the wall, mm
EDGES = ("eaves", "verge", "party_line", "parapet")


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


def draw_eaves_section(worked: WorkedRoof, at_side: str = "") -> Drawing:
    """Draw the true section at the eaves, with the line of the old roof.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    at_side : str
        Name of another open side to draw instead, such as ``A-B`` [-].

    Returns
    -------
    Drawing
        The section, outside on the left; where no edge is open, the tightest place instead [mm].
    """
    side = worked.plan.side(at_side) if at_side else eaves_side(worked)
    if side is None or side.kind not in EDGES:
        return (None if at_side else draw_height_section(worked)) or _bare(worked, at_side)
    return draw_edge_section(worked, side)


def draw_edge_section(worked: WorkedRoof, side: SideAt, scale: float = SCALE) -> Drawing:
    """Draw the true section at the middle of an open edge, with the line of the old roof.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    side : SideAt
        An eaves, verge, party line or parapet [m].
    scale : float
        The n of 1:n; a section larger than 1:10 has every layer measured [-].

    Returns
    -------
    Drawing
        The section, outside on the left [mm].
    """
    at = side.length_m / 2
    first = worked.falls.added_at(side.place(at))
    second = worked.falls.added_at(side.place(at, DEPTH / MM))
    stack = pile(worked, first, second)
    old = worked.case.job.survey.covering.thickness_mm
    rise = stack.top(0) - old
    inset = 0.0 if side.kind == "parapet" else TIMBER_MM
    layers = [
        Layer("structure", tuple(_structure(worked, side, stack))),
        Layer("build-up", tuple(drawn_stack(stack, 0.0, DEPTH, inset))),
        Layer("edge", tuple(_edge(worked, side, stack))),
        Layer("old roof", tuple(_old(worked, side, old))),
        Layer("names", tuple(_names(worked, stack, old, scale))),
        Layer("measures", tuple(_rise(worked, side, stack, old))),
        Layer("breaks", (Break((DEPTH, stack.top(1) + CAP), (DEPTH, foot(worked) - CAP)),)),
    ]
    if scale < SCALE:
        layers.append(Layer("sizes", tuple(_sizes(worked, side, stack))))
    kind = spoken(side.kind)
    alt = (
        f"Section at {side.name}, {kind}: the new surface lies {rise:.0f} mm above the old felt. "
        f"From below: {', '.join(c.says for c, _, _ in stack.rows)}."
    )
    return Drawing(f"Section at the {kind}, {side.name}", alt, tuple(layers), scale)


def _bare(worked: WorkedRoof, at_side: str = "") -> Drawing:
    """Draw the layers alone, for a roof shut in by walls with nothing measured beside it."""
    side = worked.plan.side(at_side) if at_side else worked.plan.sides[0]
    added = worked.falls.added_at(side.place(side.length_m / 2))
    stack = pile(worked, added, added)
    old = worked.case.job.survey.covering.thickness_mm
    layers = (
        Layer("structure", tuple(_structure(worked, side, stack))),
        Layer("build-up", tuple(drawn_stack(stack, 0.0, DEPTH))),
        Layer("wall", tuple(_wall(side, stack, foot(worked)))),
        Layer("old roof", (Line(((0.0, old), (DEPTH, old)), "pencil", "thin", "before"),)),
        Layer("names", tuple(_names(worked, stack, old, SCALE))),
    )
    shown = tuple(layer for layer in layers if layer.items)
    title = f"Section at {at_side}" if at_side else "Section of the field"
    return Drawing(title, "The layers from the deck up.", shown, SCALE)


def _wall(side: SideAt, stack: Stack, low: float) -> Iterator[Item]:
    """Draw the wall beside the roof, and the sheet turned up it; nothing else is measured there."""
    if side.kind not in ("wall", "step"):
        return
    top = stack.top(0)
    head = top + WALL_MM * 3 / 2
    yield Area((Box(-WALL_MM, low - BELOW, 0.0, head).ring,), "wall", weight="line")
    yield Line(((0.0, top), (0.0, top + WALL_MM * 3 / 4)), "ink", "cut")
    yield Break((-WALL_MM - CAP, head), (CAP, head))
    yield Break((-WALL_MM - CAP, low - BELOW), (CAP, low - BELOW))


def _structure(worked: WorkedRoof, side: SideAt, stack: Stack) -> Iterator[Item]:
    """Deck, joists and the wall below, from the edge of the deck inwards."""
    survey = worked.case.job.survey
    deck, depth = survey.deck.thickness_mm, survey.joists.depth_mm
    across = worked.plan.side(survey.joists.along).along
    runs_in = abs(across[0] * side.outwards[0] + across[1] * side.outwards[1]) > 0.5
    if not stack.lifts_deck:
        yield Area((Box(0.0, -deck, DEPTH, 0.0).ring,), "wood", weight="line")
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
    yield from joist(survey.joists, -deck, DEPTH, runs_in)


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
    yield from _timbers(worked, side.name, vcl, top)
    kerb = design.kerb_height_mm if side.kind != "eaves" else 0.0
    if kerb:
        yield Area((Box(0.0, top, TIMBER_MM, top + kerb).ring,), "wood", weight="line")
        yield Line(((TIMBER_MM, top), (TIMBER_MM, top + kerb), (0.0, top + kerb)), "ink", "cut")
    depth = fascia_depth(worked, side.name)
    thick = max(measured.fascia_thickness_mm, TIMBER_MM / 4)
    if depth:
        yield Area((Box(-thick, top + kerb - depth, 0.0, top + kerb).ring,), weight="line")
    drip = thick + TIMBER_MM / 4
    band = trim_depth(worked, side.name) or TIMBER_MM
    lip = ((0.0, top + kerb), (-drip, top + kerb), (-drip, top + kerb - band))
    yield Line(lip, "ink", "cut")
    hung = next((g for g in worked.water.hung if g.side == side.name), None)
    if hung is not None:
        yield gutter(-thick, top - (hung.drop.value - hung.lift.value), hung)


def _timbers(worked: WorkedRoof, side: str, foot_: float, top: float) -> Iterator[Item]:
    """Draw the edge timber course by course, the uppermost planed down to the boards."""
    courses = [c for c in worked.lengths.courses if c.side == side]
    at = foot_
    for course in courses[:-1]:
        high = min(at + course.thick_mm, top)
        yield Area((Box(0.0, at, TIMBER_MM, high).ring,), "wood", weight="line")
        at = high
    yield Area((Box(0.0, at, TIMBER_MM, top).ring,), "wood", weight="line")


def _old(worked: WorkedRoof, side: SideAt, old: float) -> Iterator[Item]:
    """Dash the old felt, the deck where it is lifted, the old fascia and the old gutter."""
    survey = worked.case.job.survey
    measured = next(s for s in survey.sides if s.side == side.name)
    yield Line(((0.0, old), (DEPTH, old)), "pencil", "thin", "before")
    hung = next((g for g in survey.gutters if g.side == side.name), None)
    if hung is not None:
        thick = max(measured.fascia_thickness_mm, TIMBER_MM / 4)
        line = gutter(-thick, old - hung.top_below_covering_mm, hung)
        yield replace(line, ink="pencil", weight="thin", dash="before")
    if side.kind != "parapet" and measured.fascia_depth_mm:
        thick = max(measured.fascia_thickness_mm, TIMBER_MM / 4)
        foot = old - measured.fascia_depth_mm
        ring = ((0.0, old), (-thick, old), (-thick, foot), (0.0, foot))
        yield Line(ring, "pencil", "thin", "before")


def _names(worked: WorkedRoof, stack: Stack, old: float, scale: float) -> Iterator[Item]:
    """Letter the layers in a column beside the section, each on its own height."""
    rows = [(f"{c.says}", (b + d) / 2) for c, (_, b), (_, d) in stack.rows]
    deck = worked.case.job.survey.deck
    if not stack.lifts_deck:
        rows.insert(0, (f"deck, {spoken(deck.kind)} {deck.thickness_mm:g}", -deck.thickness_mm / 2))
    x = DEPTH if scale == SCALE else DEPTH + CHAIN
    yield from named([*rows, ("old felt", old)], x, scale)


def _sizes(worked: WorkedRoof, side: SideAt, stack: Stack) -> Iterator[Item]:
    """Measure every layer at the break, the timber, the kerb and the overhang."""
    survey = worked.case.job.survey
    yield from chain(stack, DEPTH + CHAIN / 2)
    if side.kind == "parapet":
        return
    top, under = stack.top(0), foot(worked) - BELOW
    kerb = worked.case.job.design.kerb_height_mm if side.kind != "eaves" else 0.0
    over = top + kerb + HIGH
    yield Dimension((0.0, over), (TIMBER_MM, over), f"{TIMBER_MM:.0f}", 0.0, "worked", TICK)
    if kerb:
        x = TIMBER_MM + CAP
        yield Dimension((x, top + kerb), (x, top), f"kerb {kerb:.0f}", 0.0, "worked", TICK)
    measured = next(s for s in survey.sides if s.side == side.name)
    if measured.overhang_mm:
        words = f"overhang {measured.overhang_mm:.0f}"
        yield Dimension((0.0, under - HIGH), (measured.overhang_mm, under - HIGH), words,
                        0.0, "taped", TICK)  # fmt: skip


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
        gone = next((g.width_mm for g in worked.water.hung if g.side == side.name), 0)
        x = -thick - gone - TIMBER_MM
        top += kerb
        yield Dimension((x, top), (x, top - depth), f"fascia {depth:.0f}", 0.0, "worked", TICK)
        if measured.fascia_depth_mm:
            before = measured.fascia_depth_mm
            x -= TIMBER_MM * 3 / 2
            text = f"was {before:.0f}"
            yield Dimension((x, old), (x, old - before), text, 0.0, "taped", TICK, "pencil")

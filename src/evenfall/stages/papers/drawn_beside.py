"""The true section at the tightest place beside the roof, with the rise stick."""

from __future__ import annotations

from collections.abc import Iterator

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
from evenfall.model.standing import HeightAt
from evenfall.model.surveyed import Point, SideAt
from evenfall.stages.papers.layers import courses
from evenfall.stages.papers.section_parts import CAP, flashed, joist, named, standing
from evenfall.stages.papers.stacked import Stack, chain, drawn_stack, foot, pile
from evenfall.stages.papers.words import spoken
from evenfall.stages.papers.worked import WorkedRoof

MM = 1000
DEPTH = 620.0  # how much of the roof a section shows, mm
WALL_MM = 215.0  # how thick a wall is drawn; nobody measured it
TIMBER_MM = 50.0  # as wide as the edge timber in the section at the eaves, mm
UP = 13  # how far lettering stands over its line, paper units
ASIDE = 26  # how far lettering stands beside its line, paper units
HOLES_APART = 19.0  # least distance of two holes on the stick, mm at one to ten
CHAIN = 70.0  # room for the chain of sizes beside a section, mm
SCALE = 10.0  # sections are printed at one to ten
BESIDE = (
    "sill", "sash", "threshold", "dpc", "cavity_tray", "flashing", "weep", "air_brick",
    "party_line", "overflow",
)  # fmt: skip


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
    return None if item is None else draw_beside(worked, item)


def draw_beside(worked: WorkedRoof, item: HeightAt, scale: float = SCALE) -> Drawing:
    """Draw the true section at an item beside the roof.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    item : HeightAt
        A sill, threshold, damp-proof course or the like [mm].
    scale : float
        The n of 1:n; up to 1:10 the rise stick stands beside it, larger the layers are measured
        [-].

    Returns
    -------
    Drawing
        The section, the wall on the right [mm].
    """
    stack, base = _at(worked, item)
    top, old = item.build_up.value, base + worked.case.job.survey.covering.thickness_mm
    name = spoken(item.name)
    layers = (
        Layer("structure", tuple(_deck(worked, base, stack))),
        Layer("build-up", tuple(drawn_stack(stack, -DEPTH, 0.0))),
        Layer("wall", tuple(standing(item, WALL_MM, -worked.case.job.survey.deck.thickness_mm))),
        Layer("upstand", tuple(_upstand(item, top))),
        Layer("old roof", (Line(((-DEPTH, old), (0.0, old)), "pencil", "thin", "before"),)),
        *(_large(worked, stack, old, item) if scale < SCALE else _small(worked, stack, old, item)),
    )
    left = item.margin.value
    room = f"{left:.0f} mm left" if left >= 0 else f"{-left:.0f} mm short"
    alt = (
        f"Section at {name}: the sheet lies {top:.0f} mm above the deck, the {spoken(item.kind)} "
        f"{item.available.value:.0f}; {item.required:.0f} mm of upstand are asked for, {room}."
    )
    return Drawing(f"Section at {name}", alt, layers, scale)


def _small(worked: WorkedRoof, stack: Stack, old: float, item: HeightAt) -> tuple[Layer, ...]:
    return (
        Layer("names", tuple(_named_left(stack, old))),
        Layer("rise stick", tuple(_stick(worked, item))),
    )


def _large(worked: WorkedRoof, stack: Stack, old: float, item: HeightAt) -> tuple[Layer, ...]:
    """Name and measure every layer at the left end; close the upstand under its flashing."""
    return (
        Layer("names", tuple(names_left(worked, stack, old, -DEPTH, scale=SCALE / 2))),
        Layer("sizes", tuple(chain(stack, -DEPTH - CHAIN / 2, first=True))),
        Layer("flashing", tuple(_flashing(item))),
        Layer("breaks", (Break((-DEPTH, stack.top(0) + CAP), (-DEPTH, foot(worked) - CAP)),)),
    )


def names_left(
    worked: WorkedRoof, stack: Stack, old: float, x: float, scale: float
) -> Iterator[Item]:
    """Letter every layer in a column left of a section.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    stack : Stack
        The layers [mm].
    old : float
        Height of the old felt [mm].
    x, scale : float
        Where the section ends [mm]; the n of 1:n [-].

    Yields
    ------
    Item
        Leaders and words [mm].
    """
    rows = [(c.says, (a + b) / 2) for c, (a, _), (b, _) in stack.rows]
    deck = worked.case.job.survey.deck
    if not stack.lifts_deck:
        foot_of = stack.rows[0][1][0]
        told = f"deck, {spoken(deck.kind)} {deck.thickness_mm:g}"
        rows.insert(0, (told, foot_of - deck.thickness_mm / 2))
    yield from named([*rows, ("old felt", old)], x - CHAIN, scale, leftwards=True)


def _flashing(item: HeightAt) -> Iterator[Item]:
    """Hold the upstand with a bar, and cover it with a flashing let into the wall."""
    if item.kind in ("sill", "sash", "threshold", "overflow", "party_line"):
        return
    head = min(item.build_up.value + item.required, item.available.value)
    yield from flashed(head, WALL_MM)


def part(item: HeightAt, name: str) -> float:
    """Take one part of the build-up at an item.

    Parameters
    ----------
    item : HeightAt
        The item [mm].
    name : str
        Such as ``board`` [-].

    Returns
    -------
    float
        Its thickness; nought where it has none [mm].
    """
    return sum(float(v) for n, _, v in item.build_up.of if n == name)


def _at(worked: WorkedRoof, item: HeightAt) -> tuple[Stack, float]:
    """Pile the courses up as they lie where an item governs, on the deck there."""
    base, boards = part(item, "uphill"), part(item, "board")
    laid = sum(c.thickness_mm for c in courses(worked, 0.0, boards))  # on the deck
    added = max(item.build_up.value - base - laid, 0.0)
    inward = _inward(worked, item.at)
    return pile(worked, max(added + inward, 0.0), added, base, boards), base


def _inward(worked: WorkedRoof, at: Point) -> float:
    """Return how much less or more the wedge adds away from the wall, over the section's depth."""
    near = min(worked.plan.sides, key=lambda s: _off(s, at))
    inside = (at[0] - near.outwards[0] * DEPTH / MM, at[1] - near.outwards[1] * DEPTH / MM)
    return worked.falls.added_at(inside) - worked.falls.added_at(at)


def _off(side: SideAt, at: Point) -> float:
    (u, v), (x, y) = side.along, (at[0] - side.a[0], at[1] - side.a[1])
    t = min(max(x * u + y * v, 0.0), side.length_m)
    return float(((x - t * u) ** 2 + (y - t * v) ** 2) ** 0.5)


def _deck(worked: WorkedRoof, base: float, stack: Stack) -> Iterator[Item]:
    deck = base - worked.case.job.survey.deck.thickness_mm
    if not stack.lifts_deck:
        yield Area((Box(-DEPTH, deck, 0.0, base).ring,), "wood", weight="line")
    yield from joist(worked.case.job.survey.joists, deck, DEPTH, False, -DEPTH)


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
    base = item.build_up.value - part(item, "board")
    limit = item.available.value - item.required
    most = max(limit, item.build_up.value) + 2 * TIMBER_MM
    shown = [item.build_up.value]
    for row in worked.rise.rows:
        hole = base + row.thickness_mm
        if hole < most and all(abs(hole - h) >= HOLES_APART for h in shown):
            shown.append(hole)
    x = -DEPTH - 2 * TIMBER_MM
    yield Break((-DEPTH, item.build_up.value + CAP), (-DEPTH, foot(worked) - CAP))
    yield Staff(x, 0.0, most, tuple(shown[1:]), item.build_up.value, limit)
    yield Break((x - TIMBER_MM / 2, most), (x + TIMBER_MM / 2, most))

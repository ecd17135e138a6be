"""One section at 1:5 for each kind of edge."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.drawing import TICK, Area, Box, Break, Dimension, Drawing, Item, Layer, Line
from evenfall.model.standing import HeightAt
from evenfall.model.surveyed import SideAt
from evenfall.stages.papers.drawn_beside import BESIDE, draw_beside, names_left
from evenfall.stages.papers.drawn_section import draw_edge_section, eaves_side
from evenfall.stages.papers.section_parts import ABOVE, CAP, flashed, joist
from evenfall.stages.papers.stacked import Stack, chain, drawn_stack, foot, pile
from evenfall.stages.papers.words import listed, spoken
from evenfall.stages.papers.worked import WorkedRoof
from evenfall.standards.roofing_practice import UPSTAND

MM = 1000
SCALE = 5.0  # details are printed at one to five
DEPTH = 620.0  # how much of the roof a section shows, mm
WALL_MM = 215.0  # how thick a wall is drawn; nobody measured it
CHAIN = 70.0  # room for the chain of sizes beside a section, mm
OPEN = ("eaves", "verge", "party_line", "parapet")
KINDS = (*OPEN, "wall", "step")


def of_each_kind(worked: WorkedRoof) -> tuple[SideAt, ...]:
    """Pick one side of each kind: the low side, the one with the least room left, or the longest.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of SideAt
        One of each kind that there is [m].
    """
    lowest, found = eaves_side(worked), []
    for kind in KINDS:
        sides = worked.plan.of_kind(kind)
        if not sides:
            continue
        if lowest is not None and lowest.kind == kind:
            found.append(lowest)
            continue
        tight = {side_of(worked, h): n for n, h in reversed(list(enumerate(_beside(worked))))}
        found.append(min(sides, key=lambda s: (tight.get(s.name, len(tight) + MM), -s.length_m)))
    return tuple(found)


def _beside(worked: WorkedRoof) -> tuple[HeightAt, ...]:
    """Give what stands beside the roof and is no window: each window has a section of its own."""
    windows = ("window:", "sash:")
    return tuple(
        h for h in worked.heights.items if h.kind in BESIDE and not h.id.startswith(windows)
    )


def side_of(worked: WorkedRoof, item: HeightAt) -> str:
    """Name the side at which an item stands.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    item : HeightAt
        The item [mm].

    Returns
    -------
    str
        Such as A-B [-].
    """
    survey = worked.case.job.survey
    sides = {f"height:{h.name}": h.side for h in survey.heights}
    sides |= {f"window:{w.name}": w.side for w in survey.windows}
    return sides.get(item.id, "")


def draw_detail(worked: WorkedRoof, side: SideAt) -> Drawing:
    """Draw the section at an edge at 1:5, every layer measured, the old roof dashed.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    side : SideAt
        The edge [m].

    Returns
    -------
    Drawing
        Outside on the left, a wall on the right [mm].
    """
    if side.kind in OPEN:
        return draw_edge_section(worked, side, SCALE)
    item = next((h for h in _beside(worked) if side_of(worked, h) == side.name), None)
    return _wall(worked, side) if item is None else draw_beside(worked, item, SCALE)


def alike(worked: WorkedRoof, side: SideAt) -> str:
    """Say which sides a section stands for.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    side : SideAt
        The one that is drawn [m].

    Returns
    -------
    str
        A sentence; empty where there is no other of its kind [-].
    """
    others = [s.name for s in worked.plan.of_kind(side.kind) if s.name != side.name]
    if not others:
        return ""
    return f"Drawn at {side.name}. {listed(others)} in the same way, to the measures taken there."


def _wall(worked: WorkedRoof, side: SideAt) -> Drawing:
    """Draw the section at a wall at which nothing was measured: the usual upstand."""
    middle, survey = side.length_m / 2, worked.case.job.survey
    inner, outer = (worked.falls.added_at(side.place(middle, d)) for d in (DEPTH / MM, 0.0))
    stack, old = pile(worked, inner, outer), survey.covering.thickness_mm
    top, head = stack.top(1), stack.top(1) + UPSTAND
    low = foot(worked) - ABOVE / 4
    wall = Box(0.0, low, WALL_MM, head + ABOVE)
    layers = (
        Layer("structure", tuple(_deck(worked, stack))),
        Layer("build-up", tuple(drawn_stack(stack, -DEPTH, 0.0))),
        Layer("wall", (Area((wall.ring,), "wall", weight="line"),
                       Break((-CAP, wall.y1), (WALL_MM + CAP, wall.y1)),
                       Break((-CAP, low), (WALL_MM + CAP, low)))),
        Layer("upstand", (Line(((0.0, top), (0.0, head)), "ink", "cut"),)),
        Layer("flashing", tuple(flashed(head, WALL_MM))),
        Layer("old roof", (Line(((-DEPTH, old), (0.0, old)), "pencil", "thin", "before"),)),
        Layer("names", tuple(names_left(worked, stack, old, -DEPTH, SCALE))),
        Layer("sizes", (*chain(stack, -DEPTH - CHAIN / 2, first=True), *_upstand(top, head))),
        Layer("breaks", (Break((-DEPTH, stack.top(0) + CAP), (-DEPTH, foot(worked) - CAP)),)),
    )  # fmt: skip
    kind = spoken(side.kind)
    alt = (
        f"Section at {side.name}, {kind}: the sheet lies {top:.0f} mm above the deck and is turned "
        f"up {UPSTAND:.0f} mm, held by a bar under a flashing. Nothing was measured on this wall."
    )
    return Drawing(f"Section at the {kind}, {side.name}", alt, layers, SCALE)


def _upstand(top: float, head: float) -> Iterator[Item]:
    x = -2 * CAP
    words = f"upstand {head - top:.0f}"
    yield Dimension((x, head), (x, top), words, 0.0, "worked", TICK)


def _deck(worked: WorkedRoof, stack: Stack) -> Iterator[Item]:
    deck = worked.case.job.survey.deck.thickness_mm
    if not stack.lifts_deck:
        yield Area((Box(-DEPTH, -deck, 0.0, 0.0).ring,), "wood", weight="line")
    yield from joist(worked.case.job.survey.joists, -deck, DEPTH, False, -DEPTH)

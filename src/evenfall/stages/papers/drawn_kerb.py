"""The section at the kerb of a rooflight, at 1:5: new kerb, sheet, lining, the old kerb dashed."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.drawing import TICK, Area, Box, Break, Dimension, Drawing, Item, Layer, Line, Text
from evenfall.model.surveyed import OpeningAt, Point
from evenfall.stages.papers.drawn_beside import names_left
from evenfall.stages.papers.section_parts import CAP, joist
from evenfall.stages.papers.stacked import Stack, chain, drawn_stack, foot, pile
from evenfall.stages.papers.words import spoken
from evenfall.stages.papers.worked import WorkedRoof
from evenfall.standards.edge_practice import LINING
from evenfall.standards.roofing_practice import KERB_TIMBER, UPSTAND

MM = 1000
SCALE = 5.0  # details are printed at one to five
DEPTH = 520.0  # how much of the roof a section shows, mm
CHAIN = 70.0  # room for the chain of sizes beside a section, mm
GLASS_MM = 260.0  # how much of the rooflight is drawn, mm
FRAME_MM = 45.0  # how high its frame is drawn; the maker's own differs
BESIDE = 26.0  # from the kerb to its lettering, mm


def drawn_kerb(worked: WorkedRoof, opening: OpeningAt) -> Drawing:
    """Draw the section at the uphill side of a rooflight kerb.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    opening : OpeningAt
        A rooflight [m].

    Returns
    -------
    Drawing
        The roof on the left, the opening on the right [mm].
    """
    survey, design = worked.case.job.survey, worked.case.job.design
    at, out = _uphill(worked, opening)
    far = (at[0] + out[0] * DEPTH / MM, at[1] + out[1] * DEPTH / MM)
    stack = pile(worked, worked.falls.added_at(far), worked.falls.added_at(at))
    old = survey.covering.thickness_mm
    head = max(old + opening.kerb_height_mm, stack.top(1) + UPSTAND)
    stands = stack.top(1) if opening.on_boards else stack.rows[_vcl(stack)][1][1]
    lined = LINING * MM if design.rooflight_kerbs == "insulate" else 0.0
    kerb = Box(0.0, stands, KERB_TIMBER * MM, head)
    layers = (
        Layer("structure", tuple(_structure(worked, stack))),
        Layer("build-up", tuple(drawn_stack(stack, -DEPTH, kerb.x1 if opening.on_boards else 0.0))),
        Layer("kerb", tuple(_kerb(kerb, stack.top(1), lined))),
        Layer("rooflight", tuple(_light(kerb, lined))),
        Layer("old roof", tuple(_old(old, opening.kerb_height_mm))),
        Layer("names", tuple(names_left(worked, stack, old, -DEPTH, SCALE))),
        Layer("kerb names", tuple(_names(kerb, lined, opening.on_boards))),
        Layer("sizes", tuple(_sizes(stack, kerb, lined))),
        Layer("breaks", (Break((-DEPTH, stack.top(0) + CAP), (-DEPTH, foot(worked) - CAP)),)),
    )
    words = spoken(opening.name)
    where = "boards" if opening.on_boards else "deck"
    alt = (
        f"Section at the kerb of {words}, uphill: the kerb stands on the {where}, its top "
        f"{head - stack.top(1):.0f} mm above the sheet, the old one {opening.kerb_height_mm:.0f} "
        f"above the old felt; {f'insulated outside with {lined:.0f} mm' if lined else 'bare'}."
    )
    return Drawing(f"Section at the kerb of {words}", alt, layers, SCALE)


def _vcl(stack: Stack) -> int:
    return next(n for n, (course, _, _) in enumerate(stack.rows) if course.name == "vcl")


def _uphill(worked: WorkedRoof, opening: OpeningAt) -> tuple[Point, Point]:
    """Find the middle of the side of the opening that water comes to, and the way out of it."""
    x, y = worked.falls.downhill
    ring = opening.ring
    middles = [
        ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)
    ]
    at = min(middles, key=lambda m: (m[0] * x + m[1] * y, m))
    away = (at[0] - opening.centre[0], at[1] - opening.centre[1])
    long = (away[0] ** 2 + away[1] ** 2) ** 0.5
    return at, (away[0] / long, away[1] / long)


def _structure(worked: WorkedRoof, stack: Stack) -> Iterator[Item]:
    survey = worked.case.job.survey
    deck, joists = survey.deck.thickness_mm, survey.joists
    if not stack.lifts_deck:
        yield Area((Box(-DEPTH, -deck, KERB_TIMBER * MM, 0.0).ring,), "wood", weight="line")
    trimmer = Box(0.0, foot(worked), joists.width_mm, -deck)
    yield Area((trimmer.ring,), "wood", weight="line")
    yield from joist(joists, -deck, DEPTH, True, -DEPTH)


def _kerb(kerb: Box, top: float, lined: float) -> Iterator[Item]:
    """Draw timber, lining and the sheet dressed up over both."""
    yield Area((kerb.ring,), "wood", weight="line")
    if lined:
        yield Area((Box(-lined, top, 0.0, kerb.y1).ring,), "foam", weight="thin")
    face = -lined
    yield Line(((face - CAP, top), (face, top), (face, kerb.y1), (kerb.x1, kerb.y1)), "ink", "cut")


def _light(kerb: Box, lined: float) -> Iterator[Item]:
    """Draw frame and glass over the kerb; the maker's own look differs."""
    face, low = -lined - CAP / 2, kerb.y1
    frame = Box(face, low, kerb.x1 + CAP, low + FRAME_MM)
    yield Area((frame.ring,), "plain", weight="line")
    yield Line(((face, low), (face, low - CAP)), "ink", "line")
    for up in (FRAME_MM * 3 / 5, FRAME_MM * 4 / 5):
        yield Line(((kerb.x1 + CAP, low + up), (kerb.x1 + GLASS_MM, low + up)), "ink", "thin")
    end = kerb.x1 + GLASS_MM
    yield Break((end, low + FRAME_MM + CAP), (end, low))


def _old(old: float, kerb: float) -> Iterator[Item]:
    """Dash the old felt and the old kerb."""
    yield Line(((-DEPTH, old), (0.0, old), (0.0, old + kerb), (KERB_TIMBER * MM, old + kerb)),
               "pencil", "thin", "before")  # fmt: skip


def _names(kerb: Box, lined: float, on_boards: bool) -> Iterator[Item]:
    x = kerb.x1 + BESIDE
    stands = "boards" if on_boards else "deck"
    rows = [("rooflight, frame by its maker", kerb.y1 - CAP),
            (f"kerb {KERB_TIMBER * MM:.0f}, on the {stands}", (kerb.y0 + kerb.y1) / 2),
            ("sheet over the kerb", kerb.y1 - 3 * CAP)]  # fmt: skip
    rows += [(f"insulation {lined:.0f} outside", kerb.y1 - 5 * CAP)] if lined else []
    placed = sorted(rows, key=lambda r: -r[1])
    for n, (words, _) in enumerate(placed):
        yield Text(x, kerb.y1 - CAP - n * CAP, words, TICK, "start")


def _sizes(stack: Stack, kerb: Box, lined: float) -> Iterator[Item]:
    yield from chain(stack, -DEPTH - CHAIN / 2, first=True)
    x, top = -lined - 2 * CAP, stack.top(1)
    yield Dimension((x, kerb.y1), (x, top), f"{kerb.y1 - top:.0f}", 0.0, "worked", TICK)
    inside = kerb.x1 + GLASS_MM * 4 / 5
    yield Dimension((inside, kerb.y1), (inside, kerb.y0), f"kerb {kerb.y1 - kerb.y0:.0f}", 0.0,
                    "worked", TICK)  # fmt: skip

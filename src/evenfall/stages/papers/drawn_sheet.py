"""The sheet plan and the VCL plan: every piece as it lies, with its number and its size."""

from __future__ import annotations

from itertools import combinations
from textwrap import wrap

from shapely.geometry import Polygon
from shapely.geometry import box as boxed

from evenfall.drawing import (
    NOTE,
    TICK,
    Area,
    Drawing,
    Group,
    Item,
    Layer,
    Text,
    corners,
    frame_plan,
    water_out,
)
from evenfall.drawing.sheet import Ring, box_of
from evenfall.stages.papers.drawn_plan import mm
from evenfall.stages.papers.worked import WorkedRoof

MM = 1000
NUMBER = ": "  # between the number of a piece and its size
LETTERS = 62  # letters in a line under a plan
UNDER = 64  # how far the first line stands under the plan, paper units
LAP_MM2 = 1000.0  # a smaller overlap is the rounding of an edge
LEADING = 18  # from line to line under a plan, paper units
ARROWS = (0.12, 0.88)  # where along the low side the arrows of water stand
PLACES = (0.5, 0.25, 0.75, 0.38, 0.62)  # tried along a piece, for lettering clear of openings
TELL_MM = 2400.0  # room that lettering takes along a piece
TALL_MM = 400.0  # room that lettering takes above and below its middle


def draw_sheet(worked: WorkedRoof) -> Drawing:
    """Draw the sheet plan: pieces as they lie over the edges, seams, and how they are rolled out.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Drawing
        The plan in its frame [mm].
    """
    sheet = worked.sheet
    rings = [_ring(r) for r in sheet.chosen.rings]
    named = [f"sheet {n}" for n in range(1, len(rings) + 1)]
    size = f"{sheet.chosen.width_mm / MM:.2f} × {sheet.chosen.cut_mm / MM:.2f} m"
    pieces = tuple(
        Group(
            f"sheet:{n}",
            name,
            (Area((r,), "none", weight="line"), *_told(worked, r, f"{n}{NUMBER}{size}")),
        )
        for n, (name, r) in enumerate(zip(named, rings, strict=True), 1)
    )
    alt = (
        f"Sheet plan: {sheet.chosen.says}, {sheet.mass.value:.0f} kg the heaviest piece, "
        f"{sheet.chosen.seam_mm / MM:.1f} m of seam, {sheet.chosen.t_joints} T-joints."
    )
    foot = list(sheet_steps(worked))
    return _plan(worked, "Sheet plan", alt, Layer("sheet", pieces), rings, foot)


def sheet_steps(worked: WorkedRoof) -> tuple[str, ...]:
    """Say how the sheet is rolled out, and list the strips up the kerbs.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of str
        Sentences in order [-].
    """
    sheet = worked.sheet
    strips = ", ".join(f"{u.length_mm} × {u.width_mm}" for u in sheet.upstands)
    steps = tuple(f"{n}. {step}" for n, step in enumerate(sheet.steps, 1))
    return (*steps, f"Strips up the kerbs, mm: {strips}.") if sheet.upstands else steps


def draw_rolls(worked: WorkedRoof) -> Drawing:
    """Draw the VCL plan: strips in the order of laying, laps, and which way they shed water.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Drawing
        The plan in its frame [mm].
    """
    rolls = worked.rolls
    rings = [_ring(s.ring) for s in rolls.strips]
    pieces = tuple(
        Group(f"vcl:{s.number}", f"piece {s.number} of roll {s.roll}", (
            Area((ring,), "none", "evening", weight="line"),
            *_told(worked, ring, f"{s.number}{NUMBER}{s.length_mm} mm, roll {s.roll}"),
        ))
        for s, ring in zip(rolls.strips, rings, strict=True)
    )  # fmt: skip
    up = _turn_up(worked)
    alt = (
        f"VCL plan: {len(rolls.strips)} pieces from {max(s.roll for s in rolls.strips)} rolls, "
        f"turned up {up} mm. They are laid by their numbers, from the low side."
    )
    return _plan(worked, "VCL plan", alt, Layer("vcl", pieces), rings, list(vcl_steps(worked)))


def _turn_up(worked: WorkedRoof) -> str:
    return f"{worked.rolls.turn_up.value:.0f}" if worked.rolls.turn_up else ""


def vcl_steps(worked: WorkedRoof) -> tuple[str, ...]:
    """Say how the VCL is laid, and list the strips round the kerbs.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of str
        Sentences in order [-].
    """
    steps = ("Lay by the numbers, from the low side; each laps over the one before it.",
             f"The outer line is the turn-up of {_turn_up(worked)} mm folded flat.")  # fmt: skip
    kerbs = ", ".join(f"{a} × {b}" for a, b in worked.rolls.kerb_strips)
    return (*steps, f"Strips round the kerbs, mm: {kerbs}.") if kerbs else steps


def _plan(
    worked: WorkedRoof, title: str, alt: str, pieces: Layer, rings: list[Ring], foot: list[str]
) -> Drawing:
    """Put the pieces over the roof, with its openings, its corners and the way of the water."""
    plan = worked.plan
    ring = tuple(mm(p) for p in plan.deck)
    holes = tuple(tuple(mm(p) for p in o.ring) for o in plan.openings)
    laps = tuple(Area((lap,), "felt", "hair", weight="hair") for lap in _laps(rings))
    box = box_of([p for r in rings for p in r])
    lines = [line for said in foot for line in wrap(said, LETTERS)]
    told = tuple(
        Text(box.x0, box.y0, line, TICK, "start", shift=(0, -UNDER - n * LEADING))
        for n, line in enumerate(lines)
    )
    layers = (
        Layer("laps", laps),
        Layer("roof outline", (Area((ring,), "none", weight="cut"),)),
        pieces,
        Layer("openings", tuple(Area((h,), "plain", weight="line") for h in holes)),
        Layer("water", _water(worked)),
        Layer("corners", corners(ring, [c.name for c in plan.corners])),
        Layer("steps", told),
    )
    return frame_plan(Drawing(title, alt, layers), mm(plan.deck[0]))


def _ring(points: tuple[tuple[int, int], ...]) -> Ring:
    return tuple((float(x), float(y)) for x, y in points)


def _laps(rings: list[Ring]) -> list[Ring]:
    """Find where two pieces lie over one another."""
    shapes = [Polygon(r) for r in rings]
    found = []
    for a, b in combinations(shapes, 2):
        over = a.intersection(b)
        if over.geom_type == "Polygon" and over.area > LAP_MM2:
            found.append(tuple((float(x), float(y)) for x, y in over.exterior.coords[:-1]))
    return found


def _told(worked: WorkedRoof, ring: Ring, words: str) -> tuple[Text, ...]:
    """Letter a piece clear of the openings; one too short for words has its number alone."""
    box = box_of(ring)
    if box.width < TELL_MM and box.height < TELL_MM:
        return (Text(*box.centre, words.split(NUMBER)[0], NOTE, bold=True),)
    holes = [Polygon([mm(p) for p in o.ring]) for o in worked.plan.openings]
    y = box.centre[1]
    spots = [(box.x0 + share * box.width, y) for share in PLACES]
    free = (
        (x, y)
        for x, y in spots
        if not any(
            hole.intersects(boxed(x - TELL_MM / 2, y - TALL_MM, x + TELL_MM / 2, y + TALL_MM))
            for hole in holes
        )
    )
    return (Text(*next(free, spots[0]), words, NOTE, bold=True),)


def _water(worked: WorkedRoof) -> tuple[Item, ...]:
    """Let the water leave over the low side."""
    x, y = worked.falls.downhill
    low = max(worked.plan.sides, key=lambda s: x * s.outwards[0] + y * s.outwards[1])
    return tuple(water_out(mm(low.a), mm(low.b), share) for share in ARROWS)

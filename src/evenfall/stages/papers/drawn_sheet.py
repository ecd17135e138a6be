"""The sheet plan and the VCL plan: every piece as it lies, with its number and its size."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise
from math import copysign
from textwrap import wrap

from shapely.geometry import LineString, Point, Polygon
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
from evenfall.model.taken_off import RollStrip, UpstandCut
from evenfall.stages.papers.drawn_plan import mm
from evenfall.stages.papers.worked import WorkedRoof

MM = 1000
NUMBER = ": "  # between the number of a piece and its size
LETTERS = 62  # letters in a line under a plan
UNDER = 64  # how far the first line stands under the plan, paper units
LAP_MM2 = 1000.0  # a smaller overlap is the rounding of an edge
UPRIGHT = 90.0  # lettering that climbs, in degrees
BESIDE_MM = 700.0  # between the sheet and a further cut of the roll
SOURCES = {
    "rest": "from what is left beside the sheet",
    "notch": "from the corner that the roof leaves free",
    "cut": "from the further cut",
}
READY_MADE = ("corner-patch", "rooflight-corner", "pipe-boot", "flue-collar", "t-patch")
LEADING = 18  # from line to line under a plan, paper units
ARROWS = (0.12, 0.88)  # where along the low side the arrows of water stand
PLACES = (
    0.5,
    0.25,
    0.75,
    0.38,
    0.62,
    0.32,
    0.68,
    0.2,
    0.8,
)  # tried along a piece, for lettering clear of openings
TELL_MM = 2400.0  # a shorter piece has its number alone
TALL_MM = 110.0  # room that lettering takes above and below its middle
LETTER_MM = 85.0  # room of one letter
ASIDE_MM = 120.0  # how far the number of a kerb strip stands outwards of its middle
CORNER_MM = 260.0  # a corner with its letter
ARROW_MM = 600.0  # length of an arrow of the water


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
        f"{_seams(worked)}."
    )
    foot = list(sheet_steps(worked))
    layers = (Layer("sheet", pieces), *_cut_lines(worked), *_further(worked, rings))
    return _plan(worked, "Sheet plan", alt, layers, rings, foot)


def _seams(worked: WorkedRoof) -> str:
    way = worked.sheet.chosen
    if not way.seam_mm:
        return "no seam"
    return f"{way.seam_mm / MM:.1f} m of seam, {way.t_joints} T-joints"


def sheet_steps(worked: WorkedRoof) -> tuple[str, ...]:
    """Say how the sheet is rolled out and where the pieces for its upstands come from.

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
    steps = [f"{n}. {step}" for n, step in enumerate(sheet.steps, 1)]
    for source, where in SOURCES.items():
        names = [f"{strip_name(c.number)} ({c.length_mm} × {c.width_mm})"
                 for c in sheet.cuts if c.source == source]  # fmt: skip
        if names:
            steps.append(f"Strips up the kerbs, mm, cut {where}: {', '.join(names)}.")
    steps.append("Broken line: what the sheet must cover, turn-ups folded flat. Leave what is "
                 "beyond it until it is dressed, but for the strips.")  # fmt: skip
    return (*steps, *_ready_made(worked))


def strip_name(number: int) -> str:
    """Name a piece that is cut for an upstand.

    Parameters
    ----------
    number : int
        Its number, from 1 [-].

    Returns
    -------
    str
        As on the plan and in the cut lists [-].

    Examples
    --------
    >>> strip_name(3)
    'K3'
    """
    return f"K{number}"


def _ready_made(worked: WorkedRoof) -> tuple[str, ...]:
    """Count the corner pieces, collars and patches; they are bought as they are, not cut."""
    lines = {line.id.partition(":")[2]: line for line in worked.items.order}
    told = [f"{lines[key].told:.0f} × {lines[key].says}" for key in READY_MADE if key in lines]
    return (f"Bought ready made, not cut from the sheet: {'; '.join(told)}.",) if told else ()


def _cut_lines(worked: WorkedRoof) -> tuple[Layer, ...]:
    """Draw where the sheet is cut back, and the strips that are cut from what is left of it."""
    sheet = worked.sheet
    line = Area((_ring(sheet.trim),), "none", weight="thin", dash="before")
    strips = tuple(_strip(c, (0, 0)) for c in sheet.cuts if c.source != "cut")
    return Layer("cut back", (line,) if sheet.trim else ()), Layer("kerb strips", strips)


def _further(worked: WorkedRoof, rings: list[Ring]) -> tuple[Layer, ...]:
    """Draw the further cut of the roll beside the roof, with the strips that come out of it."""
    sheet = worked.sheet
    long, wide = sheet.further_mm
    if not long:
        return ()
    box = box_of([p for r in rings for p in r])
    x, y = box.x1 + BESIDE_MM, box.y0
    whole = ((x, y), (x + long, y), (x + long, y + wide), (x, y + wide))
    says = f"further cut {wide / MM:.2f} × {long / MM:.2f} m"
    items: tuple[Item, ...] = (
        Area((whole,), "none", weight="line"),
        Text(x, y + wide / 2, says, NOTE, angle=UPRIGHT, shift=(-UNDER / 4, 0)),
        *(_strip(c, (x, y)) for c in sheet.cuts if c.source == "cut"),
    )
    return (Layer("further cut", items),)


def _strip(cut: UpstandCut, origin: tuple[float, float]) -> Group:
    """Draw a strip with its number, lettered along it; its size stands in the list below."""
    ring = tuple((x + origin[0], y + origin[1]) for x, y in _ring(cut.ring))
    box = box_of(ring)
    name = f"kerb strip {cut.number} of {cut.where}"
    angle = UPRIGHT if box.height > box.width else 0.0
    return Group(f"kerb-strip:{cut.number}", name, (
        Area((ring,), "plain", weight="line"),
        Text(*box.centre, strip_name(cut.number), NOTE, angle=angle),
    ))  # fmt: skip


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
    numbers = [*(s.roll for s in rolls.strips), *(k.roll for k in rolls.kerb_strips)]
    up, bought = _turn_up(worked), max(numbers)
    alt = (
        f"VCL plan: {len(rolls.strips)} pieces from {bought} rolls, "
        f"turned up {up} mm. They are laid by their numbers, from the low side."
    )
    strips = tuple(
        Group(f"vcl-kerb:{k.number}", f"strip {k.number} up the kerb of {k.where}", (
            Area((_ring(k.lap),), "none", "evening", weight="thin", dash="before"),
            Text(*_outside(worked, _ring(k.lap)), f"{k.number}", NOTE, bold=True),
        ))
        for k in rolls.kerb_strips
    )  # fmt: skip
    layers = (Layer("vcl", pieces), Layer("kerb strips", strips))
    return _plan(worked, "VCL plan", alt, layers, rings, list(vcl_steps(worked)))


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
             f"The outer line is the turn-up of {_turn_up(worked)} mm folded flat.",
             *_short(worked.rolls.strips))  # fmt: skip
    kerbs = worked.rolls.kerb_strips
    if not kerbs:
        return steps
    told = ", ".join(f"{k.number} ({k.length_mm} × {k.width_mm}, roll {k.roll})" for k in kerbs)
    under = " and ".join(f"{k.number}" for k in kerbs if k.goes_under)
    high = f" Lay {under}, on the high side, before the piece that ends there." if under else ""
    return (*steps, f"Strips up the kerbs, each lapped out onto the roof, mm: {told}.{high}")


def _plan(
    worked: WorkedRoof, title: str, alt: str, pieces: tuple[Layer, ...], rings: list[Ring],
    foot: list[str],
) -> Drawing:  # fmt: skip
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
        *pieces,
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
    if _is_short(ring):
        return (Text(*box.centre, words.split(NUMBER)[0], NOTE, bold=True),)
    shut = list(_marks(worked))
    long, y = LETTER_MM * len(words), box.centre[1]

    def hidden(x: float) -> int:
        room = boxed(x - long / 2, y - TALL_MM, x + long / 2, y + TALL_MM)
        return sum(mark.intersects(room) for mark in shut)

    x = min((box.x0 + share * box.width for share in PLACES), key=hidden)
    return (Text(x, y, words, NOTE, bold=True),)


def _is_short(ring: Ring) -> bool:
    """Tell whether a piece has its number alone in the drawing."""
    box = box_of(ring)
    return box.width < TELL_MM and box.height < TELL_MM


def _short(strips: tuple[RollStrip, ...]) -> tuple[str, ...]:
    """List the sizes of the pieces that are too short to be lettered with them."""
    told = ", ".join(
        f"{s.number} ({s.length_mm} × {s.width_mm}, roll {s.roll})"
        for s in strips if _is_short(_ring(s.ring))
    )  # fmt: skip
    return (f"Short pieces, mm: {told}.",) if told else ()


def _marks(worked: WorkedRoof) -> Iterator[Polygon]:
    """List what lettering keeps off: openings, corners, numbers, the arrows of the water."""
    for o in worked.plan.openings:
        yield Polygon([mm(p) for p in o.ring])
    for k in worked.rolls.kerb_strips:
        yield Point(*_outside(worked, _ring(k.lap))).buffer(2 * TALL_MM)
    for here, there in pairwise((*worked.plan.deck, worked.plan.deck[0])):
        yield LineString([mm(here), mm(there)])
        yield Point(*mm(here)).buffer(CORNER_MM)
    a, b = (mm(p) for p in _low(worked))
    x, y = worked.falls.downhill
    for share in ARROWS:
        foot = tuple(p + share * (q - p) for p, q in zip(a, b, strict=True))
        yield LineString([foot, (foot[0] - x * ARROW_MM, foot[1] - y * ARROW_MM)]).buffer(TALL_MM)


def _outside(worked: WorkedRoof, lap: Ring) -> tuple[float, float]:
    """Find a place for the number of a kerb strip where the opening does not cover it."""
    box = box_of(lap)
    strip, (x, y) = Polygon(lap), box.centre
    rings = [[mm(p) for p in o.ring] for o in worked.plan.openings]
    u, v = box_of(min(rings, key=lambda r: Polygon(r).distance(strip))).centre
    if box.width < box.height:
        return (x + copysign(ASIDE_MM, x - u), y)
    return (x, y + copysign(ASIDE_MM, y - v))


def _water(worked: WorkedRoof) -> tuple[Item, ...]:
    """Let the water leave over the low side."""
    a, b = _low(worked)
    return tuple(water_out(mm(a), mm(b), share) for share in ARROWS)


def _low(worked: WorkedRoof) -> tuple[tuple[float, float], tuple[float, float]]:
    """Find the side over which the water leaves."""
    x, y = worked.falls.downhill
    low = max(worked.plan.sides, key=lambda s: x * s.outwards[0] + y * s.outwards[1])
    return low.a, low.b

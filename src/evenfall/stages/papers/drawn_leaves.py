"""The tracing sheets: one roof in the order of the job, with sides, corners and marks above all."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from evenfall.drawing import (
    NOTE,
    TICK,
    Area,
    Drawing,
    Group,
    Inset,
    Item,
    Label,
    Layer,
    Line,
    NightLine,
    Tape,
    Text,
    frame_plan,
    water_out,
)
from evenfall.drawing.inks import HatchName, Ink
from evenfall.drawing.sheet import box_of
from evenfall.model.programmed import Day
from evenfall.model.surveyed import SideAt, TapeAt
from evenfall.model.words import by_the_quarter, short_day
from evenfall.stages.papers import drawn_boards, drawn_sheet, drawn_survey
from evenfall.stages.papers.drawn_plan import SIDES, draw_plan, mm
from evenfall.stages.papers.drawn_put_down import put_down
from evenfall.stages.papers.marking import chalked, marked
from evenfall.stages.papers.words import spoken
from evenfall.stages.papers.worked import WorkedRoof

LEAVES = ("found", "measured", "stripped", "tonight", "boards", "sheet", "finished")
"""The tracing sheets in the order of the job; each is what one sees there."""
MM = 1000
MISFIT_W = 3.29
"""Standardised residual beyond which a tape is drawn as one that does not fit: one in a thousand
sound readings lies further off (two-sided normal)."""
COVERS: dict[str, HatchName] = {"felt": "felt", "open": "deck", "vcl": "evening", "sheet": "plain"}
WORDS = {"felt": "old felt", "open": "open", "vcl": "VCL", "sheet": "sheet"}
REACH = 1100.0  # length of an arrow of water, mm
HALF_TURN = 180  # degrees; boarding looks the same turned by it
ARROWS = (0.3, 0.7)  # where along an edge the arrows of water stand
ABOVE = ("corners", "tapes", "chalk marks")
"""Layers that lie above every sheet."""


def draw_leaf(worked: WorkedRoof, leaf: str, day: int = 1) -> Drawing:
    """Draw one tracing sheet.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    leaf : str
        One of `LEAVES` [-].
    day : int
        Which day's evening, from 1, for ``tonight`` [-].

    Returns
    -------
    Drawing
        The plan in its frame; every side can be picked by its key [mm].
    """
    plan = draw_plan(worked, marked(worked, chalked(worked)))
    made: dict[str, Callable[[], Drawing]] = {
        "found": lambda: drawn_survey.draw_survey(worked, plan),
        "measured": lambda: _measured(worked, plan),
        "stripped": lambda: _stripped(worked, plan),
        "tonight": lambda: _tonight(worked, plan, day),
        "boards": lambda: _laid(worked, plan, drawn_boards.draw_boards(worked)),
        "sheet": lambda: _laid(worked, plan, drawn_sheet.draw_sheet(worked)),
        "finished": lambda: plan,
    }
    drawing = made[leaf]()
    picks = Layer("sides", tuple(_picked(s) for s in _from_the_house(worked.plan.sides)))
    at = next((i for i, x in enumerate(drawing.layers) if x.name == "corners"), 0)
    layers = (*drawing.layers[:at], picks, *drawing.layers[at:])
    return replace(drawing, layers=tuple(x for x in layers if x.items))


def _from_the_house(sides: Sequence[SideAt]) -> list[SideAt]:
    """Order the sides as one walks: clockwise from the first house wall."""
    first = next((i for i, s in enumerate(sides) if s.kind == "wall"), 0)
    return [sides[(first - i) % len(sides)] for i in range(len(sides))]


def _picked(side: SideAt) -> Group:
    """Draw a side once more, as the thing that is picked."""
    told = f"side {side.name}, {SIDES[side.kind]}, {side.length_m:.3f} m"
    return Group(f"pick:{side.name}", told, (Line((mm(side.a), mm(side.b)), weight="cut"),))


def _on(plan: Drawing, title: str, alt: str, under: tuple[Layer, ...]) -> Drawing:
    """Put layers of one sheet under what lies above every sheet."""
    by = {layer.name: layer for layer in plan.layers}
    walls = tuple(by[n] for n in ("walls",) if n in by)
    edges = tuple(by[n] for n in ("edges", "openings") if n in by)
    above = tuple(by[n] for n in ABOVE if n in by)
    return replace(plan, title=title, alt=alt, layers=(*walls, *under, *edges, *above))


# --- measured ------------------------------------------------------------------------------------


def _measured(worked: WorkedRoof, plan: Drawing) -> Drawing:
    """Draw every tape in its place; one that does not fit bows, or stops short."""
    ring = tuple(mm(p) for p in worked.plan.deck)
    sides = {s.id.removeprefix("side:") for s in worked.plan.sides}
    across = [t for t in worked.plan.taped if t.name not in sides]
    off = [t for t in worked.plan.taped if abs(t.w) > MISFIT_W]
    layers = (
        Layer("roof outline", (Area((ring,), "plain", weight="cut"),)),
        Layer("diagonals", tuple(_diagonal(t) for t in across if t not in off)),
        Layer("misfits", tuple(_misfit(t) for t in off)),
        Layer("corner ellipses", tuple(drawn_survey.ellipses(worked.plan.corners))),
    )
    alt = (
        f"Every tape in its place: {len(worked.plan.taped)} readings, corners good to "
        f"{worked.plan.good_to_mm:.0f} mm"
        + (f"; {len(off)} do not fit." if off else "; all of them fit.")
    )
    return _on(plan, f"{plan.title}, as taped", alt, layers)


def _diagonal(tape: TapeAt) -> Group:
    a, b = mm(tape.a), mm(tape.b)
    text = f"{tape.read_m:.3f}"
    off = f" ({tape.off_mm:+.0f})".replace("-", "−") if abs(tape.off_mm) >= 1 else ""
    word = Label((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, text + off, NOTE, "pencil")
    return Group(tape.id, f"tape {tape.name}, {text} m", (Line((a, b), "pencil", "thin"), word))


def _misfit(tape: TapeAt) -> Group:
    room = math.dist(tape.a, tape.b)
    sign = Tape(mm(tape.a), mm(tape.b), tape.read_m * MM, f"taped {tape.read_m:.3f}",
                f"room for {room:.3f}")  # fmt: skip
    return Group(tape.id, f"tape {tape.name} does not fit", (sign,))


# --- stripped, tonight ---------------------------------------------------------------------------


def _stripped(worked: WorkedRoof, plan: Drawing) -> Drawing:
    """Draw the bare deck, its boarding across the joists and the joists below in dashes."""
    ring = tuple(mm(p) for p in worked.plan.deck)
    joists = worked.case.job.survey.joists
    (u, v) = worked.plan.side(joists.along).along
    turn = math.degrees(math.atan2(u, -v))
    lines = tuple(
        Line((a, b), "pencil", "thin", "before") for a, b in _joists(worked, joists.spacing_mm)
    )
    layers = (
        Layer("roof outline", (Area((ring,), "deck", weight="cut", turn=turn % HALF_TURN),)),
        Layer("joists", lines),
        put_down(worked),
    )
    alt = (
        f"The bare deck: {spoken(worked.case.job.survey.deck.kind)} on joists "
        f"{joists.width_mm:.0f} × {joists.depth_mm:.0f} at {joists.spacing_mm:.0f} mm, along "
        f"{joists.along}. {worked.strip.mass.value:.0f} kg have come off."
        f"{' Dashed: where boards may be put down.' if worked.joists.put_down.most else ''}"
    )
    return _on(plan, f"{plan.title}, stripped", alt, layers)


def _joists(
    worked: WorkedRoof, spacing_mm: float
) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """Yield the joists as they would lie, the first against the first corner."""
    from shapely.geometry import LineString, Polygon

    side = worked.plan.side(worked.case.job.survey.joists.along)
    (u, v), (x, y) = side.along, mm(side.a)
    deck = Polygon([mm(p) for p in worked.plan.deck])
    reach = math.dist(deck.bounds[:2], deck.bounds[2:])
    count = int(reach // spacing_mm) + 1
    for i in range(-count, count + 1):
        px, py = x - v * i * spacing_mm, y + u * i * spacing_mm
        line = LineString([(px - u * reach, py - v * reach), (px + u * reach, py + v * reach)])
        cut = line.intersection(deck)
        for part in getattr(cut, "geoms", (cut,)):
            if part.geom_type == "LineString" and part.length > spacing_mm:
                a, *_, b = part.coords
                yield (a[0], a[1]), (b[0], b[1])


def _tonight(worked: WorkedRoof, plan: Drawing, number: int) -> Drawing:
    """Draw the roof at dusk of one day: what keeps the rain out, and where water leaves."""
    days = worked.programme.days
    if not days:
        ring = tuple(mm(p) for p in worked.plan.deck)
        bare = (Layer("roof outline", (Area((ring,), "felt", weight="cut"),)),)
        return _on(plan, "No day of work is planned yet", "The roof under its old felt.", bare)
    day = days[min(max(number, 1), len(days)) - 1]
    ring = tuple(mm(p) for p in worked.plan.deck)
    layers = (
        Layer("covers", tuple(_covers(worked, day))),
        Layer("roof outline", (Area((ring,), "none", weight="cut"),)),
        Layer("night lines", tuple(NightLine((mm(a), mm(b))) for a, b in day.evening.night_lines)),
        Layer("water", tuple(_leaving(worked, day))),
        Layer("cover words", tuple(_worded(worked, day))),
    )
    kinds = dict.fromkeys(WORDS[c] for _, c in day.evening.covers)
    alt = (
        f"The roof at dusk of {short_day(day.on)}: {' and '.join(kinds)}"
        f"{f', closed by {by_the_quarter(day.evening.sealed_by)}' if day.opens else ''}. "
        f"Water leaves by "
        f"{', '.join(spoken(w.split(':')[-1]) for w in day.evening.water_leaves_by)}."
    )
    return _on(plan, f"{short_day(day.on)}, at dusk", alt, layers)


def _covers(worked: WorkedRoof, day: Day) -> Iterator[Item]:
    covers = dict(day.evening.covers)
    for bay in worked.programme.bays:
        cover = covers.get(bay.number, "felt")
        ring = tuple(mm(p) for p in bay.ring)
        ink: Ink = "evening" if cover == "vcl" else "ink"
        yield Area((ring,), COVERS[cover], ink, "hair")
    if set(covers.values()) == {"sheet"}:
        yield Inset(tuple(mm(p) for p in worked.plan.deck))


def _leaving(worked: WorkedRoof, day: Day) -> Iterator[Item]:
    for side in worked.plan.sides:
        if side.id in day.evening.water_leaves_by:
            yield from (water_out(mm(side.a), mm(side.b), t, REACH) for t in ARROWS)


def _worded(worked: WorkedRoof, day: Day) -> Iterator[Item]:
    """Letter each bay; what is closed on this day says by when."""
    from shapely.geometry import Polygon

    covers = dict(day.evening.covers)
    before = dict(worked.programme.days[day.number - 2].evening.covers) if day.number > 1 else {}
    for bay in worked.programme.bays:
        cover = covers.get(bay.number, "felt")
        at = Polygon(bay.ring).representative_point()
        many = f"bay {bay.number}: " if len(worked.programme.bays) > 1 else ""
        new = cover == "vcl" and before.get(bay.number) != "vcl"
        by = f", closed by {by_the_quarter(day.evening.sealed_by)}" if new else ""
        ink: Ink = "evening" if cover == "vcl" else "ink"
        yield Label(at.x * MM, at.y * MM, f"{many}{WORDS[cover]}{by}", NOTE, ink, bold=True)


# --- boards, sheet -------------------------------------------------------------------------------


def _laid(worked: WorkedRoof, plan: Drawing, laid: Drawing) -> Drawing:
    """Put a plan of pieces under sides and marks; its numbers find their own places."""
    gone = ("roof outline", "corners", "openings", "steps", "water")
    ring = tuple(mm(p) for p in worked.plan.deck)
    pieces = tuple(
        replace(layer, items=tuple(_movable(i) for i in layer.items))
        for layer in laid.layers
        if layer.name not in gone
    )
    outline = Layer("roof outline", (Area((ring,), "none", weight="cut"),))
    drawn = _on(plan, laid.title, laid.alt, (*pieces, outline))
    return frame_plan(drawn, mm(worked.plan.deck[0]))


def _movable(item: Item) -> Item:
    """Let the number of a piece find its own place, clear of dimensions and marks."""
    if isinstance(item, Group):
        return replace(item, items=tuple(_movable(i) for i in item.items))
    if not isinstance(item, Text):
        return item
    size = min(item.size, NOTE) if item.size else TICK
    return Label(item.x, item.y, item.text, size, item.ink, item.bold, angle=item.angle)


def draw_dusk(worked: WorkedRoof, number: int) -> Drawing:
    """Draw one evening alone, small: covers, night line, and where water leaves.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job, with at least that many days [-].
    number : int
        Which day, from 1 [-].

    Returns
    -------
    Drawing
        A small plan without frame or lettering [mm].
    """
    day = worked.programme.days[number - 1]
    ring = tuple(mm(p) for p in worked.plan.deck)
    box = box_of(ring)
    reach = max(box.width, box.height) / 5
    arrows = tuple(
        water_out(mm(s.a), mm(s.b), t, reach)
        for s in worked.plan.sides
        if s.id in day.evening.water_leaves_by
        for t in ARROWS
    )
    items = (
        *_covers(worked, day),
        Area((ring,), "none", weight="line"),
        *(NightLine((mm(a), mm(b))) for a, b in day.evening.night_lines),
        *arrows,
    )
    kinds = dict.fromkeys(WORDS[c] for _, c in day.evening.covers)
    alt = f"At dusk: {' and '.join(kinds)}."
    return Drawing(f"Evening of {short_day(day.on)}", alt, (Layer("evening", items),))

"""The plan: roof to scale, sides, tapes, openings, heights, the way water runs, chalk marks."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from evenfall.drawing import (
    NOTE,
    TICK,
    Area,
    Arrow,
    Circle,
    Drawing,
    Group,
    Gutter,
    Inset,
    Item,
    Label,
    Layer,
    Line,
    Mark,
    Outlet,
    Pipe,
    Rooflight,
    Verge,
    corners,
    frame_plan,
    parapet,
    wall,
    wall_opening,
)
from evenfall.drawing.chalk import MarkKind
from evenfall.drawing.dimensions import reading
from evenfall.drawing.inks import Ink
from evenfall.model.job import Height, Window
from evenfall.model.surveyed import OpeningAt, Point, SideAt
from evenfall.stages.papers import drawn_survey
from evenfall.stages.papers.marking import Marked
from evenfall.stages.papers.words import metres, spoken
from evenfall.stages.papers.worked import WorkedRoof

MM = 1000
WALL_MM = 260  # how thick a wall is drawn; nobody measured it
PARAPET_MM = 200  # how thick a parapet is drawn; nobody measured it
INSIDE = -46.0  # where a dimension along a wall stands, paper units from its side
OUTSIDE = 44.0  # where a dimension along an open edge stands, paper units from its side
ARROWS = (0.25, 0.75)  # where along an edge the arrows of water stand
SHORT = 0.15  # how far an arrow stops short of the edge, m
APART = 0.6  # radians between an arrow to an outlet and the fall
CLEAR = 12  # how far a name stands off its dot, paper units
NAME_ALONG = 0.38  # where along an edge its name stands, clear of arrows and marks
CLEAR_M = 0.6  # how far a name of an edge keeps from openings and heights, m
MANY = 12  # sides; names of more would lie on one another
NAME_IN = 210  # how far inside an edge its name stands, mm
REACH = 900  # length of an arrow of water, mm
WALLS = ("wall", "step")
OPEN = ("eaves", "verge", "party_line")
SIDES = {
    "wall": "house wall",
    "eaves": "eaves",
    "verge": "verge",
    "parapet": "parapet",
    "party_line": "line to the neighbour",
    "step": "step in the roof",
}


def mm(point: Point) -> Point:
    """Return a point of the plan in millimetres.

    Parameters
    ----------
    point : (float, float)
        Point [m].

    Returns
    -------
    (float, float)
        Point [mm].

    Examples
    --------
    >>> mm((1.5, 2.0))
    (1500.0, 2000.0)
    """
    return point[0] * MM, point[1] * MM


def draw_plan(worked: WorkedRoof, marks: Sequence[Marked] = ()) -> Drawing:
    """Draw the roof to scale with its tapes, openings, heights and chalk marks.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    marks : sequence of Marked
        Findings to mark; those without a place are left to the text beside it [-].

    Returns
    -------
    Drawing
        The plan in its frame of half-metre bars [mm].
    """
    plan = worked.plan
    ring = tuple(mm(p) for p in plan.deck)
    layers = (
        Layer("walls", tuple(_walls(worked))),
        Layer("roof outline", (Area((ring,), "plain", weight="cut"), Inset(ring))),
        Layer("finished contours", tuple(drawn_survey.contours(worked.falls.contours))),
        Layer("finished ponds", tuple(drawn_survey.ponds(worked.falls.ponds))),
        Layer("zones", tuple(drawn_survey.zones(worked))),
        Layer("edges", tuple(_edges(worked))),
        Layer("openings", tuple(_opening(o) for o in plan.openings)),
        Layer("water", tuple(_water(worked))),
        Layer("corners", corners(ring, [c.name for c in plan.corners])),
        Layer("tapes", tuple(_dimension(s) for s in plan.sides)),
        Layer("heights", tuple(_heights(worked))),
        Layer("names", tuple(_names(worked))),
        Layer("chalk marks", tuple(_mark(m) for m in marks if m.at is not None)),
    )
    drawing = Drawing(f"Plan of {worked.meta.title}", _alt(worked), layers)
    return frame_plan(drawing, mm(plan.deck[0]))


def _alt(worked: WorkedRoof) -> str:
    plan = worked.plan
    sides = "; ".join(f"{s.name} {SIDES[s.kind]} {metres(s.length_m)}" for s in plan.sides)
    through = ", ".join(spoken(o.name) for o in plan.openings)
    more = f" Through the roof: {through}." if through else ""
    size = f"{len(plan.corners)} corners, {plan.gross.value:.1f} m²"
    return f"Plan of the roof, {size}. Sides: {sides}.{more} Water runs to {worked.falls.low_side}."


# --- edges ---------------------------------------------------------------------------------------


def _runs(sides: Sequence[SideAt], kinds: tuple[str, ...]) -> list[list[SideAt]]:
    """Gather sides of some kinds that follow one another, round the first corner too."""
    runs: list[list[SideAt]] = []
    for i, side in enumerate(sides):
        if side.kind not in kinds:
            continue
        if runs and i and sides[i - 1] is runs[-1][-1]:
            runs[-1].append(side)
        else:
            runs.append([side])
    if len(runs) > 1 and runs[0][0] is sides[0] and runs[-1][-1] is sides[-1]:
        runs[0] = runs.pop() + runs[0]
    return runs


def _line_of(run: Sequence[SideAt]) -> list[Point]:
    return [mm(run[0].a), *(mm(s.b) for s in run)]


def _walls(worked: WorkedRoof) -> Iterator[Item]:
    for run in _runs(worked.plan.sides, WALLS):
        yield from wall(_line_of(run), WALL_MM)
    for run in _runs(worked.plan.sides, ("parapet",)):
        yield from parapet(_line_of(run), PARAPET_MM)
    survey = worked.case.job.survey
    beside: list[Window | Height] = [*survey.windows]
    beside += [h for h in survey.heights if h.kind == "threshold"]
    for item in beside:
        side = worked.plan.side(item.side)
        wide = item.width_m or 1.0
        start = item.along_m if isinstance(item, Window) else item.along_m - wide / 2
        low, high = max(start, 0.0), min(start + wide, side.length_m)
        ends = mm(side.place(low)), mm(side.place(high))
        if side.kind in WALLS and high > low:
            yield Group(f"window:{item.name}", spoken(item.name), wall_opening(*ends, WALL_MM))


def _edges(worked: WorkedRoof) -> Iterator[Item]:
    gutters = {g.side: g for g in worked.water.hung}
    for side in worked.plan.sides:
        a, b = mm(side.a), mm(side.b)
        parts: list[Item] = []
        if side.kind == "verge":
            parts.append(Verge(a, b))
        elif side.kind == "party_line":
            parts += [Line((a, b), "ink", "line", "limit"), Verge(a, b)]
        if side.name in gutters:
            parts.append(Gutter(a, b))
            end = 0.1 / side.length_m
            shares = {"middle": (0.5,), "end": (1 - end,), "both_ends": (end, 1 - end)}
            for share in shares[gutters[side.name].outlet_at]:
                at = mm(side.place(side.length_m * share))
                parts.append(Outlet(at, side.outwards))
        if parts:
            yield Group(side.id, f"side {side.name}, {SIDES[side.kind]}", tuple(parts))


def _names(worked: WorkedRoof) -> Iterator[Item]:
    """Letter the open edges along their inside."""
    with_gutter = {g.side for g in worked.case.job.survey.gutters}
    for side in _named(worked.plan.sides):
        word = SIDES[side.kind] + (", gutter" if side.name in with_gutter else "")
        at = mm(_clear_place(side, worked))
        angle = reading(mm(side.a), mm(side.b))
        yield Label(*at, word, TICK, "pencil", angle=angle)


def _named(sides: Sequence[SideAt]) -> Iterator[SideAt]:
    """Pick the edges to name: all, or of a roof of many corners the longest of each run."""
    if len(sides) <= MANY:
        yield from (s for s in sides if s.kind in (*OPEN, "parapet"))
        return
    for kind in (*OPEN, "parapet"):
        yield from (max(run, key=lambda s: s.length_m) for run in _runs(sides, (kind,)))


def _clear_place(side: SideAt, worked: WorkedRoof) -> Point:
    """Return the place along an edge where its name is clear of what else stands there."""
    spots = [o.centre for o in worked.plan.openings] + [h.at for h in worked.heights.items]
    places = [side.place(side.length_m * t, NAME_IN / MM) for t in (NAME_ALONG, 1 - NAME_ALONG)]

    def room(place: Point) -> float:
        return min((math.dist(place, s) for s in spots), default=CLEAR_M)

    return places[0] if room(places[0]) >= CLEAR_M else max(places, key=room)


def _dimension(side: SideAt) -> Group:
    text = f"{side.length_m:.3f}"
    line = drawn_survey.dimension(side, text)
    return Group(f"tape:{side.name}", f"side {side.name}, {text} m", (line,))


# --- openings and heights ------------------------------------------------------------------------


def _opening(opening: OpeningAt) -> Group:
    ring, at = tuple(mm(p) for p in opening.ring), mm(opening.centre)
    words = spoken(opening.name)
    if opening.diameter_mm is not None:
        size = f"{opening.diameter_mm:.0f} mm"
        sign: Item = Pipe(at, opening.diameter_mm)
    else:
        a, b = (math.dist(opening.ring[i], opening.ring[i + 1]) for i in (0, 1))
        size = f"{a:.2f} × {b:.2f}"
        sign = Area((ring,), "wall") if opening.kind == "chimney" else Rooflight(ring)
    told = Label(*_label_at(ring), f"{words} {size}", NOTE, seat="beside", clear=10)
    return Group(opening.id, f"{words}, {size}", (sign, told))


def _label_at(ring: Sequence[Point]) -> Point:
    """Return the middle of the upper edge, where a label has no need to cross the opening."""
    xs, ys = zip(*ring, strict=True)
    return (min(xs) + max(xs)) / 2, max(ys)


def _heights(worked: WorkedRoof) -> Iterator[Item]:
    """Mark each measured height with a dot and what is left there under the finished roof."""
    for height in worked.heights.items:
        if height.kind == "sash":
            continue
        x, y = mm(height.at)
        left = height.margin.value
        words = f"{spoken(height.name)} {abs(left):.0f} {'left' if left >= 0 else 'short'}"
        dot = Circle(x, y, MM / 24, "ink", "thin", "ink")
        ink: Ink = "ink" if left >= 0 else "chalk"
        tag = Label(x, y, words, TICK, ink, bold=left < 0, seat="beside", clear=CLEAR)
        yield Group(height.id, f"{words}, in mm", (dot, tag))


# --- water ---------------------------------------------------------------------------------------


def _water(worked: WorkedRoof) -> Iterator[Item]:
    """Arrows down the finished fall, and its slope once."""
    plan, falls = worked.plan, worked.falls
    slope = falls.finished.value
    outlets = [o for o in plan.openings if o.kind == "outlet"]
    side = plan.side(falls.low_side)
    if slope <= 0:
        return
    words = f"1 in {MM / slope:.0f}"
    if outlets:
        end = mm(outlets[0].centre)
        for turn in (-APART, APART):
            way = _turned(falls.downhill, turn)
            tip = (end[0] - way[0] * REACH / 4, end[1] - way[1] * REACH / 4)
            yield Arrow((tip[0] - way[0] * REACH, tip[1] - way[1] * REACH), tip)
        at = (end[0] - falls.downhill[0] * REACH, end[1] - falls.downhill[1] * REACH)
    else:
        for share in ARROWS:
            start = mm(side.place(side.length_m * share, REACH / MM))
            yield Arrow(start, mm(side.place(side.length_m * share, SHORT)))
        at = mm(side.place(side.length_m / 4, REACH / MM / 2))
    yield Label(*at, words, NOTE, "water", bold=True, seat="beside", clear=10)


def _turned(way: Point, by: float) -> Point:
    c, s = math.cos(by), math.sin(by)
    return way[0] * c - way[1] * s, way[0] * s + way[1] * c


# --- marks ---------------------------------------------------------------------------------------

KINDS: dict[str, MarkKind] = {"stop": "stop", "agree": "agree", "note": "note", "fine": "fine"}


def _mark(marked: Marked) -> Group:
    x, y = mm(marked.at or (0.0, 0.0))
    mark = Mark(x, y, KINDS[marked.finding.level], str(marked.number))
    return Group(f"finding:{marked.number}", f"{marked.number}: {marked.finding.says}", (mark,))

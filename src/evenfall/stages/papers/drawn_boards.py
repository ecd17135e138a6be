"""The board plan, and the evenings: small roof plans in a row."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.drawing import (
    NOTE,
    TICK,
    Area,
    Box,
    Drawing,
    Group,
    Inset,
    Item,
    Layer,
    NightLine,
    Text,
    corners,
    frame_plan,
    water_out,
)
from evenfall.drawing.inks import HatchName
from evenfall.drawing.sheet import box_of
from evenfall.model.programmed import Bay, Day
from evenfall.model.surveyed import Point
from evenfall.stages.papers.drawn_plan import mm
from evenfall.stages.papers.words import clock, short_day
from evenfall.stages.papers.worked import WorkedRoof

MM = 1000
SMALL_MM = 420  # pieces narrower than this are numbered in small lettering
TINY_MM = 230  # pieces narrower than this are numbered at their side in the list only
GAP_MM = 1600.0  # distance of two small roofs, mm
A_ROW = 5  # evenings in one row
HEAD_MM = 900.0  # room for the lettering over and under a small roof, mm
REACH = 1400.0  # length of an arrow of water on a small roof, mm
COVERS: dict[str, HatchName] = {
    "felt": "felt", "open": "deck", "vcl": "evening", "sheet": "plain",
}  # fmt: skip
SAID = {"felt": "old felt", "open": "open", "vcl": "VCL", "sheet": "sheet"}


def draw_boards(worked: WorkedRoof) -> Drawing:
    """Draw the board plan: every piece with its number, sawn ones apart from whole ones.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Drawing
        The plan in its frame [mm].
    """
    boards, plan = worked.boards, worked.plan
    ring = tuple(mm(p) for p in plan.deck)
    layers = (
        Layer("boards", tuple(i for p in boards.pieces for i in _piece(p.ring, p.offcut, p.number))),
        Layer("openings", tuple(Area((tuple(mm(p) for p in o.hole),), "plain", weight="line")
                                for o in plan.openings if o.diameter_mm is None)),
        Layer("roof outline", (Area((ring,), "none", weight="cut"),)),
        Layer("corners", corners(ring, [c.name for c in plan.corners])),
    )  # fmt: skip
    alt = (
        f"Board plan: {len(boards.pieces)} pieces of {boards.thickness_mm} mm sawn from "
        f"{boards.bought // boards.layers} boards a layer, {boards.layers} layer(s). "
        "Hatched pieces are offcuts used again."
    )
    return frame_plan(Drawing("Board plan", alt, layers), mm(plan.deck[0]))


def _piece(ring: tuple[tuple[int, int], ...], offcut: bool, number: int) -> Iterator[Item]:
    points = tuple((float(x), float(y)) for x, y in ring)
    box = box_of(points)
    narrow = min(box.width, box.height)
    area = Area((points,), "foam" if offcut else "plain", weight="thin")
    size = TICK if narrow < SMALL_MM else NOTE
    angle = 90.0 if box.height > box.width and narrow < SMALL_MM else 0.0
    told = (Text(*box.centre, str(number), size, bold=True, angle=angle),)
    yield Group(f"board:{number}", f"piece {number}", (area, *(told if narrow > TINY_MM else ())))


def draw_evenings(worked: WorkedRoof) -> Drawing:
    """Draw the roof at dusk of each day: tonight's cover, night line, where water leaves.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Drawing
        Small roof plans in rows [mm].
    """
    days = worked.programme.days
    box = box_of([mm(p) for p in worked.plan.deck])
    step_x, step_y = box.width + GAP_MM, box.height + GAP_MM + 2 * HEAD_MM
    items = tuple(
        _evening(worked, day, (i % A_ROW) * step_x - box.x0, -(i // A_ROW) * step_y - box.y0, box)
        for i, day in enumerate(days)
    )
    told = "; ".join(f"{short_day(d.on)}: {_cover_words(d)}" for d in days)
    scale = max(1.0, min(len(days), A_ROW) * step_x / ROW_MM)
    return Drawing("The evenings", f"The roof at dusk, day by day. {told}.",
                   (Layer("evenings", items),), scale)  # fmt: skip


ROW_MM = 168.0  # width of a row of evenings on paper, mm


def _cover_words(day: Day) -> str:
    kinds = dict.fromkeys(SAID[cover] for _, cover in day.evening.covers)
    return " and ".join(kinds)


def _evening(worked: WorkedRoof, day: Day, dx: float, dy: float, box: Box) -> Group:
    """Draw one small roof, moved to its place in the row."""

    def moved(point: Point) -> Point:
        x, y = mm(point)
        return x + dx, y + dy

    covers = dict(day.evening.covers)
    bays = worked.programme.bays
    parts: list[Item] = [_bay(b, covers.get(b.number, "felt"), moved) for b in bays]
    outline = tuple(moved(p) for p in worked.plan.deck)
    if set(covers.values()) == {"sheet"}:
        parts.append(Inset(outline, by=4))
    parts.append(Area((outline,), "none", weight="line"))
    parts += [NightLine((moved(a), moved(b))) for a, b in day.evening.night_lines]
    for id_ in day.evening.water_leaves_by:
        side = next((s for s in worked.plan.sides if s.id == id_), None)
        if side is not None:
            parts += [water_out(moved(side.a), moved(side.b), t, REACH) for t in (0.3, 0.7)]
    x, top, foot = box.x0 + dx, box.y1 + dy, box.y0 + dy
    parts.append(Text(x, top + HEAD_MM / 2, short_day(day.on), NOTE, "start", bold=True))
    seal = f"closed by {clock(day.evening.sealed_by)}"
    parts.append(Text(x, foot - HEAD_MM, f"{_cover_words(day)}\n{seal}", TICK, "start"))
    return Group(f"day:{day.number}", f"{short_day(day.on)}: {day.says}", tuple(parts))


def _bay(bay: Bay, cover: str, moved: object) -> Item:
    assert callable(moved)
    ring = tuple(moved(p) for p in bay.ring)
    return Area((ring,), COVERS[cover], "evening" if cover == "vcl" else "ink", "hair")



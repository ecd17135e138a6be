"""The board plan, and the evenings: small roof plans in a row."""

from __future__ import annotations

from math import ceil

from shapely.geometry import Polygon
from shapely.ops import unary_union

from evenfall.drawing import (
    NOTE,
    TICK,
    Area,
    Box,
    Drawing,
    Group,
    Inset,
    Item,
    Label,
    Layer,
    NightLine,
    Text,
    corners,
    frame_plan,
    water_out,
)
from evenfall.drawing.inks import HatchName
from evenfall.drawing.sheet import Ring, box_of
from evenfall.model.programmed import Day
from evenfall.model.surveyed import Point
from evenfall.model.taken_off import BoardPiece
from evenfall.model.words import by_the_quarter, short_day
from evenfall.stages.papers.drawn_plan import mm
from evenfall.stages.papers.worked import WorkedRoof

MM = 1000
SMALL_MM = 420  # pieces narrower than this are numbered in small lettering
SQUARE = 4
UP = 14  # how far lettering stands over a small roof, paper units
DOWN = 34  # how far lettering stands under a small roof, paper units
ARROWS = (0.3, 0.7)  # where along an edge the arrows of water stand
UPRIGHT = 90.0  # degrees; lettering that is read from the right
TINY_MM = 230  # the number of a narrower piece finds its own place, with a line to the piece
GAP_MM = 1600.0  # distance of two small roofs, mm
TENS = 10  # a scale is told in tens
A_ROW = 6  # evenings in one row, at most
LETTERED_MM = 21.0  # room for the lettering over and under a small roof, mm of paper
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
    return _layer(worked, 1)


def draw_second_layer(worked: WorkedRoof) -> Drawing | None:
    """Draw the board plan of the second layer over the joints of the first; None with one layer.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Drawing or None
        The plan in its frame [mm].
    """
    return _layer(worked, 2) if len(worked.boards.layers_mm) > 1 else None


def _layer(worked: WorkedRoof, layer: int) -> Drawing:
    boards, plan = worked.boards, worked.plan
    ring = tuple(mm(p) for p in plan.deck)
    holes = tuple(tuple(mm(p) for p in o.hole) for o in plan.openings if o.diameter_mm is None)
    pieces = boards.laid_in(layer)
    below = tuple(
        Area((_points(p),), "none", "pencil", "thin", "before") for p in boards.laid_in(layer - 1)
    )
    layers = (
        Layer("boards", tuple(_piece(p, holes) for p in pieces)),
        Layer("joints below", below),
        Layer("openings", tuple(Area((h,), "plain", weight="line") for h in holes)),
        Layer("roof outline", (Area((ring,), "none", weight="cut"),)),
        Layer("corners", corners(ring, [c.name for c in plan.corners])),
    )  # fmt: skip
    which = f", layer {layer} of {len(boards.layers_mm)}" if len(boards.layers_mm) > 1 else ""
    alt = (
        f"Board plan{which}: {len(pieces)} pieces of {boards.layers_mm[layer - 1]} mm; "
        f"{boards.bought} "
        "boards are bought in all. Hatched pieces are offcuts used again."
    ) + (" Dashed: the joints of the layer below." if below else "")
    seen = tuple(x for x in layers if x.items)
    return frame_plan(Drawing(f"Board plan{which}", alt, seen), mm(plan.deck[0]))


def _points(piece: BoardPiece) -> Ring:
    return tuple((float(x), float(y)) for x, y in piece.ring)


def _piece(piece: BoardPiece, holes: tuple[Ring, ...]) -> Group:
    """Draw one piece, its number where there is room for it beside the openings."""
    points = _points(piece)
    box = box_of(points)
    narrow = min(box.width, box.height)
    area = Area((points,), "foam" if piece.offcut else "plain", weight="thin")
    size = TICK if narrow < SMALL_MM else NOTE
    angle = UPRIGHT if box.height > box.width and narrow < SMALL_MM else 0.0
    spot, number = _inside(points, holes), str(piece.number)
    if narrow > TINY_MM:
        told: Text | Label = Text(*spot, number, size, bold=True, angle=angle)
    else:
        told = Label(*spot, number, TICK, bold=True, clear=2)
    return Group(f"board:{piece.number}", f"piece {piece.number}", (area, told))


def _inside(points: Ring, holes: tuple[Ring, ...]) -> Point:
    """Return a point well inside a piece, clear of the openings."""
    shape = Polygon(points)
    free = shape.difference(unary_union([Polygon(h) for h in holes])) if holes else shape
    if free.equals(shape) and len(points) == SQUARE:
        return box_of(points).centre
    at = free.representative_point()
    return float(at.x), float(at.y)


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
    return _evenings(worked, worked.programme.days)


def draw_evening_rows(worked: WorkedRoof) -> tuple[Drawing, ...]:
    """Draw the evenings row by row, so that a page may break between two rows.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of Drawing
        Rows of small roof plans at one scale [mm].
    """
    days = worked.programme.days
    row = _in_a_row(days)
    return tuple(_evenings(worked, days[i : i + row]) for i in range(0, len(days), row))


def _in_a_row(days: tuple[Day, ...]) -> int:
    return ceil(len(days) / ceil(len(days) / A_ROW))


def _evenings(worked: WorkedRoof, days: tuple[Day, ...]) -> Drawing:
    box = box_of([mm(p) for p in worked.plan.deck])
    row = _in_a_row(worked.programme.days)
    step_x = box.width + GAP_MM
    scale = TENS * ceil(max(row, A_ROW - 1) * step_x / ROW_MM / TENS)
    step_y = box.height + LETTERED_MM * scale
    items = tuple(
        _evening(worked, day, (i % row) * step_x - box.x0, -(i // row) * step_y - box.y0, box)
        for i, day in enumerate(days)
    )
    told = "; ".join(f"{short_day(d.on)}: {_cover_words(d)}" for d in days)
    return Drawing("The evenings", f"The roof at dusk, day by day. {told}.",
                   (Layer("evenings", items),), float(scale))  # fmt: skip


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
    outline = tuple(moved(p) for p in worked.plan.deck)
    kinds = {covers.get(b.number, "felt") for b in bays}
    parts: list[Item] = []
    if len(kinds) == 1:
        parts.append(_covered(outline, kinds.pop()))
    else:
        parts += [
            _covered(tuple(moved(p) for p in b.ring), covers.get(b.number, "felt")) for b in bays
        ]
    if set(covers.values()) == {"sheet"}:
        parts.append(Inset(outline, by=4))
    parts.append(Area((outline,), "none", weight="line"))
    parts += [NightLine((moved(a), moved(b))) for a, b in day.evening.night_lines]
    for id_ in day.evening.water_leaves_by:
        side = next((s for s in worked.plan.sides if s.id == id_), None)
        if side is not None:
            parts += [water_out(moved(side.a), moved(side.b), t, REACH) for t in ARROWS]
    x, top, foot = box.x0 + dx, box.y1 + dy, box.y0 + dy
    parts.append(Text(x, top, short_day(day.on), NOTE, "start", bold=True, shift=(0, UP)))
    told = _cover_words(day)
    if "vcl" in covers.values():
        told += f"\nclosed by {by_the_quarter(day.evening.sealed_by)}"
    parts.append(Text(x, foot, told, TICK, "start", shift=(0, -DOWN)))
    return Group(f"day:{day.number}", f"{short_day(day.on)}: {day.says}", tuple(parts))


def _covered(ring: Ring, cover: str) -> Area:
    return Area((ring,), COVERS[cover], "evening" if cover == "vcl" else "ink", "hair")

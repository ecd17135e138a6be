"""The plan of tapered boards: each piece by its number in its row, and what fills up under it."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.drawing import (
    NOTE,
    TICK,
    Area,
    Drawing,
    Group,
    Item,
    Label,
    Layer,
    Text,
    corners,
    frame_plan,
    water_out,
)
from evenfall.drawing.sheet import Ring, box_of
from evenfall.model.taken_off import BoardPart, SawnBoard, TaperLaid, TaperPiece
from evenfall.stages.papers.drawn_plan import mm
from evenfall.stages.papers.worked import WorkedRoof

SMALL_MM = 420  # pieces narrower than this are numbered in small lettering
TINY_MM = 230  # the number of a narrower piece finds its own place
ROOM_MM = 700  # a piece so wide has room for its thickness under its number
UP = 8  # paper units from the middle of a piece to its number, and to its thickness
ARROWS = (0.03, 0.97)  # where along the low side the arrows of water stand
UPRIGHT = 90.0  # degrees


def draw_tapers(worked: WorkedRoof) -> Drawing | None:
    """Draw the rows of tapered boards: numbers, thickness at both edges, fill-up dashed.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Drawing or None
        The plan in its frame; None where no tapered boards are bought [mm].
    """
    laid, plan = worked.boards.tapered, worked.plan
    if laid is None:
        return None
    ring = tuple(mm(p) for p in plan.deck)
    holes = tuple(tuple(mm(p) for p in o.hole) for o in plan.openings if o.diameter_mm is None)
    low = plan.side(worked.falls.low_side)
    under = tuple(
        Area((tuple((float(x), float(y)) for x, y in p.ring),), "none", "pencil", "thin", "before")
        for p in laid.fill
    )
    layers = (
        Layer("tapered boards", tuple(_piece(p) for p in laid.pieces)),
        Layer("fill-up", under),
        Layer("numbers", tuple(t for p in laid.pieces for t in _lettered(p))),
        Layer("openings", tuple(Area((h,), "plain", weight="line") for h in holes)),
        Layer("roof outline", (Area((ring,), "none", weight="cut"),)),
        Layer("water", tuple(water_out(mm(low.a), mm(low.b), share) for share in ARROWS)),
        Layer("corners", corners(ring, [c.name for c in plan.corners])),
    )
    seen = tuple(x for x in layers if x.items)
    return frame_plan(Drawing("Tapered boards", _told(laid, low.name), seen), mm(plan.deck[0]))


def _told(laid: TaperLaid, low: str) -> str:
    kinds = ", ".join(f"{k.bought} of {k.thin_mm} to {k.thick_mm} mm" for k in laid.kinds)
    told = (
        f"Tapered boards 1:{laid.one_in:g} in {max(p.row for p in laid.pieces)} rows from {low}: "
        f"{len(laid.pieces)} pieces, bought {kinds}. Thin edge towards {low}, none turned; "
        "lettered with the thickness of both edges. Hatched pieces are offcuts used again."
    )
    if laid.fill:
        told += " Dashed: even boards that fill up under them, laid first."
    return told


def _piece(piece: TaperPiece) -> Group:
    area = Area((_points(piece),), "foam" if piece.offcut else "plain", weight="thin")
    says = f"tapered piece T{piece.number}, {_edges(piece)} mm"
    return Group(f"taper:{piece.number}", says, (area,))


def _points(piece: TaperPiece) -> Ring:
    return tuple((float(x), float(y)) for x, y in piece.ring)


def _edges(piece: TaperPiece) -> str:
    """Tell the thickness at the thin and at the thick edge, and what it lies on."""
    on = f" on {piece.fill_mm}" if piece.fill_mm else ""
    return f"{piece.low_mm}–{piece.high_mm}{on}"


def _lettered(piece: TaperPiece) -> Iterator[Item]:
    """Letter a piece with its number, and with its edges where there is room."""
    box, name = box_of(_points(piece)), f"T{piece.number}"
    narrow = min(box.width, box.height)
    size = TICK if narrow < SMALL_MM else NOTE
    angle = UPRIGHT if box.height > box.width and narrow < SMALL_MM else 0.0
    if narrow <= TINY_MM:
        yield Label(*box.centre, name, TICK, bold=True, clear=2)
    elif box.width >= ROOM_MM and box.height >= SMALL_MM:
        yield Text(*box.centre, name, size, bold=True, shift=(0, UP))
        yield Text(*box.centre, _edges(piece), TICK, shift=(0, -UP))
    else:
        yield Text(*box.centre, name, size, bold=True, angle=angle)


def taper_words(board: SawnBoard) -> str:
    """Tell one tapered board in words, its thin edge towards who saws it.

    Parameters
    ----------
    board : SawnBoard
        The board [mm].

    Returns
    -------
    str
        Its cuts in order, and what they give [-].
    """
    return "; ".join(_cuts(board))


def _cuts(board: SawnBoard) -> Iterator[str]:
    pieces = {part: f"T{n}" for n, part in board.pieces}
    for n, cut in enumerate(board.cuts, 1):
        up = cut.way == "across"
        part, at = cut.part, cut.at_mm
        first = (
            BoardPart(part.x_mm, part.y_mm, at, part.width_mm) if up
            else BoardPart(part.x_mm, part.y_mm, part.length_mm, at)
        )  # fmt: skip
        told = (
            f"cut {n}: up the fall, {part.x_mm + at} from the left edge" if up
            else f"cut {n}: across the fall, {part.y_mm + at} from the thin edge"
        )  # fmt: skip
        gives = [pieces.get(first)]
        gives += [name for p, name in pieces.items() if p != first and _beyond(p, cut.part, at, up)]
        found = ", ".join(g for g in gives if g)
        yield f"{told}: {found}" if found else told


def _beyond(piece: BoardPart, part: BoardPart, at: int, up: bool) -> bool:
    """Tell whether a piece is all that lies beyond a cut, but for the saw."""
    if up:
        return (piece.y_mm, piece.width_mm) == (part.y_mm, part.width_mm) and (
            piece.x_mm > part.x_mm + at - 1
            and piece.x_mm + piece.length_mm == part.x_mm + part.length_mm
        )
    return (piece.x_mm, piece.length_mm) == (part.x_mm, part.length_mm) and (
        piece.y_mm > part.y_mm + at - 1 and piece.y_mm + piece.width_mm == part.y_mm + part.width_mm
    )


def kind_words(laid: TaperLaid, board: int) -> str:
    """Name the kind of one tapered board by its edges.

    Parameters
    ----------
    laid : TaperLaid
        The rows [mm].
    board : int
        Its number [-].

    Returns
    -------
    str
        Such as ``30 to 50 mm`` [-].
    """
    piece = next(p for p in laid.pieces if p.board == board)
    return f"{piece.thin_mm} to {piece.thick_mm} mm"

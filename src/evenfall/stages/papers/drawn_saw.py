"""The saw list as a drawing: every board that is cut, its cuts numbered in the order of sawing."""

from __future__ import annotations

from math import ceil

from evenfall.drawing import NOTE, TICK, Area, Box, Drawing, Group, Item, Layer, Line, Text
from evenfall.model.taken_off import BoardPart, SawCut, SawnBoard
from evenfall.stages.papers.worked import WorkedRoof

A_ROW = 4  # boards side by side
GAP_MM = 260.0  # between boards, for the marks of the cuts
HEAD_MM = 560.0  # over a row of boards, for their names and the marks of the cuts
MARK_MM = 105.0  # from the end of a cut to its number
PAPER_MM = 168.0  # width of a row on paper
TENS = 10  # a scale is told in tens
NARROW_MM = 330  # narrower pieces are numbered in small lettering
SIZED_MM = (1050, 380)  # a piece of this size has room for its size under its number
UP = 7  # paper units from the middle of a piece to its number, and to its size
NAMED = 26  # paper units from a board to its name
FLAT = 1.6  # a piece so much higher than it is wide is read from the right
UPRIGHT = 90.0  # degrees


def draw_saw_list(worked: WorkedRoof) -> Drawing | None:
    """Draw each board that is cut: pieces with their numbers, cuts numbered, rests hatched.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Drawing or None
        The boards in rows; None where nothing is cut [mm].
    """
    boards = worked.boards
    if not boards.sawn:
        return None
    length, width = max(boards.size_mm), min(boards.size_mm)
    step_x, step_y = length + GAP_MM, width + HEAD_MM
    items = tuple(
        _board(b, (i % A_ROW) * step_x, -(i // A_ROW) * step_y, length, width)
        for i, b in enumerate(boards.sawn)
    )
    row = min(A_ROW, len(items))
    scale = TENS * ceil(row * step_x / PAPER_MM / TENS)
    told = "; ".join(saw_words(b) for b in boards.sawn)
    alt = (
        f"Saw list: {len(items)} of {boards.bought} boards of {length} x {width} mm are cut. Cuts "
        f"are numbered in the order of sawing; what is hatched is left over. {told}."
    )
    return Drawing("Saw list", alt, (Layer("saw list", items),), float(scale))


def saw_words(board: SawnBoard) -> str:
    """Tell one board in words: its cuts in order, its pieces.

    Parameters
    ----------
    board : SawnBoard
        The board [mm].

    Returns
    -------
    str
        A sentence without its stop [-].

    Examples
    --------
    >>> whole, part = BoardPart(0, 0, 2400, 1200), BoardPart(0, 0, 1396, 1200)
    >>> saw_words(SawnBoard(7, (SawCut("across", 1396, whole),), ((12, part),), ()))
    'board 7: cut 1: across, 1396 from the left end; gives piece 12 (1396 × 1200)'
    """
    cuts = "; ".join(f"cut {n}: {_cut_words(n, c)}" for n, c in enumerate(board.cuts, start=1))
    gives = ", ".join(f"{n} ({p.length_mm} × {p.width_mm})" for n, p in board.pieces)
    return f"board {board.number}: {cuts}; gives {'piece' + 's' * (len(board.pieces) > 1)} {gives}"


def _cut_words(number: int, cut: SawCut) -> str:
    """Tell where a cut goes; a later one in which part, by its size."""
    end = "left end" if cut.way == "across" else "lower edge"
    of = f" of the {cut.part.length_mm} × {cut.part.width_mm}" if number > 1 else ""
    return f"{cut.way}, {cut.at_mm} from the {end}{of}"


def _board(board: SawnBoard, x: float, y: float, length: float, width: float) -> Group:
    items: list[Item] = [Area((_box(r, x, y).ring,), "foam", weight="hair") for r in board.rests]
    for number, part in board.pieces:
        items += _piece(number, _box(part, x, y))
    items.append(Area((Box(x, y, x + length, y + width).ring,), "none", weight="line"))
    for number, cut in enumerate(board.cuts, start=1):
        items += _cut(number, cut, x, y)
    name = Text(x, y + width, f"board {board.number}", NOTE, "start", bold=True, shift=(0, NAMED))
    return Group(f"stock:{board.number}", saw_words(board), (*items, name))


def _box(part: BoardPart, x: float, y: float) -> Box:
    x0, y0 = x + part.x_mm, y + part.y_mm
    return Box(x0, y0, x0 + part.length_mm, y0 + part.width_mm)


def _piece(number: int, box: Box) -> tuple[Item, ...]:
    """Draw a piece with its number, and its size where there is room."""
    long, short = max(box.width, box.height), min(box.width, box.height)
    angle = UPRIGHT if box.height > FLAT * box.width else 0.0
    sized = long >= SIZED_MM[0] and short >= SIZED_MM[1]
    told: list[Item] = [
        Text(*box.centre, str(number), TICK if short < NARROW_MM else NOTE, bold=True, angle=angle,
             shift=(0, UP) if sized and not angle else (-UP, 0) if sized else (0, 0))
    ]  # fmt: skip
    if sized:
        size = f"{box.width:.0f} × {box.height:.0f}"
        told.append(
            Text(*box.centre, size, TICK, angle=angle, shift=(UP, 0) if angle else (0, -UP))
        )
    return (Area((box.ring,), "plain", weight="thin"), *told)


def _cut(number: int, cut: SawCut, x: float, y: float) -> tuple[Item, ...]:
    """Draw a cut with its number at the end of it, outside the part."""
    box = _box(cut.part, x, y)
    if cut.way == "across":
        at = box.x0 + cut.at_mm
        ends, mark = ((at, box.y0), (at, box.y1)), (at, box.y1 + MARK_MM)
    else:
        at = box.y0 + cut.at_mm
        ends, mark = ((box.x0, at), (box.x1, at)), (box.x1 + MARK_MM, at)
    return (
        Line(ends, "chalk", "line"),
        Text(*mark, f"{number}", TICK, ink="chalk"),
    )

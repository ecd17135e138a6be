"""The saw list as a drawing: every board that is cut, its cuts numbered in the order of sawing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import astuple
from math import ceil
from string import ascii_uppercase

from evenfall.drawing import (
    NOTE,
    TICK,
    Area,
    Box,
    Drawing,
    Group,
    Item,
    Label,
    Layer,
    Line,
    Point,
    Text,
)
from evenfall.model.taken_off import BoardPart, SawCut, SawnBoard
from evenfall.stages.papers.worked import WorkedRoof

A_ROW = 4  # boards side by side
GAP_MM = 260.0  # between boards, for the marks of the cuts
HEAD_MM = 560.0  # over a row of boards, for their names and the marks of the cuts
MARK_MM = 105.0  # from the end of a cut to its number
PAPER_MM = 168.0  # width of a row on paper
TENS = 10  # a scale is told in tens
SCRAP = "scrap"
SCRAP_MM = 100  # what is narrower is of no use on any roof, and has no letter
SLIM_MM = 200  # a narrower piece has its number beside it, where that is clearer
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
    places = [((i % A_ROW) * step_x, -(i // A_ROW) * step_y) for i in range(len(boards.sawn))]
    items = tuple(
        _board(b, x, y, length, width) for b, (x, y) in zip(boards.sawn, places, strict=True)
    )
    marks = tuple(m for b, at in zip(boards.sawn, places, strict=True) for m in _marks(b, *at))
    row = min(A_ROW, len(items))
    scale = TENS * ceil(row * step_x / PAPER_MM / TENS)
    told = "; ".join(saw_words(b) for b in boards.sawn)
    alt = (
        f"Saw list: {len(items)} of {boards.bought} boards of {length} x {width} mm are cut. Cuts "
        "are numbered in the order of sawing; 2 · A is the second, through part A. What is hatched "
        f"is left over. {told}."
    )
    layers = (Layer("saw list", items), Layer("cuts", marks))
    return Drawing("Saw list", alt, layers, float(scale))


def saw_words(board: SawnBoard) -> str:
    """Tell one board in words: its cuts in order, and what each of them gives.

    A part that is sawn again, or is left over, has a letter.

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
    >>> whole, part, rest = (BoardPart(x, 0, l, 600) for x, l in ((0, 1200), (0, 795), (800, 400)))
    >>> saw_words(SawnBoard(7, (SawCut("across", 795, whole),), ((12, part),), (rest,)))
    'board 7: cut 1: across, 795 from the left end: left piece 12, right A (400 × 600, left over)'
    """
    names = lettered(board)
    said = (f"cut {n}: {_cut_words(board, n, c, names)}" for n, c in enumerate(board.cuts, start=1))
    return f"board {board.number}: {'; '.join(said)}"


def left_words(board: SawnBoard) -> str:
    """List what is left over of a board: letter and size.

    Parameters
    ----------
    board : SawnBoard
        The board [mm].

    Returns
    -------
    str
        Its rests; nothing where none is left [-].

    Examples
    --------
    >>> whole, part, rest = (BoardPart(x, 0, l, 600) for x, l in ((0, 1200), (0, 795), (800, 400)))
    >>> left_words(SawnBoard(7, (SawCut("across", 795, whole),), ((12, part),), (rest,)))
    'A 400 × 600'
    """
    names = lettered(board)
    kept = [r for r in board.rests if names[r] != SCRAP]
    return ", ".join(f"{names[r]} {r.length_mm} × {r.width_mm}" for r in kept)


def lettered(board: SawnBoard) -> dict[BoardPart, str]:
    """Give a letter to each part that is no piece: those sawn again, and what is kept.

    Parameters
    ----------
    board : SawnBoard
        The board [mm].

    Returns
    -------
    dict
        Letters by part, A first, in the order in which the cuts give them; scrap has none [-].
    """
    pieces = {part for _, part in board.pieces}
    given = [p for cut in board.cuts for p in _given(board, cut) if p and p not in pieces]
    every = list(dict.fromkeys([*given, *board.rests]))
    scrap = {r for r in board.rests if min(r.length_mm, r.width_mm) < SCRAP_MM}
    letters = {p: _letter(i) for i, p in enumerate(p for p in every if p not in scrap)}
    return letters | dict.fromkeys(scrap, SCRAP)


def _letter(number: int) -> str:
    """Return A to Z, then AA and so on."""
    times, place = divmod(number, len(ascii_uppercase))
    return ascii_uppercase[place] * (times + 1)


def _given(board: SawnBoard, cut: SawCut) -> tuple[BoardPart, BoardPart | None]:
    """Return the two parts of a cut; nothing for the second where the saw takes it all."""
    x, y, length, width = astuple(cut.part)
    known = {c.part for c in board.cuts} | {p for _, p in board.pieces} | set(board.rests)
    if cut.way == "across":
        first = BoardPart(x, y, cut.at_mm, width)
        ends = {p for p in known if (p.y_mm, p.width_mm) == (y, width)
                and p.x_mm >= x + cut.at_mm and p.x_mm + p.length_mm == x + length}  # fmt: skip
    else:
        first = BoardPart(x, y, length, cut.at_mm)
        ends = {p for p in known if (p.x_mm, p.length_mm) == (x, length)
                and p.y_mm >= y + cut.at_mm and p.y_mm + p.width_mm == y + width}  # fmt: skip
    # of parts within one another the largest is what this cut gives
    return first, max(ends, key=lambda p: p.length_mm * p.width_mm, default=None)


def _cut_words(board: SawnBoard, number: int, cut: SawCut, names: dict[BoardPart, str]) -> str:
    """Tell where a cut goes, through which part, and what lies on either side of it."""
    across = cut.way == "across"
    through = f" through {names[cut.part]}" if number > 1 else ""
    sides = ("left", "right") if across else ("below", "above")
    gives = [
        f"{side} {_part_words(board, part, names)}"
        for side, part in zip(sides, _given(board, cut), strict=True)
        if part
    ]
    end = "left end" if across else "lower edge"
    return f"{cut.way}{through}, {cut.at_mm} from the {end}: {', '.join(gives)}"


def _part_words(board: SawnBoard, part: BoardPart, names: dict[BoardPart, str]) -> str:
    numbers = {p: n for n, p in board.pieces}
    if part in numbers:
        return f"piece {numbers[part]}"
    left = ", left over" if part in board.rests and names[part] != SCRAP else ""
    return f"{names[part]} ({part.length_mm} × {part.width_mm}{left})"


def _board(board: SawnBoard, x: float, y: float, length: float, width: float) -> Group:
    """Draw what comes out of a board: rests hatched, pieces with their size, cuts."""
    items: list[Item] = [Area((_box(r, x, y).ring,), "foam", weight="hair") for r in board.rests]
    for _, part in board.pieces:
        items.append(Area((_box(part, x, y).ring,), "plain", weight="thin"))
    items.append(Area((Box(x, y, x + length, y + width).ring,), "none", weight="line"))
    items += [Line(_ends(cut, x, y), "chalk", "line") for cut in board.cuts]
    name = Text(x, y + width, f"board {board.number}", NOTE, "start", bold=True, shift=(0, NAMED))
    return Group(f"stock:{board.number}", saw_words(board), (*items, name))


def _marks(board: SawnBoard, x: float, y: float) -> Iterator[Item]:
    """Letter a board over all that is drawn: pieces, rests, then the cuts."""
    names = lettered(board)
    for number, part in board.pieces:
        yield from _number(number, _box(part, x, y))
    for rest in board.rests:
        if names[rest] != SCRAP:
            yield Label(*_box(rest, x, y).centre, names[rest], TICK, clear=2)
    for number, cut in enumerate(board.cuts, start=1):
        mark = f"{number} · {names[cut.part]}" if number > 1 else f"{number}"
        (_, _), (right, top) = _ends(cut, x, y)
        up = cut.way == "across"
        at = (right, top + MARK_MM) if up else (right + MARK_MM, top)
        yield Label(*at, mark, TICK, "chalk", clear=2)


def _ends(cut: SawCut, x: float, y: float) -> tuple[Point, Point]:
    """Return the ends of a cut, the upper or right one last."""
    box = _box(cut.part, x, y)
    if cut.way == "across":
        return (box.x0 + cut.at_mm, box.y0), (box.x0 + cut.at_mm, box.y1)
    return (box.x0, box.y0 + cut.at_mm), (box.x1, box.y0 + cut.at_mm)


def _box(part: BoardPart, x: float, y: float) -> Box:
    x0, y0 = x + part.x_mm, y + part.y_mm
    return Box(x0, y0, x0 + part.length_mm, y0 + part.width_mm)


def _number(number: int, box: Box) -> Iterator[Item]:
    """Letter a piece with its number, and its size where there is room."""
    long, short = max(box.width, box.height), min(box.width, box.height)
    if short < SLIM_MM:
        yield Label(*box.centre, str(number), TICK, bold=True, clear=2)
        return
    angle = UPRIGHT if box.height > FLAT * box.width else 0.0
    sized = long >= SIZED_MM[0] and short >= SIZED_MM[1]
    yield Text(
        *box.centre, str(number), TICK if short < NARROW_MM else NOTE, bold=True, angle=angle,
        shift=(0, UP) if sized and not angle else (-UP, 0) if sized else (0, 0),
    )  # fmt: skip
    if sized:
        size = f"{box.width:.0f} × {box.height:.0f}"
        yield Text(*box.centre, size, TICK, angle=angle, shift=(UP, 0) if angle else (0, -UP))

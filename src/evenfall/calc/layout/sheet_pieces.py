"""The pieces of a sheet as they lie on the roof, and what is left of them for upstand strips.

In the frame of the roll x runs along it and y across it.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import floor, hypot
from typing import NamedTuple

from evenfall.calc.layout.upstands import Lot, UpstandPiece

Point = tuple[float, float]

Ring = tuple[tuple[int, int], ...]


class Laid(NamedTuple):
    """Strips side by side, each of so many lengths, in the frame of the roll [mm]."""

    x: float  # where the first strip begins
    y: float
    need_along: int
    need_across: int
    shift: float  # how far the strips are moved below what they must cover
    strips: int
    lengths: int
    sure: int  # width of a strip that can be relied on
    each: int  # length of a piece as it lies
    cut: int  # length of a piece as it is bought
    lap: int

    @property
    def wide(self) -> int:
        """Width of a piece as it lies."""
        return self.sure if self.strips > 1 else self.need_across


def left_over(laid: Laid, notches: Sequence[Lot] = ()) -> list[Lot]:
    """Find what is left beside the sheet, behind it and, of one piece, in its notches.

    Parameters
    ----------
    laid : Laid
        The pieces [mm].
    notches : sequence of Lot
        Rectangles of the sheet beside the roof; used where it is in one piece [mm].

    Returns
    -------
    list of Lot
        They do not overlap; on two pieces that lie over one another each lot is on one [mm].

    Examples
    --------
    >>> for lot in left_over(Laid(0.0, 0.0, 4450, 6680, 0.0, 1, 1, 7581, 4450, 4500, 100)):
    ...     print(*lot)
    rest 0.0 6680.0 4500 901
    rest 4450.0 0.0 50 6680
    """
    low = laid.y + laid.shift
    whole = laid.strips * laid.sure - (laid.strips - 1) * laid.lap
    beside = [(laid.y, floor(laid.shift)),
              (low + laid.need_across, floor(whole - laid.need_across - laid.shift))]  # fmt: skip
    on = laid.each - laid.lap
    lots = []
    for n in range(laid.lengths):
        long = laid.cut if n == laid.lengths - 1 else on
        lots += [Lot("rest", laid.x + n * on, y, long, wide) for y, wide in beside if wide > 0]
    behind = laid.cut - laid.each
    if behind > 0:
        end = laid.x + laid.lengths * on + laid.lap
        lots += [Lot("rest", end, y, behind, wide) for y, wide in _behind(laid, low)]
    return [*lots, *(notches if laid.strips * laid.lengths == 1 else ())]


def _behind(laid: Laid, low: float) -> list[tuple[float, int]]:
    """Divide what is left behind the sheet among its strips: from where, and how wide."""
    found = []
    for k in range(laid.strips):
        y = laid.y + k * (laid.sure - laid.lap)
        last = k == laid.strips - 1
        start = max(y, low)
        end = min(y + (laid.sure if last else laid.sure - laid.lap), low + laid.need_across)
        found.append((start, floor(end - start)))
    return [(y, wide) for y, wide in found if wide > 0]


def piece_rings(laid: Laid, along: Point, downhill: Point = (0.0, 0.0)) -> tuple[Ring, ...]:
    """Lay the pieces out on the roof, in the order of laying: each laps over those before it.

    Parameters
    ----------
    laid : Laid
        The pieces in the frame of the roll [mm].
    along : tuple of float
        Unit vector of the roll in the plan [-].
    downhill : tuple of float
        Which way the water runs: the low pieces are laid first [-].

    Returns
    -------
    tuple of tuple
        Corners of each piece as it lies [mm].

    Examples
    --------
    >>> laid = Laid(0.0, 0.0, 6000, 4000, 0.0, 1, 1, 6069, 6000, 6000, 100)
    >>> piece_rings(laid, (1.0, 0.0))
    (((0, 0), (6000, 0), (6000, 4000), (0, 4000)),)
    """
    c, s = along
    u, v = downhill
    ranks = list(range(laid.strips))
    turns = list(range(laid.lengths))
    if c * v - s * u > 0:  # the low side is where y is large
        ranks.reverse()
    if c * u + s * v > 0:
        turns.reverse()
    on, off = laid.each - laid.lap, laid.sure - laid.lap
    if abs(c * u + s * v) > abs(c * v - s * u):  # a whole row lies before the next higher one
        order = [(k, n) for n in turns for k in ranks]
    else:
        order = [(k, n) for k in ranks for n in turns]
    return tuple(
        rectangle(laid.x + n * on, laid.y + k * off, laid.each, laid.wide, along) for k, n in order
    )


def upstand_ring(piece: UpstandPiece, along: Point) -> Ring:
    """Give the corners of an upstand piece that is cut from what is left of the sheet.

    Parameters
    ----------
    piece : UpstandPiece
        Its place; one of a further cut lies in that cut, not on the roof [mm].
    along : tuple of float
        Unit vector of the roll in the plan [-].

    Returns
    -------
    tuple of (int, int)
        Corners in the plan [mm].

    Examples
    --------
    >>> upstand_ring(UpstandPiece(1, 0, "rest", 0.0, 900.0, 1300, 250), (1.0, 0.0))
    ((0, 900), (1300, 900), (1300, 1150), (0, 1150))
    """
    turn = (1.0, 0.0) if piece.kind == "cut" else along
    return rectangle(piece.x, piece.y, piece.along_mm, piece.across_mm, turn)


def rectangle(x: float, y: float, long: int, wide: int, along: Point) -> Ring:
    """Turn a rectangle of the frame of the roll into the plan.

    Parameters
    ----------
    x, y : float
        Its lower left corner [mm].
    long, wide : int
        Its sizes along the roll and across it [mm].
    along : tuple of float
        Unit vector of the roll in the plan [-].

    Returns
    -------
    tuple of (int, int)
        Corners [mm].

    Examples
    --------
    >>> rectangle(0.0, 0.0, 40, 30, (0.0, 1.0))
    ((0, 0), (0, 40), (-30, 40), (-30, 0))
    """
    c, s = along
    square = ((x, y), (x + long, y), (x + long, y + wide), (x, y + wide))
    return tuple((round(c * u - s * v), round(s * u + c * v)) for u, v in square)


def grown(outline: Ring, extra: Sequence[float]) -> list[Point]:
    """Move every side outwards by its allowance.

    Parameters
    ----------
    outline : tuple of (int, int)
        Corners of the roof [mm].
    extra : sequence of float
        Allowance of each side; side 0 runs from corner 0 to corner 1 [mm].

    Returns
    -------
    list of (x, y)
        Of each corner three: itself, moved with the side before it, and with the side after [mm].

    Examples
    --------
    >>> grown(((0, 0), (6000, 0), (6000, 4000), (0, 4000)), (150, 0, 0, 250))[:3]
    [(0, 0), (-250.0, 0.0), (0.0, -150.0)]
    """
    number = len(outline)
    twice = sum(
        outline[i][0] * outline[(i + 1) % number][1] - outline[(i + 1) % number][0] * outline[i][1]
        for i in range(number)
    )
    turn = 1 if twice > 0 else -1
    moves = []
    for i, (x0, y0) in enumerate(outline):
        x1, y1 = outline[(i + 1) % number]
        length = hypot(x1 - x0, y1 - y0)
        moves.append((turn * (y1 - y0) / length * extra[i], -turn * (x1 - x0) / length * extra[i]))
    points: list[Point] = []
    for i, (x, y) in enumerate(outline):
        (ax, ay), (bx, by) = moves[i - 1], moves[i]
        points += [(x, y), (x + ax, y + ay), (x + bx, y + by)]
    return points

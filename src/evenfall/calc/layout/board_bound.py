"""How few boards any plan must buy: by area, and by the saw cuts that no plan can do without."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from math import ceil

from shapely import Polygon

from evenfall.calc.layout.board_settings import sides_to_try
from evenfall.calc.layout.courses import Ring, Trapezoid, runs, turned

SAME = 0.01  # a stretch this near to whole boards needs no cut [mm]
UPRIGHT = 1e-6  # an edge that leans less is square to the courses [mm]
A_RECTANGLE = 4  # corners


def fewest_boards(
    outline: Ring, parts: Sequence[Polygon], board: tuple[int, int], kerf: int, layers: int = 1
) -> int:
    """Return a number of boards that no plan can do with less of.

    Boards lie along and across one side of the roof. Any straight stretch along them that is not
    a sum of whole lengths and widths holds at least one sawn edge. A saw cut serves two pieces at
    most, so half of it is lost there; or, where a piece is trimmed by less, what is trimmed off.
    On a rectangle the cuts of both directions add up; else only the greater loss is counted, since
    a notch may be the loss of both.

    Parameters
    ----------
    outline : tuple of (int, int)
        Corners of the roof [mm].
    parts : sequence of Polygon
        What boards cover [mm].
    board : tuple of int
        Length and width of a board [mm].
    kerf : int
        Width of a saw cut [mm].
    layers : int
        Layers of boards [-].

    Returns
    -------
    int
        Boards [each].

    Examples
    --------
    >>> roof = ((0, 0), (4790, 0), (4790, 2399), (0, 2399))
    >>> fewest_boards(roof, [Polygon(roof)], (2400, 1200), 5)
    4
    >>> roof = ((0, 0), (3000, 0), (3000, 959), (0, 959))  # 2 877 000 of 2 880 000 mm2, with a cut
    >>> fewest_boards(roof, [Polygon(roof)], (2400, 1200), 5)
    2
    """
    area = float(sum(p.area for p in parts))
    plain = len(outline) == A_RECTANGLE and len(parts) == 1 and not parts[0].interiors
    losses = []
    for side in sides_to_try(outline, quick=False):
        (x, y), (u, v) = outline[side], outline[(side + 1) % len(outline)]
        along = _lost(parts, (x, y), (u, v), board, kerf)
        across = _lost(parts, (x, y), (x - (v - y), y + (u - x)), board, kerf)
        losses.append(along + across if plain else max(along, across))
    return ceil(layers * (area + min(losses)) / (board[0] * board[1]) - 1e-9)


def _lost(
    parts: Sequence[Polygon],
    start: tuple[int, int],
    end: tuple[int, int],
    board: tuple[int, int],
    kerf: int,
) -> float:
    """Add up what the saw takes from all stretches in one direction; leaning ends count nothing."""
    roof = turned(parts, start, end)
    found = runs(roof, roof.heights[0], roof.heights[-1])
    return sum(_of_stretch(t, board, kerf) for run in found for t in run.traps)


def _of_stretch(t: Trapezoid, board: tuple[int, int], kerf: int) -> float:
    if abs(t.l0 - t.l1) > UPRIGHT or abs(t.r0 - t.r1) > UPRIGHT:
        return 0.0
    long = t.r0 - t.l0
    sums = _sums(board, long)
    over = sums[bisect_left(sums, long - SAME)] - long
    return 0.0 if over <= SAME else min(kerf / 2, over) * (t.y1 - t.y0)


def _sums(board: tuple[int, int], long: float) -> list[int]:
    """List the sums of whole lengths and widths up to just beyond a stretch."""
    most = ceil(long) + max(board)
    return sorted({
        k * board[0] + m * board[1]
        for k in range(most // board[0] + 2)
        for m in range(most // board[1] + 2)
    })  # fmt: skip

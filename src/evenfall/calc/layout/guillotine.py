"""Sawing rectangles out of boards by cuts from edge to edge, in whole millimetres.

Every board carries its list of saw cuts in order, so that anyone can saw it again on paper and see
whether each piece comes out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import ceil, inf
from typing import Literal, NamedTuple

from evenfall.errors import InvalidInput

Size = tuple[int, int]
Choice = Literal["area", "short", "long"]
Split = Literal["shorter", "longer", "largest", "even"]

CHOICES: tuple[Choice, ...] = ("area", "short", "long")
SPLITS: tuple[Split, ...] = ("largest", "shorter", "longer", "even")


class Part(NamedTuple):
    """A rectangle on a board: its corner, and its size along the board and across it [mm]."""

    x: int
    y: int
    length: int
    width: int


class SawCut(NamedTuple):
    """One cut through a part: at ``x`` (or ``y``) the saw blade enters the waste side [mm]."""

    part: Part
    axis: Literal["x", "y"]
    at: int


class Placed(NamedTuple):
    """A piece (its index in what was asked) and the part that it is."""

    piece: int
    part: Part


@dataclass(frozen=True, slots=True)
class SawnBoard:
    """One board: its cuts in order, the pieces, and the rests that are left whole."""

    cuts: tuple[SawCut, ...]
    placed: tuple[Placed, ...]
    rests: tuple[Part, ...]


@dataclass(slots=True)
class _Open:
    """A board being filled."""

    free: list[Part]
    cuts: list[SawCut] = field(default_factory=list)
    placed: list[Placed] = field(default_factory=list)


def saw_boards(
    sizes: Sequence[Size], board: Size, kerf: int, steps: int = 48, *, rotate: bool = True
) -> tuple[SawnBoard, ...]:
    """Saw rectangles out of as few boards as found in so many tries.

    Parameters
    ----------
    sizes : sequence of (int, int)
        Length and width of each piece [mm].
    board : tuple of int
        Length and width of a board [mm].
    kerf : int
        Width of a saw cut [mm].
    steps : int
        Number of tries, each with another order and rule [-].
    rotate : bool
        Whether a piece may be turned by a quarter [-].

    Returns
    -------
    tuple of SawnBoard
        The boards, each with its cuts in order [mm].

    Examples
    --------
    >>> boards = saw_boards([(1000, 1200), (1396, 1200), (2400, 590)], (2400, 1200), 4)
    >>> len(boards), [p.part for p in boards[0].placed]
    (2, [Part(x=0, y=0, length=1396, width=1200), Part(x=1400, y=0, length=1000, width=1200)])

    References
    ----------
    [1] J. Jylänki, A thousand ways to pack the bin, 2010 (guillotine rules), from memory.
    """
    for length, width in sizes:
        upright = length <= board[0] and width <= board[1]
        if not upright and not (rotate and length <= board[1] and width <= board[0]):
            raise InvalidInput(
                f"a piece of {length} x {width}", f"one that fits {board[0]} x {board[1]}"
            )
    whole = [i for i, size in enumerate(sizes) if sorted(size) == sorted(board)]
    bound = area_bound(sizes, board, kerf) - len(whole)
    best: list[_Open] | None = None
    for step, order, choice, split in _tries(sizes, set(whole)):
        if best is not None and (step >= steps or len(best) <= bound):
            break
        boards = _fill(order, sizes, board, kerf, choice, split, rotate)
        if best is None or _merit(boards) < _merit(best):
            best = boards
    best = _improved(best or [], sizes, board, kerf, max(0, steps - 60), bound, rotate)
    return (
        *(SawnBoard((), (Placed(i, Part(0, 0, *board)),), ()) for i in whole),
        *(SawnBoard(tuple(b.cuts), tuple(b.placed), tuple(b.free)) for b in best),
    )


def area_bound(sizes: Sequence[Size], board: Size, kerf: int) -> int:
    """Return the fewest boards by area, each piece taking its saw cut with it.

    Parameters
    ----------
    sizes : sequence of (int, int)
        Length and width of each piece [mm].
    board : tuple of int
        Length and width of a board [mm].
    kerf : int
        Width of a saw cut [mm].

    Returns
    -------
    int
        No plan takes fewer boards [-].

    Examples
    --------
    >>> halves = [(1200, 1200)] * 2
    >>> area_bound(halves, (2400, 1200), 0), area_bound(halves, (2400, 1200), 4)
    (1, 2)
    """
    grown = sum((length + kerf) * (width + kerf) for length, width in sizes)
    return ceil(grown / ((board[0] + kerf) * (board[1] + kerf)))


def _tries(sizes: Sequence[Size], whole: set[int]) -> list[tuple[int, list[int], Choice, Split]]:
    """List the orders and rules, the ones that serve best first; whole boards need no saw."""
    keys = (
        lambda i: (-sizes[i][0] * sizes[i][1], i),
        lambda i: (-max(sizes[i]), -min(sizes[i]), i),
        lambda i: (-sizes[i][0] - sizes[i][1], i),
        lambda i: (-min(sizes[i]), -max(sizes[i]), i),
        lambda i: (-sizes[i][1], -sizes[i][0], i),
    )
    sawn = [i for i in range(len(sizes)) if i not in whole]
    orders = [sorted(sawn, key=key) for key in keys]
    rules = [(o, c, s) for s in SPLITS for c in CHOICES for o in orders]
    return [(n, o, c, s) for n, (o, c, s) in enumerate(rules)]


def _fill(
    order: list[int],
    sizes: Sequence[Size],
    board: Size,
    kerf: int,
    choice: Choice,
    split: Split,
    rotate: bool,
) -> list[_Open]:
    """Place the pieces in order, each into the free part that suits it best."""
    boards: list[_Open] = []
    for i in order:
        found = _seat(boards, sizes[i], choice, rotate)
        if found is None:
            boards.append(_Open([Part(0, 0, *board)]))
            found = _seat(boards[-1:], sizes[i], choice, rotate)
            assert found is not None
            found = (len(boards) - 1, *found[1:])
        b, f, length, width = found
        _saw(boards[b], f, i, length, width, kerf, split)
    return boards


def _seat(
    boards: list[_Open], size: Size, choice: Choice, rotate: bool
) -> tuple[int, int, int, int] | None:
    """Choose board, free part and orientation for a piece."""
    best, found = (inf, inf), None
    turns = (size, size[::-1]) if rotate and size[0] != size[1] else (size,)
    for b, one in enumerate(boards):
        for f, (_, _, full_length, full_width) in enumerate(one.free):
            for length, width in turns:
                dx, dy = full_length - length, full_width - width
                if dx < 0 or dy < 0:
                    continue
                near = min(dx, dy)
                if choice == "area":
                    score = full_length * full_width
                else:
                    score = near if choice == "short" else max(dx, dy)
                if (score, near) < best:
                    best, found = (score, near), (b, f, length, width)
    return found


def _saw(one: _Open, f: int, piece: int, length: int, width: int, kerf: int, split: Split) -> None:
    """Cut a piece out of a free part, and keep the rests."""
    part = one.free.pop(f)
    dx, dy = part.length - length, part.width - width
    axes: tuple[Literal["x", "y"], ...] = (
        ("x", "y") if _x_first(part, dx, dy, split) else ("y", "x")
    )
    for axis in axes:
        at = length if axis == "x" else width
        if (part.length if axis == "x" else part.width) == at:
            continue
        one.cuts.append(SawCut(part, axis, (part.x if axis == "x" else part.y) + at))
        part, rest = sawn(part, axis, at, kerf)
        if rest is not None:
            one.free.append(rest)
    one.placed.append(Placed(piece, part))


def sawn(part: Part, axis: Literal["x", "y"], at: int, kerf: int) -> tuple[Part, Part | None]:
    """Saw a part in two.

    Parameters
    ----------
    part : Part
        What lies on the bench [mm].
    axis : str
        ``"x"`` to cut its length, ``"y"`` to cut its width [-].
    at : int
        Size of the first part [mm].
    kerf : int
        Width of the saw cut, taken from the second part [mm].

    Returns
    -------
    tuple of (Part, Part or None)
        The first part, and the second if anything is left of it [mm].

    Examples
    --------
    >>> sawn(Part(0, 0, 2400, 1200), "x", 1000, 4)[1]
    Part(x=1004, y=0, length=1396, width=1200)
    """
    x, y, length, width = part
    if axis == "x":
        left = length - at - kerf
        return Part(x, y, at, width), Part(x + at + kerf, y, left, width) if left > 0 else None
    left = width - at - kerf
    return Part(x, y, length, at), Part(x, y + at + kerf, length, left) if left > 0 else None


def _x_first(part: Part, dx: int, dy: int, split: Split) -> bool:
    """Decide which way the first cut runs: across the length, or along it."""
    if split == "shorter":
        return dx > dy
    if split == "longer":
        return dx <= dy
    by_x = max(dx * part.width, (part.length - dx) * dy)
    by_y = max(dy * part.length, (part.width - dy) * dx)
    return by_x >= by_y if split == "largest" else by_x < by_y


def _merit(boards: list[_Open]) -> tuple[int, int, int]:
    """Rank a filling: boards, then the one most nearly empty, then cuts."""
    used = [sum(p.part.length * p.part.width for p in b.placed) for b in boards]
    return len(boards), min(used, default=0), sum(len(b.cuts) for b in boards)


def _improved(
    best: list[_Open],
    sizes: Sequence[Size],
    board: Size,
    kerf: int,
    steps: int,
    bound: int,
    rotate: bool,
) -> list[_Open]:
    """Empty the least filled board: its pieces go first, the others follow as they lie."""
    now = best
    for step in range(steps):
        if len(best) <= bound:
            break
        rank = sorted(
            range(len(now)), key=lambda b: sum(p.part.length * p.part.width for p in now[b].placed)
        )
        turn = 1 + step % max(1, len(now) - 1)
        first = [rank[0], *rank[turn:], *rank[1:turn]]
        order = [p.piece for b in first for p in now[b].placed]
        split, choice = SPLITS[step % len(SPLITS)], CHOICES[step // 2 % len(CHOICES)]
        now = _fill(order, sizes, board, kerf, choice, split, rotate)
        if _merit(now) < _merit(best):
            best = now
        elif len(now) > len(best):
            now = best
    return best

"""Upstand strips of the sheet: cut from what is left of it, else from a longer cut.

Each piece has its number and its place, so that whoever cuts the sheet can be shown where.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from typing import Literal, NamedTuple

from evenfall.errors import InvalidInput

LotKind = Literal["rest", "notch", "cut"]


class Lot(NamedTuple):
    """A rectangle of sheet that strips may be cut from; the roll runs along x."""

    kind: LotKind  # beside or behind the sheet, in a corner of the roof, or a further cut
    x: float  # of its lower left corner [mm]
    y: float
    along_mm: int
    across_mm: int


class UpstandPiece(NamedTuple):
    """A piece cut for an upstand: where it lies on the roll, and for which strip."""

    number: int  # from 1
    strip: int  # place of its strip in what was asked, from 0
    kind: LotKind
    x: float  # of its lower left corner; of a further cut, from the corner of that [mm]
    y: float
    along_mm: int
    across_mm: int

    @property
    def long_mm(self) -> int:
        """Its longer side."""
        return max(self.along_mm, self.across_mm)

    @property
    def wide_mm(self) -> int:
        """Its shorter side."""
        return min(self.along_mm, self.across_mm)


@dataclass(frozen=True, slots=True)
class UpstandPlan:
    """How the upstand strips are found."""

    pieces: tuple[UpstandPiece, ...]
    cut_mm: int  # length of the further cut of the roll, whole steps; 0 where none is needed
    joined: int  # joints of strips that had to be made of two pieces or more

    def of_kind(self, kind: LotKind) -> int:
        """Count the pieces that come from one kind of place."""
        return sum(p.kind == kind for p in self.pieces)


class _Cut(NamedTuple):
    long: int
    wide: int
    strip: int


class _Lane(NamedTuple):
    kind: LotKind
    x: float
    y: float
    is_along: bool
    long: int


def plan_upstands(
    strips: Sequence[tuple[int, int]],
    lots: Sequence[Lot],
    roll_mm: int,
    step_mm: int,
    lap_mm: int,
) -> UpstandPlan:
    """Find the strips that are dressed up kerbs.

    Strips are looked for whole, the longest first; one for which there is no place, and which is
    longer than the roll is wide, is joined of as few pieces as can be.

    Parameters
    ----------
    strips : sequence of (int, int)
        Length and width of each [mm].
    lots : sequence of Lot
        What is left of the sheet; they do not overlap [mm].
    roll_mm, step_mm : int
        Width of the roll, and the steps in which it is cut [mm].
    lap_mm : int
        Lap of two strips that are joined to one [mm].

    Returns
    -------
    UpstandPlan
        Every piece in its place, and the further cut [mm].

    Examples
    --------
    >>> beside = Lot("rest", 0.0, 0.0, 4500, 940)
    >>> found = plan_upstands([(1100, 250)] * 4, [beside], 7620, 100, 100)
    >>> found.of_kind("rest"), found.cut_mm, found.joined
    (4, 0, 0)
    >>> plan_upstands([(1100, 250)] * 4, [], 7620, 100, 100).cut_mm
    300
    """
    if min(roll_mm, step_mm, *(n for s in strips for n in s)) <= 0 or lap_mm >= roll_mm:
        raise InvalidInput(f"strips {list(strips)}", "sizes above 0 and a lap below the roll")
    if not strips:
        return UpstandPlan((), 0, 0)
    wide = max(w for _, w in strips)
    left = sorted((_Cut(long, w, i) for i, (long, w) in enumerate(strips)), key=_longest_first)
    lanes: list[_Lane] = []
    placed: list[UpstandPiece] = []
    for lot in lots:
        mine = _lanes(lot, wide, left)
        left = _packed(left, mine, placed)
        lanes += mine
    parts = [p for c in left for p in _parts(c, roll_mm, lap_mm)]
    parts.sort(key=_longest_first)
    left = _packed(parts, lanes, placed)
    across: list[_Lane] = []
    while left:
        across.append(_Lane("cut", len(across) * wide, 0.0, False, roll_mm))
        left = _packed(left, [across[-1]], placed)
    further = ceil(len(across) * wide / step_mm) * step_mm
    order = sorted(placed, key=lambda p: (p.strip, p.kind, p.x, p.y))
    pieces = tuple(p._replace(number=n) for n, p in enumerate(order, start=1))
    return UpstandPlan(pieces, further, len(pieces) - len(strips))


def _longest_first(cut: _Cut) -> tuple[int, int, int]:
    return -cut.long, -cut.wide, cut.strip


def _parts(cut: _Cut, longest: int, lap: int) -> list[_Cut]:
    """Cut a strip into as few parts as there must be, all alike."""
    number = 1 if cut.long <= longest else ceil((cut.long - lap) / (longest - lap))
    return [cut._replace(long=ceil((cut.long + (number - 1) * lap) / number))] * number


def _lanes(lot: Lot, wide: int, cuts: list[_Cut]) -> list[_Lane]:
    """Divide a lot into lanes along it or across it, whichever gives more strips."""
    kind, x, y, along, across = lot
    ways = (
        [_Lane(kind, x, y + n * wide, True, along) for n in range(across // wide)],
        [_Lane(kind, x + n * wide, y, False, across) for n in range(along // wide)],
    )
    return min(ways, key=lambda lanes: len(_packed(cuts, list(lanes), [])))


def _packed(cuts: list[_Cut], lanes: list[_Lane], placed: list[UpstandPiece]) -> list[_Cut]:
    """Take what fits into the lanes, the longest first; give back what does not."""
    left = []
    for cut in cuts:
        i = next((i for i, lane in enumerate(lanes) if lane.long >= cut.long), None)
        if i is None:
            left.append(cut)
            continue
        kind, x, y, is_along, free = lanes[i]
        size = (cut.long, cut.wide) if is_along else (cut.wide, cut.long)
        placed.append(UpstandPiece(0, cut.strip, kind, x, y, *size))
        on = (x + cut.long, y) if is_along else (x, y + cut.long)
        lanes[i] = _Lane(kind, *on, is_along, free - cut.long)
    return left

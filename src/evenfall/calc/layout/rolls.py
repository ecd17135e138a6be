"""Rolls of the vapour control layer: strips, end laps, rolls; laps are laid to shed water.

The first strip lies at the low side, and each next one laps over it; within a strip the first
piece lies at the low end.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil, dist, hypot

from shapely import LinearRing, Polygon
from shapely.ops import unary_union

from evenfall.calc.layout.courses import Ring, Turned, runs, turned
from evenfall.calc.layout.piece_shapes import SLACK
from evenfall.errors import InvalidInput
from evenfall.standards.vcl_practice import END_LAP_MM, SHORTEST_PIECE_MM, SIDE_LAP_MM

FACES = 0.5  # cosine of 60 degrees: a side that faces up the fall nearer than that is a high side
MITRE = 3.0  # a turn-up at a sharp corner reaches out no further than so many times itself


@dataclass(frozen=True, slots=True)
class RollPiece:
    """One piece of a roll as it lies; it laps over the pieces before it."""

    number: int  # in the order of laying, from 1
    strip: int  # from 1, at the low side
    roll: int  # from 1
    length_mm: int
    width_mm: int
    corners: Ring  # in the plan [mm]


@dataclass(frozen=True, slots=True)
class KerbStrip:
    """A strip up one side of a kerb and out onto the roof."""

    number: int  # after those of the pieces
    roll: int
    hole: int  # place of its opening in what was asked, from 0
    length_mm: int
    width_mm: int
    takes_mm: int  # of the length of its roll; 0 beside another strip
    goes_under: bool  # at the high side of its kerb: laid before the piece that ends there
    lap: Ring  # where it lies on the roof, beside its kerb [mm]
    beside: int = 0  # number of the strip in whose length of roll it is cut; 0 for its own


@dataclass(frozen=True, slots=True)
class RollPlan:
    """All strips; areas in mm2."""

    pieces: tuple[RollPiece, ...]
    rolls: int
    net_area_mm2: int  # roof with turn-ups, without what is cut out
    laid_area_mm2: int  # with laps, and the kerb strips
    side_lap_mm: int
    end_lap_mm: int
    along: tuple[int, int]  # vector along the strips
    kerb_strips: tuple[KerbStrip, ...] = ()  # one to each side of a kerb

    @property
    def strips(self) -> int:
        """How many strips lie side by side."""
        return max((p.strip for p in self.pieces), default=0)


def plan_rolls(
    outline: Ring,
    turn_up_mm: int,
    roll: tuple[int, int],
    direction: tuple[int, int],
    low_side: tuple[int, int],
    *,
    holes: Sequence[Ring] = (),
    side_lap_mm: int = int(SIDE_LAP_MM),
    end_lap_mm: int = int(END_LAP_MM),
    shortest_mm: int = int(SHORTEST_PIECE_MM),
) -> RollPlan:
    """Lay rolls over a roof, up its edges and round the kerbs that stand in it.

    A strip stops where an opening takes its whole width. Each side of a kerb has a strip of its
    own, cut from what is left of the rolls: up the kerb, and a side lap out onto the roof.

    Parameters
    ----------
    outline : tuple of (int, int)
        Corners of the deck [mm].
    turn_up_mm : int
        Turn-up at every edge [mm].
    roll : tuple of int
        Width and length of a roll [mm].
    direction : tuple of int
        Vector along the strips [-].
    low_side : tuple of int
        Vector towards the low side of the roof [-].
    holes : sequence of tuple
        Corners of each opening that a kerb stands round [mm].
    side_lap_mm, end_lap_mm : int
        Laps [mm].
    shortest_mm : int
        A shorter rest of a roll is not laid [mm].

    Returns
    -------
    RollPlan
        Pieces in the order of laying, rolls, areas [mm].

    Examples
    --------
    >>> roof = ((0, 0), (6200, 0), (6200, 4100), (0, 4100))
    >>> plan = plan_rolls(roof, 200, (1080, 20000), direction=(1, 0), low_side=(0, -1))
    >>> plan.strips, plan.rolls, plan.pieces[0].corners[0]
    (5, 2, (-200, -200))
    """
    width, length = roll
    if not 0 <= side_lap_mm < width or not 0 <= 2 * end_lap_mm < 2 * shortest_mm <= length:
        raise InvalidInput(
            f"a roll of {roll[0]} × {roll[1]} mm, laps of {side_lap_mm} and {end_lap_mm}, pieces "
            f"from {shortest_mm}",
            "laps smaller than the roll and the shortest piece, a roll twice as long as that",
            where="stock of the VCL",
            do="give widths, lengths and laps in millimetres",
        )
    if direction == (0, 0) or low_side == (0, 0) or turn_up_mm < 0:
        raise InvalidInput("no direction", "vectors other than 0, and a turn-up from 0")
    if len(outline) < 3 or not Polygon(outline).is_valid:
        raise InvalidInput(f"outline {outline}", "a simple polygon of three or more corners")
    grown = _grown(outline, turn_up_mm, holes)
    dx, dy = direction
    if dx * low_side[0] + dy * low_side[1] > 0:  # strips are laid from their low end
        dx, dy = -dx, -dy
    parts = list(getattr(grown, "geoms", (grown,)))
    roof = turned(parts, (0, 0), (dx, dy))
    pieces: list[RollPiece] = []
    number, left = 0, 0
    for strip, (y0, y1) in enumerate(_bands(roof, width, side_lap_mm, low_side), start=1):
        for run in runs(roof, y0, y1):
            for start, end, fresh in _cuts(run.x1 - run.x0, left, length, end_lap_mm, shortest_mm):
                number += fresh
                left = (length if fresh else left) - (end - start)
                x0, x1 = run.x0 + start, run.x0 + end
                corners = tuple(
                    roof.plan(x, y) for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
                )
                pieces.append(
                    RollPiece(
                        len(pieces) + 1, strip, number, end - start, ceil(y1 - y0 - SLACK), corners
                    )
                )
    used = [sum(p.length_mm for p in pieces if p.roll == n) for n in range(1, number + 1)]
    strips, number = _from_rolls(kerb_strips(holes, turn_up_mm, side_lap_mm, low_side), roll, used)
    before = len(pieces)
    strips = [
        replace(s, number=n, beside=s.beside and s.beside + before)
        for n, s in enumerate(strips, start=before + 1)
    ]
    laid = sum(p.length_mm * p.width_mm for p in pieces)
    laid += sum(s.length_mm * s.width_mm for s in strips)
    return RollPlan(
        tuple(pieces), number, round(grown.area), laid, side_lap_mm, end_lap_mm, (dx, dy),
        tuple(strips),
    )  # fmt: skip


def _grown(outline: Ring, turn_up: int, holes: Sequence[Ring]) -> Polygon:
    """Fold the turn-ups flat and cut the openings out; one that touches an edge cuts into it."""
    grown = Polygon(outline).buffer(turn_up, join_style="mitre", mitre_limit=MITRE)
    for i, hole in enumerate(holes):
        if len(hole) < 3 or not Polygon(hole).is_valid:
            raise InvalidInput(f"opening {i} {hole}", "a simple polygon of three or more corners")
    left = grown.difference(unary_union([Polygon(h) for h in holes])) if holes else grown
    if left.is_empty:
        raise InvalidInput("openings that leave no roof", "a roof round its openings")
    return left


def kerb_strips(
    holes: Sequence[Ring], turn_up_mm: int, lap_mm: int, low_side: tuple[int, int] = (0, 0)
) -> list[KerbStrip]:
    """Measure the strips that go up the sides of kerbs.

    Parameters
    ----------
    holes : sequence of tuple
        Corners of each opening [mm].
    turn_up_mm : int
        How far the layer goes up [mm].
    lap_mm : int
        How far a strip lies on the roof, and past each corner of its kerb [mm].
    low_side : tuple of int
        Vector towards the low side of the roof [-].

    Returns
    -------
    list of KerbStrip
        One to each side, not yet numbered nor cut from a roll, the longest first [mm].

    Examples
    --------
    >>> found = kerb_strips([((0, 0), (900, 0), (900, 600), (0, 600))], 200, 80, (0, -1))
    >>> [(s.length_mm, s.width_mm, s.goes_under) for s in found]
    [(1060, 280, False), (1060, 280, True), (760, 280, False), (760, 280, False)]
    """
    found = []
    for n, hole in enumerate(holes):
        turn = 1 if LinearRing(hole).is_ccw else -1
        for (ax, ay), (bx, by) in pairwise((*hole, hole[0])):
            long = dist((ax, ay), (bx, by))
            u, v = (bx - ax) / long, (by - ay) / long
            x, y = turn * v, -turn * u  # out of the opening
            ends = ((ax - lap_mm * u, ay - lap_mm * v), (bx + lap_mm * u, by + lap_mm * v))
            corners = (*ends, *((p + lap_mm * x, q + lap_mm * y) for p, q in reversed(ends)))
            under = x * low_side[0] + y * low_side[1] < -FACES * hypot(*low_side)
            found.append(KerbStrip(
                0, 0, n, ceil(long - SLACK) + 2 * lap_mm, turn_up_mm + lap_mm, 0, under,
                tuple((round(p), round(q)) for p, q in corners),
            ))  # fmt: skip
    return sorted(found, key=lambda s: (-s.length_mm, s.hole))


def _from_rolls(
    strips: list[KerbStrip], roll: tuple[int, int], used: list[int]
) -> tuple[list[KerbStrip], int]:
    """Cut each strip from the first roll that has enough left; tell the rolls that all take."""
    width, length = roll
    left = [length - u for u in used]
    cut: list[KerbStrip] = []
    open_at: tuple[int, int] | None = None  # strip that began a length of roll, width left of it
    for n, strip in enumerate(strips):
        long, wide = strip.length_mm, strip.width_mm
        if wide > width or long > length:
            raise InvalidInput(
                f"a kerb strip of {long} × {wide} mm", f"one that a roll {width} × {length} gives",
                where="roll", do="take a wider or longer roll",
            )  # fmt: skip
        if long > width and open_at is not None and open_at[1] >= wide:  # the longest come first
            first = open_at[0]
            cut.append(replace(strip, roll=cut[first].roll, beside=first + 1))
            open_at = first, open_at[1] - wide
            continue
        takes = wide if long <= width else long  # across the roll if it may be
        at = next((i for i, free in enumerate(left) if free >= takes), len(left))
        left[at:] = left[at:] or [length]
        left[at] -= takes
        if long > width:
            open_at = n, width - wide
        cut.append(replace(strip, roll=at + 1, takes_mm=takes))
    return cut, len(left)


def _bands(
    roof: Turned, width: int, lap: int, low_side: tuple[int, int]
) -> Iterator[tuple[float, float]]:
    """Yield the lower and upper line of each strip, from the low side on."""
    low, high = roof.heights[0], roof.heights[-1]
    c, s = roof.along
    downhill_is_up = c * low_side[1] - s * low_side[0] > SLACK
    done = 0.0
    while True:
        far = min(done + width, high - low)
        yield (high - far, high - done) if downhill_is_up else (low + done, low + far)
        if far >= high - low - SLACK:
            return
        done += width - lap


def _cuts(
    span: float, left: int, length: int, lap: int, shortest: int
) -> Iterator[tuple[int, int, bool]]:
    """Yield the pieces along one run, and whether each begins a roll; a long rest goes first."""
    start, end, fresh = 0, ceil(span - SLACK), False
    while end - start > left:
        take = min(left, end - start + lap - shortest)  # the piece after it is not too short
        if take >= shortest:
            yield start, start + take, fresh
            start += take - lap
        left, fresh = length, True
    yield start, end, fresh

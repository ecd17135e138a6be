"""Rolls of the vapour control layer: strips, end laps, rolls; laps are laid to shed water.

The first strip lies at the low side, and each next one laps over it; within a strip the first
piece lies at the low end.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from shapely import Polygon

from evenfall.calc.layout.courses import Ring, Turned, runs, turned
from evenfall.calc.layout.piece_shapes import SLACK
from evenfall.errors import InvalidInput
from evenfall.standards.vcl_practice import END_LAP_MM, SHORTEST_PIECE_MM, SIDE_LAP_MM

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
class RollPlan:
    """All strips; areas in mm2."""

    pieces: tuple[RollPiece, ...]
    rolls: int
    net_area_mm2: int  # roof with turn-ups
    laid_area_mm2: int  # with laps
    side_lap_mm: int
    end_lap_mm: int

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
    side_lap_mm: int = int(SIDE_LAP_MM),
    end_lap_mm: int = int(END_LAP_MM),
    shortest_mm: int = int(SHORTEST_PIECE_MM),
) -> RollPlan:
    """Lay rolls over a roof and up its edges.

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
            f"roll {roll}, laps {side_lap_mm} and {end_lap_mm}, shortest {shortest_mm}",
            "laps smaller than the roll and the shortest piece, a roll twice as long as that",
            where="roll",
        )
    if direction == (0, 0) or low_side == (0, 0) or turn_up_mm < 0:
        raise InvalidInput("no direction", "vectors other than 0, and a turn-up from 0")
    if len(outline) < 3 or not Polygon(outline).is_valid:
        raise InvalidInput(f"outline {outline}", "a simple polygon of three or more corners")
    grown = Polygon(outline).buffer(turn_up_mm, join_style="mitre", mitre_limit=MITRE)
    dx, dy = direction
    if dx * low_side[0] + dy * low_side[1] > 0:  # strips are laid from their low end
        dx, dy = -dx, -dy
    roof = turned([grown], (0, 0), (dx, dy))
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
    laid = sum(p.length_mm * p.width_mm for p in pieces)
    return RollPlan(tuple(pieces), number, round(grown.area), laid, side_lap_mm, end_lap_mm)


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

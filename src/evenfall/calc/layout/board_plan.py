"""What a board plan is: the rules asked for, the pieces as they lie, the boards as sawn."""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.calc.layout.courses import Ring
from evenfall.calc.layout.guillotine import SawnBoard
from evenfall.standards.board_practice import (
    KERF_MM,
    LAYER_OFFSET_MM,
    SMALLEST_PERIMETER_PIECE_MM,
    SMALLEST_PIECE_MM,
    SMALLEST_STAGGER_MM,
)


@dataclass(frozen=True, slots=True)
class BoardRules:
    """Smallest piece inside and at the perimeter, shift of end joints, saw cut, layers [mm]."""

    min_piece: int = int(SMALLEST_PIECE_MM)
    min_perimeter_piece: int = int(SMALLEST_PERIMETER_PIECE_MM)
    stagger: int = int(SMALLEST_STAGGER_MM)
    kerf: int = int(KERF_MM)
    layer_offset: int = int(LAYER_OFFSET_MM)  # joints of two layers, both ways


@dataclass(frozen=True, slots=True)
class BoardPiece:
    """One piece as it lies: its corners in the plan, and the rectangle that it is cut from."""

    number: int  # in the order of laying, from 1; the second layer counts on
    course: int  # from 1
    polygon: Ring
    cutouts: tuple[Ring, ...]  # openings that lie wholly inside the piece
    size: tuple[int, int]  # along the course and across it
    is_perimeter: bool
    from_board: int  # index in BoardPlan.boards
    from_offcut: bool  # an earlier piece came from the same board
    layer: int = 1  # the lowest is 1


@dataclass(frozen=True, slots=True)
class BoardPlan:
    """A whole plan; ``breaches`` names every rule that it breaks."""

    side: int  # the courses follow the side from this corner to the next
    along: tuple[float, float]  # unit vector of the courses in the plan
    first_course: int  # width of the first course, rounded
    pieces: tuple[BoardPiece, ...]
    boards: tuple[SawnBoard, ...]  # each with its saw cuts; Placed.piece is the number of a piece
    lower_bound: int
    net_area_mm2: int  # of all layers
    offcut_mm2: int  # rests left whole
    cuts: int  # through boards, and along shaped edges of pieces
    breaches: tuple[str, ...]
    steps: int
    layers: int = 1

    @property
    def boards_bought(self) -> int:
        """How many boards to buy."""
        return len(self.boards)

    @property
    def proven(self) -> bool:
        """Whether no plan can do with fewer boards; if not, the search stopped by its steps."""
        return self.boards_bought == self.lower_bound

"""What is read off a tape: distances, right-angle offsets, ties; part of the job."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from evenfall.model.kinds import Between, CornerName, Metres, MetresFrom0, Record

TapeAccuracy = Annotated[float, Field(gt=0, le=50)]
"""One standard error, in mm."""


class Tape(Record):
    """One taped distance between two corners or points; a second entry is a second reading."""

    between: Between
    length_m: Metres
    accuracy_mm: TapeAccuracy | None = None  # of this one, where it differs from the rest


class Offset(Record):
    """A corner or point by a string line: along it from its first end, then square to it.

    Left and right are those of someone who stands at the first end and looks to the second.
    """

    point: CornerName
    line: Between
    along_m: Annotated[float, Field(ge=-100, le=100)]  # negative: behind the first end
    left_m: MetresFrom0 | None = None
    right_m: MetresFrom0 | None = None
    accuracy_mm: TapeAccuracy | None = None


class Tie(Record):
    """A taped distance from a corner or point to an opening.

    The corners of an opening count anticlockwise from the one nearest to the first corner of its
    side; a round one is tied to its middle.
    """

    point: CornerName
    to_corner: Literal[1, 2, 3, 4] | None = None
    length_m: Metres

"""What carries the rain away: gutters as found, gutters as chosen, overflows."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from evenfall.model.kinds import (
    Between,
    Metres,
    MetresFrom0,
    Millimetres,
    MillimetresFrom0,
    Name,
    Record,
)

GutterShape = Literal["half_round", "rectangular", "trapezoidal"]
OutletAt = Literal["end", "middle", "both_ends"]
GutterWidth = Annotated[float, Field(ge=50, le=300)]
PipeWidth = Annotated[float, Field(ge=30, le=200)]


class Gutter(Record):
    """The gutter along one side as it was found, and its pipe.

    The depth of a half-round one is half its width; the sole of a rectangular one is its width.
    """

    side: Between
    shape: GutterShape = "half_round"
    width_mm: GutterWidth
    depth_mm: Millimetres | None = None
    sole_mm: Millimetres | None = None
    fall_mm_per_m: Annotated[float, Field(ge=0, le=20)]
    outlet_at: OutletAt
    outlet_mm: PipeWidth
    bend_from_outlet_m: MetresFrom0 | None = None
    top_below_covering_mm: Annotated[float, Field(ge=-100, le=500)]
    pipe_mm: PipeWidth
    pipe_length_m: Metres


class NewGutter(Record):
    """The new gutter along one side; what is left out is the smallest stock size that will do."""

    side: Between
    shape: Literal["half_round", "rectangular"] = "half_round"
    width_mm: GutterWidth | None = None
    outlet_at: OutletAt | None = None
    outlet_mm: PipeWidth | None = None
    pipe_mm: PipeWidth | None = None


class Overflow(Record):
    """A slot through a parapet or kerb for the day when the outlet is blocked."""

    name: Name
    side: Between
    along_m: MetresFrom0
    width_mm: Millimetres
    height_mm: Millimetres = 50
    sill_above_roof_mm: MillimetresFrom0

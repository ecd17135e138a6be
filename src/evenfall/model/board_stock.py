"""Boards as the rates hold them: even ones, those cut to falls, and the saw that cuts them.

Boards are named by description, never by article number.
"""

from __future__ import annotations

from datetime import date
from itertools import pairwise
from typing import Annotated

from pydantic import Field, model_validator

from evenfall.model.kinds import (
    Conductivity,
    Name,
    Pence,
    Positive,
    Record,
    WholeMillimetres,
    Words,
)
from evenfall.standards.board_practice import (
    KERF_MM,
    METAL_KERF_MM,
    SMALLEST_PERIMETER_PIECE_MM,
    SMALLEST_PIECE_MM,
    TIMBER_KERF_MM,
)
from evenfall.standards.fixing_practice import BY_SIZE_OWN_FIXINGS

PricedOn = date | None
"""Date of one price, where it is another than that of the whole file."""
EVEN_MM = 0.5  # edges of tapered boards are told in whole millimetres


class BoardSize(Record):
    """One thickness that can be bought; conductivity goes by thickness band."""

    thickness_mm: Annotated[int, Field(ge=10, le=400)]
    lambda_w_mk: Conductivity
    price_pence: Pence
    priced_on: PricedOn = None


class BoardStock(Record):
    """A rigid insulation board by description, never by article number."""

    name: Name
    says: Words
    length_mm: WholeMillimetres
    width_mm: WholeMillimetres
    density_kg_m3: Positive
    facing_sd_m: Annotated[float, Field(ge=0, le=100_000)]
    facing_kg_m2: Annotated[float, Field(ge=0, le=5)]
    mu: Positive
    compressive_kpa: Positive | None = None  # stress at 10 % compression, as declared
    sizes: Annotated[tuple[BoardSize, ...], Field(min_length=1)]

    @model_validator(mode="after")
    def _can_be_laid(self) -> BoardStock:
        least, long, wide = SMALLEST_PERIMETER_PIECE_MM, self.length_mm, self.width_mm
        if min(long, wide) <= least:
            raise ValueError(f"a board of {long} x {wide} mm: it must be wider than {least:.0f} mm")
        largest = BY_SIZE_OWN_FIXINGS[-1]
        if long * wide > largest.length_mm * largest.width_mm:
            raise ValueError(f"a board of {long} x {wide} mm: it must not be larger than "
                             f"{largest.length_mm} x {largest.width_mm} mm, the largest that any "
                             "list of screws names; enter one board, not a pack")  # fmt: skip
        return self


class TaperedSize(Record):
    """One kind of a tapered board: its thin and its thick edge."""

    thin_mm: Annotated[int, Field(ge=5, le=400)]
    thick_mm: Annotated[int, Field(ge=5, le=400)]
    price_pence: Pence
    priced_on: PricedOn = None


class TaperedStock(Record):
    """Rigid boards cut to one fall; the kinds follow on, each from where the one before ends."""

    name: Name
    says: Words
    one_in: Annotated[float, Field(ge=20, le=200)]
    length_mm: WholeMillimetres  # along the fall
    width_mm: WholeMillimetres  # across it
    lambda_w_mk: Conductivity
    density_kg_m3: Positive
    facing_kg_m2: Annotated[float, Field(ge=0, le=5)]
    sizes: Annotated[tuple[TaperedSize, ...], Field(min_length=1, max_length=12)]

    @model_validator(mode="after")
    def _makes_one_slope(self) -> TaperedStock:
        if min(self.length_mm, self.width_mm) <= SMALLEST_PERIMETER_PIECE_MM:
            raise ValueError(f"a board of {self.length_mm} x {self.width_mm} mm: it must be wider "
                             f"than {SMALLEST_PERIMETER_PIECE_MM:.0f} mm")  # fmt: skip
        rise = self.length_mm / self.one_in
        for size in self.sizes:
            if abs(size.thick_mm - size.thin_mm - rise) > EVEN_MM:
                raise ValueError(f"{size.thin_mm} to {size.thick_mm} mm: {self.length_mm} mm at "
                                 f"1:{self.one_in:g} rise {rise:.0f} mm; give both edges of the "
                                 "board as they are sold")  # fmt: skip
        for one, two in pairwise(self.sizes):
            if one.thick_mm != two.thin_mm:
                raise ValueError(f"{two.thin_mm} mm after {one.thick_mm} mm: list the kinds from "
                                 "the thinnest, each beginning where the one before ends, or they "
                                 "make no even slope")  # fmt: skip
        return self


Kerf = Annotated[int, Field(ge=0, le=int(SMALLEST_PIECE_MM) - 1)]


class Saw(Record):
    """How wide the cuts of the firm's saws are."""

    boards_mm: Kerf = int(KERF_MM)
    timber_mm: Kerf = int(TIMBER_KERF_MM)
    trims_mm: Kerf = int(METAL_KERF_MM)

"""Screws of the rates: those of the boards by length, and how a screw holds in timber."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from evenfall.model.board_stock import PricedOn
from evenfall.model.kinds import MillimetresFrom0, Pence, Positive, Record, WholeMillimetres


class InTimber(Record):
    """A screw in timber: its thread, and its withdrawal strength f_ax,k at 350 kg/m3 (EN 14592)."""

    diameter_mm: Annotated[float, Field(gt=2, le=12)]
    f_ax_n_mm2: Annotated[float, Field(gt=1, le=40)] | None = None


class Screw(Record):
    """A screw with its plate or tube, by length."""

    lengths_mm: Annotated[tuple[WholeMillimetres, ...], Field(min_length=1)]
    diameter_mm: Annotated[float, Field(gt=2, le=12)]
    lambda_w_mk: Annotated[float, Field(gt=0.05, le=400)]  # steel is 50
    tube_mm: MillimetresFrom0
    design_resistance_n: Positive
    pack: Annotated[int, Field(ge=1, le=5000)]
    mass_kg_pack: Positive | None = None
    price_pence_pack: Pence
    priced_on: PricedOn = None

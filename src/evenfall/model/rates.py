"""The firm's rates: what can be bought and in which packs, how long work takes, what it costs.

Prices are whole pence without VAT. A rate is ``declared`` by the firm, or ``demo`` where the file
says that it is invented.
"""

from __future__ import annotations

import hashlib
import json
from datetime import date
from typing import Annotated, Literal

from pydantic import Field, model_validator

from evenfall.model.board_stock import BoardStock, PricedOn, Saw, TaperedStock
from evenfall.model.kinds import (
    Conductivity,
    Metres,
    Millimetres,
    MillimetresFrom0,
    Name,
    Pence,
    Percent,
    Positive,
    Record,
    WholeMillimetres,
    Words,
)
from evenfall.model.logbook import Danger
from evenfall.model.screws import InTimber
from evenfall.model.screws import Screw as Screw
from evenfall.standards.sheet_practice import SEAM_LAP_MM
from evenfall.standards.vcl_practice import SHORTEST_PIECE_MM
from evenfall.working import Basis

FORMAT = 1
MM = 1000
MARK = 12  # letters of a digest that tell two price books apart
Unit = Literal["m2", "m", "each", "l", "kg", "job", "night", "person_day", "day", "week"]


Telephone = Annotated[str, Field(pattern=r"^\+?[0-9][0-9 ]{1,20}[0-9]$")]


class About(Record):
    """Whose rates, and from when."""

    name: Words
    priced_on: date
    hold_days: Annotated[int, Field(ge=1, le=365)]
    invented: bool = False


class EmergencyLine(Record):
    """A number that the firm has tried: rung in place of those of the same danger from memory."""

    danger: Danger | Literal["hurt"]  # hurt: fire or ambulance
    who: Words
    telephone: Telephone
    tried_on: date


class Firm(Record):
    """The firm as its papers name it."""

    name: Words
    address: Words
    telephone: Words
    email: Words
    logo: Annotated[str, Field(min_length=1, max_length=200)] | None = None  # PNG or JPEG
    vat_registered: bool
    vat_number: Annotated[str, Field(min_length=1, max_length=40)] | None = None
    pay_to: Words | None = None  # bank and account, as they stand on an invoice
    competent_person_scheme: bool
    cancellation_checked_on: date | None = None  # wording of the notice, by one who knows the law
    emergency: tuple[EmergencyLine, ...] = ()


class SheetStock(Record):
    """A rubber sheet; sold by the running metre of each width."""

    name: Name
    says: Words
    thickness_mm: Annotated[float, Field(gt=0.5, le=5)]
    lambda_w_mk: Conductivity
    sd_m: Positive
    mass_kg_m2: Positive
    widths_m: Annotated[tuple[Metres, ...], Field(min_length=1)]
    longest_m: Metres
    step_m: Annotated[float, Field(gt=0, le=5)]
    price_pence_m2: Pence
    priced_on: PricedOn = None
    guarantee_years: Annotated[int, Field(ge=1, le=60)] | None = None  # of its maker

    @model_validator(mode="after")
    def _can_be_lapped(self) -> SheetStock:
        lap = SEAM_LAP_MM / MM
        if min(self.widths_m) <= 2 * lap:
            raise ValueError(f"a roll {min(self.widths_m)} m wide: every width must be more than "
                             f"two laps of {lap} m, or most of it is lap")  # fmt: skip
        if self.longest_m // self.step_m * self.step_m <= lap:
            raise ValueError(f"cuts of at most {self.longest_m} m in steps of {self.step_m}: the "
                             f"longest in whole steps must be over a lap of {lap} m")  # fmt: skip
        return self


class VclStock(Record):
    """A vapour control layer on the roll."""

    name: Name
    says: Words
    kind: Literal["self_adhesive_bitumen", "polythene", "aluminium_polythene"]
    thickness_mm: Annotated[float, Field(gt=0.05, le=10)]
    sd_m: Positive
    mass_kg_m2: Positive
    width_mm: WholeMillimetres
    length_mm: WholeMillimetres
    side_lap_mm: WholeMillimetres
    end_lap_mm: WholeMillimetres
    bridges_mm: MillimetresFrom0
    bituminous: bool
    nights: Annotated[int, Field(ge=0, le=60)]
    bond_kpa: Positive | None = None  # to the deck, where it sticks, as declared
    price_pence: Pence
    priced_on: PricedOn = None

    @model_validator(mode="after")
    def _can_be_lapped(self) -> VclStock:
        least = SHORTEST_PIECE_MM
        if self.side_lap_mm >= self.width_mm:
            raise ValueError(f"a roll {self.width_mm} mm wide: it must be wider than its side lap "
                             f"of {self.side_lap_mm} mm")  # fmt: skip
        if self.end_lap_mm >= least or self.length_mm < 2 * least:
            raise ValueError(f"a roll {self.length_mm} mm long with end laps of {self.end_lap_mm}: "
                             f"it must be {2 * least:.0f} mm or longer, and the lap less than "
                             f"{least:.0f}")  # fmt: skip
        return self


class Pack(Record):
    """A pack that can be bought."""

    size: Positive
    price_pence: Pence
    priced_on: PricedOn = None


class Item(Record):
    """A consumable; ``covers`` is how much work one unit of it does (the worse of two figures)."""

    name: Name
    says: Words
    unit: Unit
    covers: Positive
    covers_unit: Unit
    covers_other_label: Positive | None = None
    covers_other_label_unit: Unit | None = None  # where the other label tells it differently
    mass_kg: Positive | None = None  # of one unit
    length_mm: Millimetres | None = None  # of a wood screw
    in_timber: InTimber | None = None  # how a screw holds there
    waste_percent: Percent
    packs: Annotated[tuple[Pack, ...], Field(min_length=1)]


class Fitting(Record):
    """A fitting of a length: what joins, turns, ends or holds it."""

    name: Literal[
        "joint", "corner-out", "corner-in", "end", "outlet", "bracket", "bend", "shoe"
    ]  # fmt: skip
    says: Words
    price_pence: Pence
    mass_kg: Positive | None = None
    priced_on: PricedOn = None


class LengthStock(Record):
    """Something cut from stock lengths: trims, timber, fascia, gutter, pipe.

    Gutters and pipes of several sizes are named ``gutter-...`` and ``downpipe-...``. The depth of a
    trim or capping is how far it shows from outside.
    """

    name: Name
    says: Words
    lengths_mm: Annotated[tuple[WholeMillimetres, ...], Field(min_length=1)]
    price_pence_m: Pence
    depth_mm: Millimetres | None = None
    width_mm: Millimetres | None = None  # of a gutter, or across a pipe
    joint_gap_mm: MillimetresFrom0 = 0
    thickness_mm: Millimetres | None = None  # of a fascia: how much paint its edges take
    mass_kg_m: Positive | None = None
    priced_on: PricedOn = None
    fittings: tuple[Fitting, ...] = ()


class FasciaFinish(Record):
    """What a fascia is made of: its price beside that of `LengthStock`, and its upkeep."""

    name: Name
    says: Words
    price_percent: Annotated[float, Field(ge=10, le=1000)] = 100
    repaint_years: Annotated[int, Field(ge=1, le=40)] | None = None  # None: it is never painted
    repaint_pence_m: Pence = 0  # without VAT


class Adhesive(Record):
    """Beads of board adhesive: spacing decides both strength and use."""

    strength_kpa: Positive
    bead_mm: Millimetres
    sheet_bond_kpa: Positive


class Output(Record):
    """Person-hours for one unit of a task."""

    task: Name
    unit: Unit
    low: Annotated[float, Field(ge=0, le=100)]
    typical: Annotated[float, Field(ge=0, le=100)]
    high: Annotated[float, Field(ge=0, le=100)]

    @model_validator(mode="after")
    def _in_order(self) -> Output:
        if not self.low <= self.typical <= self.high:
            raise ValueError("low, typical and high must rise in that order")
        return self


class Charge(Record):
    """A cost of being on site: access, skip, fee, hire; ``when`` says which jobs need it."""

    name: Name
    says: Words
    block: Literal["access", "strip", "prelims", "fees"]
    when: Literal["always", "not_in_scheme", "felt_not_sampled"] = "always"
    unit: Literal["m", "m2", "day", "week", "night", "job", "each"]
    price_pence: Pence
    holds_m3: Positive | None = None


class WindowWork(Record):
    """What is done with a window beside the roof: its price, and how long it takes to get."""

    name: Literal["raise_sill", "rehang", "fix_glass", "fix_shut"]
    says: Words
    price_pence: Pence
    price_pence_m: Pence = 0
    lead_days: Annotated[int, Field(ge=0, le=365)]


class Booking(Record):
    """Something that must be booked in time: how long it takes, and before what it is needed.

    ``lead_days`` counts calendar days from the order to the day it is here, or answered.
    """

    name: Name
    says: Words
    kind: Literal["bought", "hired", "third_party"]
    lead_days: Annotated[int, Field(ge=0, le=365)]
    before: Literal["strip", "sheet"] = "strip"
    when: Literal["always", "rooflight", "not_in_scheme", "felt_not_sampled"] = "always"


class Provisional(Record):
    """A rate agreed in advance for work whose amount cannot be known yet."""

    name: Name
    says: Words
    unit: Unit
    price_pence: Pence
    hours: Annotated[float, Field(ge=0, le=100)] = 0  # person-hours for one unit
    beyond: Literal["deck"] | None = None  # charged beyond the share of deck that is in the price


class Stage(Record):
    """A payment stage."""

    name: Name
    says: Words
    percent: Percent


class MaterialStock(Record):
    """A material of one's own, for a deck, a quilt, a ceiling or an overlay that no table holds."""

    name: Name
    says: Words
    lambda_w_mk: Conductivity
    mu: Positive
    source: Words


class Terms(Record):
    """The firm's conditions."""

    valid_days: Annotated[int, Field(ge=1, le=365)]
    overhead_percent: Percent
    margin_percent: Percent
    minimum_charge_pence: Pence
    labour_pence_hour: Pence
    heat_price_pence_kwh: Annotated[float, Field(gt=0, le=200)]
    workmanship_years: Annotated[int, Field(ge=1, le=40)]
    pay_days: Annotated[int, Field(ge=1, le=90)] = 14
    conditions: tuple[Words, ...] = ()  # of the firm's own, as the client reads them
    stages: Annotated[tuple[Stage, ...], Field(min_length=1)]

    @model_validator(mode="after")
    def _whole(self) -> Terms:
        if abs(sum(s.percent for s in self.stages) - 100) > 1e-9:
            raise ValueError("the stages must add up to 100 percent")
        return self


class Rates(Record):
    """All that the firm buys, does and charges."""

    format: Literal[1] = 1
    rates: About
    firm: Firm
    boards: Annotated[tuple[BoardStock, ...], Field(min_length=1)]
    tapers: tuple[TaperedStock, ...] = ()
    saw: Saw = Saw()
    sheets: Annotated[tuple[SheetStock, ...], Field(min_length=1)]
    vcls: Annotated[tuple[VclStock, ...], Field(min_length=1)]
    screw: Screw
    adhesive: Adhesive
    items: Annotated[tuple[Item, ...], Field(min_length=1)]
    lengths: Annotated[tuple[LengthStock, ...], Field(min_length=1)]
    fascias: tuple[FasciaFinish, ...] = ()
    outputs: Annotated[tuple[Output, ...], Field(min_length=1)]
    charges: Annotated[tuple[Charge, ...], Field(min_length=1)]
    windows: tuple[WindowWork, ...] = ()
    bookings: tuple[Booking, ...] = ()
    provisional: Annotated[tuple[Provisional, ...], Field(min_length=1)]
    materials: tuple[MaterialStock, ...] = ()
    terms: Terms

    @property
    def basis(self) -> Basis:
        """``demo`` where the file says that it is invented, else ``declared``."""
        return "demo" if self.rates.invented else "declared"

    @property
    def mark(self) -> str:
        """Tell this price book from any other: the first letters of its SHA-256."""
        known = self.model_dump(mode="json", exclude={"firm": {"emergency"}})
        told = json.dumps(known, sort_keys=True, ensure_ascii=False)
        return hashlib.sha256(told.encode()).hexdigest()[:MARK]

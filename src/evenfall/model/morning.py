"""The answer for a morning: how much to open, when to stop, with whom, under what; what moved."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from evenfall.model.surveyed import Point, Ring


@dataclass(frozen=True, slots=True)
class ToldHour:
    """One hour of the day, by the clock."""

    hour: float
    rain_mm: float
    chance_percent: float
    dry: bool  # the roof may lie open
    bond: bool  # today's bonding may be done


@dataclass(frozen=True, slots=True)
class ToldFigure:
    """The least safe figure of the hours asked about, beside its limit."""

    says: str
    value: float
    limit: float
    unit: str
    hour: float  # by the clock
    passes: bool


@dataclass(frozen=True, slots=True)
class Opening:
    """How much may be opened with so many hands."""

    hands: int
    area_m2: float  # nought: open nothing
    stop_stripping: float  # hour by the clock
    seal_by: float  # hour by which it must be shut


@dataclass(frozen=True, slots=True)
class Move:
    """A day of work and its days; ``now`` None where the days looked at do not hold it."""

    says: str
    was: date
    now: date | None


@dataclass(frozen=True, slots=True)
class Morning:
    """The answer for one morning. The roofer decides."""

    on: date
    asked: datetime  # Greenwich
    issued: datetime  # Greenwich
    source: str
    says: tuple[str, ...]  # what is done today
    why: tuple[str, ...]  # why nothing is opened, or less than planned
    bays: tuple[int, ...]
    rings: tuple[Ring, ...]  # of those bays
    closed: tuple[Ring, ...]  # bays that are closed with VCL, or have their sheet
    deck: Ring
    bay_m2: float
    opening: Opening | None  # None: nothing was to be opened today
    fewer: Opening | None  # with one person less
    begins: float  # hours by the clock
    ends: float
    dusk: float
    reach_m2: float  # open roof that the covers reach over
    covers: tuple[str, ...]
    water: tuple[tuple[str, Point], ...]  # where tonight's water leaves, and which way
    bond: tuple[float, float] | None  # from, and no later than
    bond_why: str  # why not, or why no longer
    load: tuple[str, ...]
    hold: str
    figures: tuple[ToldFigure, ...]
    hours: tuple[ToldHour, ...]
    moves: tuple[Move, ...]
    finish_was: date
    finish_on: date | None
    faults: tuple[str, ...] | None = None  # of the checker; None: nothing was placed to check
    fewest: bool = False  # whether the changes are proven the fewest

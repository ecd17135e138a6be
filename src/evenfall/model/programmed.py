"""What the programme rooms hand on: tasks, and days whose every evening is watertight."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from math import dist
from typing import Literal

from evenfall.model.finding import Finding
from evenfall.model.gated import ANY, Gates
from evenfall.model.surveyed import Point, Ring
from evenfall.working import Known, Table, Working

Cover = Literal["felt", "open", "vcl", "sheet"]
"""What keeps the rain out of a bay; ``open`` must never be true of an evening."""


@dataclass(frozen=True, slots=True)
class Task:
    """One piece of work, with its hours by the firm's outputs."""

    id: str  # task:strip@1
    says: str
    bay: int | None
    quantity: Working
    hours: Working  # person-hours, typical
    hours_low: float
    hours_high: float
    after: tuple[str, ...]
    gates: Gates = ANY
    least_people: int = 1
    hold_point: int | None = None
    bays: tuple[int, ...] = ()  # of work on several bays at once: boards and sheet
    rests_h: float = 0.0  # before what comes after it may begin: relaxing, drying
    at: tuple[str, ...] = ()  # sides and openings it is done at; none: all over its part


@dataclass(frozen=True, slots=True)
class Booking:
    """Something bought, hired or asked of others, that the work waits for."""

    name: str
    says: str
    kind: Literal["bought", "hired", "third_party"]
    lead_days: int
    before: Literal["strip", "sheet"]
    ordered_on: date | None  # None: still open
    ready_on: date  # if ordered today, where it is open
    needed_on: date | None = None  # in this programme
    order_by: date | None = None  # the last day to order it for that


@dataclass(frozen=True, slots=True)
class Step:
    """A stretch of a day on which some people do one piece of work, by the clock."""

    task: str
    starts: float
    ends: float
    people: int
    gang: int = 1


@dataclass(frozen=True, slots=True)
class Search:
    """How good a programme is; below what no order of its bays, and no bays at all, can come."""

    stops: int  # evenings that break a rule
    days: int
    exposure: float  # m2 under VCL, times nights
    bound_stops: int
    bound_days: int
    bound_exposure: float
    steps: int
    least_days: int = 0  # of any number, order and size of bays

    @property
    def proven(self) -> bool:
        """Whether no other order of these bays is better."""
        best = (self.stops, self.days, self.exposure)
        return best == (self.bound_stops, self.bound_days, self.bound_exposure)

    @property
    def says(self) -> str:
        """What is proven of the number of days; empty where nothing is."""
        if self.stops:
            return ""
        if self.days <= self.least_days:
            return "no number, order or size of bays takes fewer"
        if self.days > self.bound_days:
            return f"best found; these bays take {self.bound_days} at the least"
        return f"no order of these bays takes fewer; other bays {self.least_days} at the least"


@dataclass(frozen=True, slots=True)
class Bay:
    """The area of one day."""

    number: int
    ring: Ring
    area_m2: float
    night_line: tuple[Point, Point] | None  # where its VCL meets old felt tonight; the longest
    night_lines: tuple[tuple[Point, Point], ...] = ()  # all of them

    @property
    def night_m(self) -> float:
        """Length of its night lines."""
        lines = self.night_lines or ((self.night_line,) if self.night_line else ())
        return sum(dist(a, b) for a, b in lines)


@dataclass(frozen=True, slots=True)
class Tasks:
    """All work, in the order of the trade."""

    tasks: tuple[Task, ...]
    hours: Working
    table: Table
    bays: tuple[Bay, ...] = ()
    findings: tuple[Finding, ...] = ()
    chosen: tuple[tuple[int, bool, bool], ...] = ()  # of each working day: bays, sheet, it first
    search: Search | None = None


@dataclass(frozen=True, slots=True)
class Drain:
    """Where the water of a bay leaves tonight."""

    bay: int
    leaves_by: str | None  # id of a side or an opening; None: it stands, the bay is a bath
    dam: int | None = None  # bay whose boards and sheet stand in its way


@dataclass(frozen=True, slots=True)
class Gap:
    """A gap in the edge timber, through which tonight's water leaves over the VCL."""

    side: str
    flow_l_s: float
    length_mm: float


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole or an edge that is begun, and what keeps the rain out of it tonight."""

    at: str  # id of an opening or a side
    says: str


@dataclass(frozen=True, slots=True)
class Evening:
    """The roof at dusk."""

    covers: tuple[tuple[int, Cover], ...]  # bay number, what keeps the rain out
    night_lines: tuple[tuple[Point, Point], ...]
    water_leaves_by: tuple[str, ...]  # ids of sides or openings
    sealed_by: float  # hour of the day
    dusk: float
    drains: tuple[Drain, ...] = ()
    gaps: tuple[Gap, ...] = ()
    holes: tuple[Hole, ...] = ()


@dataclass(frozen=True, slots=True)
class Day:
    """One working day."""

    number: int
    on: date
    says: str
    work: tuple[tuple[str, float], ...]  # task id, person-hours
    people: int
    hours: float  # of the day used
    evening: Evening
    dry_hours: float = 0.0  # dry weather to have ahead before anything is opened
    steps: tuple[Step, ...] = ()  # the day as usual, by the clock
    open_m2: float = 0.0  # at most at one time
    seals_m2: float = 0.0  # of it, what the crew closes within the hour
    cover_m: tuple[float, float] = (0.0, 0.0)  # on the roof for the rest of it, its two sides

    @property
    def opens(self) -> bool:
        """Whether anything lies open to the rain on this day."""
        return self.dry_hours > 0


@dataclass(frozen=True, slots=True)
class DayOff:
    """A day within a programme on which nobody is on the roof, besides the end of a week."""

    on: date
    name: str  # of a public holiday its own


@dataclass(frozen=True, slots=True)
class Programme:
    """Bays and days."""

    bays: tuple[Bay, ...]
    days: tuple[Day, ...]
    finish_on: date
    wet_reserve: Working  # days
    wet_evening: Known | None  # chance, where weather was brought
    nights_on_vcl: int
    findings: tuple[Finding, ...] = ()
    bookings: tuple[Booking, ...] = ()
    wet_months: tuple[tuple[int, Known], ...] = ()  # the same chance for each month of work
    off: tuple[DayOff, ...] = ()
    holidays: tuple[DayOff, ...] = ()  # public ones that are kept, of these years

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


@dataclass(frozen=True, slots=True)
class Evening:
    """The roof at dusk."""

    covers: tuple[tuple[int, Cover], ...]  # bay number, what keeps the rain out
    night_lines: tuple[tuple[Point, Point], ...]
    water_leaves_by: tuple[str, ...]  # ids of sides or openings
    sealed_by: float  # hour of the day
    dusk: float


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

"""A firm's own hours beside the rates that it plans with; offered, never taken by itself."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class LoggedJob:
    """Hours of one kind of work on one finished job."""

    reference: str
    finished_on: date
    planned_h: float
    used_h: float
    rate: float  # hours for one unit, as used


@dataclass(frozen=True, slots=True)
class OwnRate:
    """What a firm's log says of one output."""

    task: str
    unit: str
    seed: tuple[float, float, float]  # low, typical, high, as in the rates
    own: tuple[float, float, float]  # the least of a job, all jobs together, the most of a job
    spread: float  # standard deviation between jobs, hours for one unit
    jobs: tuple[LoggedJob, ...]
    offered: bool  # three finished jobs or more

    @property
    def line(self) -> str:
        """The line for the rates, to be taken by hand."""
        low, typical, high = (f"{v:g}" for v in self.own)
        return (
            f"- {{task: {self.task}, unit: {self.unit}, low: {low}, typical: {typical}, "
            f"high: {high}}}"
        )


@dataclass(frozen=True, slots=True)
class Spread:
    """What finished jobs say of one figure, beside the rates."""

    seed: float
    own: tuple[float, float, float]  # the least of a job, all jobs together, the most of a job
    spread: float  # standard deviation between jobs
    jobs: int


@dataclass(frozen=True, slots=True)
class OwnMaterial:
    """What a firm's finished jobs say of one line of the order."""

    line: str
    says: str
    unit: str
    waste: Spread  # percent over the need before waste
    price: Spread | None  # pence for one unit, without VAT; None where nobody wrote what was paid
    waste_offered: bool  # enough jobs, and the rates have a waste for it
    price_offered: bool

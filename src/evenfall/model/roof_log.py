"""What the log of a roof says, read: hold points, stops, readings, batches, hours, photos."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from evenfall.model.finding import Finding
from evenfall.model.logbook import (
    BatchEntry,
    Entry,
    FoundEntry,
    HoldEntry,
    HoursEntry,
    PhotoEntry,
    ReadingEntry,
    StopEntry,
    WeatherEntry,
)

HoldIs = Literal["open", "incomplete", "stopped", "passed", "put_right", "agreed"]
CLOSED: tuple[HoldIs, ...] = ("passed", "put_right", "agreed")
"""What lets the work go on."""


@dataclass(frozen=True, slots=True)
class Stamp:
    """Who wrote an entry, and when by the corrected clock."""

    id: str
    who: str
    on: date
    at: str  # such as 16:30

    @property
    def says(self) -> str:
        """In a few words."""
        return f"{self.who}, {self.on:%d %b %Y} {self.at}"


@dataclass(frozen=True, slots=True)
class HoldState:
    """Where a hold point stands, for one part of the roof."""

    number: int
    bays: tuple[int, ...]  # none: the whole roof
    state: HoldIs
    says: str
    by: tuple[Stamp, ...] = ()  # of all who looked
    values: tuple[tuple[str, float], ...] = ()  # of the entry that counts; the worst of a value
    batches: tuple[tuple[str, str], ...] = ()
    photos: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    again: tuple[str, ...] = ()  # passed, to be read once more
    agreed_by: str = ""
    differ: bool = False  # two telephones say two things

    @property
    def closed(self) -> bool:
        """Whether work may go on."""
        return self.state in CLOSED

    @property
    def where(self) -> str:
        """The part of the roof in words."""
        if not self.bays:
            return "whole roof"
        first, last = self.bays[0], self.bays[-1]
        return f"bay {first}" if first == last else f"bays {first} to {last}"


@dataclass(frozen=True, slots=True)
class StopState:
    """Work stopped for a danger, and who lifted it."""

    entry: StopEntry
    stamp: Stamp
    cleared_by: str = ""
    cleared: Stamp | None = None


@dataclass(frozen=True, slots=True)
class FoundState:
    """Work found, and who signed for it."""

    name: str
    entry: FoundEntry
    stamp: Stamp
    signed_by: str = ""
    signed: Stamp | None = None


@dataclass(frozen=True, slots=True)
class CoverState:
    """A cover that is on the roof."""

    length_m: float
    width_m: float
    lies: Literal["ready", "on"]


@dataclass(frozen=True, slots=True)
class DoneState:
    """What is done, and when."""

    bay: int | None
    task: str | None
    stamp: Stamp


@dataclass(frozen=True, slots=True)
class Kept:
    """All entries that stand, by the corrected clock, and those that were put right."""

    entries: tuple[tuple[Stamp, Entry], ...]
    replaced: tuple[tuple[str, str], ...]  # old id, new id
    moved: tuple[tuple[str, float], ...]  # telephone, seconds that its clock was ahead, last seen

    def of(self, kind: type) -> tuple[tuple[Stamp, Entry], ...]:
        """Entries of one kind."""
        return tuple((s, e) for s, e in self.entries if isinstance(e, kind))


@dataclass(frozen=True, slots=True)
class Logged:
    """The whole log, read."""

    kept: Kept
    holds: tuple[HoldState, ...]
    stops: tuple[StopState, ...]
    found: tuple[FoundState, ...]
    covers: tuple[CoverState, ...]
    done: tuple[DoneState, ...]
    signed: tuple[tuple[str, str, Stamp], ...]  # entry, by, when
    findings: tuple[Finding, ...] = field(default=())

    @property
    def readings(self) -> tuple[tuple[Stamp, ReadingEntry], ...]:
        """Readings, the oldest first."""
        return self.kept.of(ReadingEntry)  # type: ignore[return-value]

    @property
    def weather(self) -> tuple[tuple[Stamp, WeatherEntry], ...]:
        """The weather seen."""
        return self.kept.of(WeatherEntry)  # type: ignore[return-value]

    @property
    def hours(self) -> tuple[tuple[Stamp, HoursEntry], ...]:
        """Hours used."""
        return self.kept.of(HoursEntry)  # type: ignore[return-value]

    @property
    def photos(self) -> tuple[tuple[Stamp, PhotoEntry], ...]:
        """Photos with words."""
        return self.kept.of(PhotoEntry)  # type: ignore[return-value]

    @property
    def batches(self) -> tuple[tuple[Stamp, int | None, str, str], ...]:
        """Every batch: when, bay, product and number; those of hold points too."""
        told: list[tuple[Stamp, int | None, str, str]] = []
        for stamp, entry in self.kept.entries:
            if isinstance(entry, BatchEntry):
                told.append((stamp, entry.bay, entry.product, entry.batch))
            elif isinstance(entry, HoldEntry):
                told += [(stamp, entry.bay, b.product, b.batch) for b in entry.batches]
        return tuple(told)

    @property
    def standing(self) -> tuple[StopState, ...]:
        """Stops that nobody has lifted."""
        return tuple(s for s in self.stops if s.cleared is None)

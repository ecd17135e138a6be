"""What the room of ways hands on: every way of making the fall, side by side."""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.model.finding import Change, Finding
from evenfall.working import Table


@dataclass(frozen=True, slots=True)
class Way:
    """One way of making the fall, against the roof, the heights and the rates."""

    id: str  # way:firrings-across
    says: str
    one_in: float  # fall that it is made to; what is kept has its own
    finished_mm_m: float  # as laid
    left_mm_m: float  # when the joists sag under load
    pond_mm: float  # deepest that is left
    mitre_mm_m: float | None  # flattest valley, where boards have one
    most_mm: float  # added anywhere
    used_mm: float  # added where it governs
    governs: str  # id of the item, or roof
    margin_mm: float | None  # left there; None where nothing stands beside the roof
    timber_m: float
    foam_m3: float
    hours: float
    cost_pence: int  # timber, boards and hours, before overhead and margin
    verdict: str
    works: bool
    chosen: bool
    changes: tuple[Change, ...]
    by_scheme: bool = False  # boards that no rates hold, cut by whoever makes them


@dataclass(frozen=True, slots=True)
class Ways:
    """All ways, the one chosen first, and which is best; costs are no matter of the sheets."""

    rows: tuple[Way, ...]
    best: str  # id of the way; empty where none works
    says: str  # why, with costs: for the owner alone
    table: Table  # without costs and hours
    findings: tuple[Finding, ...] = ()

    @property
    def taken(self) -> Way:
        """The way that the owner chose."""
        return next(r for r in self.rows if r.chosen)

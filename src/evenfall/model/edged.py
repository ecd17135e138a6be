"""What the edge rooms hand on: curves over thickness, edges solved, heat and coldest spots."""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.model.finding import Finding
from evenfall.model.surveyed import Point
from evenfall.working import Table, Working


@dataclass(frozen=True, slots=True)
class EdgePoint:
    """An edge at one thickness: exact, or read from the curve through the exact ones."""

    thickness_mm: int
    psi: float  # W/(m K)
    low: float
    high: float
    f_rsi: float
    exact: bool


@dataclass(frozen=True, slots=True)
class EdgeCurve:
    """One edge over every buyable thickness."""

    id: str  # side:A-B or opening:rooflight
    points: tuple[EdgePoint, ...]
    solves: int  # exact answers that it took
    sound: bool  # whether every check between them lay inside its bracket


@dataclass(frozen=True, slots=True)
class EdgeCurves:
    """Every edge over every buyable thickness, for the rise stick; no length, no price."""

    curves: tuple[EdgeCurve, ...]

    @property
    def unsure(self) -> tuple[str, ...]:
        """Ids of the edges that were not tried in every gap: boards that pair unevenly do it."""
        return tuple(c.id for c in self.curves if not c.sound)

    def at(self, thickness_mm: int) -> tuple[tuple[str, EdgePoint], ...]:
        """Give every edge at one thickness."""
        return tuple(
            (c.id, p) for c in self.curves for p in c.points if p.thickness_mm == thickness_mm
        )


@dataclass(frozen=True, slots=True)
class EdgeState:
    """An edge built in one way, solved."""

    says: str  # wall head filled
    psi: Working  # W/(m K)
    low: float
    high: float
    f_rsi: float  # with the films of heat
    f_mould: float  # with the film of mould
    coldest: Point  # mm


@dataclass(frozen=True, slots=True)
class EdgeDetail:
    """An edge as it will be, and with its detail done the other way where there is one."""

    id: str
    state: EdgeState
    other: EdgeState | None
    out_m: float  # from the inner face of the wall to the edge of the deck
    wall_says: str
    wall_factor: float | None  # temperature factor of the bare wall, film of mould
    raised_m: float = 0.0  # what a parapet was drawn higher than found, to stand above the roof


@dataclass(frozen=True, slots=True)
class EdgeDetails:
    """Every edge solved at the thickness taken; no length, no climate, no price."""

    details: tuple[EdgeDetail, ...]


@dataclass(frozen=True, slots=True)
class EdgeAt:
    """One edge: what it loses, and how cold it gets inside."""

    id: str
    says: str
    length_m: float  # along the inner face
    psi: Working  # W/(m K)
    psi_low: float
    psi_high: float
    heat: Working  # W/K
    share_percent: float  # of all that the roof loses
    f_rsi: float  # films of heat
    coldest_c: float  # in the month that asks most, film of mould
    other_says: str = ""  # the detail done the other way
    other_psi: float | None = None
    other_coldest_c: float | None = None
    worth_w_k: float | None = None  # what the other way would cost, or save where negative
    worth_pence: float | None = None  # a year


@dataclass(frozen=True, slots=True)
class Edges:
    """Heat at the edges, and the whole roof: sum of U A and of psi L."""

    edges: tuple[EdgeAt, ...]
    whole: Working  # W/K
    table: Table
    least_c: float  # coldest that a surface may be in the month that asks most
    governs: str  # a plain sentence
    findings: tuple[Finding, ...] = ()

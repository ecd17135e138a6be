"""What stands beside the roof and does not move when it rises; thinner zones; windows."""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.model.finding import Change, Finding
from evenfall.model.surveyed import Point, Ring
from evenfall.model.taken_off import OrderLine
from evenfall.working import Known, Table, Working

SLACK_MM = 1e-6
"""A height that is short by less is the rounding of a sum."""


@dataclass(frozen=True, slots=True)
class HeightAt:
    """One measured item, and what is left under it."""

    id: str  # height:back-door
    name: str
    kind: str
    at: Point
    spot: Point  # where along it, or under its swing, the finished surface stands highest
    available: Working  # mm above the deck
    required: Known  # mm of upstand, or of clearance
    build_up: Working  # mm above the deck, at the item
    margin: Working  # mm
    room: Working  # mm, the thickest even insulation that the item leaves room for
    thickest_mm: int | None  # thickest board sold that fits here
    agreed: bool

    @property
    def stays_mm(self) -> float:
        """How far it stays above the finished surface; below nought it lies under it."""
        return float(self.required + self.margin.value)


@dataclass(frozen=True, slots=True)
class TurnedFall:
    """What the heights would leave if the roof fell to another side."""

    side: str
    kind: str
    thickest_mm: float  # thickest even insulation, before boards as sold
    sold_mm: int | None
    governs: str  # id of the item


@dataclass(frozen=True, slots=True)
class Heights:
    """The height budget of every measured item, the tightest first, and the reverse of it."""

    items: tuple[HeightAt, ...]
    rise_at_edge: Working  # mm above the old covering, the most along the edge
    rise_at_thin: Working  # mm above the old covering, the least along the edge
    turned: tuple[TurnedFall, ...] = ()  # open sides that the roof could fall to, the best first
    tables: tuple[Table, ...] = ()
    findings: tuple[Finding, ...] = ()

    @property
    def governs(self) -> HeightAt | None:
        """The item that leaves room for the thinnest board."""
        return min(self.items, key=lambda h: h.room.value, default=None)


@dataclass(frozen=True, slots=True)
class ZoneAt:
    """A part of the roof with thinner insulation, in its place."""

    id: str  # zone:under-the-window
    name: str
    side: str
    origin: Point  # first corner of its side
    along: Point  # unit vector
    inwards: Point  # unit vector
    from_m: float
    to_m: float
    in_m: float
    thickness_mm: int  # all layers together
    rings: tuple[Ring, ...]  # on the deck
    area_m2: float  # under boards

    def holds(self, point: Point, near_m: float) -> bool:
        """Tell whether a point lies in it, or as near to it as that."""
        x, y = point[0] - self.origin[0], point[1] - self.origin[1]
        a = x * self.along[0] + y * self.along[1]
        d = x * self.inwards[0] + y * self.inwards[1]
        return (
            self.from_m - near_m <= a <= self.to_m + near_m and -near_m <= d <= self.in_m + near_m
        )


@dataclass(frozen=True, slots=True)
class Zones:
    """The thinner zones of the roof."""

    zones: tuple[ZoneAt, ...] = ()
    why_empty: str = ""


@dataclass(frozen=True, slots=True)
class ZoneOffer:
    """Thinner zones that would let a thicker board pass."""

    field_mm: int
    thinnest_mm: int
    area_m2: float
    u: Working  # W/(m2K), weighted by area
    says: str
    changes: tuple[Change, ...]


@dataclass(frozen=True, slots=True)
class WindowWay:
    """One way to deal with a window that the roof would stop or bury."""

    key: str
    says: str
    cost: Working | None  # pence without VAT; None where it lies in boards and hours
    lead_days: int
    changes: tuple[Change, ...]  # none where the user must answer something first


@dataclass(frozen=True, slots=True)
class WindowAt:
    """One window beside the roof, as it will stand over the finished surface."""

    id: str  # window:scullery
    name: str
    at: Point
    treatment: str
    sill_mm: float  # above the finished surface; below nought it is passed
    sill_asked_mm: float
    sash_mm: float | None  # lowest edge of what swings, above the finished surface
    sash_asked_mm: float
    closes: str  # how the sheet closes against the frame
    ways: tuple[WindowWay, ...]
    cost: Working | None  # of the treatment chosen, pence
    lead_days: int

    @property
    def held(self) -> bool:
        """Whether the job waits for it."""
        short = self.sill_mm < self.sill_asked_mm - SLACK_MM
        return short or (self.sash_mm is not None and self.sash_mm < self.sash_asked_mm - SLACK_MM)


@dataclass(frozen=True, slots=True)
class Windows:
    """Windows beside the roof: what happens to them, what it costs and how long it takes."""

    windows: tuple[WindowAt, ...] = ()
    order: tuple[OrderLine, ...] = ()
    why_empty: str = ""
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class ZoneHeat:
    """Heat through one thickness of the field."""

    name: str
    thickness_mm: int
    area_m2: float
    u: Working

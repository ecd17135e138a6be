"""What the hours are counted from: the roof with what was found and chosen, and parts of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from evenfall.calc.geometry.polygon import area
from evenfall.model.choice import Vcl
from evenfall.model.gated import Permit
from evenfall.model.job import Calendar, Crew
from evenfall.model.programmed import Booking
from evenfall.model.surveyed import OpeningAt, Plan, Point, SideAt

FACES = 0.5  # cosine: water reaches eaves that face within 60 degrees of the fall


@dataclass(frozen=True, slots=True)
class Roof:
    """The roof, what was found on it and what was chosen, as far as it takes time."""

    plan: Plan
    downhill: Point
    firrings_m: float
    relaid_percent: float  # of the old deck, lifted for the firrings and laid again
    seam_m: float  # seams of the sheet as ordered
    screws_m2: float  # of the boards
    layers: int  # of old felt
    chippings: bool
    renew_percent: float
    quilt_mm: float  # taken out; nought if kept
    wall_heads: tuple[str, ...]  # sides whose wall head is filled
    close_vents: bool
    screwed: bool
    board_layers: int
    overlay_mm: float
    new_fascia: bool
    gutters: tuple[tuple[str, float], ...]  # side and pipe in m; only those renewed
    overflows: int  # slots that are planned
    doors_m: tuple[float | None, ...]  # widths of doors with a drained channel
    vcl: Vcl
    other_vcls: tuple[tuple[str, str, int], ...]  # name, kind, nights that it stands
    joist_ends: float = 0.0  # that are repaired
    lined_m: tuple[tuple[str, float], ...] = ()  # parapets lined with board: side, height
    painted: bool = False  # whether the firm paints a new fascia
    soffits_m: tuple[tuple[str, float], ...] = ()  # sides whose soffit is renewed, and lengths
    sheet_hands: int = 2  # people who lift the roll of the sheet
    tapered_m2: tuple[tuple[str, float], ...] = ()  # tapered boards and what fills up under them


@dataclass(frozen=True, slots=True)
class When:
    """Who works, from when, where the sun sets, and which hours the weather leaves."""

    crew: Crew
    calendar: Calendar
    nation: str  # whose public holidays are kept
    latitude: float
    longitude: float
    permits: tuple[Permit, ...] = ()
    bookings: tuple[Booking, ...] = ()
    covers: tuple[tuple[float, float], ...] | None = None  # on the site, m; None: not told yet

    def from_when(self, before: str) -> date:
        """Find the first day on which nothing is awaited any more."""
        ready = (b.ready_on for b in self.bookings if b.before in ("strip", before))
        return max(ready, default=date.min)


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the roof: a bay, a zone or the whole."""

    gross: float
    share: float  # of the gross area
    edges: tuple[float, ...]  # of each side of the plan, in its order
    openings: tuple[OpeningAt, ...]
    nights: int = 0
    night_m: float = 0.0

    @property
    def net(self) -> float:
        """Area without the openings."""
        return self.gross - sum(area(o.hole) for o in self.openings)


def whole(roof: Roof) -> Part:
    """Take the whole roof as one part.

    Parameters
    ----------
    roof : Roof
        The roof [-].

    Returns
    -------
    Part
        All of it [m].
    """
    plan = roof.plan
    edges = tuple(s.length_m for s in plan.sides)
    return Part(plan.gross.value, 1.0, edges, plan.openings)


def joined(parts: tuple[Part, ...]) -> Part:
    """Put parts together.

    Parameters
    ----------
    parts : tuple of Part
        Bays of one zone [-].

    Returns
    -------
    Part
        Their sum [m].
    """
    edges = tuple(map(sum, zip(*(p.edges for p in parts), strict=True)))
    return Part(
        sum(p.gross for p in parts), sum(p.share for p in parts), edges,
        tuple(o for p in parts for o in p.openings),
    )  # fmt: skip


def drains(side: SideAt, roof: Roof) -> bool:
    """Tell whether the water of the roof leaves over a side.

    Parameters
    ----------
    side : SideAt
        The side [-].
    roof : Roof
        The roof and its fall [-].

    Returns
    -------
    bool
        Whether it is eaves that the fall reaches [-].
    """
    u, v = roof.downhill
    return side.kind == "eaves" and side.outwards[0] * u + side.outwards[1] * v > FACES

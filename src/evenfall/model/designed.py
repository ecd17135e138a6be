"""What the design rooms hand on: thickness, heights, heat, moisture, wind, joists, water, rules."""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.model.finding import Finding
from evenfall.model.standing import ZoneHeat, ZoneOffer
from evenfall.model.surveyed import Ring
from evenfall.working import Known, Table, Working


@dataclass(frozen=True, slots=True)
class Thickness:
    """One thickness that can be bought: heat, moisture, weight, screw; no price, no height."""

    thickness_mm: int
    u: float
    moisture: str  # a, b or c of ISO 13788
    mass_kg_m2: float
    screw_mm: int | None  # None where no screw that is sold reaches
    heat_kwh: float  # lost through the field in a year


@dataclass(frozen=True, slots=True)
class Thicknesses:
    """Every buyable thickness worked once; the rise stick adds heights and prices."""

    rows: tuple[Thickness, ...]
    before_u: Working
    target_u: Known


@dataclass(frozen=True, slots=True)
class RiseRow:
    """One thickness that can be bought, against all that hangs on it."""

    thickness_mm: int
    u: float
    passes_u: bool
    least_margin_mm: float | None  # None where nothing stands beside the roof
    governs: str  # id of the item with the least margin
    fits: bool
    moisture: str  # a, b or c of ISO 13788
    mass_kg_m2: float
    screw_mm: int | None  # None where no screw that is sold reaches
    price_pence_m2: int
    heat_kwh: float  # lost through the field in a year


@dataclass(frozen=True, slots=True)
class Rise:
    """The rise stick: every thickness, the one taken and what governs it."""

    rows: tuple[RiseRow, ...]
    chosen_mm: int
    chosen_by: str  # owner or proposed
    governs: str  # a plain sentence
    target_u: Known
    thickest_that_fits_mm: int | None
    before_u: Working
    zone: ZoneOffer | None = None
    findings: tuple[Finding, ...] = ()

    @property
    def row(self) -> RiseRow:
        """The row of the thickness taken."""
        return next(r for r in self.rows if r.thickness_mm == self.chosen_mm)


@dataclass(frozen=True, slots=True)
class LayerOf:
    """One layer of the build-up, from outside to inside."""

    name: str
    thickness_mm: float
    resistance: float  # m2K/W
    sd_m: float
    source: str
    basis: str


@dataclass(frozen=True, slots=True)
class Heat:
    """Heat through the field of the finished roof."""

    layers: tuple[LayerOf, ...]
    u: Working  # W/(m2K), corrected
    parts: tuple[Working | Table, ...]  # how it came about
    lost: Working  # kWh a year through the field
    lost_before: Working
    saved_pence: Working
    zones: tuple[ZoneHeat, ...] = ()  # the field first; empty where it is all of one thickness
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class EdgeAt:
    """One edge that a heat-flow picture will be worked for."""

    id: str
    says: str
    length_m: float


@dataclass(frozen=True, slots=True)
class Edges:
    """Heat at the edges; psi values come with the two-dimensional calculation."""

    edges: tuple[EdgeAt, ...]
    why_empty: str = ""
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Moisture:
    """Month by month: whether water gathers in the build-up, and whether it dries."""

    verdict: str  # a: none gathers, b: gathers and dries, c: does not dry
    peak: Working  # kg/m2
    peak_month: str
    months: Table
    f_rsi: Working
    f_rsi_required: Working
    without_vcl: str  # verdict if the VCL were left out
    two_kelvin_colder: str  # verdict with a clear-sky offset that no standard gives
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Drying:
    """How long built-in water takes to leave."""

    why_empty: str = ""
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class WindZone:
    """A part of the roof under one suction, over all wind directions."""

    zone: str  # F, G, H or I
    ring: Ring
    area_m2: float
    pressure: Working  # Pa, suction negative, net
    per_board: int  # screws, when boards are screwed
    bead_mm: int  # centres of beads, when boards are glued
    bond_pa: float  # what each glued face must hold


@dataclass(frozen=True, slots=True)
class Wind:
    """Wind on the roof and what holds it down."""

    q_p: Working  # Pa
    zones: tuple[WindZone, ...]
    least_per_board: tuple[Known, ...]  # all sources, side by side
    screw_mm: int | None
    resistance: Working  # N, design value of one screw
    bond: Working  # Pa, what every glued face must hold, anywhere on the roof
    centres: Working  # m, widest centres of beads that hold it
    safety: str  # the one safety format, in words
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class JoistCase:
    """One moment in the life of the joists."""

    name: str  # before, during, after
    load: Working  # N/m2, characteristic
    bending: Working  # utilisation
    deflection: Working  # mm, final
    limit_mm: float


@dataclass(frozen=True, slots=True)
class Joists:
    """The joists before, during and after; an aid, not a structural design."""

    cases: tuple[JoistCase, ...]
    change_percent: Working  # weight of the covering
    ponding: Working  # amplification
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class GutterCheck:
    """One gutter with its outlet and pipe, or one outlet in the roof."""

    id: str  # gutter:A-B or opening:outlet-1
    area: Working  # m2, effective
    flow: Working  # l/s
    gutter: Working | None  # l/s, capacity
    outlet: Working  # l/s, capacity
    pipe: Working | None  # l/s, capacity
    spare_percent: float


@dataclass(frozen=True, slots=True)
class Water:
    """Rain on the roof and the ways it leaves by."""

    checks: tuple[GutterCheck, ...]
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Fire:
    """Fire from outside: distance of every edge to the boundary."""

    nearest_m: Known
    table: Table
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Rules:
    """Duties that this job triggers: notice, planning, weight, asbestos, party wall, waste."""

    rise: Working  # mm above the old roof plane, at the thick end
    rise_thin: Working  # the same at the thin end
    planning_margin: Working  # mm before planning permission is needed
    findings: tuple[Finding, ...] = ()

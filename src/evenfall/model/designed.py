"""What the design rooms hand on: thickness, heights, heat, moisture, wind, joists, water, rules."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from evenfall.model.finding import Finding
from evenfall.model.standing import ZoneHeat, ZoneOffer
from evenfall.model.surveyed import Ring
from evenfall.working import Known, Table, Working


@dataclass(frozen=True, slots=True)
class Thickness:
    """One thickness that can be bought: heat, moisture, weight, fixings; no price, no height."""

    thickness_mm: int
    boards: tuple[int, ...]  # from the deck up, mm
    u: float
    moisture: str  # a, b or c of ISO 13788
    f_rsi: float  # temperature factor of the ceiling, away from all edges
    mass_kg_m2: float
    added_kg_m2: float  # the new layers less the old felt
    screw_mm: int | None  # shortest that reaches; None where none that is sold does
    screw_most_mm: int | None  # longest whose point harms nothing; None where nothing is there
    screws_m2: float  # as the wind asks for them; 0 where boards are glued
    glued_m2: float  # glue, in m2 of one face at beads of 300 mm; 0 where boards are screwed
    heat_kwh: float  # lost through the field in a year

    @property
    def can_be_screwed(self) -> bool:
        """Whether a screw that is sold reaches into the deck and harms nothing below it."""
        if self.screw_mm is None:
            return False
        return self.screw_most_mm is None or self.screw_mm <= self.screw_most_mm


@dataclass(frozen=True, slots=True)
class Thicknesses:
    """Every buyable thickness worked once; the rise stick adds heights and prices."""

    rows: tuple[Thickness, ...]
    before_u: Working
    target_u: Known
    before_kwh: float  # lost through the old roof in a year


@dataclass(frozen=True, slots=True)
class RiseRow:
    """One thickness that can be bought, against all that hangs on it."""

    thickness_mm: int
    boards: tuple[int, ...]  # from the deck up, mm
    u: float
    passes_u: bool
    least_margin_mm: float | None  # None where nothing stands beside the roof
    governs: str  # id of the item with the least margin
    fits: bool
    moisture: str  # a, b or c of ISO 13788
    f_rsi: float
    mass_kg_m2: float
    added_kg_m2: float
    screw_mm: int | None  # None where no screw that is sold reaches
    screw_most_mm: int | None
    can_be_held: bool  # by the screws or the glue chosen
    price_pence_m2: int  # boards alone
    fixing_pence_m2: int  # screws or glue
    heat_kwh: float  # lost through the field in a year
    saved_kwh: float  # against the old roof
    saved_co2_kg: float
    payback_years: float | None  # against the next thinner; None for never, and for the first

    @property
    def says(self) -> str:
        """Name the boards: ``140`` or ``80 + 60``."""
        return " + ".join(f"{mm}" for mm in self.boards)

    @property
    def against(self) -> tuple[str, ...]:
        """What speaks against it, the heaviest first, in a word or two each."""
        found = [] if self.fits else ["too high"]
        found += ["water stays"] if self.moisture == "c" else []
        found += [] if self.can_be_held else ["no screw"]
        return tuple(found + ([] if self.passes_u else ["too cold"]))

    @property
    def screws(self) -> str:
        """Shortest screw that reaches to longest that harms nothing: ``120 to 154``, in mm."""
        if self.screw_mm is None:
            return "none sold"
        most = self.screw_most_mm
        if most is not None and most < self.screw_mm:
            return f"{self.screw_mm} is too long"
        return f"{self.screw_mm}" + (f" to {most}" if most else " or longer")

    @property
    def cost_pence_m2(self) -> int:
        """Boards and what holds them."""
        return self.price_pence_m2 + self.fixing_pence_m2


@dataclass(frozen=True, slots=True)
class Rise:
    """The rise stick: every thickness, the one taken and what governs it."""

    rows: tuple[RiseRow, ...]  # in the layers chosen, the thinnest first
    other_rows: tuple[RiseRow, ...]  # in one layer instead of two, or in two instead of one
    chosen_mm: int
    chosen_by: str  # owner or proposed
    governs: str  # a plain sentence
    why: str  # why this one is proposed, or what speaks against the one chosen
    target_u: Known
    thickest_that_fits_mm: int | None
    before_u: Working
    table: Table
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
    saved_co2: Working  # kg a year
    zones: tuple[ZoneHeat, ...] = ()  # the field first; empty where it is all of one thickness
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Moisture:
    """Month by month: whether water gathers in the build-up, and whether it dries."""

    verdict: str  # a: none gathers, b: gathers and dries, c: does not dry
    peak: Working  # kg/m2
    peak_month: str
    months: Table
    what_ifs: Table
    spell: Working  # kg/m2, gathered in the cold spell
    f_rsi: Working
    f_rsi_required: Working
    without_vcl: str  # verdict if the VCL were left out
    two_kelvin_colder: str  # verdict with a clear-sky offset that no standard gives
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class DryingCourse:
    """One start and how it dries: the wettest part of the deck."""

    name: str  # in words: wettest reading, mean of the readings
    start_percent: float
    days: float | None  # until below the limit; None where it does not come
    points: tuple[tuple[float, float], ...]  # day, per cent


@dataclass(frozen=True, slots=True)
class Drying:
    """How long water that was built in takes to leave through the ceiling."""

    why_empty: str = ""
    closed_on: date | None = None
    limit_percent: Known | None = None
    within_days: Known | None = None
    wettest: Working | None = None  # d, until below the limit
    mean: Working | None = None  # d
    may_close: Working | None = None  # %, wettest deck that is dry in time
    courses: tuple[DryingCourse, ...] = ()
    months: Table | None = None
    left_out: Table | None = None
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
    shear: Working  # utilisation
    bearing: Working  # utilisation
    person: Working | None  # utilisation in bending, one person in place of the even load
    at_once: Working  # mm, under the passing load
    deflection: Working  # mm, final
    limit_mm: float


@dataclass(frozen=True, slots=True)
class Seldom:
    """A load that comes seldom, deepest at one side: a blocked way out, a drift of snow."""

    id: str  # night, or drift:D-E
    says: str
    deepest: Working  # N/m2, at the side
    reach_m: float
    bending: Working  # utilisation of the joist that carries most
    before: Working  # utilisation of the same joist as found


@dataclass(frozen=True, slots=True)
class Joists:
    """The joists before, during and after; an aid, not a structural design."""

    cases: tuple[JoistCase, ...]
    seldom: tuple[Seldom, ...]
    change_percent: Working  # weight of the covering
    ponding: Working  # amplification
    kerbs: tuple[Working, ...]  # pressure under each kerb that stands on the boards, kPa
    engineer: Table  # all that an engineer asks for first
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
class Night:
    """The part-built roof as a bath, and the way out that keeps it empty."""

    volume: Working  # m3
    depth: Working  # m, at the low side, with the way out blocked
    load: Working  # N/m2, there
    reach_m: float  # up the fall
    flow: Working  # l/s, in the hardest rain
    way_out: Working  # mm, the least gap
    open_load: Working  # N/m2, at the low side with the way out open


@dataclass(frozen=True, slots=True)
class Water:
    """Rain on the roof and the ways it leaves by."""

    checks: tuple[GutterCheck, ...]
    night: Night
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

"""What the design rooms hand on: thickness, heights, heat, moisture, wind, joists, water, rules."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from evenfall.model.drained import GutterShape, OutletAt
from evenfall.model.finding import Finding
from evenfall.model.rising import Rise as Rise
from evenfall.model.rising import RiseRow as RiseRow
from evenfall.model.rising import Thickness as Thickness
from evenfall.model.rising import Thicknesses as Thicknesses
from evenfall.model.standing import ZoneHeat
from evenfall.model.surveyed import Ring
from evenfall.working import Cited, Known, Table, Working


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
class Interface:
    """Two layers and what holds them together against the wind."""

    id: str
    says: str
    by: str
    pull: Working  # design value, in the unit of what holds it
    holds: Known | Working | None  # None: nobody has declared it
    declared: bool = True  # False: a value of practice stands in for that of the maker

    @property
    def spare(self) -> float:
        """What is left of the strength, as a share of the pull; below 0 it does not hold."""
        return float(self.holds or 0.0) / max(self.pull.value, 1e-9) - 1


@dataclass(frozen=True, slots=True)
class ScrewBand:
    """A stock length of screw and where it is used: layers under its head from, up to [mm]."""

    length_mm: int
    from_mm: float
    to_mm: float


@dataclass(frozen=True, slots=True)
class Wind:
    """Wind on the roof and what holds it down."""

    q_p: Working  # Pa
    z: Working  # m, height at which it is taken
    by_zone: Table  # the zones and the rule for them
    by_wind: Table  # e of every wind, and what it makes of the zones
    by_area: Table | None  # what a larger loaded area would allow; None: the user read one value
    zones: tuple[WindZone, ...]
    least_per_board: tuple[Known, ...]  # all sources, side by side
    least_at_edge: tuple[Known, ...]  # the same for boards at the edge
    screw_mm: int | None  # the longest
    screws: tuple[ScrewBand, ...]  # several lengths over tapered boards; none where none reaches
    resistance: Working  # N, design value of one screw
    more_tests: Table | None  # what more pull-out tests would gain
    bond: Working  # Pa, what every glued face must hold, anywhere on the roof
    centres: Working  # m, widest centres of beads that hold it
    faces: tuple[Interface, ...]  # glued faces
    safety: str  # the one safety format, in words
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Combination:
    """Loads that lie on the joists together, with the k_mod of the shortest of them."""

    says: str  # all together, lasting load alone, one person
    k_mod: Cited
    bending: Working  # utilisation
    shear: Working  # utilisation
    bearing: Working  # utilisation


@dataclass(frozen=True, slots=True)
class JoistCase:
    """One moment in the life of the joists."""

    name: str  # before, during, night, after
    load: Working  # N/m2, characteristic
    combinations: tuple[Combination, ...]
    at_once: Working  # mm, under the passing load
    deflection: Working  # mm, final
    person_at_once: Working | None  # mm, under one person in place of the even load
    person_deflection: Working | None  # mm, final
    limit_mm: float

    @property
    def bending(self) -> Working:
        """Utilisation in bending under the worst combination."""
        return max((c.bending for c in self.combinations), key=lambda w: w.value)

    @property
    def shear(self) -> Working:
        """Utilisation in shear under the worst combination."""
        return max((c.shear for c in self.combinations), key=lambda w: w.value)

    @property
    def bearing(self) -> Working:
        """Utilisation in bearing under the worst combination."""
        return max((c.bearing for c in self.combinations), key=lambda w: w.value)

    @property
    def sag(self) -> Working:
        """Final sag, in mm, under the even load or one person, whichever is more."""
        both = (w for w in (self.deflection, self.person_deflection) if w is not None)
        return max(both, key=lambda w: w.value)

    @property
    def worst(self) -> tuple[float, str]:
        """What uses a joist up most, and its name."""
        uses = (
            (getattr(c, what).value, _named(what, c.says))
            for c in self.combinations for what in ("bending", "shear", "bearing")
        )  # fmt: skip
        return max(uses, key=lambda use: use[0])


def _named(what: str, says: str) -> str:
    return what if says == "all together" else f"{what} under {_UNDER[says]}"


_UNDER = {"lasting load alone": "what lies there for good", "one person": "one person"}


@dataclass(frozen=True, slots=True)
class Seldom:
    """A load that comes seldom, deepest at one side: a blocked way out, a drift of snow."""

    id: str  # night, or drift:D-E
    says: str
    deepest: Working  # N/m2, at the side
    reach_m: float
    bending: Working  # utilisation of the joist that carries most
    shear: Working  # utilisation
    bearing: Working  # utilisation
    before: Working  # the worst utilisation of the same joist as found
    if_deep: Working | None = None  # the worst if the house behind, not measured, were deep

    @property
    def worst(self) -> tuple[Working, str]:
        """What uses that joist up most, and its name."""
        uses = ((self.bending, "bending"), (self.shear, "shear"), (self.bearing, "bearing"))
        return max(uses, key=lambda use: use[0].value)


@dataclass(frozen=True, slots=True)
class DeckOff:
    """One joist of a bay whose boards are lifted, with one person on it."""

    free_m: float  # between what holds it sideways
    held: Working  # utilisation in bending, held sideways
    bending: Working  # utilisation in bending, free over that length
    longest: Working  # m, free length at which it would be used as far as we go


@dataclass(frozen=True, slots=True)
class PutDown:
    """Boards put down on the roof during the work: where, on what, and how many at most."""

    sides: tuple[str, ...]  # over the bearing along one of these
    in_m: tuple[float, ...]  # for each, from the deck edge to the wall
    long_m: float  # across the joists
    wide_m: float  # along them
    thick_mm: int
    joists: int  # that a stack lies on, at the least
    by_wall: Working  # boards, before rounding down
    mid_span: Working  # boards, before rounding down
    most: int  # of boards over the wall
    most_mid: int  # of boards in the middle of a span


@dataclass(frozen=True, slots=True)
class Joists:
    """The joists before, during and after; an aid, not a structural design."""

    cases: tuple[JoistCase, ...]
    seldom: tuple[Seldom, ...]
    change_percent: Working  # weight of the covering
    deck_off: DeckOff | None  # None: no board is lifted
    ponding: Working  # amplification
    kerbs: tuple[Working, ...]  # pressure under each kerb that stands on the boards, kPa
    put_down: PutDown  # boards during the work
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
    depth: Working  # m, at the lowest place, with the way out blocked
    load: Working  # N/m2, there
    reach_m: float  # up the fall
    far_share: float  # of that depth, where the water ends
    flow: Working  # l/s, in the hardest rain
    way_out: Working  # mm, the least gap
    open_load: Working  # N/m2, at the low side with the way out open
    downhill: tuple[float, float]  # unit vector of the fall under the cover, (0, 0) where level
    low_side: str  # where the water is deepest, empty where level


@dataclass(frozen=True, slots=True)
class Hung:
    """A gutter as it will hang along its side, kept or new, and how far it is below the edge."""

    id: str  # gutter:A-B
    side: str
    shape: GutterShape
    width_mm: float
    depth_mm: float
    sole_mm: float  # nought where the bottom is round
    outlet_at: OutletAt
    outlet_mm: float
    pipe_mm: float
    pipe_length_m: float  # each pipe
    pipes: int
    new: bool
    proposed: bool  # nobody chose a size
    drop: Working  # mm from the new edge down to its top
    lift: Working  # mm that it must rise, 0 where it stays


@dataclass(frozen=True, slots=True)
class SpillCheck:
    """One overflow, while every outlet is blocked."""

    id: str  # overflow:front
    capacity: Working  # l/s at its full height
    sill_mm: float  # above the lowest place of the finished roof
    room_mm: float | None  # from the water down from the nearest way in; negative: water comes in


@dataclass(frozen=True, slots=True)
class Blocked:
    """Every outlet blocked and the hardest rain: where the water stops rising, and its weight."""

    flow: Working  # l/s
    depth: Working  # m, at the lowest place
    load: Working  # N/m2, there
    reach_m: float  # up the fall
    far_share: float  # of that depth, where the water ends
    stops_at: str  # what lets it go


@dataclass(frozen=True, slots=True)
class Water:
    """Rain on the roof and the ways it leaves by."""

    rain: Known  # l/(s m2)
    checks: tuple[GutterCheck, ...]
    night: Night
    hung: tuple[Hung, ...] = ()
    as_found: tuple[GutterCheck, ...] = ()  # the old gutters, where new ones are hung
    tried: tuple[Table, ...] = ()  # the stock gutters, side by side
    storm: tuple[Working, ...] = ()  # how rare the rain is
    blocked: Blocked | None = None
    overflows: tuple[SpillCheck, ...] = ()
    catchments: Table | None = None  # of the outlets in the roof; None: there is none
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Fire:
    """Fire from outside: distance of every edge to the boundary."""

    nearest_m: Known
    table: Table
    findings: tuple[Finding, ...] = ()
    reports: tuple[Table, ...] = ()  # of fire tests, side by side


@dataclass(frozen=True, slots=True)
class Rules:
    """Duties that this job triggers: notice, planning, weight, asbestos, party wall, waste."""

    rise: Working  # mm above the old roof plane, at the thick end
    rise_thin: Working  # the same at the thin end
    planning_margin: Working  # mm before planning permission is needed
    of_roof: Working  # %, share of the roof that is renewed
    of_outside: Working | None  # %, share of the outside of the building; None: not entered
    asked: Table  # what the nation asks of this roof
    nations: Table  # every limit of every nation, this one's first
    findings: tuple[Finding, ...] = ()
    sources: tuple[Table, ...] = ()  # where the sources differ, side by side

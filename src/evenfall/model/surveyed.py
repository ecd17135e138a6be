"""What the survey rooms hand on: plan, levels, falls.

Axes: x to the right, y up, corners anticlockwise, metres; z in millimetres from the lowest
measured point of the old covering. The *deck* face is what boards lie on; gross is its whole area,
net is without the openings on which no board lies.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import Literal

from evenfall.errors import InvalidInput
from evenfall.model.choice import Tapered
from evenfall.model.finding import Finding
from evenfall.model.job import OpeningKind, SideKind, Treatment
from evenfall.working import Table, Working

PACKED_MM = 2.0  # a thinner packing is left out: the deck board takes it up
Point = tuple[float, float]
Ring = tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class CornerAt:
    """A corner of the deck, and how well it is known."""

    name: str
    x_m: float
    y_m: float
    give_or_take_mm: float  # one standard error in the worst direction: the long half axis
    ellipse_mm: tuple[float, float] = (0.0, 0.0)  # long and short half axis, one standard error
    ellipse_turn_deg: float = 0.0  # of the long axis from x towards y, 0 up to 180


@dataclass(frozen=True, slots=True)
class TapeAt:
    """One reading in its place, and what the others say of it."""

    id: str  # tape:A-C, tape:A-C (2) for the second reading
    name: str
    a: Point
    b: Point
    read_m: float
    off_mm: float  # adjusted minus read
    checked: float  # redundancy number: 0, no other tape checks it, to 1
    w: float  # standardised residual
    hides_mm: float | None  # smallest blunder that would show; None: any could hide


@dataclass(frozen=True, slots=True)
class SideAt:
    """A side of the deck; ``outwards`` is a unit vector."""

    id: str  # side:A-B
    name: str  # A-B
    kind: SideKind
    a: Point
    b: Point
    length_m: float
    outwards: Point
    overhang_m: float
    wall_height_m: float
    boundary_m: float
    parapet_height_mm: float = 0.0  # above the old covering

    @property
    def along(self) -> Point:
        """Unit vector from the first corner to the second."""
        return ((self.b[0] - self.a[0]) / self.length_m, (self.b[1] - self.a[1]) / self.length_m)

    def place(self, along_m: float, in_m: float = 0.0) -> Point:
        """Find a point as a roofer measures it: along the side, then square in."""
        (u, v), (nx, ny) = self.along, self.outwards
        return (self.a[0] + along_m * u - in_m * nx, self.a[1] + along_m * v - in_m * ny)


@dataclass(frozen=True, slots=True)
class OpeningAt:
    """An opening in its place: ``ring`` is its outer outline, ``hole`` is where no board lies."""

    id: str  # opening:rooflight-1
    name: str
    kind: OpeningKind
    ring: Ring
    hole: Ring
    centre: Point
    area_m2: float  # of the outer outline
    perimeter_m: float
    on_boards: bool
    kerb_height_mm: float
    diameter_mm: float | None
    give_or_take_mm: float | None = None  # of its place, where it was tied in


@dataclass(frozen=True, slots=True)
class SashAt:
    """A window beside the roof that opens, or whose frame is taken out: a hole in the wall."""

    id: str  # window:scullery
    name: str
    side: str  # id of the side it stands at
    at: Point
    treatment: Treatment


@dataclass(frozen=True, slots=True)
class Plan:
    """The plan from the tapes, with the faces of the roof."""

    corners: tuple[CornerAt, ...]
    sides: tuple[SideAt, ...]
    openings: tuple[OpeningAt, ...]
    deck: Ring
    fascia: Ring
    wall: Ring
    gross: Working  # m2
    net: Working  # m2
    perimeter: Working  # m
    good_to_mm: float
    tapes: Table
    findings: tuple[Finding, ...] = ()
    taped: tuple[TapeAt, ...] = ()
    points: tuple[CornerAt, ...] = ()  # marks that are no corners of the roof
    quality: tuple[Working | Table, ...] = ()  # the tests of the tapes, the corners' ellipses
    gross_give_or_take_m2: float = 0.0
    sashes: tuple[SashAt, ...] = ()

    def side(self, name: str) -> SideAt:
        """Find a side by its name, ``A-B``."""
        for side in self.sides:
            if side.name == name:
                return side
        known = ", ".join(s.name for s in self.sides)
        raise InvalidInput(f'"{name}"', f"a side round the roof: {known}", where="survey.sides")

    def of_kind(self, *kinds: str) -> tuple[SideAt, ...]:
        """Pick the sides of some kinds."""
        return tuple(s for s in self.sides if s.kind in kinds)


@dataclass(frozen=True, slots=True)
class SpotAt:
    """A spot level in its place."""

    name: str
    at: Point
    z_mm: float


@dataclass(frozen=True, slots=True)
class Slope:
    """A plane of millimetres over metres: ``z_mm + x_mm_m * x + y_mm_m * y``."""

    z_mm: float
    x_mm_m: float
    y_mm_m: float

    def at(self, point: Point) -> float:
        """Height of the plane at a point, in mm."""
        return self.z_mm + self.x_mm_m * point[0] + self.y_mm_m * point[1]


@dataclass(frozen=True, slots=True)
class Pond:
    """Water that stays on the roof: an outline, and the islands in it."""

    id: str  # pond:before-1
    when: Literal["before", "after"]
    rings: tuple[Ring, ...]  # the outline, then islands
    depth_mm: float
    area_m2: float
    volume_l: float
    deepest: Point
    spills_at: Point  # where it runs over


@dataclass(frozen=True, slots=True)
class Contour:
    """All lines of one level, in millimetres as the spots."""

    z_mm: float
    lines: tuple[Ring, ...]


@dataclass(frozen=True, slots=True)
class Arrow:
    """The fall at one point; ``towards`` is a unit vector downhill."""

    at: Point
    towards: Point
    one_in: float


@dataclass(frozen=True, slots=True)
class WaterRun:
    """The way of a drop from where it falls to where it leaves, or rests."""

    line: Ring
    mean_mm_m: float
    least_mm_m: float  # of its flattest stretch
    ends: str  # drain or rest


@dataclass(frozen=True, slots=True)
class Levels:
    """The old surface: its plane, how far each spot lies off it, and where water stands on it."""

    spots: tuple[SpotAt, ...]
    plane: Slope
    fall: Working  # mm per m, steepest
    steepest_one_in: float | None  # None when level
    towards: Point  # unit vector downhill, (0, 0) when level
    dish_mm: float  # deepest spot below the plane
    table: Table
    findings: tuple[Finding, ...] = ()
    ponds: tuple[Pond, ...] = ()
    contours: tuple[Contour, ...] = ()
    arrows: tuple[Arrow, ...] = ()
    back_m2: float = 0.0  # falls away from where water leaves
    runs: tuple[WaterRun, ...] = ()


@dataclass(frozen=True, slots=True)
class FallLine:
    """The fall along one line of the roof, before and after; 0 is level, negative runs back."""

    id: str  # fall:field, side:A-B
    says: str
    before_mm_m: float
    after_mm_m: float


@dataclass(frozen=True, slots=True)
class Firring:
    """One wedge on one joist, its top straight, its foot cut or packed to the joist as it hangs."""

    name: str
    length_mm: int
    thin_mm: int
    thick_mm: int
    line: tuple[Point, Point] | None = None  # from its low end
    heights: tuple[tuple[int, int], ...] = ()  # along it and how high there, mm


@dataclass(frozen=True, slots=True)
class Valley:
    """A line in which two parts of the roof, or the roof and an upstand, gather water."""

    line: tuple[Point, Point]
    says: str  # valley, along an edge, behind a kerb
    fall_mm_m: float


@dataclass(frozen=True, slots=True)
class Taper:
    """A part of the roof over which what is added changes evenly; convex, anticlockwise."""

    ring: Ring  # three or four corners where boards are cut to falls
    added_mm: tuple[float, ...]  # at each corner
    slope: Slope  # the same as a plane

    def inside(self, point: Point) -> float:
        """How far a point lies inside the outline, in m; negative outside."""
        x, y = point
        return min(
            ((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / hypot(bx - ax, by - ay)
            for (ax, ay), (bx, by) in zip(self.ring, (*self.ring[1:], self.ring[0]), strict=True)
        )


@dataclass(frozen=True, slots=True)
class TaperRows:
    """Tapered boards that are sold, laid in rows from the low side."""

    stock: Tapered
    foot: Point  # a corner of the low side, m
    first_cut_mm: int  # off the thin end of the first row, so that the last is no sliver
    ridges: tuple[str, ...] = ()  # kerbs behind which a ridge is to be cut, of no board sold

    @property
    def foot_mm(self) -> float:
        """Thickness along the low side."""
        return self.stock.kinds[0][0] + self.first_cut_mm / self.stock.one_in


@dataclass(frozen=True, slots=True)
class Falls:
    """How the finished roof falls; `added_at` is what firrings or tapers add under the boards.

    ``rise`` is the plane of it, as if the old roof were one plane; ``patches`` are what is added
    over the old roof as it was measured. ``tapers`` are the patches of tapered boards.
    """

    kind: str
    low_side: str
    downhill: Point  # unit vector towards the low side
    rise: Slope  # added thickness, mm, over the old deck
    finished: Working  # mm per m along downhill
    lines: tuple[FallLine, ...]
    firrings: tuple[Firring, ...]
    findings: tuple[Finding, ...] = ()
    patches: tuple[Taper, ...] = ()
    tapers: tuple[Taper, ...] = ()
    ponds: tuple[Pond, ...] = ()  # that are left on the finished roof
    contours: tuple[Contour, ...] = ()  # of the finished roof
    arrows: tuple[Arrow, ...] = ()  # of the finished roof
    valleys: tuple[Valley, ...] = ()  # of the finished roof
    loaded: Working | None = None  # mm per m, left when the joists sag under load
    cutting: Table | None = None  # of the firrings, or of the tapered boards
    standing: Table | None = None  # ponds before and after
    runs: tuple[WaterRun, ...] = ()  # on the finished roof, the flattest first
    flattest: Table | None = None  # of these runs
    rows: TaperRows | None = None  # tapered boards that are bought and laid in rows

    def added_at(self, point: Point) -> float:
        """Thickness of firrings or tapers under the boards at a point, in mm."""
        if not self.patches:
            return self.rise.at(point)
        return max(self.patches, key=lambda patch: patch.inside(point)).slope.at(point)

    @property
    def lifts_deck(self) -> bool:
        """Firrings and packing lie on the joists: the deck comes up and is laid again on them."""
        return any(f.thick_mm >= PACKED_MM for f in self.firrings)

"""What the take-off rooms hand on. Whole millimetres; every order line covers its need."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import Literal

from evenfall.model.finding import Finding
from evenfall.working import Basis, Table, Working

PointMm = tuple[int, int]
RingMm = tuple[PointMm, ...]


@dataclass(frozen=True, slots=True)
class OrderLine:
    """Something to buy: how much is needed, and in which packs it is bought.

    No price: a change of price must not cut a board again. The price room finds the rate by the
    id: ``board:NAME:120``, ``sheet:NAME``, ``vcl:NAME``, ``length:NAME``, ``item:NAME``,
    ``fitting:NAME:joint``, ``screw:90``.
    """

    id: str
    says: str
    need: Working
    unit: str
    packs: tuple[tuple[int, float, str], ...]  # count, size, words such as "roll of 20 m"
    bought: float  # in the unit of the need
    basis: Basis
    note: str = ""  # the cutting list in words, what the counter must know

    @property
    def told(self) -> float:
        """The need as the counter hears it: what is counted in whole pieces."""
        return ceil(round(self.need.value, 6)) if self.unit == "each" else self.need.value


@dataclass(frozen=True, slots=True)
class BoardPiece:
    """One piece in its place; ``board`` counts the boards bought from 1."""

    number: int
    ring: RingMm
    length_mm: int
    width_mm: int
    board: int
    offcut: bool
    total_mm: int = 0  # of all layers where it lies
    layer: int = 1  # the lowest is 1


@dataclass(frozen=True, slots=True)
class BoardPart:
    """A rectangle on a stock board: its place from the left end and the lower edge, its size."""

    x_mm: int
    y_mm: int
    length_mm: int
    width_mm: int


@dataclass(frozen=True, slots=True)
class SawCut:
    """One cut from edge to edge through a part; the blade takes its width beyond ``at_mm``."""

    way: Literal["across", "along"]  # across the length of the board, or along it
    at_mm: int  # from the left end, or from the lower edge, of the part
    part: BoardPart


@dataclass(frozen=True, slots=True)
class SawnBoard:
    """One stock board: its cuts in the order of sawing, what comes out, what is left whole."""

    number: int
    cuts: tuple[SawCut, ...]
    pieces: tuple[tuple[int, BoardPart], ...]  # number of the piece, and the part it is
    rests: tuple[BoardPart, ...]


@dataclass(frozen=True, slots=True)
class TaperPiece:
    """One piece of tapered board in its row; lettered T with its number."""

    number: int
    ring: RingMm
    across_mm: int
    along_mm: int  # the way it falls
    row: int  # from 1, at the low side
    thin_mm: int  # edges of the board that it is cut from
    thick_mm: int
    low_mm: int  # edges of the piece
    high_mm: int
    fill_mm: int  # even boards under it
    board: int
    offcut: bool


@dataclass(frozen=True, slots=True)
class TaperKind:
    """One kind of tapered board: its edges, how many are bought, and the fewest that can be."""

    thin_mm: int
    thick_mm: int
    bought: int
    bound: int


@dataclass(frozen=True, slots=True)
class TaperLaid:
    """Tapered boards laid in rows from the low side."""

    stock: str
    one_in: float
    size_mm: PointMm  # across the fall and along it
    pieces: tuple[TaperPiece, ...]
    kinds: tuple[TaperKind, ...]
    sawn: tuple[SawnBoard, ...]  # the boards that are cut, thin edge below
    order: tuple[OrderLine, ...]
    breaches: tuple[str, ...]
    fill: tuple[BoardPiece, ...] = ()  # even boards under them


@dataclass(frozen=True, slots=True)
class Boards:
    """The board plan."""

    stock: str
    layers_mm: tuple[int, ...]  # thickness of each layer, from the deck up
    pieces: tuple[BoardPiece, ...]
    bought: int
    bound: int  # no plan can do with fewer
    waste_percent: float
    breaches: tuple[str, ...]
    order: tuple[OrderLine, ...]
    findings: tuple[Finding, ...] = ()
    sawn: tuple[SawnBoard, ...] = ()  # the boards that are cut
    size_mm: PointMm = (0, 0)  # length and width of a stock board
    stopped_by: Literal["proof", "steps"] = "steps"  # how the search ended
    tapered: TaperLaid | None = None  # under the even boards

    def laid_in(self, layer: int) -> tuple[BoardPiece, ...]:
        """Pick the pieces of one layer."""
        return tuple(p for p in self.pieces if p.layer == layer)

    @property
    def uppermost(self) -> tuple[BoardPiece, ...]:
        """Pick the pieces that nothing lies on; a thin zone may have fewer layers than the rest."""
        top: dict[int, int] = {}
        for piece in self.pieces:
            top[piece.total_mm] = max(piece.layer, top.get(piece.total_mm, 1))
        return tuple(p for p in self.pieces if p.layer == top[p.total_mm])


@dataclass(frozen=True, slots=True)
class PieceFixed:
    """The screws of one piece of the board plan."""

    piece: int
    zone: str  # the worst zone that the piece touches
    places: RingMm


@dataclass(frozen=True, slots=True)
class Fixings:
    """The fixing plan: screws piece by piece, and along edge timber and trims."""

    pieces: tuple[PieceFixed, ...]  # empty where boards are glued
    screws: Working  # each, before waste
    least: Table  # screws of a whole board by every source
    holds: Table  # every interface, its pull and what holds it
    edge_timber: Working  # mm, centres
    trims: Working  # mm, centres
    findings: tuple[Finding, ...] = ()
    depth: Table | None = (
        None  # of a screw in the deck by every source; None where boards are glued
    )


@dataclass(frozen=True, slots=True)
class SheetWay:
    """One way to order the sheet."""

    says: str
    width_mm: int
    cut_mm: int
    strips: int
    seam_mm: int
    area_m2: float
    mass_kg: float
    t_joints: int = 0
    rings: tuple[RingMm, ...] = ()  # each piece as it lies; of the chosen way only


@dataclass(frozen=True, slots=True)
class UpstandStrip:
    """A strip of sheet that is dressed up one side of a kerb."""

    where: str
    length_mm: int
    width_mm: int


@dataclass(frozen=True, slots=True)
class UpstandCut:
    """A numbered piece cut for a strip, in its place."""

    number: int
    where: str
    length_mm: int
    width_mm: int
    source: Literal["rest", "notch", "cut"]  # beside the sheet, in a corner of the roof, more roll
    ring: RingMm  # as it lies in the plan; of a further cut, from the corner of that cut


@dataclass(frozen=True, slots=True)
class Sheet:
    """The sheet plan: what to order, what it weighs, and the runners-up."""

    stock: str
    need_mm: tuple[int, int]  # along the roll, across it
    chosen: SheetWay
    others: tuple[SheetWay, ...]
    area: Working  # m2 bought
    mass: Working  # kg
    hands: Working  # people to lift it, by the lower of the two figures
    order: tuple[OrderLine, ...]
    findings: tuple[Finding, ...] = ()
    upstands: tuple[UpstandStrip, ...] = ()
    ways: Table | None = None  # the chosen way and the runners-up
    steps: tuple[str, ...] = ()  # how the crew folds, rolls out and bonds it
    cuts: tuple[UpstandCut, ...] = ()  # the pieces of the upstands
    further_mm: PointMm = (0, 0)  # length and width of a further cut of the roll
    trim: RingMm = ()  # where the sheet is cut back, once it is dressed


@dataclass(frozen=True, slots=True)
class RollStrip:
    """One strip of VCL, in laying order."""

    number: int
    ring: RingMm
    length_mm: int
    width_mm: int = 0
    strip: int = 0  # from 1, at the low side
    roll: int = 0  # which roll it is cut from


@dataclass(frozen=True, slots=True)
class KerbPiece:
    """A strip of VCL up one side of a kerb and out onto the roof."""

    number: int  # after those of the strips
    where: str
    length_mm: int
    width_mm: int
    roll: int
    goes_under: bool  # at the high side of its kerb: laid before the piece that ends there
    lap: RingMm  # where it lies on the roof


@dataclass(frozen=True, slots=True)
class Rolls:
    """The VCL on its rolls."""

    stock: str
    strips: tuple[RollStrip, ...]
    area: Working  # m2 with turn-ups and laps
    order: tuple[OrderLine, ...]
    findings: tuple[Finding, ...] = ()
    turn_up: Working | None = None  # mm
    kerb_strips: tuple[KerbPiece, ...] = ()
    ways: Table | None = None  # across the fall and with it
    patch: Working | None = None  # m2 of deck patched where it gapes


@dataclass(frozen=True, slots=True)
class Bar:
    """One stock length and the pieces sawn from it, in order."""

    stock_mm: int
    cuts: tuple[tuple[str, int], ...]
    left_mm: int


@dataclass(frozen=True, slots=True)
class Run:
    """All of one section: where it goes and how it is cut."""

    id: str  # length:drip-trim
    says: str
    need: Working  # m
    bars: tuple[Bar, ...]
    bound_m: float  # stock that no plan can do without
    paint: Working | None = None  # m2, all faces and ends; None where it is not painted


@dataclass(frozen=True, slots=True)
class EdgeCourse:
    """One course of edge timber or of a kerb."""

    side: str  # or ``kerb of A-B``, ``rooflight-1 side 2``
    number: int  # from 1, the lowest
    section: str
    thick_mm: int  # as sold
    planed_mm: int  # off its top, so that it ends with the boards
    length_mm: int
    screw_mm: tuple[float, float]  # shortest and longest that holds it
    into: str  # what its screws bite in
    high_mm: float  # top of the boards above the deck where they are highest along the side
    low_mm: float  # and where they are lowest
    base_mm: int = 0  # its underside above the deck

    @property
    def falls_mm(self) -> float:
        """How far its top falls along the side with the boards; nothing where they lie over it."""
        top = self.base_mm + self.thick_mm
        return min(top, self.high_mm) - max(self.base_mm, min(top, self.low_mm))


@dataclass(frozen=True, slots=True)
class FirringTimber:
    """A timber and the firrings that are sawn out of it, two by one cut along it."""

    section: str
    length_mm: int
    firrings: tuple[str, ...]
    need_mm: float  # depth that they take together
    depth_mm: float  # as sold


@dataclass(frozen=True, slots=True)
class Fitted:
    """Fittings of one kind for one section."""

    section: str
    name: str  # joint, corner-out, bracket
    says: str  # of the rates; nothing where they hold none
    need: Working  # each
    note: str

    @property
    def id(self) -> str:
        """Id of its order line."""
        return f"fitting:{self.section}:{self.name}"


@dataclass(frozen=True, slots=True)
class Lengths:
    """Trims, timber, firrings, fascia, gutter and pipe from stock lengths."""

    runs: tuple[Run, ...]
    order: tuple[OrderLine, ...]
    findings: tuple[Finding, ...] = ()
    courses: tuple[EdgeCourse, ...] = ()  # of the edge timber
    firrings: tuple[FirringTimber, ...] = ()
    fitted: tuple[Fitted, ...] = ()
    kerbs: tuple[EdgeCourse, ...] = ()  # of verges and rooflights


@dataclass(frozen=True, slots=True)
class Items:
    """Every screw, tube and litre, in packs."""

    order: tuple[OrderLine, ...]
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Strip:
    """What comes off: mass, volume, skips."""

    mass: Working  # kg
    volume: Working  # m3
    skips: Working
    skip: str  # name of the charge
    table: Table
    findings: tuple[Finding, ...] = ()
    streams: Table | None = None  # what is kept apart, in bags or in the skip

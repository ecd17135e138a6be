"""What was chosen from the rates, without prices: a new price works no heat and no cutting."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations_with_replacement
from typing import Literal, Protocol, TypeVar

from evenfall.errors import InvalidInput
from evenfall.model.board_stock import TaperedStock
from evenfall.model.finding import Change
from evenfall.model.job import Design
from evenfall.model.rates import Rates
from evenfall.working import Basis

MM = 1000
ALIKE = 9  # decimals of a resistance; what differs by less is the rounding of a sum


class Named(Protocol):
    """Anything with a name."""

    @property
    def name(self) -> str:
        """Its name."""


N = TypeVar("N", bound=Named)


@dataclass(frozen=True, slots=True)
class Board:
    """A rigid board as heat, wind and the saw see it."""

    name: str
    says: str
    length_mm: int
    width_mm: int
    density_kg_m3: float
    facing_kg_m2: float
    facing_sd_m: float
    mu: float
    sizes: tuple[tuple[int, float], ...]  # thickness mm, lambda W/(m K)
    compressive_kpa: float | None = None  # stress at 10 % compression

    def conductivity(self, thickness_mm: int) -> float:
        """Conductivity of a thickness that is sold, W/(m K)."""
        return dict(self.sizes)[thickness_mm]

    def resistance(self, boards: tuple[int, ...]) -> float:
        """Resistance of boards one on another, m2K/W; each has the conductivity of its own band."""
        return sum(mm / MM / self.conductivity(mm) for mm in boards)

    def totals(self, layers: int) -> tuple[int, ...]:
        """Total thicknesses that a number of layers can make, the thinnest first, mm."""
        sold = [mm for mm, _ in self.sizes]
        pairs = combinations_with_replacement(sold, layers)
        return tuple(sorted({sum(pair) for pair in pairs}))

    def made_of(self, total_mm: int, layers: int) -> tuple[int, ...]:
        """Boards from the deck up that make a total, mm.

        Of several ways the warmest is taken, then the most even; the thicker board lies below.
        """
        sold = sorted((mm for mm, _ in self.sizes), reverse=True)
        pairs = combinations_with_replacement(sold, layers)
        ways = [pair for pair in pairs if sum(pair) == total_mm]
        if not ways:
            some = ", ".join(f"{mm}" for mm in self.totals(layers))
            raise InvalidInput(f"{total_mm} mm", f"a total of boards sold: {some}", where=self.name)
        return max(ways, key=lambda way: (round(self.resistance(way), ALIKE), -way[0]))


@dataclass(frozen=True, slots=True)
class Tapered:
    """Boards cut to one fall, the thinnest kind first; each begins where the one before ends."""

    name: str
    says: str
    one_in: float
    length_mm: int  # along the fall
    width_mm: int  # across it
    lambda_w_mk: float
    kinds: tuple[tuple[int, int], ...]  # thin and thick edge, mm
    pence_m3: float  # of all kinds together, to compare ways of making the fall


@dataclass(frozen=True, slots=True)
class Vcl:
    """A vapour control layer as moisture, night and the roll see it."""

    name: str
    says: str
    kind: str
    thickness_mm: float
    sd_m: float
    mass_kg_m2: float
    width_mm: int
    length_mm: int
    side_lap_mm: int
    end_lap_mm: int
    bridges_mm: float
    bituminous: bool
    nights: int
    bond_kpa: float | None = None  # to the deck, as its maker says

    @property
    def sticks(self) -> bool:
        """Whether it is bonded to the deck, so that boards may be glued to it."""
        return self.kind == "self_adhesive_bitumen"


@dataclass(frozen=True, slots=True)
class Rubber:
    """A rubber sheet as heat, moisture and the roll see it."""

    name: str
    says: str
    thickness_mm: float
    lambda_w_mk: float
    sd_m: float
    mass_kg_m2: float
    widths_m: tuple[float, ...]
    longest_m: float
    step_m: float


@dataclass(frozen=True, slots=True)
class Fastener:
    """The screw as heat and wind see it."""

    lengths_mm: tuple[int, ...]
    diameter_mm: float
    lambda_w_mk: float
    tube_mm: float
    design_resistance_n: float


@dataclass(frozen=True, slots=True)
class Material:
    """A material of the firm's own, as heat and vapour see it."""

    name: str
    says: str
    lambda_w_mk: float
    mu: float
    source: str
    basis: Basis


@dataclass(frozen=True, slots=True)
class BuildUp:
    """All layers chosen, without prices; the thickness may still be open."""

    board: Board
    vcl: Vcl
    rubber: Rubber
    screw: Fastener
    thickness_mm: int | None
    layers: Literal[1, 2]
    overlay_mm: float
    hold_boards_by: Literal["adhesive", "screws"]
    quilt: Literal["remove", "keep"]
    vents: Literal["close", "close_some", "leave"]
    basis: Basis
    upper_mm: int | None = None  # of two boards, where the upper one differs
    materials: tuple[Material, ...] = ()  # of the rates, for the layers that name one
    overlay_material: str | None = None
    tapers: tuple[Tapered, ...] = ()  # that can be bought
    taper_lambda_w_mk: float | None = None  # of those that are laid

    @property
    def own(self) -> tuple[int, ...] | None:
        """Boards that the owner chose, from the deck up, mm; None leaves it to the tool."""
        if self.thickness_mm is None:
            return None
        upper = self.upper_mm or self.thickness_mm
        return (self.thickness_mm,) if self.layers == 1 else (self.thickness_mm, upper)

    @property
    def glued_faces(self) -> int:
        """Faces that glue holds down: each layer of boards, and the overlay."""
        return self.layers + (1 if self.overlay_mm else 0)

    def totals(self) -> tuple[int, ...]:
        """Total thicknesses that the layers can make, the thinnest first, mm."""
        return self.board.totals(self.layers)

    def take(self, boards: tuple[int, ...]) -> tuple[Change, ...]:
        """Give the changes to the job that choose boards, named from the deck up."""
        changes = [Change("design.thickness_mm", boards[0])]
        if len(boards) != self.layers:
            changes.append(Change("design.layers", len(boards)))
        upper = boards[-1] if boards[-1] != boards[0] else None
        if upper != self.upper_mm:
            changes.append(Change("design.upper_layer_mm", upper))
        return tuple(changes)

    def boards(self, total_mm: int) -> tuple[int, ...]:
        """Boards from the deck up that make a total, mm; the owner's own where he chose them."""
        if self.own and sum(self.own) == total_mm:
            return self.own
        return self.board.made_of(total_mm, self.layers)

    def in_layers(self, layers: Literal[1, 2]) -> BuildUp:
        """Give the same build-up with another number of layers, their thickness left open."""
        if layers == self.layers:
            return self
        return replace(self, layers=layers, thickness_mm=None, upper_mm=None)

    def under_head_mm(self, chosen_mm: float) -> float:
        """Layers between the top of the deck and the head of a screw; a tube sinks the head."""
        above = chosen_mm + self.overlay_mm + self.vcl.thickness_mm
        return max(0.0, above - self.screw.tube_mm)


def pick(stock: Sequence[N], name: str, where: str) -> N:
    """Find something in the rates by its name.

    Parameters
    ----------
    stock : sequence
        A table of the rates [-].
    name : str
        The name wanted [-].
    where : str
        The key that asks for it [-].

    Returns
    -------
    entry
        The entry of that name [-].

    Raises
    ------
    InvalidInput
        The rates have nothing of that name; the message lists what they have.
    """
    for entry in stock:
        if entry.name == name:
            return entry
    known = ", ".join(s.name for s in stock) or "none yet, write it into them"
    raise InvalidInput(f'"{name}"', f"one of the rates: {known}", where=where)


def build_up(design: Design, rates: Rates) -> BuildUp:
    """Take what the design names out of the rates, leaving the prices there.

    Parameters
    ----------
    design : Design
        What the owner chose [-].
    rates : Rates
        What the firm can buy [-].

    Returns
    -------
    BuildUp
        The layers, without prices [-].
    """
    board = pick(rates.boards, design.board, "design.board")
    vcl = pick(rates.vcls, design.vcl, "design.vcl")
    sheet = pick(rates.sheets, design.sheet, "design.sheet")
    sizes = tuple((s.thickness_mm, s.lambda_w_mk) for s in board.sizes)
    for key, mm in (
        ("thickness_mm", design.thickness_mm), ("upper_layer_mm", design.upper_layer_mm),
    ):  # fmt: skip
        if mm is not None and mm not in dict(sizes):
            sold = ", ".join(f"{mm}" for mm, _ in sizes)
            raise InvalidInput(f"{mm} mm", f"a thickness that is sold: {sold}",
                               where=f"design.{key}")  # fmt: skip
    return BuildUp(
        Board(
            board.name, board.says, board.length_mm, board.width_mm, board.density_kg_m3,
            board.facing_kg_m2, board.facing_sd_m, board.mu, sizes, board.compressive_kpa,
        ),
        Vcl(**vcl.model_dump(exclude={"price_pence", "priced_on"})),
        Rubber(**sheet.model_dump(exclude={"price_pence_m2", "priced_on", "guarantee_years"})),
        Fastener(**rates.screw.model_dump(exclude={
            "pack", "mass_kg_pack", "price_pence_pack", "priced_on",
        })),
        design.thickness_mm,
        design.layers,
        design.overlay_mm,
        design.hold_boards_by,
        design.quilt,
        design.vents,
        rates.basis,
        design.upper_layer_mm,
        tuple(Material(**m.model_dump(), basis=rates.basis) for m in rates.materials),
        design.overlay_material,
        tuple(_tapered(t) for t in rates.tapers),
    )  # fmt: skip


def _tapered(stock: TaperedStock) -> Tapered:
    kinds = tuple((s.thin_mm, s.thick_mm) for s in stock.sizes)
    one = stock.length_mm * stock.width_mm / MM**3  # m3 in each mm of mean thickness
    volume = sum((thin + thick) / 2 for thin, thick in kinds) * one
    return Tapered(
        stock.name, stock.says, stock.one_in, stock.length_mm, stock.width_mm, stock.lambda_w_mk,
        kinds, sum(s.price_pence for s in stock.sizes) / volume,
    )  # fmt: skip

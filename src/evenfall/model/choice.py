"""What was chosen from the rates, without prices: a new price works no heat and no cutting."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, Protocol, TypeVar

from evenfall.errors import InvalidInput
from evenfall.model.job import Design
from evenfall.model.rates import Rates
from evenfall.working import Basis


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
    vents: Literal["close", "leave"]
    basis: Basis

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
    known = ", ".join(s.name for s in stock)
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
    if design.thickness_mm is not None and design.thickness_mm not in dict(sizes):
        sold = ", ".join(f"{mm}" for mm, _ in sizes)
        raise InvalidInput(
            f"{design.thickness_mm} mm", f"a thickness that is sold: {sold}",
            where="design.thickness_mm",
        )  # fmt: skip
    return BuildUp(
        Board(
            board.name, board.says, board.length_mm, board.width_mm, board.density_kg_m3,
            board.facing_kg_m2, board.facing_sd_m, board.mu, sizes, board.compressive_kpa,
        ),
        Vcl(**vcl.model_dump(exclude={"price_pence"})),
        Rubber(**sheet.model_dump(exclude={"price_pence_m2"})),
        Fastener(**rates.screw.model_dump(exclude={"pack", "price_pence_pack"})),
        design.thickness_mm,
        design.layers,
        design.overlay_mm,
        design.hold_boards_by,
        design.quilt,
        design.vents,
        rates.basis,
    )  # fmt: skip

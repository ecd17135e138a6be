"""The rise stick as data: every thickness that can be bought, and the one taken."""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.model.finding import Finding
from evenfall.model.standing import ZoneOffer
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
    f_rsi: float  # away from all edges
    u_edges: float | None  # with all edges, over the area inside the walls; None where not solved
    edge_factor: float | None  # lowest temperature factor at an edge
    edge: str  # id of that edge
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
    def does_all(self) -> bool:
        """Whether it is warm enough, fits, can be held and dries."""
        return not self.against

    @property
    def screws(self) -> str:
        """Shortest screw that reaches to longest that harms nothing: ``120 to 154``, in mm."""
        if self.screw_mm is None:
            return "none sold"
        most = self.screw_most_mm
        if most is not None and most < self.screw_mm:
            return f"{self.screw_mm} is too long"
        if most == self.screw_mm:
            return f"only {most}"
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

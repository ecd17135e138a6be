"""What the rise stick says: what governs, why this thickness, what the next step would cost."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from evenfall.model.choice import BuildUp
from evenfall.model.designed import RiseRow
from evenfall.model.finding import Change, Finding, Remedy
from evenfall.model.job import Deck
from evenfall.model.standing import ZoneOffer
from evenfall.standards import board_practice, iso_6946, vcl_practice
from evenfall.working import Basis, Known, Table, weakest

PENCE = 100
WET = {"a": "dry", "b": "dries", "c": "stays wet"}
IN_LAYERS = {1: "one layer", 2: "two layers"}


@dataclass(frozen=True, slots=True)
class Stick:
    """All that the sentences are made of."""

    rows: tuple[RiseRow, ...]  # the thinnest first
    other: tuple[RiseRow, ...]  # in another number of layers
    row: RiseRow  # the one taken
    target: Known
    build: BuildUp
    area: float  # m2
    deck: Deck
    basis: Basis
    zone: ZoneOffer | None = None  # thinner zones that would let a warm enough board pass

    # --- what governs ---

    def governs(self) -> str:
        """Say what keeps the board from being thicker, or what asks for so much."""
        row, thicker = self.row, self._beside(1)
        if not row.fits:
            what, short = _where(row)
            return f"{what} governs: {row.thickness_mm} is {short} mm too high there."
        if thicker is not None and not thicker.fits:
            what, short = _where(thicker)
            return f"{what} governs: {thicker.thickness_mm} would be {short} mm too high there."
        thinner = self._beside(-1)
        if row.passes_u and (thinner is None or not thinner.passes_u):
            return (
                f"Heat governs: {row.thickness_mm} is the thinnest that reaches "
                f"{self.target:.2f} W/m²K."
            )
        return "Nothing stands in the way; the choice is the owner's."

    def _beside(self, step: int) -> RiseRow | None:
        at = self.rows.index(self.row) + step
        return self.rows[at] if 0 <= at < len(self.rows) else None

    # --- why this one ---

    def why(self) -> str:
        """Say in a sentence why this thickness is taken, or what the tool would take."""
        if self.row.does_all:
            return self._sound_because()
        if self.better is not None:
            return f"{self._named(self.better)} would do all that is asked."
        if self.row is self.best_that_fits:
            return f"{self._best()}{self._next_step()}"
        if not self.row.fits:
            return "No board of this kind fits under what stands beside the roof."
        return f"It reaches {self.row.u:.3f} W/m²K; {self.target:.2f} is asked for."

    def _sound_because(self) -> str:
        first = next(r for r in self.rows if r.does_all)
        if self.row is first:
            return (
                f"{self.row.thickness_mm} mm is the thinnest that reaches {self.target:.2f} W/m²K, "
                "fits everywhere and stays dry."
            )
        more = (self.row.cost_pence_m2 - first.cost_pence_m2) * self.area / PENCE
        less = first.heat_kwh - self.row.heat_kwh
        return (
            f"{first.thickness_mm} mm would do; {self.row.thickness_mm} mm costs £{more:.0f} more "
            f"and saves another {less:.0f} kWh a year."
        )

    @property
    def better(self) -> RiseRow | None:
        """The thinnest that does all that is asked, in the layers chosen, else in others."""
        return next((r for r in (*self.rows, *self.other) if r.does_all), None)

    @property
    def best_that_fits(self) -> RiseRow | None:
        """The warmest that fits and can be held; one that stays dry before one that does not."""
        fits = [r for r in self.rows if r.fits and r.can_be_held]
        dry = [r for r in fits if r.moisture != "c"]
        return min(dry or fits, key=lambda r: r.u, default=None)

    def _named(self, row: RiseRow) -> str:
        if len(row.boards) == self.build.layers:
            return f"{row.thickness_mm} mm"
        return f"{row.thickness_mm} mm in {IN_LAYERS[len(row.boards)]} ({row.says})"

    def _best(self) -> str:
        return f"{self.row.thickness_mm} mm is the best that fits: {self.row.u:.3f} W/m²K. "

    def _next_step(self) -> str:
        """Say what the next step would take: height, money, and what it would save."""
        after = [r for r in self.rows if r.thickness_mm > self.row.thickness_mm]
        wanted = next((r for r in after if r.passes_u), None) or next(iter(after), None)
        if wanted is None:
            return "No thicker board of this kind is sold."
        costs = (wanted.cost_pence_m2 - self.row.cost_pence_m2) * self.area / PENCE
        saves = self.row.heat_kwh - wanted.heat_kwh
        told = f"The next step, {wanted.thickness_mm} mm ({wanted.u:.3f}), "
        if not wanted.fits:
            what, short = _where(wanted)
            told += f"needs {short} mm more room at {what[:1].lower()}{what[1:]}, "
        elif not wanted.can_be_held:
            told += "needs longer screws, "
        return f"{told}costs £{costs:.0f} more and saves {saves:.0f} kWh a year."

    # --- findings ---

    def findings(self) -> tuple[Finding, ...]:
        """Gather what is wrong with the thickness taken."""
        found = [] if self.row.passes_u else [self._short_of_heat()]
        if self.build.hold_boards_by == "screws" and self.row.screw_mm is None:
            found.append(self._no_screw())
        if self.build.hold_boards_by == "adhesive" and not self.build.vcl.sticks:
            found.append(_on_loose_vcl())
        return tuple(found)

    def _short_of_heat(self) -> Finding:
        row, target = self.row, self.target
        says = f"{row.thickness_mm} mm reaches {row.u:.3f} W/m²K; {target:.2f} is asked for. "
        if self.better is not None:
            says += f"{self._named(self.better)} would reach it."
            cure = Remedy(f"Take {self._named(self.better)}.", self.build.take(self.better.boards))
            return self._cold("heat-short", says, cure)
        if self.zone is not None:
            says += "No even thickness reaches it and fits; with a thinner zone it does."
            return self._cold("heat-short", says, Remedy(f"{self.zone.says}.", self.zone.changes))
        best = self.best_that_fits
        if best is not None and best.u < row.u:
            says += f"None of this board reaches it and fits; {best.thickness_mm} mm comes nearest."
            cure = Remedy(f"Take {best.thickness_mm} mm.", self.build.take(best.boards))
            return self._cold("heat-short", says, cure)
        return self._cold("heat-held-low", *self._held_low())

    def _held_low(self) -> tuple[str, Remedy]:
        """Best that fits, the reason to record, and what the next step would cost."""
        row, thicker = self.row, self._beside(1)
        says = f"{self._best()}{self.target:.2f} is asked for. "
        if thicker is not None and not thicker.fits:
            what, short = _where(thicker)
            says += f"{what} holds it low: {thicker.thickness_mm} mm is {short} too high. "
        elif not row.fits:
            says = f"{row.thickness_mm} mm reaches {row.u:.3f} W/m²K and does not even fit. "
        says += self._next_step()
        cure = "Record the reason and have building control agree it in writing"
        if self.glue_would_hold and self.build.hold_boards_by == "screws":
            cure += "; glued boards lose no heat through screws"
        return says, Remedy(f"{cure}, or take a board of lower conductivity.")

    def _cold(self, code: str, says: str, cure: Remedy) -> Finding:
        target = self.target
        return Finding(
            code, "roof", "agree", says.strip(), target.source, target.basis, self.row.u,
            target.value, "W/(m2K)", cure,
        )  # fmt: skip

    @property
    def glue_would_hold(self) -> bool:
        """Whether glue is a way out: the VCL is bonded and the deck is flat enough."""
        flat = self.deck.dish_under_2m_mm <= board_practice.FLATNESS_MM
        return self.build.vcl.sticks and flat

    def _no_screw(self) -> Finding:
        """No screw reaches: glue, or the thickest that a screw does reach through."""
        row, build = self.row, self.build
        says = f"No screw that is sold reaches through {row.thickness_mm} mm into the deck. "
        held = [r for r in self.rows if r.can_be_held and r.fits and r.passes_u]
        cure = Remedy("Order longer screws.")
        if self.glue_would_hold:
            cure = Remedy("Glue the boards.", (Change("design.hold_boards_by", "adhesive"),))
        elif held:
            most = max(held, key=lambda r: r.thickness_mm)
            cure = Remedy(
                f"Order longer screws, or take {most.thickness_mm} mm.", build.take(most.boards)
            )
        return Finding(
            "screw-too-short", "roof", "stop", says + cure.says, "the rates", build.basis,
            row.thickness_mm, max(build.screw.lengths_mm), "mm", cure,
        )  # fmt: skip


def _where(row: RiseRow) -> tuple[str, int]:
    """Name what a thickness stands against, and how many whole mm it is too high there."""
    kind, name = row.governs.split(":", 1)
    what = f"The sash of {name}" if kind == "sash" else name
    return what, ceil(-(row.least_margin_mm or 0.0))


def _whole(margin: float) -> int:
    """Round what is left; what is missing is rounded up."""
    return round(margin) if margin >= 0 else -ceil(-margin)


def _on_loose_vcl() -> Finding:
    holds = vcl_practice.LOOSE_HOLDS_PA
    says = (
        "The boards are to be glued, but this VCL only lies on the deck: wind would lift all of "
        "it. Screw the boards through it, or take a VCL that sticks to the deck."
    )
    cure = Remedy("Hold the boards with screws.", (Change("design.hold_boards_by", "screws"),))
    return Finding(
        "glue-on-loose-vcl", "roof", "stop", says, holds.source, holds.basis, remedy=cure
    )


def table(
    rows: tuple[RiseRow, ...], taken: RiseRow, basis: Basis, unsure: tuple[str, ...] = ()
) -> Table:
    """Put the stick into a table for the calculation sheets; what the firm pays stays out.

    Parameters
    ----------
    rows : tuple of RiseRow
        The stick, the thinnest first [-].
    taken : RiseRow
        The one taken [-].
    basis : str
        Basis of the rates [-].
    unsure : tuple of str
        Ids of edges whose curve was not tried in every gap [-].

    Returns
    -------
    Table
        A line for each thickness [-].
    """
    columns = (
        ("boards", "mm"), ("U", "W/(m2K)"), ("with edges", "W/(m2K)"), ("water", "-"),
        ("coldest, f_Rsi", "-"),
        ("room left", "mm"), ("at", "-"), ("added", "kg/m2"), ("screws", "mm"),
        ("heat saved", "kWh"), ("CO2 saved", "kg"), ("says", "-"),
    )  # fmt: skip
    lines = tuple(
        (
            r.says,
            round(r.u, 4),
            "-" if r.u_edges is None else round(r.u_edges, 3),
            WET[r.moisture],
            "-" if r.edge_factor is None else round(min(r.f_rsi, r.edge_factor), 3),
            "free" if r.least_margin_mm is None else _whole(r.least_margin_mm),
            r.governs.split(":", 1)[-1] or "-",
            round(r.added_kg_m2, 1),
            r.screws,
            round(r.saved_kwh),
            round(r.saved_co2_kg),
            ", ".join((("taken",) if r is taken else ()) + r.against) or "-",
        )
        for r in rows
    )
    source = "ISO 6946, ISO 10211, ISO 13788, the height budget, the wind"
    if unsure:
        names = ", ".join(id_.partition(":")[2] for id_ in unsure)
        source += f"; at {names} some thicknesses are read between solved ones and not tried"
    return Table(
        "Every thickness that can be bought", columns, lines, source,
        weakest([basis, iso_6946.CORRECTION_SHARE.basis]),
    )  # fmt: skip

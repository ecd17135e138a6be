"""What the moisture of a roof would be if something were left, pierced or colder; and its cure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from evenfall.calc.physics.condensation import Condensation, monthly
from evenfall.calc.physics.monthly_air import Month
from evenfall.calc.physics.spells import months_to_dry
from evenfall.calc.physics.transmittance import Layer
from evenfall.model.choice import BuildUp
from evenfall.model.finding import Change, Remedy
from evenfall.model.job import Below, Covering, Deck, Joists, Site
from evenfall.stages.design import layering
from evenfall.standards import iso_13788, roofing_practice
from evenfall.standards.iso_10456 import MATERIALS, SHEETS
from evenfall.standards.iso_12572 import S_D_IMPERMEABLE
from evenfall.working import Table

VCL = "VCL"
PIERCED = SHEETS["polyethylene stapled 0.15 mm"]
"""A VCL with holes holds back no more than a sheet that is stapled without sealed laps."""

SPLITS = 24  # halvings of the search for the least VCL: finer than any that is sold
GRAMS = 1000
WORDS = {"a": "stays dry", "b": "gathers and dries", "c": "does not dry"}


class Roof(NamedTuple):
    """All that the layers of a finished roof hang on.

    Parameters
    ----------
    chosen_mm : int
        Insulation taken [mm].
    build : BuildUp
        The layers [-].
    deck, below, joists : Deck, Below, Joists
        What stays [-].
    """

    chosen_mm: int
    build: BuildUp
    deck: Deck
    below: Below
    joists: Joists

    @property
    def layers(self) -> tuple[Layer, ...]:
        """From outside to inside."""
        return layering.finished(self.build, self.chosen_mm, self.deck, self.below, self.joists)

    def with_quilt(self, quilt: str) -> Roof:
        """Give the same roof with the quilt kept or taken out."""
        return self._replace(build=replace(self.build, quilt=quilt))  # type: ignore[arg-type]


def with_vcl(layers: Sequence[Layer], s_d: float | None) -> tuple[Layer, ...]:
    """Give the VCL another vapour resistance, or leave it out.

    Parameters
    ----------
    layers : sequence of Layer
        From outside to inside [m].
    s_d : float or None
        Of the VCL; None leaves it out [m].

    Returns
    -------
    tuple of Layer
        The changed roof [m].
    """
    if s_d is None:
        return tuple(a for a in layers if a.name != VCL)
    return tuple(replace(a, s_d=s_d) if a.name == VCL else a for a in layers)


def pierced(layers: Sequence[Layer]) -> tuple[Layer, ...]:
    """Let the VCL hold back no more than one with holes.

    Parameters
    ----------
    layers : sequence of Layer
        From outside to inside [m].

    Returns
    -------
    tuple of Layer
        The changed roof [m].
    """
    own = next((a.s_d for a in layers if a.name == VCL), 0.0)
    return with_vcl(layers, min(own, float(PIERCED)))


def year(layers: Sequence[Layer], months: Sequence[Month]) -> Condensation:
    """Work the year of a roof out.

    Parameters
    ----------
    layers : sequence of Layer
        From outside to inside [m].
    months : sequence of Month
        Air on both sides [-].

    Returns
    -------
    Condensation
        The year [kg/m2].
    """
    return monthly(layering.vapour(tuple(layers)), months)


def table(roof: Roof, covering: Covering, site: Site, found: Condensation) -> Table:
    """Tell the verdict of the roof as it could also turn out.

    Parameters
    ----------
    roof : Roof
        As designed [-].
    covering : Covering
        The old felt [mm].
    site : Site
        Climate [-].
    found : Condensation
        The year as designed [kg/m2].

    Returns
    -------
    Table
        A row for each case [-].
    """
    columns = (
        ("if", "-"), ("verdict", "-"), ("most water", "g/m2"), ("by the end of", "-"),
    )  # fmt: skip
    months = layering.year(site, roof.below)
    rows = [_row("as designed", found)]
    rows += [_row(name, year(a, air)) for name, a, air in _cases(roof, covering, site, months)]
    rows.append(_wetted(roof.layers, months))
    return Table("What if", columns, tuple(rows), iso_13788.SOURCE, "from memory")


def _row(name: str, found: Condensation) -> tuple[str, str, float, str]:
    grams = round(found.highest * GRAMS, 1)
    return name, WORDS[found.verdict], grams, found.highest_month or "none"


def _wetted(layers: tuple[Layer, ...], months: Sequence[Month]) -> tuple[str, str, float, str]:
    """Tell how long a wetted deck takes by the monthly method, from the start of the damp half."""
    october = [*months[9:], *months[:9]]
    dry = months_to_dry(layering.vapour(layers), october, "deck")
    water = iso_13788.WETTED
    years = iso_13788.WETTED_YEARS
    told = f"dry after {dry} months" if dry else f"not dry after {years:g} years"
    return f"{water:g} kg/m² is shut into the deck in Oct", told, water * GRAMS, "Oct"


def _cases(
    roof: Roof, covering: Covering, site: Site, months: Sequence[Month]
) -> Iterator[tuple[str, tuple[Layer, ...], Sequence[Month]]]:
    layers = roof.layers
    kelvin = roofing_practice.SKY_COOLING
    colder = layering.year(site, roof.below, kelvin)
    yield f"the VCL is pierced (sd {PIERCED:g} m)", pierced(layers), months
    yield "the VCL is left out", with_vcl(layers, None), months
    if roof.build.board.facing_sd_m:
        yield "the VCL is left out, board joints leak", with_vcl(_joints(roof), None), months
    yield f"{kelvin:g} K colder under a clear sky", layers, colder
    yield f"the VCL is pierced, {kelvin:g} K colder", pierced(layers), colder
    if roof.below.quilt_mm and roof.build.quilt == "remove":
        yield "the quilt is left between the joists", roof.with_quilt("keep").layers, months
        yield "quilt left, VCL pierced", pierced(roof.with_quilt("keep").layers), months
    elif roof.below.quilt_mm:
        yield "the quilt is taken out", roof.with_quilt("remove").layers, months
    yield "the old felt stays under the VCL", _felted(layers, covering), months
    yield (
        "the old felt stays and is the only VCL",
        with_vcl(_felted(layers, covering), None),
        months,
    )


def _joints(roof: Roof) -> tuple[Layer, ...]:
    """Count the facings for nothing: vapour goes round them, through the joints of the boards."""
    bare = roof.build.board.mu * roof.chosen_mm / layering.MM
    return tuple(replace(a, s_d=bare) if a.name == "insulation" else a for a in roof.layers)


def _felted(layers: tuple[Layer, ...], covering: Covering) -> tuple[Layer, ...]:
    """Leave the old felt on the deck; sound, as long as nothing else is known."""
    k = next(i for i, a in enumerate(layers) if a.name == "deck")
    felt, d = MATERIALS["bitumen felt or sheet"], covering.thickness_mm / layering.MM
    lambda_ = felt.conductivity
    s_d = min(felt.mu_dry * d, float(S_D_IMPERMEABLE))
    layer = Layer("old felt", d, lambda_, s_d=s_d, source=lambda_.source, basis=lambda_.basis)
    return (*layers[:k], layer, *layers[k:])


def least_vcl(layers: Sequence[Layer], months: Sequence[Month]) -> float | None:
    """Find the least vapour resistance of a VCL with which the roof dries within the year.

    Parameters
    ----------
    layers : sequence of Layer
        From outside to inside [m].
    months : sequence of Month
        Air on both sides [-].

    Returns
    -------
    float or None
        Its s_d, rounded up; None where no VCL does it [m].
    """

    def dries(s_d: float) -> bool:
        return year(with_vcl(layers, s_d), months).verdict != "c"

    low, high = 0.0, float(S_D_IMPERMEABLE)
    if not dries(high):
        return None
    for _ in range(SPLITS):
        middle = (low * high) ** 0.5 if low > 0 else high / 2
        low, high = (low, middle) if dries(middle) else (middle, high)
    step = 10 ** (len(str(int(high))) - 2)
    rounded = -(-high // step) * step
    return float(round(rounded, 3)) if dries(rounded) else high


def cure(roof: Roof, months: Sequence[Month], vcls: Sequence[tuple[str, float, int]]) -> Remedy:
    """Say what would let the roof dry, and change the job where something that is sold does it.

    Parameters
    ----------
    roof : Roof
        As designed; it does not dry [-].
    months : sequence of Month
        Air on both sides [-].
    vcls : sequence of (str, float, int)
        Name, s_d [m] and nights as a roof of each VCL of the rates [-].

    Returns
    -------
    Remedy
        In words, with the first change that does it [-].
    """
    told: list[str] = []
    changes: list[Change] = []
    if roof.build.quilt == "keep" and _dries(roof.with_quilt("remove").layers, months):
        told.append("Take the old quilt out")
        changes.append(Change("design.quilt", "remove"))
    needed = least_vcl(roof.layers, months)
    if needed is not None:
        told.append(f"A VCL of sd {needed:g} m or more, its laps and turn-ups sealed")
        nights = roof.build.vcl.nights
        sold = [(s_d, name) for name, s_d, n in vcls if s_d >= needed and n >= nights]
        if sold:
            s_d, name = min(sold)
            told[-1] += f" ({name} has {s_d:g} m)"
            changes.append(Change("design.vcl", name))
    thicker = _thicker(roof, months)
    if thicker is not None:
        each = thicker // roof.build.layers
        told.append(f"{thicker - roof.chosen_mm} mm more board ({thicker} mm in all)")
        changes.append(Change("design.thickness_mm", each))
    if not told:
        told = ["No VCL and no board that is sold cures it: air the room below, and ask a"
                " specialist for this roof"]  # fmt: skip
    return Remedy("; or ".join(told) + ".", tuple(changes[:1]))


def _dries(layers: Sequence[Layer], months: Sequence[Month]) -> bool:
    return year(layers, months).verdict != "c"


def _thicker(roof: Roof, months: Sequence[Month]) -> int | None:
    """Find the thinnest board sold, thicker than the one taken, with which the roof dries."""
    sold = sorted(mm * roof.build.layers for mm, _ in roof.build.board.sizes)
    more = (mm for mm in sold if mm > roof.chosen_mm)
    return next((mm for mm in more if _dries(roof._replace(chosen_mm=mm).layers, months)), None)

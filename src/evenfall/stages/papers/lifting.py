"""What is delivered weighs so much, and what one person does not lift alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evenfall.model.rates import Rates
from evenfall.model.taken_off import OrderLine
from evenfall.stages.papers.worked import WorkedRoof
from evenfall.standards import dead_loads, take_off_practice
from evenfall.standards import sheet_practice as practice
from evenfall.working import figure

MM = 1000
SAIL_M2 = 2.0  # a board larger than this takes two people for the wind, whatever it weighs
STANDARD_DECK_M2 = 2.44 * 1.22  # the usual large sheet


@dataclass(frozen=True, slots=True)
class Lift:
    """Something that one person does not lift alone."""

    what: str
    mass_kg: float
    size: str
    says: str


def delivery_kg(line: OrderLine, rates: Rates) -> float | None:
    """Weigh what an order line buys, where the rates tell enough.

    Parameters
    ----------
    line : OrderLine
        The line [-].
    rates : Rates
        Densities of boards, masses of sheet, VCL, lengths and items [-].

    Returns
    -------
    float or None
        Mass of all its packs [kg].
    """
    kind, _, name = line.id.partition(":")
    count = sum(n for n, _, _ in line.packs)
    if kind in ("board", "taper"):
        return next((count * kg for stock, kg, _ in _boards(line, rates)), None)
    if kind == "sheet":
        return next((line.bought * s.mass_kg_m2 for s in rates.sheets if s.name == name), None)
    if kind == "vcl":
        return next((line.bought * v.mass_kg_m2 for v in rates.vcls if v.name == name), None)
    if kind == "length":
        return next((line.bought * n.mass_kg_m for n in rates.lengths
                     if n.name == name and n.mass_kg_m), None)  # fmt: skip
    if kind == "fitting":
        section, _, fitting = name.partition(":")
        return next((count * f.mass_kg for n in rates.lengths if n.name == section
                     for f in n.fittings if f.name == fitting and f.mass_kg), None)  # fmt: skip
    if kind == "screw":
        return count * rates.screw.mass_kg_pack if rates.screw.mass_kg_pack else None
    if line.unit == "kg":
        return line.bought
    return next((line.bought * i.mass_kg for i in rates.items
                 if i.name == name and i.mass_kg), None)  # fmt: skip


def _boards(line: OrderLine, rates: Rates) -> Iterator[tuple[str, float, str]]:
    """Give name, mass of one board and its size; a tapered one weighs by its mean thickness."""
    kind, name, thick = line.id.split(":")
    for t in rates.tapers if kind == "taper" else ():
        if t.name == name:
            edges = next(s for s in t.sizes if s.thin_mm == int(thick))
            deep = (edges.thin_mm + edges.thick_mm) / 2
            area = t.length_mm * t.width_mm / MM**2
            size = f"{t.length_mm} × {t.width_mm} × {edges.thin_mm} to {edges.thick_mm} mm"
            yield t.says, area * (t.density_kg_m3 * deep / MM + t.facing_kg_m2), size
    for b in rates.boards if kind == "board" else ():
        if b.name == name:
            area = b.length_mm * b.width_mm / MM**2
            mass = area * (b.density_kg_m3 * int(thick) / MM + b.facing_kg_m2)
            yield b.says, mass, f"{b.length_mm} × {b.width_mm} × {thick} mm"


def lifts(worked: WorkedRoof) -> tuple[Lift, ...]:
    """List what two people or more lift, the heaviest first.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of Lift
        Sheet, rolls, boards, new decking and long lengths; the rule and its basis in words [kg].
    """
    found = [*_sheet(worked), *_rolls(worked), *_insulation(worked), *_deck(worked),
             *_lengths(worked)]  # fmt: skip
    return tuple(sorted(found, key=lambda lift: -lift.mass_kg))


def _sheet(worked: WorkedRoof) -> Iterator[Lift]:
    way, hands = worked.sheet.chosen, round(worked.sheet.hands.value)
    who = f"{hands} people" if hands < 4 else "four people or a hoist"
    two = practice.SHARE_OF_TWO * 2 * practice.LIFT_MAN_KG
    says = (
        f"{who}: the filter for two is {two:.0f} kg ({practice.LIFT_MAN_KG.basis}), the trade's "
        f"own figure {practice.TWO_PEOPLE_CARRY_KG:.0f} kg; the lower one counts"
    )
    if hands > 1:
        size = f"{way.width_mm / MM:.2f} × {way.cut_mm / MM:.2f} m"
        yield Lift("Rubber sheet, the heaviest piece", worked.sheet.mass.value, size, says)


def _alone(mass: float) -> bool:
    return mass <= practice.LIFT_MAN_KG


def _two(mass: float, area: float = 0.0) -> str:
    wind = "; a sail in the wind" if area > SAIL_M2 else ""
    limit = f"above the filter of {practice.LIFT_MAN_KG:.0f} kg for one"
    return f"two people: {limit}{wind}" if not _alone(mass) else f"two people{wind}"


def _rolls(worked: WorkedRoof) -> Iterator[Lift]:
    for v in worked.case.rates.vcls:
        mass = v.width_mm * v.length_mm / MM**2 * v.mass_kg_m2
        if v.name == worked.rolls.stock and not _alone(mass):
            size = f"{v.width_mm / MM:.2f} × {v.length_mm / MM:g} m"
            yield Lift(f"Roll of VCL: {v.says}", mass, size, _two(mass))


def _insulation(worked: WorkedRoof) -> Iterator[Lift]:
    for line in worked.boards.order:
        for says, mass, size in _boards(line, worked.case.rates):
            area = float(size.split(" × ")[0]) * float(size.split(" × ")[1]) / MM**2
            if area > SAIL_M2 or not _alone(mass):
                yield Lift(says, mass, size, _two(mass, area))


def _deck(worked: WorkedRoof) -> Iterator[Lift]:
    """Weigh the board that is bought; the old one as measured where the rates tell no weight."""
    deck = worked.case.job.survey.deck
    bought = any(line.id == "item:deck-board" for line in worked.items.order)
    item = next((i for i in worked.case.rates.items if i.name == "deck-board"), None)
    if bought and item and item.mass_kg and item.covers_unit == "m2":
        size = f"{item.covers:.2f} m² each"
        yield Lift(item.says, item.mass_kg, size, _two(item.mass_kg, item.covers))
    elif bought and deck.kind in dead_loads.DECK_KG_M3:
        mass = STANDARD_DECK_M2 * deck.thickness_mm / MM * dead_loads.DECK_KG_M3[deck.kind]
        size = f"2440 × 1220 × {figure(deck.thickness_mm)} mm"
        yield Lift("New deck board", mass, size, _two(mass, STANDARD_DECK_M2))


def _lengths(worked: WorkedRoof) -> Iterator[Lift]:
    """Name each length that is too long for one person, or too heavy."""
    long = take_off_practice.PIECE_LIFT_M
    masses = {n.name: n.mass_kg_m or 0.0 for n in worked.case.rates.lengths}
    for run in worked.lengths.runs:
        stock = max(bar.stock_mm for bar in run.bars) / MM
        mass = stock * masses.get(run.id.partition(":")[2], 0.0)
        if not _alone(mass):
            yield Lift(run.says, mass, f"{stock:g} m", _two(mass))
        elif stock > long:
            says = f"two people: longer than {long:g} m, it whips and catches the wind"
            yield Lift(run.says, mass, f"{stock:g} m", says)

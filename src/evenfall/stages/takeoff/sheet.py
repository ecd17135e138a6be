"""Sheet: which roll covers the roof, how it is cut, and how many hands lift it."""

from __future__ import annotations

from math import ceil

from evenfall.calc.layout.sheet import SheetOption, SheetPlan, plan_sheet
from evenfall.model.choice import Rubber
from evenfall.model.finding import Finding, Level, Remedy
from evenfall.model.surveyed import Plan, SideAt
from evenfall.model.taken_off import OrderLine, Sheet, SheetWay
from evenfall.stages.takeoff.boards import in_mm
from evenfall.standards import sheet_practice as practice
from evenfall.working import Basis, Cited, Working, formula, measured

MM = 1000
SIGMAS = 2  # the sheet is ordered for the plan and twice what it is good to
RUNNERS_UP = 3
KERBED = ("verge", "party_line")
ALLOWANCE: dict[str, Cited] = {
    "eaves": practice.DRIP_ALLOWANCE_MM,
    "verge": practice.KERB_ALLOWANCE_MM,
    "wall": practice.WALL_ALLOWANCE_MM,
    "step": practice.WALL_ALLOWANCE_MM,
    "parapet": practice.WALL_ALLOWANCE_MM,  # at least: a parapet is covered up and over its top
    "party_line": practice.KERB_ALLOWANCE_MM,
}


@formula("A", "m2", "geometry")
def sheet_area(width: float, cut: float, strips: float) -> float:
    """Area of sheet bought.

    Parameters
    ----------
    width : float
        Width of the roll [m].
    cut : float
        Length of one piece [m].
    strips : float
        Pieces [-].

    Returns
    -------
    float
        Area [m2].

    Examples
    --------
    >>> sheet_area(7.62, 4.5, 1)
    34.29
    """
    return width * cut * strips


@formula("m", "kg", "geometry")
def sheet_mass(width: float, cut: float, kg_m2: float) -> float:
    """Mass of the heaviest piece.

    Parameters
    ----------
    width, cut : float
        Size of one piece [m].
    kg_m2 : float
        Mass of the sheet [kg/m2].

    Returns
    -------
    float
        Mass that is carried [kg].

    Examples
    --------
    >>> sheet_mass(7.62, 4.5, 1.4)
    48.0
    """
    return width * cut * kg_m2


def work(
    plan: Plan, rubber: Rubber, basis: Basis, kerb_mm: float = practice.KERB_USUAL_MM
) -> Sheet:
    """Choose the sheet.

    Parameters
    ----------
    plan : Plan
        Deck, kinds of sides, and what the plan is good to [m].
    rubber : Rubber
        Widths, longest cut and mass [-].
    basis : str
        Basis of the rates [-].
    kerb_mm : float
        Height of the kerb along verges [mm].

    Returns
    -------
    Sheet
        What to order, the runners-up, mass and hands [mm, kg].
    """
    allowances = [allowance_mm(s, kerb_mm) for s in plan.sides]
    unsure = ceil(SIGMAS * plan.good_to_mm)
    stock = [
        (round(w * MM), round(rubber.longest_m * MM), round(rubber.step_m * MM), 1,
         rubber.mass_kg_m2)
        for w in rubber.widths_m
    ]  # fmt: skip
    found = plan_sheet(in_mm(plan.deck), allowances, unsure, stock)
    best = found.chosen
    said = f"the rates: {rubber.name}"
    width = measured(best.stock.width_mm / MM, "m", said, basis)
    cut = measured(best.cut_mm / MM, "m", "the sheet plan", "planning seed")
    area = sheet_area.show(width, cut, best.pieces)
    mass = sheet_mass.show(width, cut, measured(rubber.mass_kg_m2, "kg/m2", said, basis))
    order = OrderLine(
        f"sheet:{rubber.name}", f"{rubber.says}: {_says(best)}", area, "m2",
        ((best.pieces, best.stock.width_mm * best.cut_mm / MM**2, _size(best)),), area.value,
        area.basis, f"width × length: {_size(best)}",
    )  # fmt: skip
    hands = _hands(mass, found)
    return Sheet(
        stock=rubber.name,
        need_mm=(best.need_along_mm, best.need_across_mm),
        chosen=_way(best),
        others=tuple(_way(o) for o in _runners_up(found)),
        area=area,
        mass=mass,
        hands=hands,
        order=(order,),
        findings=(*_lift(mass, found, hands), *_seams(best)),
    )


def allowance_mm(side: SideAt, kerb_mm: float = practice.KERB_USUAL_MM) -> int:
    """Give what the sheet needs beyond a side.

    Parameters
    ----------
    side : SideAt
        Its kind; a parapet is covered up its face and over its top [-].
    kerb_mm : float
        Height of the kerb along verges; the allowance is for a usual one [mm].

    Returns
    -------
    int
        Allowance [mm].
    """
    least = int(ALLOWANCE[side.kind])
    if side.kind in KERBED:
        return least + ceil(kerb_mm - practice.KERB_USUAL_MM)
    if side.kind != "parapet":
        return least
    return max(least, ceil(side.parapet_height_mm + practice.PARAPET_TOP_MM))


def _size(option: SheetOption) -> str:
    return f"{option.stock.width_mm / MM:.2f} × {option.cut_mm / MM:.2f} m"


def _says(option: SheetOption) -> str:
    if option.one_piece:
        return f"one piece {_size(option)}"
    return f"{option.pieces} strips {_size(option)}"


def _way(option: SheetOption) -> SheetWay:
    return SheetWay(
        _says(option), option.stock.width_mm, option.cut_mm, option.pieces, option.seam_mm,
        option.area_mm2 / MM**2, option.piece_kg,
    )  # fmt: skip


def _runners_up(found: SheetPlan) -> list[SheetOption]:
    """Pick the next best ways that are really another order."""
    seen, others = {_says(found.chosen)}, []
    for option in found.options[1:]:
        if _says(option) not in seen:
            seen.add(_says(option))
            others.append(option)
    return others[:RUNNERS_UP]


def _hands(mass: Working, found: SheetPlan) -> Working:
    """People to lift it by the lower figure; four stand for more people or a hoist."""
    limits = ((found.two_people_filter_kg, 2), (found.three_people_filter_kg, 3))
    hands = next((n for limit, n in limits if mass.value <= limit), 4)
    source, basis = practice.LIFT_MAN_KG.source, practice.LIFT_MAN_KG.basis
    of = (("m", "kg", mass), ("two", "kg", limits[0][0]), ("three", "kg", limits[1][0]))
    text = "2 if m ≤ two, 3 if m ≤ three, else 4 or a hoist"
    return Working("Hands to lift the sheet", "hands", "people", source, hands, of, text, basis)


def _lift(mass: Working, found: SheetPlan, hands: Working) -> tuple[Finding, ...]:
    two, practice_kg = found.two_people_filter_kg, found.two_people_practice_kg
    if mass.value <= two:
        return ()
    level: Level = "agree" if hands.value > 3 else "note"
    who = "four people or a hoist" if hands.value > 3 else "three people"
    says = (
        f"The heaviest piece weighs {mass.value:.0f} kg. Two people often carry "
        f"{practice_kg:.0f}, the safety filter for two is {two:.0f}: plan {who}."
    )
    source, basis = practice.LIFT_MAN_KG.source, practice.LIFT_MAN_KG.basis
    cure = Remedy("Book a hoist or more people for that day; nothing is thrown or dragged.")
    return (
        Finding("sheet-heavy", "sheet", level, says, source, basis, mass.value, two, "kg", cure),
    )


def _seams(option: SheetOption) -> tuple[Finding, ...]:
    if option.one_piece:
        return ()
    lap = practice.SEAM_LAP_MM
    says = (
        f"No roll is wide enough: {option.seams} seams, {option.seam_mm / MM:.1f} m. Lay them with "
        "the fall and away from outlets."
    )
    return (Finding("seams", "sheet", "note", says, lap.source, lap.basis),)

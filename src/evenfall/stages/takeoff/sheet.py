"""Sheet: which roll covers the roof, how it is cut, and how many hands lift it."""

from __future__ import annotations

from itertools import pairwise
from math import ceil, dist

from evenfall.calc.layout.sheet import SheetOption, SheetPlan, plan_sheet, strip_rings
from evenfall.calc.layout.sheet_pieces import upstand_ring
from evenfall.calc.layout.upstands import LotKind
from evenfall.model.choice import Rubber
from evenfall.model.finding import Finding, Level, Remedy
from evenfall.model.surveyed import Plan, Point, SideAt
from evenfall.model.taken_off import OrderLine, Sheet, SheetWay, UpstandCut, UpstandStrip
from evenfall.stages.takeoff.boards import in_mm
from evenfall.stages.takeoff.rolling_out import rolling_out
from evenfall.standards import sheet_practice as practice
from evenfall.working import Basis, Cited, Table, Working, formula, measured, total

MM = 1000
SIGMAS = 2  # the sheet is ordered for the plan and twice what it is good to
RUNNERS_UP = 3
PARTS = 10_000  # ways are compared by area, in parts of a square metre
UPSTANDS = ("rooflight", "chimney")
KERBED = ("verge", "party_line")
FROM: dict[LotKind, str] = {
    "rest": "from what is left beside it",
    "notch": "from its notches",
    "cut": "from the further cut",
}
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
    plan: Plan,
    rubber: Rubber,
    basis: Basis,
    kerb_mm: float = practice.KERB_USUAL_MM,
    downhill: Point = (0.0, 0.0),
    above_mm: tuple[tuple[str, float], ...] = (),
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
    downhill : tuple of float
        Which way the finished roof falls; (0, 0) where that is not known [-].
    above_mm : tuple of (str, float)
        Kerbs and how far they stand above the finished roof; others as a wall [mm].

    Returns
    -------
    Sheet
        What to order, the runners-up, mass and hands [mm, kg].
    """
    strips = upstand_strips(plan, above_mm)
    found = _planned(plan, rubber, kerb_mm, downhill, strips)
    best = found.chosen
    said = f"the rates: {rubber.name}"
    width = measured(best.stock.width_mm / MM, "m", said, basis)
    cut = measured(best.cut_mm / MM, "m", "the sheet plan", "planning seed")
    area = _bought(best, width, cut, basis)
    mass = sheet_mass.show(width, cut, measured(rubber.mass_kg_m2, "kg/m2", said, basis))
    hands = _hands(mass, found)
    order = _order(rubber, best, area, strips)
    return Sheet(
        stock=rubber.name,
        need_mm=(best.need_along_mm, best.need_across_mm),
        chosen=_way(best, strip_rings(best)),
        others=tuple(_way(o) for o in _runners_up(found)),
        area=area,
        mass=mass,
        hands=hands,
        order=(order,),
        findings=(*_lift(mass, found, hands), *_seams(best)),
        upstands=strips,
        ways=_table([best, *_runners_up(found)]),
        steps=rolling_out(
            plan, best.along, best.one_piece, round(hands.value), downhill, bool(strips)
        ),
        cuts=tuple(
            UpstandCut(p.number, strips[p.strip].where, p.long_mm, p.wide_mm, p.kind,
                       upstand_ring(p, best.along))
            for p in best.upstands.pieces
        ),
        further_mm=(best.upstands.cut_mm, best.stock.width_mm if best.upstands.cut_mm else 0),
        trim=found.trim,
    )  # fmt: skip


def upstand_strips(
    plan: Plan, above_mm: tuple[tuple[str, float], ...] = ()
) -> tuple[UpstandStrip, ...]:
    """List the strips that are dressed up kerbs, one to each side.

    Parameters
    ----------
    plan : Plan
        Openings [m].
    above_mm : tuple of (str, float)
        Kerbs and how far they stand above the finished roof; others as a wall [mm].

    Returns
    -------
    tuple of UpstandStrip
        Up the whole kerb and out over the sheet, and lapped past each corner [mm].
    """
    lap, usual, known = round(practice.SEAM_LAP_MM), practice.WALL_UPSTAND_MM, dict(above_mm)
    high = {o.name: max(float(usual), known.get(o.name, 0.0)) for o in plan.openings}
    return tuple(
        UpstandStrip(
            o.name,
            ceil(dist(a, b) * MM) + 2 * lap,
            ceil(round(high[o.name], 3) + practice.WALL_EXTRA_MM),
        )
        for o in plan.openings
        if o.kind in UPSTANDS
        for a, b in pairwise((*o.ring, o.ring[0]))
    )


def _planned(
    plan: Plan, rubber: Rubber, kerb_mm: float, downhill: Point, strips: tuple[UpstandStrip, ...]
) -> SheetPlan:
    """Plan the sheet for the plan, twice what it is good to, and the allowances of its edges."""
    allowances = [allowance_mm(s, kerb_mm) for s in plan.sides]
    stock = [
        (round(w * MM), round(rubber.longest_m * MM), round(rubber.step_m * MM), PARTS,
         rubber.mass_kg_m2)
        for w in rubber.widths_m
    ]  # fmt: skip
    outlets = [(o.centre[0] * MM, o.centre[1] * MM) for o in plan.openings if o.kind == "outlet"]
    return plan_sheet(
        in_mm(plan.deck), allowances, ceil(SIGMAS * plan.good_to_mm), stock, downhill=downhill,
        outlets=outlets, upstands=[(s.length_mm, s.width_mm) for s in strips],
    )  # fmt: skip


def _bought(best: SheetOption, width: Working | float, cut: float, basis: Basis) -> Working:
    area = sheet_area.show(width, cut, best.pieces)
    if not best.upstands.cut_mm:
        return area
    more = measured(best.upstands.cut_mm / MM, "m", "the sheet plan", basis)
    parts = [("sheet", area), ("cut for upstands", sheet_area.show(width, more, 1))]
    return total("Area of sheet bought", "A", "m2", parts)


def _order(
    rubber: Rubber, best: SheetOption, area: Working, strips: tuple[UpstandStrip, ...]
) -> OrderLine:
    packs = [(best.pieces, best.stock.width_mm * best.cut_mm / MM**2, _size(best))]
    note = f"width × length: {_size(best)}"
    further = best.upstands.cut_mm
    if further:
        size = f"{best.stock.width_mm / MM:.2f} × {further / MM:.2f} m for upstands"
        packs.append((1, best.stock.width_mm * further / MM**2, size))
    if strips:
        counted = [(best.upstands.of_kind(kind), where) for kind, where in FROM.items()]
        note += "; upstand strips: " + ", ".join(f"{n} {where}" for n, where in counted if n)
    return OrderLine(
        f"sheet:{rubber.name}", f"{rubber.says}: {_says(best)}", area, "m2", tuple(packs),
        sum(n * size for n, size, _ in packs), area.basis, note,
    )  # fmt: skip


def _table(options: list[SheetOption]) -> Table:
    columns = (("way", "-"), ("bought", "m2"), ("heaviest piece", "kg"), ("seams", "m"),
               ("T-joints", "each"), ("seams across the fall", "m"))  # fmt: skip
    rows = tuple(
        (_says(o), o.area_mm2 / MM**2, o.piece_kg, o.seam_mm / MM, float(o.t_joints),
         o.across_fall_mm / MM)
        for o in options
    )  # fmt: skip
    source = practice.SEAM_COUNTS_AS.source
    return Table("Ways to order the sheet", columns, rows, source, practice.SEAM_COUNTS_AS.basis)


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


def _way(option: SheetOption, rings: tuple[tuple[tuple[int, int], ...], ...] = ()) -> SheetWay:
    return SheetWay(
        _says(option), option.stock.width_mm, option.cut_mm, option.pieces, option.seam_mm,
        option.area_mm2 / MM**2, option.piece_kg, option.t_joints, rings,
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
    lap, far = practice.SEAM_LAP_MM, practice.SEAM_FROM_OUTLET_MM
    across = option.across_fall_mm / MM
    says = f"No roll is wide enough: {option.seams} seams, {option.seam_mm / MM:.1f} m"
    says += f", {across:.1f} m of them across the fall: the upper over the lower." if across else (
        ". They lie with the fall.")  # fmt: skip
    found = [Finding("seams", "sheet", "note", says, lap.source, lap.basis)]
    if not option.seams_legal:
        says = f"A seam lies {option.from_outlet_mm:.0f} mm from an outlet, where water stands."
        cure = Remedy("Take another width of roll, or have the factory join the sheet.")
        found.append(Finding(
            "seam-at-outlet", "sheet", "agree", says, far.source, far.basis,
            option.from_outlet_mm, far.value, "mm", cure,
        ))  # fmt: skip
    return tuple(found)

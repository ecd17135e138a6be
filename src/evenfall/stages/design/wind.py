"""Wind: suction by zone over all wind directions, and the screws or beads that hold against it."""

from __future__ import annotations

from collections.abc import Iterator
from statistics import mean, stdev

from evenfall.calc.loads.fixings import (
    bead_strength,
    bond_needed,
    design_resistance,
    embedment_mm,
    least_screw_mm,
)
from evenfall.calc.loads.plan_zones import longest_side
from evenfall.calc.loads.pull_out import characteristic, k_n
from evenfall.calc.loads.roof_zones import zone_length
from evenfall.calc.loads.screw_lengths import reaches
from evenfall.calc.loads.walls_and_parapets import parapet_pull, parapet_zones
from evenfall.model.choice import BuildUp
from evenfall.model.designed import Interface, ScrewBand, Wind, WindZone
from evenfall.model.finding import Finding
from evenfall.model.job import Below, Deck, Side, Site
from evenfall.model.rates import Adhesive
from evenfall.model.surveyed import Plan, Point, Ring
from evenfall.stages.design import wind_findings as told
from evenfall.stages.design.holding import Held, Holding, least_per_board, point_limit_mm
from evenfall.stages.design.loaded_area import compare
from evenfall.standards import en_1990, fixing_practice, vcl_practice
from evenfall.standards import en_1991_1_4 as en
from evenfall.working import Known, Table, Working, measured, weakest

MM = 1000
KILO = 1000
COUNTS = (3, 4, 5, 6, 8, 10)
"""Numbers of pull-out tests that a person would make on a small roof."""
RULE = {
    "F": "e/10 deep, e/4 from each corner that turns outwards",
    "G": "e/10 deep, along every edge between",
    "H": "from e/10 to e/2, in the rectangle round the roof",
    "I": "beyond e/2",
}
RULED = (
    f"{en.SOURCE} Figure 7.6 on the rectangle round the roof, square to its longest side, four "
    "winds; every side has its own edge strip; e = min(b, 2h), h the finished roof without its "
    "parapet; the worst wind governs each place"
)


def work(
    site: Site,
    sides: tuple[Side, ...],
    deck: Deck,
    below: Below,
    build: BuildUp,
    chosen_mm: int,
    plan: Plan,
    adhesive: Adhesive,
    rise: Working,
    tapered_mm: tuple[float, ...] = (),
) -> Wind:
    """Work out the wind on every part of the roof, and what holds it down.

    Parameters
    ----------
    site : Site
        Map wind, altitude, terrain, sea, height of the roof, what was read off charts [-].
    sides : tuple of Side
        Parapets, rounded and sloped edges [mm].
    deck : Deck
        Flatness, thickness and pull-out tests [-].
    below : Below
        Cables in the void, and a wide door that may let the wind in [-].
    build : BuildUp
        Board, screws and how the boards are held [-].
    chosen_mm : int
        Insulation, all layers [mm].
    plan : Plan
        The roof [m].
    adhesive : Adhesive
        Strength of the beads and of the sheet's bond [kPa].
    rise : Working
        Rise of the finished surface over the old one, where it rises most [mm].
    tapered_mm : tuple of float
        What tapered boards add at the corners; empty without them [mm].

    Returns
    -------
    Wind
        Pressure, zones, screws, beads and findings [-].
    """
    beside_mm = rise.value - chosen_mm
    held = Holding(site, sides, deck, build, plan, adhesive, below, beside_mm)
    boards = build.boards(chosen_mm)
    found = held.at(boards, rise)
    zones, bond, centres = found.zones, found.bond, found.centres
    lengths = screw_lengths(build, chosen_mm, tapered_mm)
    thin, thick = (n.value - embedment_mm() for n in lengths)
    most = point_limit_mm(deck, below.cables_in_void)
    bands = reaches(build.screw.lengths_mm, thin, thick, embedment_mm(), most)
    faces = tuple(_faces(build, adhesive, zones, bond, held, _on_parapets(sides, found, rise)))
    more = more_tests(deck, build, held)
    into = told.screwing(deck, below.cables_in_void, lengths, bands)
    findings: tuple[Finding, ...] = (
        *told.of_pressure(site, found.q_p),
        *told.of_bonds(bond, faces, into),
        *(told.of_screws(deck, build, into, held.scattered, held.resistance, more)
          if build.hold_boards_by == "screws"
          else told.of_glue(deck, centres, held.width, into)),
    )  # fmt: skip
    board_m2 = build.board.length_mm * build.board.width_mm / MM**2
    return Wind(
        q_p=found.q_p, zones=zones,
        least_per_board=least_per_board(build, boards, edge=False),
        least_at_edge=least_per_board(build, boards, edge=True),
        screw_mm=bands[-1].length_mm if bands else None,
        screws=tuple(ScrewBand(*band) for band in bands),
        resistance=held.resistance, bond=bond, centres=centres,
        safety=fixing_practice.SAFETY, by_zone=zone_table(zones),
        by_wind=wind_table(plan, found.h), faces=faces,
        more_tests=more if build.hold_boards_by == "screws" else None,
        z=found.z, by_area=compare(found.table, board_m2), findings=findings,
    )  # fmt: skip


def zone_table(zones: tuple[WindZone, ...]) -> Table:
    """Put the zones into a table that states the rule by which they were laid.

    Parameters
    ----------
    zones : tuple of WindZone
        Parts of the roof [-].

    Returns
    -------
    Table
        Zone, where it lies, its area and pulls [-].
    """
    rows: list[tuple[float | str, ...]] = []
    for zone in en.ZONES:
        same = [z for z in zones if z.zone == zone]
        if same:
            pulls = [-z.pressure.value for z in same]
            area = sum(z.area_m2 for z in same)
            rows.append((zone, RULE[zone], area, max(pulls) / KILO, min(pulls) / KILO))
    columns = (("zone", "-"), ("where", "-"), ("area", "m2"), ("worst pull", "kN/m2"),
               ("least pull", "kN/m2"))  # fmt: skip
    basis = weakest(z.pressure.basis for z in zones)
    return Table("Wind zones, and the rule for them", columns, tuple(rows), RULED, basis)


def wind_table(plan: Plan, h: Working) -> Table:
    """Put down e of the wind on each side, so that the zones can be drawn by hand.

    Parameters
    ----------
    plan : Plan
        The roof [m].
    h : Working
        Height of the finished roof, without its parapet [m].

    Returns
    -------
    Table
        Side, b, 2h, e, and the depths and lengths of the zones [m].
    """
    winds = [(f"side {s.name}", _reach(plan.deck, s.along)) for s in plan.sides]
    u, v = longest_side(plan.deck)
    winds += [("rectangle, long way", _reach(plan.deck, (u, v))),
              ("rectangle, across", _reach(plan.deck, (-v, u)))]  # fmt: skip
    rows = []
    for name, b in winds:
        e = zone_length(b, h.value)
        rows.append((name, b, 2 * h.value, e, e / 10, e / 4, e / 2))
    columns = (("wind on", "-"), ("b", "m"), ("2 h", "m"), ("e", "m"), ("e/10 deep", "m"),
               ("e/4 corner", "m"), ("e/2 to I", "m"))  # fmt: skip
    source = f"{en.SOURCE} Figure 7.6, e = min(b, 2h)"
    return Table("Winds on the roof, and their e", columns, tuple(rows), source,
                 weakest((h.basis, "from memory")))  # fmt: skip


def _reach(deck: Ring, way: Point) -> float:
    """Measure the roof along a direction."""
    along = [x * way[0] + y * way[1] for x, y in deck]
    return max(along) - min(along)


def more_tests(deck: Deck, build: BuildUp, held: Holding) -> Table | None:
    """Work out what more pull-out tests would gain, if they scatter as these do.

    Parameters
    ----------
    deck : Deck
        Tests made [N].
    build : BuildUp
        The value declared for the screw caps what tests can show [N].
    held : Holding
        Whether the tests count at all [-].

    Returns
    -------
    Table or None
        Number of tests, factor, design value; none without tests, or where more gain nothing [N].
    """
    tests = deck.pull_outs_n
    if held.scattered or len(tests) < COUNTS[0]:
        return None
    cap, m, s = build.screw.design_resistance_n, mean(tests), stdev(tests)
    if held.resistance.value >= cap:
        return None
    rows: list[tuple[float | str, ...]] = []
    for n in (len(tests), *(n for n in COUNTS if n > len(tests))):
        value = design_resistance(characteristic(m, k_n(n), s))
        rows.append((float(n), float(k_n(n)), min(cap, value)))
        if value >= cap:  # more are of no use: the screw is declared for no more
            break
    if len(rows) == 1:
        return None
    columns = (("tests", "-"), ("k_n", "-"), ("design value", "N"))
    source = f"{en_1990.SOURCE} Annex D, Table D1, same mean and scatter"
    return Table("What more pull-out tests would gain", columns, tuple(rows), source, "from memory")


def _faces(
    build: BuildUp,
    adhesive: Adhesive,
    zones: tuple[WindZone, ...],
    bond: Working,
    held: Holding,
    parapets: Working | None,
) -> Iterator[Interface]:
    """List the glued faces from the sheet down; screws take over below the board."""
    sheet = measured(adhesive.sheet_bond_kpa * KILO, "Pa", "adhesive.sheet_bond_kpa", build.basis)
    over = "overlay" if build.overlay_mm else "board"
    yield Interface("sheet", f"sheet to {over}", "adhesive all over", bond, sheet)
    if parapets is not None:
        yield Interface("parapet", "sheet to the parapets", "adhesive all over", parapets, sheet)
    yield Interface("facing", "facing and foam of the board", "its own strength", bond, None)
    if build.hold_boards_by == "screws":
        return
    widest = measured(max(z.bead_mm for z in zones) / MM, "m", "beads, widest centres taken")
    beads = bead_strength.show(1, held.width, held.strength, widest)
    yield Interface("boards", "boards to VCL", "beads of adhesive", bond, beads)
    yield Interface("vcl", "VCL to deck", "its own adhesive", bond, *_vcl(build))


def _on_parapets(sides: tuple[Side, ...], found: Held, rise: Working) -> Working | None:
    """Work out the bond that the sheet needs on a parapet near a corner; None without one."""
    highest = max((s.parapet_height_mm or 0.0 for s in sides if s.kind == "parapet"), default=0.0)
    left = (highest - rise.value) / MM
    if left <= 0:
        return None
    _, _, c_p = parapet_zones(left)[0]
    return bond_needed.show(parapet_pull.show(found.q_p, c_p))


def _vcl(build: BuildUp) -> tuple[Known, bool]:
    """Tell what the VCL holds on the deck, and whether its maker says so."""
    if build.vcl.bond_kpa is not None:
        where = f"vcls[{build.vcl.name}].bond_kpa"
        return measured(build.vcl.bond_kpa * KILO, "Pa", where, build.basis), True
    if build.vcl.sticks:
        return fixing_practice.BOND_BITUMEN, False
    return vcl_practice.LOOSE_HOLDS_PA, False


def screw_lengths(
    build: BuildUp, chosen_mm: int, tapered_mm: tuple[float, ...]
) -> tuple[Working, Working]:
    """Work out the screws that reach, where the boards are thinnest and where thickest.

    Parameters
    ----------
    build : BuildUp
        The layers above the deck [mm].
    chosen_mm : int
        Insulation, all layers [mm].
    tapered_mm : tuple of float
        What tapered boards add at the corners [mm].

    Returns
    -------
    tuple of Working
        Least lengths [mm].
    """
    above = build.under_head_mm(chosen_mm)
    thin, thick = min(tapered_mm, default=0.0), max(tapered_mm, default=0.0)
    where = "boards, overlay and VCL, less the tube that sinks the head"
    return (
        least_screw_mm.show(measured(above + thin, "mm", where, build.basis), embedment_mm()),
        least_screw_mm.show(measured(above + thick, "mm", where, build.basis), embedment_mm()),
    )

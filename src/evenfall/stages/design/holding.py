"""What holds the boards at any thickness: suction by zone, screws and beads in each.

Shared by the wind room, which works the thickness taken, and by the rise stick, which works all.
"""

from __future__ import annotations

from math import floor
from typing import NamedTuple

from evenfall.calc.geometry.polygon import area
from evenfall.calc.loads.fixings import (
    bond_needed,
    design_resistance,
    fixings_for_wind,
    fixings_per_board,
    least_fixings,
)
from evenfall.calc.loads.pressure_coefficients import Coefficients, net_pressure
from evenfall.calc.loads.pull_out import pull_out
from evenfall.errors import InvalidInput
from evenfall.model.choice import BuildUp
from evenfall.model.designed import WindZone
from evenfall.model.job import Below, Deck, Side, Site
from evenfall.model.rates import Adhesive
from evenfall.model.surveyed import Plan, Ring
from evenfall.stages.design import suction
from evenfall.standards import en_1991_1_4 as en
from evenfall.standards import fixing_practice, take_off_practice
from evenfall.standards.pull_out_protocol import TESTS_LEAST
from evenfall.working import Cited, Known, Working, formula, measured

MM = 1000
KILO = 1000
STEP_MM = 10  # beads are set out on tens of millimetres
Boards = tuple[int, ...]
"""Boards from the deck up, in mm."""
EDGE_ZONES = ("F", "G")
PATTERN = {"F": "corner", "G": "perimeter", "H": "field", "I": "field"}


@formula("R_d", "N", "method in the form of ETAG 006", "from memory")
def governing_resistance(R_tested: float, R_declared: float) -> float:
    """Smaller of the resistances by test on the roof and as declared for the screw.

    Parameters
    ----------
    R_tested, R_declared : float
        Design values [N].

    Returns
    -------
    float
        Design value of one screw [N].

    Examples
    --------
    >>> governing_resistance(551.0, 400.0)
    400.0
    """
    return min(R_tested, R_declared)


@formula("s_max", "m", "geometry of the beads", "from memory")
def widest_centres(width: float, f: float, f_a: float) -> float:
    """Widest centres of beads that hold the bond over the whole area.

    Parameters
    ----------
    width : float
        Width of one bead when pressed [m].
    f, f_a : float
        Strength of the bead itself, bond to be held [Pa].

    Returns
    -------
    float
        Centres [m].

    Examples
    --------
    >>> widest_centres(0.020, 100000.0, 8000.0)
    0.25
    """
    return width * f / f_a


class Held(NamedTuple):
    """What holds boards of one thickness, and against what."""

    q_p: Working  # Pa
    h: Working  # m, the finished roof without its parapet
    z: Working  # m, reference height
    zones: tuple[WindZone, ...]
    bond: Working  # Pa
    centres: Working  # m, widest centres of beads
    table: tuple[Coefficients, ...]


class Holding:
    """Wind and fixings of one roof, at any thickness of board.

    Parameters
    ----------
    site : Site
        Map wind, altitude, terrain, sea, height of the roof [-].
    sides : tuple of Side
        Parapets [mm].
    deck : Deck
        Pull-out tests [N].
    build : BuildUp
        Board, screws and how the boards are held [-].
    plan : Plan
        The roof [m].
    adhesive : Adhesive
        Strength of the beads [kPa].
    below : Below
        Whether a wide door may let the wind in [-].
    beside_mm : float
        What the surface rises besides the boards, where it rises most: falls, overlay, VCL and
        sheet, less the old covering [mm].
    """

    def __init__(
        self, site: Site, sides: tuple[Side, ...], deck: Deck, build: BuildUp, plan: Plan,
        adhesive: Adhesive, below: Below, beside_mm: float,
    ) -> None:  # fmt: skip
        self.site, self.sides, self.build, self.plan = site, sides, build, plan
        self.beside_mm, self.north = beside_mm, suction.north_of(site, plan)
        self.c_pi = suction.inside(below.wide_door)
        self.width = _rate(adhesive.bead_mm / MM, "m", "bead_mm", build)
        self.strength = _rate(adhesive.strength_kpa * KILO, "Pa", "strength_kpa", build)
        self.resistance, self.scattered = _resistance(deck, build)

    def at(self, boards: Boards, rise: Known | Working | None = None) -> Held:
        """Give what holds boards; without the rise worked out, boards and what lies beside them."""
        if rise is None:
            rise = measured(sum(boards) + self.beside_mm, "mm", "boards and falls", "declared")
        h, z = suction.heights(self.site, self.sides, rise)
        q_p = suction.pressure(self.site, h, z)
        table = suction.table(self.site, self.sides, float(rise))
        c_pe = {c.zone: c.c_pe_1 for c in table}
        pulls: dict[str, tuple[en.Zone, Working]] = {}
        for pull, _ in suction.lay(self.plan.deck, h.value, self.north):
            q = suction.pressure_from(q_p, pull[1])
            pulls[suction.name_of(pull)] = pull[0], net_pressure.show(q, c_pe[pull[0]], self.c_pi)
        worst_first = sorted(pulls, key=lambda n: (pulls[n][1].value, n))
        bond = bond_needed.show(pulls[worst_first[0]][1])
        centres = widest_centres.show(self.width, self.strength, bond)
        laid = suction.divide(self.plan.deck, h.value, self.north, tuple(worst_first))
        zones = tuple(
            _zone(*pulls[name], ring, bond, centres, self.resistance, self.build, boards)
            for name, ring in laid
        )
        return Held(q_p, h, z, zones, bond, centres, table)

    def screws_per_m2(self, boards: Boards) -> float:
        """Screws over the whole roof, by the zones of the wind; none where boards are glued."""
        return screws_per_m2(self.at(boards).zones, self.build)

    def glued_m2(self, boards: Boards) -> float:
        """Glue of one face of one square metre, in square metres as at beads of 300 mm."""
        zones = self.at(boards).zones
        wide = take_off_practice.BEAD_REFERENCE_MM
        return float(
            sum(z.area_m2 * wide / z.bead_mm for z in zones) / sum(z.area_m2 for z in zones)
        )


def least_per_board(build: BuildUp, boards: Boards, edge: bool) -> tuple[Cited, ...]:
    """List the least number of screws in a whole board by every source.

    Parameters
    ----------
    build : BuildUp
        Its length and width [mm].
    boards : tuple of int
        Boards from the deck up; the sheet pulls on the uppermost [mm].
    edge : bool
        Whether the board lies at the edge of the roof [-].

    Returns
    -------
    tuple of Cited
        Numbers [-].
    """
    upper = boards[-1] if len(boards) > 1 else None
    size = (build.board.length_mm, build.board.width_mm, sum(boards))
    return least_fixings(*size, adhered=True, perimeter=edge, upper_mm=upper)


def screws_per_m2(zones: tuple[WindZone, ...], build: BuildUp) -> float:
    """Average the screws over the whole roof.

    Parameters
    ----------
    zones : tuple of WindZone
        Parts of the roof with their screws [-].
    build : BuildUp
        Board, and how it is held [-].

    Returns
    -------
    float
        Screws; none where boards are glued [1/m2].
    """
    if build.hold_boards_by == "adhesive":
        return 0.0
    board = build.board.length_mm * build.board.width_mm / MM**2
    return float(
        sum(z.per_board * z.area_m2 for z in zones) / sum(z.area_m2 for z in zones) / board
    )


def point_limit_mm(deck: Deck, cables: bool) -> float:
    """Give how deep below the top of the deck the point of a screw may end.

    Parameters
    ----------
    deck : Deck
        Its thickness [mm].
    cables : bool
        Whether cables lie in the void [-].

    Returns
    -------
    float
        Depth [mm].
    """
    practice = fixing_practice
    beyond = practice.BEYOND_DECK_MOST_MM if cables else practice.BEYOND_DECK_CLEAR_MM
    return deck.thickness_mm + beyond


def _rate(value: float, unit: str, key: str, build: BuildUp) -> Known:
    return measured(value, unit, f"adhesive.{key}", build.basis)


def _zone(
    zone: en.Zone,
    pressure: Working,
    ring: Ring,
    bond: Working,
    centres: Working,
    resistance: Working,
    build: BuildUp,
    boards: Boards,
) -> WindZone:
    """Put screws and beads to one part of the roof."""
    board = build.board
    size = measured(board.length_mm * board.width_mm / MM**2, "m2", board.name, build.basis)
    asked = fixings_for_wind.show(pressure, size, resistance)
    least = least_per_board(build, boards, zone in EDGE_ZONES)
    pattern = fixing_practice.BEAD_CENTRES[PATTERN[zone]] * MM
    bead = min(round(pattern), max(STEP_MM, floor(centres.value * MM / STEP_MM) * STEP_MM))
    return WindZone(
        zone, ring, area(ring), pressure, fixings_per_board(asked, least).number, bead, bond.value
    )


def _resistance(deck: Deck, build: BuildUp) -> tuple[Working, bool]:
    """Take the smaller of test and declared value; tell whether the tests scatter too much."""
    declared = measured(
        build.screw.design_resistance_n, "N", "screw.design_resistance_n", build.basis
    )
    alone = governing_resistance.show(declared, declared)
    if len(deck.pull_outs_n) < TESTS_LEAST:
        return alone, False
    try:
        tested = design_resistance.show(pull_out(deck.pull_outs_n))
    except InvalidInput:
        return alone, True
    return governing_resistance.show(tested, declared), False

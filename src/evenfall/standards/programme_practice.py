"""What keeps a roof dry while it is open: the night rules, weather gates, days, hold points.

Practice of careful flat roofers; outputs are not here but in the firm's rates. Seeds are for the
firm to overwrite from its own log.
"""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.working import Basis, Cited

PRACTICE = "practice of flat roofing"
FEDERATION = "a page repeating a trade federation's limits"
SUPPLIER = "a UK system supplier's page"


def _seed(value: float, unit: str, where: str) -> Cited:
    return Cited(value, unit, PRACTICE, where, "planning seed")


# what may be opened, and how it is closed
SEAL_MARGIN = _seed(60, "min", "open no more than is sealed within; left before dusk")
PLANNED_FOR = _seed(0.9, "-", "share of days on which a piece of work takes no longer than planned")
"""Of what keeps the rain out, piece by piece, between low, typical and high hours. The pieces of a
day are added up as if one bad day slowed them all, so that the day as a whole holds more often."""
SMALLEST_BAY = _seed(0.6, "m", "depth below which a bay is not worth a night line")
MARKED_TO = _seed(0.1, "m", "night lines are set out to")
NIGHT_LAP = _seed(0.15, "m", "night line sealed on each side of it, clear of any kerb or pipe")
OUTLOOK = _seed(28, "d", "bays are sized for the earliest dusk within")
EVENING_GAP_HEAD = _seed(25, "mm", "depth of water in the gap of the edge timber")
OUTLET_REACH = _seed(1, "m", "up the fall from where water stands, an outlet still takes it")
LAYERS_OF_ONE_SYSTEM = _seed(3, "-", "layers of felt; more is a second system")
WHOLE_DECK = _seed(100, "%", "share at which the deck is lifted and laid new")
ENDS_REPAIRED = {
    "soft": _seed(1 / 4, "-", "share of the joist ends repaired, where they are soft"),
    "rotten": _seed(1 / 2, "-", "share of the joist ends repaired, where they are rotten"),
}
DOOR = _seed(1, "m", "width of a door that was not measured")

# boards and the sheet over them in one day
ONE_DAY_TWO = _seed(30, "m2", "boards and sheet in one day, two people: 25 to 30")
ONE_DAY_THREE = _seed(40, "m2", "boards and sheet in one day, three people: about 40")
LOOSE_SHARE = _seed(0.3, "-", "share of the field's hours to unroll, trim and weight a sheet loose")
RELAX = _seed(0.5, "h", "the sheet lies before it is bonded, at least; longer is better")
PUSH_SHARE = _seed(0.12, "-", "share of the field's hours to push it free of air")
SECOND_PASS_SHARE = _seed(0.08, "-", "share of the field's hours to push it a second time")
SECOND_PASS_AFTER = _seed(1, "h", "between pushing the sheet free of air and the second pass")
WASH_SHARE = _seed(0.25, "-", "share of the hours of clearing up to wash the roof down")
UNTRODDEN = _seed(12, "h", "the bonded sheet is left alone: overnight; 24 h where it can be")
COAT_DRIES = Cited(16, "h", PRACTICE, "between coats of paint outdoors, overnight", "from memory")
SHEET_HANDS = _seed(2, "-", "people who lay a sheet, whatever it weighs")

# weather gates
STILL_COLD = _seed(24, "h", "hours after bonding with nothing below the coldest")
PAINT_COLDEST = Cited(8, "degC", PRACTICE, "paint, air and surface", "from memory")
DRY_WINDOW_EXTRA = _seed(2, "h", "dry window beyond the hours of strip and VCL")
RAIN_CHANCE = _seed(20, "%", "chance of rain in that window, at most: 20 to 30")
RAIN_CHANCE_MOST = _seed(30, "%", "chance of rain in that window, never above")
BOND_COLDEST = Cited(
    5, "degC", SUPPLIER, "adhesive, now and for the next 24 hours", "published, second-hand"
)
DEW_MARGIN = Cited(3, "K", PRACTICE, "surface above the dew point", "from memory")
WIND_HANDLE = Cited(
    17, "mph", FEDERATION, "mean wind; no rolls, sheets or large boards", "published, second-hand"
)
WIND_STOP = Cited(23, "mph", FEDERATION, "mean wind; stop laying", "published, second-hand")
MILE_AN_HOUR = Cited(0.44704, "m/s", "definition of the mile, 1609.344 m", "-", "from memory")
LAST_BOND = _seed(2, "h", "last bond before the surface nears the dew point")
WET_DAY = Cited(1, "mm", "climate summaries of weather services", "a wet day", "from memory")

# days in reserve for wet, January first
_WINTER = _seed(1 / 3, "-", "reserve, winter: 1 day in 3")
_BETWEEN = _seed(1 / 4, "-", "reserve: 1 day in 4")
_SUMMER = _seed(1 / 6, "-", "reserve, summer: 1 day in 6")
WET_RESERVE = (
    _WINTER, _WINTER, _BETWEEN, _BETWEEN, _BETWEEN, _SUMMER,
    _SUMMER, _SUMMER, _BETWEEN, _BETWEEN, _BETWEEN, _WINTER,
)  # fmt: skip
MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class HoldPoint:
    """A point at which work stops until somebody has looked.

    Parameters
    ----------
    number : int
        From 0 to 9 [-].
    when, passes : str
        When it is due, and what must be true [-].
    source, basis : str
        Where it is from [-].
    """

    number: int
    when: str
    passes: str
    source: str = PRACTICE
    basis: Basis = "planning seed"


HOLD_POINTS = (
    HoldPoint(0, "before the first cut", "access signed off, rooms and glass covered, dry window, "
              "covers on the roof, asbestos result in hand"),
    HoldPoint(1, "deck bare", "20 % moisture or less (18 to 20: read again), soft areas marked and "
              "counted, screws at 300 mm or closer, every defect photographed before it is mended"),
    HoldPoint(2, "vents closed, edge timbers on", "no daylight, no draught, heights within 3 mm of "
              "the plan, falls of the firrings checked"),
    HoldPoint(3, "VCL down", "laps rolled, no open fold, turn-ups higher than the boards will be, "
              "pipes sealed: ready for the night"),
    HoldPoint(4, "boards down", "joints staggered, gaps over 6 mm filled, steps 3 mm or less, no "
              "sliver at the edge, beads or screws counted, boards knocked"),
    HoldPoint(5, "before the sheet", "dry, swept, 5 degrees and 3 above the dew point, the sheet "
              "relaxed 30 minutes or more"),
    HoldPoint(6, "sheet bonded", "no blister, edges trimmed, overhang held down"),
    HoldPoint(7, "seams and details", "every edge probed; patches at crossings, corners, pipes"),
    HoldPoint(8, "edges and gutter", "gaps in trims, fall of the gutter, flow at the outlet, "
              "overflow"),
    HoldPoint(9, "finish", "falls checked with water, site clean, gutters clear, snag list"),
)  # fmt: skip

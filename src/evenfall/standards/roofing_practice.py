"""What careful roofers do, where no document stands behind it."""

from __future__ import annotations

from evenfall.working import Cited

_HOUSE = "roofing practice"

KERB_TIMBER = Cited(0.047, "m", _HOUSE, "thickness of a rooflight kerb", "planning seed")
MEMBRANE_ALLOWED = Cited(2, "mm", _HOUSE, "membrane in a height budget", "common practice")
OUT_OF_SQUARE = Cited(0.05, "m", _HOUSE, "diagonals, difference worth saying", "common practice")
QUILT_LAMBDA = Cited(0.04, "W/(m K)", "ISO 10456", "mineral wool quilt", "from memory")
STRAWBOARD_LAMBDA = Cited(0.10, "W/(m K)", _HOUSE, "compressed straw slab", "from memory")
STRAWBOARD_MU = Cited(5, "-", _HOUSE, "compressed straw slab", "from memory")
WOODWOOL_LAMBDA = Cited(0.09, "W/(m K)", _HOUSE, "wood-wool cement slab", "from memory")
DEGREE_DAY_BASE = Cited(15.5, "C", "British degree days", "base temperature", "common practice")
TIMBER_COVER = Cited(18, "%", _HOUSE, "timber moisture: cover", "from memory")
TIMBER_DRY_OUT = Cited(20, "%", _HOUSE, "timber moisture: do not seal in", "from memory")
TIMBER_REPLACE = Cited(28, "%", _HOUSE, "timber moisture: replace", "from memory")
UPSTAND = Cited(
    150, "mm", "BS 6229:2018, trade columns on it", "upstand above the finished surface",
    "published, second-hand",
)  # fmt: skip
UPSTAND_AT_DOOR = Cited(
    75, "mm", "single-ply guidance, a membrane maker's page",
    "door threshold with a drained channel", "published, second-hand",
)  # fmt: skip
DOOR_REVEAL = Cited(
    150, "mm", "single-ply guidance, a membrane maker's page",
    "sheet up the reveals and the wall beside a low threshold", "published, second-hand",
)  # fmt: skip
DOOR_GAP = Cited(
    10, "mm", "single-ply guidance, a membrane maker's page",
    "gap between the door frame and its channel", "published, second-hand",
)  # fmt: skip
OVERFLOW_OVER = Cited(
    0, "mm", _HOUSE, "lower edge of an overflow over the finished surface", "common practice"
)
OVERFLOW_UNDER = Cited(
    0, "mm", _HOUSE, "an overflow runs before water comes in at a threshold", "common practice"
)
ZONE_PONDS = Cited(1, "mm", _HOUSE, "water that a step in the boards holds back", "planning seed")
WINDOW_ANSWERED = Cited(
    2, "each", _HOUSE, "before a sash is fixed: the way out in a fire, and the airing",
    "common practice",
)  # fmt: skip
FLUE_ABOVE_ROOF = Cited(
    300, "mm", "Approved Document J, flue outlets", "terminal above a flat roof",
    "published, second-hand",
)  # fmt: skip
SASH_CLEAR = Cited(25, "mm", _HOUSE, "sash swinging clear of the finished surface", "planning seed")
WINDOW_OPENS = Cited(
    100, "%", _HOUSE, "a window that people depend on opens as wide as before", "planning seed"
)
CABLE_CLEAR = Cited(150, "mm", _HOUSE, "cable clear of the finished surface", "planning seed")
MARGIN_TIGHT = Cited(
    10, "mm", _HOUSE, "margin below which levels are checked again", "planning seed"
)
HYBRID_SHARE = Cited(
    1 / 3, "-", "BS 5250:2021", "share of resistance on the warm side of the VCL", "from memory"
)
QUILT_WET = Cited(0, "-", _HOUSE, "wet quilt left under the deck", "planning seed")
SKY_COOLING = Cited(
    2, "K", _HOUSE, "test offset for a clear sky, from no standard", "planning seed"
)
VENTS_LEFT = Cited(0, "each", _HOUSE, "old vents left open in a warm roof", "from memory")
WALL_HEAD_LEFT = Cited(0, "mm", _HOUSE, "open slot at the wall head", "common practice")

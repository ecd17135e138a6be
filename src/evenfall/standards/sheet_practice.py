"""Rules on the rubber sheet: allowances at the edges, laps, factory tolerances, lifting, rest.

Two figures for what two people lift stand side by side, because they disagree: the planning figure
of the trade and the filter of the Health and Safety Executive.
"""

from __future__ import annotations

from evenfall.working import Basis, Cited

PRACTICE = "practice of single-ply roofing"
DISTRIBUTOR = "a distributor's data page"
EN_13956 = "EN 13956"
HSE = "HSE L23, INDG143"


def _allowance(value: float, where: str) -> Cited:
    return Cited(value, "mm", PRACTICE, f"allowance at the edges: {where}", "planning seed")


def _cited(value: float, unit: str, source: str, where: str, basis: Basis) -> Cited:
    return Cited(value, unit, source, where, basis)


# allowances at the edges
DRIP_DRESS_MM = _allowance(75.0, "drip, dressed down")
DRIP_HANDLING_MM = _allowance(75.0, "drip, handling")
DRIP_ALLOWANCE_MM = _allowance(150.0, "drip, dress and handling")
KERB_ALLOWANCE_MM = _allowance(240.0, "kerb")
KERB_USUAL_MM = _allowance(75.0, "height of the kerb that the allowance is for")
WALL_UPSTAND_MM = _allowance(150.0, "wall, upstand")
WALL_EXTRA_MM = _allowance(100.0, "wall, over the upstand")
WALL_ALLOWANCE_MM = _allowance(250.0, "wall, upstand and extra")
PARAPET_TOP_MM = _allowance(150.0, "parapet, over its top under the capping")
HANDLING_MM = _cited(
    150.0, "mm", DISTRIBUTOR, "extra at upstands, cut off later", "published, second-hand"
)

# laps
SEAM_LAP_MM = _cited(100.0, "mm", DISTRIBUTOR, "seam made on site", "published, second-hand")
SEAM_LAP_BATTEN_MM = _cited(
    200.0, "mm", DISTRIBUTOR, "seam with a batten", "published, second-hand"
)
SEAM_TAPE_MM = _cited(75.0, "mm", DISTRIBUTOR, "tape of a seam", "published, second-hand")
SEAM_FROM_OUTLET_MM = _cited(
    300.0, "mm", PRACTICE, "seam clear of an outlet, at least", "planning seed"
)
SEAM_COUNTS_AS = _cited(
    1.2, "m2/m", "Evenfall", "sheet that a metre of seam costs as much as: tape, primer, sealant, "
    "a quarter of an hour", "planning seed",
)  # fmt: skip

# factory tolerances, as shares of the nominal size
LENGTH_SHORT = _cited(0.0, "-", EN_13956, "length, below the nominal", "from memory")
LENGTH_OVER = _cited(0.05, "-", EN_13956, "length, above the nominal", "from memory")
WIDTH_SHORT = _cited(0.005, "-", EN_13956, "width, below the nominal", "from memory")
WIDTH_OVER = _cited(0.01, "-", EN_13956, "width, above the nominal", "from memory")
THICKNESS_UNDER = _cited(0.05, "-", EN_13956, "thickness, below the nominal", "from memory")
THICKNESS_OVER = _cited(0.10, "-", EN_13956, "thickness, above the nominal", "from memory")
STABILITY = _cited(0.005, "-", "EN 1107-2", "typical declared dimensional change", "from memory")

# stock, as sold (sizes in feet, rounded); editable
STOCK_WIDTHS_MM = tuple(
    _cited(width, "mm", PRACTICE, "stock widths", "from memory")
    for width in (1500.0, 3050.0, 6100.0, 7620.0, 9150.0, 12200.0, 15250.0)
)
STOCK_LENGTHS_MM = tuple(
    _cited(length, "mm", PRACTICE, "longest lengths", "from memory")
    for length in (15000.0, 30000.0, 61000.0)
)
CUT_STEP_MM = _cited(100.0, "mm", PRACTICE, "steps in which merchants cut, least", "from memory")
CUT_STEP_COARSE_MM = _cited(
    500.0, "mm", PRACTICE, "steps in which merchants cut, most", "from memory"
)
MASS_THIN_KG_M2 = _cited(1.4, "kg/m2", PRACTICE, "sheet of 1.1 to 1.2 mm", "from memory")
MASS_THICK_KG_M2 = _cited(1.9, "kg/m2", PRACTICE, "sheet of 1.5 mm", "from memory")

# lifting
TWO_PEOPLE_CARRY_KG = _cited(50.0, "kg", PRACTICE, "what two people carry", "planning seed")
LIFT_MAN_KG = _cited(25.0, "kg", HSE, "filter at knuckle height, a man", "from memory")
LIFT_WOMAN_KG = _cited(16.0, "kg", HSE, "filter at knuckle height, a woman", "from memory")
SHARE_OF_TWO = _cited(2 / 3, "-", HSE, "two people: share of the sum", "from memory")
SHARE_OF_THREE = _cited(1 / 2, "-", HSE, "three people: share of the sum", "from memory")

# rest before bonding
RELAXATION_MIN = _cited(
    30.0, "min", "merchants', supplier's and distributor's pages", "rest before bonding",
    "published, second-hand",
)  # fmt: skip
RELAXATION_WARM_MIN = _cited(
    15.0, "min", "merchants', supplier's and distributor's pages", "rest when it is warm",
    "published, second-hand",
)  # fmt: skip

"""What the parts of a flat roof weigh: remembered figures, until somebody puts them on a scale."""

from __future__ import annotations

from evenfall.working import Cited

_TRADE = "trade figures"
_OWN = "Evenfall"

SAMPLE_M2 = Cited(0.09, "m2", _TRADE, "sample of 300 by 300 mm", "common practice")

DECK_KG_M3 = {
    "osb": Cited(640.0, "kg/m3", _TRADE, "OSB, 18 mm at 11.5 kg/m2", "from memory"),
    "plywood": Cited(610.0, "kg/m3", _TRADE, "plywood, 18 mm at 11 kg/m2", "from memory"),
    "planks": Cited(500.0, "kg/m3", _TRADE, "softwood boards", "from memory"),
    "chipboard": Cited(700.0, "kg/m3", _TRADE, "chipboard", "from memory"),
    "strawboard": Cited(350.0, "kg/m3", _TRADE, "compressed straw", "from memory"),
    "woodwool": Cited(500.0, "kg/m3", _TRADE, "wood-wool slab", "from memory"),
}
OVERLAY_KG_M3 = DECK_KG_M3["osb"]
PLASTERBOARD_KG_M3 = Cited(700.0, "kg/m3", _TRADE, "plasterboard and fixings", "from memory")
QUILT_KG_M3 = Cited(20.0, "kg/m3", _TRADE, "quilt, dry: 2 kg/m2 for 100 mm", "planning seed")
QUILT_WET_KG_M3 = Cited(100.0, "kg/m3", _TRADE, "quilt, wet: 10 kg/m2 for 100 mm", "planning seed")
ADHESIVE_KG_M2 = Cited(
    0.5, "kg/m2", _TRADE, "board and sheet adhesive: 0.3 to 0.5", "planning seed"
)

NIGHT_WATER_MM = Cited(25.0, "mm", _OWN, "rain held by a night's cover that sags", "planning seed")
STACK_BOARDS = Cited(
    10.0, "each", _OWN, "boards of one pack, laid down as it came", "planning seed"
)
"""A pack holds 2 to 10 boards; the largest is taken."""

SAG_PART = Cited(200.0, "-", "survey practice", "sag: span divided by", "common practice")
WIDE_SPACING_MM = Cited(600.0, "mm", "survey practice", "under a deck of 18 mm", "common practice")
WIDE_DECK_MM = Cited(18.0, "mm", "survey practice", "deck on joists at 600 mm", "from memory")
SPAN_BANDS_PA = tuple(
    Cited(pascal, "Pa", "Approved Document A (1992), Table A17", "dead load up to", "from memory")
    for pascal in (500.0, 750.0, 1000.0)
)
FIRRING_KG_M3 = Cited(420.0, "kg/m3", "EN 338:2016", "C24, mean density", "published, second-hand")
IN_FULL = Cited(1.0, "-", "Evenfall", "a few nights: pack and water both in full", "planning seed")
BEARING = Cited(0.05, "m", "Evenfall", "bearing of a joist, not measured", "planning seed")

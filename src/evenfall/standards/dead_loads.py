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

NIGHT_RAIN_MM = Cited(25.0, "mm", _OWN, "rain of a wet night", "planning seed")
NIGHT_HEAD_MM = Cited(25.0, "mm", _OWN, "water that stands at an open way out", "planning seed")
STACK_BOARDS = Cited(
    10.0, "each", _OWN, "boards of one pack, laid down as it came", "planning seed"
)
"""A pack holds 2 to 10 boards; the largest is taken."""
STACK_HIGHEST_M = Cited(1.0, "m", _OWN, "boards on each other, no higher", "planning seed")
"""Higher, a stack tips and catches the wind."""
SANDBAGS_KG_M = Cited(
    15.0, "kg/m", _OWN, "edge of a night's cover: a bag of 15 kg to the metre", "planning seed"
)
LEFT_OVERNIGHT = Cited(
    200.0, "Pa", "EN 1991-1-6", "4.11.1, rolls and tools that are moved, q_cb", "from memory"
)

SAG_PART = Cited(200.0, "-", "survey practice", "sag: span divided by", "common practice")
SPAN_BANDS_PA = tuple(
    Cited(pascal, "Pa", "Approved Document A (1992), Table A17", "dead load up to", "from memory")
    for pascal in (500.0, 750.0, 1000.0)
)
FIRRING_KG_M3 = Cited(420.0, "kg/m3", "EN 338:2016", "C24, mean density", "published, second-hand")
IN_FULL = Cited(1.0, "-", "Evenfall", "a few nights: pack and water both in full", "planning seed")
NOTHING_ELSE = Cited(0.0, "Pa", "Evenfall", "the boards themselves are counted", "planning seed")
PONDING_MOST = Cited(
    0.95,
    "-",
    "Evenfall",
    "C from which a roof is taken to sink twentyfold, and stops",
    "planning seed",
)
BEARING = Cited(0.05, "m", "Evenfall", "bearing of a joist, not measured", "planning seed")

GLASS_KG_M2 = Cited(30.0, "kg/m2", _TRADE, "rooflight, double glass and frame", "from memory")
KERB_KG_M = Cited(8.0, "kg/m", _TRADE, "timber kerb with its sheet and trim", "planning seed")
KERB_WIDTH = Cited(0.047, "m", _OWN, "timber of a kerb, where it bears", "planning seed")
LASTING_SHARE = Cited(
    0.25, "-", "board makers' guides", "lasting load, share of the stress at 10 %", "from memory"
)
"""Rigid boards creep: what lies on them for good gets a share of the quick test's stress."""

DECK_SPANS_MM: dict[str, tuple[tuple[float, Cited], ...]] = {
    kind: tuple(
        (mm, Cited(span, "mm", _TRADE, f"{kind}, {mm:.0f} mm thick, joists at", "from memory"))
        for mm, span in rows
    )
    for kind, rows in {
        "osb": ((15.0, 450.0), (18.0, 600.0), (22.0, 800.0)),
        "plywood": ((15.0, 450.0), (18.0, 600.0), (21.0, 800.0)),
        "chipboard": ((18.0, 450.0), (22.0, 600.0)),
        "planks": ((16.0, 450.0), (19.0, 500.0), (22.0, 600.0)),
        "strawboard": ((50.0, 600.0),),
        "woodwool": ((50.0, 600.0),),
    }.items()
}
"""Thickness from which, and how far apart the joists may then be."""

"""Rules on insulation boards: sizes, pattern, smallest pieces, joints, cutting.

The laying guides are European and British guides for rigid foam (PIR) boards on flat roofs; where a
rule is only remembered, or is a seed of our own until the firm's log replaces it, its basis says
so.
"""

from __future__ import annotations

from evenfall.working import Cited

UK_GUIDE = "UK laying guide for PIR boards"
EUROPEAN_GUIDE = "European laying guide for PIR boards"
PRACTICE = "practice of flat roofing"
OWN_SEED = "Evenfall"

# sizes
BOARD_SIZES_MM = tuple(
    (
        Cited(length, "mm", PRACTICE, "sizes of boards", "from memory"),
        Cited(width, "mm", PRACTICE, "sizes of boards", "from memory"),
    )
    for length, width in ((1200.0, 600.0), (1200.0, 1200.0), (2400.0, 1200.0))
)
THINNEST_MM = Cited(20.0, "mm", PRACTICE, "thickness of boards", "from memory")
THICKEST_MM = Cited(160.0, "mm", PRACTICE, "thickness of boards", "from memory")
TWO_LAYERS_ABOVE_MM = Cited(120.0, "mm", PRACTICE, "boards in two layers", "from memory")

# pattern
SMALLEST_STAGGER_MM = Cited(
    300.0, "mm", PRACTICE, "smallest shift of end joints in a bond", "from memory"
)
LAYER_OFFSET_MM = Cited(
    200.0,
    "mm",
    PRACTICE,
    "offset of joints between layers, both directions, at least",
    "from memory",
)
LAYER_OFFSET_BETTER_MM = Cited(
    300.0, "mm", PRACTICE, "offset of joints between layers, both directions, better", "from memory"
)
SMALLEST_PERIMETER_PIECE_MM = Cited(
    300.0, "mm", EUROPEAN_GUIDE, "a smaller piece only in the middle of the roof", "published"
)
SMALLEST_PIECE_MM = Cited(
    150.0, "mm", OWN_SEED, "smallest piece anywhere, so that it can be fixed", "planning seed"
)

# laying
LARGEST_STEP_MM = Cited(3.0, "mm", EUROPEAN_GUIDE, "step between board edges", "published")
LARGEST_OVERHANG_MM = Cited(
    110.0, "mm", EUROPEAN_GUIDE, "overhang beyond a support, boards of 50 mm or more", "published"
)
OVERHANG_NEEDS_THICKNESS_MM = Cited(
    50.0, "mm", EUROPEAN_GUIDE, "thickness that the overhang of 110 mm asks for", "published"
)
GAP_TO_FILL_MM = Cited(
    6.5,
    "mm",
    "a merchant's page on surface preparation",
    "gaps to be foamed",
    "published, second-hand",
)
WALL_STRIP_THICKNESS_MM = Cited(
    25.0, "mm", UK_GUIDE, "strip standing against perimeter walls and kerbs", "published"
)
SHEET_ABOVE_INSULATION_MM = Cited(
    150.0, "mm", UK_GUIDE, "waterproofing above the top of the insulation", "published"
)
LARGEST_GLUED_M2 = Cited(
    2.88, "m2", "an insulation supplier's article on bonding", "largest board for gluing",
    "published, second-hand",
)  # fmt: skip
FLATNESS_MM = Cited(
    5.0, "mm", PRACTICE, "deck under a 2 m straight-edge, for gluing", "from memory"
)
FLATNESS_SCREWED_MM = Cited(
    10.0, "mm", PRACTICE, "deck under a 2 m straight-edge, for screws", "planning seed"
)

# cutting
KERF_MM = Cited(4.0, "mm", OWN_SEED, "width of a saw cut in rigid foam", "planning seed")
WASTE_LEAST = Cited(0.05, "-", PRACTICE, "what a cutting plan typically shows", "planning seed")
WASTE_MOST = Cited(0.12, "-", PRACTICE, "what a cutting plan typically shows", "planning seed")
WASTE_IRREGULAR = Cited(0.15, "-", PRACTICE, "irregular roofs", "planning seed")

# lengths (trims, fascia, gutter)
METAL_KERF_MM = Cited(3.0, "mm", OWN_SEED, "width of a saw cut in trims", "planning seed")
TIMBER_KERF_MM = Cited(4.0, "mm", OWN_SEED, "width of a saw cut in timber", "planning seed")

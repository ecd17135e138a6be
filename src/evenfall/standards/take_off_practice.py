"""What a take-off counts by: spacings, small areas and loose bulk, where no document says it."""

from __future__ import annotations

from evenfall.working import Cited

_SEED = "take-off practice"

TURN_OVER_MM = Cited(60, "mm", _SEED, "VCL past the top of the insulation", "planning seed")
BEAD_REFERENCE_MM = Cited(300, "mm", _SEED, "bead centres that a tin's yield is for", "common practice")  # fmt: skip # noqa: E501
TIMBER_SCREW_SPACING = Cited(0.3, "m", _SEED, "edge timber, screws, staggered", "from memory")
TIMBER_PLANE_MM = Cited(6, "mm", _SEED, "edge timber planed down to the boards, at most", "planning seed")  # fmt: skip # noqa: E501
KERB_OVER_MM = Cited(25, "mm", _SEED, "rooflight kerb higher than it must be, at most", "planning seed")  # fmt: skip # noqa: E501
FIRRING_NARROWER_MM = Cited(5, "mm", _SEED, "firring narrower than its joist, at most", "planning seed")  # fmt: skip # noqa: E501
TRIM_SCREWS_PER_M = Cited(5, "1/m", _SEED, "trims, screws at 200 mm", "from memory")
GUTTER_BRACKETS = Cited(0.8, "m", _SEED, "gutter brackets, at most", "common practice")
PIPE_CLIPS = Cited(1.8, "m", _SEED, "clips of a downpipe, at most", "common practice")
BRACKET_SCREWS = Cited(2, "each", _SEED, "screws of a gutter bracket or a pipe clip", "common practice")  # fmt: skip # noqa: E501
FITTINGS = Cited(1, "each", _SEED, "a fitting at each joint, corner and end", "common practice")
DECK_SCREW_PER_M2 = Cited(16, "1/m2", _SEED, "deck board, screws at 300 mm", "planning seed")
JOIST_END_M2 = Cited(0.25, "m2", _SEED, "surface treated at one joist end", "planning seed")
TIMBER_END_M2 = Cited(0.02, "m2", _SEED, "brushed at one sawn end of treated timber", "planning seed")  # fmt: skip # noqa: E501
GROUND_BESIDE = Cited(1.5, "m", _SEED, "ground protected along an edge, wide", "planning seed")
LEAST_END_PIECE = Cited(300, "mm", _SEED, "shortest piece at the end of a run", "planning seed")
PIECE_LIFT_M = Cited(4.0, "m", _SEED, "a length that one person does not carry alone", "planning seed")  # fmt: skip # noqa: E501
DOOR_WIDTH = Cited(1.0, "m", _SEED, "door whose width was not measured", "planning seed")
COVER_BEYOND = Cited(1.5, "m", _SEED, "night cover beyond the bay, all round", "planning seed")
KERB_ABOVE_SURFACE = Cited(0.15, "m", _SEED, "kerb above the finished surface", "published, second-hand")  # fmt: skip # noqa: E501
FASCIA_THICK_MM = Cited(20, "mm", _SEED, "fascia board whose thickness is not told", "common practice")  # fmt: skip # noqa: E501
FASCIA_COVER_MM = Cited(10, "mm", _SEED, "fascia below the old lower edge", "planning seed")
FASCIA_LAP_MM = Cited(25, "mm", _SEED, "upper fascia board over the lower", "planning seed")
SOFFIT_LEAST_MM = Cited(40, "mm", _SEED, "narrower overhangs are closed by the fascia's batten", "planning seed")  # fmt: skip # noqa: E501
FASCIA_FIXED = Cited(0.6, "m", _SEED, "fascia and soffit fixed at each joist end, at most", "common practice")  # fmt: skip # noqa: E501
FASCIA_FIXINGS = Cited(2, "each", _SEED, "fixings of a fascia or soffit at each place", "common practice")  # fmt: skip # noqa: E501
FIRRING_FIXED = Cited(0.6, "m", _SEED, "firring screwed to its joist, at most", "common practice")
FIRRING_SCREWS = Cited(2, "each", _SEED, "screws of a firring at each place, one from either side", "planning seed")  # fmt: skip # noqa: E501
BATTEN_FIXED = Cited(0.4, "m", _SEED, "batten screwed to wall or fascia, at most", "common practice")  # fmt: skip # noqa: E501
CHASE_WEDGES = Cited(0.45, "m", _SEED, "cover flashing wedged in its chase, at most", "common practice")  # fmt: skip # noqa: E501
PACKING_FOAM = Cited(2, "each", _SEED, "joints of a wall-head packing that are foamed, along it and up it", "planning seed")  # fmt: skip # noqa: E501
FELT_BAG_KG = Cited(20, "kg", _SEED, "bag of felt, at most", "planning seed")
PATCHES_PER_SEAM = Cited(2, "each", _SEED, "T-joints of one seam", "common practice")

FELT_LAYERS = Cited(3, "each", _SEED, "layers of one felt system, at most", "common practice")
FELT_BULK = Cited(350, "kg/m3", _SEED, "old felt, loose", "planning seed")
DECK_BULK_FACTOR = Cited(2.1, "-", _SEED, "broken deck, loose over solid", "planning seed")
QUILT_BULK_FACTOR = Cited(1.2, "-", _SEED, "quilt, loose over laid", "planning seed")
EDGE_KG_M = Cited(2.5, "kg/m", _SEED, "old fascia, trim and flashing", "planning seed")
EDGE_BULK_M3_M = Cited(0.012, "m3/m", _SEED, "old fascia and trims, loose", "planning seed")
LARGEST_SKIP_M3 = Cited(6.1, "m3", _SEED, "heavy waste: 8 cubic yards at most", "common practice")

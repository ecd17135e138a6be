"""Rules on the vapour control layer: laps, turn-ups, gaps it spans, rolls, weather.

The kind meant, unless a name says otherwise, is the self-adhesive bitumen sheet faced with
aluminium, which also serves as the roof of the night. The data sheet of the product used comes
first.
"""

from __future__ import annotations

from evenfall.working import Basis, Cited

PRACTICE = "practice of flat roofing"
EUROPEAN_GUIDE = "European laying guide for PIR flat-roof boards"
OWN_SEED = "Evenfall"


def _cited(
    value: float, unit: str, where: str, basis: Basis = "from memory", source: str = PRACTICE
) -> Cited:
    return Cited(value, unit, source, where, basis)


# laps of the self-adhesive sheet
SIDE_LAP_MM = _cited(80.0, "mm", "side lap, rolled: 75 to 80")
SIDE_LAP_LEAST_MM = _cited(75.0, "mm", "side lap, rolled, least")
END_LAP_MM = _cited(150.0, "mm", "end lap: 100 to 150")
END_LAP_LEAST_MM = _cited(100.0, "mm", "end lap, least")

# laps of the others
POLYTHENE_LAP_MM = _cited(150.0, "mm", "polythene, taped, as new-home warranty rules ask")
POLYTHENE_LAP_LEAST_MM = _cited(100.0, "mm", "polythene, lap at least", "published", EUROPEAN_GUIDE)
REINFORCED_LAP_MM = _cited(150.0, "mm", "aluminium-polythene, taped: 100 to 150")
TORCHED_SIDE_LAP_MM = _cited(100.0, "mm", "torched bitumen, side: 75 to 100")
TORCHED_END_LAP_MM = _cited(150.0, "mm", "torched bitumen, end")

LOOSE_HOLDS_PA = _cited(0.0, "Pa", "bond to the deck of a VCL that is only taped at its laps")

# turn-ups
TURN_UP_MM = _cited(
    200.0, "mm", "turn-up of the reference roof; it must pass the insulation", "planning seed"
)

# what it spans unsupported
GAP_SAFE_MM = _cited(5.0, "mm", "joint in the deck spanned unsupported, safely")
GAP_MOST_MM = _cited(10.0, "mm", "joint in the deck spanned unsupported, at most")
GAP_STRONG_MM = _cited(125.0, "mm", "joint spanned by a strong reinforced kind", "common practice")
PATCH_WIDTH = _cited(
    0.3, "m", "deck patched along a joint that gapes: width", "planning seed", OWN_SEED
)
TROUGH_MOST_MM = _cited(100.0, "mm", "trough of a metal deck, reinforced grades")

# rolls; editable
ROLL_WIDTH_MM = _cited(1080.0, "mm", "width of a roll: 1080 to 1100", "planning seed")
ROLL_LENGTHS_MM = (
    _cited(15000.0, "mm", "length of a roll, short", "planning seed"),
    _cited(20000.0, "mm", "length of a roll of the reference roof", "planning seed"),
    _cited(30000.0, "mm", "length of a roll, long", "planning seed"),
)
WASTE = _cited(0.05, "-", "waste beside laps and turn-ups", "planning seed")
SHORTEST_PIECE_MM = _cited(
    1000.0, "mm", "a shorter rest of a roll is not laid", "planning seed", OWN_SEED
)

# primer, weather, service as the roof of the night
PRIMER_LEAST_L_M2 = _cited(0.15, "l/m2", "bitumen or solvent primer on timber, least")
PRIMER_MOST_L_M2 = _cited(0.3, "l/m2", "bitumen or solvent primer on timber, most")
COLDEST_C = _cited(5.0, "degC", "air and deck, primer dry")
NIGHT_ROOF_LEAST_WEEKS = _cited(2.0, "week", "as a temporary roof, by data sheets, least")
NIGHT_ROOF_MOST_WEEKS = _cited(4.0, "week", "as a temporary roof, by data sheets, most")

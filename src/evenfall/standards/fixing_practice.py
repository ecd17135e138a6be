"""Screws and beads that hold insulation boards: every source side by side; the larger governs.

No document that settles the numbers was read. Board makers' guides are indicative only; the sheet
ID/1/2009 of the rigid-board trade body is the reference that they name.
"""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.working import Basis, Cited

_MEMORY: Basis = "from memory"
_PRACTICE: Basis = "common practice"
_SECOND: Basis = "published, second-hand"

FIELD_LIST = "fixings before wind, after ID/1/2009"
MAKERS = "board makers' guides, sheet with its own fixings"
MAKERS_ADHERED = "board makers' guides, fully adhered sheet"
MEMBRANE = "membrane guides, on a merchant's page"


@dataclass(frozen=True, slots=True)
class SizeRow:
    """Least number of screws in a board up to one size.

    Parameters
    ----------
    length_mm, width_mm : int
        The board that the source lists [mm].
    number : Cited
        Least number of screws in it [-].
    """

    length_mm: int
    width_mm: int
    number: Cited


def _sizes(
    source: str, basis: Basis, *rows: tuple[int, int, int], where: str = ""
) -> tuple[SizeRow, ...]:
    return tuple(
        SizeRow(length, width, Cited(n, "-", source, f"board {length} × {width} mm{where}", basis))
        for length, width, n in rows
    )


BY_SIZE = _sizes(FIELD_LIST, _MEMORY, (1200, 600, 4), (1200, 1200, 5), (2400, 1200, 6))
BY_SIZE_OWN_FIXINGS = _sizes(
    MAKERS, _PRACTICE, (1200, 600, 4), (1200, 1000, 4), (1200, 1200, 4), (2500, 1200, 6)
)
MEMBRANE_FIELD = _sizes(MEMBRANE, _SECOND, (2440, 1220, 8), where=", field")
MEMBRANE_PERIMETER = _sizes(MEMBRANE, _SECOND, (2440, 1220, 16), where=", perimeter")

ADHERED_BOARD_MM = (
    Cited(2250, "mm", MAKERS_ADHERED, "length of the board listed", _PRACTICE),
    Cited(1220, "mm", MAKERS_ADHERED, "width of the board listed", _PRACTICE),
)
"""The board to which the numbers by thickness belong."""

BY_THICKNESS: tuple[tuple[int, Cited], ...] = tuple(
    (mm, Cited(n, "-", MAKERS_ADHERED, f"board 1.22 × 2.25 m, up to {mm} mm thick", _PRACTICE))
    for mm, n in ((40, 16), (50, 12), (100, 8))
)
"""Thickness up to which, and the least number. Thicker than listed: the last row is kept."""

EMBEDMENTS_MM: dict[str, tuple[Cited, ...]] = {
    "timber": (
        Cited(25.0, "mm", "the trade handbook", "point below the top of the deck", "planning seed"),
        Cited(30.0, "mm", "board makers' guides", "embedment in a timber deck", _PRACTICE),
    ),
    "steel": (Cited(15.0, "mm", "board makers' guides", "embedment in a steel deck", _PRACTICE),),
}
BEYOND_DECK_LEAST_MM = Cited(
    10.0, "mm", "the trade handbook", "beyond the deck, cables in the void", "planning seed"
)
BEYOND_DECK_MOST_MM = Cited(
    15.0, "mm", "the trade handbook", "beyond the deck, cables in the void", "planning seed"
)
BEYOND_DECK_CLEAR_MM = Cited(
    40.0, "mm", "Evenfall", "beyond the deck, nothing in the void: few lengths over tapers",
    "planning seed",
)  # fmt: skip
EDGE_LEAST_MM = Cited(50.0, "mm", "the trade handbook", "screw from the board's edge", _MEMORY)
EDGE_MOST_MM = Cited(150.0, "mm", "the trade handbook", "screw from the board's edge", _MEMORY)

TIMBER_POINT_MM = Cited(
    30.0, "mm", "EN 1995-1-1 8.7.2(3)", "point of a screw in timber: 6 d, with 5 mm", _MEMORY
)
"""A course of edge timber is screwed into the one below by at least so much."""

THREAD_MM = Cited(
    4.0, "mm", "Evenfall", "thread of a trim or timber screw, where the rates do not say it",
    "planning seed",
)  # fmt: skip
F_AX_N_MM2 = Cited(
    8.0, "N/mm2", "Evenfall", "f_ax,k at 350 kg/m3 where the rates do not say it: below the 10 to "
    "15 that screws usually declare (EN 14592)", "planning seed",
)  # fmt: skip
TRIM_SCREW_MM = Cited(
    30.0, "mm", "Evenfall", "screw of a trim, where the rates do not say it", "planning seed"
)
OVER_TRIM_TIMBER_MM = Cited(
    4.0, "mm", "Evenfall", "trim and sheet between the head of a screw and the timber",
    "planning seed",
)  # fmt: skip

PIECE_LEAST = Cited(
    2.0, "each", "Evenfall", "screws in any piece, so that none turns", "planning seed"
)
SCREWS_MOST_M2 = Cited(
    16.0, "1/m2", "Evenfall", "screws in a board, their plates 250 mm apart", "planning seed"
)
EDGE_STRIP = Cited(0.3, "m", "Evenfall", "strip of sheet that an edge must hold", "planning seed")
"""Where the bond peels from the edge, trim and timber hold this much until it is seen."""

GAMMA_M = Cited(1.5, "-", "method in the form of ETAG 006", "resistance of a fixing", _MEMORY)
SAFETY = "1.5 × the characteristic load against R_k / gamma_m; the tests give R_k, not W_adm"
SAFETY_ADMISSIBLE = "the characteristic load against W_adm, which holds all of the safety"

_ADHESIVE = "an insulation supplier's article on bonding"
BEAD_WIDTH_LEAST = Cited(0.010, "m", _ADHESIVE, "free-pour bead, width", _SECOND)
BEAD_WIDTH_MOST = Cited(0.020, "m", _ADHESIVE, "free-pour bead, width", _SECOND)
BEAD_CENTRES: dict[str, Cited] = {
    zone: Cited(centres, "m", "the trade handbook", f"centres of beads, {zone}", _MEMORY)
    for zone, centres in (("field", 0.300), ("perimeter", 0.200), ("corner", 0.150))
}
BOND_POLYURETHANE = Cited(10000.0, "Pa", _ADHESIVE, "polyurethane, at the best", _SECOND)
BOND_BITUMEN = Cited(3600.0, "Pa", _ADHESIVE, "bitumen", _SECOND)
ADHERED_SAYS = (
    "A fully adhered roof cannot be strengthened locally: its whole area is based on the corner "
    "load (FEMA / Whole Building Design Guide, p. 220, published)."
)

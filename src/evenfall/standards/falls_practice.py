"""Falls: BS 6229:2018 as articles quote it (the standard was not read), firrings, channels."""

from __future__ import annotations

from evenfall.working import Basis, Cited

SOURCE = "BS 6229:2018"
_SECOND: Basis = "published, second-hand"
_MEMORY: Basis = "from memory"

DESIGN_FALL = Cited(1 / 40, "-", SOURCE, "design fall 1:40, gutter beds too", _SECOND)
FINISHED_FALL = Cited(1 / 80, "-", SOURCE, "finished fall 1:80, gutter beds too", _SECOND)
DOUBLE = Cited(2.0, "-", "BS 6229:2003", "design over finished fall, without data", _SECOND)
STANDING_HOURS = Cited(48.0, "h", SOURCE, "water still there is standing water", _SECOND)

THIN_END_LEAST_MM = Cited(20.0, "mm", "the trade handbook", "firring, thin end", _MEMORY)
THIN_END_MOST_MM = Cited(25.0, "mm", "the trade handbook", "firring, thin end, safe", _MEMORY)
FIRRING_CENTRES = Cited(0.6, "m", "the trade handbook", "firring, fixings at most", _MEMORY)
TAPERED_FALLS: tuple[Cited, ...] = tuple(
    Cited(1 / n, "-", "the trade handbook", f"tapered boards, 1:{n}", _MEMORY) for n in (40, 60, 80)
)
CRICKET_FROM = Cited(0.6, "m", "the trade", "kerb that holds water back, width from", _MEMORY)
SHIMS_MOST_MM = Cited(20.0, "mm", "the trade", "packing by hand at most", _MEMORY)
TAPERED_PRICE = Cited(
    1.6, "-", "the trade", "tapered board over even board, by volume", "planning seed"
)
LEVEL_GRID = Cited(1.0, "m", "the trade handbook", "verify levels on a grid of", _MEMORY)

MANNING_SMOOTH = Cited(
    0.012, "s/m^(1/3)", "open-channel practice", "roughness n of a smooth channel", _MEMORY
)

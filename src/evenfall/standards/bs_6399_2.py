"""BS 6399-2:1997, withdrawn: the fallback for the UK exposure where the charts are not at hand.

The factors S_b are remembered, not read, with medium confidence.
"""

from __future__ import annotations

from evenfall.working import Cited

SOURCE = "BS 6399-2:1997 (withdrawn)"

HOURLY_TO_TEN_MINUTES = Cited(1.06, "-", SOURCE, "10-minute mean over hourly mean", "from memory")


def _row(height: float, *factors: float) -> tuple[float, tuple[Cited, ...]]:
    where = f"Table 4, H_e = {height:g} m, medium confidence"
    return height, tuple(Cited(S_b, "-", SOURCE, where, "from memory") for S_b in factors)


COUNTRY_DISTANCES_KM = (0, 2, 10, 100)
TOWN_DISTANCES_KM = (2, 10, 100)

S_B_COUNTRY = (
    _row(2, 1.48, 1.40, 1.35, 1.26),
    _row(5, 1.65, 1.62, 1.57, 1.45),
    _row(10, 1.78, 1.78, 1.73, 1.62),
    _row(15, 1.85, 1.85, 1.82, 1.71),
)
"""Effective height in m, then S_b by distance to the sea."""

S_B_TOWN = (
    _row(2, 1.18, 1.15, 1.07),
    _row(5, 1.50, 1.45, 1.36),
    _row(10, 1.73, 1.69, 1.58),
    _row(15, 1.85, 1.82, 1.71),
)

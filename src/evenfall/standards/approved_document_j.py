"""Flues near a flat roof: Approved Document J, its table of outlets, and what is around it.

All second-hand: a drawing office's page on the table and a trade article. A gas engineer decides.
"""

from __future__ import annotations

from evenfall.working import Cited

_SOURCE = "Approved Document J, flue outlets"

ABOVE_ROOF_MM = Cited(300.0, "mm", _SOURCE, "terminal above a flat roof", "published, second-hand")
FACING_MM = Cited(600.0, "mm", _SOURCE, "fanned flue to a surface", "published, second-hand")
GUARD_BELOW_M = Cited(
    2.0, "m", _SOURCE, "terminal guard, lower above an accessible flat roof",
    "published, second-hand",
)  # fmt: skip

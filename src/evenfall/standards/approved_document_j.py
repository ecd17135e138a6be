"""Flues near a flat roof: Approved Document J, its table of outlets, and what is around it.

The lines on gas are second-hand, from a drawing office's page on the table and a trade article;
that on solid fuel is remembered. Who is registered for the appliance decides.
"""

from __future__ import annotations

from evenfall.working import Cited

_SOURCE = "Approved Document J, flue outlets"

ABOVE_ROOF_MM = Cited(300.0, "mm", _SOURCE, "terminal above a flat roof", "published, second-hand")
SOLID_FUEL_ABOVE_MM = Cited(
    1000.0, "mm", "Approved Document J, chimneys of solid fuel",
    "outlet above the highest point where the chimney meets the roof", "from memory",
)  # fmt: skip
FACING_MM = Cited(600.0, "mm", _SOURCE, "fanned flue to a surface", "published, second-hand")
GUARD_BELOW_M = Cited(
    2.0, "m", _SOURCE, "terminal guard, lower above an accessible flat roof",
    "published, second-hand",
)  # fmt: skip

"""What may be raised without planning permission: as councils and planning pages explain it.

The Town and Country Planning (General Permitted Development) (England) Order 2015, Schedule 2,
part 1, was not read: class C (roofs) second-hand, class E (outbuildings) from memory.
"""

from __future__ import annotations

from evenfall.working import Cited

_ROOFS = "permitted development, roofs of houses (class C)"
_SHEDS = "permitted development, outbuildings (class E)"

RISE_MM = Cited(
    150.0, "mm", _ROOFS, "most beyond the plane of the old roof", "published, second-hand"
)
ABOVE_HIGHEST_MM = Cited(
    0.0, "mm", _ROOFS, "most above the highest part of the old roof", "published, second-hand"
)
OUTBUILDING_NEAR_M = Cited(2.0, "m", _SHEDS, "nearer to the boundary is low", "from memory")
OUTBUILDING_LOW_M = Cited(2.5, "m", _SHEDS, "highest within 2 m of it", "from memory")
OUTBUILDING_HIGH_M = Cited(3.0, "m", _SHEDS, "highest elsewhere, flat roof", "from memory")

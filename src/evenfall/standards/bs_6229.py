"""BS 6229: the cold spell that a warm roof is checked against, beside the monthly method.

The temperature and the days are told by a supplier's note; humidity and limit are remembered.
"""

from __future__ import annotations

from evenfall.working import Cited

SOURCE = "BS 6229, clause 4.7"

SPELL_C = Cited(-5.0, "C", SOURCE, "outside air of the winter spell", "published, second-hand")
SPELL_DAYS = Cited(60.0, "d", SOURCE, "length of the winter spell", "published, second-hand")
SPELL_PHI = Cited(0.9, "-", SOURCE, "humidity of that air", "from memory")
SPELL_LIMIT = Cited(0.35, "kg/m2", SOURCE, "water that may gather in the spell", "from memory")

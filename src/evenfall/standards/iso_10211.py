"""ISO 10211 (2007 and 2017 editions): what a numerical calculation of heat flows must satisfy.

None of it was read in the document; the 1 % rule is quoted by others too.
"""

from __future__ import annotations

from evenfall.working import Cited

SOURCE = "ISO 10211"

CLOSURE = Cited(1e-4, "-", SOURCE, "sum of all heat flows by the total heat flow", "from memory")
DOUBLING_HEAT = Cited(
    0.01, "-", SOURCE, "change of the total heat flow on doubling", "published, second-hand"
)
DOUBLING_FACTOR = Cited(0.005, "-", SOURCE, "change of f_Rsi on doubling", "from memory")

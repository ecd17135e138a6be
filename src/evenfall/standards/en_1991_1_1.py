"""EN 1991-1-1: self weight, and the imposed load of roofs without access (category H)."""

from __future__ import annotations

from evenfall.working import Cited

SOURCE = "EN 1991-1-1"
NATIONAL = "UK National Annex to BS EN 1991-1-1"

G = Cited(9.81, "m/s2", "gravity", "conventional value", "from memory")

Q_K_EN = Cited(400.0, "Pa", SOURCE, "category H, recommended q_k", "published, second-hand")
POINT_K_EN = Cited(1000.0, "N", SOURCE, "category H, recommended Q_k", "published, second-hand")
Q_K_UK = Cited(600.0, "Pa", NATIONAL, "category H, q_k, pitch below 30 degrees", "from memory")
POINT_K_UK = Cited(900.0, "N", NATIONAL, "category H, Q_k", "from memory")
PITCH_LIMIT_DEGREES = Cited(30.0, "degrees", NATIONAL, "category H, q_k in full", "from memory")

COMBINED_SAYS = (
    "EN 1991-1-1 3.3.2(1), as quoted: not combined with snow or wind for the roof check; "
    "a published UK sheet combines it with snow. Both results are shown."
)

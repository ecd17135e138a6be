"""What a quotation says by law or custom: days to cancel, notices, what is normal to see."""

from __future__ import annotations

from evenfall.working import Cited

_TRADING = "councils' trading-standards pages"
_ROOFERS = "marks that roofers call normal"

CANCEL_DAYS = Cited(14, "d", _TRADING, "days to cancel", "published, second-hand")
PAY_BACK_DAYS = Cited(14, "d", "rules of cancelling", "days to pay back", "from memory")
CANCEL_WORDING = Cited(1, "-", "rules of cancelling", "wording of notice and form", "from memory")
WATER_DEPTH_MM = Cited(10, "mm", _ROOFERS, "standing water, depth", "planning seed")
WATER_HOURS = Cited(48, "h", _ROOFERS, "standing water, how long", "planning seed")
COLD_C = Cited(5, "C", "weather gates of gluing", "no gluing below", "common practice")

"""CDM Regulations 2015, as two summaries tell them; the regulations themselves were not read."""

from __future__ import annotations

from evenfall.working import Basis, Cited

SOURCE = "CDM Regulations 2015, two summaries"
_SECOND: Basis = "published, second-hand"

LONG_DAYS = Cited(30, "d", SOURCE, "notified if longer, with the next", _SECOND)
MANY_AT_ONCE = Cited(20, "people", SOURCE, "notified if more at once, with the last", _SECOND)
PERSON_DAYS = Cited(500, "person-days", SOURCE, "notified above", _SECOND)

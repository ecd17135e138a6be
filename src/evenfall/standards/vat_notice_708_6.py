"""VAT on energy-saving materials: VAT Notice 708/6, section 1.1 (read)."""

from __future__ import annotations

from datetime import date

from evenfall.working import Cited

_SOURCE = "VAT Notice 708/6, section 1.1"

ZERO_FROM = date(2023, 5, 1)
ZERO_UNTIL = date(2027, 3, 31)
ZERO_PERCENT = Cited(0.0, "%", _SOURCE, "supplies from 1 May 2023 to 31 March 2027", "published")
REDUCED_PERCENT = Cited(5.0, "%", _SOURCE, "supplies from 1 April 2027", "published")

NEAR_DAYS = Cited(
    28.0, "days", "Evenfall", "a small roof with a wet spell, first to last day", "planning seed"
)
"""Work that starts this near to the end of the rate may finish after it."""

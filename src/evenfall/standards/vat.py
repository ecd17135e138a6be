"""VAT rates beside those of Notice 708/6; the treatment is the user's decision, with his reason."""

from __future__ import annotations

from evenfall.working import Cited

STANDARD = Cited(20, "%", "VAT, standard rate", "repair or refurbishment", "common practice")
NONE_CHARGED = Cited(0, "%", "VAT", "none is charged on the invoice", "from memory")
CONTESTED = (
    "Tribunals went both ways ([2016] UKFTT 827 (TC) allowed an insulation-led roof, [2020] UKFTT "
    "506 (TC) refused one where the new roof predominated); ask an accountant or HMRC."
)
"""First-tier decisions on conservatory roofs; they bind nobody else. Published."""

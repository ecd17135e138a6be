"""ISO 12572: limits of the cup test for vapour transmission (scope, read in a public abstract)."""

from __future__ import annotations

from evenfall.working import Cited

S_D_IMPERMEABLE = Cited(
    1500.0, "m", "ISO 12572", "scope: above, may be treated as impermeable", "published"
)
S_D_LEAST = Cited(0.1, "m", "ISO 12572", "scope: below, the cup test is not valid", "published")

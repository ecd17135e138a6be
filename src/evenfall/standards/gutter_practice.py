"""Gutters and pipes as they are hung: head over the outlet, sizes of pipes, leaves."""

from __future__ import annotations

from evenfall.working import Cited

OUTLET_HEAD_SHARE = Cited(
    0.47, "-", "EN 12056-3:2000", "head over the outlet, half-round, share of the depth",
    "from memory",
)  # fmt: skip
PIPES_MM = tuple(
    Cited(mm, "mm", "roofing practice", "round pipes that are sold", "from memory")
    for mm in (50.0, 68.0, 82.0, 110.0)
)

"""Gutters and pipes as they are hung: head over the outlet, sizes of pipes, leaves."""

from __future__ import annotations

from evenfall.working import Cited

OUTLET_HEAD_SHARE = Cited(
    0.47, "-", "EN 12056-3:2000", "head over the outlet, half-round, share of the depth",
    "from memory",
)  # fmt: skip
OUTLETS_MM = tuple(
    Cited(mm, "mm", "roofing practice", "outlets that are sold for gutters", "from memory")
    for mm in (50.0, 63.0, 75.0, 89.0)
)
DROP_MM = Cited(
    15.0, "mm", "roofing practice", "top of the gutter below the drip edge, high end",
    "planning seed",
)  # fmt: skip
DRIP_FACE_MM = Cited(
    75.0, "mm", "roofing practice", "face of a drip trim: farther down the wind takes the drops",
    "planning seed",
)  # fmt: skip
BUILDING_LIFE = Cited(60.0, "a", "rainfall guidance", "life of a building", "common practice")
ROOF_OUTLETS_MM = tuple(
    Cited(mm, "mm", "roofing practice", "outlets that are sold for flat roofs", "from memory")
    for mm in (50.0, 75.0, 100.0, 125.0, 150.0)
)
PIPES_MM = tuple(
    Cited(mm, "mm", "roofing practice", "round pipes that are sold", "from memory")
    for mm in (50.0, 68.0, 82.0, 110.0)
)

"""Edges: what a section is cut at, and what stands at an edge that nobody measured.

ISO 10211:2017 and BR 443:2006 are remembered, not read.
"""

from __future__ import annotations

from evenfall.working import Basis, Cited

_ISO = "ISO 10211:2017"
_BRICK = "BR 443:2006"
_OWN = "edge practice"
_MEMORY: Basis = "from memory"
_SEED: Basis = "planning seed"

SOURCE = "ISO 10211, inside dimensions"

CUT_LEAST = Cited(1.0, "m", _ISO, "cut-off planes, least distance from the edge", _MEMORY)
CUT_TIMES = Cited(3, "-", _ISO, "cut-off planes, times the thickness beside the edge", _MEMORY)

BRICK_OUTSIDE = Cited(0.77, "W/(m K)", _BRICK, "brickwork, outer leaf", _MEMORY)
BRICK_INSIDE = Cited(0.56, "W/(m K)", _BRICK, "brickwork, inner leaf", _MEMORY)
LEAF = Cited(0.1025, "m", _OWN, "one leaf of brickwork", "common practice")
PLASTER = Cited(0.013, "m", _OWN, "plaster on a wall", "common practice")
LEAST_CAVITY = Cited(0.025, "m", _OWN, "narrowest cavity between two leaves", _SEED)
WALL_NOT_MEASURED = Cited(0.275, "m", _OWN, "wall whose thickness was not measured", _SEED)

EDGE_TIMBER = Cited(0.05, "m", _OWN, "width of an edge timber", _SEED)
HEAD_PACKING = Cited(0.04, "W/(m K)", _OWN, "mineral wool packed into a wall head", _MEMORY)
CAVITY_FILL = Cited(0.04, "W/(m K)", _OWN, "mineral wool in a cavity", _MEMORY)
LINING = Cited(0.03, "m", _OWN, "insulation on a kerb or on a parapet", _SEED)
WORTH_SAYING = Cited(0.1, "W/K", _OWN, "heat at an edge, saving worth a word", _SEED)

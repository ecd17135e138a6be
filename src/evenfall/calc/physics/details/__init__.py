"""Edges of a roof in two dimensions, drawn from their measures.

Inside dimensions everywhere: roof and wall are counted along their inner faces, as far as the
corner where these meet; of a wall that goes on up, what stands out of the roof. Sheets thinner
than a board are left out.
"""

from evenfall.calc.physics.details.kerbs import RooflightKerb
from evenfall.calc.physics.details.open_edges import Head, OpenEdge
from evenfall.calc.physics.details.parts import (
    INSIDE,
    OUTSIDE,
    Course,
    Films,
    Flank,
    Roof,
    Section,
    Timbers,
    Wall,
)
from evenfall.calc.physics.details.walls import Abutment, Parapet, PartyLine

Edge = OpenEdge | Abutment | Parapet | PartyLine | RooflightKerb
"""Any edge that can be drawn; each gives its `Section`."""

__all__ = [
    "INSIDE", "OUTSIDE", "Abutment", "Course", "Edge", "Films", "Flank", "Head", "OpenEdge",
    "Parapet", "PartyLine", "Roof", "RooflightKerb", "Section", "Timbers", "Wall",
]  # fmt: skip

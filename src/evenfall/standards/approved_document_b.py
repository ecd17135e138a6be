"""Fire from outside: what a roof covering may be, by its distance to the boundary.

Approved Document B volume 1 (2019 edition), Table 12.1. A system is tested, not a sheet: the class
belongs to the build-up of the test report. The notes to the table were read in an excerpt; the
classes and the distances are remembered: read the table before relying on them.
"""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.working import Basis, Cited

_SOURCE = "Approved Document B volume 1 (2019), Table 12.1"
_MEMORY: Basis = "from memory"
_READ: Basis = "published"

NEAR = Cited(6.0, "m", _SOURCE, "nearer than this only the best class", _MEMORY)
MIDDLE = Cited(12.0, "m", _SOURCE, "class E from here", _MEMORY)
FAR = Cited(20.0, "m", _SOURCE, "every class from here", _MEMORY)


@dataclass(frozen=True, slots=True)
class RoofClass:
    """A class of roof covering, and how near to the boundary it may be.

    Parameters
    ----------
    name : str
        Class by EN 13501-5, test 4 of CEN/TS 1187 [-].
    from_m : Cited
        Least distance to the boundary [m].
    """

    name: str
    from_m: Cited


CLASSES = (
    RoofClass("BROOF(t4)", Cited(0.0, "m", _SOURCE, "BROOF(t4), no restriction", _MEMORY)),
    RoofClass("CROOF(t4)", Cited(6.0, "m", _SOURCE, "CROOF(t4)", _MEMORY)),
    RoofClass("DROOF(t4)", Cited(12.0, "m", _SOURCE, "DROOF(t4), the whole roof", _MEMORY)),
    RoofClass("EROOF(t4)", Cited(12.0, "m", _SOURCE, "EROOF(t4), small dwellings", _MEMORY)),
    RoofClass("FROOF(t4)", Cited(20.0, "m", _SOURCE, "FROOF(t4)", _MEMORY)),
)
"""The best first; every class may also be farther away. Class D may be from 6 m on in parts of 3 m2
only, and class F from 20 m on in such parts only, as remembered: a whole roof is held to 12 m for
class D and is never of class F."""
WHOLE: tuple[RoofClass, ...] = CLASSES[:-1]
"""Classes that a whole roof may be of."""

TERRACE = Cited(3.0, "each", _SOURCE, "houses in a terrace: no lower class", _READ)
VOLUME = Cited(1500.0, "m3", _SOURCE, "above this volume no lower class", _READ)
PLASTIC_ROOFLIGHT = Cited(3.0, "m2", _SOURCE, "notes, largest plastic rooflight", _READ)
PLASTIC_BOUNDARY = Cited(
    6.0, "m", "Approved Document B volume 1 (2019), Table 12.2", "plastic rooflights, boundary",
    _MEMORY,
)  # fmt: skip
PLASTIC_APART = Cited(1.5, "m", _SOURCE, "notes, plastic rooflights apart", _READ)

"""The kerb of a rooflight in section, and its corner in three dimensions."""

from __future__ import annotations

import math
from dataclasses import dataclass

from evenfall.calc.physics.conduction.bracket import Bracket
from evenfall.calc.physics.conduction.detail import Box, Detail, Surround
from evenfall.calc.physics.conduction.points import ACCURACY, Sheet
from evenfall.calc.physics.conduction.results import linear_transmittance, point_transmittance
from evenfall.calc.physics.conduction.solve import solve
from evenfall.errors import InvalidInput

ROOM = 1.0
"""Height of air drawn above and below; only its faces with solids matter [m]."""


@dataclass(frozen=True, slots=True)
class Kerb:
    """A kerb around an opening, with the roof that runs up to it.

    Parameters
    ----------
    layers : tuple of Sheet
        Layers of the roof from the inside outwards [-].
    thickness : float
        Of the kerb, from the opening to the roof [m].
    conductivity : float
        Of the kerb [W/(m K)].
    height : float
        Top of the kerb above the lowest layer [m].
    stands_on : int
        Layers that run through below the kerb [-].
    R_si : float
        Inner surface resistance of the ceiling [m2K/W].
    R_si_wall : float
        Inner surface resistance of the kerb and of the edges of the layers [m2K/W].
    R_se : float
        Outer surface resistance [m2K/W].
    """

    layers: tuple[Sheet, ...]
    thickness: float
    conductivity: float
    height: float
    stands_on: int
    R_si: float
    R_si_wall: float
    R_se: float

    @property
    def levels(self) -> list[float]:
        """Levels between the layers, from the lowest face [m]."""
        return [math.fsum(s.thickness for s in self.layers[:n]) for n in range(self.count + 1)]

    @property
    def count(self) -> int:
        """Layers of the roof [-]."""
        return len(self.layers)

    @property
    def U(self) -> float:
        """Transmittance of the plain roof [W/(m2K)]."""
        R = math.fsum(s.thickness / s.conductivity for s in self.layers)
        return 1 / (self.R_si + R + self.R_se)


Extent = tuple[tuple[float, ...], tuple[float, ...]]


def _ring(dimensions: int, near: float, far: float, low: float, high: float) -> list[Extent]:
    """Lay out what lies between two distances from the opening and between two levels."""
    if dimensions == 2:
        return [((near, low), (far, high))]
    return [
        ((near, -ROOM, low), (far, far, high)),
        ((-ROOM, near, low), (near, far, high)),
    ]


def kerb_detail(kerb: Kerb, width: float, dimensions: int = 2) -> Detail:
    """Lay out the section through a kerb, or its corner.

    The opening lies where all plan coordinates are below 0. The top of the kerb lets no heat
    through: the rooflight on it is another part, with its own loss.

    Parameters
    ----------
    kerb : Kerb
        Kerb and roof [-].
    width : float
        Roof beside the opening [m].
    dimensions : int
        2 for the section, 3 for the corner with 1 m of kerb on both sides [-].

    Returns
    -------
    Detail
        Boxes and airs, inside 1 C and outside 0 C [-].

    Raises
    ------
    InvalidInput
        If the kerb is not above the roof, or the roof beside it has no width.

    References
    ----------
    ISO 10211 (from memory): cut at least 1 m from the edge.
    """
    levels, t = kerb.levels, kerb.thickness
    if kerb.height <= levels[-1] or not t < width or not 0 <= kerb.stands_on <= kerb.count:
        raise InvalidInput(
            f"height {kerb.height} m, {kerb.stands_on} layers below, roof {width} m wide",
            f"a top above {levels[-1]} m, layers up to {kerb.count}, roof wider than {t} m",
            where="kerb",
        )
    boxes = []
    for n, layer in enumerate(kerb.layers):
        near = 0.0 if n < kerb.stands_on else t
        for m, (lower, upper) in enumerate(
            _ring(dimensions, near, width, levels[n], levels[n + 1])
        ):
            boxes.append(Box(f"{layer.name} {m + 1}", lower, upper, layer.conductivity))
    for m, extent in enumerate(_ring(dimensions, 0.0, t, levels[kerb.stands_on], kerb.height)):
        boxes.append(Box(f"kerb {m + 1}", *extent, kerb.conductivity))
    plan = dimensions - 1
    opening = ((-ROOM,) * plan + (-ROOM,), (0.0,) * plan + (kerb.height,))
    airs = [Surround("inside", *opening, 1.0, kerb.R_si_wall)]
    for extent in _ring(dimensions, 0.0, width, -ROOM, 0.0):
        airs.append(Surround("inside", *extent, 1.0, kerb.R_si))
    for extent in _ring(dimensions, t, width, levels[-1], kerb.height):
        airs.append(Surround("outside", *extent, 0.0, kerb.R_se))
    return Detail(tuple(boxes), tuple(airs))


def psi_of_kerb(kerb: Kerb, width: float, *, accuracy: float = ACCURACY) -> Bracket:
    """Work out what a metre of kerb loses beyond the roof up to the opening.

    Parameters
    ----------
    kerb : Kerb
        Kerb and roof [-].
    width : float
        Roof beside the opening [m].
    accuracy : float
        Of all heat through the section [-].

    Returns
    -------
    Bracket
        Linear transmittance psi, length measured along the opening [W/(m K)].
    """
    found = solve(kerb_detail(kerb, width), accuracy=accuracy)
    return linear_transmittance(found, [(kerb.U, width)])


def chi_of_kerb_corner(
    kerb: Kerb, width: float, psi: float, *, accuracy: float = ACCURACY
) -> Bracket:
    """Work out what a corner of a kerb loses beyond its roof and its two sides.

    Parameters
    ----------
    kerb : Kerb
        Kerb and roof [-].
    width : float
        Roof beside the opening [m].
    psi : float
        Linear transmittance of the sides [W/(m K)].
    accuracy : float
        Of all heat through the corner [-].

    Returns
    -------
    Bracket
        Point transmittance chi of the corner [W/K].
    """
    found = solve(kerb_detail(kerb, width, 3), accuracy=accuracy)
    area = (ROOM + width) ** 2 - ROOM**2
    return point_transmittance(found, [(kerb.U, area)], [(psi, 2 * ROOM)])

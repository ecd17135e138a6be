"""Point bridges in three dimensions: a screw through the board, and the corner of a kerb."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from evenfall.calc.physics.conduction.bracket import Bracket
from evenfall.calc.physics.conduction.detail import Box, Detail, Surround
from evenfall.calc.physics.conduction.results import point_transmittance
from evenfall.calc.physics.conduction.solve import solve
from evenfall.errors import InvalidInput

ACCURACY = 0.005
"""Of all heat; what a point adds is a small part of it, and its own bracket is told beside."""

PATCH = 0.4
"""Side of the patch of roof around one screw; a wider one changed its loss by less than the
bracket [m]."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One layer of a flat roof.

    Parameters
    ----------
    name : str
        What it is [-].
    thickness : float
        Thickness [m].
    conductivity : float
        Thermal conductivity [W/(m K)].
    """

    name: str
    thickness: float
    conductivity: float


@dataclass(frozen=True, slots=True)
class Screw:
    """A straight fastener with its plate; a recessed one hangs in a tube.

    Parameters
    ----------
    area : float
        Cross-section; it is modelled as a square of equal area [m2].
    conductivity : float
        Of the metal [W/(m K)].
    top : float
        Level of its head above the lowest layer [m].
    tip : float
        Level of its tip above the lowest layer [m].
    tube_side : float
        Side of the square tube above a recessed head, 0 where there is none [m].
    tube_conductivity : float
        Of tube and the air in it together [W/(m K)].
    plate_side : float
        Side of a square plate of the same metal on the head, 0 where there is none [m].
    plate_thickness : float
        Thickness of the plate [m].
    """

    area: float
    conductivity: float
    top: float
    tip: float
    tube_side: float = 0.0
    tube_conductivity: float = 0.0
    plate_side: float = 0.0
    plate_thickness: float = 0.0


def screwed_roof(
    layers: Sequence[Sheet], screw: Screw, R_si: float, R_se: float, *, patch: float = PATCH
) -> Detail:
    """Lay out a quarter of the roof around one screw, which two planes of symmetry bound.

    Parameters
    ----------
    layers : sequence of Sheet
        Layers from the inside outwards [-].
    screw : Screw
        The fastener [-].
    R_si : float
        Inner surface resistance [m2K/W].
    R_se : float
        Outer surface resistance [m2K/W].
    patch : float
        Side of the square of roof around the screw [m].

    Returns
    -------
    Detail
        Boxes and airs of a quarter, inside 1 C and outside 0 C [-].

    Raises
    ------
    InvalidInput
        If the screw does not lie within the layers.
    """
    half, boxes, z = patch / 2, [], 0.0
    for layer in layers:
        boxes.append(
            Box(layer.name, (0.0, 0.0, z), (half, half, z + layer.thickness), layer.conductivity)
        )
        z += layer.thickness
    if not 0 <= screw.tip < screw.top <= screw.top + screw.plate_thickness <= z:
        raise InvalidInput(
            f"tip at {screw.tip} m, head at {screw.top} m",
            f"levels from 0 to {z} m, the plate below",
            where="screw",
        )
    if screw.tube_side:
        side = screw.tube_side / 2
        boxes.append(Box("tube", (0.0, 0.0, screw.top), (side, side, z), screw.tube_conductivity))
    side = math.sqrt(screw.area) / 2
    boxes.append(Box("screw", (0.0, 0.0, screw.tip), (side, side, screw.top), screw.conductivity))
    if screw.plate_side:
        side, over = screw.plate_side / 2, screw.top + screw.plate_thickness
        boxes.append(Box("plate", (0.0, 0.0, screw.top), (side, side, over), screw.conductivity))
    return Detail(
        tuple(boxes),
        (
            Surround("inside", (0.0, 0.0, -1.0), (half, half, 0.0), 1.0, R_si),
            Surround("outside", (0.0, 0.0, z), (half, half, z + 1.0), 0.0, R_se),
        ),
    )


def chi_of_screw(
    layers: Sequence[Sheet],
    screw: Screw,
    R_si: float,
    R_se: float,
    *,
    patch: float = PATCH,
    accuracy: float = ACCURACY,
) -> Bracket:
    """Work out what one screw loses beyond the roof without it.

    Parameters
    ----------
    layers : sequence of Sheet
        Layers from the inside outwards [-].
    screw : Screw
        The fastener [-].
    R_si : float
        Inner surface resistance [m2K/W].
    R_se : float
        Outer surface resistance [m2K/W].
    patch : float
        Side of the square of roof around the screw [m].
    accuracy : float
        Of all heat through the patch [-].

    Returns
    -------
    Bracket
        Point transmittance chi [W/K].

    References
    ----------
    ISO 10211 (from memory).
    """
    found = solve(screwed_roof(layers, screw, R_si, R_se, patch=patch), accuracy=accuracy)
    R = R_si + R_se + math.fsum(s.thickness / s.conductivity for s in layers)
    return point_transmittance(found, [(1 / R, patch**2 / 4)]).scaled(4.0)

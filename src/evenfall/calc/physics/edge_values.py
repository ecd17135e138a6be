"""What an edge loses and how cold it gets: its section solved, less the plane parts beside it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache, partial

from evenfall.calc.physics.conduction import (
    Bracket,
    Solution,
    linear_transmittance,
    solve,
    temperature_factor,
    thermal_coupling,
)
from evenfall.calc.physics.details import INSIDE, Edge, Films, Section
from evenfall.standards import iso_6946, iso_13788
from evenfall.working import formula

ACCURACY = 0.005  # of the heat that flows: what an exact answer may be out
QUICK_CELLS = 1500  # cells at which a quick look ends; its bracket says what it is worth

KEPT = 4096  # answers kept in memory: undoing a change, or an option beside it, solves nothing

_LEVEL = float(iso_6946.R_SI["horizontal"])
_SE = float(iso_6946.R_SE)
HEAT = Films(float(iso_6946.R_SI["upwards"]), _LEVEL, _SE, _LEVEL)
"""Films with which heat is counted; in a ventilated slot the air stands as it does inside."""

_MOULD = float(iso_13788.R_SI_MOULD)
MOULD = Films(_MOULD, _MOULD, _SE, _LEVEL)
"""Films with which mould is looked for: furniture and curtains keep the air off."""


@formula("psi", "W/(m K)", "ISO 10211, inside dimensions", "from memory")
def psi_of_two(L_2D: float, U_roof: float, l_roof: float, U_wall: float, l_wall: float) -> float:
    """Heat lost at an edge beyond the plane parts on both sides.

    Parameters
    ----------
    L_2D : float
        Heat through the whole section for one kelvin [W/(m K)].
    U_roof, U_wall : float
        Transmittances of the plane parts [W/(m2K)].
    l_roof, l_wall : float
        Their lengths along the inner faces, in the section [m].

    Returns
    -------
    float
        Linear transmittance [W/(m K)].

    Examples
    --------
    >>> psi_of_two(1.80, 0.16, 1.0, 1.20, 1.2)
    0.2
    """
    return L_2D - U_roof * l_roof - U_wall * l_wall


@formula("psi", "W/(m K)", "ISO 10211, inside dimensions", "from memory")
def psi_of_one(L_2D: float, U_roof: float, l_roof: float) -> float:
    """Heat lost at an edge beyond the plane roof.

    Parameters
    ----------
    L_2D : float
        Heat through the whole section for one kelvin [W/(m K)].
    U_roof : float
        Transmittance of the plane roof [W/(m2K)].
    l_roof : float
        Its length along the inner face, in the section [m].

    Returns
    -------
    float
        Linear transmittance [W/(m K)].

    Examples
    --------
    >>> psi_of_one(0.25, 0.16, 1.0)
    0.09
    """
    return L_2D - U_roof * l_roof


@dataclass(frozen=True, slots=True)
class EdgeValues:
    """Numbers of one edge.

    Parameters
    ----------
    coupling : Bracket
        Heat through the whole section for one kelvin [W/(m K)].
    psi : Bracket
        What of it goes beyond the plane parts [W/(m K)].
    factor : float
        Temperature factor of the coldest place of the room under the roof [-].
    coldest : tuple of float
        That place: inwards from the inner face, up from the top of the deck [m].
    """

    coupling: Bracket
    psi: Bracket
    factor: float
    coldest: tuple[float, float]


def solved(section: Section, *, quick: bool = False) -> tuple[EdgeValues, Solution]:
    """Solve the section of an edge.

    Parameters
    ----------
    section : Section
        The edge, 1 C inside and 0 C outside [m].
    quick : bool
        Whether to stop at a coarse mesh; the bracket is wider then, and still holds [-].

    Returns
    -------
    tuple of (EdgeValues, Solution)
        The numbers, and the field they are from [-].
    """
    run = partial(solve, most_cells=QUICK_CELLS) if quick else solve
    found = run(section.detail, accuracy=ACCURACY)
    plain = [(f.U, f.length) for f in section.flanks]
    x, z = found.coldest[INSIDE][1]
    values = EdgeValues(
        thermal_coupling(found),
        linear_transmittance(found, plain),
        temperature_factor(found, INSIDE),
        (x, z),
    )
    return values, found


@lru_cache(maxsize=KEPT)
def values(edge: Edge, films: Films = HEAT, *, quick: bool = False) -> EdgeValues:
    """Work out what an edge loses and how cold it gets.

    Parameters
    ----------
    edge : Edge
        Any edge that can be drawn [m].
    films : Films
        Surface resistances [m2K/W].
    quick : bool
        Whether to stop at a coarse mesh [-].

    Returns
    -------
    EdgeValues
        Linear transmittance in its bracket, and temperature factor [-].

    Examples
    --------
    >>> from evenfall.calc.physics.details import Course, PartyLine, Roof, Timbers, Wall
    >>> roof = Roof((Course("board", 0.12, 0.022),), Course("deck", 0.018, 0.13), (), None,
    ...             Timbers(0.047, 0.4, 0.13))
    >>> line = PartyLine(roof, Wall((Course("brick", 0.215, 0.77),)), 0.05, 0.13)
    >>> found = values(line)
    >>> found.psi.low < found.psi.best < found.psi.high
    True
    """
    return solved(edge.section(films), quick=quick)[0]

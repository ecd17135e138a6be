"""Coatings: paint on timber fascia before it is fixed, preservative on every end that is sawn."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.model.taken_off import Lengths
from evenfall.standards import take_off_practice as practice
from evenfall.working import Working, formula, total

COATS = ("fascia-primer", "fascia-undercoat", "fascia-topcoat")
"""Each goes on all faces and on the cut ends before the board is fixed."""
TREATED = ("edge-timber", "kerb-timber", "firring-timber", "batten")


@formula("A", "m2", "four faces, and both ends of every piece")
def painted_area(L: float, n: float, d: float, t: float) -> float:
    """Area of boards that are painted all round.

    Parameters
    ----------
    L : float
        Length of all pieces [m].
    n : float
        Pieces [-].
    d, t : float
        Depth, thickness [m].

    Returns
    -------
    float
        Area [m2].

    Examples
    --------
    >>> painted_area(10.0, 3, 0.200, 0.020)
    4.424
    """
    return 2 * L * (d + t) + 2 * n * d * t


def coats(lengths: Lengths) -> Iterator[tuple[str, Working]]:
    """Give the area that each coat covers.

    Parameters
    ----------
    lengths : Lengths
        Everything that comes in lengths; a board that is painted has its area [m2].

    Yields
    ------
    tuple of (str, Working)
        Coat and area; nothing without painted boards [m2].
    """
    painted = [(run.says, run.paint) for run in lengths.runs if run.paint is not None]
    for name in COATS if painted else ():
        title = f"Fascia painted all round: {name.partition('-')[2]}"
        yield name, total(title, "need", "m2", painted)


def sawn_ends(lengths: Lengths) -> float:
    """Count the ends of treated timber: two to every piece, sawn or not.

    Parameters
    ----------
    lengths : Lengths
        Everything that comes in lengths [-].

    Returns
    -------
    float
        Area to be brushed [m2].
    """
    pieces = sum(
        len(bar.cuts)
        for run in lengths.runs if run.id.partition(":")[2].startswith(TREATED)
        for bar in run.bars
    )  # fmt: skip
    return 2 * pieces * practice.TIMBER_END_M2

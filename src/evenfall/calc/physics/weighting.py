"""Transmittances of the parts of one roof, weighted by their areas."""

from __future__ import annotations

import math
from collections.abc import Iterable

from evenfall.errors import InvalidInput
from evenfall.working import formula


@formula("U_mean", "W/(m2K)", "Approved Document L: U-value weighted by area", "from memory")
def weighted(UA: float, A: float) -> float:
    """Transmittance of the whole roof, weighted by area.

    Parameters
    ----------
    UA : float
        Heat let through by all its parts [W/K].
    A : float
        Area of all of them [m2].

    Returns
    -------
    float
        Transmittance [W/(m2K)].

    Examples
    --------
    >>> weighted(4.25, 25.0)
    0.17
    """
    return UA / A


def mean_by_area(parts: Iterable[tuple[float, float]]) -> float:
    """Average transmittances by area; never resistances, and never thicknesses.

    Parameters
    ----------
    parts : iterable of (float, float)
        Transmittance [W/(m2K)] and area of each part; an area below 0 is taken off [m2].

    Returns
    -------
    float
        Mean transmittance [W/(m2K)].

    Raises
    ------
    InvalidInput
        If no area is left.

    Examples
    --------
    >>> mean_by_area([(0.16, 30.0), (0.28, 2.0)])
    0.1675
    >>> mean_by_area([(0.16, 30.0), (0.16, -2.0)])
    0.16

    References
    ----------
    ISO 6946 (2007 Annex C, 2017 Annex E), from memory.
    """
    listed = list(parts)
    whole = math.fsum(area for _, area in listed)
    if not whole > 0:
        raise InvalidInput(f"area {whole:g}", "more than 0", where="parts of the roof")
    return weighted(math.fsum(U * area for U, area in listed), whole)

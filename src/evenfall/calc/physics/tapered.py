"""Heat through boards cut to falls: the mean transmittance of tapered layers (ISO 6946).

``R0`` is the total resistance where the taper has no thickness (surfaces, other layers and the
constant part of the boards included); ``R1`` and ``R2`` are what the taper adds at most. What is
averaged over the area is U, never R and never the thickness.

The formulas of the document divide by zero where the taper vanishes or two corners are equal. They
stand here to be shown; the functions that compute take one form that has no such places: a taper
over a triangle makes R linear in it, and the mean of 1/R is a divided difference of x ln x.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from math import log as ln
from typing import Literal

from evenfall.calc.physics.weighting import mean_by_area
from evenfall.errors import InvalidInput, OutOfScope
from evenfall.standards import iso_6946
from evenfall.working import formula

Shape = Literal["rectangle", "thickest at apex", "thinnest at apex", "corners differ"]

_SOURCE = "ISO 6946 (2007 Annex C, 2017 Annex E)"


@formula("U", "W/(m2K)", f"{_SOURCE}, rectangle", "published, second-hand")
def rectangle_formula(R0: float, R1: float) -> float:
    """Mean transmittance of a rectangle that falls in one direction.

    Parameters
    ----------
    R0 : float
        Total resistance at the thin end [m2K/W].
    R1 : float
        Resistance of the taper at the thick end, not 0 [m2K/W].

    Returns
    -------
    float
        Mean transmittance [W/(m2K)].

    Examples
    --------
    >>> rectangle_formula(1.24, 3.2)
    0.398607
    """
    return 1 / R1 * ln(1 + R1 / R0)


@formula("U", "W/(m2K)", f"{_SOURCE}, triangle thickest at the apex", "published, second-hand")
def thickest_at_apex_formula(R0: float, R1: float) -> float:
    """Mean transmittance of a triangle that is thickest at its apex.

    Parameters
    ----------
    R0 : float
        Total resistance at the base [m2K/W].
    R1 : float
        Resistance of the taper at the apex, not 0 [m2K/W].

    Returns
    -------
    float
        Mean transmittance [W/(m2K)].

    Examples
    --------
    >>> thickest_at_apex_formula(1.24, 3.2)
    0.481135
    """
    return 2 / R1 * ((1 + R0 / R1) * ln(1 + R1 / R0) - 1)


@formula("U", "W/(m2K)", f"{_SOURCE}, triangle thinnest at the apex", "published, second-hand")
def thinnest_at_apex_formula(R0: float, R1: float) -> float:
    """Mean transmittance of a triangle that is thinnest at its apex.

    Parameters
    ----------
    R0 : float
        Total resistance at the apex [m2K/W].
    R1 : float
        Resistance of the taper at the base, not 0 [m2K/W].

    Returns
    -------
    float
        Mean transmittance [W/(m2K)].

    Examples
    --------
    >>> thinnest_at_apex_formula(1.24, 3.2)
    0.316079
    """
    return 2 / R1 * (1 - R0 / R1 * ln(1 + R1 / R0))


@formula("U", "W/(m2K)", f"{_SOURCE}, triangle with three thicknesses", "from memory")
def corners_differ_formula(R0: float, R1: float, R2: float) -> float:
    """Mean transmittance of a triangle with another thickness at each corner.

    Parameters
    ----------
    R0 : float
        Total resistance at the thinnest corner [m2K/W].
    R1 : float
        Resistance of the taper at the middle corner, not 0 [m2K/W].
    R2 : float
        Resistance of the taper at the thickest corner, more than ``R1`` [m2K/W].

    Returns
    -------
    float
        Mean transmittance [W/(m2K)].

    Examples
    --------
    >>> corners_differ_formula(1.24, 1.6, 3.2)
    0.373608
    """
    return (
        2
        * (
            R0 * R1 * ln(1 + R2 / R0)
            - R0 * R2 * ln(1 + R1 / R0)
            + R1 * R2 * ln((R0 + R2) / (R0 + R1))
        )
        / (R1 * R2 * (R2 - R1))
    )


def rectangle(R0: float, R1: float) -> float:
    """Give the mean transmittance of a rectangle that falls in one direction.

    Parameters
    ----------
    R0 : float
        Total resistance at the thin end, more than 0 [m2K/W].
    R1 : float
        Resistance of the taper at the thick end, 0 or more [m2K/W].

    Returns
    -------
    float
        Mean transmittance [W/(m2K)].

    Examples
    --------
    >>> rectangle(1.24, 3.2), rectangle(1.25, 0.0)
    (0.398607, 0.8)

    References
    ----------
    ISO 6946 (2007 C.1), published, second-hand; proved by integration.
    """
    _positive(R0, R1)
    return _log_mean(R1 / R0) / R0


def thickest_at_apex(R0: float, R1: float) -> float:
    """Give the mean transmittance of a triangle that is thickest at its apex, as at a hip.

    Parameters
    ----------
    R0 : float
        Total resistance at the base, more than 0 [m2K/W].
    R1 : float
        Resistance of the taper at the apex, 0 or more [m2K/W].

    Returns
    -------
    float
        Mean transmittance [W/(m2K)].

    Examples
    --------
    >>> thickest_at_apex(1.24, 3.2), thickest_at_apex(1.25, 0.0)
    (0.481135, 0.8)

    References
    ----------
    ISO 6946 (2007 C.2), published, second-hand; proved by integration.
    """
    return corners_differ(R0, 0.0, R1)


def thinnest_at_apex(R0: float, R1: float) -> float:
    """Give the mean transmittance of a triangle that is thinnest at its apex, as at a valley.

    Parameters
    ----------
    R0 : float
        Total resistance at the apex, more than 0 [m2K/W].
    R1 : float
        Resistance of the taper at the base, 0 or more [m2K/W].

    Returns
    -------
    float
        Mean transmittance [W/(m2K)].

    Examples
    --------
    >>> thinnest_at_apex(1.24, 3.2), thinnest_at_apex(1.25, 0.0)
    (0.316079, 0.8)

    References
    ----------
    ISO 6946 (2007 C.3), published, second-hand; proved by integration.
    """
    return corners_differ(R0, R1, R1)


def corners_differ(R0: float, R1: float, R2: float) -> float:
    """Give the mean transmittance of a triangle, the taper at its corners 0, ``R1`` and ``R2``.

    Parameters
    ----------
    R0 : float
        Total resistance at the thinnest corner, more than 0 [m2K/W].
    R1, R2 : float
        Resistance of the taper at the other corners, 0 or more, in any order [m2K/W].

    Returns
    -------
    float
        Mean transmittance [W/(m2K)].

    Examples
    --------
    >>> corners_differ(1.24, 1.6, 3.2), corners_differ(1.24, 3.2, 1.6)
    (0.373608, 0.373608)

    References
    ----------
    ISO 6946, from memory; proved by integration.
    """
    _positive(R0, R1, R2)
    x, y = sorted((R1 / R0, R2 / R0))
    if y < 1 / 100:
        return _series(x, y) / R0
    upper = math.log1p(x) + (1 + y) / (1 + x) * _log_mean((y - x) / (1 + x))
    lower = (1 + x) * _log_mean(x)
    return 2 * (upper - lower) / y / R0


def _log_mean(x: float) -> float:
    """Return ln(1 + x) / x, 1 where x is 0."""
    return math.log1p(x) / x if x else 1.0


def _series(x: float, y: float, terms: int = 8) -> float:
    """Return twice the integral of 1/(1 + r), r linear with corners 0, x, y, both small."""
    symmetric = [math.fsum(x**k * y ** (n - k) for k in range(n + 1)) for n in range(terms)]
    return math.fsum(2 * (-1) ** n * h / ((n + 1) * (n + 2)) for n, h in enumerate(symmetric))


def _positive(R0: float, *tapers: float) -> None:
    if not R0 > 0 or not all(R >= 0 for R in tapers):
        raise InvalidInput(f"R0 {R0}, taper {tapers}", "R0 > 0, taper 0 or more", where="taper")


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a tapered roof.

    Parameters
    ----------
    shape : str
        ``rectangle``, ``thickest at apex``, ``thinnest at apex`` or ``corners differ`` [-].
    area : float
        Its area [m2].
    slope : float
        Its steepest slope, rise by run [-].
    R0 : float
        Total resistance where the taper has no thickness [m2K/W].
    R1 : float
        Resistance of the taper where it is thickest, or at the middle of three corners [m2K/W].
    R2 : float, optional
        Resistance of the taper at the thickest of three corners [m2K/W].
    """

    shape: Shape
    area: float
    slope: float
    R0: float
    R1: float
    R2: float | None = None

    def __post_init__(self) -> None:
        if not self.area > 0:
            raise InvalidInput(f"area {self.area}", "more than 0", where=self.shape)
        if (self.R2 is not None) != (self.shape == "corners differ"):
            raise InvalidInput(f"R2 {self.R2}", "R2 for three corners only", where=self.shape)
        limit = iso_6946.TAPER_SLOPE_LIMIT
        if not 0 <= self.slope <= limit:
            raise OutOfScope("slope", self.slope, f"0 to {limit.value:g}", limit.where)

    @property
    def U(self) -> float:
        """Mean transmittance of the part [W/(m2K)]."""
        if self.shape == "rectangle":
            return rectangle(self.R0, self.R1)
        if self.shape == "thickest at apex":
            return thickest_at_apex(self.R0, self.R1)
        if self.shape == "thinnest at apex":
            return thinnest_at_apex(self.R0, self.R1)
        return corners_differ(self.R0, self.R1, self.R2 or 0.0)


def whole_roof(parts: Sequence[Part]) -> float:
    """Give the transmittance of a roof of several parts, the mean of U by area.

    Parameters
    ----------
    parts : sequence of Part
        At least one [-].

    Returns
    -------
    float
        Mean transmittance [W/(m2K)].

    Examples
    --------
    >>> whole_roof([Part("rectangle", 12.0, 1 / 40, 3.0851, 3.0318),
    ...             Part("thickest at apex", 4.0, 1 / 40, 3.0851, 3.0318)])
    0.23215

    References
    ----------
    ISO 6946 (2007 Annex C, 2017 Annex E), from memory.
    """
    if not parts:
        raise InvalidInput("no part", "at least one", where="tapered roof")
    return mean_by_area((part.U, part.area) for part in parts)

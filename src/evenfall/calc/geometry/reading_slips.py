"""What a reading that is far out may have been meant to be: another unit, a slipped point."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations

from evenfall.standards.survey_practice import FOOT, INCH, W_CRITICAL

UNITS = (
    ("feet", float(FOOT), 0.015),
    ("inches", float(INCH), 0.013),
    ("centimetres", 0.01, 0.005),
    ("millimetres", 0.001, 0.0005),
)  # how it was read, in m, and half of the last figure that is written in that unit, in m
POINTS = (0.1, 10.0)  # a decimal point one place off
MARKS = (1.0, -1.0, 0.1, -0.1)  # m, the wrong metre or decimetre mark on the tape
FINEST = 0.001  # m, readings are written to the millimetre


@dataclass(frozen=True, slots=True)
class Slip:
    """What happened, in words, and what the reading should have been, in m.

    ``sure`` where it is the same reading in other words, so that it may be put right at the desk.
    """

    says: str
    meant: float
    sure: bool


def slip_of(read: float, fits: float, give: float) -> Slip | None:
    """Recognise a slip by what the other tapes say that the reading should be.

    Parameters
    ----------
    read : float
        As written [m].
    fits : float
        What the others say [m].
    give : float
        Standard error of the difference [m].

    Returns
    -------
    Slip or None
        None where no usual slip explains it [-].

    Examples
    --------
    >>> slip_of(20.34, 6.203, 0.005)
    Slip(says='20.34 feet are 6.200 m', meant=6.2, sure=True)
    >>> slip_of(7.34, 7.432, 0.005).says
    'two figures swapped? 7.430 would fit'
    >>> slip_of(7.48, 7.432, 0.005)
    """
    slack = float(W_CRITICAL) * give
    for unit, metres, half in UNITS:
        meant = round(read * metres, 3)
        if abs(meant - fits) <= slack + half:
            return Slip(f"{read:g} {unit} are {meant:.3f} m", meant, True)
    if abs(read - fits) <= slack:
        return None
    for factor in POINTS:
        meant = round(read * factor, 3)
        if abs(meant - fits) <= slack + FINEST:
            return Slip(f"the point slipped: {meant:.3f} would fit", meant, True)
    swapped = [m for m in _swapped(read) if abs(m - fits) <= slack]
    if swapped:
        meant = min(swapped, key=lambda m: abs(m - fits))
        return Slip(f"two figures swapped? {meant:.3f} would fit", meant, False)
    for step in MARKS:
        meant = round(read + step, 3)
        if abs(meant - fits) <= slack:
            size = f"{abs(step):g} m"
            return Slip(f"{size} misread on the tape? {meant:.3f} would fit", meant, False)
    return None


def _swapped(read: float) -> list[float]:
    """List the readings with two neighbouring figures swapped."""
    text = f"{read:.3f}"
    places = [i for i, c in enumerate(text) if c != "."]
    found = []
    for i, j in combinations(places, 2):
        if places.index(j) - places.index(i) == 1 and text[i] != text[j]:
            swapped = list(text)
            swapped[i], swapped[j] = swapped[j], swapped[i]
            found.append(float("".join(swapped)))
    return [m for m in found if math.isfinite(m) and m > 0]

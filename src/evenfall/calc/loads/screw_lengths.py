"""Screw lengths over tapered boards: few stock lengths, none of which comes out far below."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple


class Reach(NamedTuple):
    """A stock length, and the layers under its head from which and up to which it is used [mm]."""

    length_mm: int
    from_mm: float
    to_mm: float


def reaches(
    lengths_mm: Sequence[int], thin_mm: float, thick_mm: float, embedment_mm: float, deep_mm: float
) -> tuple[Reach, ...]:
    """Divide the thicknesses among as few stock lengths as may be.

    From the thick end on: the shortest that bites, as far down as its point stays within the
    depth; where not even that does, as far as the next shorter one bites.

    Parameters
    ----------
    lengths_mm : sequence of int
        Lengths that are sold [mm].
    thin_mm, thick_mm : float
        Layers under the head of a screw, where they are thinnest and where thickest [mm].
    embedment_mm, deep_mm : float
        Least and most depth of the point below the top of the deck [mm].

    Returns
    -------
    tuple of Reach
        The shortest first; empty where no length reaches through the thick end [mm].

    Examples
    --------
    >>> [tuple(r) for r in reaches((130, 160, 180), 96.0, 145.0, 30.0, 30.0)]
    [(130, 96.0, 100.0), (160, 100.0, 130.0), (180, 130.0, 145.0)]
    >>> [tuple(r) for r in reaches((130, 160, 180), 96.0, 145.0, 30.0, 60.0)]
    [(130, 96.0, 100.0), (160, 100.0, 120.0), (180, 120.0, 145.0)]
    >>> reaches((130, 160), 96.0, 145.0, 30.0, 60.0)
    ()
    """
    found: list[Reach] = []
    end, sold = thick_mm, sorted(lengths_mm)
    while not found or end > thin_mm:
        length = next((n for n in sold if n - embedment_mm >= end), None)
        if length is None:
            return ()
        shorter = max((n for n in sold if n < length), default=0) - embedment_mm
        start = max(thin_mm, min(length - deep_mm, shorter))
        found.append(Reach(length, start, end))
        end = start
    return tuple(reversed(found))


def deepest(found: Sequence[Reach]) -> float:
    """Give how deep below the top of the deck the deepest point of all screws ends.

    Parameters
    ----------
    found : sequence of Reach
        Lengths and where each is used [mm].

    Returns
    -------
    float
        Depth; nought without screws [mm].

    Examples
    --------
    >>> deepest(reaches((130, 160, 180), 96.0, 145.0, 30.0, 30.0))
    60.0
    """
    return max((r.length_mm - r.from_mm for r in found), default=0.0)

"""Timbers laid one on another to make up a height."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations_with_replacement
from math import ceil

from evenfall.errors import InvalidInput

MORE = 3  # courses beyond the fewest that could make the height; more than these are never needed


def stack_up(height_mm: float, sold_mm: Sequence[int], plane_mm: float) -> tuple[int, ...]:
    """Choose timbers that together are at least as high as asked, the thickest lowest.

    The fewest courses are taken that come to the height, or to no more above it than can be
    planed off the uppermost; of these the ones that leave least to plane. Where no number of
    courses comes so near, the stack that stands least above the height.

    Parameters
    ----------
    height_mm : float
        Height to be made [mm].
    sold_mm : sequence of int
        Thicknesses that are sold [mm].
    plane_mm : float
        What is planed off at most [mm].

    Returns
    -------
    tuple of int
        Thicknesses from the lowest up; never lower than the height [mm].

    Examples
    --------
    >>> stack_up(90, (25, 38, 47, 50, 63, 75, 100), 6)
    (47, 47)
    >>> stack_up(140, (25, 38, 47, 50, 63, 75, 100), 6)
    (47, 47, 47)
    >>> stack_up(30, (50, 100), 6)
    (50,)
    """
    if not sold_mm or min(sold_mm) <= 0 or height_mm <= 0:
        raise InvalidInput(f"height {height_mm}, timbers {tuple(sold_mm)}", "sizes above 0",
                           where="stack_up")  # fmt: skip
    sizes = sorted(set(sold_mm), reverse=True)
    height = ceil(round(height_mm, 6))
    least = ceil(height / sizes[0])
    best: tuple[int, tuple[int, ...]] | None = None
    for number in range(least, least + MORE + 1):
        found = _nearest(height, sizes, number)
        if found is None:
            continue
        over = sum(found) - height
        if over <= plane_mm:
            return found
        if best is None or over < best[0]:
            best = over, found
    assert best is not None  # the tallest timbers alone are high enough
    return best[1]


def _nearest(height: int, sizes: list[int], number: int) -> tuple[int, ...] | None:
    """Find the stack of a number of courses that stands least above a height; even ones first."""
    high = [c for c in combinations_with_replacement(sizes, number) if sum(c) >= height]
    return min(high, key=lambda c: (sum(c), c[0] - c[-1]), default=None)

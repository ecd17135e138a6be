"""Which distances stay on the roof: across an inner corner there often is a house."""

from __future__ import annotations

import numpy as np

from evenfall.calc.geometry.network import Array

SAMPLES = 9  # places along a distance that are looked at
EDGE = 0.02  # m, this far outside still counts as along the edge


def on_roof(xy: Array, corners: int, pairs: list[tuple[int, int]]) -> list[bool]:
    """Tell which distances stay on the roof; those from points that are no corners always do.

    Parameters
    ----------
    xy : array of shape (points, 2)
        Places, the corners first [m].
    corners : int
        How many of them are corners [-].
    pairs : list of (int, int)
        Both ends [-].

    Returns
    -------
    list of bool
        One for each [-].

    Examples
    --------
    >>> chevron = np.array([(0, 0), (3, 2), (6, 0), (3, 6)], float)
    >>> on_roof(chevron, 4, [(0, 2), (1, 3)])
    [False, True]
    """
    if not pairs:
        return []
    ends = np.array(pairs)
    share = np.linspace(0, 1, SAMPLES + 2)[1:-1, None]
    at = xy[ends[:, 0], None] * (1 - share) + xy[ends[:, 1], None] * share
    far = _outside(at.reshape(-1, 2), xy[:corners]).reshape(len(pairs), SAMPLES).max(axis=1)
    good: list[bool] = ((far <= EDGE) | (ends.max(axis=1) >= corners)).tolist()
    return good


def _outside(at: Array, ring: Array) -> Array:
    """How far outside the outline each point lies, 0 inside, m."""
    p, q = ring, np.roll(ring, -1, axis=0)
    x, y = at[:, None, 0], at[:, None, 1]
    rise = np.where(q[:, 1] == p[:, 1], 1.0, q[:, 1] - p[:, 1])
    crosses = ((p[:, 1] > y) != (q[:, 1] > y)) & (
        x < p[:, 0] + (y - p[:, 1]) * (q[:, 0] - p[:, 0]) / rise
    )
    way = q - p
    along = ((at[:, None] - p) * way).sum(axis=2) / (way * way).sum(axis=1)
    foot = p + np.clip(along, 0, 1)[..., None] * way
    gap = np.hypot(*np.moveaxis(at[:, None] - foot, 2, 0)).min(axis=1)
    far: Array = np.where(crosses.sum(axis=1) % 2 == 1, 0.0, gap)
    return far

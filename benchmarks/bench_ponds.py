"""The pond map of 100 m2 on a grid of 25 mm against the filling of scikit-image on that grid."""

from __future__ import annotations

import random

import numpy as np
from benchmarks.timing import Figure, measure

GOAL = 0.5
STEP = 0.025
WIDE, DEEP = 12.5, 8.0
SPOTS = 24


def roof() -> tuple[tuple[float, float, float], ...]:
    """Give spot levels of a roof that falls 1 in 100 and lies 30 mm out here and there."""
    draw = random.Random(2026)
    corners = [(0.0, 0.0), (WIDE, 0.0), (WIDE, DEEP), (0.0, DEEP)]
    inner = [(draw.uniform(0.3, WIDE - 0.3), draw.uniform(0.3, DEEP - 0.3))
             for _ in range(SPOTS - 4)]  # fmt: skip
    return tuple((x, y, y / 100 + draw.uniform(-0.03, 0.03)) for x, y in corners + inner)


def figures() -> list[Figure]:
    """Measure spot levels to map, cells and all; the floor is given its levels on the grid."""
    from skimage.morphology import reconstruction

    from evenfall.calc.drainage.ponds import depth_map, drains, fill
    from evenfall.calc.geometry.relief import spot_relief
    from evenfall.calc.geometry.surface import levels_at, surface

    plan = ((0.0, 0.0), (WIDE, 0.0), (WIDE, DEEP), (0.0, DEEP))
    spots = roof()

    def ours() -> np.ndarray:
        relief = spot_relief(surface(spots), plan)
        return depth_map(fill(relief, drains(relief, [(plan[0], plan[1])], [])), STEP)[0]

    depths = ours()
    rows, columns = depths.shape
    xs, ys = STEP * (np.arange(columns) + 0.5), STEP * (np.arange(rows) + 0.5)
    at = tuple((float(x), float(y)) for y in ys for x in xs)
    level = np.pad(np.array(levels_at(surface(spots), at)).reshape(rows, columns), 1,
                   constant_values=9.0)  # fmt: skip
    start = np.full_like(level, 9.0)
    start[1] = level[1]

    def theirs() -> np.ndarray:
        filled: np.ndarray = reconstruction(start, level, method="erosion",
                                            footprint=np.ones((3, 3)))  # fmt: skip
        return filled

    off = np.abs((theirs() - level)[1:-1, 1:-1] - depths).max()
    if off > 0.002 or depths.max() < 0.005:
        raise AssertionError(f"the two fillings differ by {1000 * off:.1f} mm")
    return [measure("ponds", ours, theirs, GOAL)]

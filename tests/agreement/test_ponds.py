"""Ponds against grey-scale reconstruction by scikit-image, on a grid of 25 mm."""

from __future__ import annotations

import random

import numpy as np
import pytest

from evenfall.calc.drainage.ponds import depth_map, drains, fill, pools
from evenfall.calc.geometry.relief import spot_relief
from evenfall.calc.geometry.surface import levels_at, surface

skimage = pytest.importorskip("skimage.morphology")

STEP = 0.025
ROOF = ((0.0, 0.0), (7.3, 0.0), (7.3, 2.9), (3.1, 2.9), (3.1, 6.7), (0.0, 6.7))
KERB = ((1.0, 1.2), (2.0, 1.1), (2.1, 2.0), (1.1, 2.1))
OUTLET = (5.0125, 1.0125)
PLACES = ((0.1, 0.1), (7.0, 0.2), (7.1, 2.7), (3.0, 2.9), (3.0, 6.5), (0.2, 6.6),
          (1.4, 3.0), (4.0, 1.0), (2.0, 5.0))  # fmt: skip


@pytest.mark.parametrize("seed", [1, 2, 3, 5, 8])
def test_depths_agree_with_a_filling_on_squares(seed):
    """Squares know a way out only to their own size: 25 mm on a slope of 1 in 20 is 1.25 mm."""
    draw = random.Random(seed)
    spots = surface(tuple((x, y, draw.uniform(0, 0.1)) for x, y in PLACES))
    relief = spot_relief(spots, ROOF, (KERB,), (OUTLET,))
    full = fill(relief, drains(relief, [(ROOF[0], ROOF[1])], [OUTLET]))
    depths, (x0, y0) = depth_map(full, STEP)
    rows, columns = depths.shape
    points = tuple((x0 + STEP * j, y0 + STEP * i) for i in range(rows) for j in range(columns))
    level = np.array(levels_at(spots, points)).reshape(rows, columns)
    beside = np.isnan(depths)
    walls = np.pad(np.where(beside, 9.0, level), 1, constant_values=9.0)
    start = np.full_like(walls, 9.0)
    start[1] = walls[1]
    i, j = round((OUTLET[1] - y0) / STEP) + 1, round((OUTLET[0] - x0) / STEP) + 1
    start[i, j] = walls[i, j]
    theirs = skimage.reconstruction(start, walls, method="erosion", footprint=np.ones((3, 3)))
    their_depths = (theirs - walls)[1:-1, 1:-1]
    off = np.abs(np.where(beside, 0, their_depths - depths))
    assert np.nanmax(depths) > 0.01
    assert off.max() < 0.002
    held = float(np.where(beside, 0, their_depths).sum()) * STEP**2
    found = pools(full)
    wet = sum(p.area for p in found)
    assert sum(p.volume for p in found) == pytest.approx(held, abs=wet * 0.001)  # 1 mm of depth

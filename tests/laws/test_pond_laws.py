"""Laws of ponds: no water is lost, and what is filled drains everywhere."""

from __future__ import annotations

import math
from collections import deque
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenfall.calc.drainage.ponds import depth_map, drains, fill, pools
from evenfall.calc.drainage.tapering import Scheme, folds, heights, pieces, to_outlet
from evenfall.calc.drainage.water_ways import Ground
from evenfall.calc.geometry.polygon import area, turn
from evenfall.calc.geometry.relief import net, spot_relief
from evenfall.calc.geometry.surface import plane_level, surface

ROOF = ((0.0, 0.0), (7.3, 0.0), (7.3, 2.9), (3.1, 2.9), (3.1, 6.7), (0.0, 6.7))
KERB = ((1.0, 1.2), (2.0, 1.1), (2.1, 2.0), (1.1, 2.1))
STEP = 0.05
FEW = settings(max_examples=20, deadline=None)

levels = st.lists(st.integers(0, 90), min_size=9, max_size=9)
spots = st.lists(
    st.tuples(st.floats(0.2, 2.9), st.floats(0.2, 6.5)), min_size=4, max_size=4,
    unique_by=(lambda p: round(p[0], 1), lambda p: round(p[1], 1)),
)  # fmt: skip


def roof(inner, z, outlet=(5.1, 1.3)):
    corners = ((0.1, 0.1), (7.0, 0.2), (7.1, 2.7), (3.0, 2.8), (0.2, 6.6))
    at = [(*p, v / 1000) for p, v in zip((*corners, *inner), z, strict=True)]
    found = spot_relief(surface(tuple(at)), ROOF, (KERB,), (outlet,))
    return found, fill(found, drains(found, [(ROOF[0], ROOF[1])], [outlet]))


@given(spots, levels)
@FEW
def test_the_cells_are_convex_flat_and_cover_the_roof(inner, z):
    found, _ = roof(inner, z)
    assert sum(area(found.ring(n)) for n in range(len(found.net.cells))) == pytest.approx(
        area(ROOF) - area(KERB), abs=1e-4
    )
    for n, cell in enumerate(found.net.cells):
        ring, plane = found.ring(n), found.planes[n]
        for p, q, r in zip(ring, (*ring[1:], ring[0]), (*ring[2:], *ring[:2]), strict=True):
            assert turn(p, q, r) > -1e-4
        wide = area(ring) / max(math.dist(ring[0], p) for p in ring[1:])
        off = max(abs(plane_level(plane, p) - found.levels[i]) for p, i in
                  zip(ring, cell, strict=True))  # fmt: skip
        assert off < 1e-6 / max(wide, 1e-3)


@given(spots, levels)
@FEW
def test_ponds_hold_what_stands_between_the_water_and_the_deck(inner, z):
    """Their volumes against a sum of depths on squares that knows nothing of outlines."""
    _, full = roof(inner, z)
    found = pools(full)
    depths, _ = depth_map(full, STEP)
    held = float(np.nansum(depths)) * STEP**2
    assert sum(p.volume for p in found) == pytest.approx(held, rel=0.02, abs=2e-4)
    assert all(0 < p.volume <= p.depth * p.area for p in found)
    assert all(abs(area(p.rings[0]) - sum(area(r) for r in p.rings[1:]) - p.area) < 1e-3
               for p in found)  # fmt: skip


@given(spots, levels)
@FEW
def test_the_filled_surface_drains_everywhere(inner, z):
    """From the drains back uphill, over edges of cells, every corner is reached."""
    found, full = roof(inner, z)
    at = drains(found, [(ROOF[0], ROOF[1])], [(5.1, 1.3)])
    beside: dict[int, set[int]] = {}
    for cell in found.net.cells:
        for i in cell:
            beside.setdefault(i, set()).update(cell)
    reached, queue = set(at), deque(at)
    while queue:
        i = queue.popleft()
        for j in beside[i] - reached:
            if full.water[j] >= full.water[i] - 1e-12:
                reached.add(j)
                queue.append(j)
    assert reached == set(beside)
    assert all(w >= v for w, v in zip(full.water, found.levels, strict=True))


@given(spots, levels, st.integers(1, 40))
@FEW
def test_a_higher_drain_never_holds_back_less_water(inner, z, more):
    found, full = roof(inner, z)
    leaves = drains(found, [], [(5.1, 1.3)])
    alone = fill(found, leaves)  # the eaves closed
    assert sum(p.volume for p in pools(alone)) >= sum(p.volume for p in pools(full)) - 1e-9
    lifted, _ = roof(inner, [v + more for v in z])
    assert [w + more / 1000 for w in full.water] == pytest.approx(
        list(fill(lifted, drains(lifted, [(ROOF[0], ROOF[1])], [(5.1, 1.3)])).water)
    )


@given(
    st.tuples(st.floats(0.5, 2.5), st.floats(0.5, 6.0)),
    st.tuples(st.floats(3.5, 7.0), st.floats(0.4, 2.5)), st.integers(40, 80),
)  # fmt: skip
@FEW
def test_boards_cut_to_falls_drain_to_their_outlets_and_their_pieces_are_the_roof(a, b, one_in):
    fall = (1 / one_in,) * 4
    scheme = Scheme((to_outlet(a, (1.0, 0.0), fall), to_outlet(b, (1.0, 0.0), fall)))
    cut = net(ROOF, (), folds(scheme, 20.0))
    rings = pieces(cut)
    assert sum(map(area, rings)) == pytest.approx(area(ROOF), abs=1e-4)
    assert all(3 <= len(r) <= 4 for r in rings)
    for ring in rings:  # flat: the middle lies between its corners
        middle = tuple(sum(p[k] for p in ring[:3]) / 3 for k in (0, 1))
        up = heights(scheme, (*ring[:3], middle))
        assert up[3] == pytest.approx(sum(up[:3]) / 3, abs=1e-7)
    level = tuple((x, y, 0.0) for x, y in ROOF)
    made = spot_relief(
        surface(level), ROOF, (), (a, b), folds(scheme, 20.0), lambda p: heights(scheme, p)
    )
    full = fill(made, drains(made, [], [a, b]))
    if min(abs(a[0] - b[0]), abs(a[1] - b[1])) > 0.3 and a[0] < 2.9:
        inside = [p for p in pools(full, 1e-5) if p.spills_at[1] < 2.9]
        assert all(p.depth < abs(a[1] - b[1]) / one_in + 0.2 for p in inside)


@given(spots, levels, st.tuples(st.floats(0.3, 2.8), st.floats(2.4, 6.4)))
@FEW
def test_a_drop_never_runs_uphill_and_ends_at_a_drain_in_a_pond_or_on_level_ground(inner, z, start):
    found, full = roof(inner, z)
    leaves = frozenset(drains(found, [(ROOF[0], ROOF[1])], [(5.1, 1.3)]))
    way = Ground(found, leaves).way(start)
    assert way is not None
    assert all(b <= a + 1e-5 for a, b in pairwise(way.levels))
    end = way.line[-1]
    if way.ends == "drain":
        near = min(math.dist(end, found.net.points[i]) for i in leaves)
        assert near < 1e-4 or abs(end[1]) < 1e-4
    else:  # water stands over its end, or it has come to level ground
        i = min(range(len(found.levels)), key=lambda i: math.dist(found.net.points[i], end))
        beside = {j for cell in found.net.cells if i in cell for j in cell}
        level = any(abs(found.levels[j] - found.levels[i]) < 1e-5 for j in beside - {i})
        assert full.water[i] > found.levels[i] + 1e-6 or level

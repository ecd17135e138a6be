"""Wind zones on any plan: they tile it, and agree with the rule worked point by point.

The rule of `calc.loads.plan_zones` is written here a second time, without a single polygon: from
distances alone, one point at a time, over all winds at once.
"""

import math
import random

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from tests.unit import plans

from evenfall.calc.geometry.worst_wins import cover
from evenfall.calc.loads.plan_zones import laid
from evenfall.errors import InvalidInput

PULL = {"F": 2.5, "G": 2.0, "H": 1.2, "I": 0.2}
CURVED = {"F": 1.5, "G": 1.8, "H": 0.4, "I": 0.2}  # Table 7.2, r/h 0.05: G is worse than F
NEAR = 2e-3  # nearer to a line than this a point may belong to either side

STAR = tuple(
    (r * math.cos(math.radians(a)), r * math.sin(math.radians(a)))
    for a, r in [(3, 7.1), (48, 3.4), (85, 6.3), (139, 2.6), (170, 5.9), (222, 3.1), (260, 6.6),
                 (301, 2.9)]
)  # fmt: skip
LETTER_U = (
    (0.3, 0),
    (9.1, 0.4),
    (8.9, 6.2),
    (6.3, 6.1),
    (6.4, 2.8),
    (2.9, 2.6),
    (2.7, 5.8),
    (0, 5.7),
)
CUT = ((0, 0), (7.4, 0), (9.6, 2.1), (9.6, 5.3), (4.2, 5.6), (4.1, 8.0), (0.2, 7.9))
SKEWED = ((1, 1), (6.2, 4.1), (4.4, 8.3), (3.1, 7.4), (2.6, 8.6), (-1.9, 5.2))
TRIANGLE = ((0, 0), (8.3, 0.7), (2.2, 6.1))


def brute(plan, h, point, pull):
    """Worst zone at a point, and how near the nearest line of any zone is."""
    px, py = point
    n = len(plan)
    pairs = [(plan[i], plan[(i + 1) % n]) for i in range(n)]
    way = [(math.atan2(b[1] - a[1], b[0] - a[0]), math.dist(a, b)) for a, b in pairs]
    best, near = "I", math.inf

    def meet(value, *lines):
        nonlocal near
        near = min([near, *(abs(value - line) for line in lines)])

    def worse(zone):
        nonlocal best
        if pull[zone] > pull[best]:
            best = zone

    main = max(way, key=lambda w: round(w[1], 6))[0]
    for quarter in range(4):  # four winds on the rectangle: s along its face, t away from it
        turn = main + quarter * math.pi / 2
        u, v = math.cos(turn), math.sin(turn)
        ss = [x * u + y * v for x, y in plan]
        ts = [y * u - x * v for x, y in plan]
        s, t = px * u + py * v - min(ss), py * u - px * v - min(ts)
        b = max(ss) - min(ss)
        e = min(b, 2 * h)
        end = min(s, b - s)
        meet(t, e / 10, e / 2)
        if t < e / 10 + NEAR:
            meet(end, e / 4)
        worse(("F" if end < e / 4 else "G") if t < e / 10 else "H" if t < e / 2 else "I")
    for i, ((a, _), (turn, length)) in enumerate(zip(pairs, way, strict=True)):
        u, v = math.cos(turn), math.sin(turn)
        ss = [x * u + y * v for x, y in plan]
        e = min(max(ss) - min(ss), 2 * h)
        s, t = (px - a[0]) * u + (py - a[1]) * v, (py - a[1]) * u - (px - a[0]) * v
        out = [math.remainder(way[j][0] - way[j - 1][0], 2 * math.pi) >= math.radians(30)
               for j in (i, (i + 1) % n)]  # fmt: skip
        corner = min(e / 4, length)
        meet(t, 0.0, e / 10)
        meet(s, 0.0, length, corner, length - corner)
        if not (0 <= t <= e / 10 and 0 <= s <= length):
            continue
        at_end = (out[0] and s < corner) or (out[1] and s > length - corner)
        worse("F" if at_end else "G")
    return best, near


def tiled(plan, h, pull):
    """Zones as the product lays them; the worst first."""
    shapes = laid(plan, h)
    order = sorted(pull, key=lambda z: -pull[z])
    return cover(plan, tuple((z, tuple(s.ring for s in shapes if s.zone == z)) for z in order))


@pytest.mark.parametrize("pull", [PULL, CURVED])
@pytest.mark.parametrize("plan", [STAR, LETTER_U, CUT, SKEWED, TRIANGLE, plans.LETTER_L])
def test_zones_agree_with_the_rule_at_a_thousand_points(plan, pull):
    h, dice, roof = 3.1, random.Random(7), shapely.Polygon(plan)
    parts = [(zone, shapely.Polygon(ring)) for zone, ring in tiled(plan, h, pull)]
    x0, y0, x1, y1 = roof.bounds
    told = 0
    while told < 1000:
        point = (dice.uniform(x0, x1), dice.uniform(y0, y1))
        if not roof.contains(shapely.Point(point)):
            continue
        zone, near = brute(plan, h, point, pull)
        if near < NEAR:
            continue
        told += 1
        here = [name for name, part in parts if part.contains(shapely.Point(point))]
        assert here == [zone], point


def test_the_rule_bites_where_one_wind_is_left_out():
    """Without the winds on its own sides the inner edges of the U would count as field."""
    roof = shapely.Polygon(LETTER_U)
    shapes = laid(LETTER_U, 3.1)[:20]
    assert len({s.onto for s in shapes}) == 4
    order = sorted(PULL, key=lambda z: -PULL[z])
    poor = cover(LETTER_U, tuple((z, tuple(s.ring for s in shapes if s.zone == z)) for z in order))
    dice, wrong = random.Random(7), 0
    for _ in range(1000):
        point = (dice.uniform(0, 9), dice.uniform(0, 6))
        if roof.contains(shapely.Point(point)):
            zone = brute(LETTER_U, 3.1, point, PULL)[0]
            wrong += all(n != zone or not shapely.Polygon(r).contains(shapely.Point(point))
                         for n, r in poor)  # fmt: skip
    assert wrong > 20


@st.composite
def polygons(draw):
    """Star-shaped plans of 3 to 12 corners, turned and stretched any way."""
    n = draw(st.integers(3, 12))
    turn, flat = draw(st.floats(0, 360)), draw(st.floats(0.3, 1.0))
    ring = []
    for i in range(n):
        r, a = draw(st.floats(1.5, 9.0)), math.radians(turn + 360 * i / n)
        ring.append((r * math.cos(a), flat * r * math.sin(a)))
    shape = shapely.Polygon(ring)
    assume(shape.is_valid and shape.area > 2)
    return tuple(ring)


@given(polygons(), st.floats(1.5, 12.0))
@settings(max_examples=40, deadline=None)
def test_zones_tile_any_polygon_without_gap_or_overlap(plan, h):
    parts = [shapely.Polygon(ring) for _, ring in tiled(plan, h, PULL)]
    whole = shapely.Polygon(plan).area
    assert sum(p.area for p in parts) == pytest.approx(whole, rel=1e-5)
    assert shapely.union_all(parts, grid_size=1e-7).area == pytest.approx(whole, rel=1e-5)


@given(polygons(), st.floats(0, 2 * math.pi))
@settings(max_examples=15, deadline=None)
def test_zones_turn_with_the_roof(plan, turn):
    lengths = sorted(math.dist(a, b) for a, b in zip(plan, (*plan[1:], plan[0]), strict=True))
    assume(lengths[-1] - lengths[-2] > 1e-3)  # two longest sides: the turn may pick the other
    c, s = math.cos(turn), math.sin(turn)
    turned = tuple((c * x - s * y, s * x + c * y) for x, y in plan)
    areas = [
        {z: sum(shapely.Polygon(r).area for n, r in tiled(p, 3.0, PULL) if n == z) for z in PULL}
        for p in (plan, turned)
    ]
    assert areas[0] == pytest.approx(areas[1], rel=1e-4, abs=1e-4)


@given(polygons(), st.floats(1.5, 6.0), st.floats(1.0, 2.0))
@settings(max_examples=15, deadline=None)
def test_a_higher_roof_never_has_less_of_the_worst_zone(plan, h, more):
    low, high = (
        sum(shapely.Polygon(r).area for n, r in tiled(plan, x, PULL) if n in "FG")
        for x in (h, h * more)
    )
    assert high >= low - 1e-6


@pytest.mark.parametrize("h", [0.0, -2.0, math.inf])
def test_a_roof_at_no_height_is_refused(h):
    with pytest.raises(InvalidInput):
        laid(plans.OBLONG, h)

"""A checker of roll plans that shares no code with the planner.

It lays the drawn pieces on the roof in their order and cuts every roll again.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from math import dist, hypot
from typing import TYPE_CHECKING

from shapely import LineString, Point, Polygon, unary_union

if TYPE_CHECKING:
    from evenfall.calc.layout.rolls import RollPiece, RollPlan

Ring = tuple[tuple[int, int], ...]

NEAR = 2.0  # corners of a turned plan are rounded to the millimetre [mm]
FACES = 0.9  # cosine of some 25 degrees: a side that faces up the fall nearer than that is high
LEAN = 0.05  # sine of some 3 degrees: a lap that leans less is level


@dataclass(frozen=True, slots=True)
class RollTask:
    """What a roof asks of the layer [mm]."""

    outline: Ring
    turn_up_mm: float
    roll: tuple[int, int]  # width and length
    low_side: tuple[int, int]
    side_lap_mm: float
    end_lap_mm: float
    shortest_mm: float
    holes: Sequence[Ring] = ()


def check_rolls(plan: RollPlan, task: RollTask) -> tuple[str, ...]:
    """Check a roll plan, whoever made it, and name every fault.

    Parameters
    ----------
    plan : RollPlan
        Pieces in the order of laying, strips up the kerbs, rolls [mm].
    task : RollTask
        What the roof asks [mm].

    Returns
    -------
    tuple of str
        The faults, none when the plan is right [-].

    Examples
    --------
    >>> from evenfall.calc.layout.rolls import plan_rolls
    >>> roof = ((0, 0), (6200, 0), (6200, 4100), (0, 4100))
    >>> plan = plan_rolls(roof, 200, (1080, 20000), direction=(1, 0), low_side=(0, -1))
    >>> check_rolls(plan, RollTask(roof, 200, (1080, 20000), (0, -1), 80, 150, 1000))
    ()
    >>> check_rolls(plan, RollTask(roof, 240, (1080, 20000), (0, -1), 80, 150, 1000))[0]
    'turn-up: side 0 has less than its 240 mm'
    """
    return (
        *_bare(plan, task),
        *_numbered(plan),
        *_sizes(plan, task),
        *_rolls(plan, task),
        *_laps(plan, task),
        *_kerbs(plan, task),
    )


def _bare(plan: RollPlan, task: RollTask) -> Iterator[str]:
    """Look for deck and turn-ups without the layer."""
    layer = unary_union([Polygon(p.corners) for p in plan.pieces]).buffer(NEAR, join_style="mitre")
    holes = unary_union([Polygon(h) for h in task.holes])
    roof = Polygon(task.outline)
    gap = roof.difference(holes).difference(layer).area
    if gap > 0:
        yield f"gap: {gap:.0f} mm2 of the deck are bare"
    for i, (a, b) in enumerate(pairwise((*task.outline, task.outline[0]))):
        long = dist(a, b)
        u, v = (b[1] - a[1]) / long, (a[0] - b[0]) / long
        if roof.contains(Point((a[0] + b[0]) / 2 + u, (a[1] + b[1]) / 2 + v)):
            u, v = -u, -v
        up = [(x + task.turn_up_mm * u, y + task.turn_up_mm * v) for x, y in (b, a)]
        if Polygon([a, b, *up]).buffer(0).difference(holes).difference(layer).area > 0:
            yield f"turn-up: side {i} has less than its {task.turn_up_mm:.0f} mm"


def _numbered(plan: RollPlan) -> Iterator[str]:
    numbers = [*(p.number for p in plan.pieces), *(s.number for s in plan.kerb_strips)]
    if numbers != list(range(1, len(numbers) + 1)):
        yield "numbers: the pieces are not numbered from 1 in the order of laying"


def _extents(ring: Sequence[tuple[float, float]], along: tuple[int, int]) -> tuple[float, float]:
    """Measure a ring along the rolls and across them."""
    c, s = along[0] / hypot(*along), along[1] / hypot(*along)
    xs, ys = [c * x + s * y for x, y in ring], [c * y - s * x for x, y in ring]
    return max(xs) - min(xs), max(ys) - min(ys)


def _sizes(plan: RollPlan, task: RollTask) -> Iterator[str]:
    for piece in plan.pieces:
        long, wide = _extents(piece.corners, plan.along)
        if long > piece.length_mm + NEAR or wide > piece.width_mm + NEAR:
            yield f"size: piece {piece.number} is drawn larger than it is cut"
        if wide > task.roll[0] + NEAR:
            yield f"size: piece {piece.number} is wider than a roll"


def _rolls(plan: RollPlan, task: RollTask) -> Iterator[str]:
    """Cut every roll again."""
    width, length = task.roll
    used = dict.fromkeys(range(1, plan.rolls + 1), 0.0)
    for piece in plan.pieces:
        used[piece.roll] = used.get(piece.roll, 0.0) + piece.length_mm
    for strip in plan.kerb_strips:
        mine = [s for s in plan.kerb_strips if strip.number in (s.number, s.beside)]
        alone = len(mine) == 1 and strip.takes_mm == strip.width_mm and strip.length_mm <= width
        together = (
            all(s.length_mm <= strip.takes_mm and s.roll == strip.roll for s in mine)
            and sum(s.width_mm for s in mine) <= width
        )
        first = any(s.number == strip.beside and not s.beside for s in plan.kerb_strips)
        if not (first if strip.beside else alone or together):
            yield f"roll: strip {strip.number} does not come out of {strip.takes_mm} mm of a roll"
        used[strip.roll] = used.get(strip.roll, 0.0) + (0 if strip.beside else strip.takes_mm)
    for n, cut in used.items():
        if n > plan.rolls or n < 1:
            yield f"roll: roll {n} is not bought"
        if cut > length:
            yield f"roll: {cut:.0f} mm are cut from roll {n} of {length} mm"


def _laps(plan: RollPlan, task: RollTask) -> Iterator[str]:
    """Measure every lap, and see that the upper piece lies over the lower."""
    shapes = [(p, Polygon(p.corners)) for p in plan.pieces]
    joined: set[int] = set()
    for (one, a), (two, b) in combinations(shapes, 2):
        if a.distance(b) > NEAR:
            continue
        shared = a.buffer(NEAR, join_style="mitre").intersection(b.buffer(NEAR, join_style="mitre"))
        long, wide = _extents(list(shared.envelope.exterior.coords), (1, 0))
        if shared.geom_type == "Polygon":
            long, wide = _extents(list(shared.exterior.coords), plan.along)
        in_line = one.strip == two.strip
        lap, least = (long, task.end_lap_mm) if in_line else (wide, task.side_lap_mm)
        if lap - 2 * NEAR < least - NEAR:
            kind = "end" if in_line else "side"
            yield f"{kind} lap: pieces {one.number} and {two.number} lap by {lap - 2 * NEAR:.0f} mm"
        if in_line:
            joined |= {one.number, two.number}
        if _falls(one, two, in_line, plan.along, task.low_side):
            yield f"against the fall: piece {two.number} lies over {one.number}, which is higher"
    for piece in plan.pieces:
        if piece.number in joined and piece.length_mm < task.shortest_mm:
            yield f"short: piece {piece.number} is {piece.length_mm} mm"


def _falls(
    one: RollPiece, two: RollPiece, in_line: bool, along: tuple[int, int], low: tuple[int, int]
) -> bool:
    """Whether the piece laid later lies lower, across the lap that joins the two."""
    c, s = along[0] / hypot(*along), along[1] / hypot(*along)
    u, v = (c, s) if in_line else (-s, c)
    fall = (u * low[0] + v * low[1]) / hypot(*low)
    (x, y), (p, q) = (
        (sum(n for n, _ in ring) / len(ring), sum(n for _, n in ring) / len(ring))
        for ring in (one.corners, two.corners)
    )
    return fall * (u * (p - x) + v * (q - y)) > LEAN * abs(u * (p - x) + v * (q - y))


def _kerbs(plan: RollPlan, task: RollTask) -> Iterator[str]:
    """See that each side of each kerb has its strip, long and wide enough."""
    left = list(plan.kerb_strips)
    for i, hole in enumerate(task.holes):
        for n, (a, b) in enumerate(pairwise((*hole, hole[0]))):
            side = LineString([a, b])
            mine = next((s for s in left if s.hole == i and _beside(s.lap, side)), None)
            if mine is None:
                yield f"kerb: side {n} of opening {i} has no strip"
                continue
            left.remove(mine)
            if mine.length_mm < dist(a, b) + 2 * task.side_lap_mm - NEAR:
                yield f"kerb: strip {mine.number} does not pass the corners of its kerb"
            if mine.width_mm < task.turn_up_mm + task.side_lap_mm:
                yield f"kerb: strip {mine.number} is {mine.width_mm} mm wide, too little to go up"
            yield from _high(mine.goes_under, mine.number, (a, b), Polygon(hole), task.low_side)
    for strip in left:
        yield f"kerb: strip {strip.number} goes up no kerb"


def _beside(lap: Ring, side: LineString) -> bool:
    """Whether a lap lies along a side of a kerb and outside of it."""
    shape = Polygon(lap)
    return bool(shape.buffer(NEAR).covers(side) and shape.exterior.distance(side.centroid) <= NEAR)


def _high(
    under: bool, number: int, side: tuple[tuple[int, int], tuple[int, int]], hole: Polygon,
    low: tuple[int, int],
) -> Iterator[str]:  # fmt: skip
    """See that water from above runs over the strip of the high side, not under it."""
    (ax, ay), (bx, by) = side
    u, v = (by - ay) / dist(*side), (ax - bx) / dist(*side)
    if hole.contains(Point((ax + bx) / 2 + u, (ay + by) / 2 + v)):
        u, v = -u, -v
    if u * low[0] + v * low[1] < -FACES * hypot(*low) and not under:
        yield f"against the fall: strip {number} lies over the piece above its kerb"

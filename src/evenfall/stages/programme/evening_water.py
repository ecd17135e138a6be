"""For the checker: tonight's water, holes and covers, found again by another way than the plan's.

Water is walked down the fall in short steps, not followed along lines.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shapely import Point as Spot
from shapely import Polygon, prepare

from evenfall.calc.drainage.outlet import slot_length_mm
from evenfall.calc.drainage.run_off import run_off_l_s, wall_area
from evenfall.calc.spread import triangular_quantile
from evenfall.model.programmed import Bay, Day, Task
from evenfall.model.surveyed import Plan, Point, SideAt
from evenfall.standards import programme_practice as practice
from evenfall.standards import take_off_practice

STEP = 0.05  # m; of the walk
FALLS = 0.05  # cosine; a side that falls less along itself holds the water
ROUNDED = 10.0  # mm; gaps are told to the next
DRAWN = 0.02  # m; covers are told as true as this
NONE = 1e-6  # h; less is nothing left to do
SEALED = frozenset(("vcl-adhesive", "vcl-polythene", "vcl-edges", "night-joint"))
FINISHED = {
    "rooflight": "kerb-dress", "pipe": "pipe-boot", "post": "pipe-boot", "flue": "pipe-boot",
    "outlet": "outlet", "chimney": "upstand", "wall": "upstand", "step": "upstand",
    "parapet": "capping", "eaves": "gutter",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Rain:
    """Which way the roof falls, and how hard it rains."""

    downhill: Point
    l_s_m2: float


def walked(plan: Plan, bays: tuple[Bay, ...], downhill: Point) -> dict[int, tuple[str, list[int]]]:
    """Walk from each bay to where its water leaves.

    Parameters
    ----------
    plan : Plan
        Sides and openings [m].
    bays : tuple of Bay
        The bays [m].
    downhill : (x, y)
        The way that the water runs [-].

    Returns
    -------
    dict
        Of each bay the side or opening, empty if it stands, and the bays that are crossed [-].
    """
    deck = Polygon(plan.deck)
    shapes = {b.number: Polygon(b.ring) for b in bays}
    for shape in (deck, *shapes.values()):
        prepare(shape)
    return {n: _walk(plan, deck, shapes, n, downhill) for n in shapes}


def _walk(
    plan: Plan, deck: Polygon, shapes: dict[int, Polygon], start: int, downhill: Point
) -> tuple[str, list[int]]:
    spot = shapes[start].representative_point()
    x, y, crossed = spot.x, spot.y, [start]
    longest = sum(s.length_m for s in plan.sides)
    for _ in range(int(4 * longest / STEP)):
        u, v = downhill
        if not deck.contains(Spot(x + STEP * u, y + STEP * v)):
            held = _held(plan, (x, y), downhill)
            over = next((s for s in held if s.kind == "eaves"), None)
            if over is not None:
                return over.id, crossed
            turned = _along(deck, held, (x, y), downhill)
            if turned is None:
                return _outlet(plan, (x, y), downhill), crossed
            u, v = turned
        x, y = x + STEP * u, y + STEP * v
        here = next((n for n, s in shapes.items() if s.contains(Spot(x, y))), crossed[-1])
        if here not in crossed:
            crossed.append(here)
    return "", crossed


def _held(plan: Plan, at: Point, downhill: Point) -> list[SideAt]:
    """Find the sides downhill of a spot that it is at, the nearest first."""
    found = []
    for s in plan.sides:
        into = s.outwards[0] * downhill[0] + s.outwards[1] * downhill[1]
        away = (s.a[0] - at[0]) * s.outwards[0] + (s.a[1] - at[1]) * s.outwards[1]
        on = (at[0] - s.a[0]) * s.along[0] + (at[1] - s.a[1]) * s.along[1]
        if into > FALLS and abs(away) <= 2 * STEP and -2 * STEP <= on <= s.length_m + 2 * STEP:
            found.append((abs(away), s))
    return [s for _, s in sorted(found, key=lambda f: f[0])]


def _along(deck: Polygon, held: list[SideAt], at: Point, downhill: Point) -> Point | None:
    """Turn along the side that stops the water, if it falls and the roof goes on there."""
    for s in held:
        fall = s.along[0] * downhill[0] + s.along[1] * downhill[1]
        if abs(fall) < FALLS:
            continue
        sign = 1 if fall > 0 else -1
        way = (sign * s.along[0], sign * s.along[1])
        if deck.contains(Spot(at[0] + STEP * way[0], at[1] + STEP * way[1])):
            return way
    return None


def _outlet(plan: Plan, at: Point, downhill: Point) -> str:
    low = at[0] * downhill[0] + at[1] * downhill[1]
    reach = float(practice.OUTLET_REACH) + 2 * STEP
    for o in plan.openings:
        if o.kind == "outlet":
            up = low - o.centre[0] * downhill[0] - o.centre[1] * downhill[1]
            if up <= reach:
                return o.id
    return ""


def nights(
    days: tuple[Day, ...], bays: tuple[Bay, ...], plan: Plan, tasks: tuple[Task, ...], rain: Rain,
    covers: tuple[tuple[float, float], ...] | None = None, done: frozenset[str] = frozenset(),
) -> Iterator[str]:  # fmt: skip
    """Judge water, gaps, holes and covers of every evening.

    Parameters
    ----------
    days : tuple of Day
        With their evenings [-].
    bays : tuple of Bay
        The bays [m].
    plan : Plan
        Sides and openings [m].
    tasks : tuple of Task
        All work [h].
    rain : Rain
        Fall and intensity [l/(s m2)].
    covers : tuple of (length, width), optional
        Covers on the site, empty where there is none; None takes what each day tells [m].
    done : frozenset of str
        Ids of the work that was done before [-].

    Yields
    ------
    str
        Each fault in words [-].
    """
    paths = walked(plan, bays, rain.downhill)
    left = {t.id: 0.0 if t.id in done else t.hours.value for t in tasks}
    opened: set[int] = set()
    for day in days:
        for id_, hours in day.work:
            left[id_] = left.get(id_, 0.0) - hours
        opened |= {t.bay for t in tasks if t.bay is not None and left[t.id] < t.hours.value}
        if opened:
            yield from _baths(day, paths)
            yield from _gaps(day, bays, plan, paths, rain)
            yield from _holes(day, bays, plan, opened, left, tasks)
        yield from _open(day, bays, tasks, (day.cover_m,) if covers is None else covers)


def _baths(day: Day, paths: dict[int, tuple[str, list[int]]]) -> Iterator[str]:
    covers = dict(day.evening.covers)
    told = {d.bay: d.leaves_by for d in day.evening.drains}
    for bay, (leaves_by, crossed) in paths.items():
        dam = next((n for n in crossed if covers.get(n) == "sheet"), None)
        if dam is not None and covers.get(bay) != "sheet":
            yield f"bay {bay} is a bath on the evening of {day.on}: bay {dam} stands in the way"
        elif not leaves_by:
            yield f"bay {bay} is a bath on the evening of {day.on}: its water has no way out"
        elif told and told.get(bay) != leaves_by:
            yield f"water of bay {bay} leaves by {leaves_by} on {day.on}, not by {told.get(bay)}"


def _gaps(
    day: Day, bays: tuple[Bay, ...], plan: Plan, paths: dict[int, tuple[str, list[int]]], rain: Rain
) -> Iterator[str]:
    """See that a gap takes what runs to it, wherever the VCL lies at the edge."""
    covers, told = dict(day.evening.covers), {g.side: g.length_mm for g in day.evening.gaps}
    walls = sum(wall_area(s.length_m, s.wall_height_m) for s in plan.of_kind("wall", "step"))
    for side in plan.of_kind("eaves"):
        mine = [b for b in bays if paths[b.number][0] == side.id]
        edge = [b for b in mine if _touches(b, side) and covers.get(b.number) == "vcl"]
        if not edge:
            continue
        flow = run_off_l_s(rain.l_s_m2, sum(b.area_m2 for b in mine) + walls)
        wanted = slot_length_mm(flow, practice.EVENING_GAP_HEAD)
        if told.get(side.id, 0.0) < wanted - ROUNDED / 10:
            yield f"the gap at {side.name} on {day.on} is too short: {wanted:.0f} mm are wanted"


def _touches(bay: Bay, side: SideAt) -> bool:
    """Whether a corner of a bay, or the middle between two, lies on a side."""
    points = [*bay.ring]
    points += [
        ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        for a, b in zip(bay.ring, (*bay.ring[1:], bay.ring[0]), strict=True)
    ]
    inside = 0
    for x, y in points:
        off = (x - side.a[0]) * side.outwards[0] + (y - side.a[1]) * side.outwards[1]
        on = (x - side.a[0]) * side.along[0] + (y - side.a[1]) * side.along[1]
        inside += abs(off) < DRAWN and -DRAWN < on < side.length_m + DRAWN
    return inside > 1


def _holes(
    day: Day, bays: tuple[Bay, ...], plan: Plan, opened: set[int], left: dict[str, float],
    tasks: tuple[Task, ...],
) -> Iterator[str]:  # fmt: skip
    """Whatever is opened and not finished has something over it tonight."""
    named = {h.at for h in day.evening.holes if h.says}
    undone: dict[str, set[str]] = {}
    for t in tasks:
        if left[t.id] > NONE:
            undone.setdefault(t.id.removeprefix("task:").split("/")[0], set()).update(t.at)
    for o in plan.openings:
        bay = next((b.number for b in bays if Polygon(b.ring).contains(Spot(o.centre))), None)
        if bay in opened and o.id in undone.get(FINISHED[o.kind], ()) and o.id not in named:
            yield f"nothing covers {o.id} on the evening of {day.on}"
    yield from _windows(day, bays, plan, opened, undone)
    for s in plan.sides:
        at = any(b.number in opened and _touches(b, s) for b in bays)
        work = FINISHED.get(s.kind, "")
        if at and s.id in undone.get(work, ()) and s.id not in named:
            yield f"nothing closes {s.id} on the evening of {day.on}"


def _windows(
    day: Day, bays: tuple[Bay, ...], plan: Plan, opened: set[int], undone: dict[str, set[str]]
) -> Iterator[str]:
    """See that a window over an opened bay is shut until the sheet stands up its wall."""
    named = {h.at for h in day.evening.holes if h.says}
    for w in plan.sashes:
        side = next(s for s in plan.sides if s.id == w.side)
        over = any(b.number in opened and _touches(b, side) for b in bays)
        up = side.id in undone.get("upstand", ())
        unsheeted = any(k.startswith("second-pass") for k in undone)
        if side.kind not in ("wall", "parapet", "step"):
            up = unsheeted
        if over and up and w.id not in named:
            yield f"nothing says that {w.id} is shut on the evening of {day.on}"


def _open(
    day: Day, bays: tuple[Bay, ...], tasks: tuple[Task, ...],
    covers: tuple[tuple[float, float], ...],
) -> Iterator[str]:  # fmt: skip
    """No more is open than the crew seals within the hour on a slow day and the covers reach."""
    done = {id_ for id_, _ in day.work}
    for bay in bays:
        mine = [t for t in tasks if t.bay == bay.number and t.id in done]
        if not mine:
            continue
        sealing = sum(_slow(t) for t in mine if _kind(t) in SEALED)
        share = min(1.0, day.people * practice.SEAL_MARGIN / 60 / sealing) if sealing else 1.0
        xs, ys = zip(*bay.ring, strict=True)
        reached = _reached(covers, max(xs) - min(xs), max(ys) - min(ys))
        if bay.area_m2 * (1 - share) > reached + DRAWN:
            yield (
                f"{bay.area_m2:.1f} m2 of bay {bay.number} are open on {day.on}: the crew seals "
                f"{share * bay.area_m2:.1f} within the hour, and the cover reaches {reached:.1f}"
            )


def _reached(covers: tuple[tuple[float, float], ...], x: float, y: float) -> float:
    """Area of a box that covers reach over, each turned the way in which it takes more of it."""
    beyond, sum_ = 2 * float(take_off_practice.COVER_BEYOND) - DRAWN, 0.0
    for cover in covers:
        long, short = (max(0.0, m - beyond) for m in sorted(cover, reverse=True))
        sum_ += max(min(long, u) * min(short, v) for u, v in ((x, y), (y, x)))
    return min(sum_, x * y)


def _slow(task: Task) -> float:
    share = practice.PLANNED_FOR.value
    return triangular_quantile(task.hours_low, task.hours.value, task.hours_high, share)


def _kind(task: Task) -> str:
    return task.id.removeprefix("task:").partition("@")[0]

"""Bays: the deck cut so that each part is stripped and closed in a day, from the high end down."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, hypot

from evenfall.calc.geometry.clipping import clip_polygon
from evenfall.calc.geometry.polygon import area, contains
from evenfall.calc.geometry.slopes import crossings, reach
from evenfall.model.programmed import Bay
from evenfall.model.surveyed import OpeningAt, Plan, Point, Ring
from evenfall.stages.programme.roof import Part
from evenfall.standards import programme_practice as practice

NEAR = 1e-6  # m; closer is the same line
JUST_BEFORE = 1e-4  # m; a step back from a cut into the bay that ends there
HALVINGS = 8  # steps to even out the bays
Segment = tuple[Point, Point]


@dataclass(frozen=True, slots=True)
class Slice:
    """Where the deck may be cut along a direction, and what lies before each place."""

    plan: Plan
    way: Point  # from the first bay to the last
    start: float  # of the deck along the way
    places: tuple[float, ...]  # from the start
    allowed: tuple[bool, ...]
    work: tuple[float, ...]  # slow hours of all before the place
    joint: tuple[float, ...]  # slow hours of the night line there


@dataclass(frozen=True, slots=True)
class Cuts:
    """Indices of the places at which a slice is cut, both ends included."""

    at: tuple[int, ...]
    closes: bool  # each bay in its day
    short: tuple[float, float] = (0.0, 0.0)  # hours wanted and hours there are, where not


def slice_along(plan: Plan, way: Point, hours: Callable[[Part], float]) -> Slice:
    """Look at the deck along a direction.

    Parameters
    ----------
    plan : Plan
        The deck with its sides and openings [m].
    way : (x, y)
        Unit vector from the high end [-].
    hours : callable
        Slow hours of a part; they add up over parts [h].

    Returns
    -------
    Slice
        Places to cut at, and the hours before each [h].
    """
    start, end = reach(plan.deck, way)
    step = float(practice.MARKED_TO)
    last = ceil((end - start - NEAR) / step)
    places = (*(n * step for n in range(last)), end - start)
    shut = [_shut(o, way, start) for o in plan.openings]
    least = practice.SMALLEST_BAY
    allowed = tuple(
        n in (0, last) or (least <= s <= places[-1] - least and not any(a < s < b for a, b in shut))
        for n, s in enumerate(places)
    )
    unit = _units(plan, hours)
    work = tuple(_before(plan, way, start, s, unit) for s in places)
    night, metre = _joint_hours(plan, hours)
    lines = [_night_lines(plan.deck, way, start + s) for s in places[1:-1]]
    joint = (0.0, *(night * len(c) + metre * sum(b - a for a, b in c) for c in lines), 0.0)
    return Slice(plan, way, start, places, allowed, work, joint)


def _shut(opening: OpeningAt, way: Point, start: float) -> tuple[float, float]:
    """Where no night line may run, lest it meet a kerb, a pipe or an outlet."""
    least, most = reach(opening.ring, way)
    return (least - start - practice.NIGHT_LAP, most - start + practice.NIGHT_LAP)


@dataclass(frozen=True, slots=True)
class _Units:
    gross: float
    edges: tuple[float, ...]
    openings: tuple[float, ...]


def _units(plan: Plan, hours: Callable[[Part], float]) -> _Units:
    """Hours of one square metre, of one metre of each side, and of each opening."""
    none = (0.0,) * len(plan.sides)
    return _Units(
        hours(Part(1.0, 1 / plan.gross.value, none, ())),
        tuple(
            hours(Part(0.0, 0.0, (*none[:i], 1.0, *none[i + 1 :]), ())) for i in range(len(none))
        ),
        tuple(hours(Part(0.0, 0.0, none, (o,))) for o in plan.openings),
    )


def _joint_hours(plan: Plan, hours: Callable[[Part], float]) -> tuple[float, float]:
    none = (0.0,) * len(plan.sides)
    return (
        hours(Part(0.0, 0.0, none, (), nights=1)),
        hours(Part(0.0, 0.0, none, (), night_m=1.0)),
    )


def _before(plan: Plan, way: Point, start: float, place: float, unit: _Units) -> float:
    """Slow hours of everything between the start and a place."""
    across = (-way[1], way[0])
    total = swept = 0.0
    for side, each in zip(plan.sides, unit.edges, strict=True):
        t, u = _turned(side.a, way, across, start), _turned(side.b, way, across, start)
        total += each * _length_before(t, u, place)
        (a, c), (b, d) = t, u
        near, far = min(a, place), min(b, place)
        if a != b:
            slope = (d - c) / (b - a)
            swept += (far - near) * (c + slope * ((near + far) / 2 - a))
    total += unit.gross * abs(swept)
    for opening, each in zip(plan.openings, unit.openings, strict=True):
        total += each * (_turned(opening.centre, way, across, start)[0] <= place)
    return total


def _turned(point: Point, way: Point, across: Point, start: float) -> Point:
    x, y = point
    return (x * way[0] + y * way[1] - start, x * across[0] + y * across[1])


def _length_before(t: Point, u: Point, place: float) -> float:
    """Length of a side before a place; a side on the line itself goes with its deck."""
    (a, c), (b, d) = t, u
    length = hypot(b - a, d - c)
    if abs(b - a) <= NEAR:
        deck_before = d > c  # the deck lies to the left of its sides
        on_line = abs(a - place) <= NEAR
        return length if a < place - NEAR or (on_line and deck_before) else 0.0
    share = (min(max(a, b), place) - min(a, b)) / abs(b - a)
    return length * max(0.0, share)


def _night_lines(ring: Ring, way: Point, offset: float) -> tuple[tuple[float, float], ...]:
    """Stretches of a cut that have deck on both sides of it, along the cut."""
    line = (way[1], -way[0])  # so that offsets to its left grow along the way
    low, high = (crossings(ring, line, offset + d) for d in (-NEAR, NEAR))
    both = ((max(a, c), min(b, d)) for a, b in low for c, d in high)
    return tuple((a, b) for a, b in both if b - a > NEAR)


def cut(sliced: Slice, first: float, room: float) -> Cuts:
    """Cut a slice into the fewest bays, and make them as even as that allows.

    Parameters
    ----------
    sliced : Slice
        Places and hours [h].
    first, room : float
        Person-hours of the first day and of the others until the roof must be shut [h].

    Returns
    -------
    Cuts
        Where to cut; ``closes`` is false where a bay takes more than its day [-].
    """
    best = _furthest(sliced, first, room)
    if not best.closes:
        return best
    low, high = 0.0, 1.0
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        evened = _furthest(sliced, first - (1 - middle) * room, middle * room)
        if evened.closes and len(evened.at) == len(best.at):
            best, high = evened, middle
        else:
            low = middle
    return best


def _furthest(sliced: Slice, first: float, room: float) -> Cuts:
    """Make each bay in turn as deep as its day allows; no other way has fewer."""
    at, short = [0], (0.0, 0.0)
    last = len(sliced.places) - 1
    while at[-1] < last:
        here, left = at[-1], first if len(at) == 1 else room
        fit, least = _reach(sliced, here, left)
        if fit is None and short == (0.0, 0.0):
            short = (_hours(sliced, here, least), left)
        at.append(least if fit is None else fit)
    return Cuts(tuple(at), short == (0.0, 0.0), short)


def _reach(sliced: Slice, here: int, left: float) -> tuple[int | None, int]:
    """Find the furthest place that closes in time, and the nearest that makes a bay at all."""
    fit = least = None
    deep = sliced.places[here] + practice.SMALLEST_BAY - NEAR
    last = len(sliced.places) - 1
    for there in range(here + 1, last + 1):
        if not sliced.allowed[there] or (sliced.places[there] < deep and there < last):
            continue
        least = least or there
        if sliced.work[there] - sliced.work[here] > left:
            break
        if _hours(sliced, here, there) <= left:
            fit = there
    return fit, least or last


def _hours(sliced: Slice, here: int, there: int) -> float:
    return sliced.work[there] - sliced.work[here] + sliced.joint[there]


def bays(sliced: Slice, cuts: Cuts) -> tuple[tuple[Bay, Part], ...]:
    """Make the bays of the cuts; where the roof falls apart at a cut, each piece is a bay.

    Parameters
    ----------
    sliced : Slice
        The deck along its way [m].
    cuts : Cuts
        Where it is cut [-].

    Returns
    -------
    tuple of (Bay, Part)
        In the order of work, numbered from 1 [-].
    """
    made: list[tuple[Bay, Part]] = []
    for here, there in pairwise(cuts.at):
        ends = (sliced.places[here], sliced.places[there])
        for ring in _rings(sliced, *ends):
            made.append(_bay(sliced, ring, ends, len(made) + 1))
    return tuple(made)


def _rings(sliced: Slice, near: float, far: float) -> tuple[Ring, ...]:
    """Clip the deck to the band between two cuts."""
    deck, (u, v), start = sliced.plan.deck, sliced.way, sliced.start
    if near == 0 and far == sliced.places[-1]:
        return (deck,)
    left, right = reach(deck, (v, -u))
    a = start + (near or -1.0)  # past the deck where the deck ends
    b = start + far + (far == sliced.places[-1])
    corners = ((a, left - 1), (a, right + 1), (b, right + 1), (b, left - 1))
    return clip_polygon(deck, tuple((s * u + t * v, s * v - t * u) for s, t in corners))


def _bay(sliced: Slice, ring: Ring, ends: tuple[float, float], number: int) -> tuple[Bay, Part]:
    plan, size = sliced.plan, area(ring)
    lines = tuple(_own_lines(sliced, ring, ends[1]))
    night = (lines[0][0], lines[-1][1]) if lines else None
    part = Part(
        size, size / plan.gross.value, tuple(_shared(ring, s.a, s.b) for s in plan.sides),
        tuple(o for o in plan.openings if contains(ring, o.centre)),
        int(bool(lines)), sum(hypot(q[0] - p[0], q[1] - p[1]) for p, q in lines),
    )  # fmt: skip
    return Bay(number, ring, size, night), part


def _own_lines(sliced: Slice, ring: Ring, far: float) -> Iterator[Segment]:
    """Night lines at the far end of a bay that belong to this ring."""
    if far == sliced.places[-1]:
        return
    (u, v), offset = sliced.way, sliced.start + far
    for a, b in _night_lines(sliced.plan.deck, sliced.way, offset):
        before, middle = offset - JUST_BEFORE, (a + b) / 2
        if contains(ring, (before * u + middle * v, before * v - middle * u)):
            p, q = ((offset * u + t * v, offset * v - t * u) for t in (a, b))
            yield (p, q)


def _shared(ring: Ring, a: Point, b: Point) -> float:
    """Length of a side that is also the edge of a ring."""
    length = hypot(b[0] - a[0], b[1] - a[1])
    u = ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
    found = 0.0
    for p, q in zip(ring, (*ring[1:], ring[0]), strict=True):
        offs = [abs((x - a[0]) * u[1] - (y - a[1]) * u[0]) for x, y in (p, q)]
        if max(offs) > NEAR:
            continue
        s, t = ((x - a[0]) * u[0] + (y - a[1]) * u[1] for x, y in (p, q))
        found += max(0.0, min(t, length) - max(s, 0.0))
    return found


def zones(areas: tuple[float, ...], number: int) -> tuple[tuple[int, ...], ...]:
    """Group bays in a row into zones of about one size.

    Parameters
    ----------
    areas : tuple of float
        Areas of the bays [m2].
    number : int
        How many zones, no more than bays [-].

    Returns
    -------
    tuple of tuple of int
        Bay numbers of each zone [-].

    Examples
    --------
    >>> zones((6.0, 6.5, 5.0, 7.0), 2)
    ((1, 2), (3, 4))
    """
    ends, whole, so_far = [0], sum(areas), 0.0
    for n, size in enumerate(areas, 1):
        so_far += size
        left_zones, left_bays = number - len(ends), len(areas) - n
        due = so_far >= whole * len(ends) / number - NEAR or left_bays == left_zones
        if left_zones and due and left_bays >= left_zones:
            ends.append(n)
    ends.append(len(areas))
    return tuple(tuple(range(a + 1, b + 1)) for a, b in pairwise(ends))

"""Slices: a piece of the deck looked at along a direction, with the hours before every place."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from math import ceil, dist

from evenfall.calc.geometry.clipping import clip_polygon
from evenfall.calc.geometry.polygon import area, contains, sides
from evenfall.calc.geometry.slopes import crossings, reach
from evenfall.model.surveyed import OpeningAt, Plan, Point, Ring
from evenfall.stages.programme.roof import Part
from evenfall.standards import programme_practice as practice
from evenfall.standards import take_off_practice

NEAR = 1e-6  # m; closer is the same line
Segment = tuple[Point, Point]
Hours = Callable[[Part], float]


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of the deck; its lines run anticlockwise, deck on their left."""

    plan: Plan
    ring: Ring
    edges: tuple[tuple[Segment, int], ...]  # what it has of the sides of the plan, by their number
    nights: tuple[Segment, ...]  # where old felt lies beside it
    openings: tuple[OpeningAt, ...]

    def part(self) -> Part:
        """Count it for its hours."""
        size = area(self.ring)
        lengths = [0.0] * len(self.plan.sides)
        for (a, b), number in self.edges:
            lengths[number] += dist(a, b)
        return Part(
            size, size / self.plan.gross.value, tuple(lengths), self.openings,
            int(bool(self.nights)), sum(dist(a, b) for a, b in self.nights),
        )  # fmt: skip


def deck(plan: Plan) -> Piece:
    """Take the whole deck as one piece.

    Parameters
    ----------
    plan : Plan
        The plan [m].

    Returns
    -------
    Piece
        All of it, no felt beside it [m].
    """
    edges = tuple(((s.a, s.b), n) for n, s in enumerate(plan.sides))
    return Piece(plan, plan.deck, edges, (), plan.openings)


BEYOND = 2 * float(take_off_practice.COVER_BEYOND)  # m; a cover is so much longer than its bay


def sealed_share(hours: float, people: int) -> float:
    """Share of an open bay that its crew seals within the hour.

    Parameters
    ----------
    hours : float
        Slow person-hours to seal all of it [h].
    people : int
        Who seals it [-].

    Returns
    -------
    float
        From 0 to 1 [-].

    Examples
    --------
    >>> sealed_share(8.0, 2), sealed_share(1.5, 2)
    (0.25, 1.0)
    """
    return min(1.0, float(practice.SEAL_MARGIN) / 60 * people / hours) if hours else 1.0


def reach_over(covers: tuple[tuple[float, float], ...], long: float, wide: float) -> float:
    """Area of an oblong that covers reach over with their edge all round, turned as they do best.

    Parameters
    ----------
    covers : tuple of (length, width)
        Covers that lie on the roof [m].
    long, wide : float
        Sides of what is open [m].

    Returns
    -------
    float
        No more than the oblong [m2].

    Examples
    --------
    >>> reach_over(((8.2, 5.1), (2.9, 9.0)), 4.0, 2.6)
    8.4
    """
    found = 0.0
    for cover in covers:
        a, b = (max(0.0, m - BEYOND) for m in cover)
        found += max(min(a, long) * min(b, wide), min(b, long) * min(a, wide))
    return min(round(found, 9), long * wide)


@dataclass(frozen=True, slots=True)
class Shelter:
    """What a bay may be open to: covers on the site, and how fast the crew seals."""

    covers: tuple[tuple[float, float], ...]
    people: int
    sealing: Rates


@dataclass(frozen=True, slots=True)
class Rates:
    """Hours of each thing that a piece is made of; hours of pieces add up."""

    gross: float  # of a square metre
    sides: tuple[float, ...]  # of a metre of each side
    openings: dict[str, float]
    night: float  # of a night line, however long
    metre: float  # of a metre of it
    shelter: Shelter | None = None  # where covers are told


def rates(plan: Plan, hours: Hours) -> Rates:
    """Ask for the hours of each thing by itself.

    Parameters
    ----------
    plan : Plan
        Sides and openings [m].
    hours : callable
        Hours of a part; they add up [h].

    Returns
    -------
    Rates
        Hours of one of each [h].
    """
    none = (0.0,) * len(plan.sides)
    return Rates(
        hours(Part(1.0, 1 / plan.gross.value, none, ())),
        tuple(
            hours(Part(0.0, 0.0, (*none[:i], 1.0, *none[i + 1 :]), ())) for i in range(len(none))
        ),
        {o.id: hours(Part(0.0, 0.0, none, (o,))) for o in plan.openings},
        hours(Part(0.0, 0.0, none, (), nights=1)),
        hours(Part(0.0, 0.0, none, (), night_m=1.0)),
    )


@dataclass(frozen=True, slots=True)
class Slice:
    """Where a piece may be cut along a direction, and what lies before each place."""

    piece: Piece
    way: Point  # from the first bay to the last
    start: float  # of the piece along the way
    places: tuple[float, ...]  # from the start
    allowed: tuple[int, ...]  # indices of the places at which it may be cut, the end included
    work: tuple[float, ...]  # hours of all before the place
    joint: tuple[float, ...]  # hours of the night line there
    shelter: Shelter | None = None
    areas: tuple[float, ...] = ()  # before the place, and what of the work seals it; with shelter
    sealing: tuple[float, ...] = ()
    seals_joint: tuple[float, ...] = ()

    def bare(self, here: int, there: int) -> bool:
        """Whether more of a bay lies open than is sealed within the hour and under covers."""
        if self.shelter is None:
            return False
        area, deep = self.areas[there] - self.areas[here], self.places[there] - self.places[here]
        hours = self.sealing[there] - self.sealing[here] + self.seals_joint[there]
        rest = area * (1 - sealed_share(hours, self.shelter.people))
        return rest > reach_over(self.shelter.covers, area / deep, deep) + NEAR

    def hours(self, here: int, there: int) -> float:
        """Hours of a bay between two places."""
        return self.work[there] - self.work[here] + self.joint[there]


def slice_along(piece: Piece, way: Point, each: Rates) -> Slice:
    """Look at a piece along a direction.

    Parameters
    ----------
    piece : Piece
        A piece of the deck [m].
    way : (x, y)
        Unit vector, from the high end if it is the fall [-].
    each : Rates
        Hours of one of each thing [h].

    Returns
    -------
    Slice
        Places to cut at, and the hours before each [h].
    """
    start, end = reach(piece.ring, way)
    step = float(practice.MARKED_TO)
    last = ceil((end - start - NEAR) / step)
    places = (*(n * step for n in range(last)), end - start)
    allowed = tuple(_allowed(piece, way, start, places))
    lines = {n: _night_lines(piece.ring, way, start + places[n]) for n in allowed[:-1]}

    def joints(of: Rates) -> tuple[float, ...]:
        joint = [0.0] * len(places)
        for n, cuts in lines.items():
            joint[n] = of.night * len(cuts) + of.metre * sum(b - a for a, b in cuts)
        joint[-1] = of.night * bool(piece.nights)
        return tuple(joint)

    work = tuple(_before(piece, way, start, places, each))
    sliced = Slice(piece, way, start, places, allowed, work, joints(each))
    if each.shelter is None:
        return sliced
    seals, no_sides = each.shelter.sealing, (0.0,) * len(each.sides)
    bare = Rates(1.0, no_sides, dict.fromkeys(each.openings, 0.0), 0.0, 0.0)
    return replace(
        sliced, shelter=each.shelter, areas=tuple(_before(piece, way, start, places, bare)),
        sealing=tuple(_before(piece, way, start, places, seals)), seals_joint=joints(seals),
    )  # fmt: skip


def _allowed(
    piece: Piece, way: Point, start: float, places: tuple[float, ...]
) -> Iterator[int]:  # fmt: skip
    """Leave out places too near an end, or at a kerb, a pipe or an outlet."""
    least, last, beside = practice.SMALLEST_BAY - NEAR, len(places) - 1, practice.NIGHT_LAP
    spread = [reach(o.ring, way) for o in piece.openings]
    shut = [(a - start - beside, b - start + beside) for a, b in spread]
    for n, s in enumerate(places[1:-1], 1):
        if least <= s <= places[-1] - least and not any(a < s < b for a, b in shut):
            yield n
    yield last


def _before(
    piece: Piece, way: Point, start: float, places: tuple[float, ...], each: Rates
) -> Iterator[float]:
    """Hours of everything between the start and each place."""
    u, v = way

    def turned(p: Point) -> Point:
        return (p[0] * u + p[1] * v - start, p[1] * u - p[0] * v)

    lines = [(turned(a), turned(b), each.sides[n]) for (a, b), n in piece.edges]
    lines += [(turned(a), turned(b), each.metre) for a, b in piece.nights]
    ring = [(turned(a), turned(b)) for a, b in sides(piece.ring)]
    marks = [(turned(o.centre)[0], each.openings[o.id]) for o in piece.openings]
    for place in places:
        hours = sum(rate * _length_before(a, b, place) for a, b, rate in lines)
        hours += sum(rate for at, rate in marks if at <= place)
        yield hours + each.gross * abs(sum(_swept(a, b, place) for a, b in ring))


def _swept(a: Point, b: Point, place: float) -> float:
    """Signed area between the axis and what a line has before a place."""
    (s, c), (t, d) = a, b
    near, far = min(s, place), min(t, place)
    if near == far:
        return 0.0
    slope = (d - c) / (t - s)
    return (far - near) * (c + slope * ((near + far) / 2 - s))


def _length_before(a: Point, b: Point, place: float) -> float:
    """Length of a line before a place; a line on the place itself goes with its deck."""
    (s, c), (t, d) = a, b
    if abs(t - s) <= NEAR:
        on_line = abs(s - place) <= NEAR and d > c  # the deck lies to the left, so before it
        return abs(d - c) if s < place - NEAR or on_line else 0.0
    least, most = (s, t) if s < t else (t, s)
    if place >= most:
        return dist(a, b)
    return dist(a, b) * max(0.0, place - least) / (most - least)


def _night_lines(ring: Ring, way: Point, offset: float) -> list[tuple[float, float]]:
    """Stretches of a cut that have deck on both sides of it, along the cut."""
    line = (way[1], -way[0])  # so that offsets to its left grow along the way
    low, high = (crossings(ring, line, offset + d) for d in (-NEAR, NEAR))
    both = ((max(a, c), min(b, d)) for a, b in low for c, d in high)
    return [(a, b) for a, b in both if b - a > NEAR]


def between(sliced: Slice, here: int, there: int) -> tuple[Piece, ...]:
    """Cut out what lies between two places; where the roof falls apart, each piece by itself.

    Parameters
    ----------
    sliced : Slice
        A piece along its way [m].
    here, there : int
        Indices of the two places [-].

    Returns
    -------
    tuple of Piece
        With the felt that lies beside each at the far place [m].
    """
    piece, last = sliced.piece, len(sliced.places) - 1
    if here == 0 and there == last:
        return (piece,)
    (u, v), start = sliced.way, sliced.start
    left, right = reach(piece.ring, (v, -u))
    near = start + (sliced.places[here] if here else -1.0)  # past the piece where it ends
    far = start + sliced.places[there] + (there == last)
    corners = ((near, left - 1), (near, right + 1), (far, right + 1), (far, left - 1))
    band = tuple((s * u + t * v, s * v - t * u) for s, t in corners)
    cuts = [] if there == last else _night_lines(piece.ring, sliced.way, far)
    felt = [
        ((far * u + a * v, far * v - a * u), (far * u + b * v, far * v - b * u)) for a, b in cuts
    ]
    rings = clip_polygon(piece.ring, band)
    return tuple(_piece(piece, ring, [*felt, *piece.nights]) for ring in rings)


def _piece(of: Piece, ring: Ring, felt: list[Segment]) -> Piece:
    edges = tuple((line, n) for side, n in of.edges for line in common(ring, side))
    nights = tuple(line for night in felt for line in common(ring, night))
    inside = tuple(o for o in of.openings if contains(ring, o.centre))
    return Piece(of.plan, ring, edges, nights, inside)


def common(ring: Ring, line: Segment) -> Iterator[Segment]:
    """Find what a line has in common with the outline of a ring.

    Parameters
    ----------
    ring : tuple of (x, y)
        Corners, anticlockwise [m].
    line : tuple of (x, y)
        Its two ends, in either order [m].

    Yields
    ------
    tuple of (x, y)
        Stretches of the line, in the direction of the ring [m].

    Examples
    --------
    >>> list(common(((0, 0), (4, 0), (4, 3), (0, 3)), ((5.0, 3.0), (1.0, 3.0))))
    [((4.0, 3.0), (1.0, 3.0))]
    """
    (ax, ay), (bx, by) = line
    length = dist(*line)
    u, v = (bx - ax) / length, (by - ay) / length
    for p, q in sides(ring):
        ends = [((x - ax) * u + (y - ay) * v, (x - ax) * v - (y - ay) * u) for x, y in (p, q)]
        if abs(ends[0][1]) > NEAR or abs(ends[1][1]) > NEAR:
            continue
        s, t = (min(max(along, 0.0), length) for along, _ in ends)
        if abs(t - s) > NEAR:
            yield (ax + s * u, ay + s * v), (ax + t * u, ay + t * v)

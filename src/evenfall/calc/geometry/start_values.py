"""Where the corners are, roughly: triangle by triangle from the tapes, trying both mirror images.

The first triangle is laid down; then the corner goes next that its tapes place best. Two tapes
place it on either side of the line between their other ends: each of the two is followed up
until a further tape, or sides that cross, rule it out. Where nothing does, the images that fold
the fewest triangles over come first: most tapes lie across the roof, few across a notch. An offset
places its point on one side only, as soon as both ends of its line are placed.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from evenfall.calc.geometry.network import Array, Network
from evenfall.calc.geometry.polygon import Point, segments_meet, turn
from evenfall.errors import InvalidInput
from evenfall.standards.survey_practice import GROSS_MISCLOSURE

Lengths = dict[tuple[int, int], float]  # by both indices, each pair both ways round
Square = tuple[int, int, int]  # an offset: its point, and both ends of its line

MOST = 32  # starts that are followed at a time
WORSE = 1.0  # m, misfit beyond the best at which a start is given up
CROSSING = 2.0  # m, misfit that a crossing counts for


class CannotClose(InvalidInput):
    """Readings that make no plan, because one or more of them are far out."""


@dataclass(frozen=True, slots=True)
class Start:
    """Points placed so far, which mirror image each took, and how badly the tapes fit."""

    xy: dict[int, Point]
    images: tuple[tuple[int, int], ...]  # corner, and 1 or -1
    squares: float = 0.0
    crossings: int = 0
    folds: int = 0  # triangles that go round clockwise

    @property
    def misfit(self) -> float:
        """Misfit in m, crossings counted in."""
        return math.sqrt(self.squares) + CROSSING * self.crossings

    def array(self, points: int) -> Array:
        """Coordinates as an array."""
        return np.array([self.xy[i] for i in range(points)])


def lengths_of(net: Network) -> Lengths:
    """Return one length for each pair of points: the middle one of repeated readings.

    An offset stands for the distances of its point from the ends of its line, where not taped.

    Parameters
    ----------
    net : Network
        Tapes and offsets [m].

    Returns
    -------
    dict
        Lengths by pair, each pair both ways round [m].
    """
    read: dict[tuple[int, int], list[float]] = {}
    for a, b, length in zip(net.a.tolist(), net.b.tolist(), net.length.tolist(), strict=True):
        read.setdefault((min(a, b), max(a, b)), []).append(length)
    found: Lengths = {}
    for (a, b), of in read.items():
        found[a, b] = found[b, a] = (
            sorted(of)[(len(of) - 1) // 2] if len(of) > 2 else sum(of) / len(of)
        )
    for (point, start, end), (along, left) in zip(squares(net), net.square.tolist(), strict=True):
        implied = {start: math.hypot(along, left)}
        if (start, end) in found:
            implied[end] = math.hypot(found[start, end] - along, left)
        for other, length in implied.items():
            if (point, other) not in found and length > 0:
                found[point, other] = found[other, point] = length
    return found


def squares(net: Network) -> tuple[Square, ...]:
    """List the offsets by indices.

    Parameters
    ----------
    net : Network
        Tapes and offsets [-].

    Returns
    -------
    tuple of (point, start, end)
        One for each offset [-].
    """
    return tuple(zip(net.point.tolist(), net.start.tolist(), net.end.tolist(), strict=True))


def reached(
    points: int, lengths: Lengths, first: set[int], offsets: tuple[Square, ...] = ()
) -> set[int]:
    """Find the points that can be placed one after the other from some that are.

    Parameters
    ----------
    points : int
        How many there are [-].
    lengths : dict
        Lengths by pair [m].
    first : set of int
        Points that are placed [-].
    offsets : tuple of (point, start, end)
        Offsets [-].

    Returns
    -------
    set of int
        Those, and all that hang on two tapes or more, or on an offset, from them [-].
    """
    known, more = set(first), True
    while more:
        more = False
        for i in range(points):
            square = any(p == i and {s, e} <= known for p, s, e in offsets)
            if i not in known and (square or sum((i, k) in lengths for k in known) > 1):
                known.add(i)
                more = True
    return known


def triangles_of(points: int, lengths: Lengths) -> Iterator[tuple[int, int, int]]:
    """Yield the triangles of which all three sides are taped.

    Parameters
    ----------
    points : int
        How many points there are [-].
    lengths : dict
        Lengths by pair [m].

    Yields
    ------
    tuple of int
        Indices in rising order [-].
    """
    for a, b in combinations(range(points), 2):
        if (a, b) in lengths:
            for c in range(b + 1, points):
                if (a, c) in lengths and (b, c) in lengths:
                    yield (a, b, c)


def start_values(net: Network, where: str) -> tuple[Start, ...]:
    """Place all points by their tapes.

    Parameters
    ----------
    net : Network
        Tapes and known points; every point must hang on the others by two tapes or more [m].
    where : str
        Place in the input, for the error [-].

    Returns
    -------
    tuple of Start
        Ways in which the tapes can be laid out, the best fit first; `InvalidInput` if a triangle
        cannot close [m].
    """
    lengths = lengths_of(net)
    states = [_first(net, lengths, where)]
    while len(states[0].xy) < len(net.names):
        if (offset := _next_offset(net, states[0])) is not None:
            states = [_set_square(net, state, lengths, offset) for state in states]
            continue
        corner, p, q = _next(net, states[0], lengths)
        grown = [s for state in states for s in _images(net, state, lengths, corner, p, q)]
        if not grown:
            raise cannot_close(net, (corner, p, q), lengths, where)
        best = min(s.misfit for s in grown)
        states = sorted((s for s in grown if s.misfit <= best + WORSE), key=_rank)[:MOST]
    return tuple(states)


def cannot_close(
    net: Network, triangle: tuple[int, int, int], lengths: Lengths, where: str
) -> CannotClose:
    """Say which three tapes make no triangle.

    Parameters
    ----------
    net : Network
        Names of the points [-].
    triangle : tuple of int
        Indices of its corners [-].
    lengths : dict
        Lengths by pair [m].
    where : str
        Place in the input [-].

    Returns
    -------
    CannotClose
        To be raised [-].
    """
    told = ", ".join(
        f"{net.names[a]}-{net.names[b]} {lengths[a, b]:.3f} m"
        for a, b in combinations(sorted(triangle), 2)
        if (a, b) in lengths
    )
    return CannotClose(
        f"tapes that cannot close: {told}",
        "no length above the sum of the other two",
        where=where,
        do="measure the odd one again (feet typed as metres? figures swapped?)",
    )


def _rank(start: Start) -> tuple[int, int, float]:
    """Order starts by their fit, roughly; then by their folds."""
    return (round(start.misfit / GROSS_MISCLOSURE), start.folds, start.misfit)


def _first(net: Network, lengths: Lengths, where: str) -> Start:
    """Start from the known points, else from the largest triangle that reaches every point."""
    if net.known:
        return Start({i: (x, y) for i, x, y in net.known}, ())
    n = len(net.names)
    found = sorted(triangles_of(n, lengths), key=lambda t: -_heron(t, lengths))
    for a, b, c in found:
        if _heron((a, b, c), lengths) <= 0:
            raise cannot_close(net, (a, b, c), lengths, where)
        if len(reached(n, lengths, {a, b, c}, squares(net))) == n:
            x, y = _crossing(lengths[a, b], lengths[a, c], lengths[b, c])
            return Start({a: (0.0, 0.0), b: (lengths[a, b], 0.0), c: (x, math.sqrt(y))}, ())
    raise InvalidInput("tapes without a triangle", "two sides and a diagonal", where=where)


def _heron(triangle: tuple[int, int, int], lengths: Lengths) -> float:
    """Square of the area; negative if the triangle cannot close."""
    p, q, r = (lengths[pair] for pair in combinations(triangle, 2))
    s = (p + q + r) / 2
    return s * (s - p) * (s - q) * (s - r)


def _crossing(base: float, one: float, other: float) -> tuple[float, float]:
    """Place along the base, and the square of the distance from it, of the third corner."""
    along = (base**2 + one**2 - other**2) / (2 * base)
    return along, one**2 - along**2


def _next(net: Network, state: Start, lengths: Lengths) -> tuple[int, int, int]:
    """Choose the corner, and the two points from which, that is placed best."""
    best, chosen = -math.inf, None
    for corner in range(len(net.names)):
        if corner in state.xy:
            continue
        around = [k for k in state.xy if (corner, k) in lengths]
        for p, q in combinations(around, 2):
            worth = _worth(
                math.dist(state.xy[p], state.xy[q]), lengths[corner, p], lengths[corner, q]
            )
            worth *= len(around) - 1 if worth > 0 else 1
            if worth > best:
                best, chosen = worth, (corner, p, q)
    if chosen is None:
        raise AssertionError("start_values is called for points that all can be reached")
    return chosen


def _worth(base: float, one: float, other: float) -> float:
    """Sine of the angle at which two tapes meet; minus the gap in m if they do not."""
    if base <= 0:
        return -math.inf
    gap = max(base, one, other) * 2 - base - one - other
    if gap > 0:
        return -gap
    return math.sqrt(max(_crossing(base, one, other)[1], 0.0)) * base / (one * other)


def _images(
    net: Network, state: Start, lengths: Lengths, corner: int, p: int, q: int
) -> Iterator[Start]:
    """Place a corner on the left and on the right of the line from p to q."""
    (x, y), (u, v) = state.xy[p], state.xy[q]
    base, one, other = math.dist((x, y), (u, v)), lengths[corner, p], lengths[corner, q]
    if _worth(base, one, other) < -GROSS_MISCLOSURE:
        return
    along, square = _crossing(base, one, other)
    off = math.sqrt(max(square, 0.0))
    e, f = (u - x) / base, (v - y) / base
    for image in (1, -1) if off > 0 else (1,):
        at = (x + along * e - image * off * f, y + along * f + image * off * e)
        first, second, third = sorted((p, q, corner))
        xy = state.xy | {corner: at}
        folds = state.folds + (turn(xy[first], xy[second], xy[third]) < 0)
        images = (*state.images, (corner, image))
        yield _placed(
            net, Start(xy, images, state.squares, state.crossings, folds), lengths, corner
        )


def _placed(net: Network, start: Start, lengths: Lengths, corner: int) -> Start:
    """Count in what the readings to a new corner, and its sides, say of its place."""
    xy = start.xy
    misfits = [
        math.dist(xy[corner], xy[k]) - lengths[corner, k]
        for k in xy
        if k != corner and (corner, k) in lengths
    ]
    for i, of in enumerate(squares(net)):
        if corner in of and all(k in xy for k in of):
            misfits += _square_misfits(net, xy, i)
    return replace(
        start,
        squares=start.squares + sum(m * m for m in misfits),
        crossings=start.crossings + _new_crossings(net, xy, corner),
    )


def _square_misfits(net: Network, xy: dict[int, Point], i: int) -> tuple[float, float]:
    """How far a point is from where its offset has it, along the line and square to it."""
    (x, y), (u, v) = xy[int(net.start[i])], xy[int(net.end[i])]
    size = math.dist((x, y), (u, v))
    e, f = ((u - x) / size, (v - y) / size) if size else (1.0, 0.0)
    px, py = xy[int(net.point[i])]
    along, left = (px - x) * e + (py - y) * f, (py - y) * e - (px - x) * f
    return along - float(net.square[i, 0]), left - float(net.square[i, 1])


def _next_offset(net: Network, state: Start) -> int | None:
    """Find an offset of which only the point is not placed yet."""
    for i, (point, start, end) in enumerate(squares(net)):
        if point not in state.xy and start in state.xy and end in state.xy:
            return i
    return None


def _set_square(net: Network, state: Start, lengths: Lengths, i: int) -> Start:
    """Place the point of an offset."""
    point = int(net.point[i])
    origin = state.xy | {point: state.xy[int(net.start[i])]}
    along, left = (-m for m in _square_misfits(net, origin, i))
    (x, y), (u, v) = state.xy[int(net.start[i])], state.xy[int(net.end[i])]
    size = math.dist((x, y), (u, v))
    e, f = ((u - x) / size, (v - y) / size) if size else (1.0, 0.0)
    xy = state.xy | {point: (x + along * e - left * f, y + along * f + left * e)}
    return _placed(net, replace(state, xy=xy), lengths, point)


def _new_crossings(net: Network, xy: dict[int, Point], corner: int) -> int:
    """Count the crossings that the sides at a corner make with sides placed before."""
    n = net.corners
    if n < 3 or corner >= n:
        return 0
    placed = [i for i in range(n) if i in xy and (i + 1) % n in xy]
    new = [i for i in placed if corner in (i, (i + 1) % n)]
    return sum(
        segments_meet(xy[i], xy[(i + 1) % n], xy[j], xy[(j + 1) % n])
        for i in new
        for j in placed
        if j not in ((i - 1) % n, i, (i + 1) % n)
    )

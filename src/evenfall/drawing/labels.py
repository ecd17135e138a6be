"""Where labels go: greedy, in the order given, never one over another, always inside the frame."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from evenfall.drawing.sheet import Box, Point

Segment = tuple[Point, Point]
Seat = Literal["on", "beside"]
ENOUGH = 3
"""Lines covered, beyond which a place is no worse."""


@dataclass(frozen=True, slots=True)
class Request:
    """A label that wants a place: ``on`` its point, or ``beside`` it at ``clear`` distance.

    Moved further than ``slack`` (its own height where None) it is given a leader.
    """

    x: float
    y: float
    width: float
    height: float
    seat: Seat = "on"
    clear: float = 0.0
    slack: float | None = None


@dataclass(frozen=True, slots=True)
class Placed:
    """A label that has its place; ``leader`` is the line back to its point, where it moved far."""

    request: Request
    box: Box
    leader: Segment | None = None


def place_labels(
    requests: Sequence[Request],
    obstacles: Sequence[Box],
    frame: Box,
    lines: Sequence[Segment] = (),
    faint: Sequence[Segment] = (),
) -> tuple[Placed | None, ...]:
    """Place labels without collisions, the first of the list first.

    Parameters
    ----------
    requests : sequence of Request
        The labels in order of importance [any].
    obstacles : sequence of Box
        What no label may cover [any].
    frame : Box
        What no label may leave [any].
    lines : sequence of Segment
        Heavy lines, which a label covers only to avoid a way of more than its height [any].
    faint : sequence of Segment
        Thin lines, which it minds less [any].

    Returns
    -------
    tuple of (Placed or None)
        One place for each request, None where there is no room for it [any].

    Examples
    --------
    >>> one = Request(50, 50, 40, 10)
    >>> first, second = place_labels([one, one], [], Box(0, 0, 100, 100))
    >>> first.box
    Box(x0=30.0, y0=45.0, x1=70.0, y1=55.0)
    >>> first.box.meets(second.box)
    False
    """
    taken, found = list(obstacles), []
    for request in requests:
        box = _best(request, taken, frame, lines, faint)
        found.append(box and Placed(request, box, _leader(request, box)))
        if box:
            taken.append(box)
    return tuple(found)


def _best(
    request: Request,
    taken: Sequence[Box],
    frame: Box,
    lines: Sequence[Segment],
    faint: Sequence[Segment],
) -> Box | None:
    """Return the free box of least cost: the way moved and the lines covered."""
    best: Box | None = None
    least = math.inf
    for box in _candidates(request):
        way = _distance(request, box)
        if way >= least:
            continue
        if not frame.holds(box) or any(box.meets(t) for t in taken):
            continue
        minded = 2.5 * _crossings(box, lines) + 0.25 * _crossings(box, faint)
        cost = way + request.height * minded
        if cost < least:
            best, least = box, cost
    return best


_SIDES = (
    (1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0),
    (0.3, 1.0), (-0.3, 1.0), (0.3, -1.0), (-0.3, -1.0),
    (0.6, 1.0), (-0.6, 1.0), (0.6, -1.0), (-0.6, -1.0),
    (1.0, 1.0), (-1.0, 1.0), (1.0, -1.0), (-1.0, -1.0),
)  # fmt: skip
_WAYS = tuple((math.cos(k * math.pi / 8), math.sin(k * math.pi / 8)) for k in range(16))
_RINGS = (0.75, 1.25, 1.75, 2.5, 3.25, 4, 5, 6, 8, 10)


def _candidates(r: Request) -> Iterator[Box]:
    """Yield boxes: on the point, right, left, above, below of it, then in rings further out."""
    if r.seat == "on":
        yield _box(r, r.x, r.y)
    else:
        dx, dy = r.clear + r.width / 2, r.clear + r.height / 2
        for u, v in _SIDES:
            yield _box(r, r.x + u * dx, r.y + v * dy)
    for ring in _RINGS:
        reach = ring * r.height + r.clear
        for u, v in _WAYS:
            x, y = r.x + u * reach, r.y + v * reach
            yield _box(r, x, y)
            yield _box(r, x + r.width / 2 * u, y)


def _box(r: Request, x: float, y: float) -> Box:
    return Box(x - r.width / 2, y - r.height / 2, x + r.width / 2, y + r.height / 2)


def _nearest(r: Request, box: Box) -> Point:
    return min(max(r.x, box.x0), box.x1), min(max(r.y, box.y0), box.y1)


def _distance(r: Request, box: Box) -> float:
    """Return how far a box lies from where it would like to be."""
    x, y = box.centre
    if r.seat == "on":
        return math.hypot(x - r.x, y - r.y)
    return max(0.0, math.dist(_nearest(r, box), (r.x, r.y)) - r.clear)


def _leader(r: Request, box: Box) -> Segment | None:
    """Return a leader where the box lies too far off its point to be read with it."""
    end = _nearest(r, box)
    slack = r.height if r.slack is None else r.slack
    far = math.dist(end, (r.x, r.y)) > r.clear + slack
    return (end, (r.x, r.y)) if far else None


def _crossings(box: Box, segments: Sequence[Segment]) -> int:
    """Count the segments that run through a box, three at the most: more is no worse."""
    x0, y0, x1, y1 = box
    count = 0
    for segment in segments:
        (x, y), (ex, ey) = segment
        if (x <= x0 and ex <= x0) or (x >= x1 and ex >= x1):
            continue
        if (y <= y0 and ey <= y0) or (y >= y1 and ey >= y1):
            continue
        count += _crosses(box, segment)
        if count == ENOUGH:
            break
    return count


def _crosses(box: Box, segment: Segment) -> bool:
    """Tell whether a segment runs through a box (clipped against its four sides)."""
    (x, y), (ex, ey) = segment
    if (x <= box.x0 and ex <= box.x0) or (x >= box.x1 and ex >= box.x1):
        return False
    if (y <= box.y0 and ey <= box.y0) or (y >= box.y1 and ey >= box.y1):
        return False
    low, high = 0.0, 1.0
    for start, way, least, most in (
        (x, ex - x, box.x0, box.x1),
        (y, ey - y, box.y0, box.y1),
    ):
        if way == 0:
            if not least < start < most:
                return False
            continue
        a, b = sorted(((least - start) / way, (most - start) / way))
        low, high = max(low, a), min(high, b)
    return low < high

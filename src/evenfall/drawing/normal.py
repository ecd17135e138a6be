"""Small pictures of what is normal to see on a new rubber roof, each as large as a thumbnail."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from evenfall.drawing.sheet import Area, Box, Circle, Drawing, Item, Layer, Line, Point

WIDE, HIGH = 26.0, 12.0  # of one picture on paper, mm
FACE = Box(0.0, 0.0, WIDE, HIGH)
STEPS = 24  # of a wave


def draw_normal(key: str, says: str) -> Drawing:
    """Draw one of the marks that are normal to see.

    Parameters
    ----------
    key : str
        Which, as in `PICTURES` [-].
    says : str
        What it is, in words [-].

    Returns
    -------
    Drawing
        At full size on paper [mm].

    Examples
    --------
    >>> draw_normal("puddle", "A shallow puddle.").scale
    1.0
    """
    frame = Area((FACE.ring,), "none", "hair", "hair")
    return Drawing(says, says, (Layer("picture", (frame, *PICTURES[key]())),), 1.0)


def _boards() -> Iterator[Item]:
    for y in (4.0, 8.0):
        yield Line(((0.0, y), (WIDE, y)), "pencil", "hair")
    for x, low in ((6.0, 0.0), (19.0, 0.0), (12.5, 4.0), (6.0, 8.0), (19.0, 8.0)):
        yield Line(((x, low), (x, low + 4.0)), "pencil", "hair")


def _heads() -> Iterator[Item]:
    yield Line(((0.0, 6.0), (WIDE, 6.0)), "pencil", "hair")
    for x in (4.0, 10.0, 16.0, 22.0):
        for y in (3.0, 9.0):
            yield Circle(x, y, 0.9, "pencil", "hair")
            yield Circle(x, y, 0.25, "ink", None, "ink")


def _wave(
    y: float, high: float, turns: float, a: float = 0.0, b: float = WIDE
) -> tuple[Point, ...]:
    """Draw a wave between two ends, flat where it begins and ends."""
    return tuple(
        (a + (b - a) * i / STEPS, y + high * math.sin(2 * math.pi * turns * i / STEPS)
         * math.sin(math.pi * i / STEPS))
        for i in range(STEPS + 1)
    )  # fmt: skip


def _dents() -> Iterator[Item]:
    surface: list[Point] = [(0.0, 5.0)]
    for x in (6.0, 15.0, 21.0):
        surface += [(x - 1.8, 5.0), (x - 0.9, 4.2), (x + 0.9, 4.2), (x + 1.8, 5.0)]
    yield Line((*surface, (WIDE, 5.0)), "ink", "cut")
    thumb = [(3.9, HIGH), (4.1, 6.4), *_bow(6.0, 6.2, 1.9, math.pi, 2 * math.pi), (7.9, HIGH)]
    yield Line(tuple(thumb), "pencil", "thin", "before")


def _bow(x: float, y: float, r: float, a: float, b: float) -> list[Point]:
    turns = (a + (b - a) * i / STEPS for i in range(STEPS + 1))
    return [(x + r * math.cos(t), y + r * math.sin(t)) for t in turns]


def _ridges() -> Iterator[Item]:
    yield Line(_wave(8.0, 1.6, 4.0), "pencil", "thin", "before")
    for x in (6.5, 13.0, 19.5):
        yield Line(((x, 6.4), (x, 4.4)), "ink", "thin")
        yield Line(((x - 0.6, 5.2), (x, 4.4), (x + 0.6, 5.2)), "ink", "thin")
    yield Line(((0.0, 3.0), (WIDE, 3.0)), "ink", "cut")


def _ripples() -> Iterator[Item]:
    for y in (3.0, 6.0, 9.0):
        yield Line(_wave(y, 0.9, 2.0, 2.0, 15.0), "pencil", "thin")
    for x in (19.5, 22.5):
        yield Line(((x, 0.0), (x, HIGH)), "ink", "thin")


def _dust() -> Iterator[Item]:
    patch = tuple((11.0 + 7.5 * math.cos(t) * (1 + 0.18 * math.sin(3 * t)), 6.0 + 3.9 * math.sin(t))
                  for t in (2 * math.pi * i / STEPS for i in range(STEPS)))  # fmt: skip
    yield Area((patch,), "felt", "pencil", "hair", "before")


def _puddle() -> Iterator[Item]:
    dish = [(0.0, 6.5), (6.0, 6.2), (10.0, 4.4), (16.0, 4.4), (20.0, 6.2), (WIDE, 6.5)]
    yield Area((((6.0, 6.2), (10.0, 4.4), (16.0, 4.4), (20.0, 6.2)),), "water", "water", "thin")
    yield Line(tuple(dish), "ink", "cut")


def _shoes() -> Iterator[Item]:
    yield Line(((0.0, 2.0), (WIDE, 2.0)), "ink", "cut")
    shoe = ((7.0, 10.5), (7.2, 2.2), (7.9, 2.2), (8.6, 6.4), (14.5, 2.9), (19.0, 2.5), (19.4, 3.6),
            (15.0, 5.4), (10.4, 9.6), (10.0, 10.8))  # fmt: skip
    yield Area((shoe,), "plain", "ink", "thin")
    yield Line(((3.5, 1.0), (22.5, 11.2)), "chalk", "cut")
    yield Line(((3.5, 11.2), (22.5, 1.0)), "chalk", "cut")


PICTURES: dict[str, Callable[[], Iterator[Item]]] = {
    "boards": _boards, "heads": _heads, "dents": _dents, "ridges": _ridges, "ripples": _ripples,
    "dust": _dust, "puddle": _puddle, "shoes": _shoes,
}  # fmt: skip
"""One picture to each mark."""

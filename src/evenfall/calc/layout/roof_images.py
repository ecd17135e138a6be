"""A roof and its mirror images, so that all of them get the same plan."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from evenfall.calc.layout.courses import Ring

Point = tuple[int, int]
# x' = a x + b y, y' = c x + d y: quarter turns, and the same mirrored
TURNS = (
    (1, 0, 0, 1), (0, -1, 1, 0), (-1, 0, 0, -1), (0, 1, -1, 0),
    (-1, 0, 0, 1), (0, 1, 1, 0), (1, 0, 0, -1), (0, -1, -1, 0),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Image:
    """A roof turned by quarters, mirrored and moved: the first of its kind by its corners."""

    outline: Ring
    holes: tuple[Ring, ...]
    turn: tuple[int, int, int, int]
    moved: Point

    def back(self, points: Iterable[Point]) -> Ring:
        """Return points of the image to the roof, anticlockwise where the image is [mm]."""
        a, b, c, d = self.turn
        found = [
            (a * x + c * y, b * x + d * y)
            for x, y in ((x - self.moved[0], y - self.moved[1]) for x, y in points)
        ]
        return tuple(found if a * d - b * c > 0 else found[::-1])

    def vector(self, along: tuple[float, float]) -> tuple[float, float]:
        """Return a direction of the image to the roof [-]."""
        a, b, c, d = self.turn
        return a * along[0] + c * along[1], b * along[0] + d * along[1]


def image(outline: Ring, holes: Sequence[Ring]) -> Image:
    """Choose among a roof, its quarter turns and its mirror images the first by its corners.

    Parameters
    ----------
    outline : tuple of (int, int)
        Corners of the roof [mm].
    holes : sequence of tuple
        Openings [mm].

    Returns
    -------
    Image
        The same for each of them [mm].

    Examples
    --------
    >>> roof = ((0, 0), (500, 0), (500, 300), (0, 400))
    >>> mirrored = ((0, 0), (0, 400), (-500, 300), (-500, 0))
    >>> image(roof, []).outline == image(mirrored, []).outline
    True
    """
    return min((_image(outline, holes, turn) for turn in TURNS), key=lambda i: (i.outline, i.holes))


def _image(outline: Ring, holes: Sequence[Ring], turn: tuple[int, int, int, int]) -> Image:
    a, b, c, d = turn
    turned = [[(a * x + b * y, c * x + d * y) for x, y in ring] for ring in (outline, *holes)]
    dx, dy = -min(x for x, _ in turned[0]), -min(y for _, y in turned[0])
    first, *others = [_from_least([(x + dx, y + dy) for x, y in ring]) for ring in turned]
    return Image(first, tuple(sorted(others)), turn, (dx, dy))


def _from_least(points: list[Point]) -> Ring:
    """Run anticlockwise from the lowest corner."""
    twice = sum(
        p[0] * q[1] - q[0] * p[1] for p, q in zip(points, points[1:] + points[:1], strict=True)
    )
    ring = points if twice > 0 else points[::-1]
    start = ring.index(min(ring, key=lambda p: (p[1], p[0])))
    return tuple(ring[start:] + ring[:start])

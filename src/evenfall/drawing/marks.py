"""Marks on a drawing: arrows, standing water, rooflights, pipes, readings, rain, a key."""

from __future__ import annotations

import math
from dataclasses import dataclass

from evenfall.drawing.edges import along, moved, outward
from evenfall.drawing.inks import NOTE, TICK, HatchName, Ink, Paper, Weight
from evenfall.drawing.sheet import Area, Circle, Item, Line, Point, Ring, Text, box_of


@dataclass(frozen=True, slots=True)
class Arrow:
    """An arrow from ``tail`` to ``tip``; in water ink the way water runs."""

    tail: Point
    tip: Point
    ink: Ink = "water"
    weight: Weight = "line"

    def drawn(self, paper: Paper) -> tuple[Item, ...]:
        """Return shaft and open head."""
        back, out = along(self.tip, self.tail), outward(self.tail, self.tip)
        foot = moved(self.tip, back, paper.mm(9))
        head = (moved(foot, out, paper.mm(5)), self.tip, moved(foot, out, -paper.mm(5)))
        shaft = Line((self.tail, self.tip), self.ink, self.weight)
        return shaft, Line(head, self.ink, self.weight)


def water_out(a: Point, b: Point, share: float = 0.5, reach: float = 700.0) -> Arrow:
    """Draw where water leaves over an edge.

    Parameters
    ----------
    a, b : Point
        Ends of the edge, outside on the right hand [mm].
    share : float
        Where along the edge, nought to one [-].
    reach : float
        Length of the arrow, most of it inside the roof [mm].

    Returns
    -------
    Arrow
        The arrow [mm].

    Examples
    --------
    >>> water_out((0, 0), (1000, 0), 0.5, 600)
    Arrow(tail=(500.0, 450.0), tip=(500.0, -150.0), ink='water', weight='line')
    """
    foot = (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)
    out = outward(a, b)
    return Arrow(moved(foot, out, -0.75 * reach), moved(foot, out, 0.25 * reach))


@dataclass(frozen=True, slots=True)
class Pool:
    """Standing water: blue outline, two ripples, its depth."""

    ring: Ring
    text: str = ""

    def drawn(self, paper: Paper) -> tuple[Item, ...]:
        """Return outline, ripples and depth."""
        edge = Area((self.ring,), "plain", "water", "line")
        x, y = box_of(self.ring).centre
        ripples = [self._ripple(x - paper.mm(5), y - paper.mm(8), paper),
                   self._ripple(x + paper.mm(6), y - paper.mm(15), paper)]  # fmt: skip
        if not self.text:
            return edge, *ripples
        return edge, *ripples, Text(x, y, self.text, NOTE, ink="water", bold=True, shift=(0, 7))

    def _ripple(self, x: float, y: float, paper: Paper) -> Line:
        wave = [(t, 2.5 * math.sin(t * math.pi / 6)) for t in range(-18, 19, 2)]
        return Line(tuple((x + paper.mm(u), y + paper.mm(v)) for u, v in wave), "water", "thin")


@dataclass(frozen=True, slots=True)
class Rooflight:
    """A rooflight or hatch in plan: kerb, glass and two hairlines."""

    ring: Ring

    def drawn(self, paper: Paper) -> tuple[Item, ...]:
        """Return kerb and glass; the glass lies six units inside the kerb."""
        box = box_of(self.ring)
        glass = box.grown(-min(paper.mm(6), box.width / 4, box.height / 4)).ring
        cross = ((glass[0], glass[2]), (glass[1], glass[3]))
        return (
            Area((self.ring,), "plain", weight="line"),
            *(Line(c, "hair", "hair") for c in cross),
            Area((glass,), "none", weight="thin"),
        )


@dataclass(frozen=True, slots=True)
class Pipe:
    """A pipe through the roof: two rings, at least seven units wide."""

    at: Point
    diameter: float = 0.0

    def drawn(self, paper: Paper) -> tuple[Item, ...]:
        """Return the two rings."""
        radius = max(self.diameter / 2, paper.mm(7))
        outer = Circle(*self.at, radius, fill="sheet")
        return outer, Circle(*self.at, radius * 0.45, weight="thin")


@dataclass(frozen=True, slots=True)
class Reading:
    """Where a reading was taken (moisture, height): a small cross and its number."""

    at: Point
    text: str
    ink: Ink = "ink"

    def drawn(self, paper: Paper) -> tuple[Item, ...]:
        """Return cross and number."""
        (x, y), u = self.at, paper.mm(5)
        cross = (Line(((x - u, y), (x + u, y)), self.ink, "line"),
                 Line(((x, y - u), (x, y + u)), self.ink, "line"))  # fmt: skip
        return *cross, Text(x, y, self.text, NOTE, "start", self.ink, bold=True, shift=(9, 0))


@dataclass(frozen=True, slots=True)
class Rain:
    """Chance of rain: five slanted strokes, one heavy for each chance in five."""

    at: Point
    fifths: int

    def drawn(self, paper: Paper) -> tuple[Item, ...]:
        """Return the five strokes."""
        x, y = self.at
        strokes = []
        for i in range(5):
            heavy, left = i < self.fifths, x + paper.mm(8 * i)
            points = ((left, y - paper.mm(6)), (left + paper.mm(5), y + paper.mm(6)))
            ink: Ink = "water" if heavy else "pencil"
            strokes.append(Line(points, ink, "cut" if heavy else "thin"))
        return tuple(strokes)


@dataclass(frozen=True, slots=True)
class Key:
    """What the hatches mean: a swatch and words to each, one under another from ``at``."""

    at: Point
    entries: tuple[tuple[HatchName, str], ...]

    def drawn(self, paper: Paper) -> tuple[Item, ...]:
        """Return swatches with their words."""
        parts: list[Item] = []
        for i, (hatch, words) in enumerate(self.entries):
            x, y = self.at[0], self.at[1] - paper.mm(34 * i)
            w, h = paper.mm(44), paper.mm(13)
            ring = ((x, y - h), (x + w, y - h), (x + w, y + h), (x, y + h))
            parts.append(Area((ring,), hatch))
            size = max(TICK, NOTE)
            parts.append(Text(x, y, words, size, "start", halo=False, shift=(54, 0)))
        return tuple(parts)

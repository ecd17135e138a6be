"""Measures on a drawing: dimensions, and a tape that does not fit its room."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from evenfall.drawing.edges import along, moved, outward
from evenfall.drawing.inks import NOTE, Ink, Paper, Weight, known
from evenfall.drawing.sheet import Item, Line, Point, Text

Surety = Literal["taped", "worked", "guess"]
"""Taped on the roof, worked out from tapes, or not yet taped."""


def reading(a: Point, b: Point) -> float:
    """Return the angle at which lettering along a line is read from below or from the right.

    Parameters
    ----------
    a, b : Point
        The two ends [mm].

    Returns
    -------
    float
        Angle above -90, at most 90 [deg].

    Examples
    --------
    >>> reading((0, 0), (0, -4)), reading((5, 0), (0, 0))
    (90.0, 0.0)
    """
    x, y = along(a, b)
    angle = math.degrees(math.atan2(y, x))
    turned = angle + 180 if angle <= -90 + 1e-6 else angle - 180 if angle > 90 + 1e-6 else angle
    return round(turned, 6) + 0.0


@dataclass(frozen=True, slots=True)
class Dimension:
    """A dimension with 45 degree ticks; ``offset`` is paper units outward of a to b."""

    a: Point
    b: Point
    text: str
    offset: float = 44.0
    surety: Surety = "taped"
    size: float = NOTE
    ink: Ink = "ink"

    def __post_init__(self) -> None:
        known(self.surety, Surety, "surety")
        along(self.a, self.b)

    @property
    def own_ink(self) -> Ink:
        """Pencil for a guess."""
        return "pencil" if self.surety == "guess" else self.ink

    def ends(self, paper: Paper) -> tuple[Point, Point]:
        """Return the two ends of the dimension line."""
        out, by = outward(self.a, self.b), paper.mm(self.offset)
        return moved(self.a, out, by), moved(self.b, out, by)

    def drawn(self, paper: Paper) -> tuple[Item, ...]:
        """Return witness lines, the line parted round its number, ticks and the number."""
        p, q = self.ends(paper)
        return (*self._witness(p, q, paper), *self._line(p, q, paper), self._number(p, q, paper))

    def _witness(self, p: Point, q: Point, paper: Paper) -> list[Line]:
        if abs(self.offset) < 14:
            return []
        out, sign = outward(self.a, self.b), math.copysign(1, self.offset)
        near, far = paper.mm(9) * sign, paper.mm(5) * sign
        pairs = ((self.a, p), (self.b, q))
        return [Line((moved(c, out, near), moved(d, out, far)), "hair", "hair") for c, d in pairs]

    def _fits(self, p: Point, q: Point, paper: Paper) -> bool:
        return self._room(paper) + paper.mm(22) < math.dist(p, q)

    def _room(self, paper: Paper) -> float:
        bold = self.surety == "taped"
        return paper.text_mm(self.text, self.size, bold)[0] + paper.mm(6)

    def _line(self, p: Point, q: Point, paper: Paper) -> list[Line]:
        way, out, half = along(p, q), outward(p, q), paper.mm(5.5)
        lean = (way[0] - out[0], way[1] - out[1])
        ticks = [Line((moved(c, lean, -half), moved(c, lean, half)), self.own_ink, "line")
                 for c in (p, q)]  # fmt: skip
        gap = (math.dist(p, q) - self._room(paper)) / 2
        parts = [(p, moved(p, way, gap)), (moved(q, way, -gap), q)]
        if not self._fits(p, q, paper):
            parts = [(p, q)]
        dash: Literal["solid", "guess"] = "guess" if self.surety == "guess" else "solid"
        weight: Weight = "line" if dash == "guess" else "thin"
        return [*(Line(part, self.own_ink, weight, dash) for part in parts), *ticks]

    def _number(self, p: Point, q: Point, paper: Paper) -> Text:
        middle = ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)
        if not self._fits(p, q, paper):
            height = paper.text_mm(self.text, self.size)[1] * 0.5 + paper.mm(7)
            side = math.copysign(1, self.offset)
            middle = moved(middle, outward(p, q), height * side)
        bold, guess = self.surety == "taped", self.surety == "guess"
        angle = reading(p, q)
        return Text(*middle, self.text, self.size, "middle", self.own_ink, bold, guess, angle)


@dataclass(frozen=True, slots=True)
class Tape:
    """A taped diagonal beside the room there is for it: too long bows, too short stops short.

    A bow is drawn as a tape of that length would really lie.
    """

    a: Point
    b: Point
    taped_mm: float
    text: str
    room_text: str = ""

    @property
    def over(self) -> float:
        """How much longer the tape is than its room [mm]."""
        return self.taped_mm - math.dist(self.a, self.b)

    def drawn(self, paper: Paper) -> tuple[Item, ...]:
        """Return the room dashed and the tape in chalk."""
        room = Line((self.a, self.b), weight="thin", dash="before")
        bow = self._bow() if self.over > 0 else 0.0
        points = self._curve(bow) if bow else self._short(paper)
        angle, out = reading(self.a, self.b), outward(self.a, self.b)
        deep = moved(self._middle, out, bow + paper.mm(14))
        told: list[Item] = [
            Text(*deep, self.text, NOTE, ink="chalk", bold=True, angle=angle),
        ]
        if self.room_text:
            above = moved(self._middle, out, -paper.mm(12))
            told.append(Text(*above, self.room_text, NOTE, angle=angle))
        return room, Line(points, "chalk", "line"), *told

    @property
    def _middle(self) -> Point:
        return (self.a[0] + self.b[0]) / 2, (self.a[1] + self.b[1]) / 2

    def _bow(self) -> float:
        length = math.dist(self.a, self.b)
        return min(math.sqrt(3 * self.over * length / 8), length / 3)

    def _curve(self, bow: float) -> tuple[Point, ...]:
        way, out = along(self.a, self.b), outward(self.a, self.b)
        length, steps = math.dist(self.a, self.b), 24
        return tuple(
            moved(moved(self.a, way, length * t), out, 4 * bow * t * (1 - t))
            for t in (i / steps for i in range(steps + 1))
        )

    def _short(self, paper: Paper) -> tuple[Point, ...]:
        gap = max(-self.over, paper.mm(12)) if self.over < 0 else 0.0
        return self.a, moved(self.b, along(self.a, self.b), -gap)

"""What finds its own place on a drawing: chalk marks, labels, the north arrow."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

from evenfall.drawing.edges import moved
from evenfall.drawing.inks import NOTE, TICK, Ink, Paper, known
from evenfall.drawing.labels import Request, Seat, Segment
from evenfall.drawing.marks import Arrow
from evenfall.drawing.sheet import Area, Circle, Item, Line, Text

MarkKind = Literal["stop", "agree", "agreed", "note", "fine"]
"""Stop: the work cannot go on; agree: with the client, in writing; agreed: signed."""


def _mark_unit(paper: Paper) -> float:
    """Return the paper unit of a mark, never too small for its number [mm]."""
    return paper.text_px(NOTE + 1) / (NOTE + 1) * paper.mm_per_px


@dataclass(frozen=True, slots=True)
class Mark:
    """A chalk mark at a point; moved aside, with a leader, where its place is taken."""

    x: float
    y: float
    kind: MarkKind
    number: str = ""
    leader: Segment | None = None

    def __post_init__(self) -> None:
        known(self.kind, MarkKind, "mark")

    def request(self, paper: Paper) -> Request:
        """Ask for a place, on the very point."""
        u = _mark_unit(paper)
        return Request(self.x, self.y, 34 * u, 40 * u, slack=2 * u)

    def moved(self, x: float, y: float, leader: Segment | None) -> Mark:
        """Return the mark at its place."""
        return replace(self, x=x, y=y, leader=leader)

    def drawn(self, paper: Paper) -> tuple[Item, ...]:
        """Return disc on a bar, open or closed ring, number on a line, or tick."""
        lead: tuple[Item, ...] = ()
        if self.leader:
            tip = Circle(*self.leader[1], paper.mm(2.5), "chalk", None, "chalk")
            lead = (Line(self.leader, "chalk", "thin"), tip)
        ink: Ink = "ink" if self.kind == "fine" else "chalk"
        return (*lead, *self._shape(paper), *self._number(ink))

    def _number(self, ink: Ink) -> tuple[Text, ...]:
        if not self.number or self.kind == "fine":
            return ()
        on: Ink = "sheet" if self.kind == "stop" else ink
        return (
            Text(self.x, self.y, self.number, NOTE + 1, ink=on, bold=True, halo=False,
                 shift=(0, 2)),
        )  # fmt: skip

    def _shape(self, paper: Paper) -> tuple[Item, ...]:
        u = _mark_unit(paper)
        x, y = self.x, self.y + 2 * u
        bar = Line(((x - 12 * u, y - 18 * u), (x + 12 * u, y - 18 * u)), "chalk", "cut")
        ground = Circle(x, y, 16 * u, "sheet", None, "sheet")
        if self.kind == "stop":
            return ground, Circle(x, y, 13 * u, "chalk", None, "chalk"), bar
        if self.kind == "agreed":
            return ground, Circle(x, y, 13 * u, "chalk", "line")
        if self.kind == "agree":
            turn = [math.radians(-20 - 290 * i / 32) for i in range(33)]
            arc = tuple((x + 13 * u * math.cos(t), y + 13 * u * math.sin(t)) for t in turn)
            return ground, Line(arc, "chalk", "line")
        if self.kind == "note":
            slip = ((x - 10 * u, y - 13 * u), (x + 10 * u, y - 13 * u))
            ring = (*slip, (x + 10 * u, y + 11 * u), (x - 10 * u, y + 11 * u))
            foot = ((x - 9 * u, y - 11 * u), (x + 9 * u, y - 11 * u))
            return Area((ring,), "plain", weight=None), Line(foot, "chalk", "line")
        tick = ((x - 8 * u, y), (x - 2 * u, y - 7 * u), (x + 9 * u, y + 9 * u))
        return (Line(tick, "ink", "line"),)


@dataclass(frozen=True, slots=True)
class Label:
    """Lettering that finds its own place, ``on`` its point or ``beside`` it."""

    x: float
    y: float
    text: str
    size: float = NOTE
    ink: Ink = "ink"
    bold: bool = False
    italic: bool = False
    seat: Seat = "on"
    clear: float = 8.0
    angle: float = 0.0
    leader: Segment | None = None

    def request(self, paper: Paper) -> Request:
        """Ask for a place."""
        w, h = paper.text_mm(self.text, self.size, self.bold)
        turn = math.radians(self.angle)
        c, s = abs(math.cos(turn)), abs(math.sin(turn))
        w, h = c * w + s * h + paper.mm(6), s * w + c * h + paper.mm(2)
        ask = Request(self.x, self.y, w, h, slack=paper.text_mm("x", self.size)[1])
        return replace(ask, seat=self.seat, clear=paper.mm(self.clear))

    def moved(self, x: float, y: float, leader: Segment | None) -> Label:
        """Return the label at its place."""
        return replace(self, x=x, y=y, leader=leader)

    def drawn(self, paper: Paper) -> tuple[Item, ...]:
        """Return the lettering and its leader."""
        words = Text(self.x, self.y, self.text, self.size, "middle", self.ink, self.bold,
                     self.italic, self.angle)  # fmt: skip
        if not self.leader:
            return (words,)
        tip = Circle(*self.leader[1], paper.mm(2), self.ink, None, self.ink)
        return Line(self.leader, self.ink, "hair"), tip, words


@dataclass(frozen=True, slots=True)
class North:
    """Where north is, in degrees clockwise from up."""

    x: float
    y: float
    angle: float = 0.0
    text: str = "N"

    def request(self, paper: Paper) -> Request:
        """Ask for a place, anywhere."""
        side = paper.mm(52)
        return Request(self.x, self.y, side, side, slack=math.inf)

    def moved(self, x: float, y: float, leader: Segment | None) -> North:
        """Return the arrow at its place."""
        return replace(self, x=x, y=y)

    def drawn(self, paper: Paper) -> tuple[Item, ...]:
        """Return arrow and letter."""
        turn = math.radians(self.angle)
        way = (math.sin(turn), math.cos(turn))
        tail, tip = (moved((self.x, self.y), way, paper.mm(v)) for v in (-21, 8))
        letter = moved((self.x, self.y), way, paper.mm(18))
        return Arrow(tail, tip, "ink"), Text(*letter, self.text, TICK, bold=True)

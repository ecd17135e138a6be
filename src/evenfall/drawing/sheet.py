"""The drawing: layers of lines, areas, circles and lettering, in millimetres of the world, y up.

Where a thing has the size of the paper rather than of the world (a tick, a tooth, lettering), it is
a `Sign`: it is drawn out into lines, areas, circles and texts once the size of the sheet is known.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal, NamedTuple, Protocol, runtime_checkable

from evenfall.drawing.inks import NOTE, Dash, HatchName, Ink, Paper, Weight, known
from evenfall.errors import InvalidInput

Point = tuple[float, float]
Ring = tuple[Point, ...]
Anchor = Literal["start", "middle", "end"]


class Box(NamedTuple):
    """An upright rectangle."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def width(self) -> float:
        """Width."""
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        """Height."""
        return self.y1 - self.y0

    @property
    def centre(self) -> Point:
        """Middle."""
        return (self.x0 + self.x1) / 2, (self.y0 + self.y1) / 2

    def grown(self, by: float) -> Box:
        """Return the box grown on every side."""
        return Box(self.x0 - by, self.y0 - by, self.x1 + by, self.y1 + by)

    def meets(self, other: Box) -> bool:
        """Tell whether two boxes share any area."""
        return (
            self.x0 < other.x1 and other.x0 < self.x1 and self.y0 < other.y1 and other.y0 < self.y1
        )

    def holds(self, other: Box) -> bool:
        """Tell whether the other box lies wholly inside."""
        return (
            self.x0 <= other.x0 and self.y0 <= other.y0 and self.x1 >= other.x1
            and self.y1 >= other.y1
        )  # fmt: skip

    @property
    def ring(self) -> Ring:
        """The four corners, counter-clockwise."""
        return (self.x0, self.y0), (self.x1, self.y0), (self.x1, self.y1), (self.x0, self.y1)


def box_of(points: Iterable[Point]) -> Box:
    """Return the upright box round some points.

    Parameters
    ----------
    points : iterable of (x, y)
        At least one point [mm].

    Returns
    -------
    Box
        The box [mm].

    Examples
    --------
    >>> box_of([(0, 0), (3, -1)])
    Box(x0=0, y0=-1, x1=3, y1=0)
    """
    xs, ys = zip(*points, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))


def _check(points: Iterable[Point], least: int, what: str) -> None:
    points = tuple(points)
    if len(points) < least or not all(math.isfinite(v) for p in points for v in p):
        raise InvalidInput(f"{what} of {len(points)} points", f"{least} or more finite points")


@dataclass(frozen=True, slots=True)
class Line:
    """An open line through two or more points."""

    points: tuple[Point, ...]
    ink: Ink = "ink"
    weight: Weight = "thin"
    dash: Dash = "solid"

    def __post_init__(self) -> None:
        _check(self.points, 2, "line")
        known(self.ink, Ink, "ink")
        known(self.weight, Weight, "weight")
        known(self.dash, Dash, "dash")


@dataclass(frozen=True, slots=True)
class Area:
    """An area: the outer ring first, then its holes; ``weight`` None leaves it without outline."""

    rings: tuple[Ring, ...]
    hatch: HatchName = "none"
    ink: Ink = "ink"
    weight: Weight | None = "thin"
    dash: Dash = "solid"
    turn: float = 0.0  # degrees that the hatch is turned, counter-clockwise

    def __post_init__(self) -> None:
        for ring in self.rings:
            _check(ring, 3, "ring")
        known(self.hatch, HatchName, "hatch")
        known(self.ink, Ink, "ink")


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle in millimetres of the world; ``fill`` is an ink or nothing."""

    x: float
    y: float
    radius: float
    ink: Ink = "ink"
    weight: Weight | None = "line"
    fill: Ink | None = None
    dash: Dash = "solid"


@dataclass(frozen=True, slots=True)
class Text:
    """Lettering; ``y`` is the middle of its height, a new line starts at each line end.

    ``shift`` moves it by paper units, right and up, before it is turned.
    """

    x: float
    y: float
    text: str
    size: float = NOTE
    anchor: Anchor = "middle"
    ink: Ink = "ink"
    bold: bool = False
    italic: bool = False
    angle: float = 0.0
    halo: bool = True
    shift: Point = (0.0, 0.0)

    def __post_init__(self) -> None:
        _check(((self.x, self.y),), 1, "text")
        if self.ink == "hair" or not self.text.strip():
            raise InvalidInput(f'lettering "{self.text}" in {self.ink}', "words in a readable ink")

    def settled(self, paper: Paper) -> Text:
        """Return the text with its shift worked in."""
        dx, dy = self.shift
        x, y = self.x + paper.mm(dx), self.y + paper.mm(dy)
        return replace(self, x=x, y=y, shift=(0.0, 0.0))

    def corners(self, paper: Paper) -> Ring:
        """Return the four corners of its ground, turned with it."""
        x, y = self.settled(paper).x, self.settled(paper).y
        w, h = paper.text_mm(self.text, self.size, self.bold)
        left = {"start": 0.0, "middle": -w / 2, "end": -w}[self.anchor]
        c, s = math.cos(math.radians(self.angle)), math.sin(math.radians(self.angle))
        flat = Box(left, -h / 2, left + w, h / 2).ring
        return tuple((x + c * u - s * v, y + s * u + c * v) for u, v in flat)


Piece = Line | Area | Circle | Text
"""What the writers know how to write."""


@runtime_checkable
class Sign(Protocol):
    """A thing with the size of the paper: drawn out when the size of the sheet is known."""

    def drawn(self, paper: Paper) -> tuple[Item, ...]:
        """Return the pieces (or further signs) that it is made of."""
        ...  # pragma: no cover


@dataclass(frozen=True, slots=True)
class Group:
    """Items that are one thing to a reader: a side, an opening, a finding.

    ``key`` says which (``side:A-B``), ``name`` says it aloud.
    """

    key: str
    name: str
    items: tuple[Item, ...]


Item = Piece | Sign | Group


@dataclass(frozen=True, slots=True)
class Layer:
    """Items under one trade name, the lowest first; ``leaves`` are the tracing sheets it is on."""

    name: str
    items: tuple[Item, ...] = ()
    leaves: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Frame:
    """The frame of a plan: bars of a round length that start at corner A; the frame is the scale.

    ``north`` is degrees clockwise from up.
    """

    origin: Point
    north: float | None = None


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing, which always says in words what it shows.

    ``scale`` is the n of 1:n at which it is printed when no width is asked.
    """

    title: str
    alt: str
    layers: tuple[Layer, ...]
    scale: float = 50.0
    frame: Frame | None = None

    def __post_init__(self) -> None:
        if not self.title.strip() or not self.alt.strip():
            raise InvalidInput("a drawing without words", "a title and an alternative text")
        if not self.scale > 0:
            raise InvalidInput(f"scale 1:{self.scale}", "a scale above nought", where="scale")
        if not any(layer.items for layer in self.layers):
            raise InvalidInput("an empty drawing", "at least one item", where="layers")

    @property
    def scale_note(self) -> str:
        """The scale in words."""
        return f"1 : {self.scale:g} on paper, measures in metres"

    def bounds(self, paper: Paper | None = None) -> Box:
        """Return the box round all of it, at one size of the sheet."""
        paper = paper or Paper(self.scale * 25.4 / 96)
        return bounds_of(pieces_of(self, paper), paper)


def pieces_of(drawing: Drawing, paper: Paper) -> Iterator[Piece]:
    """Draw out every sign of a drawing.

    Parameters
    ----------
    drawing : Drawing
        The drawing [mm].
    paper : Paper
        The size of the sheet [mm/px].

    Returns
    -------
    iterator of Piece
        Lines, areas, circles and texts in drawing order [mm].

    Examples
    --------
    >>> sheet = Drawing("edge", "one edge", (Layer("roof outline", (Line(((0, 0), (9, 0))),)),))
    >>> len(list(pieces_of(sheet, Paper(1.0))))
    1
    """
    for layer in drawing.layers:
        for item in layer.items:
            yield from drawn_out(item, paper)


def drawn_out(item: Item, paper: Paper) -> Iterator[Piece]:
    """Draw out one item into the pieces it is made of.

    Parameters
    ----------
    item : Item
        A piece, a sign or a group [mm].
    paper : Paper
        The size of the sheet [mm/px].

    Returns
    -------
    iterator of Piece
        The pieces, texts with their shift worked in [mm].

    Examples
    --------
    >>> [type(p).__name__ for p in drawn_out(Text(0, 0, "A", shift=(3, 0)), Paper(2.0))]
    ['Text']
    """
    if isinstance(item, Text):
        yield item.settled(paper)
    elif isinstance(item, Line | Area | Circle):
        yield item
    else:
        for part in item.items if isinstance(item, Group) else item.drawn(paper):
            yield from drawn_out(part, paper)


def piece_box(piece: Piece, paper: Paper) -> Box:
    """Return the box round one piece.

    Parameters
    ----------
    piece : Piece
        A line, area, circle or text [mm].
    paper : Paper
        The size of the sheet [mm/px].

    Returns
    -------
    Box
        The box, line weights left out [mm].

    Examples
    --------
    >>> piece_box(Circle(1, 2, 3), Paper(1.0))
    Box(x0=-2, y0=-1, x1=4, y1=5)
    """
    if isinstance(piece, Circle):
        return Box(piece.x, piece.y, piece.x, piece.y).grown(piece.radius)
    if isinstance(piece, Text):
        return box_of(piece.corners(paper))
    return box_of(piece.points if isinstance(piece, Line) else piece.rings[0])


def bounds_of(pieces: Iterable[Piece], paper: Paper) -> Box:
    """Return the box round some pieces.

    Parameters
    ----------
    pieces : iterable of Piece
        At least one [mm].
    paper : Paper
        The size of the sheet [mm/px].

    Returns
    -------
    Box
        The box [mm].

    Examples
    --------
    >>> bounds_of([Line(((0, 0), (9, 4))), Circle(0, 0, 1)], Paper(1.0))
    Box(x0=-1, y0=-1, x1=9, y1=4)
    """
    boxes = [piece_box(p, paper) for p in pieces]
    return box_of([(b.x0, b.y0) for b in boxes] + [(b.x1, b.y1) for b in boxes])

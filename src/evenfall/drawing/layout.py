"""Laying a drawing on its sheet: the size is found, labels get their places, the frame its bars."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from evenfall.drawing.chalk import Label, Mark, North
from evenfall.drawing.inks import LIGHTS, PX_PER_MM, TICK, Light, LightName, Paper, Weight
from evenfall.drawing.labels import Placed, Segment, place_labels
from evenfall.drawing.sheet import (
    Area,
    Box,
    Circle,
    Drawing,
    Frame,
    Group,
    Item,
    Layer,
    Line,
    Piece,
    Point,
    Text,
    drawn_out,
    piece_box,
)
from evenfall.drawing.staff import round_step
from evenfall.errors import InvalidInput

_BAND, _INNER, _BARE = 7.0, 22.0, 3.0  # frame, clear strip inside it, margin without a frame
_LONGEST = 4.0  # how much deeper than its width a sheet may be
_BARS = (100.0, 500.0, 1000.0, 2000.0, 5000.0)
_SMALL, _NARROW = 260.0, 480.0  # px below which hatches are finer and signs smaller
Movable = Label | Mark | North


@dataclass(frozen=True, slots=True)
class Laid:
    """A drawing with its size, its places and its frame; ``left`` are labels without room."""

    view: Box
    paper: Paper
    fine: float
    frame: tuple[Piece, ...]
    layers: tuple[tuple[Layer, tuple[Item, ...]], ...]
    notes: tuple[Piece, ...]
    left: tuple[str, ...] = ()

    @property
    def size_px(self) -> tuple[float, float]:
        """Width and height of the sheet in px."""
        return self.view.width / self.paper.mm_per_px, self.view.height / self.paper.mm_per_px


def lay_out(
    drawing: Drawing,
    light: LightName = "paper",
    width_px: float | None = None,
    height_px: float | None = None,
    whole: tuple[type, ...] = (),
) -> Laid:
    """Lay a drawing on a sheet of some size.

    Parameters
    ----------
    drawing : Drawing
        The drawing [mm].
    light : str
        Where it is seen [-].
    width_px, height_px : float or None
        Room for it; with neither, the drawing's own scale is kept [px].
    whole : tuple of type
        Signs that are handed on as they are instead of being drawn out [-].

    Returns
    -------
    Laid
        What a writer writes [mm].

    Raises
    ------
    InvalidInput
        Where the room is not above nought.

    Examples
    --------
    >>> edge = Line(((0, 0), (6000, 0), (6000, 3000)))
    >>> plan = Drawing("edge", "two edges", (Layer("roof outline", (edge,)),))
    >>> laid = lay_out(plan, width_px=306)
    >>> laid.size_px, laid.paper.mm_per_px
    ((306.0, 156.0), 20.0)
    """
    for name, room in (("width_px", width_px), ("height_px", height_px)):
        if room is not None and not 0 < room < math.inf:
            raise InvalidInput(f"{room} px", "a size above nought", where=name)
    seen = LIGHTS[light]
    room = min(width_px or math.inf, height_px or math.inf)
    fine = 0.6 if room < _SMALL else 0.8 if room < _NARROW else 1.0
    paper = _fitted(drawing, seen, fine, width_px, height_px)
    view = _view(drawing, paper, width_px, height_px)
    return _placed(drawing, paper, view, fine, whole)


# --- the size ------------------------------------------------------------------------------------


def _paper(light: Light, fine: float, mm_per_px: float) -> Paper:
    return Paper(mm_per_px, light.unit * fine, light.least_text)


def _margin(drawing: Drawing) -> float:
    return _BAND + _INNER if drawing.frame else _BARE


def _needed(drawing: Drawing, paper: Paper) -> Box:
    """Return the box of everything that has a fixed place, with its margin."""
    return drawing.bounds(paper).grown(_margin(drawing) * paper.mm_per_px)


def _fitted(
    drawing: Drawing, light: Light, fine: float, width: float | None, height: float | None
) -> Paper:
    """Find the size at which the drawing fills its room.

    What its signs need beyond the world is nearly the same px at any size, so that a few tries
    settle it; where signs would take more than three quarters of the room, the sheet grows.
    """
    scale = drawing.scale / PX_PER_MM
    if width is None and height is None:
        return _paper(light, fine, scale)
    bare = drawing.bounds(_paper(light, fine, 1e-6))
    if not max(bare.width, bare.height) > 1e-3:
        return _paper(light, fine, scale)
    least = max(bare.width, bare.height) / _LONGEST
    rooms = [(max(world, least), room, side)
             for side, world, room in ((0, bare.width, width), (1, bare.height, height))
             if room is not None]  # fmt: skip
    scale = max(world / room for world, room, _ in rooms)
    for _ in range(12):
        box = _needed(drawing, _paper(light, fine, scale))
        needed = (box.width, box.height)
        signs = [(needed[side] - world) / scale for world, _, side in rooms]
        before, scale = (
            scale,
            max(
                world / max(room - sign, room / 4)
                for (world, room, _), sign in zip(rooms, signs, strict=True)
            ),
        )
        if abs(scale - before) < 1e-7 * scale:
            break
    return _paper(light, fine, scale)


def _view(drawing: Drawing, paper: Paper, width: float | None, height: float | None) -> Box:
    """Return the part of the world that the sheet shows, the drawing in its middle."""
    box, k = _needed(drawing, paper), paper.mm_per_px
    wide = max(box.width, width * k if width else 0.0) / 2
    high = max(box.height, height * k if height else 0.0) / 2
    x, y = box.centre
    return Box(x - wide, y - high, x + wide, y + high)


# --- the places ----------------------------------------------------------------------------------


def _movables(items: tuple[Item, ...]) -> Iterator[Movable]:
    for item in items:
        if isinstance(item, Movable):
            yield item
        elif isinstance(item, Group):
            yield from _movables(item.items)


def _fixed(items: tuple[Item, ...]) -> tuple[Item, ...]:
    kept = (item for item in items if not isinstance(item, Movable))
    return tuple(
        replace(item, items=_fixed(item.items)) if isinstance(item, Group) else item
        for item in kept
    )


def _placed(
    drawing: Drawing, paper: Paper, view: Box, fine: float, whole: tuple[type, ...]
) -> Laid:
    """Place marks and labels, and list below the frame what found no room."""
    frame, notes = _frame(drawing.frame, view, paper) if drawing.frame else ((), ())
    inner = view.grown(-(_BAND + 4 if drawing.frame else 0) * paper.mm_per_px)
    wanted = tuple(m for layer in drawing.layers for m in _movables(layer.items))
    if drawing.frame and drawing.frame.north is not None:
        reach = 28 * paper.unit * paper.mm_per_px
        wanted += (North(inner.x0 + reach, inner.y0 + reach, drawing.frame.north),)
    places = _places(drawing, wanted, notes, inner, paper)
    settled = [_moved(m, p) for m, p in zip(wanted, places, strict=True)]
    spots = iter(settled)
    layers = tuple(
        (layer, tuple(_settled(layer.items, spots, paper, whole))) for layer in drawing.layers
    )
    notes += tuple(p for m in spots if m for p in drawn_out(m, paper))
    left = tuple(_told(m) for m, s in zip(wanted, settled, strict=True) if s is None)
    view, more = _listed(left, view, paper)
    return Laid(view, paper, fine, frame, layers, notes + more, left)


def _places(
    drawing: Drawing,
    wanted: tuple[Movable, ...],
    notes: tuple[Piece, ...],
    inner: Box,
    paper: Paper,
) -> tuple[Placed | None, ...]:
    """Place chalk marks first, then labels, then north."""
    if not wanted:
        return ()
    fixed = [
        p for layer in drawing.layers for i in _fixed(layer.items) for p in drawn_out(i, paper)
    ]
    obstacles = [b for p in (*fixed, *notes) for b in _obstacles(p, paper)]
    heavy = [s for p in fixed for s in _segments(p, ("night", "cut", "line"))]
    faint = [s for p in fixed for s in _segments(p, ("thin",))]
    rank = {Mark: 0, Label: 1, North: 2}
    order = sorted(range(len(wanted)), key=lambda i: (rank[type(wanted[i])], i))
    found = place_labels([wanted[i].request(paper) for i in order], obstacles, inner, heavy, faint)
    back = dict(zip(order, found, strict=True))
    return tuple(back[i] for i in range(len(wanted)))


def _moved(item: Movable, place: Placed | None) -> Movable | None:
    return item.moved(*place.box.centre, place.leader) if place else None


def _settled(
    items: tuple[Item, ...],
    spots: Iterator[Movable | None],
    paper: Paper,
    whole: tuple[type, ...],
) -> Iterator[Item]:
    for item in items:
        if isinstance(item, Group):
            yield replace(item, items=tuple(_settled(item.items, spots, paper, whole)))
        elif isinstance(item, Movable):
            spot = next(spots)
            yield from drawn_out(spot, paper) if spot else ()
        elif isinstance(item, whole):
            yield item
        else:
            yield from drawn_out(item, paper)


def _obstacles(piece: Piece, paper: Paper) -> Iterator[Box]:
    """Yield what no label may cover: lettering (turned lettering in short pieces), small rings."""
    if isinstance(piece, Text):
        a, b, c, d = piece.corners(paper)
        count = 1 if piece.angle % 90 == 0 else max(1, math.ceil(math.dist(a, b) / math.dist(b, c)))
        for i in range(count):
            ends = [_share(p, q, t / count) for t in (i, i + 1) for p, q in ((a, b), (d, c))]
            xs, ys = zip(*ends, strict=True)
            yield Box(min(xs), min(ys), max(xs), max(ys))
    elif isinstance(piece, Circle) and piece.radius < paper.mm(30):
        yield piece_box(piece, paper)


def _share(a: Point, b: Point, t: float) -> Point:
    return a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t


def _segments(piece: Piece, weights: tuple[Weight, ...]) -> Iterator[Segment]:
    """Yield the segments of lines that lettering should rather not cover."""
    if isinstance(piece, Line) and piece.weight in weights:
        yield from pairwise(piece.points)
    elif isinstance(piece, Area) and piece.weight in weights:
        for ring in piece.rings:
            yield from zip(ring, (*ring[1:], ring[0]), strict=True)


def _told(item: Movable) -> str:
    if isinstance(item, North):
        return f"north is {item.angle % 360:g}° clockwise from up"
    return item.text.replace("\n", " ") if isinstance(item, Label) else f"mark {item.number}"


def _listed(left: tuple[str, ...], view: Box, paper: Paper) -> tuple[Box, tuple[Piece, ...]]:
    """Return the view made deeper, and a line below it for each label that found no room."""
    if not left:
        return view, ()
    step = paper.text_px(TICK) * paper.mm_per_px * 1.4
    words = ("no room in the picture for:", *left)
    deeper = Box(view.x0, view.y0 - step * (len(words) + 0.5), view.x1, view.y1)
    return deeper, tuple(
        Text(view.x0 + step, view.y0 - step * (i + 0.75), w, TICK, "start", halo=False)
        for i, w in enumerate(words)
    )


# --- the frame -----------------------------------------------------------------------------------


def frame_plan(drawing: Drawing, origin: Point, north: float | None = None) -> Drawing:
    """Give a plan its frame: half-metre bars, ink and paper, that start at corner A.

    Where half a metre is too short or too long to read, the bars are 0.10, 1, 2 or 5 m; the frame
    says which.

    Parameters
    ----------
    drawing : Drawing
        The plan [mm].
    origin : Point
        Corner A [mm].
    north : float or None
        Direction of north, clockwise from up; None leaves the arrow out [deg].

    Returns
    -------
    Drawing
        The plan with its frame [mm].

    Examples
    --------
    >>> plan = Drawing("edge", "one edge", (Layer("roof outline", (Line(((0, 0), (9, 0))),)),))
    >>> frame_plan(plan, (0, 0)).frame
    Frame(origin=(0, 0), north=None)
    """
    return replace(drawing, frame=Frame(origin, north))


def _frame(frame: Frame, view: Box, paper: Paper) -> tuple[tuple[Piece, ...], tuple[Piece, ...]]:
    """Return the ground and bars, drawn first, and the note of the scale, drawn last."""
    k = paper.mm_per_px
    outer, inner = view.grown(-0.7 * k), view.grown(-_BAND * k)
    step = round_step(22 * k, _BARS)
    bars = [
        Area((Box(a, edge.y0, b, edge.y1).ring,), "solid", weight=None)
        for edge in (Box(0, outer.y0, 0, inner.y0), Box(0, inner.y1, 0, outer.y1))
        for a, b in _bars(frame.origin[0], step, inner.x0, inner.x1)
    ] + [
        Area((Box(edge.x0, a, edge.x1, b).ring,), "solid", weight=None)
        for edge in (Box(outer.x0, 0, inner.x0, 0), Box(inner.x1, 0, outer.x1, 0))
        for a, b in _bars(frame.origin[1], step, inner.y0, inner.y1)
    ]
    words = f"frame bars {step / 1000:.2f} m"
    low = inner.y0 + _INNER / 2 * k
    note = Text(inner.x1 - 8 * k, low, words, TICK, "end", "pencil")
    ground = Area((outer.ring,), "plain", weight="thin")
    return (ground, *bars, Area((inner.ring,), "none", weight="thin")), (note,)


def _bars(origin: float, step: float, low: float, high: float) -> list[tuple[float, float]]:
    """Return the dark bars of one side, cut off at its ends."""
    first, last = math.floor((low - origin) / step), math.ceil((high - origin) / step)
    ends = [(origin + i * step, origin + (i + 1) * step) for i in range(first, last) if i % 2 == 0]
    cut = [(max(a, low), min(b, high)) for a, b in ends]
    return [(a, b) for a, b in cut if b > a]

"""The one DXF writer: millimetres, layers with the words of the trade, no file touched.

Dimensions stay dimensions, hatches stay hatches; bare ground that hides what lies below it is a
wipeout. The same drawing gives the same text.
"""

from __future__ import annotations

import io
import math
import re
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from itertools import product
from typing import Any

from evenfall.drawing.dimensions import Dimension
from evenfall.drawing.inks import (
    DASHES,
    HATCHES,
    LEADING,
    NOTE,
    Dash,
    HatchName,
    Ink,
    Paper,
    Weight,
    plain,
)
from evenfall.drawing.layout import lay_out
from evenfall.drawing.sheet import Area, Circle, Drawing, Group, Item, Line, Ring, Text, drawn_out

_COLOURS: dict[Ink, int] = {
    "ink": 7, "pencil": 8, "chalk": 1, "water": 150, "evening": 190, "hair": 9, "sheet": 7,
}  # fmt: skip
_WEIGHTS: dict[Weight, int] = {"night": 50, "cut": 35, "line": 20, "thin": 13, "hair": 9}
_CAPS = 0.66  # height of a capital, in sizes
_STYLE = "LETTERING"


def to_dxf(drawing: Drawing, scale: float | None = None) -> str:
    """Write a drawing as DXF (R2010), in millimetres of the world.

    Parameters
    ----------
    drawing : Drawing
        The drawing [mm].
    scale : float or None
        The n of 1:n that lettering, ticks and hatches are made for; the drawing's own where None
        [-].

    Returns
    -------
    str
        The text of the file, of Unicode UTF-8 [-].

    Examples
    --------
    >>> from evenfall.drawing.sheet import Layer
    >>> edge = Layer("roof outline", (Line(((0, 0), (6000, 0), (6000, 3000)), weight="cut"),))
    >>> text = to_dxf(Drawing("Edge", "Two edges of a roof", (edge,)))
    >>> "LWPOLYLINE" in text, "roof outline" in text
    (True, True)
    """
    scaled = drawing if scale is None else replace(drawing, scale=scale)
    laid = lay_out(scaled, "print", whole=(Dimension,))
    sheet = _Sheet(_new(), laid.paper)
    sheet.prepare(scaled)
    sheet.write("frame", laid.frame)
    for layer, items in laid.layers:
        sheet.write(layer.name, items)
    sheet.write("notes", laid.notes)
    x, y, k = laid.view.x0, laid.view.y0, laid.paper.mm(1)
    words = f"{drawing.title}, {scaled.scale_note}"
    sheet.write("notes", (Text(x, y - 20 * k, words, NOTE, "start", halo=False),))
    _frame(sheet.document)
    return _text(sheet.document)


def _new() -> Any:
    """Return an empty document in millimetres."""
    import ezdxf
    from ezdxf import units

    # no date, no GUID: the same drawing gives the same text
    ezdxf.options.write_fixed_meta_data_for_testing = True  # type: ignore[attr-defined]
    document = ezdxf.new("R2010", setup=False)  # type: ignore[attr-defined]
    document.units = units.MM
    document.header["$MEASUREMENT"] = 1
    document.styles.add(_STYLE, font="arial.ttf").dxf.width = 0.85
    return document


def _frame(document: Any) -> None:
    """Tell how far the drawing reaches.

    A program opens it whole then, and one that goes by these numbers draws it at its true size.
    """
    from ezdxf import bbox

    reach = bbox.extents(document.modelspace(), fast=True)
    low, high = ((round(p.x, 3), round(p.y, 3)) for p in (reach.extmin, reach.extmax))
    for name, corner in (("MIN", low), ("MAX", high)):
        document.header[f"$EXT{name}"] = (*corner, 0.0)
        document.header[f"$LIM{name}"] = corner
    space = document.modelspace()
    space.reset_extents((*low, 0.0), (*high, 0.0))
    space.reset_limits(low, high)
    centre = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
    document.set_modelspace_vport(height=high[1] - low[1], center=centre)


def _text(document: Any) -> str:
    """Return the text of a document."""
    for kind in sorted(document.entitydb.dxf_types_in_use()):
        document.classes.add_class(kind)  # else they come in the order of a set
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue()


def _layer_name(name: str) -> str:
    """Return a name that DXF allows."""
    return re.sub(r'[<>/\\":;?*|=`\n]', " ", plain(name)).strip() or "drawing"


@dataclass
class _Sheet:
    """One document being written."""

    document: Any
    paper: Paper
    dimensions: int = field(default=0)

    def prepare(self, drawing: Drawing) -> None:
        """Make linetypes and layers, the heavier lines of a layer first told by its items."""
        for dash, lengths in DASHES.items():
            if lengths:
                parts = [self.paper.mm(v) * (-1) ** i for i, v in enumerate(lengths)]
                pattern = [sum(abs(p) for p in parts), *parts]
                self.document.linetypes.add(dash.upper(), pattern, description=dash)
        for name in ("frame", *(layer.name for layer in drawing.layers), "notes"):
            if not self.document.layers.has_entry(_layer_name(name)):
                self.document.layers.add(_layer_name(name))

    def write(self, layer: str, items: Iterable[Item]) -> None:
        """Write the items of a layer into the model."""
        for item in items:
            self._write(self.document.modelspace(), _layer_name(layer), item)

    def _write(self, space: Any, layer: str, item: Item) -> None:
        if isinstance(item, Group):
            for part in item.items:
                self._write(space, layer, part)
        elif isinstance(item, Line):
            told = self._attributes(layer, item.ink, item.weight, item.dash)
            self._polyline(space, item.points, False, told)
        elif isinstance(item, Area):
            self._area(space, layer, item)
        elif isinstance(item, Circle):
            self._circle(space, layer, item)
        elif isinstance(item, Text):
            self._lettering(space, layer, item)
        elif isinstance(item, Dimension):
            self._dimension(space, layer, item)

    def _attributes(
        self, layer: str, ink: Ink, weight: Weight | None = None, dash: Dash = "solid"
    ) -> dict[str, Any]:
        found: dict[str, Any] = {"layer": layer, "color": _COLOURS[ink]}
        if weight:
            found["lineweight"] = _WEIGHTS[weight]
        if DASHES[dash]:
            found["linetype"] = dash.upper()
        return found

    def _polyline(self, space: Any, points: Ring, shut: bool, told: dict[str, Any]) -> None:
        space.add_lwpolyline([_round(p) for p in points], close=shut, dxfattribs=told)

    def _area(self, space: Any, layer: str, area: Area) -> None:
        if area.hatch == "plain" and len(area.rings) == 1:
            wipeout = space.add_wipeout([_round(p) for p in area.rings[0]])
            wipeout.dxf.layer = layer
        elif area.hatch not in ("none", "plain"):
            self._hatch(space, layer, area)
        if area.weight:
            told = self._attributes(layer, area.ink, area.weight, area.dash)
            for ring in area.rings:
                self._polyline(space, ring, True, told)

    def _hatch(self, space: Any, layer: str, area: Area) -> None:
        solid = area.hatch == "solid"
        ink = area.ink if solid else HATCHES[area.hatch].ink
        hatch = space.add_hatch(color=_COLOURS[ink], dxfattribs={"layer": layer})
        if not solid:
            lines = pattern_lines(area.hatch, self.paper.mm(1), area.turn)
            told = {"color": _COLOURS[ink], "definition": lines, "style": 0}
            hatch.set_pattern_fill(area.hatch.upper(), **told)
        for i, ring in enumerate(area.rings):
            hatch.paths.add_polyline_path([_round(p) for p in ring], flags=16 if i else 1)

    def _circle(self, space: Any, layer: str, circle: Circle) -> None:
        centre, radius = _round((circle.x, circle.y)), round(circle.radius, 3)
        turns = [2 * math.pi * i / 24 for i in range(24)]
        ring = [
            _round((circle.x + radius * math.cos(t), circle.y + radius * math.sin(t)))
            for t in turns
        ]
        if circle.fill == "sheet":
            space.add_wipeout(ring).dxf.layer = layer
        elif circle.fill:
            self._hatch(space, layer, Area((tuple(ring),), "solid", circle.fill, None))
        if circle.weight and circle.ink != "sheet":
            told = self._attributes(layer, circle.ink, circle.weight, circle.dash)
            space.add_circle(centre, radius, dxfattribs=told)

    def _lettering(self, space: Any, layer: str, text: Text) -> None:
        from ezdxf.enums import TextEntityAlignment as Place

        anchors = {"start": Place.MIDDLE_LEFT, "middle": Place.MIDDLE_CENTER,
                   "end": Place.MIDDLE_RIGHT}  # fmt: skip
        em = self.paper.text_px(text.size) * self.paper.mm_per_px
        told = self._attributes(layer, text.ink)
        told |= {"style": _STYLE, "rotation": text.angle, "oblique": 12 if text.italic else 0}
        lines, turn = plain(text.text).split("\n"), math.radians(text.angle)
        for i, words in enumerate(lines):
            down = (i - (len(lines) - 1) / 2) * LEADING * em
            x, y = text.x + down * math.sin(turn), text.y - down * math.cos(turn)
            entity = space.add_text(words, height=round(em * _CAPS, 3), dxfattribs=told)
            entity.set_placement(_round((x, y)), align=anchors[text.anchor])

    def _dimension(self, space: Any, layer: str, item: Dimension) -> None:
        """Write an aligned dimension, drawn in a block of its own as it looks on the sheet."""
        self.dimensions += 1
        block = self.document.blocks.new(f"*D{self.dimensions}")
        pieces = tuple(drawn_out(item, self.paper))
        for piece in pieces:
            self._write(block, layer, piece)
        number = next(p for p in pieces if isinstance(p, Text))
        space.new_entity("DIMENSION", {
            "layer": layer,
            "geometry": block.name,
            "dimtype": 1 | 32,  # aligned, with a block of its own
            "defpoint": _round(item.ends(self.paper)[1]),
            "defpoint2": _round(item.a),
            "defpoint3": _round(item.b),
            "text_midpoint": _round((number.x, number.y)),
            "text": plain(item.text),
            "actual_measurement": round(math.dist(item.a, item.b), 3),
            "dimstyle": "Standard",
        })  # fmt: skip


def _round(p: tuple[float, float]) -> tuple[float, float]:
    return round(p[0], 3) + 0.0, round(p[1], 3) + 0.0


def pattern_lines(name: HatchName, unit: float, turn: float = 0.0) -> list[Any]:
    """Return a hatch as families of dashed lines, the way DXF tells one.

    Parameters
    ----------
    name : str
        A hatch of `HATCHES` [-].
    unit : float
        Millimetres of the world in a paper unit [mm].
    turn : float
        How far the hatch is turned further, counter-clockwise [deg].

    Returns
    -------
    list
        For each stroke of the tile its angle, base, step to the next line and dashes [mm].

    Examples
    --------
    >>> pattern_lines("deck", 10.0)
    [[0.0, (0.0, 55.0), (0.0, -110.0), []]]
    """
    hatch = HATCHES[name]
    strokes = [*hatch.strokes, *(((x, y), (x, y)) for x, y, _ in hatch.dots)]
    angle = hatch.angle + turn
    found = []
    for a, b in strokes:
        lean, step, dashes = _family(a, b, hatch.width, hatch.height)
        base, step = (_turned((x * unit, y * unit), angle) for x, y in (a, step))
        found.append([round(lean + angle, 6), base, step, [round(d * unit, 4) for d in dashes]])
    return found


_NEAR = sorted(product(range(-12, 13), repeat=2), key=lambda n: abs(n[0]) + abs(n[1]))
"""Tiles round a tile, the nearest first."""


def _family(
    a: tuple[float, float], b: tuple[float, float], w: float, h: float
) -> tuple[float, tuple[float, float], list[float]]:
    """Return angle, step and dashes of the lines on which a stroke of a w by h tile repeats."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    if dx == dy == 0:
        return 0.0, (0.0, h), [0.0, -w]
    i, j = next(
        (i, j)
        for i, j in _NEAR
        if abs(i * w * dy - j * h * dx) < 1e-9 and i * w * dx + j * h * dy > 0
    )  # the nearest tile that lies in the direction of the stroke
    period, length = math.hypot(i * w, j * h), math.hypot(dx, dy)
    u, v = next(n for n in _NEAR if abs(i * n[1] - j * n[0]) == 1)
    dashes = [] if abs(period - length) < 1e-9 else [length, length - period]
    return math.degrees(math.atan2(dy, dx)), (u * w, v * h), dashes


def _turned(p: tuple[float, float], angle: float) -> tuple[float, float]:
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    return round(c * p[0] - s * p[1], 6) + 0.0, round(s * p[0] + c * p[1], 6) + 0.0

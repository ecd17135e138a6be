"""Drawing: layers of lines, areas, texts and dimensions; one SVG writer and one DXF writer.

Pure: no file, no clock; imports nothing of the project but `working` and `errors`.
"""

from evenfall.drawing.chalk import Label, Mark, North
from evenfall.drawing.dimensions import Dimension, Tape
from evenfall.drawing.dxf import to_dxf
from evenfall.drawing.edges import (
    Corner,
    Gutter,
    Inset,
    NightLine,
    Outlet,
    Verge,
    beside,
    corners,
    parapet,
    wall,
    wall_opening,
)
from evenfall.drawing.inks import FIGURE, HEAD, NOTE, TEXT, TICK
from evenfall.drawing.labels import Placed, Request, place_labels
from evenfall.drawing.layout import frame_plan, lay_out
from evenfall.drawing.marks import Arrow, Key, Pipe, Pool, Rain, Reading, Rooflight, water_out
from evenfall.drawing.normal import draw_normal
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
    Point,
    Ring,
    Text,
)
from evenfall.drawing.staff import Break, Staff
from evenfall.drawing.svg import to_svg

__all__ = [
    "FIGURE",
    "HEAD",
    "NOTE",
    "TEXT",
    "TICK",
    "Area",
    "Arrow",
    "Box",
    "Break",
    "Circle",
    "Corner",
    "Dimension",
    "Drawing",
    "Frame",
    "Group",
    "Gutter",
    "Inset",
    "Item",
    "Key",
    "Label",
    "Layer",
    "Line",
    "Mark",
    "NightLine",
    "North",
    "Outlet",
    "Pipe",
    "Placed",
    "Point",
    "Pool",
    "Rain",
    "Reading",
    "Request",
    "Ring",
    "Rooflight",
    "Staff",
    "Tape",
    "Text",
    "Verge",
    "beside",
    "corners",
    "draw_normal",
    "frame_plan",
    "lay_out",
    "parapet",
    "place_labels",
    "to_dxf",
    "to_svg",
    "wall",
    "wall_opening",
    "water_out",
]  # fmt: skip

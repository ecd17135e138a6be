"""The drawings of the desk: the plan looked at in several ways, the section, the evenings."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from evenfall.app.web.upright import upright
from evenfall.app.web.words import by_the_quarter, clock, day
from evenfall.drawing import (
    Dimension,
    Drawing,
    Group,
    Item,
    Label,
    Layer,
    Mark,
    Ring,
    Text,
    to_svg,
)
from evenfall.flow import DRAWINGS, WorkedJob
from evenfall.model.programmed import Day
from evenfall.model.surveyed import Point

WIDE, HIGH = 660, 560
"""The plan at the desk, in px; the page shows it no smaller."""
NARROW, TALLEST = 320, 420
"""The plan on a phone, in px."""
BESIDE = 330
"""The section, in px."""
SMALL, LOW = 116, 104
"""An evening, in px."""
MM = 1000
MARKS, TAPES = "chalk marks", "tapes"
WIDE_ONLY = ("names", "heights")
"""Layers of the plan that a phone does without."""

OF_ROOMS = ("drying", "edges", "fixings", "sheet", "rolls")
"""Rooms with a drawing of their own among their workings."""

_STYLE = ' style="font-variant-numeric:tabular-nums lining-nums"'
COVERS = {"felt": "old felt", "open": "open", "vcl": "VCL", "sheet": "sheet"}
"""What keeps the rain out, in words."""


@dataclass(frozen=True, slots=True)
class View:
    """One way to look at the plan."""

    key: str = field(metadata={"help": "Short name, for links."})
    word: str = field(metadata={"help": "Its word on the roll."})
    says: str = field(metadata={"help": "What it shows, in a sentence."})
    wide: str = field(metadata={"help": "The drawing for the desk, as SVG."})
    narrow: str = field(metadata={"help": "The drawing for a phone, as SVG."})


@dataclass(frozen=True, slots=True)
class Evening:
    """One day of work and the roof at its dusk."""

    day: str = field(metadata={"help": "Day of the week and date."})
    says: str = field(metadata={"help": "The work of the day."})
    hands: str = field(metadata={"help": "People and hours."})
    closed: str = field(metadata={"help": "When the roof is closed."})
    dark: str = field(metadata={"help": "When it is dark."})
    water: str = field(metadata={"help": "Where water leaves tonight."})
    svg: str = field(metadata={"help": "The small plan."})


def views(worked: WorkedJob) -> tuple[View, ...]:
    """Draw the plan as it was found, with its boards, and finished.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].

    Returns
    -------
    tuple of View
        In the order of the job [-].
    """
    plan: Drawing = DRAWINGS["plan"](worked)
    found: Drawing = DRAWINGS["survey"](worked)
    boards: Drawing = DRAWINGS["boards"](worked)
    marks = tuple(layer for layer in plan.layers if layer.name == MARKS)
    if not any(layer.name == MARKS for layer in boards.layers):
        boards = replace(boards, layers=(*boards.layers, *marks))
    told = (
        (
            "found",
            "as found: old felt, levels in mm above its lowest point",
            found,
        ),
        ("boards", f"{worked.boards.bought} boards in laying order", boards),
        ("finished", "the finished roof and the way its water runs", plan),
    )
    return tuple(View(k, k, says, _wide(d, k), _narrow(d, k)) for k, says, d in told)


def _wide(drawing: Drawing, key: str) -> str:
    return _svg(drawing, WIDE, HIGH, f"w-{key}")


def _narrow(drawing: Drawing, key: str) -> str:
    """Draw for a phone: what has no room there stands in the lists below the plan."""
    layers = tuple(_light(layer) for layer in drawing.layers if layer.name not in WIDE_ONLY)
    drawing = replace(drawing, layers=layers)
    box = drawing.bounds()
    tall = box.height > box.width * TALLEST / NARROW
    return _svg(drawing, NARROW, TALLEST if tall else None, f"n-{key}")


def _light(layer: Layer) -> Layer:
    """Leave the marks out that only note something; inside the roof, a number without its line."""
    if layer.name == TAPES:
        return replace(layer, items=tuple(_number(i) for i in layer.items))
    if layer.name != MARKS:
        return layer
    kept = (g for g in layer.items if isinstance(g, Group) and not _notes(g))
    return replace(layer, items=tuple(kept))


def _number(item: Item) -> Item:
    """Let the number of a dimension inside the roof find its own place."""
    line = item.items[0] if isinstance(item, Group) else None
    if not isinstance(item, Group) or not isinstance(line, Dimension) or line.offset > 0:
        return item
    x, y = (line.a[0] + line.b[0]) / 2, (line.a[1] + line.b[1]) / 2
    return replace(item, items=(Label(x, y, line.text, bold=True, seat="beside"),))


def _notes(group: Group) -> bool:
    return all(isinstance(mark, Mark) and mark.kind == "note" for mark in group.items)


def _svg(drawing: Drawing, width: float, height: float | None, prefix: str) -> str:
    """Write a drawing in the inks of the page; its figures are told by the style sheet."""
    return to_svg(drawing, width, "css", height_px=height, prefix=prefix).replace(_STYLE, "", 1)


def section(worked: WorkedJob) -> str:
    """Draw the rise stick beside the section at the tightest place.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].

    Returns
    -------
    str
        SVG [-].
    """
    return _svg(upright(worked), BESIDE, None, "section")


def of_room(worked: WorkedJob, key: str) -> tuple[str, ...]:
    """Draw what belongs to one room alone.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].
    key : str
        The room [-].

    Returns
    -------
    tuple of str
        SVG; none where the room has no drawing of its own [-].
    """
    drawing = DRAWINGS[key](worked) if key in OF_ROOMS else None
    if isinstance(drawing, tuple):
        return tuple(_svg(d, BESIDE, None, f"r-{key}-{n}") for n, d in enumerate(drawing))
    return (_svg(drawing, WIDE, None, f"r-{key}"),) if drawing else ()


# --- evenings ------------------------------------------------------------------------------------


def evenings(worked: WorkedJob) -> tuple[Evening, ...]:
    """Draw the roof at dusk of every day.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].

    Returns
    -------
    tuple of Evening
        One for each day of the programme [-].
    """
    if not worked.programme.days:
        return ()
    row: Drawing = DRAWINGS["evenings"](worked)
    roofs = [g for layer in row.layers for g in layer.items if isinstance(g, Group)]
    return tuple(
        _evening(today, roof) for today, roof in zip(worked.programme.days, roofs, strict=True)
    )


def _evening(today: Day, roof: Group) -> Evening:
    """Take one roof out of the row; what is lettered there, the page says beside it."""
    dusk = today.evening
    cover = "; ".join(f"bay {n} {COVERS[cover]}" for n, cover in dusk.covers)
    ways = _listed(tuple(_way(way) for way in dusk.water_leaves_by))
    bare = tuple(item for item in roof.items if not isinstance(item, Text))
    picture = Drawing(
        f"Evening of {day(today.on)}",
        f"{cover}. Water leaves by {ways}.",
        (Layer("evenings", bare),),
    )
    return Evening(
        day(today.on),
        today.says,
        f"{today.people} people, {today.hours:.1f} h",
        f"closed {by_the_quarter(dusk.sealed_by)}",
        f"dark {clock(dusk.dusk)}",
        f"water by {ways}",
        _svg(picture, SMALL, LOW, f"e-{today.number}"),
    )


def _way(id_: str) -> str:
    """Name a side or an opening."""
    kind, _, name = id_.partition(":")
    return name if kind == "side" else f"the {name.replace('-', ' ')}"


def _listed(words: tuple[str, ...]) -> str:
    """Join words as they are said."""
    *first, last = words or ("nothing",)
    return f"{', '.join(first)} and {last}" if first else last


def _mm(point: Point) -> Point:
    return point[0] * MM, point[1] * MM


def _ring(ring: Ring) -> Ring:
    return tuple(_mm(p) for p in ring)

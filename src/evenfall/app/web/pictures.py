"""The drawings of the desk: the plan looked at in several ways, the section, the evenings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from evenfall.app.web.words import clock, day
from evenfall.drawing import (
    Area,
    Drawing,
    Item,
    Layer,
    Line,
    Reading,
    Ring,
    Rooflight,
    to_svg,
    water_out,
)
from evenfall.drawing.inks import HatchName
from evenfall.flow import DRAWINGS, WorkedJob
from evenfall.model.programmed import Bay, Day
from evenfall.model.surveyed import Point

WIDE, HIGH = 660, 560
"""The plan at the desk, in px; the page shows it no smaller."""
NARROW, TALLEST = 320, 420
"""The plan on a phone, in px."""
BESIDE = 320
"""The section, in px."""
SMALL, LOW = 150, 116
"""An evening, in px."""
MM = 1000

_STYLE = ' style="font-variant-numeric:tabular-nums lining-nums"'
_COVERS: dict[str, tuple[HatchName, str]] = {
    "felt": ("felt", "old felt"),
    "open": ("cannot", "open"),
    "vcl": ("evening", "VCL"),
    "sheet": ("plain", "sheet"),
}


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
    closed: str = field(metadata={"help": "When the roof is closed, and when it is dark."})
    cover: str = field(metadata={"help": "What keeps the rain out of each bay, in words."})
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
    boards: Drawing = DRAWINGS["boards"](worked)
    marks = tuple(layer for layer in plan.layers if layer.name == "chalk marks")
    if not any(layer.name == "chalk marks" for layer in boards.layers):
        boards = replace(boards, layers=(*boards.layers, *marks))
    told = (
        ("found", "as found: old felt, levels in mm above its lowest point", _found(plan, worked)),
        ("boards", f"{worked.boards.bought} boards in laying order", boards),
        ("finished", "the finished roof and the way its water runs", plan),
    )
    return tuple(View(k, k, says, _wide(d, k), _narrow(d, k)) for k, says, d in told)


def _found(plan: Drawing, worked: WorkedJob) -> Drawing:
    """Put old felt and spot levels in the place of the finished sheet and its water."""
    ring = _ring(worked.plan.deck)
    low = min((s.z_mm for s in worked.levels.spots), default=0.0)
    spots = tuple(Reading(_mm(s.at), f"{s.z_mm - low:.0f}") for s in worked.levels.spots)
    other = {
        "roof outline": Layer("roof outline", (Area((ring,), "felt", weight="cut"),)),
        "water": Layer("levels", spots),
    }
    layers = tuple(other.get(layer.name, layer) for layer in plan.layers)
    return replace(plan, title=f"{plan.title}, as found", layers=layers)


def _wide(drawing: Drawing, key: str) -> str:
    return _svg(drawing, WIDE, HIGH, f"w-{key}")


def _narrow(drawing: Drawing, key: str) -> str:
    box = drawing.bounds()
    tall = box.height > box.width * TALLEST / NARROW
    return _svg(drawing, NARROW, TALLEST if tall else None, f"n-{key}")


def _svg(drawing: Drawing, width: float, height: float | None, prefix: str) -> str:
    """Write a drawing in the inks of the page; its figures are told by the style sheet."""
    return to_svg(drawing, width, "css", height_px=height, prefix=prefix).replace(_STYLE, "", 1)


def section(worked: WorkedJob) -> str:
    """Draw the section where it is tightest, else at the eaves.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].

    Returns
    -------
    str
        SVG [-].
    """
    drawing = DRAWINGS["height"](worked) or DRAWINGS["eaves"](worked)
    return _svg(drawing, BESIDE, None, "section")


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
    return tuple(_evening(worked, d) for d in worked.programme.days)


def _evening(worked: WorkedJob, today: Day) -> Evening:
    dusk = today.evening
    said = {number: _COVERS[cover][1] for number, cover in dusk.covers}
    cover = "; ".join(f"bay {n}: {word}" for n, word in said.items())
    picture = Drawing(
        f"Evening of {day(today.on)}",
        f"{cover}. Water leaves by {', '.join(dusk.water_leaves_by)}.",
        tuple(_at_dusk(worked, today)),
    )
    return Evening(
        day(today.on),
        today.says,
        f"{today.people} people, {today.hours:.1f} h",
        f"closed by {clock(dusk.sealed_by)}, dark at {clock(dusk.dusk)}",
        cover,
        _svg(picture, SMALL, LOW, f"e-{today.number}"),
    )


def _at_dusk(worked: WorkedJob, today: Day) -> Iterator[Layer]:
    plan, bays = worked.plan, {b.number: b for b in worked.programme.bays}
    covers = [(bays[n], cover) for n, cover in today.evening.covers if n in bays]
    yield Layer("evenings", tuple(_bay(bay, cover) for bay, cover in covers))
    openings = (Rooflight(_ring(o.ring)) for o in plan.openings if o.diameter_mm is None)
    outline = Area((_ring(plan.deck),), "none", weight="cut")
    yield Layer("roof outline", (outline, *openings))
    yield Layer("night line", tuple(_night(ends) for ends in today.evening.night_lines))
    yield Layer("water", tuple(_leaving(worked, today)))


def _bay(bay: Bay, cover: str) -> Item:
    return Area((_ring(bay.ring),), _COVERS[cover][0], weight="thin")


def _night(ends: tuple[Point, Point]) -> Item:
    return Line(tuple(_mm(p) for p in ends), "evening", "night")


def _leaving(worked: WorkedJob, today: Day) -> Iterator[Item]:
    """Draw an arrow over each side that water leaves by tonight."""
    for id_ in today.evening.water_leaves_by:
        for side in worked.plan.sides:
            if side.id == id_ or f"gutter:{side.name}" == id_:
                for share in (0.3, 0.7):
                    yield water_out(_mm(side.a), _mm(side.b), share, 1200)


def _mm(point: Point) -> Point:
    return point[0] * MM, point[1] * MM


def _ring(ring: Ring) -> Ring:
    return tuple(_mm(p) for p in ring)

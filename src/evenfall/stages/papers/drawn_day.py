"""Where today's work is: the roof of one day, its bays, tonight's cover and night line."""

from __future__ import annotations

from collections.abc import Iterator

from shapely.geometry import Polygon

from evenfall.drawing import (
    NOTE,
    TICK,
    Area,
    Drawing,
    Group,
    Item,
    Layer,
    NightLine,
    Rooflight,
    Text,
    corners,
    frame_plan,
    water_out,
)
from evenfall.drawing.inks import HatchName, Ink
from evenfall.drawing.sheet import box_of
from evenfall.model.programmed import Bay, Day
from evenfall.model.words import short_day
from evenfall.stages.papers.drawn_plan import mm
from evenfall.stages.papers.drawn_put_down import KINDS, put_down
from evenfall.stages.papers.worked import WorkedRoof

COVERS: dict[str, HatchName] = {"felt": "felt", "open": "deck", "vcl": "evening", "sheet": "plain"}
SAID = {"felt": "old felt", "open": "open", "vcl": "VCL", "sheet": "sheet"}
ARROWS = (0.3, 0.7)  # where along an edge the arrows of water stand
INSIDE_MM = 60.0  # how far the second outline of today's bays lies inside the first
LETTERED = 0.4  # of the width of the roof: a narrower bay has its number alone, its hatch tells
TALL = 0.25  # of the same width: a lower bay has no room for two lines
MOST_CORNERS = 10  # more of them would lie on one another in so small a plan
UNDER = 18  # how far what covers a bay stands under its number, paper units


def draw_days(worked: WorkedRoof) -> tuple[Drawing, ...]:
    """Draw the roof of every day: where work is, what covers it tonight, where water leaves.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of Drawing
        One to a day [mm].
    """
    tasks = {t.id: t for t in worked.tasks.tasks}
    found = []
    for day in worked.programme.days:
        today = [tasks[id_] for id_, _ in day.work if id_ in tasks]
        bays = {b for t in today for b in ((t.bay,) if t.bay is not None else t.bays)}
        kinds = tuple(t.id.removeprefix("task:") for t in today)
        found.append(_day(worked, day, bays, any(k.startswith(KINDS) for k in kinds)))
    return tuple(found)


def _day(worked: WorkedRoof, day: Day, busy: set[int], boards: bool) -> Drawing:
    plan, covers = worked.plan, dict(day.evening.covers)
    ring = tuple(mm(p) for p in plan.deck)
    holes = tuple(Rooflight(tuple(mm(p) for p in o.ring)) for o in plan.openings
                  if o.diameter_mm is None)  # fmt: skip
    lines = tuple(NightLine((mm(a), mm(b))) for a, b in day.evening.night_lines)
    box = box_of(ring)
    named = len(ring) if len(ring) <= MOST_CORNERS else 2  # the first side tells which way up
    layers = (
        Layer("tonight", tuple(_bay(b, covers.get(b.number, "felt"), b.number in busy, box.width)
                               for b in worked.programme.bays)),
        Layer("roof outline", (Area((ring,), "none", weight="cut"),)),
        Layer("openings", holes),
        Layer("night lines", lines),
        *((put_down(worked),) if boards else ()),
        Layer("water", tuple(_water(worked, day))),
        Layer("corners", corners(ring[:named], [c.name for c in plan.corners[:named]])),
    )  # fmt: skip
    work = ", ".join(str(b) for b in sorted(busy)) or "none in particular"
    told = "; ".join(f"bay {b} under {SAID[c]}" for b, c in day.evening.covers)
    alt = f"The roof on {short_day(day.on)}. Work in bays: {work}. Tonight: {told}."
    if boards and worked.joists.put_down.most:
        alt += " Dashed: where boards may be put down."
    shown = tuple(layer for layer in layers if layer.items)
    return frame_plan(Drawing(f"Where, {short_day(day.on)}", alt, shown), mm(plan.deck[0]))


def _bay(bay: Bay, cover: str, busy: bool, wide_mm: float) -> Group:
    """Draw a bay under its cover tonight; one that is worked on today has a double outline."""
    ring = tuple(mm(p) for p in bay.ring)
    at = Polygon(ring).representative_point()
    ink: Ink = "evening" if cover == "vcl" else "ink"
    parts: list[Item] = [Area((ring,), COVERS[cover], ink, "line" if busy else "hair")]
    if busy:
        inner = Polygon(ring).buffer(-INSIDE_MM, join_style="mitre")
        if inner.geom_type == "Polygon" and not inner.is_empty:
            points = tuple((float(x), float(y)) for x, y in inner.exterior.coords[:-1])
            parts.append(Area((points,), "none", "ink", "line"))
    x, y = float(at.x), float(at.y)
    parts.append(Text(x, y, f"{bay.number}", NOTE, bold=True))
    box = box_of(ring)
    if box.width > wide_mm * LETTERED and box.height > wide_mm * TALL:
        parts.append(Text(x, y, SAID[cover], TICK, shift=(0, -UNDER)))
    return Group(f"bay:{bay.number}", f"bay {bay.number}, tonight under {SAID[cover]}",
                 tuple(parts))  # fmt: skip


def _water(worked: WorkedRoof, day: Day) -> Iterator[Item]:
    for id_ in day.evening.water_leaves_by:
        side = next((s for s in worked.plan.sides if s.id == id_), None)
        if side is not None:
            yield from (water_out(mm(side.a), mm(side.b), share) for share in ARROWS)

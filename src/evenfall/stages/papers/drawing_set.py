"""The drawing set: every drawing that is handed on, with its number, its notes and its lists."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from evenfall.drawing import NOTE, Dimension, Drawing, Layer, frame_plan
from evenfall.drawing.inks import Paper
from evenfall.drawing.sheet import bounds_of, pieces_of
from evenfall.model.surveyed import SideAt
from evenfall.stages.papers import drawn_survey
from evenfall.stages.papers.drawings import (
    draw_boards,
    draw_fixings,
    draw_plan,
    draw_rolls,
    draw_second_layer,
    draw_sheet,
    draw_tapers,
)
from evenfall.stages.papers.drawn_detail import SCALE, alike, draw_detail, of_each_kind
from evenfall.stages.papers.drawn_firrings import draw_firrings, number
from evenfall.stages.papers.drawn_kerb import drawn_kerb
from evenfall.stages.papers.drawn_sheet import sheet_steps, strip_name, vcl_steps
from evenfall.stages.papers.drawn_window import draw_window
from evenfall.stages.papers.words import spoken
from evenfall.stages.papers.worked import WorkedRoof

MM = 1000
TURN = 360.0  # degrees in a turn
BARE = 1e-6  # a size of paper at which lettering takes no room
NOT_MEASURED = "Walls and frames are drawn as thick as usual where nobody measured them."
DASHED = "Dashed: the roof as it was found."
BEFORE_SAWING = "Measure again when the deck is bare, before anything is sawn."


@dataclass(frozen=True, slots=True)
class SetTable:
    """A list beside a drawing."""

    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class SetSheet:
    """One drawing of the set."""

    key: str  # the name of its file
    number: str  # P1 for plans, S1 for sections
    title: str
    drawing: Drawing
    says: tuple[str, ...] = ()
    tables: tuple[SetTable, ...] = ()


def drawing_set(worked: WorkedRoof) -> tuple[SetSheet, ...]:
    """Gather the drawing set.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of SetSheet
        Plans, then sections; what this roof has none of is left out, the others keep their
        numbers [mm].
    """
    return (*_plans(worked), *_sections(worked))


def north(worked: WorkedRoof) -> float | None:
    """Find north on the plan from the bearing along the first side.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    float or None
        Clockwise from up; None where the job does not give it [deg].
    """
    bearing = worked.case.job.site.first_side_bearing_deg
    if bearing is None:
        return None
    u, v = worked.plan.sides[0].along
    return (math.degrees(math.atan2(u, v)) - bearing) % TURN


def _plans(worked: WorkedRoof) -> Iterator[SetSheet]:
    drawn: tuple[tuple[str, str, str, Callable[[WorkedRoof], Drawing | None], bool], ...] = (
        ("plan", "P1", "Plan", draw_plan, False),
        ("boards", "P2", "Board plan", draw_boards, True),
        ("boards-2", "P3", "Board plan, second layer", draw_second_layer, True),
        ("sheet", "P4", "Sheet plan", draw_sheet, False),
        ("vcl", "P5", "VCL plan", draw_rolls, False),
        ("fixings", "P6", "", draw_fixings, True),
        ("firrings", "P7", "Firring plan", draw_firrings, True),
        ("tapers", "P8", "Tapered boards", draw_tapers, True),
    )
    for key, n, title, draw, measured in drawn:
        drawing = draw(worked)
        if drawing is None:
            continue
        says = _says(worked, key, drawing)
        if measured:
            drawing = _with_sides(worked, drawing)
        elif key != "plan":
            drawing = _with_size(drawing, "sheet" if key == "sheet" else "vcl")
        drawing = frame_plan(drawing, drawing.frame.origin if drawing.frame else (0, 0),
                             north(worked))  # fmt: skip
        yield SetSheet(key, n, title or drawing.title, drawing, says, _tables(worked, key))


def _with_sides(worked: WorkedRoof, drawing: Drawing) -> Drawing:
    """Measure every side."""
    items = []
    for side in worked.plan.sides:
        line = drawn_survey.dimension(side, f"{side.length_m:.3f}")
        if isinstance(line, Dimension):
            line = replace(line, offset=abs(line.offset))
        items.append(line)
    return replace(drawing, layers=(*drawing.layers, Layer("sides", tuple(items))))


def _with_size(drawing: Drawing, layer: str) -> Drawing:
    """Measure all pieces together, and leave the steps to the notes beside the drawing."""
    kept = tuple(x for x in drawing.layers if x.name != "steps")
    laid = next(x for x in kept if x.name == layer)
    box = bounds_of(pieces_of(replace(drawing, layers=(laid,)), Paper(BARE)), Paper(BARE))
    x0, y0, x1, y1 = box
    sizes = (Dimension((x0, y0), (x1, y0), f"{(x1 - x0) / MM:.2f}", size=NOTE),
             Dimension((x0, y1), (x0, y0), f"{(y1 - y0) / MM:.2f}", size=NOTE))  # fmt: skip
    return replace(drawing, layers=(*kept, Layer("sizes", sizes)))


def _says(worked: WorkedRoof, key: str, drawing: Drawing) -> tuple[str, ...]:
    first = {
        "plan": "Sides as worked out from all tapes, in metres, at the edge of the deck.",
        "firrings": BEFORE_SAWING,
    }.get(key, drawing.alt)
    said = [first]
    said += {"sheet": sheet_steps, "vcl": vcl_steps}.get(key, lambda _: ())(worked)
    if key == "plan":
        said.append(f"Corners good to {worked.plan.good_to_mm:.0f} mm.")
    if key == "fixings":
        said.append("Paired strokes: zone F. Rules: zone G. Bare: H and I.")
    if key == "fixings" and worked.fixings.pieces:
        said.append(f"Trims every {worked.fixings.trims.value:.0f} mm, edge timber every "
                    f"{worked.fixings.edge_timber.value:.0f} mm.")  # fmt: skip
    return tuple(said)


def _tables(worked: WorkedRoof, key: str) -> tuple[SetTable, ...]:
    if key == "firrings":
        rows = tuple(
            (number(f), f"{f.length_mm}", f"{f.thin_mm}", f"{f.thick_mm}",
             ", ".join(f"{high} at {along}" for along, high in f.heights))
            for f in worked.falls.firrings
        )  # fmt: skip
        return (SetTable("Firrings, mm", ("no.", "long", "thin", "thick", "height along it"),
                         rows),)  # fmt: skip
    if key == "sheet" and worked.sheet.cuts:
        cuts = tuple((strip_name(c.number), f"{c.length_mm} × {c.width_mm}", spoken(c.where))
                     for c in worked.sheet.cuts)  # fmt: skip
        return (SetTable("Strips up the kerbs, mm", ("no.", "size", "at"), cuts),)
    if key == "vcl":
        strips = tuple((f"{p.number}", f"{p.length_mm} × {p.width_mm}", f"{p.strip}", f"{p.roll}")
                       for p in worked.rolls.strips)  # fmt: skip
        return (SetTable("Pieces of VCL, mm", ("no.", "size", "strip", "roll"), strips),)
    if key == "tapers" and worked.boards.tapered:
        tapers = tuple(
            (f"T{p.number}", f"{p.across_mm} × {p.along_mm}", f"{p.row}",
             f"{p.low_mm} to {p.high_mm}", f"{p.fill_mm}" if p.fill_mm else "–",
             f"T{p.board}: {p.thin_mm} to {p.thick_mm}", "offcut" if p.offcut else "")
            for p in worked.boards.tapered.pieces
        )  # fmt: skip
        heads = ("no.", "across × along the fall", "row", "thick", "on", "from board", "")
        return (SetTable("Tapered pieces, mm", heads, tapers),)
    if key in ("boards", "boards-2"):
        laid = worked.boards.laid_in(2 if key == "boards-2" else 1)
        pieces = tuple((f"{p.number}", f"{p.length_mm} × {p.width_mm}", f"{p.board}",
                        "offcut" if p.offcut else "") for p in laid)  # fmt: skip
        return (SetTable("Pieces, mm", ("no.", "size", "from board", ""), pieces),)
    return ()


def _sections(worked: WorkedRoof) -> Iterator[SetSheet]:
    n = 0
    for side in of_each_kind(worked):
        n += 1
        drawing = draw_detail(worked, side)
        kind = spoken(side.kind)
        yield SetSheet(f"section-{side.kind.replace('_', '-')}", f"S{n}", f"Section: {kind}",
                       drawing, _told(drawing, alike(worked, side)),
                       _edges(worked, side))  # fmt: skip
    for opening in worked.plan.openings:
        if opening.kind == "rooflight":
            n += 1
            drawing = drawn_kerb(worked, opening)
            yield SetSheet(f"section-{opening.name}", f"S{n}", drawing.title, drawing,
                           _told(drawing))  # fmt: skip
    for window in worked.windows.windows:
        n += 1
        drawing = draw_window(worked, window, SCALE)
        yield SetSheet(f"section-{window.name}", f"S{n}", drawing.title, drawing, _told(drawing))


def _told(drawing: Drawing, more: str = "") -> tuple[str, ...]:
    return tuple(s for s in (drawing.alt, more, DASHED, NOT_MEASURED) if s)


def _edges(worked: WorkedRoof, drawn: SideAt) -> tuple[SetTable, ...]:
    """List the measures of every side of the kind, where they are taken at each."""
    found = {s.side: s for s in worked.case.job.survey.sides}
    sides = worked.plan.of_kind(drawn.kind)
    if drawn.kind in ("wall", "step"):
        return ()
    old = worked.case.job.survey.covering.thickness_mm
    rows = tuple(
        (s.name, f"{s.length_m:.3f}", f"{found[s.name].overhang_mm:.0f}",
         f"{found[s.name].fascia_depth_mm:.0f}" if found[s.name].fascia_depth_mm else "–",
         _added(worked, s), f"{old:.0f}")
        for s in sides
    )  # fmt: skip
    heads = ("side", "long, m", "overhang", "old fascia", "firring, from to", "old felt")
    return (SetTable("Sides of this kind, mm", heads, rows),)


def _added(worked: WorkedRoof, side: SideAt) -> str:
    ends = [worked.falls.added_at(side.place(t * side.length_m)) for t in (0.0, 1.0)]
    return f"{ends[0]:.0f} to {ends[1]:.0f}"

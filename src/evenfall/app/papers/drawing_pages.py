"""The drawing set as a PDF and as DXF: paper and scale are chosen here, title blocks are told."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from evenfall.app.papers.pdf import SCALES, Source, head, placed, source
from evenfall.drawing import Drawing, Layer, Text, to_dxf
from evenfall.drawing.inks import LIGHTS, NOTE, PX_PER_MM, Paper
from evenfall.drawing.layout import lay_out
from evenfall.flow import DRAWINGS, PAPERS, WorkedJob
from evenfall.model.words import day

EDGE_MM, STRIP_MM, HEAD_MM = 12.0, 30.0, 12.0
"""Margin of a page, title strip at its foot, heading at its top."""
ASIDE_MM, BELOW_MM, GAP_MM = 78.0, 26.0, 6.0
"""Room for notes beside a drawing, and under it."""
ROW_MM, FREE_ROWS = 4.0, 3
"""Height of a row of a list, and how many stand under a drawing beside its notes."""
PAPERS_MM = {"A4": (297.0, 210.0), "A3": (420.0, 297.0)}
GOOD = 50
"""Up to this scale a plan stays on the smaller paper: it is the one that every firm can print."""
BAR_STEPS_MM = (50.0, 100.0, 200.0, 250.0, 500.0, 1000.0, 2000.0, 5000.0)
BAR_LEAST_MM, BAR_PARTS = 9.0, 5
"""Shortest part of a scale bar on paper, and how many there are."""
METRE_MM = 1000
LONG_LIST = 24
"""Rows of a list that stand beside a drawing; a longer one follows on a page of its own."""


@dataclass(frozen=True, slots=True)
class Fit:
    """A drawing on its paper."""

    paper: str
    drawing: Drawing
    below: bool  # notes under it, not beside it


def drawings_source(worked: WorkedJob) -> Source:
    """Make what the drawing set is compiled from.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].

    Returns
    -------
    Source
        All sheets in their order [-].
    """
    told = PAPERS["drawings"](worked)
    sheets = [_page(s, fitted(s)) for s in told]
    data = {"head": head(worked), "sheets": sheets, "north": _north(told[0])}
    return source(worked, "drawings.typ", data, {}, clients=True)


def _north(sheet: Any) -> bool:
    return bool(sheet.drawing.frame and sheet.drawing.frame.north is not None)


def fitted(sheet: Any) -> Fit:
    """Choose paper and scale: A4 where it will do, notes beside the drawing or under it.

    Parameters
    ----------
    sheet : drawing_set.SetSheet
        A drawing of the set [-].

    Returns
    -------
    Fit
        Plans take the largest usual scale, sections keep theirs unless no paper is large enough
        [-].
    """
    plan = sheet.number.startswith("P")
    usual = [float(s) for s in SCALES] if plan else [sheet.drawing.scale, 10.0, 20.0]
    small = [s for s in usual if plan and s <= GOOD]
    tries = [("A4", s) for s in small] + [("A3", s) for s in small]
    tries += [(p, s) for s in usual if s not in small for p in ("A4", "A3")]
    rows = max((len(t.rows) for t in sheet.tables), default=0)
    for paper, scale in tries:
        drawing = replace(sheet.drawing, scale=scale)
        wide, high = _size(drawing)
        for below in (False, True):
            room = _room(paper, below, rows)
            if wide <= room[0] and high <= room[1]:
                return Fit(paper, drawing, below)
    return Fit("A3", replace(sheet.drawing, scale=usual[-1]), False)


def _size(drawing: Drawing) -> tuple[float, float]:
    """Width and height on paper [mm]."""
    light = LIGHTS["print"]
    laid = Paper(drawing.scale / PX_PER_MM, light.unit, light.least_text)
    box = drawing.bounds(laid)
    edge = 2 * (29.0 if drawing.frame else 3.0) / PX_PER_MM
    return box.width / drawing.scale + edge, box.height / drawing.scale + edge


def _room(paper: str, below: bool, rows: int) -> tuple[float, float]:
    wide, high = PAPERS_MM[paper]
    wide, high = wide - 2 * EDGE_MM, high - EDGE_MM - STRIP_MM - HEAD_MM
    if below:
        return wide, high - BELOW_MM - ROW_MM * max(0, rows - FREE_ROWS)
    return wide - ASIDE_MM - GAP_MM, high


def _page(sheet: Any, fit: Fit) -> dict[str, Any]:
    wide, high = PAPERS_MM[fit.paper]
    shown = placed(fit.drawing, wide - 2 * EDGE_MM)
    beside = [t for t in sheet.tables if len(t.rows) <= LONG_LIST]
    after = [t for t in sheet.tables if len(t.rows) > LONG_LIST]
    return {
        "number": sheet.number, "title": sheet.title, "paper": fit.paper, "wide": wide,
        "high": high, "below": fit.below, "drawing": shown, "says": sheet.says,
        "tables": beside, "after": after, "bar": bar(fit.drawing.scale),
    }  # fmt: skip


def bar(scale: float) -> dict[str, Any]:
    """Give the scale bar of a drawing.

    Parameters
    ----------
    scale : float
        The n of 1:n [-].

    Returns
    -------
    dict
        Length of one part on paper [mm], what stands at each end of the parts [-].

    Examples
    --------
    >>> bar(50)["part"], bar(50)["words"][-1], bar(5)["words"][-1]
    (10.0, '2.5 m', '250 mm')
    """
    step = next(s for s in BAR_STEPS_MM if s / scale >= BAR_LEAST_MM or s == BAR_STEPS_MM[-1])
    ends = [step * n for n in range(BAR_PARTS + 1)]
    metres = step * BAR_PARTS >= METRE_MM
    told = [f"{e / 1000:g}" if metres else f"{e:g}" for e in ends]
    told[-1] += " m" if metres else " mm"
    return {"part": step / scale, "words": told}


def files(worked: WorkedJob) -> dict[str, bytes]:
    """Write each drawing of the set as DXF, with its title block.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].

    Returns
    -------
    dict of str to bytes
        ``plan.dxf``, ``section-eaves.dxf`` and so on [-].
    """
    return dict(_files(worked))


def _files(worked: WorkedJob) -> Iterator[tuple[str, bytes]]:
    for sheet in PAPERS["drawings"](worked):
        fit = fitted(sheet)
        titled = _titled(worked, sheet, fit.drawing)
        yield f"{sheet.key}.dxf", to_dxf(titled).encode()
    saw = DRAWINGS["saw"](worked)
    if saw is not None:
        yield "saw-list.dxf", to_dxf(saw).encode()


def _titled(worked: WorkedJob, sheet: Any, drawing: Drawing) -> Drawing:
    """Letter the title block under the drawing."""
    laid, meta = lay_out(drawing, "print"), worked.meta
    issued = f"issue {meta.revision}, {day(meta.on)}"
    where = "north as drawn" if _north(sheet) else "north not given"
    lines = (
        f"{meta.firm}. {meta.title}, {meta.address}",
        f"{meta.reference}-{sheet.number}, {issued}: {sheet.title}",
        f"1 : {drawing.scale:g} on paper; drawn in millimetres; {where}",
    )
    x, y, k = laid.view.x0, laid.view.y0, laid.paper.mm(1)
    texts = tuple(
        Text(x, y - (60 + 22 * n) * k, words, NOTE, "start", halo=False)
        for n, words in enumerate(lines)
    )
    return replace(drawing, layers=(*drawing.layers, Layer("title block", texts)))

"""PDF: the pages that `stages.papers` told as data, set by typst from the templates beside this.

Everything is compiled in memory with the one font of its package: no system font, no network. The
PDF is tagged, an archive PDF and accessible; a warning of the compiler is an error here.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass, is_dataclass, replace
from datetime import UTC, date, datetime
from functools import cache, lru_cache
from importlib.util import find_spec
from pathlib import Path
from typing import Any, Literal

import typst

from evenfall.app.papers.attached import extract, job_file
from evenfall.app.papers.logo import firm_logo
from evenfall.drawing import Drawing, draw_normal, to_svg
from evenfall.drawing.crowded import eased
from evenfall.drawing.inks import LIGHTS, PX_PER_MM, Paper
from evenfall.flow import DRAWINGS, PAPERS, WorkedJob
from evenfall.model.words import day

TEMPLATES = Path(__file__).parent / "templates"
STANDARDS: list[Any] = ["a-3a", "ua-1"]
"""An archive PDF that may hold an attachment, and one that can be read aloud. Version 2 of PDF/UA
is not made by the compiler that is pinned, nor PDF/A-4 beside PDF/UA-1."""
WIDE_MM, HIGH_MM = 172.0, 165.0
"""Room for a plan on the page."""
LOW_MM = 112.0
"""Height for a plan that stands between workings."""
ROOMS = {
    "plan": "survey", "windows": "window", "drying": "drying", "fixings": "fixings",
    "moisture": "months", "wind": "zones",
}  # fmt: skip
"""Drawings of the calculation sheets by their room, where there may be none."""
PLANS = ("plan", "fixings", "wind")
"""Of these, the ones drawn to a scale that fits the page."""
SCALES = (20, 25, 50, 75, 100, 150, 200, 250, 500)
KEPT = 64
"""Drawings that stay written out: the set of one job, so that a change that leaves a drawing as
it is does not write it again."""
MARGIN_PX = 29.0
"""Frame and clear strip on each side of a plan."""


class TypesettingError(RuntimeError):
    """A template or its data is wrong: the compiler warned or refused; ours to mend."""


@dataclass(frozen=True, slots=True)
class Source:
    """All that one PDF is made of."""

    template: str
    data: str
    drawings: str
    on: date
    revision: str = "A"
    attached: str = ""  # JSON: name, says, text


def sources(worked: WorkedJob) -> tuple[Source, Source]:
    """Make what the two PDFs are compiled from.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].

    Returns
    -------
    tuple of Source
        Quotation and calculation sheets [-].
    """
    return quotation_source(worked), calculations_source(worked)


def quotation_source(worked: WorkedJob) -> Source:
    """Make what the quotation is compiled from.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].

    Returns
    -------
    Source
        Data and drawings; no cost, crew or margin [-].
    """
    plan = to_scale(DRAWINGS["quoted"](worked))
    eaves, *height = _sections(worked)
    told = PAPERS["quotation"](worked)
    quoted: dict[str, Any] = {
        "plan": placed(plan), "sections": [eaves, *height],
        "evenings": [placed(e) for e in DRAWINGS["evening-rows"](worked)],
        "normal": {n.key: placed(draw_normal(n.key, n.says)) for n in told.words.normal},
        **firm_logo(worked.case),
    }  # fmt: skip
    street = DRAWINGS["street"](worked)
    if street is not None:
        quoted["street"] = placed(to_scale(street))
    return source(worked, "quotation.typ", told, quoted, clients=True)


def _sections(worked: WorkedJob) -> list[dict[str, Any]]:
    drawn = [DRAWINGS["eaves"](worked), DRAWINGS["height"](worked)]
    return [placed(s) for s in drawn if s is not None]


def calculations_source(worked: WorkedJob) -> Source:
    """Make what the calculation sheets are compiled from.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].

    Returns
    -------
    Source
        Data and drawings [-].
    """
    eaves, *height = _sections(worked)
    shown: dict[str, Any] = {"edges": [placed(e) for e in DRAWINGS["edges"](worked)]}
    shown |= {"falls": eaves} | ({"heights": height[0]} if height else {})
    for key, name in ROOMS.items():
        drawn = DRAWINGS[name](worked)
        high = HIGH_MM if key == "plan" else LOW_MM
        fit = to_scale(drawn, WIDE_MM, high) if drawn and key in PLANS else drawn
        shown |= {key: placed(fit)} if fit else {}
    told = PAPERS["calculations"](worked)
    return source(worked, "calculations.typ", told, shown, clients=True)


def source(
    worked: WorkedJob, template: str, data: object, drawings: object, clients: bool = False
) -> Source:
    """Make what one PDF is compiled from, with the job or its extract to attach.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].
    template : str
        File beside this [-].
    data, drawings : object
        What it says and shows [-].
    clients : bool
        Whether it leaves the firm, so that prices, crew and margin stay out of what is attached
        [-].

    Returns
    -------
    Source
        All that the compiler needs [-].
    """
    told = extract(worked) if clients else job_file(worked)
    return Source(
        template, as_data(data), as_data(drawings), worked.meta.on, worked.meta.revision, told
    )


def head(worked: WorkedJob) -> dict[str, Any]:
    """Give what stands at the head of the firm's own papers.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].

    Returns
    -------
    dict
        Firm, reference, title, client, address, days [-].
    """
    meta, firm = worked.meta, worked.case.rates.firm
    return {
        "firm": meta.firm, "telephone": firm.telephone, "email": firm.email,
        "firm_address": firm.address, "reference": meta.reference, "title": meta.title,
        "client": meta.client, "address": meta.address, "surveyed_on": day(meta.surveyed_on),
        "on": day(meta.on), "invented": meta.invented,
    }  # fmt: skip


def compiled(source: Source) -> bytes:
    """Compile one PDF.

    Parameters
    ----------
    source : Source
        Template, data and drawings [-].

    Returns
    -------
    bytes
        The PDF; the same for the same source [-].

    Raises
    ------
    TypesettingError
        The compiler refused or warned.
    """
    inputs = {"data": source.data, "drawings": source.drawings, "revision": source.revision}
    if source.attached:
        inputs["attached"] = source.attached
    return compile_typst(TEMPLATES / source.template, inputs, source.on)


def compile_typst(template: Path | bytes, inputs: dict[str, str], on: date) -> bytes:
    """Compile a template; nothing may be left to warn about.

    Parameters
    ----------
    template : Path or bytes
        File, or the text itself [-].
    inputs : dict of str to str
        What it reads from ``sys.inputs`` [-].
    on : date
        The date that the PDF bears [-].

    Returns
    -------
    bytes
        A tagged PDF [-].

    Raises
    ------
    TypesettingError
        The compiler refused or warned.
    """
    made = _made(template, inputs, on, "pdf")
    if not isinstance(made, bytes):  # pragma: no cover
        raise TypesettingError("the PDF came in pieces")
    return made


def compiled_pages(source: Source) -> tuple[str, ...]:
    """Set the pages of one paper for the screen.

    Parameters
    ----------
    source : Source
        Template, data and drawings [-].

    Returns
    -------
    tuple of str
        A page each, as SVG [-].

    Raises
    ------
    TypesettingError
        The compiler refused or warned.
    """
    inputs = {"data": source.data, "drawings": source.drawings}
    made = _made(TEMPLATES / source.template, inputs, source.on, "svg")
    return tuple(p.decode() for p in (made if isinstance(made, list) else [made]))


def _made(
    template: Path | bytes, inputs: dict[str, str], on: date, kind: Literal["pdf", "svg"]
) -> bytes | list[bytes]:
    """Run the compiler; nothing may be left to warn about."""
    moment = int(datetime(on.year, on.month, on.day, tzinfo=UTC).timestamp())
    asked: dict[str, Any] = {"pdf_standards": STANDARDS, "timestamp": moment}
    try:
        compiler = typst.Compiler(
            template, root=TEMPLATES, font_paths=_fonts(), ignore_system_fonts=True,
            sys_inputs=inputs,
        )  # fmt: skip
        made, warnings = compiler.compile_with_warnings(
            format=kind, **(asked if kind == "pdf" else {})
        )
    except typst.TypstError as error:
        raise TypesettingError(f"{error.message} {' '.join(error.hints)}") from error
    if warnings:
        raise TypesettingError("; ".join(w.message for w in warnings))
    if made is None:  # pragma: no cover
        raise TypesettingError("the compiler gave nothing")
    return made


@cache
def _fonts() -> Any:
    """Find the one font; its package is not imported, for it would read its own files."""
    spec = find_spec("font_source_sans_pro")
    if spec is None or spec.origin is None:
        raise TypesettingError("the package font-source-sans-pro is missing")
    folder = Path(spec.origin).parent / "files"
    return typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(folder)]
    )


@lru_cache(KEPT)
def to_scale(drawing: Drawing, wide_mm: float = WIDE_MM, high_mm: float = HIGH_MM) -> Drawing:
    """Give a plan the largest usual scale at which it fits the page.

    Parameters
    ----------
    drawing : Drawing
        The plan [mm].
    wide_mm, high_mm : float
        Room on the page [mm].

    Returns
    -------
    Drawing
        The plan with its scale [mm].
    """
    light = LIGHTS["print"]
    for scale in SCALES:
        paper = Paper(scale / PX_PER_MM, light.unit, light.least_text)
        box, edge = drawing.bounds(paper), 2 * MARGIN_PX / PX_PER_MM
        if box.width / scale + edge <= wide_mm and box.height / scale + edge <= high_mm:
            return eased(replace(drawing, scale=float(scale)), paper.mm_per_px * light.unit)
    return replace(drawing, scale=float(SCALES[-1]))


def placed(drawing: Drawing, wide_mm: float = WIDE_MM) -> dict[str, Any]:
    """Write a drawing with its width on paper; one too wide for the page is drawn smaller.

    Parameters
    ----------
    drawing : Drawing
        The drawing [mm].
    wide_mm : float
        Room on the page [mm].

    Returns
    -------
    dict
        SVG, width [mm], words for the blind, title and scale [-].
    """
    svg = _written(drawing)
    width = float(svg.split('viewBox="0 0 ', 1)[1].split(" ", 1)[0]) / PX_PER_MM
    fits = width <= wide_mm
    told = f"1 : {drawing.scale:g}" if fits and drawing.scale != 1 else "not to scale"
    return {"svg": svg, "width": min(width, wide_mm), "alt": drawing.alt, "title": drawing.title,
            "scale": told}  # fmt: skip


@lru_cache(KEPT)
def _written(drawing: Drawing) -> str:
    """Write a drawing, or hand back what was written of an equal one."""
    return to_svg(drawing, None, "print")


def as_data(value: Any) -> str:
    """Write what a template reads.

    Parameters
    ----------
    value : object
        Dataclasses, tuples, numbers, texts, days [-].

    Returns
    -------
    str
        JSON [-].
    """
    return json.dumps(value, default=_plain, ensure_ascii=False)


def _plain(value: Any) -> Any:
    if is_dataclass(value):
        names: Iterable[str] = value.__dataclass_fields__
        return {name: getattr(value, name) for name in names}
    if isinstance(value, date):
        return day(value)
    return float(value)

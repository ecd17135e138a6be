"""The papers of the site: order, cut lists, day sheets, safety, programme, handover file."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from evenfall.app.papers.bare import copies
from evenfall.app.papers.pdf import Source, head, placed, source, to_scale
from evenfall.drawing import Drawing
from evenfall.flow import DRAWINGS, PAPERS, WorkedJob

DAY_MM = (76.0, 92.0)
"""Room for the plan of a day."""
PAGE_MM = (172.0, 165.0)
"""Room for a plan on a page of its own."""
EVENINGS_MM = 62.0
"""Height that the row of evenings may take on the client's one page."""
PHOTO_MM = (83.0, 66.0)
"""Room for a photo of the handover file: two stand in a row."""
PHOTO_PX, SMALL_PX, MANY_PHOTOS = 760, 520, 80
"""Their longer side; from so many photos on they are packed smaller, so that a mail takes them."""
PHOTO_QUALITY = 76
LEAST_SHARE = 0.7
"""Drawn smaller than this its lettering is not read: of many days the table tells."""


def _order(worked: WorkedJob) -> Source:
    """Make the order; it goes to suppliers, so that nothing is attached."""
    order, by = PAPERS["order"](worked), PAPERS["wanted by"](worked)
    counters = [
        {"name": c.name, "by": by[c.name], "mass": c.mass_kg, "lines": c.lines, "sums": ()}
        for c in order.counters
    ]
    data = {"head": head(worked), "counters": counters, "lifts": order.lifts}
    return replace(source(worked, "order.typ", data, {}), attached="")


def _cuts(worked: WorkedJob) -> Source:
    saw = DRAWINGS["saw"](worked)
    shown = {"saw": placed(saw)} if saw is not None else {}
    data = {"head": head(worked), "lists": PAPERS["cut lists"](worked)}
    return source(worked, "cut-lists.typ", data, shown)


def _days(worked: WorkedJob) -> Source:
    stops = [f.says for f in worked.findings if f.level == "stop" and f.subject != "price"]
    days = [_plain(d) | {"stops": stops} for d in PAPERS["day sheets"](worked)]
    plans = [placed(to_scale(d, *DAY_MM)) for d in DRAWINGS["days"](worked)]
    return source(worked, "day-sheets.typ", {"head": head(worked), "days": days}, {"days": plans})


def _plan(worked: WorkedJob) -> Source:
    holds = [(str(h.number), h.when, h.passes) for h in PAPERS["hold points"](worked)]
    data = {"head": head(worked), "plan": PAPERS["construction-phase plan"](worked), "holds": holds}
    return source(worked, "construction-phase-plan.typ", data, {})


def _programme(worked: WorkedJob) -> Source:
    data = {"head": head(worked), "programme": PAPERS["client's programme"](worked)}
    evenings = placed(DRAWINGS["evenings"](worked))
    low = _lower(evenings, EVENINGS_MM)
    readable = low["width"] >= LEAST_SHARE * evenings["width"]
    shown = {"evenings": low} if readable else {}
    return source(worked, "programme.typ", data, shown, clients=True)


def handover_source(worked: WorkedJob, photos: Path | None = None) -> Source:
    """Make what the handover file is compiled from.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].
    photos : Path, optional
        Folder of its photos, each named by its SHA-256; without it they are only listed [-].

    Returns
    -------
    Source
        Data, drawings and the client's copies of the photos [-].
    """
    plan = placed(to_scale(DRAWINGS["as built"](worked), *PAGE_MM))
    found: list[Drawing | None] = [DRAWINGS["eaves"](worked), DRAWINGS["height"](worked)]
    sections = [placed(s, 130.0) for s in found if s is not None]
    data = {"head": head(worked), "file": PAPERS["handover"](worked),
            "calls": PAPERS["call-backs"](worked)}  # fmt: skip
    shown = {"plan": plan, "sections": sections, "photos": list(_photos(worked, photos))}
    return source(worked, "handover.typ", data, shown, clients=True)


def _photos(worked: WorkedJob, folder: Path | None) -> Iterator[dict[str, Any]]:
    """Set out the photos in their order; one that is not here leaves its words."""
    if folder is None:
        return
    many = len(PAPERS["photos"](worked)) > MANY_PHOTOS
    px = SMALL_PX if many else PHOTO_PX
    for number, copy in enumerate(copies(worked, folder, px, PHOTO_QUALITY), 1):
        told = {"number": number, "head": copy.head, "says": copy.says, "picture": None}
        if copy.jpeg is not None:
            wide = min(PHOTO_MM[0], PHOTO_MM[1] * copy.wide / copy.high)
            told["picture"] = {
                "bytes": list(copy.jpeg), "format": "jpg", "width": wide,
                "alt": f"Photo {number}. {copy.head}. {copy.says}",
            }  # fmt: skip
        yield told


def _lower(shown: dict[str, Any], high_mm: float) -> dict[str, Any]:
    """Draw a picture smaller where it is too high for its place."""
    box = shown["svg"].split('viewBox="', 1)[1].partition('"')[0]
    _, _, wide, high = (float(v) for v in box.split())
    return shown | {"width": min(shown["width"], high_mm * wide / high)}


def _plain(value: Any) -> dict[str, Any]:
    return {name: getattr(value, name) for name in value.__dataclass_fields__}


SITE: dict[str, Callable[[WorkedJob], Source]] = {
    "order.pdf": _order,
    "cut-lists.pdf": _cuts,
    "day-sheets.pdf": _days,
    "construction-phase-plan.pdf": _plan,
    "programme.pdf": _programme,
    "handover.pdf": handover_source,
}
"""What each paper of the site is compiled from, by the name of its file."""

"""The eaves from outside, before and after, at one scale: how deep the face of the roof becomes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evenfall.drawing import TICK, Area, Box, Break, Drawing, Item, Layer, Line, Text
from evenfall.model.job import Gutter
from evenfall.model.surveyed import SideAt
from evenfall.stages.papers.drawn_section import eaves_side
from evenfall.stages.papers.layers import fascia_depth, trim_depth
from evenfall.stages.papers.stacked import pile
from evenfall.stages.papers.words import spoken
from evenfall.stages.papers.worked import WorkedRoof

MM = 1000
WALL_MM = 640.0  # how much of the wall is drawn under the fascia
SCALE = 50.0  # before it is fitted to its page
GAP_MM = 760.0  # between the two views, for their lettering
BESIDE_MM = 120.0  # from the end of the eaves to the first measure
STEP_MM = 560.0  # from one measure to the next
NEAR_MM = 30.0  # gap of a witness line
TICK_MM = 28.0  # half a tick
ASIDE = 7  # paper units from a measure to its words
APART = 5  # paper units that two measures side by side are lettered up and down
UP = 14  # paper units that lettering stands over its line


@dataclass(frozen=True, slots=True)
class Face:
    """One side seen from outside; heights above the old felt at its middle."""

    says: str
    top: float  # of trim, kerb or parapet
    back: float  # highest line of the roof behind
    fascia: tuple[float, float] | None  # foot and head of what shows of it
    band: float | None  # height of trim or capping
    gutter: tuple[float, float] | None  # foot and top
    pipe_mm: float = 0.0


def draw_street_view(worked: WorkedRoof) -> Drawing | None:
    """Draw the eaves from outside as they are, and under that as they will be.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Drawing or None
        Both views at one scale; None where walls stand all round [mm].
    """
    side = eaves_side(worked)
    if side is None:
        return None
    now, then = before(worked, side), after(worked, side)
    foot = min(f.fascia[0] if f.fascia else f.top for f in (now, then)) - WALL_MM
    length = side.length_m * MM
    drop = max(then.top, then.back) - foot + GAP_MM
    layers = (
        Layer("before", tuple(_view(now, length, foot, 0.0))),
        Layer("after", tuple(_view(then, length, foot, -drop))),
        Layer("old roof", _old_edge(side, length, -drop)),
        Layer("measures", (*_measures(now, length, 0.0), *_measures(then, length, -drop),
                           *_rise(now, then, -drop))),
    )  # fmt: skip
    kind = spoken(side.kind)
    return Drawing(f"The {kind} from outside, {side.name}", _alt(side, now, then), layers, SCALE)


def _old_edge(side: SideAt, length: float, y: float) -> tuple[Item, ...]:
    """Dash the old edge over the new view; a parapet hides it."""
    edge = Line(((0.0, y), (length, y)), "pencil", "thin", "before")
    return () if side.kind == "parapet" else (edge,)


def before(worked: WorkedRoof, side: SideAt) -> Face:
    """Tell the face of a side as it is.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    side : SideAt
        The side [-].

    Returns
    -------
    Face
        Heights above the old felt at the middle of the side [mm].
    """
    survey = worked.case.job.survey
    measured = next(s for s in survey.sides if s.side == side.name)
    hung = next((g for g in survey.gutters if g.side == side.name), None)
    top = side.parapet_height_mm if side.kind == "parapet" else 0.0
    deep = measured.fascia_depth_mm
    fascia = (-deep, 0.0) if deep and side.kind != "parapet" else None
    return Face("as it is", top, max(top, _behind(worked, side)), fascia, None, _found(hung),
                (hung.pipe_mm or 0.0) if hung else 0.0)  # fmt: skip


def after(worked: WorkedRoof, side: SideAt) -> Face:
    """Tell the face of a side as it will be.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    side : SideAt
        The side [-].

    Returns
    -------
    Face
        Heights above the old felt at the middle of the side [mm].
    """
    job = worked.case.job
    middle = side.place(side.length_m / 2)
    added = worked.falls.added_at(middle)
    surface = pile(worked, added, added).top(0) - job.survey.covering.thickness_mm
    band = trim_depth(worked, side.name)
    old = before(worked, side)
    if side.kind == "parapet":
        return Face("as it will be", old.top, max(old.top, surface), None, band, old.gutter,
                    old.pipe_mm)  # fmt: skip
    top = surface + (job.design.kerb_height_mm if side.kind != "eaves" else 0.0)
    deep = fascia_depth(worked, side.name)
    fascia = (top - deep, top) if deep else old.fascia
    hung = next((g for g in worked.water.hung if g.side == side.name), None)
    gutter = old.gutter
    if hung is not None:
        head = surface - (hung.drop.value - hung.lift.value)
        gutter = (head - hung.width_mm / 2, head)
    highest = max(worked.falls.added_at(p) - added + _old_at(worked, side, p)
                  for p in worked.plan.deck)  # fmt: skip
    pipe = hung.pipe_mm if hung is not None else old.pipe_mm
    return Face("as it will be", top, max(top, surface + highest), fascia, band, gutter, pipe)


def _old_at(worked: WorkedRoof, side: SideAt, point: tuple[float, float]) -> float:
    plane = worked.levels.plane
    return plane.at(point) - plane.at(side.place(side.length_m / 2))


def _behind(worked: WorkedRoof, side: SideAt) -> float:
    """Find how high the old roof rises behind this side."""
    return max(_old_at(worked, side, p) for p in worked.plan.deck)


def _found(gutter: Gutter | None) -> tuple[float, float] | None:
    if gutter is None:
        return None
    head = -gutter.top_below_covering_mm
    return head - (gutter.depth_mm or gutter.width_mm / 2), head


def _view(face: Face, length: float, foot: float, y: float) -> Iterator[Item]:
    """Draw wall, roof behind, fascia, band, gutter and pipe."""
    wall = face.fascia[0] if face.fascia else face.top
    yield Area((Box(0.0, y + foot, length, y + wall).ring,), "plain", weight="thin")
    yield Break((0.0, y + foot), (length, y + foot))
    if face.back > face.top:
        yield Area((Box(0.0, y + face.top, length, y + face.back).ring,), "none", "pencil", "hair")
    if face.fascia:
        low, high = face.fascia
        yield Area((Box(0.0, y + low, length, y + high).ring,), "plain", weight="line")
    if face.band:
        yield Area((Box(0.0, y + face.top - face.band, length, y + face.top).ring,), "solid")
    else:
        yield Line(((0.0, y + face.top), (length, y + face.top)), "ink", "cut")
    if face.gutter:
        low, high = face.gutter
        yield Area((Box(0.0, y + low, length, y + high).ring,), "plain", weight="line")
        if face.pipe_mm:
            x = length - face.pipe_mm * 2
            pipe = Box(x - face.pipe_mm / 2, y + foot, x + face.pipe_mm / 2, y + low)
            yield Area((pipe.ring,), "plain", weight="line")
    head = max(face.top, face.back)
    yield Text(0.0, y + head, face.says, TICK, "start", bold=True, shift=(0, UP))


def _measures(face: Face, length: float, y: float) -> Iterator[Item]:
    """Measure the fascia on the right, and the band of the trim on the left of it."""
    if face.fascia:
        low, high = (y + v for v in face.fascia)
        yield from _measure(length, low, high, f"fascia {high - low:.0f}", 1, -APART)
    if face.band:
        name = "trim" if face.fascia else "capping"
        low = y + face.top - face.band
        yield from _measure(length, low, y + face.top, f"{name} {face.band:.0f}", 2, APART)


def _measure(
    x: float, low: float, high: float, text: str, column: int, up: int = 0
) -> Iterator[Item]:
    """Draw a measure beside the view, with its words beside it; left of the view below nought."""
    way = 1 if column > 0 else -1
    at = x + BESIDE_MM * way + STEP_MM * (column - way)
    for y in (low, high):
        yield Line(((x + NEAR_MM * way, y), (at + NEAR_MM * way, y)), "hair", "hair")
    yield Line(((at, low), (at, high)), "ink", "thin")
    for y in (low, high):
        yield Line(((at - TICK_MM, y - TICK_MM), (at + TICK_MM, y + TICK_MM)), "ink", "line")
    anchor = "start" if way > 0 else "end"
    yield Text(at, (low + high) / 2, text, TICK, anchor, shift=(way * ASIDE, up))  # type: ignore[arg-type]


def _rise(now: Face, then: Face, y: float) -> Iterator[Item]:
    """Measure how much higher the edge stands than the dashed line of the old roof."""
    rise = then.top - now.top
    if rise >= 1:
        yield from _measure(0.0, y + now.top, y + then.top, f"{rise:.0f} higher", -1)


def _alt(side: SideAt, now: Face, then: Face) -> str:
    """Say both views in words."""
    rise = then.top - now.top
    told = [f"{side.name} from outside, before and after, at one scale."]
    if now.fascia:
        told.append(f"Now the fascia is {now.fascia[1] - now.fascia[0]:.0f} mm deep.")
    if then.fascia:
        told.append(f"Then it is {then.fascia[1] - then.fascia[0]:.0f} mm deep.")
    if then.band:
        told.append(f"The band of the trim is {then.band:.0f} mm high.")
    told.append(f"The edge stands {rise:.0f} mm higher." if rise >= 1 else
                "The edge stands no higher.")  # fmt: skip
    return " ".join(told)

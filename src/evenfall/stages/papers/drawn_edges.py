"""The edges in section: materials, lines of one temperature, the heat, and the coldest spot."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, dist

from evenfall.calc.physics.details import Roof
from evenfall.calc.physics.edge_picture import Lines, Picture, picture
from evenfall.calc.physics.edge_values import MOULD
from evenfall.drawing import (
    NOTE,
    TICK,
    Area,
    Arrow,
    Circle,
    Drawing,
    Item,
    Layer,
    Line,
    Text,
)
from evenfall.drawing.inks import HatchName
from evenfall.model.choice import build_up
from evenfall.model.edged import EdgeDetail, EdgeState
from evenfall.model.surveyed import Point
from evenfall.stages.design.edge_findings import Air, governing, name
from evenfall.stages.design.edge_parts import Given, edges_of, roof_at
from evenfall.stages.papers.words import spoken
from evenfall.stages.papers.worked import WorkedRoof

MM = 1000
SCALE = 12.0  # two sections stand side by side on a page
STEP = 2  # degrees between two lines
ROOM = 28.0  # how far lettering stands over the lower end, mm
HEAD = 120.0  # room for the lettering over a section, mm
TIP = 6.0  # shaft of the arrow at the end of a way of the heat, mm
MOULD_AT = 0.85  # how far along its line the word mould stands, from the outside
SPOT = 9.0  # ring round the coldest spot, mm
HATCHES: dict[str, HatchName] = {
    "insulation": "foam",
    "kerb lining": "foam",
    "lining of the face": "foam",
    "lining of the top": "foam",
    "wall head filling": "wool",
    "cavity filling": "wool",
    "quilt": "wool",
    "outer leaf": "wall",
    "inner leaf": "wall",
    "brickwork": "wall",
    "party wall": "wall",
    "deck": "deck",
    "void": "none",
    "cavity": "none",
    "plaster": "plain",
    "ceiling": "plain",
}
"""What a part is hatched as; anything else is timber."""


@dataclass(frozen=True, slots=True)
class Panel:
    """One section to draw: what stands over it, and what it is drawn from."""

    head: str
    told: str
    given: Given
    state: EdgeState


def draw_edges(worked: WorkedRoof, only: str = "") -> tuple[Drawing, ...]:
    """Draw every edge in section, as it will be and with its detail done the other way.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    only : str
        Id of the one edge to draw, such as ``side:A-B``; empty for all [-].

    Returns
    -------
    tuple of Drawing
        Outside on the left; what can be done in two ways first, the two side by side [mm].
    """
    job = worked.case.job
    build = build_up(job.design, worked.case.rates)
    air = governing(job.site, job.survey.below)
    roof = roof_at(worked.rise.chosen_mm, job.survey, build)
    givens = {e.id: e.given for e in edges_of(job, worked.plan, build)}
    kinds = {s.id: spoken(s.kind) for s in worked.plan.sides}
    wanted = tuple(d for d in worked.edge_details.details if only in ("", d.id))
    panels = _panels(wanted, givens, kinds, air)
    return tuple(_drawn(p, _picture(p, roof, air), air) for p in panels)


def _panels(
    details: tuple[EdgeDetail, ...], givens: dict[str, Given], kinds: dict[str, str], air: Air
) -> list[Panel]:
    """Gather edges that are built alike; those that can be done in two ways come first."""
    alike: dict[Given, list[EdgeDetail]] = {}
    for d in details:
        alike.setdefault(givens[d.id], []).append(d)
    ordered = sorted(alike.items(), key=lambda pair: pair[1][0].other is None)
    found = []
    for given, (d, *others) in ordered:
        names = ", ".join(spoken(name(each.id)) for each in (d, *others))
        head = f"{names}, {kinds[d.id]}" if d.id in kinds else names
        found.append(_told(head, given, d.state, air))
        if d.other is not None and given.other is not None:
            found.append(_told(head, given.other, d.other, air))
    return found


def _told(head: str, given: Given, state: EdgeState, air: Air) -> Panel:
    cold = air.at(state.f_mould)
    mould = ": MOULD" if cold < air.least < air.theta_i else ""
    told = f"{state.psi.value:.2f} W/(m K) lost, coldest inside {cold:.1f} °C{mould}"
    return Panel(f"{head}: {given.says}" if given.says else head, told, given, state)


def _picture(panel: Panel, roof: Roof, air: Air) -> Picture:
    return picture(panel.given.edge(roof), MOULD, (*_shares(air), _share(air.least, air)))


def _degrees(air: Air) -> list[int]:
    first = ceil(air.theta_e / STEP) * STEP
    return [t for t in range(first, ceil(air.theta_i), STEP) if t > air.theta_e]


def _shares(air: Air) -> tuple[float, ...]:
    return tuple(_share(t, air) for t in _degrees(air))


def _share(theta: float, air: Air) -> float:
    return round((theta - air.theta_e) / (air.theta_i - air.theta_e), 4)


def _drawn(panel: Panel, shown: Picture, air: Air) -> Drawing:
    """Draw one section."""
    cold = _mm((panel.state.coldest[0] / MM, panel.state.coldest[1] / MM))
    _, x1, z0, z1 = (v * MM for v in shown.window)
    x0 = shown.window[0] * MM
    layers = (
        Layer("materials", tuple(_materials(shown))),
        Layer("heat", tuple(_heat(shown))),
        Layer("temperatures", tuple(_temperatures(shown, air))),
        Layer("coldest spot", (Circle(*cold, SPOT, "chalk", "line"),)),
        Layer(
            "words",
            (
                Text(x0, z1 + HEAD * 2 / 3, panel.head, NOTE, "start", bold=True),
                Text(x0, z1 + HEAD / 4, panel.told, TICK, "start"),
                Text(x1, z0 + ROOM, f"inside {air.theta_i:g} °C", TICK, "end"),
                Text(x1, z1 - ROOM, f"outside {air.theta_e:.1f} °C", TICK, "end"),
            ),
        ),
    )
    alt = (
        f"{panel.told}. Lines of one temperature in {air.month}, {air.theta_i:g} degrees inside "
        f"and {air.theta_e:.1f} outside; mould begins below {air.least:.1f}."
    )
    return Drawing(panel.head, alt, layers, SCALE)


def _materials(shown: Picture) -> Iterator[Item]:
    for part, low, high in shown.parts:
        (x0, z0), (x1, z1) = _mm(low), _mm(high)
        ring = ((x0, z0), (x1, z0), (x1, z1), (x0, z1))
        yield Area((ring,), HATCHES.get(part, "wood"), weight="thin")


def _heat(shown: Picture) -> Iterator[Item]:
    """Draw the ways of the heat, an arrow at the end of each."""
    for way in shown.ways:
        points = tuple(_mm(p) for p in way)
        yield Line(points, "evening", "thin")
        (u, v), (x, z) = points[-2:]
        long = dist((u, v), (x, z))
        if long > 0:
            back = TIP / long
            yield Arrow((x + (u - x) * back, z + (v - z) * back), (x, z), "evening", "thin")


def _temperatures(shown: Picture, air: Air) -> Iterator[Item]:
    """Draw lines of one temperature, every other one lettered; that of mould stands out."""
    *usual, mould = shown.isotherms
    for theta, lines in zip(_degrees(air), usual, strict=True):
        for line in lines:
            yield Line(tuple(_mm(p) for p in line), "pencil", "thin")
        if theta % (2 * STEP) == 0 and lines:
            yield Text(*_mm(_along(lines, 1 / 2)), f"{theta}", TICK, ink="pencil")
    if air.least >= air.theta_i:
        return
    for line in mould:
        yield Line(tuple(_mm(p) for p in line), "chalk", "line", "limit")
    if mould:
        yield Text(
            *_mm(_along(mould, MOULD_AT)), f"mould {air.least:.1f}", TICK, ink="chalk", bold=True
        )


def _along(lines: Lines, share: float) -> Point:
    """Find the point some way along the longest line."""
    longest = max(lines, key=_length)
    if longest[0][0] > longest[-1][0]:
        longest = longest[::-1]
    left = _length(longest) * share
    for a, b in pairwise(longest):
        step = dist(a, b)
        if step >= left:
            return a[0] + (b[0] - a[0]) * left / step, a[1] + (b[1] - a[1]) * left / step
        left -= step
    return longest[-1]


def _length(line: tuple[Point, ...]) -> float:
    return sum(dist(a, b) for a, b in pairwise(line))


def _mm(point: Point) -> Point:
    return point[0] * MM, point[1] * MM

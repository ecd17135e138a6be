"""The firring plan: every wedge on its joist, by number, with its height at both ends."""

from __future__ import annotations

import math
from collections.abc import Iterator

from evenfall.drawing import (
    NOTE,
    TICK,
    Area,
    Drawing,
    Group,
    Item,
    Layer,
    Line,
    Text,
    corners,
    frame_plan,
    water_out,
)
from evenfall.drawing.dimensions import reading
from evenfall.model.surveyed import Firring
from evenfall.stages.papers.drawn_plan import mm
from evenfall.stages.papers.worked import WorkedRoof

END = 0.06  # share of a wedge from its end to the height that is lettered there
NUMBER_AT = 0.5  # share of a wedge at which its number stands
SHORT_MM = 900.0  # a shorter wedge has its number alone; its heights stand in the list
ARROWS = (0.12, 0.88)  # where along the low side the arrows of water stand


def draw_firrings(worked: WorkedRoof) -> Drawing | None:
    """Draw the firring plan.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Drawing or None
        The plan in its frame; None where no firrings are laid [mm].
    """
    laid = [f for f in worked.falls.firrings if f.line is not None]
    if not laid:
        return None
    plan = worked.plan
    ring = tuple(mm(p) for p in plan.deck)
    holes = tuple(tuple(mm(p) for p in o.hole) for o in plan.openings if o.diameter_mm is None)
    low = plan.side(worked.falls.low_side)
    water = tuple(water_out(mm(low.a), mm(low.b), share) for share in ARROWS)
    layers = (
        Layer("roof outline", (Area((ring,), "none", weight="cut"),)),
        Layer("openings", tuple(Area((h,), "plain", weight="line") for h in holes)),
        Layer("firrings", tuple(_wedge(f) for f in laid)),
        Layer("water", water),
        Layer("corners", corners(ring, [c.name for c in plan.corners])),
    )
    thin, thick = min(f.thin_mm for f in laid), max(f.thick_mm for f in laid)
    alt = (
        f"Firring plan: {len(laid)} firrings from {thin} to {thick} mm, falling towards "
        f"{worked.falls.low_side}. Each is lettered with its number and its height at both ends."
    )
    return frame_plan(Drawing("Firring plan", alt, layers), mm(plan.deck[0]))


def number(firring: Firring) -> str:
    """Give the number of a firring as it is lettered.

    Parameters
    ----------
    firring : Firring
        The wedge [mm].

    Returns
    -------
    str
        What stands behind the last hyphen of its name [-].

    Examples
    --------
    >>> number(Firring("firring-12", 3000, 20, 60))
    '12'
    """
    return firring.name.rpartition("-")[2]


def _wedge(firring: Firring) -> Group:
    a, b = (mm(p) for p in firring.line or ())
    parts = tuple(_lettered(firring, a, b))
    says = f"{firring.name}: {firring.thin_mm} to {firring.thick_mm} mm"
    return Group(f"firring:{firring.name}", says, (Line((a, b), "ink", "line"), *parts))


def _lettered(firring: Firring, a: tuple[float, float], b: tuple[float, float]) -> Iterator[Item]:
    """Letter number and heights along the wedge, read from below or from the right."""
    turn = reading(a, b)

    def at(share: float) -> tuple[float, float]:
        return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share

    yield Text(*at(NUMBER_AT), number(firring), NOTE, bold=True, angle=turn)
    if math.dist(a, b) < SHORT_MM:
        return
    first, last = (firring.heights or ((0, firring.thin_mm), (0, firring.thick_mm)))[:: max(
        1, len(firring.heights) - 1)]  # fmt: skip
    for share, (_, high) in ((END, first), (1 - END, last)):
        yield Text(*at(share), f"{high}", TICK, angle=turn)

"""What is said of an edge: heat lost there, the coldest spot inside, and what cures it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from evenfall.calc.physics import mould
from evenfall.model.edged import EdgeAt, EdgeDetail, EdgeState
from evenfall.model.finding import Change, Finding, Level, Remedy
from evenfall.model.job import Below, Site
from evenfall.stages.design import layering
from evenfall.standards import edge_practice, iso_13788, roofing_practice
from evenfall.working import Cited

MM, PERCENT = 1000, 100
LEFT = {
    "wall": (
        "wall-head-open", ("design.wall_head", "fill"),
        "Fill it from the wall top to the deck.",
    ),
    "kerb": ("kerb-bare", ("design.rooflight_kerbs", "insulate"), "Insulate its outer face."),
    "parapet": (
        "parapet-bare", ("design.parapets", "insulate"), "Insulate its inner face and its top.",
    ),
}  # fmt: skip
"""What is said, changed and advised where a detail is left undone, by the first word of it."""

WIND = " Wind blowing in through the slot comes on top, and no sum here counts it."


@dataclass(frozen=True, slots=True)
class Air:
    """The month that asks most of a surface, and the coldest that a surface may be in it."""

    month: str
    theta_e: float  # C
    theta_i: float  # C
    least: float  # C; at or above theta_i no surface can help

    def at(self, factor: float) -> float:
        """Give the temperature of a surface by its factor [C]."""
        return self.theta_e + factor * (self.theta_i - self.theta_e)


def governing(site: Site, below: Below) -> Air:
    """Find the month that asks for the warmest surface, and what it asks for.

    Parameters
    ----------
    site, below : Site, Below
        Air outside and inside [-].

    Returns
    -------
    Air
        The month of the highest temperature factor asked for; the coldest where none is colder
        than the room [C].
    """
    months = layering.year(site, below)
    coldest = min(months, key=lambda m: float(m.theta_e))
    heated = any(m.theta_e < m.theta_i for m in months)  # else no month asks for anything
    name = mould.demand(months).governing_month if heated else coldest.name
    month = next(m for m in months if m.name == name)
    least = mould.least_surface_temperature(month.p_i)
    return Air(month.name, month.theta_e, month.theta_i, least)


def findings(detail: EdgeDetail, edge: EdgeAt, air: Air, limit: Cited) -> Iterator[Finding]:
    """Judge one edge.

    Parameters
    ----------
    detail : EdgeDetail
        The edge solved [-].
    edge : EdgeAt
        What it loses and how cold it gets [W/K].
    air : Air
        The month that asks most [C].
    limit : Cited
        Least temperature factor for the use of the building [-].

    Yields
    ------
    Finding
        The coldest spot where mould may grow, and what its detail is worth [-].
    """
    yield from _low(detail)
    yield from _mould(detail, edge, air, limit)
    if detail.other is not None:
        yield from _done(edge) if _settled(edge) else [_left(detail, edge, air)]


def _low(detail: EdgeDetail) -> Iterator[Finding]:
    """Say where the roof grows past its parapet."""
    by, mm = roofing_practice.UPSTAND, ceil(detail.raised_m * MM)
    if mm <= 0:
        return
    cure = (
        f"Build it up by {mm} mm, and by what firrings or tapered boards add there; or make a "
        "verge of it with a kerb and a trim."
    )
    says = (
        f"{name(detail.id)}: the parapet would not stand {by:.0f} mm above the new roof. Its heat "
        f"is reckoned as if it did. {cure}"
    )
    yield Finding(
        "parapet-low", detail.id, "agree", says, by.source, by.basis, -mm, 0.0, "mm", Remedy(cure)
    )


def _settled(edge: EdgeAt) -> bool:
    """Tell whether a detail is done, or would be worth nothing; an open wall head never is."""
    little = -float(edge_practice.WORTH_SAYING)
    least = 0.0 if edge.other_says.startswith("wall head") else little
    return (edge.worth_w_k or 0.0) > least


def _done(edge: EdgeAt) -> Iterator[Finding]:
    by, worth = edge_practice.WORTH_SAYING, edge.worth_w_k or 0.0
    doing = _detail(edge)
    least = "at least " if edge.other_says.startswith("wall head") else ""
    says = f"{name(edge.id)}: the {doing} keeps {least}{_worth(edge)}"
    if worth < 0:
        says = f"{name(edge.id)}: the {doing} would keep next to nothing in, {-worth:.2f} W/K."
    yield Finding(
        "edge-detail", edge.id, "fine", says, edge_practice.SOURCE, by.basis, edge.worth_w_k,
        by.value, "W/K",
    )  # fmt: skip


def _left(detail: EdgeDetail, edge: EdgeAt, air: Air) -> Finding:
    """Say what a detail left undone costs; an open wall head is always to be agreed."""
    code, key, do = LEFT[edge.other_says.split(" ")[0]]
    head = code == "wall-head-open"
    wind, least = (WIND, "at least ") if head else ("", "")
    warmer = edge.other_coldest_c or 0.0
    says = (
        f"{name(edge.id)}: {detail.state.says}. Done, it would keep {least}{_worth(edge)}{wind} "
        f"The coldest spot inside is {edge.coldest_c:.1f} °C instead of {warmer:.1f}. {do}"
    )
    limit = roofing_practice.WALL_HEAD_LEFT if head else edge_practice.WORTH_SAYING
    level: Level = "agree" if head else "note"
    value = -(edge.worth_w_k or 0.0)
    return Finding(
        code, edge.id, level, says, limit.source, limit.basis, value, 0.0, "W/K",
        Remedy(do, (Change(*key),)),
    )  # fmt: skip


def _detail(edge: EdgeAt) -> str:
    done = {"wall": "filled wall head", "kerb": "insulated kerb", "parapet": "insulated parapet"}
    return done[edge.other_says.split(" ")[0]]


def _worth(edge: EdgeAt) -> str:
    heat, money = abs(edge.worth_w_k or 0.0), abs(edge.worth_pence or 0.0)
    return f"{heat:.1f} W/K in, about £{money / PERCENT:.0f} a year."


def _mould(detail: EdgeDetail, edge: EdgeAt, air: Air, limit: Cited) -> Iterator[Finding]:
    """Judge the coldest spot by the use of the building, and by the air of the worst month."""
    cold, factor = edge.coldest_c, detail.state.f_rsi
    if air.least >= air.theta_i or (cold >= air.least and factor >= limit):
        return  # a room too damp by itself is told with the moisture of the field
    by_air = cold < air.least
    says = f"{name(edge.id)}: coldest spot inside {cold:.1f} °C in {air.month}, "
    if by_air:
        says += f"mould begins below {air.least:.1f}. "
    else:
        says += f"temperature factor {factor:.2f}, {limit:.2f} is asked for. "
    value, asked, unit = (cold, air.least, "C") if by_air else (factor, limit.value, "-")
    source, basis = (iso_13788.SOURCE, iso_13788.R_SI_MOULD.basis) if by_air else (
        limit.source, limit.basis
    )  # fmt: skip
    level, cure = _cure(detail, air, limit)
    yield Finding(
        "edge-mould", edge.id, level, says + cure.says, source, basis, value, asked, unit, cure
    )


def _cure(detail: EdgeDetail, air: Air, limit: Cited) -> tuple[Level, Remedy]:
    other = detail.other
    if other is not None and _safe(other, air, limit):
        _, key, do = LEFT[other.says.split(" ")[0]]
        return "agree", Remedy(do, (Change(*key),))
    bare = detail.wall_factor
    if bare is None:  # no wall here that meets outside air
        says = "No detail here cures that: air the room better, above all where the damp arises."
        return "agree", Remedy(says)
    if air.at(bare) < air.least:
        says = "The bare wall is that cold by itself: insulate the wall, or air the room better."
        return "note", Remedy(says)
    return "agree", Remedy("Insulate the wall beside it as well, or air the room better.")


def _safe(state: EdgeState, air: Air, limit: Cited) -> bool:
    return air.at(state.f_mould) >= air.least and state.f_rsi >= limit


def name(id_: str) -> str:
    """Give the name in an id.

    Parameters
    ----------
    id_ : str
        Such as ``side:A-B`` [-].

    Returns
    -------
    str
        The part after the colon [-].

    Examples
    --------
    >>> name("side:A-B")
    'A-B'
    """
    return id_.partition(":")[2]

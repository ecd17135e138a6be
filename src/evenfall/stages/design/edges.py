"""Edges: heat lost at each, the whole roof with them, and the coldest spot inside: mould or not."""

from __future__ import annotations

from collections.abc import Callable
from math import pi

from evenfall.calc.geometry import polygon as shapes
from evenfall.calc.geometry.setting_out import offset_sides
from evenfall.errors import InvalidInput
from evenfall.model.edged import EdgeAt, EdgeDetail, EdgeDetails, Edges
from evenfall.model.job import Below, Side, Site
from evenfall.model.surveyed import OpeningAt, Plan
from evenfall.stages.design import thicknesses
from evenfall.stages.design.edge_findings import Air, findings, governing, name
from evenfall.standards import edge_practice, roofing_practice, thermal_limits
from evenfall.working import Basis, Known, Table, Working, formula, measured, total

PERCENT = 100
Worth = Callable[[float], float]
KINDS = {
    "wall": "wall abutment",
    "eaves": "eaves",
    "verge": "verge",
    "parapet": "parapet",
    "party_line": "party line",
    "step": "step",
}
USE = {"house": "dwelling", "flat": "dwelling", "garage": "storage"}
"""What a building counts as, where the limit for mould hangs on its use."""


@formula("H", "W/K", "ISO 10211, inside dimensions", "from memory")
def edge_heat(psi: float, L: float) -> float:
    """Heat lost at an edge for one kelvin.

    Parameters
    ----------
    psi : float
        Linear transmittance [W/(m K)].
    L : float
        Length along the inner face [m].

    Returns
    -------
    float
        Heat [W/K].

    Examples
    --------
    >>> edge_heat(0.2, 6.0)
    1.2
    """
    return psi * L


@formula("H", "W/K", "ISO 13789, plane part", "from memory")
def plane_heat(U: float, A: float) -> float:
    """Heat lost through the plane roof for one kelvin.

    Parameters
    ----------
    U : float
        Transmittance [W/(m2K)].
    A : float
        Area between the inner faces of the walls [m2].

    Returns
    -------
    float
        Heat [W/K].

    Examples
    --------
    >>> plane_heat(0.15, 24.0)
    3.6
    """
    return U * A


@formula("Q", "pence", "degree days, steady state")
def a_year(H: float, HDD: float, price: float) -> float:
    """Money that heat lost at an edge costs in a year.

    Parameters
    ----------
    H : float
        Heat for one kelvin [W/K].
    HDD : float
        Heating degree days [K d].
    price : float
        Price of useful heat [pence/kWh].

    Returns
    -------
    float
        Money [pence].

    Examples
    --------
    >>> a_year(1.0, 2200, 10)
    528.0
    """
    return H * HDD * 24 / 1000 * price


def work(
    details: EdgeDetails,
    sides: tuple[Side, ...],
    plan: Plan,
    u: Working,
    site: Site,
    below: Below,
    building: str,
    heat_price: float,
    rates: Basis,
) -> Edges:
    """Add up the roof with its edges, and judge the coldest spot of each.

    Parameters
    ----------
    details : EdgeDetails
        Every edge solved [W/(m K)].
    sides : tuple of Side
        What each side is [-].
    plan : Plan
        Lengths and areas [m].
    u : Working
        Transmittance of the roof [W/(m2K)].
    site, below : Site, Below
        Air outside and inside [C].
    building : str
        What the building is [-].
    heat_price : float
        Price of useful heat [pence/kWh].
    rates : str
        Basis of the rates [-].

    Returns
    -------
    Edges
        Heat at each edge, the whole roof, findings [W/K].
    """
    lengths, area = inner_faces(tuple((d.id, d.out_m) for d in details.details), plan)
    air, hdd = governing(site, below), thicknesses.degree_days(site)
    field = plane_heat.show(u, area)
    heats = {d.id: edge_heat.show(d.state.psi, lengths[d.id]) for d in details.details}
    whole = total(
        "Whole roof with its edges", "H", "W/K",
        [("field", field), *((id_.partition(":")[2], h) for id_, h in heats.items())],
    )  # fmt: skip
    names = {s.side: s for s in sides}
    price = measured(heat_price, "pence/kWh", "the rates: heat_price_pence_kwh", rates)

    def worth(heat: float) -> float:
        return a_year(heat, hdd.value, price)

    told = tuple(
        _edge(d, _says(d, names, plan), heats[d.id], whole.value, air, worth)
        for d in details.details
    )
    table = _table(told, field, whole)
    limit = thermal_limits.F_CRSI[USE[building]]
    found = [
        f for d, e in zip(details.details, told, strict=True) for f in findings(d, e, air, limit)
    ]
    return Edges(told, whole, table, round(air.least, 1), _governs(told, air, whole), tuple(found))


def inner_faces(
    behind: tuple[tuple[str, float], ...], plan: Plan
) -> tuple[dict[str, float], Known]:
    """Measure the roof along the inner faces of its walls and kerbs.

    Parameters
    ----------
    behind : tuple of (str, float)
        Id of each edge, and how far its inner face lies behind the edge of the deck [m].
    plan : Plan
        The deck and its openings [m].

    Returns
    -------
    tuple of (dict, Known)
        Length of each edge by id [m], and the area between them [m2].
    """
    back = dict(behind)
    lengths, area = _round(plan, tuple(back[s.id] for s in plan.sides))
    for o in plan.openings:
        if o.id in back:
            lengths[o.id], hole = _clear(o)
            area -= hole
        else:
            area -= o.area_m2
    return lengths, measured(area, "m2", "between the inner faces of walls and kerbs")


def _round(plan: Plan, back: tuple[float, ...]) -> tuple[dict[str, float], float]:
    """Measure along the inner faces; where a side is too short for it, along the deck."""
    try:
        ring = offset_sides(plan.deck, tuple(-b for b in back)) if any(back) else plan.deck
    except InvalidInput:
        ring = ()
    if len(ring) == len(plan.deck):
        inner = shapes.side_lengths(ring)
        return {s.id: m for s, m in zip(plan.sides, inner, strict=True)}, shapes.area(ring)
    lost = sum(b * s.length_m for b, s in zip(back, plan.sides, strict=True))
    return {s.id: s.length_m for s in plan.sides}, shapes.area(plan.deck) - lost


def _clear(o: OpeningAt) -> tuple[float, float]:
    """Measure the hole inside a kerb: its length round and its area."""
    kerb = float(roofing_practice.KERB_TIMBER)
    if o.diameter_mm is not None:
        r = o.diameter_mm / 1000 / 2 - kerb
        return 2 * pi * r, pi * r**2
    return o.perimeter_m - 8 * kerb, o.area_m2 - o.perimeter_m * kerb + 4 * kerb**2


def _edge(
    detail: EdgeDetail, says: str, heat: Working, whole: float, air: Air, worth: Worth
) -> EdgeAt:
    state, other = detail.state, detail.other
    length = float(heat.of[1][2])
    more = None if other is None else (other.psi.value - state.psi.value) * length
    return EdgeAt(
        detail.id, says, length, state.psi, state.low, state.high, heat,
        heat.value / whole * PERCENT, state.f_rsi, air.at(state.f_mould),
        "" if other is None else other.says,
        None if other is None else other.psi.value,
        None if other is None else air.at(other.f_mould),
        more,
        None if more is None else worth(more),
    )  # fmt: skip


def _says(detail: EdgeDetail, sides: dict[str, Side], plan: Plan) -> str:
    """Say what an edge is, with what its heat hangs on."""
    name = detail.id.partition(":")[2]
    side = sides.get(name)
    if side is None:
        light = next(o for o in plan.openings if o.id == detail.id)
        said = [f"rooflight kerb on the {'boards' if light.on_boards else 'deck'}"]
    else:
        said = [KINDS[side.kind]]
        if side.wall_of is not None:
            said.append(f"against {side.wall_of}")
    if detail.state.says:
        said.append(detail.state.says)
    if detail.wall_says:
        said.append(detail.wall_says)
    return ", ".join(said)


def _table(edges: tuple[EdgeAt, ...], field: Working, whole: Working) -> Table:
    """Show the whole roof: the field and each edge with its share."""
    columns = (
        ("edge", "-"), ("U", "W/(m2K)"), ("area", "m2"), ("psi", "W/(m K)"), ("from", "W/(m K)"),
        ("to", "W/(m K)"), ("length", "m"), ("heat", "W/K"), ("share", "%"), ("coldest", "C"),
    )  # fmt: skip
    (_, _, u), (_, _, area) = field.of
    first = ("field", float(u), float(area), "-", "-", "-", "-", field.value,
             field.value / whole.value * PERCENT, "-")  # fmt: skip
    rows: tuple[tuple[float | str, ...], ...] = tuple(
        (
            e.id.partition(":")[2], "-", "-", e.psi.value, e.psi_low, e.psi_high, e.length_m,
            e.heat.value, e.share_percent, e.coldest_c,
        )
        for e in edges
    )  # fmt: skip
    title = "Heat of the whole roof for one kelvin, rooflights themselves left out"
    return Table(title, columns, (first, *rows), edge_practice.SOURCE, whole.basis)


def _governs(edges: tuple[EdgeAt, ...], air: Air, whole: Working) -> str:
    """Say in a sentence what the edges lose, and how cold it gets inside."""
    at = sum(e.heat.value for e in edges)
    most = max(edges, key=lambda e: e.heat.value)
    cold = min(edges, key=lambda e: e.coldest_c)
    return (
        f"the edges lose {at:.1f} of {whole.value:.1f} W/K, {name(most.id)} most with "
        f"{most.heat.value:.1f}; coldest spot inside {cold.coldest_c:.1f} °C, at "
        f"{name(cold.id)} in {air.month}; {_mouldy(cold.coldest_c, air)}"
    )


def _mouldy(coldest: float, air: Air) -> str:
    if air.least >= air.theta_i:
        return "the room air is too damp for any surface"
    return f"mould begins below {air.least:.1f}: {'MOULD' if coldest < air.least else 'none'}"

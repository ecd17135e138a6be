"""The rise stick: every buyable thickness against all that hangs on it; one is taken."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

from evenfall.model.board_stock import BoardStock
from evenfall.model.choice import BuildUp
from evenfall.model.designed import Rise, RiseRow, Thickness, Thicknesses
from evenfall.model.edged import EdgeCurves
from evenfall.model.job import Covering, Deck, Height, Window
from evenfall.model.rates import Rates
from evenfall.model.standing import Zones
from evenfall.model.surveyed import Falls, Plan, Slope
from evenfall.stages.design import beside, budget, offering, rise_says, zoning
from evenfall.stages.design.edges import inner_faces, plane_heat
from evenfall.stages.design.savings import carbon_saved, payback_years
from evenfall.working import Basis

MM = 1000
PERCENT = 100
GLUE = "board-adhesive"
NO_EDGES = EdgeCurves(())


@dataclass(frozen=True, slots=True)
class Prices:
    """What the rise stick asks of the rates: boards, what holds them, and heat."""

    boards: tuple[tuple[int, int], ...]  # thickness mm, pence a board
    screw_pence: float  # each
    glue_pence_m2: float  # one face, beads at 300 mm
    heat_pence_kwh: float
    basis: Basis


def prices(rates: Rates, board: str) -> Prices:
    """Take the prices out of the rates that the stick needs.

    Parameters
    ----------
    rates : Rates
        What the firm can buy [pence].
    board : str
        The board chosen [-].

    Returns
    -------
    Prices
        Of boards, screws, glue and heat [pence].
    """
    stock = next((b for b in rates.boards if b.name == board), None)
    glue = next((i for i in rates.items if i.name == GLUE), None)
    spread = 0.0
    if glue is not None:
        one = min(p.price_pence / p.size for p in glue.packs)
        spread = one / glue.covers * (1 + glue.waste_percent / PERCENT)
    return Prices(
        _of_boards(stock) if stock else (),
        rates.screw.price_pence_pack / rates.screw.pack,
        spread,
        rates.terms.heat_price_pence_kwh,
        rates.basis,
    )


def _of_boards(stock: BoardStock) -> tuple[tuple[int, int], ...]:
    return tuple((s.thickness_mm, s.price_pence) for s in stock.sizes)


def work(
    thicknesses: Thicknesses,
    build: BuildUp,
    covering: Covering,
    heights: tuple[Height, ...],
    windows: tuple[Window, ...],
    plan: Plan,
    falls: Falls,
    prices: Prices,
    deck: Deck,
    zones: Zones,
    plane: Slope,
    curves: EdgeCurves = NO_EDGES,
    behind: tuple[tuple[str, float], ...] = (),
) -> Rise:
    """Set every thickness against the heights and the prices, and take one.

    Parameters
    ----------
    thicknesses : Thicknesses
        Heat, moisture, weight and fixings of each [-].
    build : BuildUp
        The layers; its thickness is the owner's choice, if he made one [-].
    covering : Covering
        The old covering [mm].
    heights, windows : tuple
        Everything that sets a ceiling [mm].
    plan, falls : Plan, Falls
        Where the items are, and what the falls add there [-].
    prices : Prices
        Of boards, of what holds them, and of heat [pence].
    deck : Deck
        Whether it is flat enough for glue [mm].
    zones : Zones
        Parts of the roof with thinner insulation; U is weighted by area [-].
    plane : Slope
        The old surface [mm].
    curves : EdgeCurves
        Every edge over the thicknesses of the layers chosen [W/(m K)].
    behind : tuple of (str, float)
        How far the inner face at each edge lies behind the edge of the deck [m].

    Returns
    -------
    Rise
        The stick, the thickness taken, and what governs it [-].
    """
    listed = beside.items(heights, windows, plan)
    area, ground = plan.net.value, budget.Ground(plane, zones.zones)

    def stick(layers: int) -> tuple[RiseRow, ...]:
        made = tuple(t for t in thicknesses.rows if len(t.boards) == layers)
        mixed = zoning.mixed(made, zones.zones, area)
        rows = [_row(t, listed, build, covering, falls, prices, thicknesses, ground) for t in mixed]
        return _paid_back(rows, area, prices.heat_pence_kwh)

    rows, other = stick(build.layers), stick(3 - build.layers)
    rows, other = (_with_edges(r, curves, behind, plan) for r in (rows, other))
    chosen = sum(build.own) if build.own else proposal(rows)
    row = next(r for r in rows if r.thickness_mm == chosen)
    us = {r.thickness_mm: r.u for r in rows if r.can_be_held and r.moisture != "c"}
    roof = offering.Roof(build, covering, plan, falls, ground, listed, us, thicknesses.target_u)
    zone = None if zones.zones else offering.offer(roof)
    told = rise_says.Stick(
        rows, other, row, thicknesses.target_u, build, area, deck, prices.basis, zone
    )
    return Rise(
        rows=rows,
        other_rows=other,
        chosen_mm=chosen,
        chosen_by="owner" if build.own else "proposed",
        governs=told.governs(),
        why=told.why(),
        target_u=thicknesses.target_u,
        thickest_that_fits_mm=max((r.thickness_mm for r in rows if r.fits), default=None),
        before_u=thicknesses.before_u,
        zone=zone,
        table=rise_says.table(rows, row, prices.basis, curves.unsure),
        findings=told.findings(),
    )


def _row(
    t: Thickness,
    items: tuple[beside.Item, ...],
    build: BuildUp,
    covering: Covering,
    falls: Falls,
    prices: Prices,
    known: Thicknesses,
    ground: budget.Ground,
) -> RiseRow:
    margins = [
        (budget.left(i, build, t.thickness_mm, falls, covering, ground).value, i.id) for i in items
    ]
    least, governs = min(margins, default=(None, ""))
    area = build.board.length_mm * build.board.width_mm / MM**2
    each = dict(prices.boards)
    fixing = t.screws_m2 * prices.screw_pence + t.glued_m2 * prices.glue_pence_m2
    return RiseRow(
        thickness_mm=t.thickness_mm,
        boards=t.boards,
        u=t.u,
        passes_u=t.u <= known.target_u,
        least_margin_mm=least,
        governs=governs,
        fits=least is None or least >= budget.FITS,
        moisture=t.moisture,
        f_rsi=t.f_rsi,
        u_edges=None,
        edge_factor=None,
        edge="",
        mass_kg_m2=t.mass_kg_m2,
        added_kg_m2=t.added_kg_m2,
        screw_mm=t.screw_mm,
        screw_most_mm=t.screw_most_mm,
        can_be_held=build.hold_boards_by == "adhesive" or t.can_be_screwed,
        price_pence_m2=round(sum(each.get(mm, 0) for mm in t.boards) / area),
        fixing_pence_m2=round(fixing),
        heat_kwh=t.heat_kwh,
        saved_kwh=known.before_kwh - t.heat_kwh,
        saved_co2_kg=float(carbon_saved(known.before_kwh, t.heat_kwh)),
        payback_years=None,
    )


def _with_edges(
    rows: tuple[RiseRow, ...],
    curves: EdgeCurves,
    behind: tuple[tuple[str, float], ...],
    plan: Plan,
) -> tuple[RiseRow, ...]:
    """Add to each thickness what its edges lose, over the area inside the walls.

    The edges are solved for the number of layers chosen; the same thickness in the other number has
    nearly the same edges, and one that is not sold in the number chosen is left without.
    """
    if not curves.curves:
        return rows
    lengths, area = inner_faces(behind, plan)
    found = []
    for row in rows:
        points = curves.at(row.thickness_mm)
        if not points:
            found.append(row)
            continue
        lost = sum(point.psi * lengths[id_] for id_, point in points)
        factor, edge = min((point.f_rsi, id_) for id_, point in points)
        u = float(plane_heat(row.u, area) + lost) / area
        found.append(replace(row, u_edges=u, edge_factor=factor, edge=edge))
    return tuple(found)


def _paid_back(rows: list[RiseRow], area: float, heat_pence: float) -> tuple[RiseRow, ...]:
    """Set each thickness against the next thinner: what it costs more, and what it saves more."""
    found = rows[:1]
    for thin, thick in pairwise(rows):
        more = (thick.cost_pence_m2 - thin.cost_pence_m2) * area
        years = payback_years(more, thin.heat_kwh - thick.heat_kwh, heat_pence)
        found.append(replace(thick, payback_years=years))
    return tuple(found)


def proposal(rows: tuple[RiseRow, ...]) -> int:
    """Take the thinnest that passes and fits, else the thickest that fits, else the thinnest.

    Parameters
    ----------
    rows : tuple of RiseRow
        The stick; at least one row [-].

    Returns
    -------
    int
        Total thickness [mm].
    """
    held = [r for r in rows if r.can_be_held]
    good = [r for r in held if r.fits and r.passes_u and r.moisture != "c"]
    dry = [r for r in held if r.fits and r.moisture != "c"]
    fits = [r for r in held if r.fits]
    passes = [r for r in rows if r.passes_u]
    for group, pick in ((good, min), (dry, max), (fits, max), (passes, min)):
        if group:
            return pick(r.thickness_mm for r in group)
    return min(r.thickness_mm for r in rows)

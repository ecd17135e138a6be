"""Every edge solved at the thickness taken: as it will be, and with its detail the other way."""

from __future__ import annotations

from evenfall.calc.physics.conduction import Bracket
from evenfall.calc.physics.details import Films, Roof, Section
from evenfall.calc.physics.edge_values import HEAT, MOULD, psi_of_one, psi_of_two, values
from evenfall.model.edged import EdgeDetail, EdgeDetails, EdgeState
from evenfall.model.surveyed import Point
from evenfall.stages.design.edge_parts import EdgeOf, Given
from evenfall.standards import edge_practice
from evenfall.working import Working

MM = 1000


def work(edges: tuple[EdgeOf, ...], roof: Roof) -> EdgeDetails:
    """Solve every edge; edges that are built alike are solved once.

    Parameters
    ----------
    edges : tuple of EdgeOf
        What each is drawn from [m].
    roof : Roof
        The roof at the thickness taken [m].

    Returns
    -------
    EdgeDetails
        Linear transmittance [W/(m K)], coldest spot and picture of each edge [-].
    """
    found: dict[Given, tuple[EdgeState, EdgeState | None]] = {}
    for e in edges:
        if e.given not in found:
            other = e.given.other
            beside = _state(other, roof, quick=True) if other else None
            found[e.given] = _state(e.given, roof), beside
    return EdgeDetails(
        tuple(
            EdgeDetail(
                e.id, *found[e.given], e.out_m, e.wall_says, _bare(e.given), e.given.raised(roof)
            )
            for e in edges
        )
    )


def _state(given: Given, roof: Roof, *, quick: bool = False) -> EdgeState:
    """Solve with the films of heat for psi, and with the film of mould for the coldest spot."""
    edge = given.edge(roof)
    warm, damp = values(edge, HEAT, quick=quick), values(edge, MOULD, quick=quick)
    return EdgeState(
        given.says, _psi(edge.section(HEAT), warm.coupling), warm.psi.low, warm.psi.high,
        warm.factor, damp.factor, _mm(damp.coldest),
    )  # fmt: skip


def _psi(section: Section, coupling: Bracket) -> Working:
    """Show psi as the difference to the plane parts."""
    source, basis = edge_practice.SOURCE, edge_practice.CUT_LEAST.basis
    title = "Heat through the section, two-dimensional"
    L_2D = Working(title, "L_2D", "W/(m K)", source, coupling.best, own_basis=basis)
    roof, *rest = section.flanks
    if not rest:
        return psi_of_one.show(L_2D, roof.U, roof.length)
    return psi_of_two.show(L_2D, roof.U, roof.length, rest[0].U, rest[0].length)


def _bare(given: Given) -> float | None:
    """Temperature factor of the wall below, away from the edge, where it meets outside air."""
    if given.wall is None or given.made in ("wall", "party_line"):
        return None
    films: Films = MOULD
    return 1 - films.level * given.wall.U(films)


def _mm(point: tuple[float, float]) -> Point:
    return round(point[0] * MM, 1), round(point[1] * MM, 1)

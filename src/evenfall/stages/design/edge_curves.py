"""Every edge over every thickness on sale, for the rise stick: few exact answers, checked."""

from __future__ import annotations

from evenfall.calc.physics.details import Roof
from evenfall.calc.physics.edge_curves import Curve, curve
from evenfall.calc.physics.edge_values import EdgeValues, values
from evenfall.model.designed import EdgeCurve, EdgeCurves, EdgePoint
from evenfall.stages.design.edge_parts import EdgeOf, Given


def work(edges: tuple[EdgeOf, ...], roofs: tuple[tuple[int, Roof], ...]) -> EdgeCurves:
    """Work each edge over the thicknesses; edges that are built alike are worked once.

    Parameters
    ----------
    edges : tuple of EdgeOf
        What each is drawn from [m].
    roofs : tuple of (int, Roof)
        The roof at each thickness [mm, m].

    Returns
    -------
    EdgeCurves
        Linear transmittance [W/(m K)] and temperature factor by thickness [-].
    """
    found: dict[Given, Curve] = {}
    for edge in edges:
        if edge.given not in found:
            found[edge.given] = _curve(edge.given, roofs)
    return EdgeCurves(tuple(_told(e.id, found[e.given]) for e in edges))


def _curve(given: Given, roofs: tuple[tuple[int, Roof], ...]) -> Curve:
    by_mm = {float(mm): roof for mm, roof in roofs}

    def values_of(mm: float) -> EdgeValues:
        return values(given.edge(by_mm[mm]), quick=True)

    return curve(values_of, tuple(by_mm))


def _told(id_: str, found: Curve) -> EdgeCurve:
    points = tuple(
        EdgePoint(round(p.thickness), p.psi, p.low, p.high, p.factor, p.exact) for p in found.points
    )
    return EdgeCurve(id_, points, found.solves, found.sound)

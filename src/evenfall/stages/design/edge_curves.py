"""Every edge over every thickness on sale, for the rise stick: few exact answers, checked."""

from __future__ import annotations

from functools import partial

from evenfall.calc.physics.details import Roof
from evenfall.calc.physics.edge_curves import Curve, curve, shifted
from evenfall.calc.physics.edge_values import EdgeValues, values
from evenfall.model.edged import EdgeCurve, EdgeCurves, EdgePoint
from evenfall.stages.design.edge_parts import EdgeOf, Given


def work(edges: tuple[EdgeOf, ...], roofs: tuple[tuple[int, Roof], ...]) -> EdgeCurves:
    """Work each edge over the thicknesses: one of each build in full, the others beside it.

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
    by_mm = {float(mm): roof for mm, roof in roofs}
    found: dict[Given, Curve] = {}
    first: dict[Given, Curve] = {}
    for given in (e.given for e in edges):
        if given not in found:
            solve = partial(_values, given, by_mm)
            like = first.get(given.build)
            found[given] = shifted(like, solve) if like else curve(solve, tuple(by_mm))
            first.setdefault(given.build, found[given])
    return EdgeCurves(tuple(_told(e.id, found[e.given]) for e in edges))


def _values(given: Given, by_mm: dict[float, Roof], mm: float) -> EdgeValues:
    return values(given.edge(by_mm[mm]), quick=True)


def _told(id_: str, found: Curve) -> EdgeCurve:
    points = tuple(
        EdgePoint(round(p.thickness), p.psi, p.low, p.high, p.factor, p.exact) for p in found.points
    )
    return EdgeCurve(id_, points, found.solves, found.sound)

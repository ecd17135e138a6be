"""Fire from outside: the distance of every edge to the boundary, and what the covering must be."""

from __future__ import annotations

from evenfall.model.designed import Fire
from evenfall.model.finding import Finding
from evenfall.model.job import Side
from evenfall.stages.design.saying import cure, finding
from evenfall.standards import approved_document_b as fire
from evenfall.working import Known, Table, measured

BEST = fire.CLASSES[0]
COLUMNS = (("side", "-"), ("to the boundary", "m"), ("lowest class that will do", "-"))


def work(sides: tuple[Side, ...], building: str) -> Fire:
    """Say what the roof covering must be, by its distance to the boundary.

    Parameters
    ----------
    sides : tuple of Side
        Every side with its distance to the boundary [m].
    building : str
        House, flat or garage [-].

    Returns
    -------
    Fire
        The nearest edge, all edges, and the evidence to be had [m].
    """
    nearest = min(sides, key=lambda s: s.boundary_m)
    distance = measured(nearest.boundary_m, "m", f"survey.sides[{nearest.side}].boundary_m")
    rows = tuple((s.side, s.boundary_m, lowest_class(s.boundary_m)) for s in sides)
    table = Table("Fire from outside", COLUMNS, rows, BEST.from_m.source, BEST.from_m.basis)
    return Fire(distance, table, _findings(nearest.side, distance, building))


def lowest_class(boundary_m: float) -> str:
    """Give the lowest class of covering that may be this near to the boundary.

    Parameters
    ----------
    boundary_m : float
        Distance of the edge to the boundary, 0 or more [m].

    Returns
    -------
    str
        Class by EN 13501-5 [-].

    Examples
    --------
    >>> lowest_class(5.9), lowest_class(6.0), lowest_class(20.0)
    ('BROOF(t4)', 'DROOF(t4)', 'FROOF(t4)')
    """
    return next(c.name for c in reversed(fire.CLASSES) if boundary_m >= c.from_m)


def _findings(side: str, distance: Known, building: str) -> tuple[Finding, ...]:
    subject, lowest = f"side:{side}", lowest_class(distance)
    if distance < fire.NEAR:
        says = (
            f"Side {side} is {distance:.1f} m from the boundary; nearer than {fire.NEAR:.0f} m "
            f"only {BEST.name} will do. Get the test report of this very build-up."
        )
        ask = "Ask the maker of the sheet for the report that covers deck, board, glue and sheet."
        return (
            finding("fire-proof-missing", subject, "agree", says, fire.NEAR, distance, cure(ask)),
            *_terrace(building),
        )
    if distance < fire.FAR:
        says = (
            f"The nearest edge, {side}, is {distance:.1f} m from the boundary: {lowest} or better "
            "will do. Keep the test report."
        )
        return (
            finding("fire-class", subject, "note", says, fire.FAR, distance),
            *_terrace(building),
        )
    says = f"Every edge is {distance:.0f} m or more from the boundary: any class of roof will do."
    return (finding("fire-far", subject, "fine", says, fire.FAR, distance),)


def _terrace(building: str) -> tuple[Finding, ...]:
    """Lower classes are shut out for terraces; a house may be one of three."""
    if building == "garage":
        return ()
    says = f"In a terrace of {fire.TERRACE:.0f} houses or more only {BEST.name} will do."
    return (finding("fire-terrace", "roof", "note", says, fire.TERRACE),)

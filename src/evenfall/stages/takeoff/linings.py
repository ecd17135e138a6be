"""Insulation on kerbs and parapets: the faces that it is cut for."""

from __future__ import annotations

from evenfall.model.job import Design, Side
from evenfall.model.surveyed import Plan
from evenfall.stages.design.edge_parts import wall_of
from evenfall.standards import take_off_practice

MM = 1000


def lined(
    plan: Plan, sides: tuple[Side, ...], design: Design, rise_mm: float
) -> list[tuple[str, float]]:
    """List the faces that are insulated: kerbs above the boards, parapets inside and on top.

    Parameters
    ----------
    plan : Plan
        Rooflights, and lengths of the parapets [m].
    sides : tuple of Side
        Thickness and height of the parapets [mm].
    design : Design
        Which of them are insulated [-].
    rise_mm : float
        Finished surface above the old covering at the edge [mm].

    Returns
    -------
    list of (str, float)
        Name and area of each [m2].
    """
    least = float(take_off_practice.KERB_ABOVE_SURFACE)
    found: list[tuple[str, float]] = []
    left = "rooflight" if design.rooflight_kerbs == "leave" else ""
    kerbs = (o for o in plan.openings if o.kind in ("rooflight", "chimney") and o.kind != left)
    found += [(o.name, o.perimeter_m * least) for o in kerbs]
    if design.parapets == "insulate":
        known = {s.side: s for s in sides}
        for side in plan.of_kind("parapet"):
            high = max((side.parapet_height_mm - rise_mm) / MM, least)
            top = wall_of(known[side.name])[0].thickness
            found.append((side.name, side.length_m * (high + top)))
    return found

"""What the client and building control may have as data: the roof, no price, crew or margin."""

from __future__ import annotations

from typing import Any

from evenfall.stages.papers.scope import days_of, layers, parts
from evenfall.stages.papers.worked import WorkedRoof


def extract(worked: WorkedRoof) -> dict[str, Any]:
    """Gather the roof in figures.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    dict
        Plain data: plan, layers, edges and days; keys carry their unit [-].
    """
    meta, plan = worked.meta, worked.plan
    return {
        "reference": meta.reference,
        "issue": meta.revision,
        "title": meta.title,
        "address": meta.address,
        "surveyed_on": meta.surveyed_on.isoformat(),
        "worked_on": meta.on.isoformat(),
        "corners_m": [[c.name, round(c.x_m, 3), round(c.y_m, 3)] for c in plan.corners],
        "sides": [{"side": s.name, "kind": s.kind, "length_m": round(s.length_m, 3)}
                  for s in plan.sides],
        "openings": [{"name": o.name, "kind": o.kind,
                      "outline_m": [[round(x, 3), round(y, 3)] for x, y in o.ring]}
                     for o in plan.openings],
        "area_m2": round(plan.gross.value, 2),
        "insulation_mm": worked.rise.chosen_mm,
        "u_w_m2k": round(worked.heat.u.value, 3),
        "u_before_w_m2k": round(worked.rise.before_u.value, 3),
        "rise_at_edge_mm": round(worked.heights.rise_at_edge.value),
        "layers": [[x.name, x.says, x.thickness, x.area] for x in layers(worked)],
        "parts": [[x.name, x.says, x.size] for x in parts(worked)],
        "days": [[d.on.isoformat(), d.does, d.evening] for d in days_of(worked.programme)],
    }  # fmt: skip

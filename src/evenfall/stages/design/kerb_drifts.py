"""Snow drifted round what stands up from the roof: kerbs of rooflights, chimneys.

The UK takes the exceptional drift of Annex B in place of clause 6.2, and its exemptions for low
obstructions are not at hand: none is made. Both are worked, and the larger governs.
"""

from __future__ import annotations

from evenfall.calc.loads import beams, snow, snow_drifts
from evenfall.calc.loads.joists import Joist, Stresses, uses
from evenfall.calc.loads.patch_load import patch
from evenfall.model.designed import Seldom
from evenfall.model.surveyed import OpeningAt, Plan, Point
from evenfall.stages.design.joist_loads import combined_load, line_load
from evenfall.standards import dead_loads, en_1991_1_1, roofing_practice
from evenfall.standards import en_1991_1_3 as en_snow
from evenfall.standards import en_1995_1_1 as en
from evenfall.working import Known, Working, formula, measured, total

MM = 1000
STANDING = ("rooflight", "chimney")
"""Wide enough to stop the wind; round a pipe, a flue or a post snow does not gather to speak of."""
IN_PLACE = "Annex B, in the UK in place of 6.2; no low one is let off"


@formula("a", "m", "geometry, two leaning ends hold as much as one of even depth")
def patch_length(c: float, l_s: float, L: float) -> float:
    """Length of a joist beside an obstruction that its drift lies on.

    Parameters
    ----------
    c, l_s, L : float
        Length of the obstruction along the joists, of the drift, span [m].

    Returns
    -------
    float
        Length [m].

    Examples
    --------
    >>> patch_length(1.2, 0.75, 4.1), patch_length(1.2, 5.0, 4.1)
    (1.95, 4.1)
    """
    return min(c + l_s, L)


def height(opening: OpeningAt, rise_mm: float) -> Known:
    """Find how far something stands up from the finished roof.

    Parameters
    ----------
    opening : OpeningAt
        A rooflight or a chimney [mm].
    rise_mm : float
        What the roof rises under a kerb that stands on the deck [mm].

    Returns
    -------
    Known
        Height of a kerb, made up to that of an upstand; a chimney is as high as matters [m].
    """
    if opening.kind == "chimney":
        return en_snow.TALL
    left = opening.kerb_height_mm - (0.0 if opening.on_boards else rise_mm)
    least = float(roofing_practice.UPSTAND)
    path = f"survey.openings[{opening.name}].kerb_height_mm, less the rise, {least:.0f} mm at least"
    return measured(max(left, least) / MM, "m", path)


def beside_kerbs(
    plan: Plan,
    runs: Point,
    joist: Joist,
    before: Working,
    after: Working,
    s_k: Working,
    rise_mm: float,
) -> tuple[Seldom, ...]:
    """Work the joist beside each kerb and chimney under the snow drifted against it.

    Parameters
    ----------
    plan : Plan
        The openings [m].
    runs : (x, y)
        Unit vector of the joists [-].
    joist : Joist
        The joists [m].
    before, after : Working
        Permanent load as found and finished [Pa].
    s_k : Working
        Snow on the ground [Pa].
    rise_mm : float
        What the roof rises [mm].

    Returns
    -------
    tuple of Seldom
        For each the exceptional drift of Annex B, an accident, then that of 6.2 with full
        partial factors, the imposed load beside it [-].
    """
    found = []
    for o in plan.openings:
        if o.kind in STANDING:
            h, b = height(o, rise_mm), _roof_beside(o, plan)
            found.append(_exceptional(o, h, b, runs, joist, (before, after), s_k))
            found.append(_persistent(o, h, b, joist, (before, after), s_k))
    return tuple(found)


def _roof_beside(opening: OpeningAt, plan: Plan) -> float:
    """Measure the longest roof beside an opening, square to one of its sides."""
    ring, most = opening.ring, 0.0
    for (x0, y0), (x1, y1) in zip(ring, (*ring[1:], ring[0]), strict=True):
        long = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
        u, v = (y1 - y0) / long, -(x1 - x0) / long  # outwards of an anticlockwise outline
        most = max(most, *((x - x0) * u + (y - y0) * v for x, y in plan.deck))
    return most


def _exceptional(
    o: OpeningAt,
    h: Known,
    b: float,
    runs: Point,
    joist: Joist,
    lying: tuple[Working, Working],
    s_k: Working,
) -> Seldom:
    l_s = snow_drifts.obstruction_drift_length.show(h, measured(b, "m", "the plan, beside it"))
    mu = snow_drifts.exceptional_obstruction_coefficient.show(h, s_k)
    deepest = snow.roof_snow.show(s_k, mu)
    along = [x * runs[0] + y * runs[1] for x, y in o.ring]
    c = measured(max(along) - min(along), "m", f"{o.name}, along the joists")
    a = patch_length.show(c, l_s, joist.L)
    q = line_load.show(deepest, joist.spacing)
    placed = [patch(q, a, joist.L, at_bearing) for at_bearing in (False, True)]
    M_s = max((M for M, _ in placed), key=lambda M: M.value)
    V_s = max((V for _, V in placed), key=lambda V: V.value)
    was, now = (_accident(joist, G, M_s, V_s) for G in lying)
    return Seldom(
        f"kerb:{o.name}", f"snow drifted against {o.name} ({IN_PLACE})", deepest, l_s.value,
        now.bending, now.shear, now.bearing, _worst(was),
    )  # fmt: skip


def _accident(joist: Joist, G: Working, M_s: Working, V_s: Working) -> Stresses:
    w = line_load.show(G, joist.spacing)
    M = total("Moment", "M", "Nm",
              (("permanent", beams.moment.show(w, joist.L)), ("drift", M_s)))  # fmt: skip
    V = total("Shear", "V", "N",
              (("permanent", beams.shear.show(w, joist.L)), ("drift", V_s)))  # fmt: skip
    return uses(
        joist, M, V, en.K_MOD["instantaneous"], dead_loads.BEARING, en.K_SYS, en.GAMMA_M_ACCIDENT
    )


def _persistent(
    o: OpeningAt, h: Known, b: float, joist: Joist, lying: tuple[Working, Working], s_k: Working
) -> Seldom:
    """Work by 6.2: 5 m long or longer, the drift lies as deep over the whole joist beside it."""
    drift = snow_drifts.drift_at_obstruction(h, measured(b, "m", "the plan, beside it"), s_k)
    was, now = (_factored(joist, G, drift.s) for G in lying)
    return Seldom(
        f"6.2:{o.name}", f"snow drifted against {o.name} by 6.2 (with the imposed load)",
        drift.s, drift.l_s.value, now.bending, now.shear, now.bearing, _worst(was),
    )  # fmt: skip


def _factored(joist: Joist, G: Working, s: Working) -> Stresses:
    w = line_load.show(combined_load.show(G, en_1991_1_1.Q_K_UK, s), joist.spacing)
    return uses(
        joist, beams.moment.show(w, joist.L), beams.shear.show(w, joist.L), en.K_MOD["medium"],
        dead_loads.BEARING, en.K_SYS,
    )  # fmt: skip


def _worst(found: Stresses) -> Working:
    return max((found.bending, found.shear, found.bearing), key=lambda use: use.value)

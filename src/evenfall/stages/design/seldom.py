"""Seldom: loads that lean on one side of the roof, water at a blocked way out and drifted snow."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from evenfall.calc.loads import snow, snow_drifts
from evenfall.calc.loads.joists import Joist, Stresses, uses
from evenfall.calc.loads.leaning_load import leaning_moment, near_reaction
from evenfall.model.designed import Blocked, Night, Seldom
from evenfall.model.finding import Finding
from evenfall.model.job import Side
from evenfall.model.surveyed import Plan, Point, SideAt
from evenfall.stages.design import bearing
from evenfall.stages.design.joist_loads import gathered_use
from evenfall.stages.design.saying import cure, finding
from evenfall.stages.design.structure import NEAR, PERCENT, asked, stands
from evenfall.standards import dead_loads, en_1991_1_3
from evenfall.standards import en_1995_1_1 as en
from evenfall.working import Cited, Working, formula, measured, total

MM = 1000
ALONG = 0.707  # cosine of 45 degrees: joists nearer than that to square meet the side end on
CODES = {"night": "night-bath-heavy", "blocked": "blocked-outlet-heavy"}
SUBJECTS = {"drift": "side", "kerb": "opening", "6.2": "opening"}
DEEP_M = 16.0
"""A house twice as deep as the one that is taken where nobody measured: a deep terrace or a block;
where the joists would not bear its drift, the depth is asked for."""
REMEDIES = {
    "night": cure("Leave two ways out on different sides, and put up edge timbers only as the "
                  "boards come."),
    "blocked": cure("Cut an overflow, or a lower one, before you ask: it bounds the depth."),
}  # fmt: skip
BEFORE_ORDER = cure("Have an engineer look before you order.")


@formula("w", "N/m", "geometry")
def on_a_joist(q: float, s: float) -> float:
    """Load on a joist whose bearing is at the side where the load is deepest.

    Parameters
    ----------
    q : float
        Load at the side [Pa].
    s : float
        Spacing [m].

    Returns
    -------
    float
        Load per length at the bearing [N/m].

    Examples
    --------
    >>> on_a_joist(750.0, 0.4)
    300.0
    """
    return q * s


@formula("w", "N/m", "geometry, mean over the strip of the first joist")
def along_the_side(q: float, s: float, a: float) -> float:
    """Load on the first joist of those that run along the side where the load is deepest.

    Parameters
    ----------
    q : float
        Load at the side [Pa].
    s, a : float
        Spacing, reach of the load [m].

    Returns
    -------
    float
        Even load per length [N/m].

    Examples
    --------
    >>> along_the_side(750.0, 0.4, 4.0)
    285.0
    """
    return q * s * max(1 - s / (2 * a), 0.5)


@formula("q_L", "N/m", "geometry, similar triangles")
def at_far_bearing(q: float, f: float, a: float, L: float) -> float:
    """Load of a lean that still lies at the far bearing of a joist.

    Parameters
    ----------
    q : float
        Load per length at the near bearing [N/m].
    f : float
        Share of it where the lean ends, from 0 to 1 [-].
    a, L : float
        Reach of the lean, span of the joist [m].

    Returns
    -------
    float
        Load per length, nought where the lean ends on the span [N/m].

    Examples
    --------
    >>> at_far_bearing(300.0, 0.0, 4.0, 3.0), at_far_bearing(300.0, 0.0, 2.0, 3.0)
    (75.0, 0.0)
    >>> at_far_bearing(300.0, 1.0, 3.0, 3.0)
    300.0
    """
    return q * max(0.0, 1 - (1 - f) * L / a) if a > L or f > 0 else 0.0


@formula("q_t", "N/m", "geometry")
def leaning_part(q: float, q_L: float) -> float:
    """Take what leans of a load, beyond what is even over the whole joist.

    Parameters
    ----------
    q, q_L : float
        Load per length at the near and at the far bearing [N/m].

    Returns
    -------
    float
        Load per length at the near bearing [N/m].

    Examples
    --------
    >>> leaning_part(300.0, 75.0)
    225.0
    """
    return q - q_L


class Lying(NamedTuple):
    """What lies on the roof for good: before, under tonight's cover, after [Pa]."""

    before: Working
    tonight: Working
    after: Working


def seldom(
    plan: Plan,
    sides: tuple[Side, ...],
    downhill: Point,
    runs: Point,
    joist: Joist,
    lying: Lying,
    s_k: Working,
    held: Night,
    rise_mm: float,
    full: Blocked | None = None,
    a: Working | None = None,
) -> tuple[Seldom, ...]:
    """Work out the joists under what lies deepest at one side.

    Parameters
    ----------
    plan : Plan
        Outline and walls [m].
    sides : tuple of Side
        How deep the house behind each wall is [m].
    downhill, runs : (x, y)
        Unit vectors of the fall and of the joists [-].
    joist : Joist
        The joists [m].
    lying : Lying
        Permanent loads [Pa].
    s_k : Working
        Snow on the ground [Pa].
    held : Night
        The bath with its way out blocked [Pa].
    rise_mm : float
        What the roof rises [mm].
    full : Blocked, optional
        The finished roof with its outlets blocked [Pa].
    a : Working, optional
        How much the water that gathers in the sag of the joists enlarges all [-].

    Returns
    -------
    tuple of Seldom
        The bath, blocked outlets, then a drift for each wall and parapet; accidental, with
        partial factors of 1 [-].
    """
    end_on = _end_on(runs, downhill)
    bath = _Lean(
        "night", "water at a blocked way out", held.load, held.reach_m,
        _end_on(runs, held.downhill), "short", held.far_share,
        grows=a,
    )  # fmt: skip
    found = [_used(bath, joist, lying.before, lying.tonight)]
    if full is not None:
        pond = _Lean(
            "blocked",
            "water at blocked outlets",
            full.load,
            full.reach_m,
            end_on,
            "short",
            full.far_share,
            grows=a,
        )
        found.append(_used(pond, joist, lying.before, lying.after))
    depths = {s.side: s.house_depth_m for s in sides}
    for side in plan.sides:
        depth = depths.get(side.name)
        lean = _drift(side, plan, depth, runs, s_k, rise_mm)
        if lean is not None:
            used = _used(lean, joist, lying.before, lying.after)
            if depth is None and lean.house:
                far = _drift(side, plan, DEEP_M, runs, s_k, rise_mm) or lean
                used = replace(used, if_deep=_worst(far, joist, lying.after))
            found.append(used)
    return tuple(found)


def _end_on(runs: Point, way: Point) -> bool:
    return abs(runs[0] * way[0] + runs[1] * way[1]) >= ALONG


class _Lean(NamedTuple):
    """A load that leans on one side."""

    id: str
    says: str
    deepest: Working
    reach_m: float
    end_on: bool  # joists bear on the side where it is deepest
    duration: en.Duration
    far_share: float = 0.0  # of the deepest, where it ends
    house: bool = False  # a taller house stands behind it
    grows: Working | None = None  # water: amplification by ponding


def _drift(
    side: SideAt, plan: Plan, house_m: float | None, runs: Point, s_k: Working, rise_mm: float
) -> _Lean | None:
    """Drift snow against a wall or a parapet, over the finished roof."""
    wall = side.kind in ("wall", "party_line", "step") and side.wall_height_m > 0
    above = (side.wall_height_m if wall else side.parapet_height_mm / MM) - rise_mm / MM
    if above <= 0 or not (wall or side.kind == "parapet"):
        return None
    key = "wall_height_m" if wall else "parapet_height_mm"
    h = measured(above, "m", f"survey.sides[{side.name}].{key}, less the rise")
    b_1 = measured(_inwards(side, plan), "m", "the plan, square to the side")
    if wall:
        seed = en_1991_1_3.HOUSE_DEPTH
        house = (
            measured(house_m, "m", f"survey.sides[{side.name}].house_depth_m") if house_m else seed
        )
        l_s = snow_drifts.taller_house_drift_length.show(h, b_1)
        mu = snow_drifts.taller_house_coefficient.show(h, s_k, max(house, b_1, key=float), l_s)
    else:
        l_s = snow_drifts.parapet_drift_length.show(h, b_1)
        mu = snow_drifts.parapet_coefficient.show(h, s_k, b_1, l_s)
    end_on = _end_on(runs, side.outwards)
    load = snow.roof_snow.show(s_k, mu)
    what = "the wall" if wall else "the parapet"
    seed = en_1991_1_3.HOUSE_DEPTH
    taken = f" (house behind it taken as {seed:g} m deep)" if wall and not house_m else ""
    return _Lean(
        f"drift:{side.name}", f"snow drifted against {what} {side.name}{taken}", load, l_s.value,
        end_on, "instantaneous", house=wall,
    )  # fmt: skip


def walls(
    plan: Plan, sides: tuple[Side, ...], runs: Point, s_k: Working, rise_mm: float
) -> tuple[bearing.Drifted, ...]:
    """List the drifts against walls and parapets, for what stands within them.

    Parameters
    ----------
    plan : Plan
        Outline and walls [m].
    sides : tuple of Side
        How deep the house behind each wall is [m].
    runs : (x, y)
        Unit vector of the joists [-].
    s_k : Working
        Snow on the ground [Pa].
    rise_mm : float
        What the roof rises [mm].

    Returns
    -------
    tuple of Drifted
        Side, load there, reach [Pa, m].
    """
    depths = {s.side: s.house_depth_m for s in sides}
    found = ((s, _drift(s, plan, depths.get(s.name), runs, s_k, rise_mm)) for s in plan.sides)
    return tuple(bearing.Drifted(s, x.deepest, x.reach_m) for s, x in found if x is not None)


def _inwards(side: SideAt, plan: Plan) -> float:
    """Measure the roof square to a side."""
    (x0, y0), (u, v) = side.a, side.outwards
    return max((x0 - x) * u + (y0 - y) * v for x, y in plan.deck)


def _used(lean: _Lean, joist: Joist, before: Working, after: Working) -> Seldom:
    found = _uses(lean, joist, after)
    return Seldom(
        lean.id, lean.says, lean.deepest, lean.reach_m,
        found.bending, found.shear, found.bearing, _worst(lean, joist, before),
    )  # fmt: skip


def _worst(lean: _Lean, joist: Joist, lying: Working) -> Working:
    found = _uses(lean, joist, lying)
    return max((found.bending, found.shear, found.bearing), key=lambda use: use.value)


def _uses(lean: _Lean, joist: Joist, lying: Working) -> Stresses:
    """Use of the joist that carries most: partial factors of 1, as for an accident.

    The bearing beside which the load lies deepest has the greater reaction: shear and bearing
    are looked at there.
    """
    w = on_a_joist.show(lying, joist.spacing)
    q = on_a_joist.show(lean.deepest, joist.spacing)
    tilted: Working | float = 0.0
    reach = float(joist.L)
    if lean.end_on:
        even = at_far_bearing.show(q, lean.far_share, lean.reach_m, joist.L)
        tilted, reach = leaning_part.show(q, even), min(lean.reach_m, reach)
    else:
        beside = along_the_side.show(lean.deepest, joist.spacing, lean.reach_m)
        even = q if lean.far_share else beside
    if even.value:
        w = total("Even load", "w", "N/m", (("permanent", w), ("passing", even)))
    M = leaning_moment(w, tilted, reach, joist.L)
    V = near_reaction.show(w, tilted, reach, joist.L)
    found = uses(
        joist, M, V, en.K_MOD[lean.duration], dead_loads.BEARING, en.K_SYS, en.GAMMA_M_ACCIDENT
    )
    if lean.grows is None:
        return found
    return Stresses(*(
        gathered_use.show(use, lean.grows) for use in (found.bending, found.shear, found.bearing)
    ))  # fmt: skip


def tell(cases: tuple[Seldom, ...]) -> Iterator[Finding]:
    """Name the cases that use the joists up, and how they stood before.

    Parameters
    ----------
    cases : tuple of Seldom
        The cases [-].

    Returns
    -------
    iterator of Finding
        Findings for an engineer [-].
    """
    full = Cited(1.0, "-", en.SOURCE, "6.1.5 to 6.1.7, accidental combination", "from memory")
    for case in cases:
        (most, what), before = case.worst, case.before.value
        used = most.value
        if used <= NEAR:
            yield from _asked_for(case, full)
            continue
        night = case.id == "night"
        worse = f" ({before * PERCENT:.0f} % as found)"
        was = "" if night else stands(used, before) or worse
        says = (
            f"The joists would be used to {used * PERCENT:.0f} % in {what} by {case.says}, "
            f"{case.deepest.value:.0f} N/m² at the deepest{was}."
        )
        code = CODES.get(case.id, "snow-drift-heavy")
        kind, _, name = case.id.partition(":")
        subject = "roof" if case.id in CODES else f"{SUBJECTS[kind]}:{name}"
        yield asked(code, subject, says, full, used, REMEDIES.get(case.id, BEFORE_ORDER))


def _asked_for(case: Seldom, full: Cited) -> Iterator[Finding]:
    """Ask how deep the house is, where a deeper one would bring the joists to their limit."""
    if case.if_deep is None or case.if_deep.value <= NEAR:
        return
    side = case.id.partition(":")[2]
    says = (
        f"How deep is the house behind the wall {side}? Taken as {en_1991_1_3.HOUSE_DEPTH:g} m, "
        f"the snow drifted against it uses the joists to {case.worst[0].value * PERCENT:.0f} %; "
        f"{DEEP_M:g} m deep it would be {case.if_deep.value * PERCENT:.0f} %."
    )
    ask = cure("Measure it square to the wall, or read it off a map, and enter house_depth_m.")
    yield finding("house-depth-asked", f"side:{side}", "agree", says, full, case.if_deep.value, ask)

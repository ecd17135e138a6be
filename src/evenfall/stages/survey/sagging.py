"""What the joists take away from a fall: their sag under load, and sag that no level shows."""

from __future__ import annotations

from evenfall.calc.drainage.falls import loaded_fall
from evenfall.calc.geometry.polygon import Point
from evenfall.calc.loads import snow
from evenfall.calc.loads.joists import deflection
from evenfall.model.job import FallKind, Joists
from evenfall.model.surveyed import Levels, Plan
from evenfall.stages.design.joist_loads import in_mm, line_load, sag_load
from evenfall.stages.design.joists import joist_of
from evenfall.stages.survey.making import ALONG
from evenfall.standards import en_1991_1_1
from evenfall.working import Working, measured, total

MM = 1000
LEVELLED = ("firrings", "shims")
"""Ways whose pieces are cut or packed to each joist as it hangs."""


def sag_under_load(joists: Joists, snow_zone: int, altitude_m: float) -> Working:
    """Work out how far imposed load and snow bend the joists.

    The dead load needs no sum: the levels were read, and the firrings are cut, with it on.

    Parameters
    ----------
    joists : Joists
        The joists [-].
    snow_zone : int
        Zone of the map [-].
    altitude_m : float
        Height of the place [m].

    Returns
    -------
    Working
        Sag at mid-span at once [mm].
    """
    altitude = measured(max(altitude_m, 0.0), "m", "site.altitude_m")
    lying = snow.roof_snow.show(snow.ground_snow(snow_zone, altitude))
    joist = joist_of(joists)
    load = line_load.show(sag_load.show(en_1991_1_1.Q_K_UK, lying), joist.spacing)
    return in_mm.show(deflection(joist, load))


def fall_left(
    finished: Working,
    kind: FallKind,
    bends: Working,
    joists: Joists,
    plan: Plan,
    levels: Levels,
    downhill: Point,
) -> Working:
    """Take the sag off the finished fall.

    Parameters
    ----------
    finished : Working
        Fall as laid [mm/m].
    kind : str
        The way it is made: firrings and packing take out the sag that is there [-].
    bends : Working
        Sag under load [mm].
    joists : Joists
        Span, direction, and the sag found under a string [-].
    plan, levels : Plan, Levels
        The plan, and the levels that may show that sag [mm].
    downhill : (x, y)
        Unit vector of the fall [-].

    Returns
    -------
    Working
        Fall left at the low end of the joists; joists across the fall take nothing off [mm/m].
    """
    way = plan.side(joists.along).along
    if abs(way[0] * downhill[0] + way[1] * downhill[1]) < ALONG:
        return finished
    seen = max(s.z_mm - levels.plane.at(s.at) for s in levels.spots) + levels.dish_mm
    hidden = 0.0 if kind in LEVELLED else max(0.0, joists.sag_mm - seen)
    sag = total(
        "Sag to take off", "delta", "mm",
        [("under load", bends),
         ("there, shown by no level", measured(hidden, "mm", "survey.joists.sag_mm"))],
    )  # fmt: skip
    return loaded_fall.show(finished, sag, measured(joists.span_m, "m", "survey.joists.span_m"))

"""One moment of the joists: every combination of its loads with its own k_mod, and the sag."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from evenfall.calc.loads.joists import Joist, Stresses, deflection, point_deflection, stresses
from evenfall.calc.loads.timber import final_deflection
from evenfall.model.designed import Combination, JoistCase
from evenfall.stages.design.dead_weight import Part
from evenfall.stages.design.joist_loads import (
    combined_load,
    gathered_sag,
    gathered_use,
    in_mm,
    lasting_load,
    line_load,
    person_load,
    sag_load,
)
from evenfall.standards import dead_loads, en_1990, en_1991_1_1
from evenfall.standards import en_1995_1_1 as en
from evenfall.working import Known, Working, total

MM = 1000


class Loads(NamedTuple):
    """Loads of one moment: permanent parts, imposed (or stacked, or left), snow (or water)."""

    parts: tuple[Part, ...]
    imposed: tuple[str, Known | Working]
    snow: tuple[str, Known | Working]
    duration: en.Duration
    creeps: bool


def permanent(loads: Loads) -> Working:
    """Add up what lies there for good.

    Parameters
    ----------
    loads : Loads
        The loads of one moment [Pa].

    Returns
    -------
    Working
        Permanent load [Pa].
    """
    return total("Permanent load", "G", "Pa", loads.parts)


def case(name: str, loads: Loads, joist: Joist, plastered: bool, a: Working) -> JoistCase:
    """Work out strength and sag of one moment; at work one person stands beside the rest.

    Parameters
    ----------
    name : str
        before, during, night or after [-].
    loads : Loads
        What lies on the joists then [Pa].
    joist : Joist
        The joist [m].
    plastered : bool
        Whether a ceiling hangs below, with the stricter limit of the sag [-].
    a : Working
        How much the water that gathers in the sag enlarges all; only where water stands [-].

    Returns
    -------
    JoistCase
        Each combination with the k_mod of its shortest load, and the sags [-].
    """
    load = total("Load", "q", "Pa", (*loads.parts, loads.imposed, loads.snow))
    sag, by_person = _sags(loads, joist, a)
    limit = en.LIMIT_PLASTERED if plastered else en.LIMIT_BARE
    return JoistCase(
        name, load, tuple(_combinations(loads, joist, a)), sag[0], sag[1],
        by_person[0], by_person[1], joist.L * MM / limit,
    )  # fmt: skip


def _combinations(loads: Loads, joist: Joist, a: Working) -> Iterator[Combination]:
    """List them: all loads, the lasting load alone, one person; EN 1995-1-1 3.1.3(2)."""
    G, (_, Q), (_, S) = permanent(loads), loads.imposed, loads.snow
    lasting = line_load.show(lasting_load.show(G), joist.spacing)
    if loads.creeps:
        design = line_load.show(combined_load.show(G, Q, S), joist.spacing)
        yield _used("all together", loads.duration, joist, design)
        yield _used("lasting load alone", "permanent", joist, lasting)
        yield _used("one person", "short", joist, lasting, person_load.show())
        return
    full = dead_loads.IN_FULL
    design = line_load.show(combined_load.show(G, Q, S, psi_Q=full, psi_S=full), joist.spacing)
    yield _used("all together", loads.duration, joist, design, person_load.show(), a)
    yield _used("lasting load alone", "permanent", joist, lasting)


def _used(
    says: str,
    duration: en.Duration,
    joist: Joist,
    w_d: Working,
    P_d: Working | None = None,
    a: Working | None = None,
) -> Combination:
    k_mod = en.K_MOD[duration]
    found = stresses(joist, w_d, k_mod, dead_loads.BEARING, en.K_SYS, P_d=P_d)
    if a is not None:
        found = Stresses(*(gathered_use.show(u, a) for u in _of(found)))
    return Combination(says, k_mod, *_of(found))


def _of(found: Stresses) -> tuple[Working, Working, Working]:
    return found.bending, found.shear, found.bearing


Sags = tuple[Working, Working]  # under the passing load, in the end, both in mm


def _sags(loads: Loads, joist: Joist, a: Working) -> tuple[Sags, Sags | tuple[None, None]]:
    """Give the sag under the even load, and under one person in its place; at work both at once."""
    Q, S = loads.imposed[1], loads.snow[1]
    full = dead_loads.IN_FULL
    psi = {} if loads.creeps else {"psi_Q": full, "psi_S": full}
    passing = line_load.show(sag_load.show(Q, S, **psi), joist.spacing)
    u_G = deflection(joist, line_load.show(permanent(loads), joist.spacing))
    u_Q = deflection(joist, passing)
    u_P = point_deflection(joist, en_1991_1_1.POINT_K_UK)
    if loads.creeps:
        creep, psi_2 = en.K_DEF[2], en_1990.PSI_2_ROOF
        return _sag(u_G, u_Q, creep, psi_2), _sag(u_G, u_P, creep, psi_2)
    both = total("Deflection", "u", "m", (("even load", u_Q), ("point load", u_P)))
    at_once, final = _sag(u_G, both, 0.0, en_1990.PSI_2_ROOF)  # a few nights: no creep
    return (gathered_sag.show(at_once, a), gathered_sag.show(final, a)), (None, None)


def _sag(u_G: Working, u_Q: Working, k_def: Known | float, psi_2: Known) -> Sags:
    return in_mm.show(u_Q), in_mm.show(final_deflection.show(u_G, u_Q, k_def, psi_2))

"""Putting down: where on the roof boards may stand during the work, on what, and how many."""

from __future__ import annotations

from collections.abc import Iterator
from math import floor

from evenfall.calc.loads.joists import Joist, Stresses, stresses, uses
from evenfall.calc.loads.patch_load import patch
from evenfall.model.choice import BuildUp
from evenfall.model.designed import PutDown
from evenfall.model.finding import Finding
from evenfall.model.job import Side
from evenfall.model.surveyed import Plan, Point
from evenfall.stages.design.saying import cure, finding
from evenfall.stages.design.structure import NEAR
from evenfall.standards import dead_loads, en_1990, en_1991_1_1
from evenfall.standards import en_1995_1_1 as en
from evenfall.working import Cited, Working, formula, measured

MM = 1000
END_ON = 0.707  # cosine of 45 degrees: joists nearer than that to square bear on the side


@formula("w_1", "N/m", "EN 1990 (6.10), one board on the strip of one joist")
def board_line(
    m: float, s: float, g: float = en_1991_1_1.G, gamma_Q: float = en_1990.GAMMA_Q
) -> float:
    """Design load of one board on one joist.

    Parameters
    ----------
    m : float
        Mass of the board by its area [kg/m2].
    s : float
        Spacing of the joists [m].
    g : float
        Gravity [m/s2].
    gamma_Q : float
        Partial factor [-].

    Returns
    -------
    float
        Load per length [N/m].

    Examples
    --------
    >>> board_line(4.2, 0.4)
    24.72
    """
    return gamma_Q * m * g * s


@formula("n", "each", "what is left of the joist over what one board uses")
def boards_left(eta_0: float, eta_1: float, most: float = 1.0) -> float:
    """Boards on each other that bring the joist to what it may be used to.

    Parameters
    ----------
    eta_0, eta_1 : float
        Use by all else, and by one board [-].
    most : float
        Use that is allowed [-].

    Returns
    -------
    float
        Boards, before rounding down [each].

    Examples
    --------
    >>> boards_left(0.5, 0.04, 0.9)
    10.0
    """
    return max((most - eta_0) / eta_1, 0.0)


@formula("eta", "-", "Marino 1966", "from memory")
def before_it_gathers(eta: float, a: float) -> float:
    """Use that is left for what is put down, before water gathers in the sag.

    Parameters
    ----------
    eta : float
        Use that is allowed in all [-].
    a : float
        Amplification by ponding [-].

    Returns
    -------
    float
        Use [-].

    Examples
    --------
    >>> before_it_gathers(0.9, 1.2)
    0.75
    """
    return eta / a


def put_down(
    joist: Joist,
    build: BuildUp,
    chosen_mm: int,
    w_d: Working,
    P_d: Working,
    plan: Plan,
    sides: tuple[Side, ...],
    runs: Point,
    a: Working,
) -> PutDown:
    """Work out how many boards may stand over a wall and at mid-span, crew and water beside them.

    Parameters
    ----------
    joist : Joist
        The joist [m].
    build : BuildUp
        The board [-].
    chosen_mm : int
        Insulation, all layers [mm].
    w_d, P_d : Working
        Design load of what else lies there [N/m], of one person [N].
    plan : Plan
        The sides [m].
    sides : tuple of Side
        Their overhangs [mm].
    runs : (x, y)
        Unit vector of the joists [-].
    a : Working
        How much the water that gathers in their sag enlarges what the joists bear [-].

    Returns
    -------
    PutDown
        Places, joists under a stack, and boards at most [-].
    """
    board, thick = build.board, max(build.boards(chosen_mm))
    wide, long = board.width_mm / MM, board.length_mm / MM
    m = measured(thick / MM * board.density_kg_m3 + board.facing_kg_m2, "kg/m2", board.name,
                 build.basis)  # fmt: skip
    w_1 = board_line.show(m, joist.spacing)
    rest = stresses(joist, w_d, en.K_MOD["short"], dead_loads.BEARING, en.K_SYS, P_d=P_d)
    by_wall, mid = (_most(joist, w_1, wide, rest, at, a) for at in (True, False))
    high = floor(dead_loads.STACK_HIGHEST_M * MM / thick)
    deep = [_dot(runs, p) for p in plan.deck]
    on = [
        s for s in plan.sides
        if abs(_dot(runs, s.outwards)) >= END_ON
        and s.length_m >= long and max(deep) - min(deep) >= wide
    ]  # fmt: skip
    over = {s.side: s.overhang_mm / MM for s in sides}
    return PutDown(
        tuple(s.name for s in on), tuple(over.get(s.name, 0.0) for s in on), long, wide, thick,
        max(floor(round(long / float(joist.spacing), 6)), 1), by_wall, mid,
        min(floor(by_wall.value), high), min(floor(mid.value), high),
    )  # fmt: skip


def _dot(u: Point, v: Point) -> float:
    return u[0] * v[0] + u[1] * v[1]


def _most(
    joist: Joist, w_1: Working, wide: float, rest: Stresses, at_bearing: bool, a: Working
) -> Working:
    """Fewest boards that bending, shear or bearing allow; their worst places are added up."""
    M, V = patch(w_1, min(wide, float(joist.L)), joist.L, at_bearing)
    one = uses(joist, M, V, en.K_MOD["short"], dead_loads.BEARING, en.K_SYS)
    pairs = (
        (rest.bending, one.bending), (rest.shear, one.shear), (rest.bearing, one.bearing)
    )  # fmt: skip
    left = before_it_gathers.show(NEAR, a)
    return min((boards_left.show(e, o, left) for e, o in pairs), key=lambda n: n.value)


def tell(down: PutDown) -> Iterator[Finding]:
    """Tell the crew where boards may be put down, and how many.

    Parameters
    ----------
    down : PutDown
        Places and numbers [-].

    Returns
    -------
    iterator of Finding
        A note [-].
    """
    by = Cited(down.most, "each", en.SOURCE, down.by_wall.title, down.by_wall.basis)
    ask = cure("Bring up what is laid today, and leave no stack over night where water may stand.")
    yield finding("boards-down", "roof", "note", where(down), by, down.most_mid, ask)


def where(down: PutDown) -> str:
    """Say in words where boards may be put down.

    Parameters
    ----------
    down : PutDown
        Places and numbers [-].

    Returns
    -------
    str
        One or two sentences [-].
    """
    if not down.most:
        return (
            "No stack of boards is put down on this roof: they are handed up one by one and laid. "
            "Nobody stands where another stands on the same joist."
        )
    place = "over a wall or beam that carries the joists"
    if down.sides:
        told = [
            f"{name} ({in_m:.2f} m in from the edge, not on the overhang)" if in_m else name
            for name, in_m in zip(down.sides, down.in_m, strict=True)
        ]
        place = f"over the wall along {' or '.join(told)}"
    joists = "one joist" if down.joists == 1 else f"{down.joists} joists"
    middle = f"{down.most_mid or 'none'} in the middle of a span"
    if down.most_mid == down.most:
        middle = "in the middle of a span as well"
    return (
        f"Put boards down {place}: flat, the long side across the joists, so that a stack lies on "
        f"{joists} or more; {down.most} boards of {down.thick_mm} mm on each other at most, "
        f"{middle}. One person at a time beside a stack; two stacks a board's length apart."
    )

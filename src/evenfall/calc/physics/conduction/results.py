"""What a solved detail says: temperature factor, linear and point transmittance."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from evenfall.calc.physics.conduction.bracket import Bracket, heat_flow
from evenfall.calc.physics.conduction.solve import Solution
from evenfall.errors import InvalidInput


def thermal_coupling(solution: Solution) -> Bracket:
    """Work out the heat that flows for each kelvin between two temperatures.

    Parameters
    ----------
    solution : Solution
        Solved detail with two temperatures, whatever the number of airs [-].

    Returns
    -------
    Bracket
        Coupling L2D, in three dimensions L3D [W/(m K)].

    Raises
    ------
    InvalidInput
        If the airs have one temperature, or more than two.
    """
    t = np.array(solution.detail.temperatures)
    if len(set(t.tolist())) != 2:
        raise InvalidInput(
            f"temperatures {sorted(set(t.tolist()))} C",
            "two",
            where=", ".join(solution.detail.names),
            do="give the airs of one side the same temperature",
        )
    warm = (t == t.max()).astype(float)
    return heat_flow(solution.lower, solution.upper, warm, warm)


def linear_transmittance(solution: Solution, plain: Sequence[tuple[float, float]]) -> Bracket:
    """Work out what an edge loses beyond the plain parts beside it.

    Parameters
    ----------
    solution : Solution
        Solved detail in two dimensions [-].
    plain : sequence of tuple
        Transmittance and length of each plain part [W/(m2K), m].

    Returns
    -------
    Bracket
        Linear transmittance psi [W/(m K)].

    Examples
    --------
    >>> from evenfall.calc.physics.conduction import Box, Detail, Surround, solve
    >>> board = Box("board", (0.0, 0.0), (1.0, 0.1), 0.025)
    >>> inside = Surround("inside", (0.0, -1.0), (1.0, 0.0), 20.0, 0.10)
    >>> outside = Surround("outside", (0.0, 0.1), (1.0, 1.0), 0.0, 0.04)
    >>> found = solve(Detail((board,), (inside, outside)))
    >>> round(abs(linear_transmittance(found, [(1 / 4.14, 1.0)]).best), 9)
    0.0

    References
    ----------
    ISO 10211 (from memory).
    """
    return thermal_coupling(solution).scaled(1.0, sum(U * length for U, length in plain))


def point_transmittance(
    solution: Solution,
    plain: Sequence[tuple[float, float]],
    edges: Sequence[tuple[float, float]] = (),
) -> Bracket:
    """Work out what a point loses beyond the plain parts and edges around it.

    Parameters
    ----------
    solution : Solution
        Solved detail in three dimensions [-].
    plain : sequence of tuple
        Transmittance and area of each plain part [W/(m2K), m2].
    edges : sequence of tuple
        Linear transmittance and length of each edge [W/(m K), m].

    Returns
    -------
    Bracket
        Point transmittance chi [W/K].

    References
    ----------
    ISO 10211 (from memory).
    """
    known = sum(a * b for a, b in (*plain, *edges))
    return thermal_coupling(solution).scaled(1.0, known)


def temperature_factor(solution: Solution, inside: str) -> float:
    """Work out how warm the coldest surface stays, between outside and inside.

    Parameters
    ----------
    solution : Solution
        Solved detail with two temperatures [-].
    inside : str
        Air whose surfaces are looked at [-].

    Returns
    -------
    float
        Temperature factor f_Rsi [-].

    Raises
    ------
    InvalidInput
        If there is no such air, or it is the coldest of all.

    References
    ----------
    ISO 10211 (from memory).
    """
    detail = solution.detail
    if inside not in detail.names:
        raise InvalidInput(f"air {inside!r}", f"one of {', '.join(detail.names)}", where="detail")
    warm, cold = detail.temperatures[detail.names.index(inside)], min(detail.temperatures)
    if warm <= cold:
        raise InvalidInput(f"{warm} C", "warmer than the coldest air", where=inside)
    return (solution.coldest[inside][0] - cold) / (warm - cold)

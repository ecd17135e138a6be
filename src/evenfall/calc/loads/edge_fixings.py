"""Screws along the edges: edge timber, trims and bars against the pull of the wind."""

from __future__ import annotations

from evenfall.standards import en_1990
from evenfall.standards import fixing_practice as practice
from evenfall.working import formula


@formula("s", "mm", "screws along an edge, EN 1990 (6.10)", "from memory")
def edge_centres_mm(
    w: float,
    R_d: float,
    s_most: float,
    b: float = practice.EDGE_STRIP,
    gamma_Q: float = en_1990.GAMMA_Q,
) -> float:
    """Centres of screws that hold an edge timber or a trim against the wind.

    Parameters
    ----------
    w : float
        Net pressure at the edge; suction is negative [Pa].
    R_d : float
        Design resistance of one screw [N].
    s_most : float
        Widest centres that the trade takes [mm].
    b : float
        Strip of sheet that the edge must hold [m].
    gamma_Q : float
        Partial factor of the load [-].

    Returns
    -------
    float
        Centres [mm].

    Examples
    --------
    >>> edge_centres_mm(-1318.0, 550.0, 600.0), edge_centres_mm(-4000.0, 550.0, 600.0)
    (600.0, 305.6)
    """
    return min(s_most, R_d / (gamma_Q * max(-w, 1) * b) * 1000)

"""Screws along the edges: edge timber, trims and bars against the pull of the wind."""

from __future__ import annotations

from evenfall.standards import en_1990
from evenfall.standards import en_1995_1_1 as en_5
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


@formula("F_ax_Rk", "N", f"{en_5.SOURCE} (8.40a), across the grain", "from memory")
def withdrawal_n(
    f_ax_n_mm2: float,
    d_mm: float,
    l_ef_mm: float,
    rho_k: float,
    rho_a: float = en_5.WITHDRAWAL_RHO,
    n: float = en_5.WITHDRAWAL_EXPONENT,
) -> float:
    """Characteristic withdrawal of one screw from timber, by its declared strength.

    Parameters
    ----------
    f_ax_n_mm2 : float
        Withdrawal strength at the density `rho_a` [N/mm2].
    d_mm, l_ef_mm : float
        Outer thread, thread in the timber, at least 6 d [mm].
    rho_k, rho_a : float
        Density of the timber, and of the declaration [kg/m3].
    n : float
        Exponent of the density [-].

    Returns
    -------
    float
        Resistance [N].

    Examples
    --------
    >>> withdrawal_n(11.0, 4.2, 31.0, 310.0), withdrawal_n(11.0, 4.2, 31.0, 350.0)
    (1299.7, 1432.2)
    """
    return f_ax_n_mm2 * d_mm * l_ef_mm * (rho_k / rho_a) ** n  # type: ignore[no-any-return]


@formula("R_d", "N", f"{en_5.SOURCE} (2.17)", "from memory")
def timber_design_n(
    F_ax_Rk: float,
    k_mod: float = en_5.K_MOD["instantaneous"],
    gamma_M: float = en_5.GAMMA_M_JOINT,
) -> float:
    """Design resistance of a screw in timber under wind.

    Parameters
    ----------
    F_ax_Rk : float
        Characteristic withdrawal [N].
    k_mod : float
        Of a gust, solid timber under the sheet (service class 2) [-].
    gamma_M : float
        Partial factor of a connection [-].

    Returns
    -------
    float
        Resistance [N].

    Examples
    --------
    >>> timber_design_n(1299.7)
    1099.7
    """
    return k_mod * F_ax_Rk / gamma_M

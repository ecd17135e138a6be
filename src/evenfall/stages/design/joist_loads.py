"""Loads on the joists put together: combinations, the line load, one person, change of weight."""

from __future__ import annotations

from evenfall.standards import dead_loads, en_1990, en_1991_1_1
from evenfall.working import formula


@formula("q_d", "Pa", "combinations of a published UK calculation sheet", "published, second-hand")
def combined_load(
    G: float,
    Q: float,
    S: float,
    gamma_G: float = en_1990.GAMMA_G,
    gamma_Q: float = en_1990.GAMMA_Q,
    psi_Q: float = en_1990.PSI_0_ROOF,
    psi_S: float = en_1990.PSI_0_SNOW,
) -> float:
    """Design load with imposed load and snow together, the larger of the two leading.

    Parameters
    ----------
    G, Q, S : float
        Permanent load, imposed load, snow [Pa].
    gamma_G, gamma_Q, psi_Q, psi_S : float
        Partial and combination factors [-].

    Returns
    -------
    float
        Load [Pa].

    Examples
    --------
    >>> combined_load(500.0, 600.0, 380.0)
    1875.0
    """
    return gamma_G * G + max(gamma_Q * (Q + psi_S * S), gamma_Q * (psi_Q * Q + S))


@formula("q", "Pa", "EN 1990 (6.14b), characteristic combination", "from memory")
def sag_load(
    Q: float,
    S: float,
    psi_Q: float = en_1990.PSI_0_ROOF,
    psi_S: float = en_1990.PSI_0_SNOW,
) -> float:
    """Variable load that the sag is judged under, the larger of the two leading.

    Parameters
    ----------
    Q, S : float
        Imposed load, snow [Pa].
    psi_Q, psi_S : float
        Share of either beside the other [-].

    Returns
    -------
    float
        Load [Pa].

    Examples
    --------
    >>> sag_load(600.0, 340.0), sag_load(600.0, 380.0)
    (770.0, 800.0)
    """
    return max(Q + psi_S * S, psi_Q * Q + S)


@formula("w", "N/m", "geometry")
def line_load(q: float, s: float) -> float:
    """Load on one joist.

    Parameters
    ----------
    q : float
        Load on the roof [Pa].
    s : float
        Spacing of the joists [m].

    Returns
    -------
    float
        Load per length [N/m].

    Examples
    --------
    >>> line_load(1800.0, 0.4)
    720.0
    """
    return q * s


@formula("change", "%", "weight of the covering")
def weight_change(m_new: float, m_old: float) -> float:
    """Change of the weight of what lies on the deck.

    Parameters
    ----------
    m_new, m_old : float
        New build-up, old covering [kg/m2].

    Returns
    -------
    float
        Change; heavier is positive [%].

    Examples
    --------
    >>> weight_change(8.0, 11.0)
    -27.3
    """
    return (m_new - m_old) / m_old * 100


@formula("u", "mm", "change of unit")
def in_mm(u: float) -> float:
    """Sag in millimetres.

    Parameters
    ----------
    u : float
        Sag [m].

    Returns
    -------
    float
        Sag [mm].

    Examples
    --------
    >>> in_mm(0.0071)
    7.1
    """
    return u * 1000


@formula("M_d", "Nm", "EN 1990 (6.10)", "from memory")
def person_moment(
    M_G: float, M_P: float, gamma_G: float = en_1990.GAMMA_G, gamma_Q: float = en_1990.GAMMA_Q
) -> float:
    """Design moment with one person at mid-span of one joist.

    Parameters
    ----------
    M_G, M_P : float
        Moments by the permanent load and by the person [Nm].
    gamma_G, gamma_Q : float
        Partial factors [-].

    Returns
    -------
    float
        Moment [Nm].

    Examples
    --------
    >>> person_moment(400.0, 675.0)
    1552.5
    """
    return gamma_G * M_G + gamma_Q * M_P


@formula("q_d", "Pa", "EN 1990 (6.10)", "from memory")
def lasting_load(G: float, gamma_G: float = en_1990.GAMMA_G) -> float:
    """Design load with nothing on the roof but itself.

    Parameters
    ----------
    G : float
        Permanent load [Pa].
    gamma_G : float
        Partial factor [-].

    Returns
    -------
    float
        Load [Pa].

    Examples
    --------
    >>> lasting_load(500.0)
    675.0
    """
    return gamma_G * G


@formula("eta_a", "-", "Marino 1966", "from memory")
def gathered_use(eta: float, a: float) -> float:
    """Use of the joist with the water that gathers as it sags.

    Parameters
    ----------
    eta : float
        Use before it sags [-].
    a : float
        Amplification by ponding [-].

    Returns
    -------
    float
        Use [-].

    Examples
    --------
    >>> gathered_use(0.85, 1.05)
    0.8925
    """
    return eta * a


@formula("u_a", "mm", "Marino 1966", "from memory")
def gathered_sag(u: float, a: float) -> float:
    """Sag with the water that gathers in it.

    Parameters
    ----------
    u : float
        Sag before it gathers [mm].
    a : float
        Amplification by ponding [-].

    Returns
    -------
    float
        Sag [mm].

    Examples
    --------
    >>> gathered_sag(6.0, 1.05)
    6.3
    """
    return u * a


@formula("P_d", "N", "EN 1990 (6.10)", "from memory")
def person_load(P: float = en_1991_1_1.POINT_K_UK, gamma_Q: float = en_1990.GAMMA_Q) -> float:
    """Design load of one person on one joist, beside whatever lies there.

    Parameters
    ----------
    P : float
        Load of one person [N].
    gamma_Q : float
        Partial factor [-].

    Returns
    -------
    float
        Load [N].

    Examples
    --------
    >>> person_load()
    1350.0
    """
    return gamma_Q * P


@formula("q", "Pa", "a row of sandbags along one joist", "planning seed")
def sandbag_row(s: float, m: float = dead_loads.SANDBAGS_KG_M, g: float = en_1991_1_1.G) -> float:
    """Load of the sandbags that hold a night's cover, as if spread over the strip of one joist.

    Parameters
    ----------
    s : float
        Spacing [m].
    m : float
        Mass of the row [kg/m].
    g : float
        Gravity [m/s2].

    Returns
    -------
    float
        Load [Pa].

    Examples
    --------
    >>> sandbag_row(0.4)
    367.9
    """
    return m * g / s

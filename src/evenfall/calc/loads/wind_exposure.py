"""Wind: how terrain and height turn the basic into the peak velocity pressure."""

from __future__ import annotations

from math import log

from evenfall.standards import en_1991_1_4 as en
from evenfall.working import formula

_CHAIN = en.SOURCE


@formula("k_r", "-", f"{_CHAIN} (4.5)")
def terrain_factor(
    z_0: float,
    base: float = en.K_R_FACTOR,
    z_0_II: float = en.Z_0_II,
    n: float = en.K_R_EXPONENT,
) -> float:
    """Terrain factor.

    Parameters
    ----------
    z_0 : float
        Roughness length [m].
    base : float
        Factor of category II [-].
    z_0_II : float
        Roughness length of category II [m].
    n : float
        Exponent [-].

    Returns
    -------
    float
        Factor [-].

    Examples
    --------
    >>> terrain_factor(0.3)
    0.21539
    """
    return base * (z_0 / z_0_II) ** n  # type: ignore[no-any-return]


@formula("c_r", "-", f"{_CHAIN} (4.4)")
def roughness_factor(k_r: float, z: float, z_0: float, z_min: float) -> float:
    """Roughness factor; below z_min it is that of z_min.

    Parameters
    ----------
    k_r : float
        Terrain factor [-].
    z, z_0, z_min : float
        Height, roughness length, least height [m].

    Returns
    -------
    float
        Factor [-].

    Examples
    --------
    >>> roughness_factor(0.21539, 8.0, 0.3, 5.0)
    0.70721
    """
    return k_r * log(max(z, z_min) / z_0)


@formula("v_m", "m/s", f"{_CHAIN} (4.3)")
def mean_velocity(c_r: float, v_b: float, c_o: float = en.C_O) -> float:
    """Mean wind velocity at a height.

    Parameters
    ----------
    c_r : float
        Roughness factor [-].
    v_b : float
        Basic wind velocity [m/s].
    c_o : float
        Orography factor [-].

    Returns
    -------
    float
        Velocity [m/s].

    Examples
    --------
    >>> mean_velocity(0.81960, 22.0)
    18.031
    """
    return c_r * c_o * v_b


@formula("I_v", "-", f"{_CHAIN} (4.7)")
def turbulence_intensity(
    z: float, z_0: float, z_min: float, k_I: float = en.K_I, c_o: float = en.C_O
) -> float:
    """Turbulence intensity; below z_min it is that of z_min.

    Parameters
    ----------
    z, z_0, z_min : float
        Height, roughness length, least height [m].
    k_I, c_o : float
        Turbulence factor, orography factor [-].

    Returns
    -------
    float
        Intensity [-].

    Examples
    --------
    >>> turbulence_intensity(13.48, 0.3, 5.0)
    0.26280
    """
    return k_I / (c_o * log(max(z, z_min) / z_0))


@formula("q_p", "Pa", f"{_CHAIN} (4.8)")
def peak_pressure_by_mean(
    v_m: float, I_v: float, rho: float = en.RHO, peak: float = en.PEAK_FACTOR
) -> float:
    """Peak velocity pressure from mean velocity and turbulence.

    Parameters
    ----------
    v_m : float
        Mean velocity [m/s].
    I_v : float
        Turbulence intensity [-].
    rho : float
        Air density [kg/m3].
    peak : float
        Twice the peak factor [-].

    Returns
    -------
    float
        Pressure [Pa].

    Examples
    --------
    >>> peak_pressure_by_mean(18.031, 0.26280)
    577.0
    """
    return (1 + peak * I_v) * 0.5 * rho * v_m**2


@formula("c_e", "-", f"{_CHAIN} (4.9), written out")
def exposure_factor(
    c_r: float,
    k_r: float,
    c_o: float = en.C_O,
    k_I: float = en.K_I,
    peak: float = en.PEAK_FACTOR,
) -> float:
    """Exposure factor.

    Parameters
    ----------
    c_r, k_r : float
        Roughness factor, terrain factor [-].
    c_o, k_I : float
        Orography factor, turbulence factor [-].
    peak : float
        Twice the peak factor [-].

    Returns
    -------
    float
        Peak over basic velocity pressure [-].

    Examples
    --------
    >>> exposure_factor(0.70721, 0.21539)
    1.5664
    """
    return c_r**2 * c_o**2 * (1 + peak * k_r * k_I / (c_r * c_o))


@formula("q_p", "Pa", f"{_CHAIN} (4.8)")
def peak_pressure(c_e: float, q_b: float) -> float:
    """Peak velocity pressure.

    Parameters
    ----------
    c_e : float
        Exposure factor; in a UK town the product c_e × c_e,T [-].
    q_b : float
        Basic velocity pressure [Pa].

    Returns
    -------
    float
        Pressure [Pa].

    Examples
    --------
    >>> peak_pressure(1.5664, 422.5)
    661.8
    """
    return c_e * q_b


@formula("q_p", "Pa", "UK National Annex, exposure read off its charts", "published, second-hand")
def charted_pressure(c_e: float, c_e_T: float, q_b: float) -> float:
    """Peak velocity pressure by the exposure factors of the British charts.

    Parameters
    ----------
    c_e, c_e_T : float
        Factor of Figure NA.7, and of Figure NA.8 for a site in a town [-].
    q_b : float
        Basic velocity pressure [Pa].

    Returns
    -------
    float
        Pressure [Pa].

    Examples
    --------
    >>> charted_pressure(2.1, 0.8, 300.0)
    504.0
    """
    return c_e * c_e_T * q_b


@formula("q_p,dir", "Pa", f"{_CHAIN} (4.1) and (4.10)")
def directed_pressure(q_p: float, c_dir: float) -> float:
    """Peak velocity pressure of the winds from one way.

    Parameters
    ----------
    q_p : float
        Pressure of the worst direction [Pa].
    c_dir : float
        Direction factor [-].

    Returns
    -------
    float
        Pressure [Pa].

    Examples
    --------
    >>> directed_pressure(600.0, 0.85)
    433.5
    """
    return c_dir**2 * q_p

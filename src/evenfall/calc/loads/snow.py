"""Snow on the ground in the UK and on a flat roof."""

from __future__ import annotations

from evenfall.calc.loads.limits import within
from evenfall.errors import InvalidInput
from evenfall.standards import en_1991_1_3 as en
from evenfall.working import Known, Working, formula


@formula("s_k", "kN/m2", f"{en.NATIONAL} NA.2.8 (NA.1)", "from memory")
def ground_snow_kn_m2(
    Z: float,
    A: float,
    base: float = en.S_K_BASE,
    per_zone: float = en.S_K_ZONE,
    zone_base: float = en.S_K_ZONE_BASE,
    A_0: float = en.S_K_ALTITUDE,
    divisor: float = en.S_K_PER_ALTITUDE,
) -> float:
    """Snow on the ground in the UK.

    Parameters
    ----------
    Z : float
        Number of the snow zone [-].
    A : float
        Altitude of the site [m].
    base, per_zone, zone_base : float
        Terms of the formula [kN/m2].
    A_0 : float
        Altitude to which the zone values belong [m].
    divisor : float
        Altitude over load [m3/kN].

    Returns
    -------
    float
        Characteristic load [kN/m2].

    Examples
    --------
    >>> ground_snow_kn_m2(3, 150.0)
    0.5952
    """
    return base + (per_zone * Z + zone_base) + (A - A_0) / divisor


@formula("s_k", "Pa", "change of unit")
def in_pascal(s_k_kn_m2: float) -> float:
    """Snow on the ground in SI.

    Parameters
    ----------
    s_k_kn_m2 : float
        Load [kN/m2].

    Returns
    -------
    float
        The same load [Pa].

    Examples
    --------
    >>> in_pascal(0.6)
    600.0
    """
    return s_k_kn_m2 * 10**3


def ground_snow(zone: int, altitude: Known | float) -> Working:
    """Characteristic snow load on the ground in the UK.

    Parameters
    ----------
    zone : int
        Snow zone of the map, 1 to 6 [-].
    altitude : float
        Altitude of the site, 0 to 1500 m, above which the annex does not speak [m].

    Returns
    -------
    Working
        s_k [Pa].

    Examples
    --------
    >>> ground_snow(4, 90.0).value
    580.95
    """
    if not 1 <= zone <= en.ZONE_MOST:
        raise InvalidInput(f"snow zone {zone}", f"1 to {en.ZONE_MOST:.0f}", where="zone")
    within("altitude in m", altitude, 0, en.ALTITUDE_MOST, en.SOURCE)
    found = ground_snow_kn_m2.show(zone, altitude)
    if found.value <= 0:
        raise InvalidInput(f"s_k = {found.value:.3f} kN/m2", "a load above 0", where="altitude")
    return in_pascal.show(found)


@formula("s", "Pa", f"{en.SOURCE} (5.1)", "from memory")
def roof_snow(s_k: float, mu: float = en.MU_1, C_e: float = en.C_E, C_t: float = en.C_T) -> float:
    """Snow on the roof.

    Parameters
    ----------
    s_k : float
        Snow on the ground [Pa].
    mu : float
        Shape coefficient; 0.8 on a flat roof [-].
    C_e, C_t : float
        Exposure and thermal coefficients [-].

    Returns
    -------
    float
        Load on plan [Pa].

    Examples
    --------
    >>> roof_snow(650.0)
    520.0
    """
    return mu * C_e * C_t * s_k


@formula("s_Ad", "Pa", f"{en.SOURCE} (4.1)")
def exceptional_ground_snow(s_k: float, C_esl: float = en.C_ESL) -> float:
    """Exceptional snow on the ground.

    Parameters
    ----------
    s_k : float
        Snow on the ground [Pa].
    C_esl : float
        Coefficient of exceptional loads [-].

    Returns
    -------
    float
        Load [Pa].

    Examples
    --------
    >>> exceptional_ground_snow(650.0)
    1300.0
    """
    return C_esl * s_k

"""Wind: from the map to the basic velocity and its pressure."""

from __future__ import annotations

from math import ceil, floor, isfinite, log

from evenfall.calc.loads.interpolation import linear
from evenfall.calc.loads.limits import positive
from evenfall.errors import InvalidInput
from evenfall.standards import en_1991_1_4 as en
from evenfall.working import Cited, Working, formula

_CHAIN = en.SOURCE


@formula("c_alt", "-", f"{en.NATIONAL} (NA.2a)")
def altitude_factor_low(A: float, per_metre: float = en.C_ALT_SLOPE) -> float:
    """Altitude factor up to 10 m above the ground.

    Parameters
    ----------
    A : float
        Altitude of the site above the sea [m].
    per_metre : float
        Rise of the factor with altitude [1/m].

    Returns
    -------
    float
        Factor on the map wind speed [-].

    Examples
    --------
    >>> altitude_factor_low(66.0)
    1.066
    """
    return 1 + per_metre * A


@formula("c_alt", "-", f"{en.NATIONAL} (NA.2b)")
def altitude_factor_high(
    A: float,
    z: float,
    per_metre: float = en.C_ALT_SLOPE,
    z_ref: float = en.C_ALT_HEIGHT,
    n: float = en.C_ALT_EXPONENT,
) -> float:
    """Altitude factor above 10 m from the ground.

    Parameters
    ----------
    A : float
        Altitude of the site above the sea [m].
    z : float
        Height above the ground [m].
    per_metre : float
        Rise of the factor with altitude [1/m].
    z_ref : float
        Height from which the factor falls [m].
    n : float
        Exponent [-].

    Returns
    -------
    float
        Factor on the map wind speed [-].

    Examples
    --------
    >>> altitude_factor_high(66.0, 18.0)
    1.0587
    """
    return 1 + per_metre * A * (z_ref / z) ** n  # type: ignore[no-any-return]


def altitude_factor(A: float, z: float) -> Working:
    """UK altitude factor at a height, whichever of the two forms holds.

    Parameters
    ----------
    A : float
        Altitude of the site above the sea, 0 or more [m].
    z : float
        Height above the ground [m].

    Returns
    -------
    Working
        Factor on the map wind speed [-].

    Examples
    --------
    >>> altitude_factor(66.0, 18.0).value
    1.0587
    """
    if A < 0:
        raise InvalidInput(f"{A:g} m", "an altitude of 0 m or more", where="A")
    positive("z", z, "m")
    if z <= en.C_ALT_HEIGHT:
        return altitude_factor_low.show(A)
    return altitude_factor_high.show(A, z)


@formula("c_prob", "-", f"{_CHAIN} (4.2)", "published, second-hand")
def probability_factor(
    p: float,
    K: float = en.C_PROB_K,
    n: float = en.C_PROB_N,
    p_ref: float = en.P_REFERENCE,
) -> float:
    """Probability factor: wind of another annual probability than that of the map.

    Parameters
    ----------
    p : float
        Annual probability of exceedance, above 0 and below 1 [1/a].
    K : float
        Shape parameter [-].
    n : float
        Exponent [-].
    p_ref : float
        Annual probability of the map [1/a].

    Returns
    -------
    float
        Factor on the wind speed [-].

    Examples
    --------
    >>> probability_factor(0.10)
    0.9025
    """
    return ((1 - K * log(-log(1 - p))) / (1 - K * log(-log(1 - p_ref)))) ** n  # type: ignore[no-any-return]


def direction_factor(degrees: float) -> float:
    """UK direction factor, interpolated in Table NA.1.

    Parameters
    ----------
    degrees : float
        Direction from which the wind comes, clockwise from north; any turn [degrees].

    Returns
    -------
    float
        Factor on the wind speed [-].

    Examples
    --------
    >>> direction_factor(225), direction_factor(345)
    (0.965, 0.80)
    """
    if not isfinite(degrees):
        raise InvalidInput(f"{degrees} degrees", "a finite direction", where="degrees")
    rows = (*en.C_DIR, (en.C_DIR[0][0] + 6 * 60, en.C_DIR[0][1]))
    return linear(degrees % rows[-1][0], rows, "direction in degrees", f"{en.NATIONAL} Table NA.1")


def sector_factor(degrees: float, half: float = en.SECTOR_DEGREES) -> Cited:
    """UK direction factor of a wind that is square to a face: the worst to either side of it.

    Parameters
    ----------
    degrees : float
        Way that the face looks, clockwise from north; any turn [degrees].
    half : float
        How far the wind may come from either side of square [degrees].

    Returns
    -------
    Cited
        Factor on the wind speed [-].

    Examples
    --------
    >>> sector_factor(0.0).value, sector_factor(270.0).value
    (0.87, 1.00)
    """
    ends = (degrees - half, degrees + half)
    step = en.C_DIR[1][0]
    lines = (step * k for k in range(ceil(ends[0] / step), floor(ends[1] / step) + 1))
    worst = max(direction_factor(way) for way in (*ends, *lines))
    where = f"Table NA.1, worst within {half:g} degrees of {degrees % (6 * 60):.0f} degrees"
    return Cited(worst, "-", en.NATIONAL, where, "published")


@formula("v_b", "m/s", f"{_CHAIN} (4.1)")
def basic_velocity(
    v_map: float,
    c_alt: float = 1.0,
    c_dir: float = en.C_DIR_WORST,
    c_season: float = en.C_SEASON,
    c_prob: float = en.C_PROB_NEUTRAL,
) -> float:
    """Wind velocity of the site, basic.

    Parameters
    ----------
    v_map : float
        Wind speed of the map before the altitude factor [m/s].
    c_alt, c_dir, c_season, c_prob : float
        Factors of altitude, direction, season and probability [-].

    Returns
    -------
    float
        Mean of 10 minutes at 10 m in open country [m/s].

    Examples
    --------
    >>> basic_velocity(22.2, 1.01)
    22.42
    """
    return c_dir * c_season * c_prob * c_alt * v_map


@formula("q_b", "Pa", f"{_CHAIN} (4.10)")
def basic_pressure(v_b: float, rho: float = en.RHO_UK) -> float:
    """Velocity pressure of the site, basic.

    Parameters
    ----------
    v_b : float
        Basic wind velocity [m/s].
    rho : float
        Air density; the UK value unless another is given [kg/m3].

    Returns
    -------
    float
        Pressure [Pa].

    Examples
    --------
    >>> basic_pressure(26.0, rho=1.25)
    422.5
    """
    return 0.5 * rho * v_b**2

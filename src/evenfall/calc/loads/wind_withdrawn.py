"""Wind: the UK exposure by the withdrawn BS 6399-2, where the charts are not at hand."""

from __future__ import annotations

from evenfall.calc.loads.interpolation import linear
from evenfall.calc.loads.limits import positive, within
from evenfall.standards import bs_6399_2 as old
from evenfall.working import formula


@formula("V_e", "m/s", f"{old.SOURCE}", "published, second-hand")
def effective_velocity(V_s: float, S_a: float, S_b: float) -> float:
    """Effective wind speed of the withdrawn standard.

    Parameters
    ----------
    V_s : float
        Site wind speed, hourly mean [m/s].
    S_a, S_b : float
        Altitude factor, terrain and building factor [-].

    Returns
    -------
    float
        Gust speed [m/s].

    Examples
    --------
    >>> effective_velocity(20.0, 1.15, 1.68392)
    38.7302
    """
    return V_s * S_a * S_b


@formula("c_e", "-", f"{old.SOURCE} Table 4, for a 10-minute mean", "from memory")
def exposure_by_s_b(S_b: float, mean: float = old.HOURLY_TO_TEN_MINUTES) -> float:
    """UK exposure c_e × c_e,T from the withdrawn standard's factor S_b.

    Parameters
    ----------
    S_b : float
        Terrain and building factor [-].
    mean : float
        10-minute mean over hourly mean [-].

    Returns
    -------
    float
        Peak over basic velocity pressure [-].

    Examples
    --------
    >>> exposure_by_s_b(1.62)
    2.336
    """
    return (S_b / mean) ** 2


def s_b(effective_height: float, sea_km: float, town: bool) -> float:
    """Factor S_b: height interpolated, the tabulated distance nearer the sea taken.

    Parameters
    ----------
    effective_height : float
        Effective height, at most 15 m; below 2 m that of 2 m [m].
    sea_km : float
        Distance to the sea, 2 km or more in a town [km].
    town : bool
        In a town [-].

    Returns
    -------
    float
        Terrain and building factor, medium confidence [-].

    Examples
    --------
    >>> s_b(7.5, 40.0, town=False)
    1.65
    """
    table = old.S_B_TOWN if town else old.S_B_COUNTRY
    distances = old.TOWN_DISTANCES_KM if town else old.COUNTRY_DISTANCES_KM
    positive("effective_height", effective_height, "m")
    within("effective height in m", effective_height, 0, table[-1][0], f"{old.SOURCE} Table 4")
    within("distance to the sea in km", sea_km, distances[0], float("inf"), f"{old.SOURCE} Table 4")
    column = sum(d <= sea_km for d in distances) - 1
    at = max(effective_height, table[0][0])
    points = tuple((height, factors[column]) for height, factors in table)
    return linear(at, points, "effective height in m", f"{old.SOURCE} Table 4")

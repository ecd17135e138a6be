"""Wind: peak velocity pressure at the height of the roof, worked step by step."""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.calc.loads.limits import positive, within
from evenfall.calc.loads.wind_exposure import (
    exposure_factor,
    peak_pressure,
    roughness_factor,
    terrain_factor,
)
from evenfall.calc.loads.wind_speed import altitude_factor, basic_pressure, basic_velocity
from evenfall.errors import InvalidInput
from evenfall.standards import en_1991_1_4 as en
from evenfall.working import Known, Working, formula

_CHAIN = en.SOURCE


def terrain(category: str) -> en.TerrainRow:
    """Terrain row of a category.

    Parameters
    ----------
    category : str
        Terrain category 0, I, II, III or IV [-].

    Returns
    -------
    TerrainRow
        Roughness length and least height [-].

    Examples
    --------
    >>> terrain("III").z_0.value
    0.3
    """
    for row in en.TERRAIN.values():
        if row.category == category:
            return row
    raise InvalidInput(f"terrain category {category}", "one of 0, I, II, III, IV", where="category")


def exposure(z: Known | Working | float, category: en.Category) -> Working:
    """Exposure factor of a flat site by terrain category.

    Parameters
    ----------
    z : float
        Height above the ground, less the displacement height; at most 200 m [m].
    category : str
        Terrain category 0, I, II, III or IV [-].

    Returns
    -------
    Working
        Exposure factor, with its roughness and terrain factors [-].

    Examples
    --------
    >>> exposure(8.0, "III").value
    1.566
    """
    row = terrain(category)
    positive("z", float(z), "m")
    within("height in m", float(z), 0, en.HEIGHT_MOST, f"{_CHAIN} 1.1")
    k_r = terrain_factor.show(row.z_0)
    c_r = roughness_factor.show(k_r, z, row.z_0, row.z_min)
    return exposure_factor.show(c_r, k_r)


@dataclass(frozen=True, slots=True)
class SitePressure:
    """The chain from the map to the roof, each step with its working."""

    v_b: Working  # m/s
    q_b: Working  # Pa
    c_e: Working
    q_p: Working  # Pa


def site_pressure(
    v_map: Known | float,
    altitude: Known | float,
    z: Known | float,
    category: en.Category,
    c_dir: Known | float = en.C_DIR_WORST,
    h_dis: Known | Working | float = 0.0,
) -> SitePressure:
    """Peak velocity pressure of a UK site by the EN exposure formula.

    Parameters
    ----------
    v_map : float
        Wind speed read from the UK map [m/s].
    altitude : float
        Altitude of the site above the sea [m].
    z : float
        Reference height of the roof; with a parapet, to its top [m].
    category : str
        Terrain category 0, I, II, III or IV [-].
    c_dir : float
        Direction factor [-].
    h_dis : float
        Displacement height [m].

    Returns
    -------
    SitePressure
        Workings of the chain [-].

    Examples
    --------
    >>> site_pressure(22.0, 66.0, 6.0, "III").q_p.value
    468.4
    """
    positive("v_map", v_map, "m/s")
    v_b = basic_velocity.show(v_map, altitude_factor(altitude, z), c_dir)
    q_b = basic_pressure.show(v_b)
    c_e = exposure(above_displacement(z, h_dis), category)
    return SitePressure(v_b, q_b, c_e, peak_pressure.show(c_e, q_b))


@formula("z_h", "m", f"{_CHAIN} A.5", "from memory")
def height_above(z: float, h_dis: float) -> float:
    """Height above the displaced ground.

    Parameters
    ----------
    z, h_dis : float
        Height above the ground, displacement height [m].

    Returns
    -------
    float
        Height [m].

    Examples
    --------
    >>> height_above(6.0, 2.4)
    3.6
    """
    return z - h_dis


def above_displacement(
    z: Known | Working | float, h_dis: Known | Working | float
) -> Known | Working | float:
    """Height above the displaced ground; as given where nothing is displaced.

    Parameters
    ----------
    z, h_dis : float
        Height above the ground, displacement height [m].

    Returns
    -------
    float or Working
        Height, refused when it is not above 0 [m].

    Examples
    --------
    >>> float(above_displacement(6.0, 2.4))
    3.6
    """
    if float(h_dis) == 0:
        return z
    positive("z - h_dis", float(z) - float(h_dis), "m")
    return height_above.show(z, h_dis)


@formula("h_dis", "m", f"{_CHAIN} A.5", "from memory")
def displacement_near(
    h_ave: float,
    h: float,
    share: float = en.DISPLACEMENT_SHARE,
    most: float = en.DISPLACEMENT_HEIGHT_SHARE,
) -> float:
    """Displacement height where obstructions stand near.

    Parameters
    ----------
    h_ave, h : float
        Average height of the obstructions, height of the building [m].
    share, most : float
        Share of the obstructions, largest share of the building [-].

    Returns
    -------
    float
        Displacement height [m].

    Examples
    --------
    >>> displacement_near(7.0, 6.0)
    3.6
    """
    return min(share * h_ave, most * h)


@formula("h_dis", "m", f"{_CHAIN} A.5", "from memory")
def displacement_between(
    x: float,
    h_ave: float,
    h: float,
    top: float = en.DISPLACEMENT_TOP,
    slope: float = en.DISPLACEMENT_SLOPE,
    most: float = en.DISPLACEMENT_HEIGHT_SHARE,
) -> float:
    """Displacement height where obstructions stand neither near nor far.

    Parameters
    ----------
    x, h_ave, h : float
        Distance to the obstructions, their average height, height of the building [m].
    top, slope, most : float
        Share of their height, loss with distance, largest share of the building [-].

    Returns
    -------
    float
        Displacement height [m].

    Examples
    --------
    >>> displacement_between(24.0, 6.0, 7.0)
    2.4
    """
    return min(top * h_ave - slope * x, most * h)


def displacement_height(x: float, h_ave: float, h: Known | Working | float) -> Working | None:
    """Displacement height behind upwind obstructions.

    Parameters
    ----------
    x : float
        Distance to the obstructions, upwind [m].
    h_ave : float
        Their average height [m].
    h : float
        Height of the building [m].

    Returns
    -------
    Working or None
        Displacement height; None where they stand six heights off or more [m].

    Examples
    --------
    >>> displacement_height(10.0, 6.0, 7.0).value
    4.2
    >>> displacement_height(36.0, 6.0, 7.0) is None
    True
    """
    if not x >= 0:
        raise InvalidInput(f"{x:g} m", "a distance of 0 m or more", where="x")
    positive("h_ave", h_ave, "m")
    positive("h", float(h), "m")
    if x >= en.DISPLACEMENT_FAR * h_ave:
        return None
    if x <= en.DISPLACEMENT_NEAR * h_ave:
        return displacement_near.show(h_ave, h)
    return displacement_between.show(x, h_ave, h)

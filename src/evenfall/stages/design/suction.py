"""Suction: the wind at the height of the roof, and the zones of all winds on its plan."""

from __future__ import annotations

from functools import lru_cache
from math import atan2, degrees

from evenfall.calc.geometry.worst_wins import cover
from evenfall.calc.loads.plan_zones import laid
from evenfall.calc.loads.pressure_coefficients import Coefficients, coefficients, inside_wide_door
from evenfall.calc.loads.roof_zones import finished_height, parapet_left, reference_height
from evenfall.calc.loads.wind import above_displacement, displacement_height, site_pressure
from evenfall.calc.loads.wind_exposure import charted_pressure, directed_pressure, peak_pressure
from evenfall.calc.loads.wind_speed import sector_factor
from evenfall.calc.loads.wind_withdrawn import exposure_by_s_b, s_b
from evenfall.model.job import Side, Site
from evenfall.model.surveyed import Plan, Point, Ring
from evenfall.standards import bs_6399_2
from evenfall.standards import en_1991_1_4 as en
from evenfall.working import Cited, Known, Working, formula, measured

MM = 1000
CLOSED = ("wall", "party_line", "step")  # sides that no wind meets as an open edge


@formula("q_p", "Pa", "the job")
def given_pressure(q_p_kpa: float) -> float:
    """Peak velocity pressure as the user gives it.

    Parameters
    ----------
    q_p_kpa : float
        Pressure [kN/m2].

    Returns
    -------
    float
        Pressure [Pa].

    Examples
    --------
    >>> given_pressure(0.72)
    720.0
    """
    return q_p_kpa * 1000


@formula("q_p", "Pa", "two methods side by side, the larger governs", "common practice")
def governing_pressure(q_EN: float, q_Sb: float) -> float:
    """Larger of the pressures by the EN formula and by the withdrawn British factor.

    Parameters
    ----------
    q_EN, q_Sb : float
        Pressure by terrain category, pressure by distance to the sea [Pa].

    Returns
    -------
    float
        Pressure [Pa].

    Examples
    --------
    >>> governing_pressure(468.6, 512.0)
    512.0
    """
    return max(q_EN, q_Sb)


def heights(site: Site, sides: tuple[Side, ...], rise: Known | Working) -> tuple[Working, Working]:
    """Work out the height of the finished roof, and the one at which the wind is taken.

    Parameters
    ----------
    site : Site
        Height of the roof as it is [m].
    sides : tuple of Side
        Parapets; the highest counts, and what the roof rises is lost to it [mm].
    rise : Known or Working
        Rise of the roof surface, where it rises most [mm].

    Returns
    -------
    tuple of Working
        Height of the finished roof, and reference height with its parapet [m].
    """
    highest = max((s.parapet_height_mm or 0.0 for s in sides if s.kind == "parapet"), default=0.0)
    h = finished_height.show(measured(site.roof_height_m, "m", "site.roof_height_m"), rise)
    h_p0 = measured(highest / MM, "m", "survey.sides.parapet_height_mm")
    return h, reference_height.show(h, parapet_left.show(h_p0, rise))


def pressure(site: Site, h: Working, z: Working) -> Working:
    """Work out the peak velocity pressure of the worst direction.

    What the user gives stands before the charts that he read, and these before the two methods.

    Parameters
    ----------
    site : Site
        Map wind, altitude, terrain, sea, height of the roof, houses upwind [-].
    h, z : Working
        Height of the finished roof, and reference height, of `heights` [m].

    Returns
    -------
    Working
        Pressure [Pa].
    """
    if site.peak_pressure_kpa is not None:
        given = measured(site.peak_pressure_kpa, "kN/m2", "site.peak_pressure_kpa", "declared")
        return given_pressure.show(given)
    v_map = measured(site.map_wind_m_s, "m/s", "site.map_wind_m_s", "declared")
    altitude = measured(max(site.altitude_m, 0.0), "m", "site.altitude_m")
    category, h_dis = en.CATEGORY_OF[site.terrain], _displaced(site, h)
    chain = site_pressure(v_map, altitude, _known(z, "m"), category, h_dis=h_dis)
    if site.exposure_chart is not None:
        c_e = measured(site.exposure_chart, "-", "site.exposure_chart", "declared")
        town = measured(site.exposure_chart_town or 1.0, "-", "site.exposure_chart_town",
                        "declared")  # fmt: skip
        return charted_pressure.show(c_e, town, chain.q_b)
    H_e = float(above_displacement(z, h_dis))
    if H_e > bs_6399_2.S_B_COUNTRY[-1][0]:
        return chain.q_p
    other = peak_pressure.show(exposure_by_s_b.show(_old_factor(site, H_e)), chain.q_b)
    return governing_pressure.show(chain.q_p, other)


def _displaced(site: Site, h: Working) -> Working | float:
    """Lift the ground by the houses upwind, in a town; 0 where none were measured."""
    if site.terrain != "town" or not site.houses_upwind_height_m or site.houses_upwind_m is None:
        return 0.0
    x = measured(site.houses_upwind_m, "m", "site.houses_upwind_m")
    h_ave = measured(site.houses_upwind_height_m, "m", "site.houses_upwind_height_m")
    return displacement_height(x, h_ave, h) or 0.0


def _old_factor(site: Site, H_e: float) -> Cited:
    """Read the withdrawn standard's factor; a town by the sea counts as country."""
    town = site.terrain == "town" and site.distance_to_sea_km >= bs_6399_2.TOWN_DISTANCES_KM[0]
    factor = s_b(H_e, site.distance_to_sea_km, town)
    where = (
        f"Table 4, {'town' if town else 'country'}, H_e {H_e:.2f} m, "
        f"{site.distance_to_sea_km:g} km to the sea"
    )
    return Cited(factor, "-", bs_6399_2.SOURCE, where, "from memory")


def _known(value: Working, unit: str) -> Known:
    return Cited(value.value, unit, value.source, value.line, value.basis)


def inside(wide_door: bool) -> Known | Working:
    """Give the pressure inside that adds most to the suction.

    Parameters
    ----------
    wide_door : bool
        Whether a door that may burst takes up most of all openings [-].

    Returns
    -------
    Cited or Working
        Internal coefficient [-].
    """
    return inside_wide_door.show() if wide_door else en.C_PI_PRESSURE


def eaves(side: Side, h: float, rise_mm: float) -> tuple[en.Eaves, float]:
    """Tell the kind of edge that the wind meets; what the roof rises is lost to a parapet.

    Parameters
    ----------
    side : Side
        Kind, parapet, rounding or slope [mm].
    h : float
        Height of the finished roof, without its parapet [m].
    rise_mm : float
        Rise of the roof surface [mm].

    Returns
    -------
    tuple
        Kind of eaves, and its h_p/h, r/h or angle [-].
    """
    left_mm = (side.parapet_height_mm or 0.0) - rise_mm if side.kind == "parapet" else 0.0
    if left_mm > 0:
        return "parapet", left_mm / MM / h
    if side.rounded_edge_mm:
        return "curved", side.rounded_edge_mm / MM / h
    if side.sloped_edge_deg:
        return "mansard", side.sloped_edge_deg
    return "sharp", 0.0


def table(site: Site, sides: tuple[Side, ...], rise_mm: float) -> tuple[Coefficients, ...]:
    """Give the coefficients of the roof: of each zone that of the worst open edge.

    Parameters
    ----------
    site : Site
        Height of the roof, and the coefficients where the user read them [-].
    sides : tuple of Side
        Kinds and forms of the edges [mm].
    rise_mm : float
        Rise of the roof surface, where it rises most [mm].

    Returns
    -------
    tuple of Coefficients
        One for each zone [-].
    """
    if site.roof_coefficients is not None:
        return tuple(_read(zone, getattr(site.roof_coefficients, zone)) for zone in en.ZONES)
    h = site.roof_height_m + rise_mm / MM
    edges = {eaves(s, h, rise_mm) for s in sides if s.kind not in CLOSED} or {("sharp", 0.0)}
    tables = [coefficients(*edge) for edge in sorted(edges)]
    return tuple(min(same, key=lambda c: c.c_pe_1) for same in zip(*tables, strict=True))


def _read(zone: en.Zone, value: float) -> Coefficients:
    known = Cited(value, "-", "job", f"site.roof_coefficients.{zone}", "declared")
    return Coefficients(zone, known, known)


def north_of(site: Site, plan: Plan) -> float | None:
    """Turn the bearing of the first side into the way north lies on the plan.

    Parameters
    ----------
    site : Site
        Compass bearing along the first side [degrees].
    plan : Plan
        The roof [m].

    Returns
    -------
    float or None
        Turned from the x-axis of the plan; None where it is not known, and for a pressure that
        the user gave, which holds for every direction [degrees].
    """
    if site.first_side_bearing_deg is None or site.peak_pressure_kpa is not None:
        return None
    u, v = plan.sides[0].along
    return site.first_side_bearing_deg + degrees(atan2(v, u))


def direction_factor(north: float | None, onto: Point) -> Known:
    """Give the direction factor of the wind on a face; the worst where north is not known.

    Parameters
    ----------
    north : float or None
        Of `north_of` [degrees].
    onto : (x, y)
        The way the face looks [-].

    Returns
    -------
    Known
        Factor [-].
    """
    if north is None:
        return en.C_DIR_WORST
    return sector_factor(round(north - degrees(atan2(onto[1], onto[0])), 3))


def pressure_from(q_p: Working, c_dir: Known) -> Working:
    """Turn the pressure of the worst direction into that of one way.

    Parameters
    ----------
    q_p : Working
        Pressure of the worst direction [Pa].
    c_dir : Known
        Direction factor [-].

    Returns
    -------
    Working
        Pressure; the same where the direction is the worst [Pa].
    """
    return q_p if float(c_dir) == en.C_DIR_WORST.value else directed_pressure.show(q_p, c_dir)


Pull = tuple[en.Zone, Known]
"""A zone, and the direction factor of the wind that lays it."""
KEPT = 256
"""Zones kept for reuse: one for each height that the boards sold can make of a roof."""


@lru_cache(maxsize=KEPT)
def lay(deck: Ring, h: float, north: float | None) -> tuple[tuple[Pull, tuple[Ring, ...]], ...]:
    """Lay the zones of every wind over the plan, as `calc.loads.plan_zones` says.

    Parameters
    ----------
    deck : tuple of (x, y)
        The roof [m].
    h : float
        Height of the finished roof, without its parapet [m].
    north : float or None
        Of `north_of` [degrees].

    Returns
    -------
    tuple
        Zone and direction factor, with all shapes that have both [m].
    """
    found: dict[tuple[str, float], tuple[Pull, list[Ring]]] = {}
    for at in laid(deck, h):
        factor = direction_factor(north, at.onto)
        found.setdefault((at.zone, float(factor)), ((at.zone, factor), []))[1].append(at.ring)
    return tuple((pull, tuple(rings)) for pull, rings in found.values())


@lru_cache(maxsize=KEPT)
def divide(
    deck: Ring, h: float, north: float | None, order: tuple[str, ...]
) -> tuple[tuple[str, Ring], ...]:
    """Divide the roof among the zones of all winds; the worst of them governs each place.

    Parameters
    ----------
    deck, h, north
        As of `lay` [m, m, degrees].
    order : tuple of str
        Names of the pulls, the worst first, of `name_of` [-].

    Returns
    -------
    tuple
        Name and outline of each part [m].
    """
    rings = {name_of(pull): shapes for pull, shapes in lay(deck, h, north)}
    return cover(deck, tuple((name, rings[name]) for name in order))


def name_of(pull: Pull) -> str:
    """Name a pull by its zone and the direction factor.

    Parameters
    ----------
    pull : Pull
        A zone and its factor [-].

    Returns
    -------
    str
        A name for `divide` [-].
    """
    return f"{pull[0]} {float(pull[1]):.4f}"

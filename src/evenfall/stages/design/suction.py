"""Suction: the wind at the height of the roof, and the zones of all four winds on its plan."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.calc.geometry.rectangles import bounding_rectangle
from evenfall.calc.geometry.worst_wins import cover
from evenfall.calc.loads.pressure_coefficients import Coefficients
from evenfall.calc.loads.roof_zones import envelope, reference_height, zone_length
from evenfall.calc.loads.wind import site_pressure
from evenfall.calc.loads.wind_exposure import peak_pressure
from evenfall.calc.loads.wind_withdrawn import exposure_by_s_b, s_b
from evenfall.model.job import Side, Site
from evenfall.model.surveyed import Plan, Point, Ring, SideAt
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


def pressure(site: Site, sides: tuple[Side, ...]) -> tuple[Working, Working]:
    """Work out the peak velocity pressure and the height at which it is taken.

    Parameters
    ----------
    site : Site
        Map wind, altitude, terrain, sea, height of the roof [-].
    sides : tuple of Side
        Parapets raise the height [mm].

    Returns
    -------
    tuple of Working
        Pressure [Pa] and reference height [m].
    """
    highest = max((s.parapet_height_mm or 0.0 for s in sides if s.kind == "parapet"), default=0.0)
    h_p = measured(highest / MM, "m", "survey.sides.parapet_height_mm")
    z = reference_height.show(measured(site.roof_height_m, "m", "site.roof_height_m"), h_p)
    if site.peak_pressure_kpa is not None:
        given = measured(site.peak_pressure_kpa, "kN/m2", "site.peak_pressure_kpa", "declared")
        return given_pressure.show(given), z
    v_map = measured(site.map_wind_m_s, "m/s", "site.map_wind_m_s", "declared")
    altitude = measured(max(site.altitude_m, 0.0), "m", "site.altitude_m")
    category = en.CATEGORY_OF[site.terrain]
    chain = site_pressure(v_map, altitude, _known(z, "m"), category)
    if z.value > bs_6399_2.S_B_COUNTRY[-1][0]:
        return chain.q_p, z
    town = site.terrain == "town" and site.distance_to_sea_km >= bs_6399_2.TOWN_DISTANCES_KM[0]
    factor = s_b(z.value, site.distance_to_sea_km, town)
    where = f"Table 4, {'town' if town else 'country'}, {site.distance_to_sea_km:g} km to the sea"
    S_b = Cited(factor, "-", bs_6399_2.SOURCE, where, "from memory")
    other = peak_pressure.show(exposure_by_s_b.show(S_b), chain.q_b)
    return governing_pressure.show(chain.q_p, other), z


def _known(value: Working, unit: str) -> Known:
    return Cited(value.value, unit, value.source, value.line, value.basis)


def eaves(sides: tuple[Side, ...], z: float, added_mm: float) -> tuple[en.Eaves, float]:
    """Count parapets only where they shelter every open edge; what the roof rises is lost.

    Parameters
    ----------
    sides : tuple of Side
        Kinds and parapets [mm].
    z : float
        Reference height of the roof [m].
    added_mm : float
        What the roof rises [mm].

    Returns
    -------
    tuple
        Kind of eaves, and height of the parapet over that of the roof [-].
    """
    open_sides = [s for s in sides if s.kind not in CLOSED]
    heights = [s.parapet_height_mm or 0.0 if s.kind == "parapet" else 0.0 for s in open_sides]
    left = (min(heights, default=0.0) - added_mm) / MM
    return ("parapet", left / z) if left > 0 else ("sharp", 0.0)


def parts(plan: Plan, z: float, table: tuple[Coefficients, ...]) -> tuple[tuple[str, Ring], ...]:
    """Divide the roof among the zones of all four winds; the worst wins each place.

    Parameters
    ----------
    plan : Plan
        The roof [m].
    z : float
        Reference height of the roof [m].
    table : tuple of Coefficients
        Coefficients of the zones [-].

    Returns
    -------
    tuple
        Zone and outline of each part; together they cover the deck once [m].
    """
    box = bounding_rectangle(plan.deck)
    xs, ys = [p[0] for p in box.corners], [p[1] for p in box.corners]
    x, y = min(xs), min(ys)
    width, depth = max(xs) - x, max(ys) - y
    c_pe: dict[en.Zone, float] = {c.zone: float(c.c_pe_1) for c in table}
    laid: dict[str, list[Ring]] = {zone: [] for zone in en.ZONES}
    for part in envelope(width, depth, z, c_pe):
        laid[part.zone] += [
            ((x + x0, y + y0), (x + x1, y + y0), (x + x1, y + y1), (x + x0, y + y1))
            for x0, y0, x1, y1 in part.rectangles
        ]
    for zone, strip in _inner_edges(plan, (x, y, x + width, y + depth), z):
        laid[zone].append(strip)
    worst_first = sorted(en.ZONES, key=lambda zone: c_pe[zone])
    layers = tuple((zone, tuple(laid[zone])) for zone in worst_first if laid[zone])
    return tuple(
        (zone, ring) for name, ring in cover(plan.deck, layers) for zone in en.ZONES if zone == name
    )


def _inner_edges(
    plan: Plan, box: tuple[float, float, float, float], z: float
) -> Iterator[tuple[str, Ring]]:
    """Give an edge that lies inside the rectangle, as in an L, its own strip and corners."""
    count = len(plan.sides)
    for i, side in enumerate(plan.sides):
        across_x = abs(side.outwards[1]) >= abs(side.outwards[0])
        e = zone_length(box[2] - box[0] if across_x else box[3] - box[1], z)
        if _inset(side, box) <= e / 10 / 2:
            continue
        depth, corner = e / 10, min(e / 4, side.length_m / 2)
        yield "G", _strip(side, 0.0, side.length_m, depth)
        if _outer(plan.sides[i - 1], side):
            yield "F", _strip(side, 0.0, corner, depth)
        if _outer(side, plan.sides[(i + 1) % count]):
            yield "F", _strip(side, side.length_m - corner, side.length_m, depth)


def _inset(side: SideAt, box: tuple[float, float, float, float]) -> float:
    """Measure how far the middle of a side lies inside the rectangle, the way it faces."""
    x, y = side.place(side.length_m / 2)
    u, v = side.outwards
    if abs(v) >= abs(u):
        return box[3] - y if v > 0 else y - box[1]
    return box[2] - x if u > 0 else x - box[0]


def _outer(before: SideAt, after: SideAt) -> bool:
    """Tell whether the corner between two sides points out of the roof."""
    (a, b), (c, d) = before.along, after.along
    return a * d - b * c > 0


def _strip(side: SideAt, start: float, end: float, depth: float) -> Ring:
    ends: tuple[Point, ...] = (side.place(start), side.place(end))
    return (*ends, side.place(end, depth), side.place(start, depth))

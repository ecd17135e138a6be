"""Wind on parapets, the strips of a wall, and whether friction counts."""

from __future__ import annotations

from itertools import pairwise
from math import ceil

from evenfall.calc.loads.limits import positive
from evenfall.standards import en_1991_1_4 as en
from evenfall.working import Cited, formula


def parapet_zones(h_p: float) -> tuple[tuple[str, float, Cited], ...]:
    """Zones along a parapet from its corner.

    Parameters
    ----------
    h_p : float
        Height of the parapet [m].

    Returns
    -------
    tuple of (str, float, Cited)
        Name, end of the zone measured from the corner [m], net coefficient [-].

    Examples
    --------
    >>> [(name, end, c.value) for name, end, c in parapet_zones(1.5)]
    [('A', 0.45, 2.1), ('B', 3.0, 1.8), ('C', 6.0, 1.4), ('D', inf, 1.2)]
    """
    positive("h_p", h_p, "m")
    return tuple((name, heights * h_p, c_p) for name, heights, c_p in en.PARAPET_ZONES)


@formula("w", "Pa", f"{en.SOURCE} 7.4.1, parapets with return corners", "published")
def parapet_pull(q_p: float, c_p: float) -> float:
    """Net pull on a parapet, both faces together; no single face is pulled at more.

    Parameters
    ----------
    q_p : float
        Peak velocity pressure at the top of the parapet [Pa].
    c_p : float
        Net coefficient, of `parapet_zones` [-].

    Returns
    -------
    float
        Pressure; a pull is negative [Pa].

    Examples
    --------
    >>> parapet_pull(659.0, 2.1)
    -1383.9
    """
    return -q_p * c_p


def wall_strips(e: float, d: float) -> tuple[float, ...]:
    """Depths of the zones A, B and C of a side wall, from the windward edge.

    Parameters
    ----------
    e : float
        Length that scales the zones [m].
    d : float
        Length of the wall along the wind [m].

    Returns
    -------
    tuple of float
        e/5, 4e/5 and d − e; two or one where the wall is shorter [m].

    Examples
    --------
    >>> wall_strips(16.0, 60.0)
    (3.2, 12.8, 44.0)
    """
    positive("e", e, "m")
    positive("d", d, "m")
    ends = (0.0, min(e / 5, d), min(e, d), d)
    return tuple(b - a for a, b in pairwise(ends) if b > a)


def height_parts(h: float, b: float) -> int:
    """Count the parts over the height into which a windward wall is divided.

    Parameters
    ----------
    h, b : float
        Height of the wall, its width across the wind [m].

    Returns
    -------
    int
        1 up to h = b, 2 up to h = 2b; above, the strips of b that the height makes [-].

    Examples
    --------
    >>> height_parts(13.08, 14.42), height_parts(13.08, 11.2)
    (1, 2)
    """
    positive("h", h, "m")
    positive("b", b, "m")
    return ceil(h / b)


def friction_from(b: float, d: float, h: float) -> float | None:
    """Distance from the windward edge beyond which friction acts.

    Parameters
    ----------
    b, d, h : float
        Dimension across the wind, dimension along the wind, height [m].

    Returns
    -------
    float or None
        The smaller of 2b and 4h; None where friction may be neglected [m].

    Examples
    --------
    >>> friction_from(10.0, 120.0, 35.0)
    20.0
    >>> friction_from(120.0, 10.0, 35.0) is None
    True
    """
    for name, value in (("b", b), ("d", d), ("h", h)):
        positive(name, value, "m")
    parallel = 2 * h * d + b * d
    perpendicular = 2 * b * h
    if parallel <= en.FRICTION_RATIO * perpendicular:
        return None
    return min(2 * b, 4 * h)

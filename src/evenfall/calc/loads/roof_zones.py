"""Zones F, G, H and I of a rectangular flat roof, for one wind direction."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from evenfall.calc.loads.limits import positive
from evenfall.errors import InvalidInput
from evenfall.standards import en_1991_1_4 as en
from evenfall.working import formula

Rectangle = tuple[float, float, float, float]
"""x0, y0, x1, y1 in metres."""

WindFrom = Literal["bottom", "right", "top", "left"]
"""The side of the rectangle that the wind meets first; y points up."""


@formula("e", "m", f"{en.SOURCE} Figure 7.6")
def zone_length(b: float, h: float) -> float:
    """Length that scales the zones.

    Parameters
    ----------
    b : float
        Dimension of the building across the wind [m].
    h : float
        Height of the finished roof, without its parapet [m].

    Returns
    -------
    float
        The smaller of b and 2h [m].

    Examples
    --------
    >>> zone_length(10.0, 3.2)
    6.4
    """
    return min(b, 2 * h)


@formula("h", "m", "height of the finished roof")
def finished_height(h_0: float, rise: float) -> float:
    """Height of the finished roof above the ground.

    Parameters
    ----------
    h_0 : float
        Height of the roof as it is [m].
    rise : float
        Rise of the roof surface [mm].

    Returns
    -------
    float
        Height [m].

    Examples
    --------
    >>> finished_height(2.4, 133.0)
    2.533
    """
    return h_0 + rise / 1000


@formula("h_p", "m", "height of the finished roof")
def parapet_left(h_p0: float, rise: float) -> float:
    """Height that is left of a parapet when the roof behind it has risen.

    Parameters
    ----------
    h_p0 : float
        Height of the parapet above the old roof [m].
    rise : float
        Rise of the roof surface [mm].

    Returns
    -------
    float
        Height above the finished roof; nought where the roof rises past it [m].

    Examples
    --------
    >>> parapet_left(0.412, 163.0), parapet_left(0.120, 163.0)
    (0.249, 0)
    """
    return max(h_p0 - rise / 1000, 0)


@formula("z_e", "m", f"{en.SOURCE} 7.2.3(3), Figure 7.6")
def reference_height(h: float, h_p: float = 0.0) -> float:
    """Height at which the roof's pressure is taken: a parapet raises it.

    Parameters
    ----------
    h, h_p : float
        Height of the finished roof; of the parapet above it, 0 for curved and mansard eaves [m].

    Returns
    -------
    float
        Height at which the peak velocity pressure is taken [m].

    Examples
    --------
    >>> reference_height(13.08, 0.40)
    13.48
    """
    return h + h_p


@dataclass(frozen=True, slots=True)
class ZoneOfRoof:
    """One zone: its rectangles, two for F, and their area together."""

    zone: en.Zone
    rectangles: tuple[Rectangle, ...]

    @property
    def area(self) -> float:
        """Area of all its rectangles, in m2."""
        return sum((x1 - x0) * (y1 - y0) for x0, y0, x1, y1 in self.rectangles)


def zones(b: float, d: float, h: float) -> tuple[ZoneOfRoof, ...]:
    """Zones of a rectangle for wind that meets the edge y = 0.

    Parameters
    ----------
    b, d : float
        Dimension across the wind (along x), dimension along the wind (along y) [m].
    h : float
        Height of the finished roof, without its parapet [m].

    Returns
    -------
    tuple of ZoneOfRoof
        Zones present; I is absent and H is cut off where d is at most e/2 [m].

    Examples
    --------
    >>> [(z.zone, z.rectangles[0]) for z in zones(10.0, 6.0, 3.2)]
    [('F', (0.0, 0.0, 1.6, 0.64)), ('G', (1.6, 0.0, 8.4, 0.64)),
     ('H', (0.0, 0.64, 10.0, 3.2)), ('I', (0.0, 3.2, 10.0, 6.0))]
    """
    for name, value in (("b", b), ("d", d), ("h", h)):
        positive(name, value, "m")
    e = zone_length(b, h)
    corner, edge, half = e / 4, min(e / 10, d), min(e / 2, d)
    laid: tuple[tuple[en.Zone, tuple[Rectangle, ...]], ...] = (
        ("F", ((0.0, 0.0, corner, edge), (b - corner, 0.0, b, edge))),
        ("G", ((corner, 0.0, b - corner, edge),)),
        ("H", ((0.0, edge, b, half),)),
        ("I", ((0.0, half, b, d),)),
    )
    found = (ZoneOfRoof(zone, rectangles) for zone, rectangles in laid)
    return tuple(zone for zone in found if zone.area > 0)


def zones_from(side: WindFrom, width: float, depth: float, h: float) -> tuple[ZoneOfRoof, ...]:
    """Zones of the rectangle (0, 0, width, depth) for wind that meets one of its sides.

    Parameters
    ----------
    side : str
        bottom, right, top or left [-].
    width, depth : float
        Size of the roof along x and along y [m].
    h : float
        Height of the finished roof, without its parapet [m].

    Returns
    -------
    tuple of ZoneOfRoof
        Zones in the axes of the roof [m].

    Examples
    --------
    >>> zones_from("left", 6.0, 10.0, 3.2)[0].rectangles
    ((0.0, 0.0, 0.64, 1.6), (0.0, 8.4, 0.64, 10.0))
    """
    if side not in ("bottom", "right", "top", "left"):
        raise InvalidInput(f"side {side}", "bottom, right, top or left", where="side")
    along_x = side in ("bottom", "top")
    b, d = (width, depth) if along_x else (depth, width)

    def place(at: Rectangle) -> Rectangle:
        x0, y0, x1, y1 = at
        if side in ("top", "right"):
            y0, y1 = d - y1, d - y0
        return (x0, y0, x1, y1) if along_x else (y0, x0, y1, x1)

    return tuple(
        ZoneOfRoof(zone.zone, tuple(place(at) for at in zone.rectangles)) for zone in zones(b, d, h)
    )

"""Falls: what a valley keeps, what a sagging joist leaves, firrings, open channels."""

from __future__ import annotations

from math import hypot, sqrt

from evenfall.calc.loads.limits import positive
from evenfall.errors import InvalidInput
from evenfall.standards import falls_practice as practice
from evenfall.working import formula


@formula("s_v", "-", "geometry of two planes at right angles")
def valley_fall(s: float) -> float:
    """Fall along a valley or mitre between two equal planes at right angles.

    Parameters
    ----------
    s : float
        Fall of each plane [-].

    Returns
    -------
    float
        Fall along the valley [-].

    Examples
    --------
    >>> 1 / valley_fall(1 / 40)
    56.6
    """
    return s / sqrt(2)


def fall_along(gradient: tuple[float, float], direction: tuple[float, float]) -> float:
    """Fall of a plane along any line on plan.

    Parameters
    ----------
    gradient : tuple of float
        Downward fall of the plane along x and along y [-].
    direction : tuple of float
        Direction of the line, of any length but 0 [m].

    Returns
    -------
    float
        Fall along the line, negative uphill [-].

    Examples
    --------
    >>> fall_along((0.0, 1 / 40), (1.0, 1.0))
    0.01768
    """
    length = hypot(*direction)
    if length == 0:
        raise InvalidInput("a direction of no length", "a line on plan", where="direction")
    return (gradient[0] * direction[0] + gradient[1] * direction[1]) / length


def common_line_fall(one: tuple[float, float], other: tuple[float, float]) -> float:
    """Fall along the valley in which two planes meet.

    Parameters
    ----------
    one, other : tuple of float
        Downward falls of the planes along x and along y [-].

    Returns
    -------
    float
        Fall along their line, 0 or more [-].

    Examples
    --------
    >>> common_line_fall((0.0, 1 / 40), (1 / 60, 0.0))
    0.01387
    """
    line = (one[1] - other[1], other[0] - one[0])
    return abs(fall_along(one, line))


@formula("s_end", "-", "end slope of a beam under uniform load")
def remaining_fall(s: float, delta: float, L: float) -> float:
    """Fall that is left at the low end of a joist that sags.

    Parameters
    ----------
    s : float
        Fall as laid [-].
    delta : float
        Deflection at mid-span [m].
    L : float
        Span [m].

    Returns
    -------
    float
        Fall, negative where water is held back [-].

    Examples
    --------
    >>> 1 / remaining_fall(1 / 40, 4.0 / 250, 4.0)
    82.0
    """
    return s - 16 * delta / (5 * L)


@formula("s_left", "mm/m", "end slope of a beam under uniform load")
def loaded_fall(s_fin: float, delta: float, L: float) -> float:
    """Fall that is left at the low end of joists that run with the fall, under load.

    Parameters
    ----------
    s_fin : float
        Fall as laid [mm/m].
    delta : float
        Sag at mid-span under load [mm].
    L : float
        Span [m].

    Returns
    -------
    float
        Fall, negative where water is held back [mm/m].

    Examples
    --------
    >>> loaded_fall(25.0, 16.0, 4.0)
    12.2
    """
    return s_fin - 16 * delta / (5 * L)


def least_design_fall(delta: float, L: float, finished: float = practice.FINISHED_FALL) -> float:
    """Fall to lay so that the finished fall is left when the joist has sagged.

    Parameters
    ----------
    delta : float
        Deflection at mid-span [m].
    L : float
        Span [m].
    finished : float
        Fall that must be left [-].

    Returns
    -------
    float
        Fall to lay [-].

    Examples
    --------
    >>> 1 / least_design_fall(0.016, 4.0)
    39.5
    """
    positive("L", L, "m")
    return float(finished) - remaining_fall(0.0, delta, L)


@formula("t_2", "mm", "geometry of a firring")
def thick_end_mm(t_1_mm: float, length_mm: float, s: float = practice.DESIGN_FALL) -> float:
    """Thick end of a firring.

    Parameters
    ----------
    t_1_mm, length_mm : float
        Thin end, length [mm].
    s : float
        Fall [-].

    Returns
    -------
    float
        Thick end [mm].

    Examples
    --------
    >>> thick_end_mm(25.0, 4100.0)
    127.5
    """
    return t_1_mm + length_mm * s


@formula("R_h", "m", "geometry of a rectangular channel")
def hydraulic_radius(b: float, y: float) -> float:
    """Hydraulic radius of a rectangular channel.

    Parameters
    ----------
    b, y : float
        Width, depth of water [m].

    Returns
    -------
    float
        Radius [m].

    Examples
    --------
    >>> hydraulic_radius(0.10, 0.05)
    0.025
    """
    return b * y / (b + 2 * y)


@formula("V", "m/s", "Manning", "from memory")
def manning_velocity(R_h: float, S: float, n: float = practice.MANNING_SMOOTH) -> float:
    """Velocity of water in an open channel.

    Parameters
    ----------
    R_h : float
        Hydraulic radius [m].
    S : float
        Fall [-].
    n : float
        Roughness [s/m^(1/3)].

    Returns
    -------
    float
        Velocity [m/s].

    Examples
    --------
    >>> manning_velocity(0.025, 1 / 200)
    0.5038
    """
    return 1 / n * R_h ** (2 / 3) * S**0.5  # type: ignore[no-any-return]


@formula("Q", "m3/s", "continuity")
def channel_flow(V: float, b: float, y: float) -> float:
    """Flow of a rectangular channel.

    Parameters
    ----------
    V : float
        Velocity [m/s].
    b, y : float
        Width, depth of water [m].

    Returns
    -------
    float
        Flow [m3/s].

    Examples
    --------
    >>> channel_flow(0.5038, 0.10, 0.05)
    0.002519
    """
    return V * b * y

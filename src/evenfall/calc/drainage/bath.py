"""The bath that a part-built roof makes: rain that edge timbers keep on it, and the way out."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from evenfall.calc.loads.limits import positive
from evenfall.working import Known, Working, formula

Given = Known | Working | float
_GEOMETRY = "geometry of a tilted tray"


@formula("V", "m3", _GEOMETRY)
def gathered(rain: float, A: float) -> float:
    """Water that a rain brings onto the roof.

    Parameters
    ----------
    rain : float
        Depth of the rain [m].
    A : float
        Roof and half of the walls above it [m2].

    Returns
    -------
    float
        Volume [m3].

    Examples
    --------
    >>> gathered(0.025, 32.0)
    0.8
    """
    return rain * A


@formula("d", "m", _GEOMETRY)
def wedge_depth(V: float, S: float, b: float) -> float:
    """Depth at the low side where the water does not reach the high side.

    Parameters
    ----------
    V : float
        Volume [m3].
    S : float
        Fall [m/m].
    b : float
        Length of the low side [m].

    Returns
    -------
    float
        Depth [m].

    Examples
    --------
    >>> wedge_depth(0.8, 0.0125, 5.0)
    0.06325
    """
    return sqrt(2 * V * S / b)


@formula("d", "m", _GEOMETRY)
def covered_depth(V: float, S: float, b: float, l: float) -> float:
    """Depth at the low side where the water lies over the whole roof.

    Parameters
    ----------
    V : float
        Volume [m3].
    S : float
        Fall, 0 where level [m/m].
    b, l : float
        Length of the low side, length of the roof down the fall [m].

    Returns
    -------
    float
        Depth [m].

    Examples
    --------
    >>> covered_depth(0.8, 0.002, 5.0, 4.0)
    0.044
    """
    return V / (b * l) + S * l / 2


@formula("d", "m", "water above the edge timber runs over it")
def below_brim(d_full: float, brim: float) -> float:
    """Depth that can stand: what the rain brings, up to the top of the edge timber.

    Parameters
    ----------
    d_full, brim : float
        Depth without a brim, height of the edge timber [m].

    Returns
    -------
    float
        Depth [m].

    Examples
    --------
    >>> below_brim(0.063, 0.05)
    0.05
    """
    return min(d_full, brim)


@dataclass(frozen=True, slots=True)
class Bath:
    """Water that stands when nothing lets it out."""

    volume: Working  # m3
    depth: Working  # m, at the low side
    reach_m: float  # how far it reaches up the fall
    far_share: float  # of that depth, where it ends: 0 unless it covers the whole roof


def share_at_the_end(depth: float, S: float, reach: float) -> float:
    """Share of the depth of standing water that is left where it ends.

    Parameters
    ----------
    depth : float
        Depth at the low side, above 0 [m].
    S : float
        Fall towards the low side, 0 or more [m/m].
    reach : float
        How far the water reaches up the fall [m].

    Returns
    -------
    float
        0 where it runs out on the roof, 1 on a level roof [-].

    Examples
    --------
    >>> share_at_the_end(0.05, 0.0, 6.0), share_at_the_end(0.05, 0.005, 6.0)
    (1.0, 0.4)
    >>> share_at_the_end(0.05, 0.0125, 4.0)
    0.0
    """
    return round(max(0.0, 1 - S * reach / depth), 9)


def bath(rain: Given, A: Given, S: float, b: float, l: float, brim: Given) -> Bath:
    """Work out the water that a tray of edge timbers holds.

    Parameters
    ----------
    rain : Known or Working or float
        Depth of the rain, above 0 [m].
    A : Known or Working or float
        Roof and half of the walls above it, above 0 [m2].
    S : float
        Fall towards the low side, 0 or more [m/m].
    b, l : float
        Length of the low side, length of the roof down the fall, above 0 [m].
    brim : Known or Working or float
        Height of the edge timber, above 0 [m].

    Returns
    -------
    Bath
        Volume, depth at the low side and how far the water reaches [m].

    Examples
    --------
    >>> shallow = bath(0.025, 32.0, 0.0125, 5.0, 6.4, 0.12)
    >>> shallow.depth.value, shallow.reach_m
    (0.06325, 5.0596)
    >>> bath(0.025, 32.0, 0.0, 5.0, 6.4, 0.12).depth.value
    0.025
    """
    sizes = (("rain", rain), ("A", A), ("b", b), ("l", l), ("brim", brim))
    for name, size in sizes:
        positive(name, float(size), "m")
    V = gathered.show(rain, A)
    wedge = wedge_depth.show(V, max(S, 0.0), b)
    part = V.value <= b * S * l**2 / 2
    full = wedge if part else covered_depth.show(V, max(S, 0.0), b, l)
    depth = below_brim.show(full, brim)
    reach = min(depth.value / S, l) if S > 0 else l
    return Bath(V, depth, reach, share_at_the_end(depth.value, S, reach))

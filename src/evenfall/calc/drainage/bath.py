"""The bath that a part-built roof makes: rain that edge timbers keep on it, and the way out."""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.calc.drainage.tilted_tray import Pool, along, free_area, pools
from evenfall.calc.geometry.polygon import Point, Polygon
from evenfall.calc.loads.limits import positive
from evenfall.working import Known, Working, formula, measured

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
def pool_depth(V: float, A_w: float, S: float, t_c: float) -> float:
    """Depth at the lowest place of water that stands level over a tilted plan.

    Parameters
    ----------
    V : float
        Volume [m3].
    A_w : float
        Area of the plan that it covers [m2].
    S : float
        Fall, 0 where level [m/m].
    t_c : float
        Distance of the middle of that area up the fall from the lowest place [m].

    Returns
    -------
    float
        Mean depth, and what the lowest place lies below the middle [m].

    Examples
    --------
    >>> pool_depth(0.8, 25.298, 0.0125, 2.5298)
    0.06325
    """
    return V / A_w + S * t_c


@formula("d", "m", _GEOMETRY)
def spilling_depth(S: float, t_s: float) -> float:
    """Depth at which a pool runs over into a lower part of the roof.

    Parameters
    ----------
    S : float
        Fall [m/m].
    t_s : float
        How far up the fall from its lowest place the water meets the lower part [m].

    Returns
    -------
    float
        Depth [m].

    Examples
    --------
    >>> spilling_depth(0.0125, 2.0)
    0.025
    """
    return S * t_s


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
    lowest: Point  # where it is deepest


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


def bath(
    rain: Given,
    A: Given,
    ring: Polygon,
    downhill: Point,
    S: Given,
    brim: Given,
    kerbs: tuple[Polygon, ...] = (),
) -> Bath:
    """Work out the water that a tray of edge timbers holds, wherever it can gather.

    Parameters
    ----------
    rain : Known or Working or float
        Depth of the rain, above 0 [m].
    A : Known or Working or float
        Roof and half of the walls above it, above 0 [m2].
    ring : polygon
        Outline of the tray [m].
    downhill : (x, y)
        Unit vector of the fall [-].
    S : Known or Working or float
        Fall, 0 or more [m/m].
    brim : Known or Working or float
        Height of the edge timber, above 0 [m].
    kerbs : tuple of polygon
        What stands up in the tray and takes room from the water [m].

    Returns
    -------
    Bath
        Volume, depth at the lowest place and how far the water reaches: the deepest of all pools,
        each as if all the rain ran to it [m].

    Examples
    --------
    >>> tray = ((0.0, 0.0), (5.0, 0.0), (5.0, 6.4), (0.0, 6.4))
    >>> shallow = bath(0.025, 32.0, tray, (0.0, -1.0), 0.0125, 0.12)
    >>> shallow.depth.value, shallow.reach_m
    (0.06325, 5.0596)
    >>> bath(0.025, 32.0, tray, (0.0, -1.0), 0.0, 0.12).depth.value
    0.025
    """
    for name, size in (("rain", rain), ("A", A), ("brim", brim)):
        positive(name, float(size), "m")
    V = gathered.show(rain, A)
    if not float(S) > 0:
        level = measured(free_area(ring, kerbs), "m2", "the plan, all of it")
        depth = below_brim.show(pool_depth.show(V, level, 0.0, 0.0), brim)
        return Bath(V, depth, max(along(ring, downhill)), 1.0, ring[0])
    found = [_stands(V, pool, S, brim) for pool in pools(ring, downhill, float(S), V.value, kerbs)]
    return max(found, key=lambda one: one.depth.value)


def _stands(V: Working, pool: Pool, S: Given, brim: Given) -> Bath:
    """Work out the depth of one pool."""
    if pool.spills:
        up = measured(pool.reach, "m", "the plan, where the pool runs over")
        full = spilling_depth.show(S, up)
    else:
        covered = measured(pool.area, "m2", "the plan, up to the edge of the water")
        full = pool_depth.show(V, covered, S, measured(pool.middle, "m", "its middle on the plan"))
    depth = below_brim.show(full, brim)
    reach = min(depth.value / float(S), pool.longest)
    far = share_at_the_end(depth.value, float(S), reach)
    return Bath(V, depth, reach, far, pool.lowest)

"""Rain that a roof sheds: effective areas, flow, and how rare the storm is."""

from __future__ import annotations

from math import radians, tan

from evenfall.calc.loads.limits import positive, within
from evenfall.standards import approved_document_h as ad_h
from evenfall.standards import en_12056_3 as en
from evenfall.working import Known, Working, formula


@formula("Q", "l/s", f"{en.SOURCE} (1)", "from memory")
def run_off_l_s(r_l_s_m2: float, A: float, C: float = en.RUN_OFF_COEFFICIENT) -> float:
    """Rain that runs off.

    Parameters
    ----------
    r_l_s_m2 : float
        Rainfall intensity [l/(s m2)].
    A : float
        Effective area [m2].
    C : float
        Run-off coefficient [-].

    Returns
    -------
    float
        Flow [l/s].

    Examples
    --------
    >>> run_off_l_s(0.022, 24.0)
    0.528
    """
    return r_l_s_m2 * A * C


@formula("A_w", "m2", f"{en.SOURCE} walls", "published, second-hand")
def wall_area(
    L: float, H: float, share: float = en.WALL_SHARE, most: float = en.WALL_HEIGHT_MOST
) -> float:
    """Effective area of a wall that sheds rain onto the roof.

    Parameters
    ----------
    L, H : float
        Length, height above the roof [m].
    share : float
        Share of the elevation [-].
    most : float
        Height that counts [m].

    Returns
    -------
    float
        Area [m2].

    Examples
    --------
    >>> wall_area(6.2, 3.5)
    10.85
    """
    return share * L * min(H, most)


@formula("A_eff", "m2", f"{en.SOURCE} wind-driven rain", "published, second-hand")
def sloping_area(L: float, B: float, H: float) -> float:
    """Effective area of a sloping surface in wind-driven rain.

    Parameters
    ----------
    L, B, H : float
        Length along the gutter, width on plan, height [m].

    Returns
    -------
    float
        Area [m2].

    Examples
    --------
    >>> sloping_area(6.2, 3.0, 1.8)
    24.18
    """
    return L * (B + H / 2)


@formula("A_eff", "m2", f"{ad_h.SOURCE} Table 1, worked out", "from memory")
def pitched_area(A: float, pitch: float) -> float:
    """Effective area by pitch.

    Parameters
    ----------
    A : float
        Plan area [m2].
    pitch : float
        Pitch, up to 70 degrees [degrees].

    Returns
    -------
    float
        Area [m2].

    Examples
    --------
    >>> pitched_area(20.0, 30.0)
    25.77
    """
    return A * (1 + tan(radians(pitch)) / 2)


def effective_area(plan: Known | float, pitch_degrees: Known | float = 0.0) -> Working:
    """Effective area of a roof surface.

    Parameters
    ----------
    plan : float
        Plan area [m2].
    pitch_degrees : float
        Pitch, 0 to 70; steeper counts as a wall [degrees].

    Returns
    -------
    Working
        Area [m2].

    Examples
    --------
    >>> effective_area(24.0).value
    24.0
    """
    positive("plan", plan, "m2")
    within("pitch in degrees", pitch_degrees, 0, ad_h.STEEP_DEGREES, f"{ad_h.SOURCE} Table 1")
    return pitched_area.show(plan, pitch_degrees)


@formula("r", "l/(s m2)", "change of unit")
def intensity_l_s_m2(r_mm_h: float) -> float:
    """Rainfall intensity from millimetres per hour.

    Parameters
    ----------
    r_mm_h : float
        Intensity [mm/h].

    Returns
    -------
    float
        Intensity [l/(s m2)].

    Examples
    --------
    >>> intensity_l_s_m2(75.0)
    0.02083
    """
    return r_mm_h / 3600


@formula("T", "a", f"{en.RAIN} categories")
def return_period_years(life_years: float, factor: float) -> float:
    """Return period of the design storm.

    Parameters
    ----------
    life_years : float
        Life of the building [a].
    factor : float
        `en_12056_3.LIFE_FACTOR` of the category [-].

    Returns
    -------
    float
        Period [a].

    Examples
    --------
    >>> return_period_years(60.0, 4.5)
    270.0
    """
    return life_years * factor


@formula("P", "-", "probability of independent years")
def exceedance(T: float, N: float) -> float:
    """Chance that a storm of a return period is exceeded within a life.

    Parameters
    ----------
    T : float
        Return period, above 1 [a].
    N : float
        Years [a].

    Returns
    -------
    float
        Probability [-].

    Examples
    --------
    >>> exceedance(90.0, 60.0)
    0.488
    """
    return 1 - (1 - 1 / T) ** N  # type: ignore[no-any-return]

"""Snow drifted against walls, parapets and obstructions."""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.calc.loads.limits import positive
from evenfall.calc.loads.snow import roof_snow
from evenfall.standards import en_1991_1_3 as en
from evenfall.working import Known, Working, formula


@formula("l_s", "m", f"{en.SOURCE} 5.3.6 and 6.2")
def drift_length(h: float, least: float = en.DRIFT_LEAST, most: float = en.DRIFT_MOST) -> float:
    """Length of a drift.

    Parameters
    ----------
    h : float
        Height of the wall or obstruction above the roof [m].
    least, most : float
        Limits of the length [m].

    Returns
    -------
    float
        Length [m].

    Examples
    --------
    >>> drift_length(4.25)
    8.5
    """
    return min(max(2 * h, least), most)


@formula("mu_w", "-", f"{en.SOURCE} 5.3.6")
def abutting_coefficient(
    b_1: float,
    b_2: float,
    h: float,
    s_k: float,
    gamma: float = en.SNOW_WEIGHT,
    least: float = en.MU_W_LEAST,
    most: float = en.MU_W_MOST,
) -> float:
    """Shape coefficient of a drift on a lower roof against a taller building.

    Parameters
    ----------
    b_1, b_2 : float
        Widths of the taller building and of the lower roof [m].
    h : float
        Step between the roofs [m].
    s_k : float
        Snow on the ground [Pa].
    gamma : float
        Weight density of snow [N/m3].
    least, most : float
        Limits of the coefficient [-].

    Returns
    -------
    float
        Coefficient at the wall; mu_s from a roof of up to 15 degrees is 0 [-].

    Examples
    --------
    >>> abutting_coefficient(10.0, 40.0, 7.0, 650.0)
    3.571
    """
    return max(min((b_1 + b_2) / (2 * h), gamma * h / s_k, most), least)


@formula("mu_2", "-", f"{en.SOURCE} 6.2", "published, second-hand")
def obstruction_coefficient(
    h: float,
    s_k: float,
    gamma: float = en.SNOW_WEIGHT,
    least: float = en.MU_2_LEAST,
    most: float = en.MU_2_MOST,
) -> float:
    """Shape coefficient of a drift against an obstruction on a nearly flat roof.

    Parameters
    ----------
    h : float
        Height of the obstruction [m].
    s_k : float
        Snow on the ground [Pa].
    gamma : float
        Weight density of snow [N/m3].
    least, most : float
        Limits of the coefficient [-].

    Returns
    -------
    float
        Coefficient at the obstruction [-].

    Examples
    --------
    >>> obstruction_coefficient(0.6, 900.0)
    1.333
    """
    return max(min(gamma * h / s_k, most), least)


@formula("mu_LR", "-", f"{en.SOURCE} 6.2, drift cut off by the edge", "published, second-hand")
def coefficient_at_edge(mu_1: float, mu_2: float, l_s: float, b: float) -> float:
    """Shape coefficient at the roof's edge where the roof ends within the drift.

    Parameters
    ----------
    mu_1, mu_2 : float
        Coefficients without a drift and at the obstruction [-].
    l_s, b : float
        Length of the drift, length of roof beside the obstruction [m].

    Returns
    -------
    float
        Coefficient [-].

    Examples
    --------
    >>> coefficient_at_edge(0.8, 2.0, 5.0, 3.0)
    1.28
    """
    return (mu_2 - mu_1) * (l_s - b) / l_s + mu_1


@formula("mu", "-", f"{en.SOURCE} Annex B, B.4")
def parapet_coefficient(
    h: float,
    s_k: float,
    b_2: float,
    l_s: float,
    gamma: float = en.SNOW_WEIGHT,
    most: float = en.PARAPET_MU_MOST,
) -> float:
    """Shape coefficient of an exceptional drift behind a parapet.

    Parameters
    ----------
    h : float
        Height of the parapet [m].
    s_k : float
        Snow on the ground [Pa].
    b_2, l_s : float
        Length of roof that feeds the drift, length of the drift [m].
    gamma : float
        Weight density of snow [N/m3].
    most : float
        Limit of the coefficient [-].

    Returns
    -------
    float
        Coefficient at the parapet; an accidental action [-].

    Examples
    --------
    >>> parapet_coefficient(3.0, 650.0, 25.0, 12.5)
    4.0
    """
    return min(gamma * h / s_k, 2 * b_2 / l_s, most)


@formula("l_s", "m", f"{en.SOURCE} Annex B, B.4")
def parapet_drift_length(
    h: float,
    b_1: float,
    heights: float = en.PARAPET_DRIFT_HEIGHTS,
    most: float = en.PARAPET_DRIFT_MOST,
) -> float:
    """Length of an exceptional drift behind a parapet.

    Parameters
    ----------
    h, b_1 : float
        Height of the parapet, length of the roof [m].
    heights : float
        Length in heights of the parapet [-].
    most : float
        Limit of the length [m].

    Returns
    -------
    float
        Length [m].

    Examples
    --------
    >>> parapet_drift_length(3.0, 12.5)
    12.5
    """
    return min(heights * h, b_1, most)


@formula("mu_3", "-", f"{en.SOURCE} Annex B, B.3", "from memory")
def taller_house_coefficient(
    h: float,
    s_k: float,
    b: float,
    l_s: float,
    gamma: float = en.SNOW_WEIGHT,
    most: float = en.ABUTTING_MU_MOST,
) -> float:
    """Shape coefficient of an exceptional drift against a taller house.

    Parameters
    ----------
    h : float
        Height of the wall above the roof [m].
    s_k : float
        Snow on the ground [Pa].
    b, l_s : float
        The deeper of house and roof, length of the drift [m].
    gamma : float
        Weight density of snow [N/m3].
    most : float
        Limit of the coefficient [-].

    Returns
    -------
    float
        Coefficient at the wall; an accidental action [-].

    Examples
    --------
    >>> taller_house_coefficient(2.5, 600.0, 8.0, 4.0)
    4.0
    """
    return min(gamma * h / s_k, 2 * b / l_s, most)


@formula("l_s", "m", f"{en.SOURCE} Annex B, B.3", "from memory")
def taller_house_drift_length(
    h: float,
    b_1: float,
    heights: float = en.ABUTTING_DRIFT_HEIGHTS,
    most: float = en.ABUTTING_DRIFT_MOST,
) -> float:
    """Length of an exceptional drift against a taller house.

    Parameters
    ----------
    h, b_1 : float
        Height of the wall above the roof, depth of the roof [m].
    heights : float
        Length in heights of the wall [-].
    most : float
        Limit of the length [m].

    Returns
    -------
    float
        Length [m].

    Examples
    --------
    >>> taller_house_drift_length(2.5, 4.0)
    4.0
    """
    return min(heights * h, b_1, most)


@formula("mu", "-", f"{en.SOURCE} Annex B, obstructions", "published, second-hand")
def exceptional_obstruction_coefficient(
    h: float,
    s_k: float,
    gamma: float = en.SNOW_WEIGHT,
    most: float = en.OBSTRUCTION_MU_MOST,
) -> float:
    """Shape coefficient of an exceptional drift at an obstruction.

    Parameters
    ----------
    h : float
        Height of the obstruction [m].
    s_k : float
        Snow on the ground [Pa].
    gamma : float
        Weight density of snow [N/m3].
    most : float
        Limit of the coefficient [-].

    Returns
    -------
    float
        Coefficient; an accidental action [-].

    Examples
    --------
    >>> exceptional_obstruction_coefficient(0.3, 500.0)
    1.2
    """
    return min(gamma * h / s_k, most)


@formula("l_s", "m", f"{en.SOURCE} Annex B, obstructions", "published, second-hand")
def obstruction_drift_length(
    h: float,
    b_1: float,
    heights: float = en.OBSTRUCTION_DRIFT_HEIGHTS,
    most: float = en.OBSTRUCTION_DRIFT_MOST,
) -> float:
    """Length of an exceptional drift at an obstruction.

    Parameters
    ----------
    h, b_1 : float
        Height of the obstruction, length of roof beside it [m].
    heights : float
        Length in heights of the obstruction [-].
    most : float
        Limit of the length [m].

    Returns
    -------
    float
        Length [m].

    Examples
    --------
    >>> obstruction_drift_length(0.15, 2.4), obstruction_drift_length(1.2, 2.4)
    (0.75, 2.4)
    """
    return min(heights * h, b_1, most)


@dataclass(frozen=True, slots=True)
class Drift:
    """A drift against an obstruction on a nearly flat roof."""

    l_s: Working  # m
    mu_2: Working
    mu_edge: Working | None  # where the roof ends within the drift
    s: Working  # Pa, at the obstruction


def drift_at_obstruction(h: Known | float, b: Known | float, s_k: Known | Working | float) -> Drift:
    """Drift of snow against an obstruction, such as a kerb, a step or a parapet.

    Parameters
    ----------
    h : float
        Height of the obstruction [m].
    b : float
        Length of roof beside it [m].
    s_k : Known or Working or float
        Snow on the ground [Pa].

    Returns
    -------
    Drift
        Length, coefficients and load, by clause 6.2 [-].

    Examples
    --------
    >>> drift = drift_at_obstruction(2.0, 3.0, 1500.0)
    >>> drift.l_s.value, drift.mu_2.value, drift.mu_edge.value, drift.s.value
    (5.0, 2.0, 1.28, 3000.0)
    """
    positive("h", h, "m")
    positive("b", b, "m")
    positive("s_k", float(s_k), "Pa")
    l_s = drift_length.show(h)
    mu_2 = obstruction_coefficient.show(h, s_k)
    cut = b < l_s.value
    edge = coefficient_at_edge.show(en.MU_1, mu_2, l_s, b) if cut else None
    return Drift(l_s, mu_2, edge, roof_snow.show(s_k, mu_2))

"""Capacity of vertical downpipes by EN 12056-3 (Wyly-Eaton)."""

from __future__ import annotations

from evenfall.calc.loads.limits import within
from evenfall.standards import en_12056_3 as en
from evenfall.working import Known, Working, formula


@formula("Q", "l/s", f"{en.SOURCE} 6.1 (Wyly-Eaton)", "from memory")
def downpipe_flow_l_s(
    d_i_mm: float,
    f: float = en.FILLING_MOST,
    k_b_mm: float = en.PIPE_ROUGHNESS_MM,
    c: float = en.PIPE_COEFFICIENT,
    n_k: float = en.PIPE_ROUGHNESS_EXPONENT,
    n_d: float = en.PIPE_DIAMETER_EXPONENT,
    n_f: float = en.PIPE_FILLING_EXPONENT,
) -> float:
    """Capacity of a downpipe, with the rounded exponents that give Table 8.

    Parameters
    ----------
    d_i_mm : float
        Internal diameter [mm].
    f : float
        Filling degree [-].
    k_b_mm : float
        Roughness [mm].
    c : float
        Coefficient of the standard [l/s].
    n_k, n_d, n_f : float
        Exponents of roughness, diameter and filling [-].

    Returns
    -------
    float
        Capacity [l/s].

    Examples
    --------
    >>> downpipe_flow_l_s(50.0)
    1.68
    """
    return c * k_b_mm**n_k * d_i_mm**n_d * f**n_f  # type: ignore[no-any-return]


def downpipe_capacity(d_i_mm: Known | float, f: Known | float = en.FILLING_MOST) -> Working:
    """Capacity of a downpipe within the range of the standard.

    Parameters
    ----------
    d_i_mm : float
        Internal diameter, 50 to 300 mm [mm].
    f : float
        Filling degree, 0.20 to 0.33 [-].

    Returns
    -------
    Working
        Capacity [l/s].

    Examples
    --------
    >>> downpipe_capacity(63.0).value
    3.12
    """
    low, high = en.PIPE_SMALLEST_MM, en.PIPE_LARGEST_MM
    within("internal diameter in mm", d_i_mm, low, high, f"{en.SOURCE} Table 8")
    within("filling degree", f, en.FILLING_LEAST, en.FILLING_MOST, f"{en.SOURCE} 6.1")
    return downpipe_flow_l_s.show(d_i_mm, f)

"""Timber by EN 1995-1-1: strength, stress, final deflection."""

from __future__ import annotations

from evenfall.errors import InvalidInput
from evenfall.standards import en_338
from evenfall.standards import en_1995_1_1 as en
from evenfall.working import formula


def strength_class(name: str) -> en_338.StrengthClass:
    """Characteristic values of a strength class.

    Parameters
    ----------
    name : str
        C16 or C24 [-].

    Returns
    -------
    StrengthClass
        Values in SI [-].

    Examples
    --------
    >>> strength_class("C24").E_0_mean.value
    11000000000.0
    """
    if name not in en_338.CLASSES:
        raise InvalidInput(f"strength class {name}", " or ".join(en_338.CLASSES), where="name")
    return en_338.CLASSES[name]


@formula("f_d", "Pa", f"{en.SOURCE} (2.14)", "from memory")
def design_strength(
    f_k: float,
    k_mod: float,
    k_sys: float = en.NO_SHARING,
    k_h: float = 1.0,
    gamma_M: float = en.GAMMA_M,
) -> float:
    """Design strength of timber.

    Parameters
    ----------
    f_k : float
        Characteristic strength [Pa].
    k_mod, k_sys, k_h : float
        Factors of load duration, of load sharing, and in bending of depth [-].
    gamma_M : float
        Partial factor [-].

    Returns
    -------
    float
        Strength [Pa].

    Examples
    --------
    >>> design_strength(24.0e6, 0.8, 1.1)
    16246153.8
    """
    return k_mod * k_sys * k_h * f_k / gamma_M


@formula("k_h", "-", f"{en.SOURCE} (3.1)", "from memory")
def depth_factor(
    h: float,
    h_ref: float = en.K_H_HEIGHT,
    n: float = en.K_H_EXPONENT,
    most: float = en.K_H_MOST,
) -> float:
    """Depth factor on bending strength; 1 from 150 mm on.

    Parameters
    ----------
    h : float
        Depth of the joist [m].
    h_ref : float
        Depth from which strength no longer falls [m].
    n, most : float
        Exponent, limit of the factor [-].

    Returns
    -------
    float
        Factor [-].

    Examples
    --------
    >>> depth_factor(0.097), depth_factor(0.195)
    (1.0911, 1.0)
    """
    return max(min((h_ref / h) ** n, most), 1.0)  # type: ignore[no-any-return]


@formula("sigma_m", "Pa", f"{en.SOURCE} 6.1.6", "from memory")
def bending_stress(M: float, W: float) -> float:
    """Bending stress.

    Parameters
    ----------
    M : float
        Moment [Nm].
    W : float
        Section modulus [m3].

    Returns
    -------
    float
        Stress [Pa].

    Examples
    --------
    >>> bending_stress(3701.95, 5.0e-4)
    7403900.0
    """
    return M / W


@formula("tau", "Pa", f"{en.SOURCE} 6.1.7", "from memory")
def shear_stress(V: float, b: float, h: float, k_cr: float = en.K_CR) -> float:
    """Shear stress with cracks.

    Parameters
    ----------
    V : float
        Shear force [N].
    b, h : float
        Width, depth [m].
    k_cr : float
        Share of the width that is not cracked [-].

    Returns
    -------
    float
        Stress [Pa].

    Examples
    --------
    >>> shear_stress(3290.6, 0.075, 0.200)
    491134.3
    """
    return 3 * V / (2 * k_cr * b * h)


@formula("A_ef", "m2", f"{en.SOURCE} 6.1.5", "from memory")
def bearing_area(
    b: float,
    l: float,
    sides: float = 1,
    a: float = en.BEARING_SPREAD,
    spread: float = en.BEARING_SPREAD,
) -> float:
    """Area that counts in bearing across the grain.

    Parameters
    ----------
    b, l : float
        Width of the joist, length of the bearing [m].
    sides : float
        Number of free sides along the grain, 1 at the end of a joist [-].
    a : float
        Timber beyond the bearing on a free side [m].
    spread : float
        Most that counts on a free side [m].

    Returns
    -------
    float
        Area [m2].

    Examples
    --------
    >>> bearing_area(0.047, 0.075)
    0.004935
    """
    return b * (l + sides * min(spread, a, l))


@formula("sigma_c_90", "Pa", f"{en.SOURCE} 6.1.5", "from memory")
def bearing_stress(F: float, A_ef: float) -> float:
    """Stress across the grain at a bearing.

    Parameters
    ----------
    F : float
        Reaction [N].
    A_ef : float
        Area that counts [m2].

    Returns
    -------
    float
        Stress [Pa].

    Examples
    --------
    >>> bearing_stress(3290.6, 0.004935)
    666788.2
    """
    return F / A_ef


@formula("eta", "-", f"{en.SOURCE} (6.33)", "from memory")
def utilisation(sigma: float, f_d: float, k: float = 1.0) -> float:
    """Stress over strength.

    Parameters
    ----------
    sigma, f_d : float
        Stress, design strength [Pa].
    k : float
        k_crit in bending, k_c,90 in bearing [-].

    Returns
    -------
    float
        Utilisation; the check passes up to 1 [-].

    Examples
    --------
    >>> utilisation(7.403906e6, 16.246154e6)
    0.4557329
    """
    return sigma / (k * f_d)


@formula("u_fin", "m", f"{en.SOURCE} 2.2.3", "from memory")
def final_deflection(u_G: float, u_Q: float, k_def: float, psi_2: float = 0.0) -> float:
    """Deflection with creep.

    Parameters
    ----------
    u_G, u_Q : float
        Deflections by the permanent and by the variable load [m].
    k_def, psi_2 : float
        Creep factor, share of the variable load that lasts [-].

    Returns
    -------
    float
        Final deflection [m].

    Examples
    --------
    >>> final_deflection(0.004, 0.006, 0.8)
    0.0132
    """
    return u_G * (1 + k_def) + u_Q * (1 + psi_2 * k_def)

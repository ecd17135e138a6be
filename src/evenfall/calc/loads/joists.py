"""One joist under load: deflection and utilisations; an aid, not a structural design."""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.calc.loads import beams
from evenfall.calc.loads.lateral_buckling import (
    buckling_length,
    critical_stress,
    lateral_factor,
    relative_slenderness,
)
from evenfall.calc.loads.limits import positive
from evenfall.calc.loads.sections import area, second_moment, section_modulus
from evenfall.calc.loads.timber import (
    bearing_area,
    bearing_stress,
    bending_stress,
    depth_factor,
    design_strength,
    shear_stress,
    utilisation,
)
from evenfall.standards import en_338
from evenfall.standards import en_1995_1_1 as en
from evenfall.working import Known, Working, formula, total

Given = Known | Working | float


@formula("u", "m", "theory of beams, simply supported")
def with_shear(u_m: float, u_v: float) -> float:
    """Deflection by bending and shear together.

    Parameters
    ----------
    u_m, u_v : float
        Deflections by bending and by shear [m].

    Returns
    -------
    float
        Deflection [m].

    Examples
    --------
    >>> with_shear(0.0097079, 0.0002935)
    0.0100014
    """
    return u_m + u_v


@dataclass(frozen=True, slots=True)
class Joist:
    """A joist: width, depth and span in m, spacing in m, and its strength class."""

    b: Known | float
    h: Known | float
    L: Known | float
    spacing: Known | float
    timber: en_338.StrengthClass

    def __post_init__(self) -> None:
        for name in ("b", "h", "L", "spacing"):
            positive(name, getattr(self, name), "m")


def point_deflection(joist: Joist, P: Given) -> Working:
    """Deflection at mid-span at once under a point load there, bending and shear.

    Parameters
    ----------
    joist : Joist
        The joist [-].
    P : Known or Working or float
        Load [N].

    Returns
    -------
    Working
        Deflection [m].

    Examples
    --------
    >>> from evenfall.calc.loads.timber import strength_class
    >>> joist = Joist(0.075, 0.200, 3.2, 0.5, strength_class("C24"))
    >>> point_deflection(joist, 900.0).value
    0.0012006
    """
    timber, second = joist.timber, second_moment.show(joist.b, joist.h)
    return beams.point_deflection.show(
        P, joist.L, timber.E_0_mean, second, timber.G_mean, area.show(joist.b, joist.h)
    )


def deflection(joist: Joist, w: Given) -> Working:
    """Deflection at mid-span at once, bending and shear.

    Parameters
    ----------
    joist : Joist
        The joist [-].
    w : Known or Working or float
        Uniform load per length of joist [N/m].

    Returns
    -------
    Working
        Deflection [m].

    Examples
    --------
    >>> from evenfall.calc.loads.timber import strength_class
    >>> joist = Joist(0.075, 0.200, 4.5, 0.5, strength_class("C24"))
    >>> deflection(joist, 750.0).value
    0.007501048
    """
    timber = joist.timber
    second = second_moment.show(joist.b, joist.h)
    section = area.show(joist.b, joist.h)
    u_m = beams.bending_deflection.show(w, joist.L, timber.E_0_mean, second)
    return with_shear.show(u_m, beams.shear_deflection.show(w, joist.L, timber.G_mean, section))


@dataclass(frozen=True, slots=True)
class Stresses:
    """Utilisations of a joist at the ultimate limit state."""

    bending: Working
    shear: Working
    bearing: Working


def stresses(
    joist: Joist,
    w_d: Given,
    k_mod: Known,
    bearing_length: Known | float,
    k_sys: Known | float = en.NO_SHARING,
    free_length: Known | float | None = None,
    P_d: Given | None = None,
) -> Stresses:
    """Utilisations in bending, shear and bearing under a uniform design load and a point load.

    Parameters
    ----------
    joist : Joist
        The joist [-].
    w_d : Known or Working or float
        Design load per length of joist [N/m].
    k_mod : Known
        Factor of the load duration, `en_1995_1_1.K_MOD` [-].
    bearing_length : float
        Length of each bearing, at the end of the joist [m].
    k_sys : float
        Factor of load sharing [-].
    free_length : float, optional
        Length between lateral supports; None where the deck holds the compression edge [m].
    P_d : Known or Working or float, optional
        Design point load, where it is worst for each: at mid-span, at a bearing [N].

    Returns
    -------
    Stresses
        Each passes up to 1 [-].

    Examples
    --------
    >>> from evenfall.calc.loads.timber import strength_class
    >>> joist = Joist(0.075, 0.200, 4.5, 0.5, strength_class("C24"))
    >>> found = stresses(joist, 1462.5, en.K_MOD["medium"], 0.075, en.K_SYS)
    >>> found.bending.value, found.shear.value, found.bearing.value
    (0.4557, 0.1814, 0.2469)
    """
    positive("bearing_length", bearing_length, "m")
    M, V = beams.moment.show(w_d, joist.L), beams.shear.show(w_d, joist.L)
    if P_d is not None:
        at_mid = beams.moment_of_point.show(P_d, joist.L)
        M = total("Moment", "M", "Nm", (("even load", M), ("point load", at_mid)))
        V = total("Shear", "V", "N", (("even load", V), ("point load", P_d)))
    return uses(joist, M, V, k_mod, bearing_length, k_sys, free_length=free_length)


def uses(
    joist: Joist,
    M: Given,
    V: Given,
    k_mod: Known,
    bearing_length: Known | float,
    k_sys: Known | float = en.NO_SHARING,
    gamma_M: Known = en.GAMMA_M,
    free_length: Known | float | None = None,
) -> Stresses:
    """Utilisations in bending, shear and bearing under a moment and a reaction.

    Parameters
    ----------
    joist : Joist
        The joist [-].
    M, V : Known or Working or float
        Design moment [Nm], design reaction at the bearing, which is the shear there [N].
    k_mod : Known
        Factor of the load duration, `en_1995_1_1.K_MOD` [-].
    bearing_length : float
        Length of each bearing, at the end of the joist [m].
    k_sys, gamma_M : Known
        Factor of load sharing, partial factor of the material [-].
    free_length : float, optional
        Length between lateral supports; None where the deck holds the compression edge [m].

    Returns
    -------
    Stresses
        Each passes up to 1 [-].

    Examples
    --------
    >>> from evenfall.calc.loads.timber import strength_class
    >>> joist = Joist(0.075, 0.200, 4.5, 0.5, strength_class("C24"))
    >>> found = uses(joist, 3701.95, 3290.6, en.K_MOD["medium"], 0.075, en.K_SYS)
    >>> found.bending.value, found.shear.value, found.bearing.value
    (0.4557, 0.1814, 0.2469)
    """
    b, h, timber = joist.b, joist.h, joist.timber
    positive("bearing_length", bearing_length, "m")
    f_v_d = design_strength.show(timber.f_v_k, k_mod, k_sys, gamma_M=gamma_M)
    f_c_d = design_strength.show(timber.f_c_90_k, k_mod, k_sys, gamma_M=gamma_M)
    across = bearing_stress.show(V, bearing_area.show(b, bearing_length))
    return Stresses(
        bending_use(joist, M, k_mod, k_sys, gamma_M, free_length),
        utilisation.show(shear_stress.show(V, b, h), f_v_d),
        utilisation.show(across, f_c_d, en.K_C_90),
    )


def bending_use(
    joist: Joist,
    M: Given,
    k_mod: Known,
    k_sys: Known | float,
    gamma_M: Known,
    free_length: Given | None = None,
    share: Known = en.LENGTH_SHARE,
) -> Working:
    """Utilisation in bending under a moment.

    Parameters
    ----------
    joist : Joist
        The joist [-].
    M : Known or Working or float
        Design moment, 0 or more [Nm].
    k_mod, k_sys, gamma_M : Known
        Load duration, load sharing, partial factor of the material [-].
    free_length : Working or float, optional
        Length between lateral supports; None where the deck holds the compression edge [m].
    share : Known
        Share of that length that counts [-].

    Returns
    -------
    Working
        Passes up to 1 [-].

    Examples
    --------
    >>> from evenfall.calc.loads.timber import strength_class
    >>> joist = Joist(0.075, 0.200, 4.5, 0.5, strength_class("C24"))
    >>> bending_use(joist, 3701.95, en.K_MOD["medium"], en.K_SYS, en.GAMMA_M).value
    0.45573
    """
    sigma = bending_stress.show(M, section_modulus.show(joist.b, joist.h))
    k_h = depth_factor.show(joist.h)
    strength = design_strength.show(joist.timber.f_m_k, k_mod, k_sys, k_h, gamma_M)
    return utilisation.show(sigma, strength, _lateral(joist, free_length, share))


def _lateral(
    joist: Joist, free_length: Given | None, share: Known = en.LENGTH_SHARE
) -> Working | float:
    """Factor of lateral buckling, 1 where the compression edge is held."""
    if free_length is None:
        return 1.0
    positive("free_length", float(free_length), "m")
    l_ef = buckling_length.show(free_length, joist.h, share)
    sigma_crit = critical_stress.show(joist.b, joist.h, joist.timber.E_05, l_ef)
    return lateral_factor(relative_slenderness.show(joist.timber.f_m_k, sigma_crit))

"""Spans of flat-roof joists as the older tables hold them: BS 5268-7.2, no access."""

from __future__ import annotations

from math import floor

from evenfall.calc.loads import beams
from evenfall.calc.loads.limits import positive
from evenfall.calc.loads.sections import area, second_moment, section_modulus
from evenfall.standards import bs_5268 as old
from evenfall.standards import en_1991_1_1
from evenfall.working import formula


@formula("sigma_adm", "Pa", old.SOURCE, "from memory")
def permissible_bending(
    h: float,
    K_3: float,
    grade: float = old.BENDING,
    h_ref: float = old.K_7_HEIGHT,
    n: float = old.K_7_EXPONENT,
    K_8: float = old.SHARING,
) -> float:
    """Permissible bending stress of C16.

    Parameters
    ----------
    h, h_ref : float
        Depth of the joist, reference depth of K7 [m].
    K_3, K_8 : float
        Factors of load duration and of load sharing [-].
    grade : float
        Grade stress [Pa].
    n : float
        Exponent of K7 [-].

    Returns
    -------
    float
        Stress [Pa].

    Examples
    --------
    >>> permissible_bending(0.147, 1.25)
    7882373.3
    """
    return grade * (h_ref / h) ** n * K_8 * K_3  # type: ignore[no-any-return]


def span(b: float, h: float, spacing: float, dead: float, density: float) -> float:
    """Clear span of a C16 joist, the longest that deflection and bending allow.

    Parameters
    ----------
    b, h, spacing : float
        Width, depth, spacing of the joists [m].
    dead : float
        Dead load on the joists, the upper end of the table's band [Pa].
    density : float
        Density for the joist's own weight [kg/m3].

    Returns
    -------
    float
        Span, cut off to 0.01 m [m].

    Examples
    --------
    >>> span(0.047, 0.147, 0.400, 750.0, old.DENSITY_SC3)
    3.13
    """
    for name, value in (("b", b), ("h", h), ("spacing", spacing)):
        positive(name, value, "m")
    short, long = 0.0, 10.0**2
    while long - short > 1 / 10**6:
        L = (short + long) / 2
        if _holds(b, h, spacing, dead, density, L):
            short = L
        else:
            long = L
    return floor(short * 10**2) / 10**2


def _holds(b: float, h: float, spacing: float, dead: float, density: float, L: float) -> bool:
    """Whether a span passes with the distributed and with the point load."""
    own = b * h * density * en_1991_1_1.G
    lasting = dead * spacing + own
    A, second, W = area(b, h), second_moment(b, h), section_modulus(b, h)
    E, G = old.E_MEAN, old.E_MEAN / old.E_OVER_G

    def sag(w: float, P: float) -> float:
        spread = beams.bending_deflection(w, L, E, second) + beams.shear_deflection(w, L, G, A)
        return spread + beams.point_deflection(P, L, E, second, G, A)

    cases = (
        (lasting + old.IMPOSED * spacing, 0.0, old.LOAD_MEDIUM),
        (lasting, float(old.POINT), old.LOAD_SHORT),
    )
    return all(
        sag(w, P) <= old.DEFLECTION_SHARE * L
        and (beams.moment(w, L) + beams.moment_of_point(P, L)) / W <= permissible_bending(h, K_3)
        for w, P, K_3 in cases
    )

"""Simply supported beams under uniform and point loads."""

from __future__ import annotations

from evenfall.standards import en_1995_1_1
from evenfall.working import formula

_BEAM = "theory of beams, simply supported"


@formula("M", "Nm", _BEAM)
def moment(w: float, L: float) -> float:
    """Bending moment at mid-span under a uniform load.

    Parameters
    ----------
    w : float
        Load per length [N/m].
    L : float
        Span [m].

    Returns
    -------
    float
        Moment [Nm].

    Examples
    --------
    >>> moment(1462.5, 4.5)
    3701.95
    """
    return w * L**2 / 8


@formula("M", "Nm", _BEAM)
def moment_of_point(P: float, L: float) -> float:
    """Bending moment at mid-span under a point load there.

    Parameters
    ----------
    P : float
        Load [N].
    L : float
        Span [m].

    Returns
    -------
    float
        Moment [Nm].

    Examples
    --------
    >>> moment_of_point(900.0, 3.2)
    720.0
    """
    return P * L / 4


@formula("V", "N", _BEAM)
def shear(w: float, L: float) -> float:
    """Shear force at the support under a uniform load; also the reaction.

    Parameters
    ----------
    w : float
        Load per length [N/m].
    L : float
        Span [m].

    Returns
    -------
    float
        Force [N].

    Examples
    --------
    >>> shear(1462.5, 4.5)
    3290.6
    """
    return w * L / 2


@formula("u", "m", _BEAM)
def bending_deflection(w: float, L: float, E: float, I: float) -> float:
    """Deflection at mid-span by bending under a uniform load, 5wL^4/384EI.

    Parameters
    ----------
    w : float
        Load per length [N/m].
    L : float
        Span [m].
    E : float
        Modulus of elasticity [Pa].
    I : float
        Second moment of area [m4].

    Returns
    -------
    float
        Deflection [m].

    Examples
    --------
    >>> bending_deflection(1000.0, 4.5, 11.0e9, 5.0e-5)
    0.00970792
    """
    return 5 * w * L**4 / (384 * E * I)


@formula("u_v", "m", _BEAM)
def shear_deflection(
    w: float, L: float, G: float, A: float, form: float = en_1995_1_1.SHEAR_FORM
) -> float:
    """Deflection at mid-span by shear under a uniform load.

    Parameters
    ----------
    w : float
        Load per length [N/m].
    L : float
        Span [m].
    G : float
        Shear modulus [Pa].
    A : float
        Area of the section [m2].
    form : float
        Form factor [-].

    Returns
    -------
    float
        Deflection [m].

    Examples
    --------
    >>> shear_deflection(1000.0, 4.5, 690.0e6, 0.015)
    0.00029348
    """
    return form * w * L**2 / (8 * G * A)


@formula("u_P", "m", _BEAM)
def point_deflection(
    P: float,
    L: float,
    E: float,
    I: float,
    G: float,
    A: float,
    form: float = en_1995_1_1.SHEAR_FORM,
) -> float:
    """Deflection at mid-span under a point load there, bending and shear.

    Parameters
    ----------
    P : float
        Load [N].
    L : float
        Span [m].
    E : float
        Modulus of elasticity [Pa].
    I : float
        Second moment of area [m4].
    G : float
        Shear modulus [Pa].
    A : float
        Area of the section [m2].
    form : float
        Form factor [-].

    Returns
    -------
    float
        Deflection [m].

    Examples
    --------
    >>> point_deflection(900.0, 3.2, 11.0e9, 5.0e-5, 690.0e6, 0.015)
    0.0012006
    """
    return P * L**3 / (48 * E * I) + form * P * L / (4 * G * A)


@formula("phi", "rad", _BEAM)
def end_rotation(w: float, L: float, E: float, I: float) -> float:
    """Rotation at the support under a uniform load.

    Parameters
    ----------
    w : float
        Load per length [N/m].
    L : float
        Span [m].
    E : float
        Modulus of elasticity [Pa].
    I : float
        Second moment of area [m4].

    Returns
    -------
    float
        Angle [rad].

    Examples
    --------
    >>> end_rotation(1000.0, 4.5, 11.0e9, 5.0e-5)
    0.0069034
    """
    return w * L**3 / (24 * E * I)

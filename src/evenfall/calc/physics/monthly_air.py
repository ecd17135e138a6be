"""The air of twelve months on both sides of a roof (ISO 13788:2012)."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from numpy import clip

from evenfall.calc.physics.psychrometrics import vapour_pressure
from evenfall.errors import InvalidInput
from evenfall.standards import iso_13788
from evenfall.working import formula

_SOURCE = "ISO 13788:2012"


@formula("Δp", "Pa", f"{_SOURCE}, internal humidity classes", "from memory")
def excess_pressure(
    theta_e: float,
    excess: float,
    theta_full: float = iso_13788.EXCESS_FULL_AT,
    theta_none: float = iso_13788.EXCESS_NONE_AT,
) -> float:
    """Vapour pressure inside above that outside.

    Parameters
    ----------
    theta_e : float
        Temperature outside [C].
    excess : float
        Full excess of the humidity class [Pa].
    theta_full : float
        Temperature outside up to which the excess is full [C].
    theta_none : float
        Temperature outside from which there is none [C].

    Returns
    -------
    float
        Excess of the month [Pa].

    Examples
    --------
    >>> float(excess_pressure(5.0, 810.0))
    607.5
    """
    return excess * clip((theta_none - theta_e) / (theta_none - theta_full), 0, 1)  # type: ignore[no-any-return]


def internal_vapour_pressure(p_e: float, theta_e: float, excess: float) -> float:
    """Give the vapour pressure inside from that outside and a humidity class.

    Parameters
    ----------
    p_e : float
        Vapour pressure outside [Pa].
    theta_e : float
        Temperature outside [C].
    excess : float
        Full excess, ``iso_13788.HUMIDITY_CLASSES[n].excess`` [Pa].

    Returns
    -------
    float
        Vapour pressure inside [Pa].

    Examples
    --------
    >>> internal_vapour_pressure(713.9, 4.3, iso_13788.HUMIDITY_CLASSES[3].excess)
    1349.8

    References
    ----------
    ISO 13788:2012, internal humidity classes, from memory.
    """
    return float(p_e + excess_pressure(theta_e, excess))


class Month(NamedTuple):
    """Mean air of one month on both sides.

    Parameters
    ----------
    name : str
        Its name [-].
    days : int
        Its days [d].
    theta_e, theta_i : float
        Temperature outside and inside [C].
    p_e, p_i : float
        Vapour pressure outside and inside [Pa].
    """

    name: str
    days: int
    theta_e: float
    p_e: float
    theta_i: float
    p_i: float


def year_of(
    theta_e: Sequence[float], p_e: Sequence[float], theta_i: Sequence[float], p_i: Sequence[float]
) -> tuple[Month, ...]:
    """Put together twelve months from January to December.

    Parameters
    ----------
    theta_e, theta_i : sequence of float
        Temperatures outside and inside [C].
    p_e, p_i : sequence of float
        Vapour pressures outside and inside [Pa].

    Returns
    -------
    tuple of Month
        The year [-].

    Examples
    --------
    >>> year_of([5.0] * 12, [700.0] * 12, [20.0] * 12, [1200.0] * 12)[1]
    Month(name='Feb', days=28, theta_e=5.0, p_e=700.0, theta_i=20.0, p_i=1200.0)
    """
    if {len(column) for column in (theta_e, p_e, theta_i, p_i)} != {len(iso_13788.MONTHS)}:
        raise InvalidInput("another number of values", "12 of each", where="climate")
    rows = zip(iso_13788.MONTHS, iso_13788.DAYS, theta_e, p_e, theta_i, p_i, strict=True)
    return tuple(Month(*row) for row in rows)


def year_of_class(
    theta_e: Sequence[float], phi_e: Sequence[float], theta_i: float, excess: float
) -> tuple[Month, ...]:
    """Put together twelve months from the humidity outside and a humidity class inside.

    Parameters
    ----------
    theta_e : sequence of float
        Temperatures outside [C].
    phi_e : sequence of float
        Relative humidities outside as fractions [-].
    theta_i : float
        Temperature inside [C].
    excess : float
        Full excess of the humidity class [Pa].

    Returns
    -------
    tuple of Month
        The year [-].

    Examples
    --------
    >>> january = year_of_class([4.3] * 12, [0.86] * 12, 20.0, 810.0)[0]
    >>> january.p_e, january.p_i
    (713.9, 1349.8)

    References
    ----------
    ISO 13788:2012, internal humidity classes, from memory.
    """
    p_e = [vapour_pressure(theta, phi) for theta, phi in zip(theta_e, phi_e, strict=True)]
    p_i = [internal_vapour_pressure(p, t, excess) for p, t in zip(p_e, theta_e, strict=True)]
    return year_of(theta_e, p_e, [theta_i] * len(theta_e), p_i)

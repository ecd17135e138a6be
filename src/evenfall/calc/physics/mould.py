"""Mould at the inner surface: the temperature factor that the air asks for, and what a roof has."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from evenfall.calc.physics.monthly_air import Month
from evenfall.calc.physics.psychrometrics import saturation_temperature
from evenfall.errors import InvalidInput, OutOfScope
from evenfall.standards import iso_13788
from evenfall.working import Table, formula

_SOURCE = "ISO 13788:2012"


@formula("f_Rsi", "-", f"{_SOURCE}, temperature factor", "from memory")
def temperature_factor(theta_si: float, theta_e: float, theta_i: float) -> float:
    """Temperature factor of the inner surface.

    Parameters
    ----------
    theta_si : float
        Temperature of the inner surface [C].
    theta_e, theta_i : float
        Temperature outside and inside [C].

    Returns
    -------
    float
        Temperature factor, 1 for a surface as warm as the air inside [-].

    Examples
    --------
    >>> temperature_factor(16.0, 4.0, 20.0)
    0.75
    """
    return (theta_si - theta_e) / (theta_i - theta_e)


@formula("f_Rsi", "-", f"{_SOURCE}, plane element", "from memory")
def plane_factor(
    U: float,
    R_si: float = iso_13788.R_SI_MOULD,
    R_si_heat: float = iso_13788.R_SI_UPWARDS,
) -> float:
    """Temperature factor of a plane roof away from all bridges.

    Parameters
    ----------
    U : float
        Thermal transmittance [W/(m2K)].
    R_si : float
        Inner surface resistance for mould [m2K/W].
    R_si_heat : float
        Inner surface resistance with which ``U`` was worked out [m2K/W].

    Returns
    -------
    float
        Temperature factor [-].

    Examples
    --------
    >>> plane_factor(0.35)
    0.9169
    """
    return 1 - R_si / (1 / U - R_si_heat + R_si)


@formula("f_Rsi", "-", f"{_SOURCE}, plane element, short form", "from memory")
def plane_factor_short(U: float, R_si: float = iso_13788.R_SI_MOULD) -> float:
    """Temperature factor of a plane roof, the short form on the safe side.

    Parameters
    ----------
    U : float
        Thermal transmittance [W/(m2K)].
    R_si : float
        Inner surface resistance for mould [m2K/W].

    Returns
    -------
    float
        Temperature factor, lower than the exact one [-].

    Examples
    --------
    >>> plane_factor_short(0.35)
    0.9125
    """
    return 1 - R_si * U


def least_surface_temperature(p_i: float, humidity: float = iso_13788.MOULD_HUMIDITY) -> float:
    """Give the coldest inner surface at which the air stays below the humidity for mould.

    Parameters
    ----------
    p_i : float
        Vapour pressure inside [Pa].
    humidity : float
        Highest relative humidity at the surface as a fraction, more than 0, at most 1 [-].

    Returns
    -------
    float
        Temperature of the surface [C].

    Examples
    --------
    >>> least_surface_temperature(1349.8)
    14.84

    References
    ----------
    ISO 13788:2012, from memory; the same steps in BS 5250:2002 Annex D.2, published.
    """
    if not 0 < humidity <= 1:
        raise InvalidInput(f"humidity {humidity}", "more than 0, at most 1", where="surface")
    return saturation_temperature(p_i / humidity)


def required_factor(
    theta_e: float, theta_i: float, p_i: float, humidity: float = iso_13788.MOULD_HUMIDITY
) -> float:
    """Give the temperature factor that the air of a month asks for.

    Parameters
    ----------
    theta_e, theta_i : float
        Temperature outside and inside, colder outside [C].
    p_i : float
        Vapour pressure inside [Pa].
    humidity : float
        Highest relative humidity at the surface as a fraction [-].

    Returns
    -------
    float
        Least temperature factor; more than 1 cannot be built [-].

    Raises
    ------
    OutOfScope
        If it is not colder outside than inside.

    Examples
    --------
    >>> required_factor(4.3, 20.0, 1349.8)
    0.672

    References
    ----------
    ISO 13788:2012, from memory; the same steps in BS 5250:2002 Annex D.2, published.
    """
    if not theta_e < theta_i:
        raise OutOfScope("theta_e [C]", theta_e, f"below theta_i = {theta_i}", _SOURCE)
    return temperature_factor(least_surface_temperature(p_i, humidity), theta_e, theta_i)


@dataclass(frozen=True, slots=True)
class MouldDemand:
    """The temperature factor that a year asks for.

    Parameters
    ----------
    months : tuple of (str, float or None)
        Each month and its least factor, none where it is not colder outside [-].
    """

    months: tuple[tuple[str, float | None], ...]

    @property
    def governing_month(self) -> str:
        """The month that asks for most [-]."""
        return self._governing[0]

    @property
    def f_Rsi_min(self) -> float:
        """Least temperature factor of the year [-]."""
        return self._governing[1]

    @property
    def _governing(self) -> tuple[str, float]:
        return max(((name, f) for name, f in self.months if f is not None), key=lambda row: row[1])

    @property
    def table(self) -> Table:
        """The working: each month."""
        rows = tuple((name, "none" if f is None else f) for name, f in self.months)
        columns = (("month", "-"), ("f_Rsi,min", "-"))
        return Table("Temperature factor asked for", columns, rows, _SOURCE, "from memory")


def demand(months: Sequence[Month], humidity: float = iso_13788.MOULD_HUMIDITY) -> MouldDemand:
    """Work out the temperature factor that each month asks for, and which month governs.

    Parameters
    ----------
    months : sequence of Month
        Air on both sides [-].
    humidity : float
        Highest relative humidity at the surface as a fraction [-].

    Returns
    -------
    MouldDemand
        Factors of the year [-].

    Raises
    ------
    InvalidInput
        If no month is colder outside than inside.

    Examples
    --------
    >>> year = demand([Month("Jan", 31, 4.3, 713.9, 20.0, 1349.8),
    ...                Month("Feb", 28, 4.9, 727.3, 20.0, 1338.8)])
    >>> year.governing_month, year.f_Rsi_min
    ('Jan', 0.672)

    References
    ----------
    ISO 13788:2012, from memory.
    """
    if not any(m.theta_e < m.theta_i for m in months):
        raise InvalidInput("no month colder outside", "at least one", where="climate")
    return MouldDemand(
        tuple(
            (m.name, required_factor(m.theta_e, m.theta_i, m.p_i, humidity))
            if m.theta_e < m.theta_i
            else (m.name, None)
            for m in months
        )
    )

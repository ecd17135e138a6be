"""What a thicker board saves in a year, and how long until it has paid for itself."""

from __future__ import annotations

from evenfall.standards import sap_emissions
from evenfall.working import formula

PENCE = 100


@formula("Q", "kWh", "degree days, steady state")
def heat_lost(U: float, A: float, HDD: float) -> float:
    """Heat lost through the field in a year.

    Parameters
    ----------
    U : float
        Transmittance [W/(m2K)].
    A : float
        Area [m2].
    HDD : float
        Heating degree days [K d].

    Returns
    -------
    float
        Heat [kWh].

    Examples
    --------
    >>> heat_lost(0.16, 25.0, 2200)
    211.2
    """
    return U * A * HDD * 24 / 1000


@formula("saved", "pence", "arithmetic")
def money_saved(Q_before: float, Q_after: float, price: float) -> float:
    """Money saved in a year.

    Parameters
    ----------
    Q_before, Q_after : float
        Heat lost in a year [kWh].
    price : float
        Price of useful heat [pence/kWh].

    Returns
    -------
    float
        Saving [pence].

    Examples
    --------
    >>> money_saved(1200, 220, 8)
    7840
    """
    return (Q_before - Q_after) * price


@formula("m_CO2", "kg", "heat from mains gas", "from memory")
def carbon_saved(
    Q_before: float,
    Q_after: float,
    f: float = sap_emissions.MAINS_GAS,
    eta: float = sap_emissions.BOILER,
) -> float:
    """Carbon dioxide saved in a year, the house being heated with mains gas.

    Parameters
    ----------
    Q_before, Q_after : float
        Useful heat lost in a year [kWh].
    f : float
        Carbon dioxide of the fuel burnt [kg/kWh].
    eta : float
        Useful heat of the fuel burnt [-].

    Returns
    -------
    float
        Carbon dioxide [kg].

    Examples
    --------
    >>> round(carbon_saved(1200, 300), 6)
    210.0
    """
    return (Q_before - Q_after) * f / eta


def payback_years(more_pence: float, saved_kwh: float, price: float) -> float | None:
    """Give the simple payback of what is paid more.

    Parameters
    ----------
    more_pence : float
        What it costs more; less than 0 where it is cheaper [pence].
    saved_kwh : float
        Heat that it saves more, in a year [kWh].
    price : float
        Price of useful heat [pence/kWh].

    Returns
    -------
    float or None
        Years; 0 where nothing more is paid, none where nothing is saved [a].

    Examples
    --------
    >>> payback_years(4000, 50, 8), payback_years(-20, 5, 8), payback_years(4000, 0, 8)
    (10.0, 0.0, None)
    """
    if more_pence <= 0:
        return 0.0
    return float(more_pence / (saved_kwh * price)) if saved_kwh > 0 else None

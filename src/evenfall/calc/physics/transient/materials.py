"""What a layer holds of water and lets through, as tables that a time step can look up."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy import log as ln
from numpy.typing import NDArray

from evenfall.errors import InvalidInput
from evenfall.standards import en_15026, iso_13788, wood_moisture
from evenfall.working import formula

Array = NDArray[np.float64]
Curve = Callable[[Array], Array]

STEPS = 1500
"""Intervals of each table; four times as many move no answer by 0.05 %."""

FINER = 20
"""So many points of the curve to an interval of the table."""

DRIEST = 1e-4
"""Relative humidity below which a table is not told apart from dry."""


@dataclass(frozen=True, slots=True, eq=False)
class Material:
    """A material as the transient model sees it; tables run evenly from 0 to ``w_top``.

    Parameters
    ----------
    name : str
        What it is [-].
    heat_capacity : float
        Of the dry material [J/(m3K)].
    conductivity, conductivity_slope : float
        Dry, and what each kilogram of water adds [W/(m K)].
    w_top : float
        Water content at which the pores' air is saturated; more is free water [kg/m3].
    kelvin : array
        ``T ln(phi)`` at each water content: 0 is saturated [K].
    ease : array
        Vapour permeability as a share of that of still air, ``1 / mu`` [-].
    liquid : array
        Conductivity for liquid water [s].
    """

    name: str
    heat_capacity: float
    conductivity: float
    conductivity_slope: float
    w_top: float
    kelvin: Array
    ease: Array
    liquid: Array

    def __post_init__(self) -> None:
        """Refuse what no layer can be."""
        for what in ("heat_capacity", "conductivity", "w_top"):
            if not 0 < getattr(self, what) < np.inf:
                found = f"{what} {getattr(self, what)}"
                raise InvalidInput(found, "more than 0", where=self.name)
        if not (np.all(np.diff(self.kelvin) > 0) and np.all(self.ease > 0)):
            raise InvalidInput("a curve that falls", "more water, damper air", where=self.name)


@formula("w", "kg/m3", "H. M. Künzel, 1995, approximated storage", "from memory")
def stored(phi: Array, w_free: float, w_80: float, damp: float = en_15026.DAMP) -> Array:
    """Water held by a mineral or foamed material in equilibrium with air.

    Parameters
    ----------
    phi : array
        Relative humidity as a fraction [-].
    w_free, w_80 : float
        Water content at free saturation, and at 80 % relative humidity [kg/m3].
    damp : float
        That relative humidity [-].

    Returns
    -------
    array
        Water content [kg/m3].

    Examples
    --------
    >>> float(stored(0.8, 400.0, 6.0))
    6.0
    """
    return (
        w_free
        * (damp * (w_free - w_80) / (damp * w_free - w_80) - 1)
        * phi
        / (damp * (w_free - w_80) / (damp * w_free - w_80) - phi)
    )


@formula("M", "-", wood_moisture.SOURCE, "from memory")
def wood_equilibrium(
    phi: Array, W: float, K: float, K_1: float, K_2: float, molar: float = wood_moisture.MOLAR
) -> Array:
    """Moisture of wood in equilibrium with air, by dry mass.

    Parameters
    ----------
    phi : array
        Relative humidity as a fraction [-].
    W, K, K_1, K_2 : float
        Coefficients of the temperature, `wood_moisture.coefficients` [-].
    molar : float
        Molar mass of water [kg/kmol].

    Returns
    -------
    array
        Mass of water by mass of dry wood [-].

    Examples
    --------
    >>> float(wood_equilibrium(0.8, *wood_moisture.coefficients(20.0)))
    0.1604
    """
    return (
        molar
        / W
        * (
            K * phi / (1 - K * phi)
            + (K_1 * K * phi + 2 * K_1 * K_2 * K**2 * phi**2)
            / (1 + K_1 * K * phi + K_1 * K_2 * K**2 * phi**2)
        )
    )


def tabulated(
    name: str,
    rho_c: float,
    conductivity: tuple[float, float],
    held: Curve,
    ease: Curve,
    liquid: Curve | None = None,
    theta: float = en_15026.THETA_REFERENCE,
) -> Material:
    """Turn the curves of a material into its tables.

    Parameters
    ----------
    name : str
        What it is [-].
    rho_c : float
        Heat capacity of the dry material [J/(m3K)].
    conductivity : (float, float)
        Dry, and what each kg/m3 of water adds [W/(m K)].
    held : callable
        Water content of the relative humidity, rising [kg/m3].
    ease : callable
        Vapour permeability over that of still air, of the relative humidity [-].
    liquid : callable, optional
        Conductivity for liquid water, of the water content [s].
    theta : float
        Temperature at which ``held`` was measured [C].

    Returns
    -------
    Material
        With tables [-].

    Examples
    --------
    >>> quilt = tabulated("quilt", 2e4, (0.04, 0.0), lambda phi: 0.5 * phi, lambda phi: phi**0)
    >>> quilt.w_top, float(quilt.kelvin[-1])
    (0.5, 0.0)
    """
    suction = np.geomspace(-ln(DRIEST), 1e-7, FINER * STEPS)
    phi = np.append(np.exp(-suction), 1.0)
    w = held(phi)
    if not np.all(np.diff(w) > 0):
        raise InvalidInput("a storage curve that falls", "more water in damper air", where=name)
    grid = np.linspace(0.0, w[-1], STEPS + 1)
    log_phi = np.interp(grid, w, ln(phi))
    dry = grid < w[0]
    log_phi[dry] = ln(DRIEST) * (2 - grid[dry] / w[0])
    flows = np.zeros(STEPS + 1) if liquid is None else liquid(grid)
    return Material(
        name, rho_c, *conductivity, float(w[-1]), (theta + iso_13788.KELVIN) * log_phi,
        ease(np.exp(log_phi)), flows,
    )  # fmt: skip


def cups(mu_dry: float, mu_wet: float) -> Curve:
    """Join the dry and the wet cup: permeability rises straight between their mean humidities.

    Parameters
    ----------
    mu_dry, mu_wet : float
        Vapour resistance factors of the two cups [-].

    Returns
    -------
    callable
        Permeability over that of still air, of the relative humidity [-].

    Examples
    --------
    >>> [round(float(x), 4) for x in cups(50, 20)(np.array([0.1, 0.9]))]
    [0.02, 0.05]
    """
    at = [float(en_15026.CUP_DRY), float(en_15026.CUP_WET)]
    return lambda phi: np.interp(phi, at, [1 / mu_dry, 1 / mu_wet])

"""How cold a roof is: at the air by day, below it on a clear night."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from evenfall.standards import weather_practice as practice
from evenfall.working import formula

Array = NDArray[np.float64]


@formula("ε_0", "-", "Berdahl and Martin 1984", "from memory")
def clear_sky_emissivity(
    theta_d: Any,
    a: float = practice.SKY_0,
    b: float = practice.SKY_1,
    c: float = practice.SKY_2,
) -> Any:
    """Emissivity of the sky on a clear night.

    Parameters
    ----------
    theta_d : float or array
        Dew point of the air [C].
    a, b, c : float
        Constants of the formula [-].

    Returns
    -------
    float or array
        Emissivity [-].

    Examples
    --------
    >>> float(clear_sky_emissivity(5.0))
    0.7408
    """
    return a + b * (theta_d / 100) + c * (theta_d / 100) ** 2


@formula("ε_sky", "-", "clouds radiate as the air below them", "planning seed")
def sky_emissivity(eps_0: Any, N: Any) -> Any:
    """Emissivity of a sky that is partly clouded.

    Parameters
    ----------
    eps_0 : float or array
        Emissivity of the clear sky [-].
    N : float or array
        Share of the sky under cloud, 0 to 1 [-].

    Returns
    -------
    float or array
        Emissivity [-].

    Examples
    --------
    >>> float(sky_emissivity(0.74, 0.5))
    0.87
    """
    return eps_0 + (1 - eps_0) * N


@formula("Δθ", "K", "balance of a roof that gets no heat from below", "from memory")
def below_air(
    T: Any,
    eps_sky: Any,
    v: Any,
    eps: float = practice.EMISSIVITY,
    sigma: float = practice.STEFAN_BOLTZMANN,
    h_0: float = practice.FILM_STILL,
    h_v: float = practice.FILM_WIND,
) -> Any:
    """Depth of a surface below the air at night: radiation to the sky against the film of air.

    Parameters
    ----------
    T : float or array
        Temperature of the air [K].
    eps_sky : float or array
        Emissivity of the sky [-].
    v : float or array
        Wind at the roof [m/s].
    eps : float
        Emissivity of the roof [-].
    sigma : float
        Stefan-Boltzmann constant [W/(m2K4)].
    h_0 : float
        Film in still air [W/(m2K)].
    h_v : float
        Film for each metre a second [W s/(m3K)].

    Returns
    -------
    float or array
        Depth [K].

    Examples
    --------
    >>> float(below_air(283.15, 0.74, 0.0))
    9.878
    """
    return eps * sigma * T**4 * (1 - eps_sky) / (h_0 + h_v * v + 4 * eps * sigma * T**3)


def surface(air: Array, dew: Array, cloud: Array, wind: Array, sun: NDArray[np.bool_]) -> Array:
    """Give the temperature of the roof hour by hour, on the cold side.

    By day the sun is not counted: the roof is taken at the air. At night, and while the sun is
    low, it lies below the air by what it gives to the sky; no heat from the house is counted.

    Parameters
    ----------
    air, dew : array
        Temperature of the air and its dew point [C].
    cloud : array
        Share of the sky under cloud, 0 to 1 [-].
    wind : array
        Wind as forecast, at 10 m in the open [m/s].
    sun : array of bool
        Hours in which the sun stands high enough to count [-].

    Returns
    -------
    array
        Temperature of the surface [C].

    Examples
    --------
    >>> a = np.array([6.0, 6.0])
    >>> s = surface(a, a - 2, np.zeros(2), np.ones(2), np.array([True, False]))
    >>> [f"{v:.1f}" for v in s]
    ['6.0', '-1.9']

    References
    ----------
    Film of ISO 6946:2017 Annex C and sky of Berdahl and Martin (1984), both from memory.
    """
    sky = sky_emissivity(clear_sky_emissivity(dew), cloud)
    depth = below_air(air + practice.KELVIN, sky, practice.SHELTER * wind)
    return np.asarray(np.where(sun, air, air - depth))

"""Moist air: saturation pressure, dew point, vapour content (ISO 13788:2012 Annex E)."""

from __future__ import annotations

from typing import Any, overload

import numpy as np
from numpy import exp
from numpy import log as ln
from numpy.typing import NDArray

from evenfall.errors import InvalidInput, OutOfScope
from evenfall.standards import iso_13788
from evenfall.working import formula

Array = NDArray[np.float64]

_SOURCE = "ISO 13788:2012 Annex E"


@formula("p_sat", "Pa", f"{_SOURCE}, over water", "from memory")
def saturation_over_water(
    theta: Any,
    p_0: float = iso_13788.P_SAT_0,
    a: float = iso_13788.WATER_FACTOR,
    b: float = iso_13788.WATER_OFFSET,
) -> Any:
    """Saturation pressure over water.

    Parameters
    ----------
    theta : float or array
        Temperature, 0 or more [C].
    p_0 : float
        Saturation pressure at 0 C [Pa].
    a : float
        Factor [-].
    b : float
        Offset [K].

    Returns
    -------
    float or array
        Saturation vapour pressure [Pa].

    Examples
    --------
    >>> float(saturation_over_water(20.0))
    2336.95
    """
    return p_0 * exp(a * theta / (b + theta))


@formula("p_sat", "Pa", f"{_SOURCE}, over ice", "from memory")
def saturation_over_ice(
    theta: Any,
    p_0: float = iso_13788.P_SAT_0,
    a: float = iso_13788.ICE_FACTOR,
    b: float = iso_13788.ICE_OFFSET,
) -> Any:
    """Saturation pressure over ice.

    Parameters
    ----------
    theta : float or array
        Temperature, 0 or less [C].
    p_0 : float
        Saturation pressure at 0 C [Pa].
    a : float
        Factor [-].
    b : float
        Offset [K].

    Returns
    -------
    float or array
        Saturation vapour pressure [Pa].

    Examples
    --------
    >>> float(saturation_over_ice(-20.0))
    102.74
    """
    return p_0 * exp(a * theta / (b + theta))


@formula("θ_sat", "C", f"{_SOURCE}, inverse", "from memory")
def saturation_inverse(p: Any, a: Any, b: Any, p_0: float = iso_13788.P_SAT_0) -> Any:
    """Temperature at which a vapour pressure is the saturation pressure.

    Parameters
    ----------
    p : float or array
        Vapour pressure [Pa].
    a : float or array
        Factor, of water above ``p_0`` and of ice below [-].
    b : float or array
        Offset, of water above ``p_0`` and of ice below [K].
    p_0 : float
        Saturation pressure at 0 C [Pa].

    Returns
    -------
    float or array
        Temperature [C].

    Examples
    --------
    >>> float(saturation_inverse(2336.95, 17.269, 237.3))
    20.000
    """
    return b * ln(p / p_0) / (a - ln(p / p_0))


@overload
def saturation_pressure(theta: float) -> float: ...
@overload
def saturation_pressure(theta: Array) -> Array: ...
def saturation_pressure(theta: float | Array) -> float | Array:
    """Give the saturation pressure of water vapour, over ice below 0 C.

    Parameters
    ----------
    theta : float or array
        Temperature, above -237.3 [C].

    Returns
    -------
    float or array
        Saturation vapour pressure [Pa].

    Examples
    --------
    >>> saturation_pressure(20.0), saturation_pressure(-20.0)
    (2336.95, 102.74)

    References
    ----------
    ISO 13788:2012 Annex E, from memory; within 0.15 % of ASHRAE from 0 to 30 C.
    """
    if not np.all(theta > -iso_13788.WATER_OFFSET):
        limit = f"above {-iso_13788.WATER_OFFSET.value}"
        raise OutOfScope("temperature [C]", np.min(theta), limit, _SOURCE)
    if isinstance(theta, np.ndarray):
        warm, cold = saturation_over_water(theta), saturation_over_ice(theta)
        return np.asarray(np.where(theta >= 0, warm, cold))
    return float(saturation_over_water(theta) if theta >= 0 else saturation_over_ice(theta))


@overload
def saturation_temperature(p: float) -> float: ...
@overload
def saturation_temperature(p: Array) -> Array: ...
def saturation_temperature(p: float | Array) -> float | Array:
    """Give the temperature at which a vapour pressure saturates.

    Parameters
    ----------
    p : float or array
        Vapour pressure, more than 0 [Pa].

    Returns
    -------
    float or array
        Temperature [C].

    Examples
    --------
    >>> saturation_temperature(2336.95), saturation_temperature(102.74)
    (20.000, -20.00)

    References
    ----------
    ISO 13788:2012 Annex E, from memory.
    """
    if not np.all(p > 0):
        raise InvalidInput(f"{np.min(p)} Pa", "a vapour pressure of more than 0", where="pressure")
    warm = p >= iso_13788.P_SAT_0
    a = np.where(warm, iso_13788.WATER_FACTOR, iso_13788.ICE_FACTOR)
    b = np.where(warm, iso_13788.WATER_OFFSET, iso_13788.ICE_OFFSET)
    theta: Array = saturation_inverse(p, a, b)
    return theta if isinstance(p, np.ndarray) else float(theta)


@overload
def vapour_pressure(theta: float, phi: float) -> float: ...
@overload
def vapour_pressure(theta: Array, phi: float | Array) -> Array: ...
def vapour_pressure(theta: float | Array, phi: float | Array) -> float | Array:
    """Give the vapour pressure of air.

    Parameters
    ----------
    theta : float or array
        Temperature [C].
    phi : float or array
        Relative humidity as a fraction, 0 to 1 [-].

    Returns
    -------
    float or array
        Vapour pressure [Pa].

    Examples
    --------
    >>> vapour_pressure(4.3, 0.86)
    713.9

    References
    ----------
    ISO 13788:2012 Annex E, from memory.
    """
    p: float | Array = _vapour_pressure(theta, phi)
    return p


def _vapour_pressure(theta: Any, phi: Any) -> Any:
    if not (np.all(phi >= 0) and np.all(phi <= 1)):
        raise InvalidInput(f"humidity {phi}", "a fraction from 0 to 1", where="relative humidity")
    return phi * saturation_pressure(theta)


@overload
def dew_point(theta: float, phi: float) -> float: ...
@overload
def dew_point(theta: Array, phi: float | Array) -> Array: ...
def dew_point(theta: float | Array, phi: float | Array) -> float | Array:
    """Give the temperature below which a surface sweats in air of a humidity.

    Parameters
    ----------
    theta : float or array
        Temperature of the air [C].
    phi : float or array
        Relative humidity as a fraction, more than 0 and at most 1 [-].

    Returns
    -------
    float or array
        Dew point [C].

    Examples
    --------
    >>> dew_point(20.0, 0.55)
    10.69

    References
    ----------
    ISO 13788:2012 Annex E, from memory.
    """
    point: float | Array = saturation_temperature(_vapour_pressure(theta, phi))
    return point


@formula("v", "kg/m3", "ideal gas")
def vapour_density(
    p: Any,
    theta: Any,
    R_v: float = iso_13788.GAS_CONSTANT,
    kelvin: float = iso_13788.KELVIN,
) -> Any:
    """Mass of vapour in a volume of air.

    Parameters
    ----------
    p : float or array
        Vapour pressure [Pa].
    theta : float or array
        Temperature [C].
    R_v : float
        Gas constant of water vapour [J/(kg K)].
    kelvin : float
        Zero of the Celsius scale [K].

    Returns
    -------
    float or array
        Absolute humidity [kg/m3].

    Examples
    --------
    >>> vapour_density(2336.95, 20.0)
    0.01727
    """
    return p / (R_v * (theta + kelvin))


@overload
def absolute_humidity(theta: float, phi: float) -> float: ...
@overload
def absolute_humidity(theta: Array, phi: float | Array) -> Array: ...
def absolute_humidity(theta: float | Array, phi: float | Array) -> float | Array:
    """Give the mass of vapour in a volume of air of a humidity.

    Parameters
    ----------
    theta : float or array
        Temperature of the air [C].
    phi : float or array
        Relative humidity as a fraction, 0 to 1 [-].

    Returns
    -------
    float or array
        Absolute humidity [kg/m3].

    Examples
    --------
    >>> absolute_humidity(20.0, 0.5)
    0.008636

    References
    ----------
    ISO 13788:2012 Annex E, from memory; ideal gas.
    """
    density: float | Array = vapour_density(_vapour_pressure(theta, phi), theta)
    return density

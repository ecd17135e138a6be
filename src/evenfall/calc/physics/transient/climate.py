"""Air hour by hour: from monthly means, or hours that somebody brings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy import cos, pi

from evenfall.calc.physics.monthly_air import Month
from evenfall.calc.physics.psychrometrics import saturation_pressure
from evenfall.calc.physics.transient.materials import Array
from evenfall.calc.physics.transient.steps import Air
from evenfall.errors import InvalidInput

DAY = 24
"""Hours."""

WARMEST_AT = 15
"""Hour of the day at which the swing of the day is at its top."""


@dataclass(slots=True, eq=False)
class Hours:
    """Air of every hour of a year or of several, gone through again and again.

    Parameters
    ----------
    theta_e, theta_i : array
        Temperature outside and inside, a value for each hour [C].
    p_e, p_i : array
        Vapour pressure outside and inside, a value for each hour [Pa].
    """

    theta_e: Array
    p_e: Array
    theta_i: Array
    p_i: Array
    _sums: Array = field(init=False)

    def __post_init__(self) -> None:
        """Refuse hours that are missing or no number."""
        told = [np.asarray(a, dtype=float) for a in
                (self.theta_e, self.p_e, self.theta_i, self.p_i)]  # fmt: skip
        if len({a.shape for a in told}) != 1 or told[0].ndim != 1 or not told[0].size:
            raise InvalidInput(
                "columns of another length", "a value for each hour", where="climate"
            )
        if not all(np.all(np.isfinite(a)) for a in told):
            raise InvalidInput(
                "an hour that is no number", "a value for each hour", where="climate"
            )
        for p, theta in ((told[1], told[0]), (told[3], told[2])):
            if not (np.all(p >= 0) and np.all(p <= saturation_pressure(theta) * (1 + 1e-3))):
                raise InvalidInput("air damper than 100 %", "0 to 100 %", where="climate")
        self.theta_e, self.p_e, self.theta_i, self.p_i = told
        self._sums = np.concatenate([np.zeros((4, 1)), np.cumsum(told, axis=1)], axis=1)

    def mean(self, start: int, end: int) -> Air:
        """Give the mean air between two hours.

        Parameters
        ----------
        start, end : int
            Hours since the beginning of the first year; the end is not included [h].

        Returns
        -------
        Air
            Mean of each value [-].
        """
        return Air(*((self._sum(end) - self._sum(start)) / (end - start)).tolist())

    def _sum(self, hour: int) -> Array:
        whole, rest = divmod(hour, self.theta_e.size)
        total: Array = whole * self._sums[:, -1] + self._sums[:, rest]
        return total


def from_months(months: Sequence[Month], swing: float = 0.0) -> Hours:
    """Make a year of hours from monthly means: straight between the middles of the months.

    Parameters
    ----------
    months : sequence of Month
        January to December [-].
    swing : float
        Half the difference between the warmest and the coldest hour of a day outside [K].

    Returns
    -------
    Hours
        One year; the air outside is never damper than saturated [-].

    Examples
    --------
    >>> from evenfall.calc.physics.monthly_air import year_of
    >>> year = from_months(year_of([2.0] * 6 + [14.0] * 6, [650.0] * 12, [20.0] * 12, [900.0] * 12))
    >>> year.theta_e.size, round(float(year.theta_e.mean()), 2)
    (8760, 8.04)
    """
    days = np.array([m.days for m in months], dtype=float)
    middle = (np.cumsum(days) - days / 2) * DAY
    year = int(days.sum()) * DAY
    at = np.arange(year) + 0.5

    def through(name: str) -> Array:
        values = np.array([getattr(m, name) for m in months])
        found: Array = np.interp(at, middle, values, period=year)
        return found

    theta_e = through("theta_e") + swing * cos(2 * pi * (at - WARMEST_AT) / DAY)
    p_e = np.minimum(through("p_e"), saturation_pressure(theta_e))
    theta_i = through("theta_i")
    p_i = np.minimum(through("p_i"), saturation_pressure(theta_i))
    return Hours(theta_e, p_e, theta_i, p_i)

"""One step of heat and one of water, implicit and conservative: two tridiagonal systems.

Water is carried as water content, not as humidity: what leaves a cell enters the next, to the
rounding of the machine. Heat comes first, with the latent heat of the vapour linearised in the
temperature; what the vapour then really carried is made up for in the next step. Several starts
of one roof are worked side by side as one system whose blocks do not touch. A step that would take
more water than a cell holds is gone by halves.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np
from scipy.linalg.lapack import dgtsv

from evenfall.calc.physics.psychrometrics import saturation_pressure
from evenfall.calc.physics.transient.materials import STEPS, Array
from evenfall.calc.physics.transient.section import Section
from evenfall.errors import OutOfScope
from evenfall.standards import en_15026, iso_13788

COLDEST = -60.0
"""Lower end of the table of saturation pressure [C]: colder than any roof."""

WARMEST = 90.0
"""Its upper end [C]: warmer than any."""

PER_KELVIN = 8
"""Fineness of that table; straight between, it is 0.02 % off at most."""

KEEP = 4
"""Steps for which the conductances are kept: they follow the water, which follows slowly."""


class Air(NamedTuple):
    """Air on both sides during a step.

    Parameters
    ----------
    theta_e, theta_i : float
        Temperature outside and inside [C].
    p_e, p_i : float
        Vapour pressure outside and inside [Pa].
    """

    theta_e: float
    p_e: float
    theta_i: float
    p_i: float


def _saturation() -> tuple[Array, Array]:
    theta = np.arange(COLDEST, WARMEST, 1 / PER_KELVIN)
    p = saturation_pressure(theta)
    slope = np.diff(p) * PER_KELVIN
    return slope, p[:-1] - slope * theta[:-1]


_SLOPE, _START = _saturation()
_DIFFUSION = float(en_15026.DIFFUSION / iso_13788.GAS_CONSTANT)
_PRESSURE = float(en_15026.WATER_DENSITY * iso_13788.GAS_CONSTANT)
_KELVIN = float(iso_13788.KELVIN)
_LATENT, _WATER_HEAT = float(en_15026.LATENT_HEAT), float(en_15026.WATER_HEAT)


@dataclass(slots=True, eq=False)
class State:
    """Temperature and water of every cell, a row for each start; a step changes it in place.

    Parameters
    ----------
    section : Section
        The roof [-].
    theta : array
        Temperature of the cells [C].
    w : array
        Water content of the cells [kg/m3].
    """

    section: Section
    theta: Array
    w: Array
    age: int = 0
    gained: Array = field(init=False)  # water that came in through the two faces, kg/m2
    heated: Array = field(init=False)  # heat that came in, with its latent part, J/m2
    _owed: Array = field(init=False)
    _G: Array = field(init=False)
    _V: Array = field(init=False)
    _L: Array = field(init=False)
    _H: Array = field(init=False)  # latent heat through each face for each pascal
    _sums: tuple[Array, Array, Array] = field(init=False)  # of both faces: heat, latent, vapour
    _wet: bool = field(init=False)
    _above: Array = field(init=False)
    _below: Array = field(init=False)

    def __post_init__(self) -> None:
        """Make room for what the steps reuse."""
        rows, n = self.w.shape
        self.gained, self.heated = np.zeros(rows), np.zeros(rows)
        self._owed = np.zeros((rows, n))
        self._G, self._V, self._L = (np.zeros((rows, n + 1)) for _ in range(3))
        self._wet = bool(np.any(self.section.tables[3]))
        self._above, self._below = np.zeros((rows, n)), np.zeros((rows, n))

    def step(self, dt: float, air: Air) -> Array:
        """Go on by one step.

        Parameters
        ----------
        dt : float
            Its length [s].
        air : Air
            Mean air of the step [-].

        Returns
        -------
        array
            Water that each cell gained [kg/m3].

        Raises
        ------
        OutOfScope
            A step so long that the heat of its vapour takes a light layer out of all weather.
        """
        kept = self.theta.copy(), self._owed, self.gained.copy(), self.heated.copy()
        gain = self._tried(dt, air)
        after = self.w + gain
        if after.min() < 0:  # the step would take more than there is: go by halves
            self.theta, self._owed, self.gained, self.heated = kept
            return self.step(dt / 2, air) + self.step(dt / 2, air)
        self.w = after
        return gain

    def _tried(self, dt: float, air: Air) -> Array:
        s, w = self.section, self.w
        k = np.minimum((w * s.per_w).astype(np.intp), STEPS)
        k += s.rows
        slope = s.tables[0].take(k)
        kelvin = s.tables[1].take(k)
        kelvin += slope * w
        if self.age % KEEP == 0 or self._wet:
            self._conduct(k)
        self.age += 1
        absolute = self.theta + _KELVIN
        phi = np.exp(kelvin / absolute)
        self._heat(dt, air, phi)
        if not (self.theta.min() > COLDEST and self.theta.max() < WARMEST):
            far = max(self.theta.min(), self.theta.max(), key=abs)
            asked = f"{COLDEST:.0f} to {WARMEST:.0f} C; take shorter steps"
            raise OutOfScope("temperature of a cell", float(far), asked, "EN 15026")
        p_sat, _ = _saturated(self.theta)
        phi *= p_sat
        return self._water(dt, air, phi, phi * slope / absolute, kelvin, slope)

    def owed(self) -> Array:
        """Give the latent heat that the next step will make up for.

        Returns
        -------
        array
            One for each start [J/m2].
        """
        total: Array = self._owed.sum(axis=1)
        return total

    def _conduct(self, k: np.ndarray) -> None:
        """Set the conductances of all faces for heat, vapour and liquid."""
        s = self.section
        half = s.d / (2 * s.conductivity + 2 * s.slope * self.w)
        far = (self.theta + _KELVIN) * (s.d / 2)
        far *= s.tables[2].take(k)
        at = float(en_15026.THETA_REFERENCE) + _KELVIN
        _across(self._G, half, s.R)
        np.reciprocal(self._G, out=self._G)
        _across(self._V, far, s.s_d * at)
        np.divide(_DIFFUSION, self._V, out=self._V)
        self._H = _LATENT * self._V
        G, H, V = self._G, self._H, self._V
        self._sums = G[:, :-1] + G[:, 1:], H[:, :-1] + H[:, 1:], V[:, :-1] + V[:, 1:]
        if self._wet:
            K = s.tables[3].take(k)
            inner = (K[:, :-1] + K[:, 1:]) / (s.d[:-1] + s.d[1:])
            self._L[:, 1:-1] = np.where(s.tight[1:-1], 0.0, inner)

    def _heat(self, dt: float, air: Air, phi: Array) -> None:
        """Solve for the temperature, vapour carrying its latent heat along."""
        s, G = self.section, self._G
        p_sat, rise = _saturated(self.theta)
        p_sat *= phi
        rise *= phi
        H, (G_both, H_both, _) = self._H, self._sums
        store = s.heat + _WATER_HEAT * self.w
        store *= s.d / dt
        flow = _inflow(G, self.theta, air.theta_e, air.theta_i)
        flow += _inflow(H, p_sat, air.p_e, air.p_i)
        flow += self._owed / dt
        diagonal = store + G_both
        diagonal += H_both * rise
        H_in, G_in = H[:, 1:-1], G[:, 1:-1]
        above = -H_in * rise[:, 1:]
        above -= G_in
        below = -H_in * rise[:, :-1]
        below -= G_in
        change = self._solve(diagonal, above, below, flow)
        self.theta += change
        p_sat += rise * change
        self._told(dt, air, p_sat)
        self._owed = -dt * _inflow(H, p_sat, air.p_e, air.p_i)

    def _told(self, dt: float, air: Air, p: Array) -> None:
        G, theta = self._G, self.theta
        came = G[:, 0] * (air.theta_e - theta[:, 0]) + G[:, -1] * (air.theta_i - theta[:, -1])
        self.heated += dt * came

    def _water(
        self, dt: float, air: Air, p: Array, p_w: Array, kelvin: Array, slope: Array
    ) -> Array:
        """Solve for the water gained; vapour follows its pressure, liquid the suction."""
        s, V = self.section, self._V
        diagonal = self._sums[2] * p_w
        diagonal += s.d / dt
        V_in = -V[:, 1:-1]
        above = V_in * p_w[:, 1:]
        below = V_in * p_w[:, :-1]
        flow = _inflow(V, p, air.p_e, air.p_i)
        if self._wet:
            L, slope = self._L * _PRESSURE, slope
            diagonal += (L[:, :-1] + L[:, 1:]) * slope
            above -= L[:, 1:-1] * slope[:, 1:]
            below -= L[:, 1:-1] * slope[:, :-1]
            flow += _inflow(L, kelvin, 0.0, 0.0)
        gain = self._solve(diagonal, above, below, flow)
        p = p + p_w * gain
        came = V[:, 0] * (air.p_e - p[:, 0]) + V[:, -1] * (air.p_i - p[:, -1])
        self.gained += dt * came
        self.heated += _LATENT * dt * came
        self._owed += dt * _inflow(self._H, p, air.p_e, air.p_i)
        return gain

    def _solve(self, diagonal: Array, above: Array, below: Array, flow: Array) -> Array:
        """Solve all starts as one system; the corners between two starts stay 0."""
        if diagonal.size == 1:
            return flow / diagonal
        self._above[:, :-1] = above
        self._below[:, :-1] = below
        low, high = self._below.ravel()[:-1], self._above.ravel()[:-1]
        solved: Array = dgtsv(low, diagonal.ravel(), high, flow.ravel(), 1, 1, 1, 1)[3]
        return solved.reshape(diagonal.shape)


def _saturated(theta: Array) -> tuple[Array, Array]:
    """Saturation pressure and its slope."""
    k = ((theta - COLDEST) * PER_KELVIN).astype(np.intp)
    slope = _SLOPE.take(k)
    return _START.take(k) + slope * theta, slope


def _across(out: Array, half: Array, between: Array) -> None:
    """Add the resistances from middle to middle of neighbours, and to the air."""
    out[:, 0] = half[:, 0]
    out[:, -1] = half[:, -1]
    np.add(half[:, :-1], half[:, 1:], out=out[:, 1:-1])
    out += between


def _inflow(G: Array, potential: Array, outside: float, inside: float) -> Array:
    """Give what flows into each cell."""
    n = potential.shape[1]
    F = np.empty((potential.shape[0], n + 1))
    F[:, 0] = outside - potential[:, 0]
    F[:, -1] = potential[:, -1] - inside
    np.subtract(potential[:, :-1], potential[:, 1:], out=F[:, 1:-1])
    F *= G
    return F[:, :-1] - F[:, 1:]

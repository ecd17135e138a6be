"""The vapour pressure through a roof in one month: a taut string under the saturation pressure.

The string is the lower convex hull of the points (s', p_sat) between the air outside and the air
inside (ISO 13788:2012); a plane that holds water pins it. ``s'`` is the vapour resistance from the
outside, as the thickness of still air [m].
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from evenfall.calc.physics.monthly_air import Month
from evenfall.calc.physics.psychrometrics import saturation_pressure
from evenfall.errors import InvalidInput
from evenfall.standards import iso_12572, iso_13788


class VapourLayer(NamedTuple):
    """A layer as the monthly method sees it; a plain tuple of the same order does as well.

    Parameters
    ----------
    name : str
        What it is [-].
    R : float
        Thermal resistance [m2K/W].
    s_d : float
        Equivalent air-layer thickness [m].
    """

    name: str
    R: float
    s_d: float


@dataclass(frozen=True, slots=True)
class Plane:
    """A place inside the roof where water may gather.

    Parameters
    ----------
    name : str
        ``membrane | board`` between two layers, ``board 3/22`` inside one [-].
    R : float
        Thermal resistance between it and the air outside [m2K/W].
    s : float
        Vapour resistance between it and the outside [m].
    """

    name: str
    R: float
    s: float


class VapourRoof:
    """The planes of a roof: the ends of all slices, but for its two faces.

    Parameters
    ----------
    layers : list of VapourLayer
        From outside to inside [m].
    R_si, R_se : float
        Surface resistances inside and outside [m2K/W].
    slice_resistance : float
        Largest resistance of a slice of a layer [m2K/W].

    Raises
    ------
    InvalidInput
        If a layer has a negative or endless resistance.
    """

    def __init__(
        self,
        layers: list[VapourLayer],
        R_si: float = iso_13788.R_SI_UPWARDS,
        R_se: float = iso_13788.R_SE,
        slice_resistance: float = iso_13788.SLICE_RESISTANCE,
    ) -> None:
        _check(layers)
        ends = [*_slices(layers, R_se, slice_resistance)]
        self.R_T = ends[-1].R + R_si
        self.s_T = ends[-1].s
        self._ends = ends[:-1]
        s = np.array([plane.s for plane in self._ends])
        first = np.flatnonzero(np.diff(s, prepend=-1.0) > 0)
        self._first = first  # planes with no vapour resistance between them are one
        at = [self._ends[i] for i in first]
        self._inside = [j for j, plane in enumerate(at) if 0 < plane.s < self.s_T]
        self.planes = tuple(at[j] for j in self._inside)

    def flows(self, months: Sequence[Month], delta_0: float) -> list[Flow]:
        """Make the flow of each month, a function of the water held.

        Parameters
        ----------
        months : sequence of Month
            Air on both sides [-].
        delta_0 : float
            Vapour permeability of air [kg/(m s Pa)].

        Returns
        -------
        list of Flow
            One for each month [-].
        """
        out, inn = (
            np.array([[getattr(m, side)] for m in months]) for side in ("theta_e", "theta_i")
        )
        share = np.array([plane.R / self.R_T for plane in self._ends])
        p_sat = saturation_pressure(out + share * (inn - out))
        p_sat = np.minimum.reduceat(p_sat, self._first, axis=1)[:, self._inside]
        s = [0.0, *(plane.s for plane in self.planes), self.s_T]
        return [
            Flow(s, [m.p_e, *row, m.p_i], float(delta_0) * m.days * 24 * 3600)
            for m, row in zip(months, p_sat.tolist(), strict=True)
        ]


@dataclass(frozen=True, slots=True)
class Flow:
    """One month: saturation pressures p at s (the air at both ends), and the factor to kg/m2.

    Parameters
    ----------
    s : list of float
        Vapour resistance from the outside: the air, all planes, the air inside [m].
    p : list of float
        Vapour pressure outside, saturation pressures, vapour pressure inside [Pa].
    factor : float
        From a slope of the pressure to water in the month [kg/(m Pa)].
    """

    s: list[float]
    p: list[float]
    factor: float

    def __call__(self, held: Sequence[float]) -> list[float]:
        """Give the water gathered at each plane if the planes hold so much at the start.

        Parameters
        ----------
        held : sequence of float
            Water at each plane [kg/m2].

        Returns
        -------
        list of float
            Gained in the month, negative where it dries [kg/m2].
        """
        s, p, factor = self.s, self.p, self.factor
        gained = [0.0] * len(held)
        for a, b, c in _triples(taut_string(s, p, held)):
            slope_in = (p[c] - p[b]) / (s[c] - s[b])
            gained[b - 1] = factor * (slope_in - (p[b] - p[a]) / (s[b] - s[a]))
        return gained

    def pressures(self) -> list[float]:
        """Give the vapour pressure at every plane of a dry roof.

        Returns
        -------
        list of float
            From outside to inside, without the air at both ends [Pa].
        """
        touched = taut_string(self.s, self.p, [0.0] * (len(self.s) - 2))
        at = np.interp(self.s, [self.s[i] for i in touched], [self.p[i] for i in touched])
        found: list[float] = at.tolist()
        return found[1:-1]


def _triples(points: list[int]) -> Iterable[tuple[int, int, int]]:
    return zip(points, points[1:], points[2:], strict=False)


def taut_string(s: Sequence[float], p: Sequence[float], held: Sequence[float]) -> list[int]:
    """Find the points at which the vapour pressure is bent: the lower hull, pinned where water is.

    Parameters
    ----------
    s : sequence of float
        Vapour resistance of the points from outside to inside, rising [m].
    p : sequence of float
        Vapour pressure outside, saturation pressure of each plane, vapour pressure inside [Pa].
    held : sequence of float
        Water that each plane holds; a wet plane keeps its saturation pressure [kg/m2].

    Returns
    -------
    list of int
        Indices of the points that the string touches, both ends included [-].

    Examples
    --------
    >>> taut_string([0, 1, 2, 3], [700, 800, 1500, 1300], [0, 0])
    [0, 1, 3]
    >>> taut_string([0, 1, 2, 3], [700, 800, 1500, 1300], [0, 0.01])
    [0, 1, 2, 3]

    References
    ----------
    ISO 13788:2012, from memory.
    """
    touched = [0]
    for i in range(1, len(s)):
        s_i, p_i = s[i], p[i]
        while len(touched) > 1:
            j, k = touched[-1], touched[-2]
            below = (p[j] - p[k]) * (s_i - s[k]) < (p_i - p[k]) * (s[j] - s[k])
            if below or held[j - 1] > 0:
                break
            touched.pop()
        touched.append(i)
    return touched


def _slices(layers: list[VapourLayer], R: float, largest: float) -> Iterable[Plane]:
    """Yield the outer face, the inner end of each slice, named, and the inner face last."""
    R, s = float(R), 0.0
    yield Plane("outside", R, s)
    for layer, inner in zip(layers, (*layers[1:], None), strict=True):
        n = max(1, math.ceil(layer.R / largest))
        for k in range(1, n):
            yield Plane(f"{layer.name} {k}/{n}", R + layer.R * k / n, s + layer.s_d * k / n)
        R, s = R + layer.R, s + layer.s_d
        yield Plane(f"{layer.name} | {inner.name if inner else 'inside'}", R, s)


def _check(layers: list[VapourLayer]) -> None:
    for name, R, s_d in layers:
        if not 0 <= R < math.inf:
            raise InvalidInput(f"R {R}", "0 or more", where=name)
        if not 0 <= s_d < math.inf:
            limit = iso_12572.S_D_IMPERMEABLE
            cure = f"give {limit.value:g} m for a tight sheet ({limit.source})"
            raise InvalidInput(f"s_d {s_d}", "0 or more, not endless", where=name, do=cure)
    if not sum(s_d for _, _, s_d in layers) > 0:
        raise InvalidInput("no vapour resistance", "a layer with s_d", where="roof")

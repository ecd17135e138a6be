"""Water inside the roof over a year: the monthly method of ISO 13788:2012.

In each month the vapour pressure through the roof is a taut string under the saturation pressure:
the lower convex hull of the points (s', p_sat) between the air outside and the air inside. Where
the string touches, water gathers; a plane that holds water keeps the saturation pressure, and dries
where the string would leave it. ``s'`` is the vapour resistance from the outside, as the thickness
of still air [m].
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

import numpy as np

from evenfall.calc.physics.monthly_air import Month
from evenfall.calc.physics.psychrometrics import saturation_pressure
from evenfall.errors import InvalidInput
from evenfall.standards import iso_12572, iso_13788
from evenfall.working import Table, formula

Verdict = Literal["a", "b", "c"]
"""(a) no condensation; (b) condensation that dries within the year; (c) it does not dry."""

_SOURCE = "ISO 13788:2012"
_TRACE = 1e-12  # kg/m2: below, the rounding of the computer
_ROUNDS = 4  # years after which water that is still there is taken to stay


@formula("s_d", "m", f"{_SOURCE}, equivalent air-layer thickness")
def vapour_thickness(mu: float, d: float) -> float:
    """Equivalent air-layer thickness of a layer.

    Parameters
    ----------
    mu : float
        Vapour resistance factor [-].
    d : float
        Thickness [m].

    Returns
    -------
    float
        Thickness of still air that resists as much [m].

    Examples
    --------
    >>> vapour_thickness(6000, 0.0012)
    7.2
    """
    return mu * d


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


@dataclass(frozen=True, slots=True)
class MonthOfWater:
    """What happened in one month at each wetted plane.

    Parameters
    ----------
    name : str
        The month [-].
    g_c : tuple of float
        Water gathered in the month; drying is negative and stops when all is dry [kg/m2].
    M_a : tuple of float
        Water held at the end of the month [kg/m2].
    """

    name: str
    g_c: tuple[float, ...]
    M_a: tuple[float, ...]

    @property
    def total(self) -> float:
        """Water held by all planes at the end of the month [kg/m2]."""
        return math.fsum(self.M_a)

    @property
    def gain(self) -> float:
        """Water gathered by all planes in the month [kg/m2]."""
        return math.fsum(self.g_c)


@dataclass(frozen=True, slots=True)
class Condensation:
    """A year of water in the roof, from the first month with condensation.

    Parameters
    ----------
    verdict : str
        Class of the result, a, b or c [-].
    planes : tuple of Plane
        Those that are wet at some time, from outside to inside [-].
    months : tuple of MonthOfWater
        Twelve [-].
    """

    verdict: Verdict
    planes: tuple[Plane, ...]
    months: tuple[MonthOfWater, ...]

    @property
    def highest(self) -> float:
        """Most water held by all planes at the end of a month [kg/m2]."""
        return self._fullest.total

    @property
    def highest_month(self) -> str | None:
        """The month at whose end the roof holds most water; none if it stays dry."""
        return self._fullest.name if self.planes else None

    @property
    def worst_plane(self) -> Plane | None:
        """The plane that holds most of it; none if the roof stays dry."""
        held = self._fullest.M_a
        return self.planes[held.index(max(held))] if self.planes else None

    @property
    def dry_month(self) -> str | None:
        """The month in which the last water dries; none if the roof stays dry or wet."""
        pairs = zip((self.months[-1], *self.months), self.months, strict=False)
        return next((m.name for before, m in pairs if before.total > 0 and not m.total), None)

    @property
    def may_run_off(self) -> bool:
        """Whether more gathers than a non-absorbent surface holds."""
        return self.highest > iso_13788.RUN_OFF

    @property
    def _fullest(self) -> MonthOfWater:
        return max(self.months, key=lambda month: month.total)

    @property
    def table(self) -> Table:
        """The working: each month and wetted plane."""
        heads = [(f"{q} {p.name}", "kg/m2") for p in self.planes for q in ("g_c", "M_a")]
        rows: tuple[tuple[float | str, ...], ...] = tuple(
            (m.name, *itertools.chain(*zip(m.g_c, m.M_a, strict=True))) for m in self.months
        )
        columns = (("month", "-"), *heads)
        return Table("Condensation by month", columns, rows, _SOURCE, "from memory")


def monthly(
    layers: Iterable[tuple[str, float, float]],
    months: Sequence[Month],
    R_si: float = iso_13788.R_SI_UPWARDS,
    R_se: float = iso_13788.R_SE,
    delta_0: float = iso_13788.DELTA_0,
    slice_resistance: float = iso_13788.SLICE_RESISTANCE,
) -> Condensation:
    """Work out where water gathers in a roof, how much, and whether it dries.

    The year starts with the first month in which condensation appears. If water is left at its end,
    further years show whether the roof merely began at a bad moment; if it still does not dry,
    the first year is reported.

    Parameters
    ----------
    layers : iterable of (str, float, float)
        Name, R [m2K/W] and s_d of each layer from outside to inside [m].
    months : sequence of Month
        Twelve consecutive months [-].
    R_si, R_se : float
        Surface resistances inside and outside [m2K/W].
    delta_0 : float
        Vapour permeability of air [kg/(m s Pa)].
    slice_resistance : float
        Largest resistance of a slice of a layer [m2K/W].

    Returns
    -------
    Condensation
        The year [kg/m2].

    Raises
    ------
    InvalidInput
        If there are not twelve months, or a layer has a negative or endless resistance.

    Examples
    --------
    >>> from evenfall.calc.physics.monthly_air import year_of_class
    >>> winter = year_of_class([2.0] * 6 + [14.0] * 6, [0.85] * 12, 20.0, 810.0)
    >>> year = monthly([("membrane", 0.0, 60.0), ("board", 5.0, 7.0)], winter)
    >>> year.verdict, year.planes[0].name, round(year.months[0].g_c[0], 4)
    ('c', 'membrane | board', 0.0461)

    References
    ----------
    ISO 13788:2012, from memory; proved against the obstacle problem.
    """
    if len(months) != len(iso_13788.MONTHS):
        raise InvalidInput(f"{len(months)} months", "12", where="climate")
    roof = _Roof([VapourLayer(*layer) for layer in layers], R_si, R_se, slice_resistance)
    flows = roof.flows(months, delta_0)
    dry = [0.0] * len(roof.planes)
    wet = [any(g > _TRACE for g in flow(dry)) for flow in flows]
    start = next((i for i, w in enumerate(wet) if w and not wet[i - 1]), 0)
    order = [(start + i) % len(months) for i in range(len(months))]
    names = [months[i].name for i in order]
    verdict, rows = _verdict([flows[i] for i in order], dry)
    shown = [j for j in range(len(dry)) if any(M[j] > 0 for _, M in rows)]
    water = tuple(
        MonthOfWater(name, tuple(g[j] for j in shown), tuple(M[j] for j in shown))
        for name, (g, M) in zip(names, rows, strict=True)
    )
    return Condensation(verdict, tuple(roof.planes[j] for j in shown), water)


_Row = tuple[list[float], list[float]]  # gathered in the month, held at its end


def _verdict(flows: Sequence[_Flow], dry: list[float]) -> tuple[Verdict, list[_Row]]:
    """Go round the year until it repeats itself with each plane dry at some time."""
    first = rows = _round(flows, dry)
    held = dry
    for _ in range(_ROUNDS):
        if not any(sum(M) for _, M in rows):
            return "a", rows
        after = rows[-1][1]
        if any(min(column) > 0 for column in zip(*(M for _, M in rows), strict=True)):
            break  # more water at the start never dries sooner
        if all(abs(y - x) <= _TRACE for x, y in zip(held, after, strict=True)):
            return "b", rows
        held, rows = after, _round(flows, after)
    return "c", first


def _round(flows: Sequence[_Flow], held: list[float]) -> list[_Row]:
    """Carry the water of each plane through the months."""
    rows: list[_Row] = []
    for flow in flows:
        after = [M + g for M, g in zip(held, flow(held), strict=True)]
        after = [M if M > _TRACE else 0.0 for M in after]
        rows.append(([y - x for x, y in zip(held, after, strict=True)], after))
        held = after
    return rows


class _Roof:
    """The planes of a roof: the ends of all slices, but for its two faces."""

    def __init__(
        self, layers: list[VapourLayer], R_si: float, R_se: float, slice_resistance: float
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

    def flows(self, months: Sequence[Month], delta_0: float) -> list[_Flow]:
        """Make the flow of each month, a function of the water held."""
        out, inn = (
            np.array([[getattr(m, side)] for m in months]) for side in ("theta_e", "theta_i")
        )
        share = np.array([plane.R / self.R_T for plane in self._ends])
        p_sat = saturation_pressure(out + share * (inn - out))
        p_sat = np.minimum.reduceat(p_sat, self._first, axis=1)[:, self._inside]
        s = [0.0, *(plane.s for plane in self.planes), self.s_T]
        return [
            _Flow(s, [m.p_e, *row, m.p_i], float(delta_0) * m.days * 24 * 3600)
            for m, row in zip(months, p_sat.tolist(), strict=True)
        ]


@dataclass(frozen=True, slots=True)
class _Flow:
    """One month: saturation pressures p at s (the air at both ends), and the factor to kg/m2."""

    s: list[float]
    p: list[float]
    factor: float

    def __call__(self, held: Sequence[float]) -> list[float]:
        """Water gathered at each plane in the month if the planes hold so much at its start."""
        s, p, factor = self.s, self.p, self.factor
        gained = [0.0] * len(held)
        for a, b, c in _triples(taut_string(s, p, held)):
            slope_in = (p[c] - p[b]) / (s[c] - s[b])
            gained[b - 1] = factor * (slope_in - (p[b] - p[a]) / (s[b] - s[a]))
        return gained


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

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
from typing import Literal

from evenfall.calc.physics.monthly_air import Month
from evenfall.calc.physics.vapour_line import Flow, Plane, VapourLayer, VapourRoof
from evenfall.calc.physics.vapour_line import taut_string as taut_string
from evenfall.errors import InvalidInput
from evenfall.standards import iso_13788
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
    roof = VapourRoof([VapourLayer(*layer) for layer in layers], R_si, R_se, slice_resistance)
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


def _verdict(flows: Sequence[Flow], dry: list[float]) -> tuple[Verdict, list[_Row]]:
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


def _round(flows: Sequence[Flow], held: list[float]) -> list[_Row]:
    """Carry the water of each plane through the months."""
    rows: list[_Row] = []
    for flow in flows:
        after = [M + g for M, g in zip(held, flow(held), strict=True)]
        after = [M if M > _TRACE else 0.0 for M in after]
        rows.append(([y - x for x, y in zip(held, after, strict=True)], after))
        held = after
    return rows

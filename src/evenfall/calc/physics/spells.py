"""How near a dry roof comes to wetting, what a cold spell leaves, how a wetted layer dries."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from evenfall.calc.physics.monthly_air import Month
from evenfall.calc.physics.vapour_line import VapourLayer, VapourRoof
from evenfall.errors import InvalidInput
from evenfall.standards import iso_13788
from evenfall.working import Table

Layers = Iterable[tuple[str, float, float]]

TRACE = 1e-6  # kg/m2: a milligram is taken for dry


@dataclass(frozen=True, slots=True)
class Margin:
    """The place of a roof that comes nearest to saturation in a month.

    Parameters
    ----------
    month, where : str
        The month, and the plane [-].
    p, p_sat : float
        Vapour pressure there, and what would be saturation [Pa].
    """

    month: str
    where: str
    p: float
    p_sat: float

    @property
    def left(self) -> float:
        """What is left before water gathers; 0 where it does [Pa]."""
        return self.p_sat - self.p


def margins(layers: Layers, months: Sequence[Month]) -> tuple[Margin, ...]:
    """Find for each month the place that comes nearest to saturation.

    Parameters
    ----------
    layers : iterable of (str, float, float)
        Name, R [m2K/W] and s_d of each layer from outside to inside [m].
    months : sequence of Month
        Air on both sides [-].

    Returns
    -------
    tuple of Margin
        One for each month; empty where the roof has no plane inside it [-].

    Examples
    --------
    >>> cold = Month("Jan", 31, 4.3, 713.9, 20.0, 1349.8)
    >>> tight = [("sheet", 0.0, 60.0), ("board", 5.0, 7.2), ("VCL", 0.0, 1500.0)]
    >>> one = margins(tight, [cold])[0]
    >>> one.where, round(one.left)
    ('sheet | board', 99)
    """
    roof = VapourRoof([VapourLayer(*layer) for layer in layers])
    found = []
    for month, flow in zip(months, roof.flows(months, iso_13788.DELTA_0), strict=True):
        rows = zip(roof.planes, flow.pressures(), flow.p[1:-1], strict=True)
        told = [Margin(month.name, plane.name, p, p_sat) for plane, p, p_sat in rows]
        found += [min(told, key=lambda m: m.left)] if told else []
    return tuple(found)


def margin_table(found: Sequence[Margin]) -> Table:
    """Write the margins of a year as a table.

    Parameters
    ----------
    found : sequence of Margin
        One for each month [-].

    Returns
    -------
    Table
        Place, vapour pressure, saturation and what is left, a row a month [Pa].
    """
    columns = (
        ("month", "-"), ("nearest to wet", "-"), ("vapour pressure", "Pa"), ("saturation", "Pa"),
        ("left", "Pa"),
    )  # fmt: skip
    rows = tuple((m.month, m.where, round(m.p), round(m.p_sat), round(m.left)) for m in found)
    title = "No water gathers: vapour pressure against saturation"
    return Table(title, columns, rows, "ISO 13788:2012", "from memory")


def gathered(layers: Layers, spell: Month) -> float:
    """Give the water that gathers in a dry roof in one spell of steady air.

    Parameters
    ----------
    layers : iterable of (str, float, float)
        Name, R [m2K/W] and s_d of each layer from outside to inside [m].
    spell : Month
        Its days and its air [-].

    Returns
    -------
    float
        All planes together [kg/m2].

    Examples
    --------
    >>> frost = Month("frost", 60, -5.0, 360.0, 20.0, 1170.0)
    >>> loose = [("sheet", 0.0, 60.0), ("board", 5.0, 7.2)]
    >>> gathered(loose, frost)
    0.1089
    >>> gathered([*loose, ("VCL", 0.0, 1500.0)], frost)
    0.0
    """
    roof = VapourRoof([VapourLayer(*layer) for layer in layers])
    (flow,) = roof.flows([spell], iso_13788.DELTA_0)
    return float(sum(max(g, 0.0) for g in flow([0.0] * len(roof.planes))))


def months_to_dry(
    layers: Layers,
    months: Sequence[Month],
    name: str,
    wetted: float = iso_13788.WETTED,
    years: float = iso_13788.WETTED_YEARS,
) -> int | None:
    """Count the months until water put into the middle of a layer has left the roof.

    Parameters
    ----------
    layers : iterable of (str, float, float)
        Name, R [m2K/W] and s_d of each layer from outside to inside [m].
    months : sequence of Month
        The year, from the month in which the layer is wetted [-].
    name : str
        The layer [-].
    wetted : float
        Water at its middle [kg/m2].
    years : float
        How long it is waited for [a].

    Returns
    -------
    int or None
        Months; None where water is left after the years [month].

    Raises
    ------
    InvalidInput
        No layer has the name.

    Examples
    --------
    >>> mild = [Month("M", 30, 10.0, 900.0, 20.0, 1200.0)] * 12
    >>> months_to_dry([("sheet", 0, 60), ("deck", 0.14, 2.0)], mild, "deck")
    16

    References
    ----------
    ISO 13788:2012, clause 7, from memory.
    """
    halves: list[VapourLayer] = []
    for layer in layers:
        one = VapourLayer(*layer)
        half = VapourLayer(f"{one.name}", one.R / 2, one.s_d / 2)
        halves += [half, half] if one.name == name else [one]
    roof = VapourRoof(halves)
    middle = [k for k, p in enumerate(roof.planes) if p.name == f"{name} | {name}"]
    if not middle:
        raise InvalidInput(name, "a layer of the roof that resists vapour", where="roof")
    held = [0.0] * len(roof.planes)
    held[middle[0]] = float(wetted)
    flows = roof.flows(months, iso_13788.DELTA_0)
    for k in range(int(years * 12)):
        gained = flows[k % len(flows)](held)
        held = [max(M + g, 0.0) for M, g in zip(held, gained, strict=True)]
        if sum(held) <= TRACE:
            return k + 1
    return None

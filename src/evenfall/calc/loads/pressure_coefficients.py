"""Pressure coefficients of a flat roof: Table 7.2 by eaves, loaded area, net of the inside."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import log10

from evenfall.calc.loads.interpolation import linear
from evenfall.calc.loads.limits import positive, within
from evenfall.errors import InvalidInput
from evenfall.standards import en_1991_1_4 as en
from evenfall.working import Basis, Cited, Working, formula

_TABLE = f"{en.SOURCE} Table 7.2"


@dataclass(frozen=True, slots=True)
class Coefficients:
    """External coefficients of one zone; zone I also has the downward `en.C_PE_I_PRESSURE`."""

    zone: en.Zone
    c_pe_10: Cited
    c_pe_1: Cited


def coefficients(eaves: en.Eaves, parameter: float = 0.0) -> tuple[Coefficients, ...]:
    """External pressure coefficients of the zones F, G, H and I.

    Parameters
    ----------
    eaves : str
        sharp, parapet, curved or mansard [-].
    parameter : float
        Parapet h_p/h, curved r/h, or the mansard angle of 30 to 90 degrees; above the last line of
        a parapet or curve that line is kept; a curve sharper than r/h = 0.05 counts as sharp [-].

    Returns
    -------
    tuple of Coefficients
        Suction negative; EN recommended values, not the UK table [-].

    Examples
    --------
    >>> [(c.zone, c.c_pe_10.value, c.c_pe_1.value) for c in coefficients("parapet", 0.4 / 13.08)]
    [('F', -1.555, -2.155), ('G', -1.055, -1.755), ('H', -0.700, -1.200), ('I', -0.200, -0.200)]
    """
    if eaves not in en.TABLE_7_2:
        raise InvalidInput(f"eaves {eaves}", f"one of {', '.join(en.TABLE_7_2)}", where="eaves")
    rows, basis = _rows(eaves, parameter)
    at = min(max(parameter, rows[0].parameter), rows[-1].parameter)

    def read(zone: en.Zone, column: Callable[[en.EavesRow], dict[en.Zone, Cited]]) -> Cited:
        for row in rows:
            if row.parameter == at:
                return column(row)[zone]
        points = tuple((row.parameter, column(row)[zone]) for row in rows)
        value = linear(at, points, "parameter of the eaves", _TABLE)
        where = f"Table 7.2, zone {zone}, {eaves} eaves, interpolated at {at:.4f}"
        return Cited(value, "-", en.SOURCE, where, basis)

    return tuple(
        Coefficients(z, read(z, lambda r: r.c_pe_10), read(z, lambda r: r.c_pe_1)) for z in en.ZONES
    )


def _rows(eaves: en.Eaves, parameter: float) -> tuple[tuple[en.EavesRow, ...], Basis]:
    """Lines of the table that bound a parameter, and what an interpolation there rests on."""
    rows, sharp = en.TABLE_7_2[eaves], en.TABLE_7_2["sharp"][0]
    if eaves == "mansard":
        low, high = rows[0].parameter, float(en.MANSARD_AS_SHARP)
        within("mansard angle in degrees", parameter, low, high, _TABLE)
        upright = en.EavesRow(high, sharp.c_pe_10, sharp.c_pe_1)
        return (*rows, upright), "published"
    within(f"{eaves} height or radius over h", parameter, 0, float("inf"), _TABLE)
    if eaves == "sharp" or (eaves == "curved" and parameter < rows[0].parameter):
        return (sharp,), "published"
    if eaves == "parapet" and parameter < rows[0].parameter:
        return (sharp, *rows), en.PARAPET_BELOW_TABLE
    return rows, "published"


@formula("c_pe", "-", f"{en.SOURCE} Figure 7.2", "from memory")
def coefficient_between(A: float, c_pe_1: float, c_pe_10: float) -> float:
    """External coefficient of a loaded area between 1 and 10 m2.

    Parameters
    ----------
    A : float
        Loaded area [m2].
    c_pe_1, c_pe_10 : float
        Coefficients of 1 m2 and of 10 m2 [-].

    Returns
    -------
    float
        Coefficient [-].

    Examples
    --------
    >>> coefficient_between(2.88, -2.5, -1.8)
    -2.178
    """
    return c_pe_1 - (c_pe_1 - c_pe_10) * log10(A)


def coefficient(area: float, of: Coefficients) -> Cited | Working:
    """External coefficient of any loaded area by EN Figure 7.2.

    Parameters
    ----------
    area : float
        Loaded area, above 0 [m2].
    of : Coefficients
        The zone's two values [-].

    Returns
    -------
    Cited or Working
        Coefficient [-].

    Examples
    --------
    >>> F = coefficients("sharp")[0]
    >>> coefficient(0.25, F).value, coefficient(5.0, F).value, coefficient(24.0, F).value
    (-2.5, -2.011, -1.8)
    """
    positive("area", area, "m2")
    if area <= en.LOADED_AREA_SMALL:
        return of.c_pe_1
    if area >= en.LOADED_AREA_LARGE:
        return of.c_pe_10
    return coefficient_between.show(area, of.c_pe_1, of.c_pe_10)


def coefficient_uk(area: float, of: Coefficients) -> Cited:
    """External coefficient as the UK annex is remembered: nothing between the two values.

    Parameters
    ----------
    area : float
        Loaded area, above 0 [m2].
    of : Coefficients
        The zone's two values [-].

    Returns
    -------
    Cited
        c_pe,1 up to 1 m2, c_pe,10 for everything larger; from memory [-].

    Examples
    --------
    >>> coefficient_uk(1.44, coefficients("sharp")[0]).value
    -1.8
    """
    positive("area", area, "m2")
    taken = of.c_pe_1 if area <= en.LOADED_AREA_SMALL else of.c_pe_10
    where = f"{taken.where}; loaded area by the UK rule"
    return Cited(float(taken), "-", taken.source, where, "from memory")


@formula("w_e", "Pa", f"{en.SOURCE} (5.1)", "published, second-hand")
def external_pressure(q_p: float, c_pe: float) -> float:
    """Pressure on the outside; suction is negative.

    Parameters
    ----------
    q_p : float
        Peak velocity pressure [Pa].
    c_pe : float
        External coefficient [-].

    Returns
    -------
    float
        Pressure [Pa].

    Examples
    --------
    >>> external_pressure(659.0, -1.8)
    -1186.2
    """
    return q_p * c_pe


@formula("w", "Pa", f"{en.SOURCE} 5.2", "published, second-hand")
def net_pressure(q_p: float, c_pe: float, c_pi: float = en.C_PI_PRESSURE) -> float:
    """Pressure outside less pressure inside; suction is negative.

    Parameters
    ----------
    q_p : float
        Peak velocity pressure [Pa].
    c_pe : float
        External coefficient [-].
    c_pi : float
        Internal coefficient; +0.2 is the more onerous for suction [-].

    Returns
    -------
    float
        Net pressure [Pa].

    Examples
    --------
    >>> net_pressure(659.0, -1.8)
    -1318.0
    """
    return q_p * (c_pe - c_pi)


@formula("c_pi", "-", f"{en.SOURCE} 7.2.9(5)", "from memory")
def inside_wide_door(c_pe: float = en.C_PE_DOOR, share: float = en.DOOR_SHARE) -> float:
    """Inside coefficient behind a door that takes up most of all openings and may burst.

    Parameters
    ----------
    c_pe : float
        External coefficient of the wall that the door is in, wind on it [-].
    share : float
        Share of it that comes in [-].

    Returns
    -------
    float
        Coefficient [-].

    Examples
    --------
    >>> inside_wide_door()
    0.72
    """
    return share * c_pe

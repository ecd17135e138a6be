"""Characteristic pull-out value of a fixing from tests on the roof."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite
from statistics import mean, stdev
from typing import Literal

from evenfall.errors import InvalidInput, OutOfScope
from evenfall.standards import en_1990 as en
from evenfall.working import Cited, Working, formula

Method = Literal["V unknown", "V known", "75 % confidence"]

_TABLES = {"V unknown": en.K_N_UNKNOWN, "V known": en.K_N_KNOWN, "75 % confidence": en.K_75}


def k_n(n: int, method: Method = "V unknown") -> Cited:
    """Factor on the standard deviation for the 5 % fractile.

    Parameters
    ----------
    n : int
        Number of tests; between the lines of the table the line of fewer tests is taken [-].
    method : str
        V unknown, V known (EN 1990 Table D1), or 75 % confidence [-].

    Returns
    -------
    Cited
        Factor [-].

    Examples
    --------
    >>> k_n(6).value, k_n(7).value, k_n(10, "75 % confidence").value
    (2.18, 2.18, 2.104)
    """
    if method not in _TABLES:
        raise InvalidInput(f"method {method}", f"one of {', '.join(_TABLES)}", where="method")
    table = _TABLES[method]
    if n < table[0][0]:
        raise OutOfScope("number of tests", n, f"{table[0][0]} and more", table[0][1].where)
    return next(k for count, k in reversed(table) if count <= n)


@formula("R_k", "N", f"{en.SOURCE} Annex D (D.1)", "from memory")
def characteristic(m: float, k_n: float, s: float) -> float:
    """Characteristic resistance: the 5 % fractile.

    Parameters
    ----------
    m, s : float
        Mean and standard deviation of the results [N].
    k_n : float
        Factor for the number of tests [-].

    Returns
    -------
    float
        Resistance [N].

    Examples
    --------
    >>> characteristic(1120.0, 2.18, 140.0)
    814.8
    """
    return m - k_n * s


def pull_out(results: Sequence[float], method: Method = "V unknown") -> Working:
    """Characteristic pull-out value of tests on the roof.

    Parameters
    ----------
    results : sequence of float
        Force at which each fixing came out, above 0 [N].
    method : str
        V unknown or 75 % confidence; V known needs a scatter from earlier tests: use `k_n` [-].

    Returns
    -------
    Working
        R_k; refused where the scatter leaves nothing [N].

    Examples
    --------
    >>> pull_out([980.0, 1210.0, 1050.0, 1330.0, 1120.0]).value
    818.8
    """
    if method == "V known":
        raise InvalidInput(
            "V known", "a method that takes the scatter of these tests", where="method"
        )
    for result in results:
        if not (isfinite(result) and result > 0):
            raise InvalidInput(f"{result:g} N", "a force above 0 N", where="results")
    factor = k_n(len(results), method)
    found = characteristic.show(mean(results), factor, stdev(results))
    if found.value <= 0:
        raise InvalidInput(
            f"R_k = {found.value:.0f} N",
            "a characteristic value above 0 N",
            where="results",
            do="the scatter is too great: test more fixings, or another fixing",
        )
    return found

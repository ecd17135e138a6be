"""Guards: a value beyond the range of a formula is refused in words."""

from __future__ import annotations

import math

from evenfall.errors import InvalidInput, OutOfScope


def positive(where: str, value: float, unit: str) -> None:
    """Refuse a size that is not a finite number above zero.

    Parameters
    ----------
    where : str
        Name of the argument [-].
    value : float
        Its value [any].
    unit : str
        Its unit [-].

    Returns
    -------
    None
        Nothing; raises InvalidInput [-].

    Examples
    --------
    >>> positive("h", 3.2, "m")
    """
    if not (math.isfinite(value) and value > 0):
        raise InvalidInput(f"{value:g} {unit}", f"a number above 0 {unit}", where=where)


def within(name: str, value: float, low: float, high: float, source: str) -> None:
    """Refuse a value outside the range that a source states.

    Parameters
    ----------
    name : str
        The quantity with its unit [-].
    value : float
        Its value [any].
    low, high : float
        The range, both ends included [any].
    source : str
        Document and clause that set it [-].

    Returns
    -------
    None
        Nothing; raises OutOfScope [-].

    Examples
    --------
    >>> within("pitch in degrees", 3.0, -5, 5, "EN 1991-1-4 7.2.3")
    """
    if not low <= value <= high:
        raise OutOfScope(name, value, f"{float(low):g} to {float(high):g}", source)

"""Linear interpolation in a printed table."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from evenfall.errors import OutOfScope


def linear(x: float, points: Sequence[tuple[float, float]], name: str, source: str) -> float:
    """Interpolate linearly between the lines of a table; beyond its ends is refused.

    Parameters
    ----------
    x : float
        Where to read [any].
    points : sequence of (float, float)
        Lines of the table, rising in the first number [any].
    name : str
        What x is, with its unit [-].
    source : str
        Document and table [-].

    Returns
    -------
    float
        The value read [any].

    Examples
    --------
    >>> linear(3.0, ((2.0, 1.40), (5.0, 1.62)), "height in m", "Table 4")
    1.473
    """
    for (a, y_a), (b, y_b) in pairwise(points):
        if a <= x <= b:
            return float(y_a + (y_b - y_a) * (x - a) / (b - a))
    raise OutOfScope(name, x, f"{points[0][0]:g} to {points[-1][0]:g}", source)

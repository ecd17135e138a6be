"""Hours that spread between a good day and a bad one."""

from __future__ import annotations

from math import sqrt

from evenfall.errors import OutOfScope


def triangular_quantile(low: float, typical: float, high: float, share: float) -> float:
    """Find what is not exceeded in a share of cases, for a three-cornered spread.

    Parameters
    ----------
    low, typical, high : float
        Least, most likely and most; they rise in that order [any].
    share : float
        Share of the cases, from 0 to 1 [-].

    Returns
    -------
    float
        The quantile [any].

    Raises
    ------
    OutOfScope
        The three do not rise, or the share is no share.

    Examples
    --------
    >>> triangular_quantile(0.0, 1.0, 2.0, 0.5)
    1.0
    >>> round(triangular_quantile(0.15, 0.25, 0.40, 0.9), 4)
    0.3388
    """
    if not low <= typical <= high:
        raise OutOfScope("the most likely", typical, f"{low:g} to {high:g}", "triangular spread")
    if not 0 <= share <= 1:
        raise OutOfScope("the share", share, "0 to 1", "triangular spread")
    if low == high:
        return low
    below = (typical - low) / (high - low)
    if share <= below:
        return low + sqrt(share * (high - low) * (typical - low))
    return high - sqrt((1 - share) * (high - low) * (high - typical))

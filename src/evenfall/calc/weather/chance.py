"""Chance that repeats: numbers between 0 and 1 from a seed, the same everywhere and always.

The n-th number is a mixing of seed and n, so that any block of them can be had by itself; nothing
is kept between two calls.
"""

from __future__ import annotations

from math import prod

import numpy as np
from numpy.typing import NDArray

_STEP = 0x9E3779B97F4A7C15  # odd, near 2**64 over the golden ratio: steps that fill the range
_MIX = ((30, 0xBF58476D1CE4E5B9), (27, 0x94D049BB133111EB))  # shifts and factors that mix the bits
_LAST = 31  # last shift of the mixing
_HELD = 53  # bits that a double holds
_BITS = 11  # bits of 64 that are left over
_ALL = 2**64 - 1  # bits that are kept
_STREAM = 1 << 40  # numbers of one stream


def uniforms(seed: int, stream: int, shape: tuple[int, ...]) -> NDArray[np.float64]:
    """Draw numbers evenly between 0 and 1, neither of them ever.

    Parameters
    ----------
    seed, stream : int
        Which numbers; streams of one seed are apart [-].
    shape : tuple of int
        How many, as an array [-].

    Returns
    -------
    array
        The numbers [-].

    Examples
    --------
    >>> u = uniforms(7, 1, (2, 3))
    >>> bool((u == uniforms(7, 1, (2, 3))).all()), bool((u != uniforms(8, 1, (2, 3))).all())
    (True, True)

    References
    ----------
    SplitMix64: Steele, Lea and Flood, Fast splittable pseudorandom number generators, OOPSLA
    2014; from memory.
    """
    count = np.arange(1, prod(shape) + 1, dtype=np.uint64)
    start = (seed * _ALL // 3 + stream * _STREAM) & _ALL
    with np.errstate(over="ignore"):
        z = (count + np.uint64(start)) * np.uint64(_STEP)
        for shift, factor in _MIX:
            z = (z ^ (z >> np.uint64(shift))) * np.uint64(factor)
        z ^= z >> np.uint64(_LAST)
    even = ((z >> np.uint64(_BITS)).astype(np.float64) + 0.5) / 2.0**_HELD
    return np.asarray(even, dtype=np.float64).reshape(shape)

"""What can go on at the same time, and how long work must take because the rest cannot.

Each piece of work gets a weight such that no set of pieces that can run together weighs more than a
whole: then all of them last at least as long as their weights times their lengths. The heaviest
such weights are a linear programme over the sets that can run together (Mingozzi, Maniezzo,
Ricciardelli and Bianco, An exact algorithm for the resource-constrained project scheduling problem,
Management Science 44, 1998, from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from math import floor

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import csr_array

WHOLE = 5040  # weights are counted in so many parts of a whole, rounded down
MOST_SETS = 3000  # more sets than these are not listed: there is no bound then
SLIP = 1e-6  # parts: a weight that the linear programme gives so little under a part is that part


def sets_together(
    durations: Sequence[int], takes: Sequence[Sequence[int]], there_is: Sequence[int],
    apart: Sequence[int],
) -> list[tuple[int, ...]]:  # fmt: skip
    """List the sets of pieces that can run at one time, and to which none can be added.

    Parameters
    ----------
    durations : sequence of int
        Of each piece; what takes no time is left out [any].
    takes : sequence of sequence of int
        What each takes of every resource [any].
    there_is : sequence of int
        Of each resource [any].
    apart : sequence of int
        For each piece those that never run beside it, as bits [-].

    Returns
    -------
    list of tuple of int
        Some may lie within others; none at all where there are too many [-].

    Examples
    --------
    >>> sets_together((3, 2, 4), ((1,), (2,), (1,)), (2,), (0, 0, 0))
    [(0, 2), (1,), (2,)]
    """
    found, numbers = list[tuple[int, ...]](), [j for j, d in enumerate(durations) if d]

    def grow(chosen: tuple[int, ...], left: list[int], free: Sequence[int]) -> None:
        if len(found) > MOST_SETS:
            return
        fits = [j for j in left if all(t <= f for t, f in zip(takes[j], free, strict=True))]
        for n, j in enumerate(fits):
            rest = [i for i in fits[n + 1 :] if not apart[j] >> i & 1]
            less = [f - t for f, t in zip(free, takes[j], strict=True)]
            grow((*chosen, j), rest, less)
        if not fits:
            found.append(chosen)

    grow((), numbers, there_is)
    return found if len(found) <= MOST_SETS else []


def weights(sets: Sequence[tuple[int, ...]], lengths: Sequence[int]) -> tuple[int, ...]:
    """Weigh pieces so that no set of them weighs more than a whole, and all weigh the most.

    Parameters
    ----------
    sets : sequence of tuple of int
        What can run together: `sets_together` [-].
    lengths : sequence of int
        Of each piece; nought for what is left out [any].

    Returns
    -------
    tuple of int
        Of each piece, in parts of `WHOLE` [-].

    Examples
    --------
    >>> weights([(0, 2), (1,)], (3, 2, 4))
    (0, 5040, 5040)
    """
    rows = np.repeat(np.arange(len(sets)), [len(s) for s in sets])
    columns = np.concatenate([np.array(s, dtype=int) for s in sets])
    inside = csr_array((np.ones(len(rows)), (rows, columns)), (len(sets), len(lengths)))
    found = linprog(
        -np.array(lengths, dtype=float), A_ub=inside, b_ub=np.ones(len(sets)), bounds=(0, 1),
        method="highs",
    )  # fmt: skip
    parts = tuple(floor(x * WHOLE + SLIP) for x in found.x) if found.success else ()
    return parts if parts and all(sum(parts[j] for j in s) <= WHOLE for s in sets) else ()

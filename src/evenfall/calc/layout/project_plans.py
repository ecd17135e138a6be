"""Good plans of a project at once: work placed by rank, then pushed late and early in turn.

Pushing every piece as late as it goes, in the order of the ends, and then as early as it goes, in
the order of the beginnings, never makes a plan longer and often shortens it (Valls, Ballestin and
Quintanilla, Justification and RCPSP, European Journal of Operational Research 165, 2005).
"""

from __future__ import annotations

from collections.abc import Sequence

from evenfall.calc.layout.project import Project
from evenfall.calc.weather.chance import uniforms

Starts = tuple[int, ...]
SPREADS = 5  # ranks stray from the tails by nought to four fifths of the longest


def quick(work: Project, rounds: int, seed: int = 1) -> Starts:
    """Find a good plan by ranks near the longest tails, pushed to and fro.

    Parameters
    ----------
    work : Project
        The project [-].
    rounds : int
        Ranks that are tried; the first is that of the tails themselves [-].
    seed : int
        Which other ranks; the same number gives the same plan [-].

    Returns
    -------
    tuple of int
        When each piece begins, of the shortest plan that was found [any].
    """
    best: Starts = ()
    longest, stray = max(work.tails), uniforms(seed, 0, (rounds, len(work.tails)))
    for n in range(rounds):
        reach = longest * (n % SPREADS) / SPREADS
        rank = [reach * u - t for t, u in zip(work.tails, stray[n].tolist(), strict=True)]
        plan = _settled(work, placed(work, rank))
        if not best or ends(work, plan) < ends(work, best):
            best = plan
    return best


def ends(work: Project, starts: Starts) -> int:
    """Find when all of a plan is done.

    Parameters
    ----------
    work : Project
        The project [-].
    starts : tuple of int
        When each piece begins [any].

    Returns
    -------
    int
        End of the last piece [any].
    """
    return max(s + d for s, d in zip(starts, work.durations, strict=True))


def placed(work: Project, rank: Sequence[float]) -> Starts:
    """Place each piece as early as it goes, the lowest rank of those that may begin first.

    Parameters
    ----------
    work : Project
        The project [-].
    rank : sequence of float
        Of each piece [-].

    Returns
    -------
    tuple of int
        When each begins [any].
    """
    before = work.mirrored.followers
    starts, used = [-1] * len(rank), list[list[int]]()
    left = set(range(len(rank)))
    while left:
        free = (j for j in left if all(starts[b] >= 0 for b in before[j]))
        j = min(free, key=lambda j: (rank[j], j))
        at = max((starts[b] + work.durations[b] for b in before[j]), default=0)
        starts[j] = _put(used, at, work.durations[j], work.takes[j], work.there_is)
        left.remove(j)
    return tuple(starts)


def _put(
    used: list[list[int]], at: int, duration: int, takes: tuple[int, ...], there: tuple[int, ...]
) -> int:  # fmt: skip
    """Find the first place from a time on where a piece fits, and take it."""
    time = at
    while time < at + duration:
        while len(used) <= time:
            used.append([0] * len(there))
        full = any(u + t > c for u, t, c in zip(used[time], takes, there, strict=True))
        time, at = time + 1, time + 1 if full else at
    for row in used[at : at + duration]:
        for k, t in enumerate(takes):
            row[k] += t
    return at


def _settled(work: Project, starts: Starts) -> Starts:
    """Push a plan late and early in turn until it grows no shorter."""
    while True:
        late = _mirror(work, starts)
        pushed = _mirror(work, placed(work.mirrored, late))
        fresh = placed(work, pushed)
        if ends(work, fresh) >= ends(work, starts):
            return starts
        starts = fresh


def _mirror(work: Project, starts: Starts) -> Starts:
    """Give the beginnings as seen from the end."""
    end = ends(work, starts)
    return tuple(end - s - d for s, d in zip(starts, work.durations, strict=True))

"""Branch and bound with dominance: one engine for programmes and for any other plan in steps.

A problem says how a half-made plan goes on, what no plan below it can cost less than, and which of
two half-made plans is needless. The search goes deep first along the most promising branch and is
stopped by counted steps, never by the clock: the same problem gives the same answer. It says
whether the answer is proven, and if not, below what no plan can cost.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass
from operator import le
from typing import Generic, Protocol, TypeVar

S = TypeVar("S")
Cost = tuple[float, ...]


class Problem(Protocol[S]):
    """What the engine asks of a problem; costs are compared from their first part on."""

    def branches(self, state: S) -> Iterable[S]:
        """Go on in every way that may be worth it."""

    def done(self, state: S) -> bool:
        """Tell whether a plan is whole."""

    def bound(self, state: S) -> Cost:
        """Give what no whole plan below costs less than; of a whole plan, its cost."""

    def key(self, state: S) -> Hashable:
        """Name what has been done, whatever it cost."""

    def label(self, state: S) -> Sequence[float]:
        """Give what it cost; of two with one key, what is nowhere less is needless."""


@dataclass(frozen=True, slots=True)
class Searched(Generic[S]):
    """How a search ended."""

    best: S | None  # None: nothing better than what was known
    cost: Cost | None
    bound: Cost | None  # no plan costs less; None where there is none at all
    steps: int

    @property
    def proven(self) -> bool:
        """Whether no better plan exists."""
        return self.cost == self.bound


def search(problem: Problem[S], root: S, steps: int, known: Cost | None = None) -> Searched[S]:
    """Search for the plan that costs least.

    Parameters
    ----------
    problem : Problem
        How plans go on [-].
    root : object
        Where all plans begin [-].
    steps : int
        Half-made plans looked at before the search is given up [-].
    known : tuple of float, optional
        Cost of a plan that is known already: only a better one is looked for [any].

    Returns
    -------
    Searched
        The best plan, its cost, and the bound that is left [any].
    """
    best, cost, taken = None, known, 0
    open_: list[tuple[Cost, S]] = [(problem.bound(root), root)]
    seen: dict[Hashable, list[Sequence[float]]] = {}
    while open_ and taken < steps:
        bound, state = open_.pop()
        if cost is not None and bound >= cost:
            continue
        taken += 1
        if problem.done(state):
            best, cost = state, bound
            continue
        if _needless(seen, problem.key(state), problem.label(state)):
            continue
        fresh = [(problem.bound(s), s) for s in problem.branches(state)]
        fresh = [f for f in fresh if cost is None or f[0] < cost]
        fresh.sort(key=lambda f: f[0], reverse=True)
        open_ += fresh
    left = [bound for bound, _ in open_ if cost is None or bound < cost]
    return Searched(best, cost, min(left) if left else cost, taken)


def _needless(
    seen: dict[Hashable, list[Sequence[float]]], key: Hashable, label: Sequence[float]
) -> bool:
    """Tell whether a plan seen before was nowhere worse; if not, remember this one."""
    kept = seen.setdefault(key, [])
    if any(all(map(le, old, label)) for old in kept):
        return True
    kept[:] = [old for old in kept if not all(map(le, label, old))]
    kept.append(label)
    return False

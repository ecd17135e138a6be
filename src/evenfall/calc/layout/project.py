"""A project: work of fixed length that shares hands and machines, and what follows what."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from evenfall.errors import InvalidInput


@dataclass(frozen=True)
class Project:
    """Durations, what each piece takes of each resource, what follows it, what there is."""

    durations: tuple[int, ...]
    takes: tuple[tuple[int, ...], ...]
    followers: tuple[tuple[int, ...], ...]
    there_is: tuple[int, ...]

    def __post_init__(self) -> None:
        for n, takes in enumerate(self.takes):
            if any(t > c for t, c in zip(takes, self.there_is, strict=True)):
                raise InvalidInput(f"work {n} takes more than there is", "no more", where="takes")

    @cached_property
    def after(self) -> tuple[int, ...]:
        """What must be ended before each piece, as bits."""
        before = [0] * len(self.durations)
        for n, followers in enumerate(self.followers):
            for f in followers:
                before[f] |= 1 << n
        return tuple(before)

    @cached_property
    def tails(self) -> tuple[int, ...]:
        """Least time from the beginning of each piece to the end of all."""
        n = len(self.durations)
        below, tails = [0] * n, [0] * n
        for j in reversed(self.in_order):
            for f in self.followers[j]:
                below[j] |= below[f] | (1 << f)
            least = max((tails[f] for f in self.followers[j]), default=0)
            members = [i for i in range(n) if below[j] >> i & 1]
            tails[j] = self.durations[j] + max(least, self._crowded(members, tails))
        return tuple(tails)

    def _crowded(self, members: list[int], tails: list[int]) -> int:
        """Least time that some pieces take by what they share, and what follows the last."""
        worst = 0
        for k, there in enumerate(self.there_is):
            work, ranked = 0, sorted(members, key=lambda i: self.durations[i] - tails[i])
            for i in ranked:  # those with the longest tails first
                work += self.durations[i] * self.takes[i][k]
                worst = max(worst, -(-work // there) + tails[i] - self.durations[i])
        return worst

    @cached_property
    def in_order(self) -> tuple[int, ...]:
        """Pieces such that each comes after all that must be ended before it."""
        left, order, done = list(range(len(self.durations))), list[int](), 0
        while left:
            ready = next((j for j in left if self.after[j] & ~done == 0), None)
            if ready is None:
                raise InvalidInput("work waits for itself", "no circle", where="followers")
            order.append(ready)
            left.remove(ready)
            done |= 1 << ready
        return tuple(order)

    @cached_property
    def mirrored(self) -> Project:
        """The project seen from its end: what followed comes first."""
        before: list[list[int]] = [[] for _ in self.durations]
        for j, followers in enumerate(self.followers):
            for f in followers:
                before[f].append(j)
        return Project(self.durations, self.takes, tuple(map(tuple, before)), self.there_is)

"""Projects: work of fixed length that shares hands and machines, done as early as can be.

The engine is `branching`; this is its model of work that runs on without a break, each with what it
takes of every resource while it lasts, and with what must be ended before it begins.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from evenfall.calc.layout.branching import Cost, Searched, search
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
        for j in reversed(self._sorted):
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
    def _sorted(self) -> tuple[int, ...]:
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


@dataclass(frozen=True, slots=True)
class _State:
    done: int  # bits of what is placed
    time: int
    running: tuple[tuple[int, int], ...]  # end and number of what runs on after now, by its end
    placed: tuple[int, int, object] | None  # number, beginning, and what was placed before it
    ended: int  # when the last of all placed ends
    work_left: tuple[int, ...]  # of each resource, of what is not placed


class _Model:
    def __init__(self, project: Project) -> None:
        self.p = project
        self.all = (1 << len(project.durations)) - 1

    def root(self) -> _State:
        p = self.p
        work = tuple(
            sum(d * t[k] for d, t in zip(p.durations, p.takes, strict=True))
            for k in range(len(p.there_is))
        )
        return _State(0, 0, (), None, 0, work)

    def done(self, s: _State) -> bool:
        return s.done == self.all

    def key(self, s: _State) -> int:
        return s.done

    def label(self, s: _State) -> tuple[float, ...]:
        """When each piece that may still be in somebody's way ends."""
        ends = [s.time] * len(self.p.durations)
        for end, j in s.running:
            ends[j] = max(end, s.time)
        return (s.time, *ends)

    def branches(self, s: _State) -> Iterator[_State]:
        """Place next what can begin before any other that can begin has ended."""
        ready = list(self._ready(s))
        soonest = min(at + self.p.durations[j] for j, at in ready)
        for j, at in ready:
            if at < soonest or self.p.durations[j] == 0:
                yield self._placed(s, j, at)

    def _ready(self, s: _State) -> Iterator[tuple[int, int]]:
        for j, before in enumerate(self.p.after):
            if not s.done >> j & 1 and before & ~s.done == 0:
                yield j, self._earliest(s, j)

    def _earliest(self, s: _State, j: int) -> int:
        """Find when a piece can begin: all before it ended, and enough of everything left."""
        at, before, takes = s.time, self.p.after[j], self.p.takes[j]
        for end, i in s.running:
            if before >> i & 1 and end > at:
                at = end
        free = list(self.p.there_is)
        for end, i in s.running:
            if end > at:
                for k, t in enumerate(self.p.takes[i]):
                    free[k] -= t
        for end, i in s.running:
            if all(t <= f for t, f in zip(takes, free, strict=True)):
                break
            if end > at:
                at = end
                for k, t in enumerate(self.p.takes[i]):
                    free[k] += t
        return at

    def _placed(self, s: _State, j: int, at: int) -> _State:
        d = self.p.durations[j]
        running = tuple(sorted((*(r for r in s.running if r[0] > at), (at + d, j))))
        left = tuple(w - d * t for w, t in zip(s.work_left, self.p.takes[j], strict=True))
        return _State(
            s.done | 1 << j, at, running, (j, at, s.placed), max(s.ended, at + d), left
        )  # fmt: skip

    def bound(self, s: _State) -> Cost:
        least = s.ended
        for j, at in self._ready(s):
            least = max(least, at + self.p.tails[j])
        for k, there in enumerate(self.p.there_is):
            busy = sum((end - s.time) * self.p.takes[i][k] for end, i in s.running if end > s.time)
            least = max(least, s.time - (-(busy + s.work_left[k]) // there))
        return (least,)


def shortest(project: Project, steps: int) -> Searched[_State]:
    """Find the order of work that ends soonest.

    Parameters
    ----------
    project : Project
        The work [-].
    steps : int
        Half-made orders looked at before the search is given up [-].

    Returns
    -------
    Searched
        When all ends, and before when nothing can: ``cost`` and ``bound`` [any].

    Examples
    --------
    >>> two = Project((3, 2, 4), ((1,), (1,), (1,)), ((2,), (), ()), (1,))
    >>> shortest(two, 100).cost
    (9,)
    """
    model = _Model(project)
    return search(model, model.root(), steps)


def beginnings(found: Searched[_State], project: Project) -> tuple[int, ...]:
    """List when each piece of work begins.

    Parameters
    ----------
    found : Searched
        What `shortest` found [-].
    project : Project
        The work [-].

    Returns
    -------
    tuple of int
        Of each piece, in its order [any].
    """
    at = [0] * len(project.durations)
    placed = found.best.placed if found.best else None
    while placed is not None:
        number, begins, placed = placed  # type: ignore[assignment]
        at[number] = begins
    return tuple(at)

"""Projects: work of fixed length that shares hands and machines, done as early as can be.

The engine is `branching`; this is its model of work that runs on without a break, each with what it
takes of every resource while it lasts, and with what must be ended before it begins.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from evenfall.calc.layout.branching import Cost, Searched, search
from evenfall.calc.layout.project import Project
from evenfall.calc.layout.project_plans import Starts, quick
from evenfall.calc.layout.together import WHOLE, sets_together, weights

FIRST = 250  # steps of one way before the other is tried; each time round twice as many


@dataclass(frozen=True, slots=True)
class _State:
    done: int  # bits of what is placed
    time: int
    running: tuple[tuple[int, int], ...]  # end and number of what runs on after now, by its end
    placed: tuple[int, int, object] | None  # number, beginning, and what was placed before it
    ended: int  # when the last of all placed ends
    work_left: tuple[int, ...]  # of each resource, of what is not placed


@dataclass(frozen=True, slots=True)
class _Share:
    """Weights of pieces, of which no more than a whole ever runs at one time."""

    weights: tuple[int, ...]
    lasts: tuple[int, ...]  # weight times duration
    after: int  # every piece with a weight is followed by so much

    def least(self, s: _State) -> int:
        """Least time from now to the end of all."""
        left = sum(w for j, w in enumerate(self.lasts) if w and not s.done >> j & 1)
        left += sum((end - s.time) * self.weights[j] for end, j in s.running if end > s.time)
        return self.after - (-left // WHOLE) if left else 0


def _shares(p: Project, before: int) -> Iterator[_Share]:
    """Weigh all pieces, and those alone after which much is to come."""
    rest = [t - d for t, d in zip(p.tails, p.durations, strict=True)]
    sets = sets_together(p.durations, p.takes, p.there_is, _apart(p, rest, before))
    for after in sorted(set(rest)) if sets else ():
        lengths = [d if r >= after else 0 for d, r in zip(p.durations, rest, strict=True)]
        found = tuple(w if d else 0 for w, d in zip(weights(sets, lengths), lengths, strict=True))
        lasts = tuple(w * d for w, d in zip(found, lengths, strict=True))
        if any(lasts):
            yield _Share(found, lasts, after)


def _apart(p: Project, rest: list[int], before: int) -> list[int]:
    """Find for each piece what follows it, comes before it, or never runs in its time."""
    heads = [t - d for t, d in zip(p.mirrored.tails, p.durations, strict=True)]
    apart, all_ = [0] * len(rest), range(len(rest))
    for j in p.in_order:
        for i in all_:
            if p.after[j] >> i & 1:
                apart[j] |= apart[i] | 1 << i
    ends = [before - 1 - r for r in rest]  # at the latest
    for i, j in product(all_, all_):
        if heads[i] >= ends[j] or apart[j] >> i & 1:
            apart[i], apart[j] = apart[i] | 1 << j, apart[j] | 1 << i
    return apart


class _Model:
    def __init__(self, project: Project, before: int | None = None) -> None:
        """Only plans that end before a time are looked for, where one is known that ends then."""
        self.p = project
        self.all = (1 << len(project.durations)) - 1
        self.shares = tuple(_shares(project, before)) if before is not None else ()

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
                yield self.placed(s, j, at)

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
        held = [r for r in s.running if r[0] > at]
        for end, i in held:
            if all(t <= f for t, f in zip(takes, free, strict=True)):
                break
            at = end
            for k, t in enumerate(self.p.takes[i]):
                free[k] += t
        return at

    def placed(self, s: _State, j: int, at: int) -> _State:
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
        for share in self.shares:
            least = max(least, s.time + share.least(s))
        for k, there in enumerate(self.p.there_is):
            busy = sum((end - s.time) * self.p.takes[i][k] for end, i in s.running if end > s.time)
            least = max(least, s.time - (-(busy + s.work_left[k]) // there))
        return (least,)


def shortest(project: Project, steps: int, rounds: int = 150) -> Searched[_State]:
    """Find the order of work that ends soonest.

    A good plan is made at once. Then, from the least that the bounds allow on, each end is tried
    until it is proved impossible or a plan is found that keeps it, from the front and from the
    end of the project in turn; the first that is kept is the soonest. Where half the steps are
    gone so, the rest go to shortening the plan.

    Parameters
    ----------
    project : Project
        The work [-].
    steps : int
        Half-made orders looked at before the search is given up [-].
    rounds : int
        Plans made at once beforehand, of which the shortest is to be beaten [-].

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
    best = _of_starts(_Model(project), quick(project, rounds))
    least = int(_Model(project).bound(_Model(project).root())[0])
    taken, slice_ = 0, FIRST
    while least < best.ended and taken < steps // 2:
        for way in (project, project.mirrored):
            model = _Model(way, least + 1)
            found = search(model, model.root(), min(slice_, steps // 2 - taken), (least + 1,))
            taken += found.steps
            if found.best is not None:
                best = _turned(project, way, found.best)
            if found.proven:
                least += found.best is None
                break
        else:
            slice_ *= 2
    last = search(_Model(project), _Model(project).root(), steps - taken, (best.ended,))
    best, least = last.best or best, max(least, int((last.bound or (0,))[0]))
    return Searched(best, (best.ended,), (min(least, best.ended),), taken + last.steps)


def _turned(project: Project, way: Project, plan: _State) -> _State:
    """Write a plan of a project, or of the project seen from its end, as one from its front."""
    starts = _starts(plan, len(project.durations))
    if way is not project:
        ends = (s + d for s, d in zip(starts, project.durations, strict=True))
        starts = tuple(plan.ended - e for e in ends)
    return _of_starts(_Model(project), starts)


def _of_starts(model: _Model, starts: Starts) -> _State:
    """Write a plan as the engine does: what was placed after what."""
    state, order = model.root(), sorted(model.p.in_order, key=lambda j: starts[j])
    for j in order:
        state = model.placed(state, j, starts[j])
    return state


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
    return _starts(found.best, len(project.durations)) if found.best else ()


def _starts(plan: _State, count: int) -> Starts:
    at, placed = [0] * count, plan.placed
    while placed is not None:
        number, begins, placed = placed  # type: ignore[assignment]
        at[number] = begins
    return tuple(at)

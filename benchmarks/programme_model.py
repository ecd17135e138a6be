"""The bare model of a programme for HiGHS: what goes on which day, nothing by the clock.

Bays and sheets are whole, all else is shared out in hours; what rests overnight holds up what
follows by a day. Days come first, then m2 under VCL times nights.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import count

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

from evenfall.model.programmed import Task
from evenfall.stages.programme.outputs import slow
from evenfall.stages.programme.site import Work, slow_hours

DAY_WEIGHT = 1e4  # above any m2 times nights of these roofs
Terms = list[tuple[float, int]]


class Model:
    """Variables and rows for one job and a number of days."""

    def __init__(self, work: Work, days: int) -> None:
        self.work, self.days, self.fresh = work, days, count()
        self.whole: dict[str, list[int]] = {}
        self.part: dict[str, list[int]] = {}
        self.done: dict[str, list[int]] = {}
        self.lower: list[float] = []
        self.upper: list[float] = []
        self.binary: list[int] = []
        self.rows: list[tuple[Terms, float]] = []  # terms, at most
        self.group = {t.id: f"bay {n}" for n, ts in work.bays for t in ts}
        self.group |= {t.id: f"zone {n}" for n, (_, ts) in enumerate(work.zones) for t in ts}
        self.hours = {t.id: t.hours.value for t in (*work.start, *work.free) if t.hours.value}
        self._build()

    def _new(self, binary: bool, most: float = 1.0) -> list[int]:
        made = [next(self.fresh) for _ in range(self.days)]
        self.lower += [0.0] * self.days
        self.upper += [most] * self.days
        self.binary += [int(binary)] * self.days
        return made

    def _build(self) -> None:
        work = self.work
        names = [f"bay {n}" for n, _ in work.bays] + [f"zone {n}" for n in range(len(work.zones))]
        for name in names:
            self.whole[name] = self._new(True)
            ones = [(1.0, v) for v in self.whole[name]]
            self.rows += [(ones, 1.0), ([(-1.0, v) for _, v in ones], -1.0)]
        for id_, hours in self.hours.items():
            self.part[id_], self.done[id_] = self._new(False, hours), self._new(True)
            for d in range(self.days):
                so_far = [(-1.0 / hours, v) for v in self.part[id_][: d + 1]]
                self.rows.append(([(1.0, self.done[id_][d]), *so_far], 0.0))
        self._follow()
        self._capacity()
        self._end()

    def _ended(self, name: str, d: int) -> Terms:
        """What is 1 once a piece of work has ended by a day."""
        if d < 0:
            return []
        if name in self.whole:
            return [(1.0, v) for v in self.whole[name][: d + 1]]
        return [(1.0, self.done[name][d])]

    def _before(self, task: Task) -> Iterator[tuple[str, int]]:
        """What must have ended before a task, with the nights between; gates are passed over."""
        work = self.work
        for id_ in task.after:
            before = work.by_id[id_]
            night = int(work.longest is not None and before.rests_h > work.longest.hours)
            if id_ in self.group:
                yield self.group[id_], night
            elif id_ in self.hours:
                yield id_, night
            else:
                yield from ((n, k + night) for n, k in self._before(before))

    def _follow(self) -> None:
        for task in self.work.by_id.values():
            own = self.group.get(task.id, task.id)
            if own not in self.whole and own not in self.hours:
                continue
            for name, nights in set(self._before(task)) - {(own, 0), (own, 1)}:
                for d in range(self.days):
                    ended = [(-c, v) for c, v in self._ended(name, d - nights)]
                    if own in self.whole:
                        self.rows.append((self._ended(own, d) + ended, 0.0))
                    else:
                        done = [(1.0 / self.hours[own], v) for v in self.part[own][: d + 1]]
                        self.rows.append((done + ended, 0.0))

    def _capacity(self) -> None:
        work, gang = self.work, self.work.gang
        usual = {f"bay {n}": h for (n, _), h in zip(work.bays, work.bay_usual, strict=True)}
        usual |= {f"zone {n}": b.usual for n, b in enumerate(work.blocks)}
        slowly = {f"bay {n}": slow_hours(ts) for n, ts in work.bays}
        slowly |= {f"zone {n}": b.least_slow for n, b in enumerate(work.blocks)}
        for d in range(self.days):
            span = work.span(d)
            assert span is not None
            wholes = [(h, self.whole[n][d]) for n, h in usual.items()]
            self.rows.append(
                (wholes + [(1.0, self.part[i][d]) for i in self.hours], gang.usual(span))
            )
            closing = [(h, self.whole[n][d]) for n, h in slowly.items()]
            for t in work.start:
                if t.id in self.hours:
                    ratio = slow(t.hours_low, t.hours.value, t.hours_high) / t.hours.value
                    closing.append((ratio, self.part[t.id][d]))
            self.rows.append((closing, gang.sure(span)))

    def _end(self) -> None:
        self.ends = self._new(False)
        for d in range(self.days):
            for name in (*self.whole, *self.hours):
                ended = [(-c, v) for c, v in self._ended(name, d)]
                self.rows.append(([(1.0, self.ends[d]), *ended], 0.0))

    def _cost(self) -> np.ndarray:
        cost, work = np.zeros(len(self.lower)), self.work
        cost[self.ends] = -DAY_WEIGHT
        on = [work.span(d).on.toordinal() for d in range(self.days)]  # type: ignore[union-attr]
        for n, (bays, _) in enumerate(work.zones):
            for bay in bays:
                for d in range(self.days):
                    cost[self.whole[f"zone {n}"][d]] += work.areas[bay] * on[d]
                    cost[self.whole[f"bay {bay}"][d]] -= work.areas[bay] * on[d]
        return cost

    def solve(self) -> tuple[int, float]:
        """Let HiGHS solve it: days, and m2 under VCL times nights."""
        entries = [(r, v, c) for r, (ts, _) in enumerate(self.rows) for c, v in ts]
        r, v, c = zip(*entries, strict=True)
        matrix = coo_array((c, (r, v)), shape=(len(self.rows), len(self.lower))).tocsr()
        most = np.array([m for _, m in self.rows])
        cost = self._cost()
        found = milp(
            cost, constraints=LinearConstraint(matrix, -np.inf, most),
            bounds=Bounds(np.array(self.lower), np.array(self.upper)),
            integrality=np.array(self.binary),
        )  # fmt: skip
        assert found.x is not None, found.message
        days = self.days + 1 - round(sum(found.x[self.ends]))
        exposure = float(found.fun + DAY_WEIGHT * sum(found.x[self.ends]))
        return days, exposure

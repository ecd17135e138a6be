"""One worker for all jobs: it works them room by room, and turns to the newest edit between rooms.

One thread works runs until their first number has moved, another all that comes after; so the first
number of an edit waits neither for the last numbers of another nor for a long room of its own job
as it was. A run whose job has a newer revision is left where it stands; what it found is kept, for
rooms that see the same again.
"""

from __future__ import annotations

import asyncio
import threading
import time
from collections import OrderedDict
from collections.abc import AsyncIterator, Generator
from dataclasses import dataclass, field
from typing import Any, Literal

from evenfall.app.live.snapshot import Snapshot, moved
from evenfall.errors import EvenfallError
from evenfall.flow import KEYS, Step, WorkedJob, room_by_room
from evenfall.model.case import Case
from evenfall.model.meta import meta_of

State = Literal["waiting", "done", "failed", "left"]

JOBS_KEPT = 24
"""Jobs whose rooms are kept in memory; one takes some megabytes."""
REVISIONS_KEPT = 40
"""Revisions of a job from which it can be said what moved."""


@dataclass
class Run:
    """One revision of a job being worked."""

    job: str
    revision: int
    case: Case
    now: Snapshot
    before: Snapshot | None = None  # the revision that was asked for last
    state: State = "waiting"
    told: list[Step] = field(default_factory=list)
    worked: WorkedJob | None = None
    error: Exception | None = None
    steps: Generator[Step, None, WorkedJob] | None = None
    turn: float = 0.0  # when it had its last turn; 0 before the first
    spent: float = 0.0  # how long its turns have taken, s
    first: bool = True  # whether no number has moved yet
    held: bool = False  # whether it has its turn now
    heard: list[tuple[asyncio.AbstractEventLoop, asyncio.Event]] = field(default_factory=list)
    ended: threading.Event = field(default_factory=threading.Event)

    @property
    def over(self) -> bool:
        """Whether nothing more will be told."""
        return self.state != "waiting"


@dataclass
class Kept:
    """What is known of a job: its rooms with what they saw, and what its revisions gave."""

    rooms: dict[str, Any] = field(default_factory=dict)
    seen: dict[str, tuple[object, ...]] = field(default_factory=dict)
    beside: dict[str, Any] = field(default_factory=dict)
    snapshots: OrderedDict[int, Snapshot] = field(default_factory=OrderedDict)
    worked: WorkedJob | None = None  # the last that was worked to its end
    worked_of: int = 0
    run: Run | None = None

    def as_now(self) -> Kept:
        """Give the rooms as they stand, for a run that others do not disturb."""
        return Kept(dict(self.rooms), dict(self.seen), dict(self.beside))

    def __getattr__(self, key: str) -> Any:
        """Give a room, as a worked job does."""
        try:
            return self.__dict__["rooms"][key]
        except KeyError:
            raise AttributeError(key) from None


class Worker:
    """Works jobs in two threads of its own: to the first number that moved, and from there."""

    def __init__(self) -> None:
        self._kept: OrderedDict[str, Kept] = OrderedDict()
        self._ready = threading.Lock()
        self._lane = {first: threading.Condition(self._ready) for first in (True, False)}
        self._over = False
        self._threads = [
            threading.Thread(target=self._work, args=(first,), name=name, daemon=True)
            for name, first in (("to-the-first-number", True), ("to-the-last", False))
        ]
        for thread in self._threads:
            thread.start()

    def close(self) -> None:
        """End, at the next room."""
        with self._ready:
            self._over = True
            for lane in self._lane.values():
                lane.notify()
        for thread in self._threads:
            thread.join(timeout=10)

    def ask(self, job: str, revision: int, case: Case, *, unhurried: bool = False) -> Run:
        """Have a revision of a job worked; a run of an older one is left.

        Parameters
        ----------
        job : str
            Id of the job [-].
        revision : int
            The revision [-].
        case : Case
            What it is worked from [-].
        unhurried : bool
            Whether a run whose first numbers move without work waits for `hurry` [-].

        Returns
        -------
        Run
            The run; the one that is there already for the same revision and day [-].
        """
        with self._ready:
            kept = self._of(job)
            run = kept.run
            if run and run.state != "left":
                if run.revision == revision and run.case.on == case.on:
                    return run
                if run.revision > revision:
                    return run
            if run and not run.over:
                self._end(run, "left")
            last = next(reversed(kept.snapshots.values()), None)
            now = last.after(revision) if last else Snapshot(revision)
            now.take("meta", meta_of(case))
            kept.snapshots[revision] = now
            kept.snapshots.move_to_end(revision)
            while len(kept.snapshots) > REVISIONS_KEPT:
                kept.snapshots.popitem(last=False)
            kept.run = Run(job, revision, case, now, last)
            kept.run.held = unhurried and bool(last and moved("meta", now, last))
            if not kept.run.held:
                self._lane[True].notify()
            return kept.run

    def hurry(self, run: Run) -> None:
        """Begin a run that waits."""
        with self._ready:
            if run.steps is None and run.held:
                run.held = False
                self._lane[True].notify()

    def stop(self, job: str) -> None:
        """Leave the run of a job where it stands."""
        with self._ready:
            run = self._of(job).run
            if run and not run.over:
                self._end(run, "left")

    def newer(self, job: str, since: int | None) -> Run | None:
        """Give the run of a job that is under way, where it is of a newer revision."""
        with self._ready:
            run = self._kept[job].run if job in self._kept else None
            if run is None or since is None or run.over or run.revision <= since:
                return None
            return run

    def like(self, job: str, other: str) -> None:
        """Let a copy of a job begin with the rooms of the other."""
        with self._ready:
            its, mine = self._of(other), self._of(job)
            mine.rooms, mine.seen, mine.beside = dict(its.rooms), dict(its.seen), dict(its.beside)

    def kept(self, job: str) -> Kept:
        """Give what is known of a job."""
        with self._ready:
            return self._of(job)

    def _of(self, job: str) -> Kept:
        kept = self._kept.setdefault(job, Kept())
        self._kept.move_to_end(job)
        for other in list(self._kept):
            if len(self._kept) <= JOBS_KEPT:
                break
            run = self._kept[other].run
            if run is None or run.over:
                del self._kept[other]
        return kept

    # --- the threads ----------------------------------------------------------------------------

    def _work(self, first: bool) -> None:
        while True:
            with self._ready:
                run = self._next(first)
                while run is None and not self._over:
                    self._lane[first].wait()
                    run = self._next(first)
                if self._over or run is None:
                    return
                run.held, kept = True, self._of(run.job)
            try:
                self._turn(run, kept)
            finally:
                with self._ready:
                    run.held = False
                    self._lane[False].notify()

    def _next(self, first: bool) -> Run | None:
        """Choose of the new runs who has had least, of the others who has waited longest.

        No other has a turn while a new one waits: they would share one interpreter.
        """
        waiting = [k.run for k in self._kept.values() if k.run and not k.run.over]
        new = [r for r in waiting if r.first]
        if first:
            return min((r for r in new if not r.held), key=lambda r: r.spent, default=None)
        if new:
            return None
        return min((r for r in waiting if not r.held), key=lambda r: r.turn, default=None)

    def _turn(self, run: Run, kept: Kept) -> None:
        """Work one room of a run."""
        if run.steps is None:
            with self._ready:
                run.steps = room_by_room(run.case, kept.as_now())
        start = time.monotonic()
        try:
            step = next(run.steps)
        except StopIteration as end:
            self._done(run, kept, end.value)
        except EvenfallError as error:
            self._failed(run, error)
        except Exception as error:  # a fault of ours must not end the worker
            self._failed(run, error)
        else:
            self._told(run, kept, step)
            run.turn = time.monotonic()
            run.spent += run.turn - start

    def _told(self, run: Run, kept: Kept, step: Step) -> None:
        with self._ready:
            if not run.over or not kept.run or kept.run.steps is None:
                _keep(kept, step)
            if run.over:
                return
            if not step.option:
                run.now.take(step.room, step.answer)
        moves = run.first and (step.option or step.room == "findings" or _moves(run, step))
        with self._ready:
            if run.over:
                return
            run.first = run.first and not moves
            run.told.append(step)
            _wake(run)

    def _done(self, run: Run, kept: Kept, worked: WorkedJob) -> None:
        with self._ready:
            if run.over:
                return
            for key in ("meta", "options", "findings"):
                run.now.take(key, getattr(worked, key))
            for key, saw in worked.seen.items():
                run.now.take(key, getattr(worked, key))
                kept.rooms[key], kept.seen[key] = getattr(worked, key), saw
            kept.beside = dict(worked.beside)
            kept.worked, kept.worked_of = worked, run.revision
            run.worked = worked
            self._end(run, "done")

    def _failed(self, run: Run, error: Exception) -> None:
        with self._ready:
            if not run.over:
                run.error = error
                self._end(run, "failed")

    def _end(self, run: Run, state: State) -> None:
        run.state = state
        self._lane[False].notify()
        run.ended.set()
        _wake(run)


def _keep(kept: Kept, step: Step) -> None:
    """Keep a room with what it saw, for a run that sees the same again."""
    if step.option:
        if step.room == "all":
            kept.beside[step.option] = step.answer
    elif step.room != "findings":
        kept.rooms[step.room], kept.seen[step.room] = step.answer, step.saw


def _moves(run: Run, step: Step) -> bool:
    return step.room in KEYS and bool(moved(step.room, run.now, run.before))


def _wake(run: Run) -> None:
    for loop, event in run.heard:
        if not loop.is_closed():
            loop.call_soon_threadsafe(event.set)


async def heard(run: Run) -> AsyncIterator[Step]:
    """Give the rooms of a run as they are worked, until it is over.

    Parameters
    ----------
    run : Run
        The run [-].

    Yields
    ------
    Step
        Each room [-].
    """
    event, at = asyncio.Event(), 0
    mine = (asyncio.get_running_loop(), event)
    run.heard.append(mine)
    try:
        while True:
            event.clear()
            over = run.over
            while at < len(run.told):
                yield run.told[at]
                at += 1
            if over:
                return
            await event.wait()
    finally:
        run.heard.remove(mine)

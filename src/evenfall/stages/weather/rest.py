"""What is left of a plan, day by day: the roofing of each day, and the small work that fills it.

Where all the roofing of a day is done, its hold points and its filling go to the days that follow,
as far as those have hours for them and what comes before is done.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from evenfall.calc.weather.walk import Need
from evenfall.model.gated import Gates
from evenfall.model.programmed import Day, Task
from evenfall.stages.programme.programme import named
from evenfall.stages.programme.site import START, kind
from evenfall.stages.weather.asked import joined, need, roofing

SITE = "open-and-close"
NEAR = 1e-9  # h; less is rounding
OVERNIGHT = 12  # h; what rests longer is not gone on with on the same day
Piece = tuple[str, float]


@dataclass(frozen=True, slots=True)
class Rest:
    """A day of the plan of which something is left."""

    day: Day  # its work without what is done
    need: Need
    gates: Gates


def left(
    days: tuple[Day, ...], tasks: tuple[Task, ...], done: frozenset[str], start_hour: float,
    contact: bool = False,
) -> tuple[Rest, ...]:  # fmt: skip
    """Find what is left of each day of a plan.

    Parameters
    ----------
    days : tuple of Day
        The plan [-].
    tasks : tuple of Task
        All work [h].
    done : frozenset of str
        Ids of tasks that are done [-].
    start_hour : float
        When work begins [h].
    contact : bool
        Whether the sheet goes down in contact adhesive [-].

    Returns
    -------
    tuple of Rest
        Days with work left, in their order [-].
    """
    by_id = {t.id: t for t in tasks}
    room = max((sum(h for _, h in d.work) for d in days), default=0.0)
    return tuple(
        _rest(replace(day, work=work, says=_says(day, work, by_id)), by_id, start_hour, contact)
        for day, work in _kept(days, by_id, done, room)
    )


def _says(day: Day, work: tuple[Piece, ...], by_id: dict[str, Task]) -> str:
    """Say what a day is for: as in the plan, but by its work where no roofing is left in it."""
    roofing_left = any(h > 0 and _chained(by_id[i]) for i, h in work)
    return day.says if roofing_left else named(work, by_id)


def _rest(day: Day, by_id: dict[str, Task], start_hour: float, contact: bool) -> Rest:
    gates = joined(t.gates for t, _ in roofing((by_id[i], h) for i, h in day.work if h > 0))
    return Rest(day, need(day, by_id, start_hour, contact), gates)


def _kept(
    days: tuple[Day, ...], by_id: dict[str, Task], done: frozenset[str], room: float
) -> Iterator[tuple[Day, tuple[Piece, ...]]]:
    """Yield each day whose roofing is not all done; what fills a day comes along behind."""
    queue = _Queue(by_id, done, days)
    looks: tuple[Piece, ...] = ()  # hold points of days whose roofing is done
    for day in days:
        work = [(i, h) for i, h in day.work if kind(i) != SITE]
        roof = tuple(p for p in work if _chained(by_id[p[0]]) and p[0] not in done)
        queue.waiting += [p for p in work if not _chained(by_id[p[0]]) and p[0] not in done]
        idle = any(_chained(by_id[i]) for i, _ in work) and not any(h > 0 for _, h in roof)
        taken = () if idle else queue.take(room - sum(h for _, h in roof))
        looks = (*looks, *roof, *taken)
        if any(h > 0 for _, h in looks):
            queue.tick(looks)
            yield day, looks
            looks = ()
    while any(h > 0 for _, h in queue.waiting):
        taken = queue.take(room) or tuple(queue.waiting)
        queue.waiting = [p for p in queue.waiting if p not in taken]
        queue.tick(taken)
        yield days[-1], (*looks, *taken)
        looks = ()


class _Queue:
    """Work that fills days, in its order, with what is done by the end of each day."""

    def __init__(
        self, by_id: dict[str, Task], done: frozenset[str], days: tuple[Day, ...]
    ) -> None:  # fmt: skip
        self.by_id, self.waiting = by_id, list[Piece]()
        self.left = Counter(i for d in days for i, _ in d.work if i not in done)

    def tick(self, pieces: Iterable[Piece]) -> None:
        """Count pieces off at the end of a day."""
        self.left.subtract(i for i, _ in pieces)

    def take(self, room: float) -> tuple[Piece, ...]:
        """Take what is ready and has hours left in a day; what must dry overnight waits for it."""
        taken: list[Piece] = []
        for piece in list(self.waiting):
            held = {i for i, _ in self.waiting}
            before = [self.by_id[b] for b in self.by_id[piece[0]].after if b in self.by_id]
            ready = all(b.id not in held or b.id == piece[0] for b in before)
            dried = all(b.rests_h < OVERNIGHT or self.left[b.id] <= 0 for b in before)
            if ready and dried and piece[1] <= room + NEAR:
                self.waiting.remove(piece)
                taken.append(piece)
                room -= piece[1]
        return tuple(taken)


def _chained(task: Task) -> bool:
    """Whether work belongs to the roofing itself rather than filling the day."""
    return task.bay is not None or bool(task.bays) or kind(task.id) in START

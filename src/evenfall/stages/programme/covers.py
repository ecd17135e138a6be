"""What keeps the rain out of each bay, followed from the work that is done."""

from __future__ import annotations

from collections.abc import Iterable

from evenfall.model.programmed import Cover, Task
from evenfall.stages.programme.order import OPEN_AND_CLOSE
from evenfall.stages.programme.site import BONDED_DOWN, Slot, kind

NEAR = 1e-6  # h; less is nothing left to do


class Roof:
    """The roof as the work leaves it.

    Parameters
    ----------
    tasks : tuple of Task
        All work [h].
    bays : iterable of int
        Numbers of the bays [-].
    """

    def __init__(self, tasks: tuple[Task, ...], bays: Iterable[int]) -> None:
        work = [t for t in tasks if kind(t.id) != OPEN_AND_CLOSE]
        self.hours = {t.id: t.hours.value for t in work}
        self.left = dict(self.hours)
        self.bays = tuple(bays)
        self.own = {n: [t.id for t in work if t.bay == n] for n in self.bays}
        self.over = {
            n: [t.id for t in work if n in t.bays and kind(t.id) not in BONDED_DOWN]
            for n in self.bays
        }

    def do(self, work: Iterable[tuple[str, float]]) -> None:
        """Do the work of a day."""
        for id_, hours in work:
            if id_ in self.left and self.left[id_] - hours <= NEAR:
                del self.left[id_]
            elif id_ in self.left:
                self.left[id_] -= hours

    def cover(self, bay: int) -> Cover:
        """Tell what keeps the rain out of a bay tonight."""
        own, over = self.own[bay], self.over[bay]
        if not self._begun(own):
            return "felt"
        if any(i in self.left for i in own):
            return "open"
        if not any(i in self.left for i in over):
            return "sheet"
        return "open" if self._begun([i for i in over if self.hours[i]]) else "vcl"

    def _begun(self, ids: list[str]) -> bool:
        return any(self.left.get(i, 0.0) < self.hours[i] - NEAR for i in ids)

    def tonight(self, slot: Slot) -> dict[int, Cover]:
        """Tell of every bay; what a slow day does not close counts as open."""
        late = () if slot.sure else (*slot.opened, *slot.zone)
        return {n: "open" if n in late else self.cover(n) for n in self.bays}

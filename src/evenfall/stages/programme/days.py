"""Days: a programme in the fewest days, then the least time under VCL; the search and its proof.

What keeps the rain out is reckoned with slow hours and a margin; all other work fills the day as
usual. `today` works one day; here it is chosen how many bays each day opens and when a sheet goes
down. The engine is `calc.layout.branching`.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import ceil

from evenfall.calc.layout.branching import Cost, search
from evenfall.errors import InvalidInput
from evenfall.stages.programme.gang import LONGEST
from evenfall.stages.programme.site import (
    NEAR,
    Chosen,
    Slot,
    State,
    Work,
    fresh,
    slots_of,
    slow_hours,
)
from evenfall.stages.programme.today import day

EVERYTHING: Chosen = (10**6, True, False)
"""As many bays as the day closes, then a sheet if it can."""
SHEETED = "sheeted"  # the last work on the last sheet
NEVER = 1e9  # h: later than any day

__all__ = ["Laid", "again", "lay_out"]


@dataclass(frozen=True, slots=True)
class Laid:
    """Days on which something is done, and how good that is."""

    slots: tuple[Slot, ...]
    cost: Cost  # evenings that break a rule, days, m2 under VCL times nights
    bound: Cost  # no order of these bays costs less
    steps: int  # of the search
    chosen: tuple[Chosen, ...]  # what was wanted of each working day

    @property
    def proven(self) -> bool:
        """Whether no order of these bays is better."""
        return self.cost == self.bound


def lay_out(work: Work, steps: int) -> Laid:
    """Lay all work out in days.

    Parameters
    ----------
    work : Work
        All the work, the gang and its calendar [-].
    steps : int
        Half-made programmes looked at; 0 for the first that closes every day what it can [-].

    Returns
    -------
    Laid
        The days; ``sure`` of a day is false where its evening is not proved [-].

    Raises
    ------
    InvalidInput
        The calendar leaves no days to work on.
    """
    ways = _Ways(work)
    first = _straight_on(ways, work)
    cost = ways.bound(first)
    found = search(ways, fresh(work), steps, cost)
    best = found.best or first
    return Laid(
        slots_of(best), ways.bound(best), found.bound or cost, found.steps, best.chosen
    )  # fmt: skip


def again(work: Work, chosen: tuple[Chosen, ...]) -> tuple[Slot, ...]:
    """Lay work out as it was chosen before.

    Parameters
    ----------
    work : Work
        All the work, the gang and its calendar [-].
    chosen : tuple
        What was wanted of each working day [-].

    Returns
    -------
    tuple of Slot
        The days [-].
    """
    state, ways = fresh(work), _Ways(work)
    for one in chosen:
        state = ways.after(state, one)
    return slots_of(state)


def nights_of(work: Work) -> dict[str, int]:
    """Count the nights that must pass between each piece of work and the last that follows it.

    Parameters
    ----------
    work : Work
        All the work [-].

    Returns
    -------
    dict
        Nights by task, and of the last sheet by its own word [-].
    """
    nights = dict[str, int]()
    followers: dict[str, list[str]] = {}
    for t in work.by_id.values():
        for before in t.after:
            followers.setdefault(before, []).append(t.id)
    for t in reversed(work.by_id.values()):
        after = max((nights.get(f, 0) for f in followers.get(t.id, ())), default=-1)
        over = work.longest is not None and t.rests_h > work.longest.hours
        nights[t.id] = max(0, after + over)
    nights[SHEETED] = nights[work.zones[-1][1][-1].id] if work.zones else 0
    return nights


def _straight_on(ways: _Ways, work: Work) -> State:
    """Do every day as much as it closes."""
    state = fresh(work)
    while not ways.done(state):
        if state.day > LONGEST or work.span(state.day) is None:
            raise InvalidInput("no days to work on", "days between the days off",
                               where="calendar.days_off")  # fmt: skip
        state = ways.after(state, EVERYTHING)
    return state


class _Ways:
    """The ways in which a programme goes on from a morning, for the engine."""

    def __init__(self, work: Work) -> None:
        self.work = work

    def done(self, state: State) -> bool:
        work = self.work
        return (
            state.bays == len(work.bays) and state.zones == len(work.zones) and not state.loose
            and all(t.id in state.ended for t in (*work.start, *work.free))
        )  # fmt: skip

    def after(self, state: State, chosen: Chosen) -> State:
        span = self.work.span(state.day)
        assert span is not None
        return day(self.work, state, span, chosen)

    def branches(self, state: State) -> Iterator[State]:
        """As much as the day closes, then less of it, with the sheet first, last or not at all."""
        if self.work.span(state.day) is None:
            return
        seen = set()
        most = self.after(state, EVERYTHING)
        for bays in range(most.bays - state.bays, -1, -1):
            for sheet, first in ((True, False), (True, True), (False, False)):
                made = self.after(state, (bays, sheet, first))
                told = (made.bays, made.zones, len(made.loose), made.left.values())
                if (mark := (*told[:3], tuple(told[3]))) not in seen:
                    seen.add(mark)
                    yield made

    def key(self, state: State) -> Hashable:
        return (state.bays, state.zones, len(state.loose), len(state.since))

    def label(self, state: State) -> Sequence[float]:
        rests = (state.ended.get(id_, NEVER) for id_ in self.work.resting)
        return (
            state.day, state.stops, state.exposure, *(-on for _, on in state.since),
            *state.left.values(), *rests,
        )  # fmt: skip

    def bound(self, state: State) -> Cost:
        if self.done(state):
            return (state.stops, state.day, round(state.exposure, 6))
        days, waits = self._least(state)
        return (state.stops, state.day + days, round(state.exposure + waits, 6))

    def _least(self, state: State) -> tuple[int, float]:
        """Find the fewest days, and the least exposure, of all that is left."""
        work = self.work
        usual = sum(state.left.values()) + sum(work.bay_usual[state.bays :])
        usual += sum(b.usual for b in work.blocks[state.zones :])
        usual += sum(t.hours.value for t in state.loose)
        days = ceil(usual / max(work.most_usual, NEAR) - NEAR)
        closing, waits, soon = self._closing[state.zones][state.bays]
        closing += not state.bays and self._set_up_apart(state)
        sheets = closing + (self._nights[SHEETED] if closing or state.loose else 0)
        rest = max((self._nights[id_] + 1 for id_, h in state.left.items() if h), default=0)
        mine = work.zones[state.zones][0] if state.zones < len(work.zones) else ()
        waiting = sum(work.areas[b] for b, _ in state.since if b in mine)
        return max(days, sheets, rest), waits + waiting * soon

    def _set_up_apart(self, state: State) -> bool:
        """Tell whether what is left of setting up takes the first bay's day."""
        work = self.work
        if not work.bays:
            return False
        left = [t for t in work.start if state.left[t.id] >= t.hours.value > 0]
        return slow_hours(left) + work.bay_slow[0] > work.most_sure + NEAR

    @cached_property
    def _nights(self) -> dict[str, int]:
        return nights_of(self.work)

    @cached_property
    def _closing(self) -> list[list[tuple[int, float, int]]]:
        """Fewest days, and least exposure, to close all from each bay and zone on."""
        return [
            [self._packed(zone, bay) for bay in range(len(self.work.bays) + 1)]
            for zone in range(len(self.work.zones) + 1)
        ]

    def _packed(self, zone: int, bay: int) -> tuple[int, float, int]:
        """Pack bays and sheets, each day as full as its slow hours allow."""
        work, room = self.work, max(self.work.most_sure, NEAR)
        sheets = [b.least_slow for b in work.blocks[zone:]]
        waits, soon = 0.0, 0
        for n, (bays, _) in enumerate(work.zones[zone:]):
            back, wait = self._back(bays, sheets[n], bay)
            waits, soon = waits + wait, back if n == 0 else soon
        alone = (
            self._back(tuple(b for b, _ in work.bays), 0.0, bay)[0] if bay < len(work.bays) else 0
        )
        least = min(work.bay_slow[bay:], default=0.0)
        hours = ceil((sum(sheets) + sum(work.bay_slow[bay:])) / room - NEAR)
        if all(s + least > room + NEAR for s in sheets):
            pairs = all(a + b > room + NEAR for a, b in pairwise(sorted(sheets)))
            alone += len(sheets) if pairs else ceil(sum(sheets) / room - NEAR)
        return max(alone, hours), waits, soon

    def _back(self, bays: tuple[int, ...], sheet: float, first: int) -> tuple[int, float]:
        """Pack the bays of a zone back from the day of its sheet; m2 times nights they wait."""
        work, room = self.work, max(self.work.most_sure, NEAR)
        back, left, waits = 1, room - sheet, 0.0
        for n in range(len(work.bays) - 1, first - 1, -1):
            number = work.bays[n][0]
            if number in bays:
                if work.bay_slow[n] > left + NEAR:
                    back, left = back + 1, room
                left -= work.bay_slow[n]
                waits += work.areas[number] * (back - 1)
        return back, waits

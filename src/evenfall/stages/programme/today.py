"""One day on site by the clock: what is opened is closed, what is left of the day is used."""

from __future__ import annotations

from collections.abc import Iterable

from evenfall.model.programmed import Step, Task
from evenfall.stages.programme import order
from evenfall.stages.programme.clock import ALL_DAY, chained, dry_through, ends
from evenfall.stages.programme.gang import Span
from evenfall.stages.programme.gates import DRY
from evenfall.stages.programme.outputs import slow
from evenfall.stages.programme.site import (
    BONDED_DOWN,
    MARGIN,
    NEAR,
    SHEETING,
    Chosen,
    Slot,
    State,
    Way,
    Work,
    kind,
    way,
)
from evenfall.standards import programme_practice as practice

A_SECOND = 1 / 3600  # h; hours of all time are rounded to less
SITE = f"task:{order.OPEN_AND_CLOSE}"


class _Today:
    """A day while it is being filled, as usual and on a slow day."""

    def __init__(self, work: Work, state: State, span: Span) -> None:
        self.work, self.state, self.span = work, state, span
        gang = work.gang
        self.people = gang.people
        self.time = self.morning = span.opens + gang.open_typical
        self.slow = span.opens + gang.open_high
        self.shut = span.closes - MARGIN
        self.midnight = span.on.toordinal() * 24.0
        self.left, self.ended = dict(state.left), dict(state.ended)
        self.steps: list[Step] = []
        self.opened: list[int] = []
        self.way: Way | None = None
        self.zone: tuple[int, ...] = ()
        self.loose = state.loose
        self.sure, self.closing = True, False

    # --- what may begin ---

    def ready(self, task: Task) -> float | None:
        """Tell from which hour of this day all that comes before a task allows it."""
        at, by_id = self.morning, self.work.by_id
        for before in task.after:
            end = self.ended.get(before)
            if end is None:
                return None
            at = max(at, end + by_id[before].rests_h - self.midnight)
        return at

    def chain(self, tasks: Iterable[Task], slowly: bool) -> list[tuple[float, object]]:
        """Hours by the clock of work that all do together, with the hours fit for it."""
        fit, on = self.work.forecast.fit, self.span.on
        return [
            ((slow(t.hours_low, t.hours.value, t.hours_high) if slowly else t.hours.value)
             / self.people, fit(t, on))
            for t in tasks
        ]  # fmt: skip

    # --- doing ---

    def all_do(self, task: Task, hours: float | None = None) -> None:
        """Let everybody do a task, from now on, through the hours that are fit for it."""
        hours = task.hours.value if hours is None else hours
        dt, at = hours / self.people, max(self.time, self.ready(task) or self.time)
        if not dt:
            self.steps.append(Step(task.id, at, at, self.people))
        for a, b in self.work.forecast.fit(task, self.span.on):
            a = max(a, at)
            part = min(dt, b - a)
            if part > NEAR:
                self.steps.append(Step(task.id, a, a + part, self.people))
                at, dt = a + part, dt - part
        if dt > NEAR:  # more than the day has: it is told as open
            self.steps.append(Step(task.id, at, at + dt, self.people))
            at += dt
        self.time = at
        self.ended[task.id] = self.midnight + at

    def reckon(self, tasks: Iterable[Task]) -> None:
        """Move the clock of a slow day on."""
        work = self.chain(tasks, slowly=True)
        end = chained(self.slow, work)  # type: ignore[arg-type]
        self.slow = self.slow + sum(h for h, _ in work) if end is None else end

    def fill(self, until: float, only: tuple[Task, ...] | None = None) -> None:
        """Use the time with work that keeps no rain out; two gangs where one hand is enough."""
        wanted = self.work.free if only is None else only
        tasks = [t for t in wanted if t.id not in self.ended]
        while tasks:
            self._look(tasks)
            tasks = [t for t in tasks if t.id not in self.ended]
            if self.time >= until - NEAR:
                return
            fit = [(t, *w) for t in tasks if (w := self._window(t, until)) is not None]
            if not fit:
                return
            soonest = min(a for _, a, _ in fit)
            self.time = max(self.time, soonest)
            self._together([(t, b) for t, a, b in fit if a <= self.time + NEAR], until)

    def _look(self, tasks: list[Task]) -> None:
        """Pass the hold points that nothing keeps any more."""
        for t in tasks:
            at = self.ready(t)
            if not t.hours.value and at is not None and at <= self.time + A_SECOND:
                self.ended[t.id] = self.midnight + self.time
                self.steps.append(Step(t.id, self.time, self.time, self.people))

    def _window(self, task: Task, until: float) -> tuple[float, float] | None:
        """Find the next stretch of time for a task, from now on."""
        at = self.ready(task)
        if at is None or not task.hours.value:
            return None
        at = max(at, self.time)
        for a, b in self.work.forecast.fit(task, self.span.on):
            if min(b, until) - max(a, at) > NEAR:
                return max(a, at), min(b, until)
        return None

    def _together(self, ready: list[tuple[Task, float]], until: float) -> None:
        """Let all do one task, or one person a small one elsewhere."""
        first, end = ready[0]
        gangs = [(first, self.people)]
        other = next((r for r in ready[1:] if self._apart(first, r[0])), None)
        if other is not None:
            small, big = (first, other[0]) if _small(first) else (other[0], first)
            gangs, end = [(big, self.people - 1), (small, 1)], min(end, other[1])
        dt = min(min(self.left[t.id] / n for t, n in gangs), end - self.time, until - self.time)
        for gang, (task, people) in enumerate(gangs, 1):
            self.steps.append(Step(task.id, self.time, self.time + dt, people, gang))
            self.left[task.id] -= dt * people
            if self.left[task.id] <= NEAR:
                self.left[task.id] = 0.0
                self.ended[task.id] = self.midnight + self.time + dt
        self.time += dt

    def _apart(self, one: Task, two: Task) -> bool:
        """Whether two gangs can do two tasks: one of them small, and nowhere at one spot."""
        if self.people == 1 or _small(one) == _small(two) or set(one.at) & set(two.at):
            return False
        big = two if _small(one) else one
        return big.least_people < self.people


def _small(task: Task) -> bool:
    """Whether one person is enough: work at a single opening."""
    return len(task.at) == 1 and task.at[0].startswith("opening:") and task.least_people == 1


def day(work: Work, state: State, span: Span, chosen: Chosen) -> State:
    """Work a day.

    Parameters
    ----------
    work : Work
        All the work [-].
    state : State
        What is done in the morning [-].
    span : Span
        The day [h].
    chosen : (int, bool, bool)
        Bays at most, whether a sheet goes down, and whether before the bays [-].

    Returns
    -------
    State
        What is done in the evening; the same, a day later, if nothing could be [-].
    """
    today = _Today(work, state, span)
    _begin(today)
    bonded = bool(today.loose)
    _bond_loose(today)
    most, sheet, sheet_first = chosen
    if sheet and sheet_first:
        _cover(today)
    if not (work.hurry and span.then_off):
        _open_bays(today, most)
    if sheet and today.way is None:
        _cover(today)
    today.fill(span.closes)
    return _evening(today, chosen, bonded)


def _begin(today: _Today) -> None:
    """Set up; on a slow day what is done of it takes longer."""
    before = dict(today.left)
    today.fill(today.span.closes, today.work.start)
    for t in today.work.start:
        if t.hours.value and before[t.id] > today.left[t.id]:
            share = (before[t.id] - today.left[t.id]) / t.hours.value
            today.slow += share * slow(t.hours_low, t.hours.value, t.hours_high) / today.people


def _bond_loose(today: _Today) -> None:
    for task in today.loose:
        today.all_do(task)
    today.reckon(today.loose)
    today.slow = max(today.slow, today.time)
    today.loose = ()


def _open_bays(today: _Today, most: int) -> None:
    """Open the next bays while even a slow day closes them; one that never closes goes alone."""
    work, on = today.work, today.span.on
    dry = work.forecast.hours(on, DRY)
    if on < work.strip_from:
        return
    for number, tasks in work.bays[today.state.bays :]:
        at = today.ready(tasks[0])
        if len(today.opened) >= most or at is None or at > today.shut:
            return
        begin = max(today.slow, at)
        chain = today.chain(tasks, slowly=True)
        end = chained(begin, chain)  # type: ignore[arg-type]
        closes = end is not None and end <= today.shut + NEAR
        fits = closes and dry_through(begin, (end or 0.0) + practice.DRY_WINDOW_EXTRA, dry)
        alone = today.span.opens + work.gang.open_high + sum(h for h, _ in chain)
        hopeless = alone > today.shut + NEAR and not today.steps and dry is ALL_DAY
        if not fits and not hopeless:
            return
        today.sure &= closes
        today.slow = end if end is not None else alone
        today.opened.append(number)
        today.closing = True
        for task in tasks:
            today.all_do(task)


def _cover(today: _Today) -> None:
    """Board and sheet the next zone, if it can be closed today."""
    work, state, span, gang = today.work, today.state, today.span, today.work.gang
    if state.zones >= len(work.zones) or span.on < work.sheet_from:
        return
    bays, tasks = work.zones[state.zones]
    at = today.ready(tasks[0])
    if at is None or at > today.shut:
        return
    zone, people = work.blocks[state.zones], today.people
    now = way(
        zone, gang, people * (span.closes - max(today.time, at)),
        people * (today.shut - max(today.slow, at)),
    )  # fmt: skip
    now = _weathered(today, tasks, now, at)
    later = way(zone, gang, gang.usual(span), gang.sure(span))
    if now == "loose" and ((later == "bonded" and not work.hurry) or span.then_off):
        now = None
    if now is None and (today.steps or later is not None):
        return
    today.way, today.zone, today.closing = now or "bare", bays, True
    today.sure &= now is not None
    wait = {"bonded": frozenset(), "loose": BONDED_DOWN, None: SHEETING}[now]
    today.slow = max(today.slow, at)
    today.reckon(t for t in tasks if kind(t.id) not in BONDED_DOWN)
    for task in tasks:
        if kind(task.id) in wait:
            continue
        if kind(task.id) == order.FIELD.task:
            _relax(today, tasks)
        elif kind(task.id) == order.AGAIN.task:
            today.fill(today.ready(task) or today.time)
        today.all_do(task)
    today.loose = tuple(t for t in tasks if kind(t.id) in wait)


def _weathered(today: _Today, tasks: tuple[Task, ...], now: Way | None, at: float) -> Way | None:
    """Take back what the weather of the day does not leave hours for."""
    dry = today.work.forecast.hours(today.span.on, DRY)
    if now is None or dry is ALL_DAY:
        return now
    covering = [t for t in tasks if kind(t.id) not in BONDED_DOWN]
    begin = max(today.slow, at)
    end = chained(begin, today.chain(covering, slowly=True))  # type: ignore[arg-type]
    if end is None or end > today.shut or not dry_through(begin, end, dry):
        return None
    rests = float(practice.RELAX + practice.SECOND_PASS_AFTER)
    usual = chained(
        max(today.time, at),
        [*today.chain(tasks, slowly=False), (rests, ALL_DAY)],  # type: ignore[list-item]
    )
    return now if now == "loose" or (usual is not None and usual <= today.shut) else "loose"


def _relax(today: _Today, tasks: tuple[Task, ...]) -> None:
    """Give the sheet all the slack that the day has, and fill it with other work."""
    bonding = [t for t in tasks if kind(t.id) in BONDED_DOWN]
    hours = sum(t.hours.value for t in bonding) / today.people + practice.SECOND_PASS_AFTER
    least = today.ready(bonding[0]) or today.time
    latest = max(least, today.shut - hours)
    fit = today.work.forecast.fit(bonding[0], today.span.on)
    if ends(latest, bonding[0].hours.value / today.people, fit) is None:
        latest = least
    today.fill(latest)
    today.time = max(today.time, latest)


def _evening(today: _Today, chosen: Chosen, bonded: bool) -> State:
    """Write down what is done, and what it cost in nights."""
    work, state, span = today.work, today.state, today.span
    on = span.on.toordinal()
    nights = on - state.last
    exposure = state.exposure + nights * sum(work.areas[b] for b, _ in state.since)
    opened = tuple((b, on) for b in today.opened)
    since = tuple(s for s in (*state.since, *opened) if s[0] not in today.zone)
    late = [b for b, began in state.since if b in today.zone and on - began > work.nights]
    stops = state.stops + (not today.sure) + len(late)
    slots: tuple[Slot, object] | None = state.slots
    if today.steps:
        gang = work.gang
        site = (
            Step(SITE, span.opens, today.morning, gang.people),
        )  # fmt: skip
        shut = today.slow if today.closing or bonded else span.opens
        steps = (*site, *today.steps)
        slots = (
            Slot(span, steps, tuple(today.opened), today.way, today.zone, shut, today.sure),
            state.slots,
        )  # fmt: skip
    return State(
        state.day + 1, on, today.left, today.ended, state.bays + len(today.opened),
        state.zones + bool(today.zone), today.loose, since, stops, exposure, slots,
        (*state.chosen, chosen),
    )  # fmt: skip

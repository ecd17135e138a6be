"""Making tasks: each kind of work on each part of the roof, its hours and what precedes it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from evenfall.model.programmed import Task
from evenfall.stages.programme import order
from evenfall.stages.programme.order import Row
from evenfall.stages.programme.outputs import Outputs
from evenfall.stages.programme.roof import Part, Roof, drains, joined, whole
from evenfall.working import Working, total

Zone = tuple[int, ...]
GATE = "a hold point, no work of its own"


class _Making:
    """Tasks made so far, by kind, so that later ones can name what comes first."""

    def __init__(self, roof: Roof, outputs: Outputs) -> None:
        self.roof, self.outputs = roof, outputs
        self.made: dict[str, list[str]] = {}
        self.at: dict[str, tuple[str, ...]] = {}
        self.places = {s.name: s.id for s in roof.plan.sides}
        self.places |= {o.name: o.id for o in roof.plan.openings}

    def make(
        self, row: Row, part: Part, after: list[str], mark: str = "", bay: int | None = None,
        zone: Zone = (), named: tuple[str, ...] = (),
    ) -> Task | None:  # fmt: skip
        """Make a task, unless this part has none of it; ``named`` picks some of its places."""
        counted = [(c, self._amount(c, part, named)) for c in row.counts]
        wanted = [(c, n) for c, n in counted if any(m for _, m in n)]
        if (row.counts and not wanted) or (row.only and not row.only(self.roof)):
            return None
        done = [hours_of(c, row.says, n, self.outputs) for c, n in wanted]
        quantity, hours = _joined(row, wanted, done)
        low, high = sum(h[2] for h in done), sum(h[3] for h in done)
        id_ = f"task:{row.task}{mark}"
        self.made.setdefault(row.task, []).append(id_)
        at = tuple(self.places[w] for _, n in wanted for w, m in n if m and w in self.places)
        says = f"{row.says} ({', '.join(named)})" if named else row.says
        self.at[id_] = at
        if row.lifts and self.roof.sheet_hands > row.people:
            says += f" ({self.roof.sheet_hands} people lift the roll, or a hoist)"
        return Task(
            id_, says, bay, quantity, hours, low, high, tuple(after), row.gates, row.people,
            row.hold, zone, row.rests_h, at,
        )  # fmt: skip

    def chain(
        self, rows: tuple[Row, ...], part: Part, before: list[str], mark: str,
        bay: int | None = None, zone: Zone = (),
    ) -> Iterator[Task]:  # fmt: skip
        """Make pieces of work that follow one another on one part of the roof."""
        for row in rows:
            for place in self.places_of(row, part) if row.apart else [""]:
                named = (place,) if place else ()
                own = f"{mark}/{place}" if place else mark
                task = self.make(row, part, before, own, bay, zone, named)
                if task is not None:
                    before = [task.id]
                    yield task

    def ids(self, kinds: tuple[str, ...], side: str = "") -> list[str]:
        """Name all tasks of some kinds; of edge timber that at a side, and the sheet over it.

        The fascia of a side by which water leaves waits for the sheet, so that the old gutter may
        hang there until then.
        """
        found = []
        for kind in kinds:
            made = self.made.get(kind, [])
            if side and kind == order.TIMBER:
                made = [i for i in made if self.places[side] in self.at[i]]
            if side and kind == order.SHEET and not drains(self.roof.plan.side(side), self.roof):
                made = []
            found += made
        return found

    def _amount(self, count: order.Count, part: Part, named: tuple[str, ...]) -> order.Named:
        found = count.amount(self.roof, part)
        return tuple((n, m) for n, m in found if n in named) if named else found

    def places_of(self, row: Row, part: Part) -> list[str]:
        """Name the sides that each get a task of their own."""
        return [n for c in row.counts for n, m in c.amount(self.roof, part) if m]


Done = tuple[Working, Working, float, float]


def hours_of(count: order.Count, says: str, named: order.Named, outputs: Outputs) -> Done:
    """Add up a quantity and turn it into hours.

    Parameters
    ----------
    count : Count
        Output of the rates, what it is counted in, and its share [-].
    says : str
        What the work is [-].
    named : tuple of (str, float)
        Parts of the quantity [unit].
    outputs : Outputs
        The firm's outputs [-].

    Returns
    -------
    (quantity, hours, low, high)
        Quantity, and person-hours [h].
    """
    quantity = total(says, "Q", count.unit, [(name, m) for name, m in named if m])
    hours, low, high = outputs.hours(count.output, count.unit, quantity, count.share)
    return quantity, hours, low, high


def _joined(
    row: Row, wanted: list[tuple[order.Count, order.Named]], done: list[Done]
) -> tuple[Working, Working]:
    if not done:
        none = Working(row.says, "Q", "-", GATE, 0.0)
        return none, Working("Hours", "hours", "h", GATE, 0.0)
    if len(done) == 1:
        return done[0][:2]
    parts = [(c.output, hours) for (c, _), (_, hours, _, _) in zip(wanted, done, strict=True)]
    return done[-1][0], total("Hours", "hours", "h", parts)


def tasks(
    roof: Roof, outputs: Outputs, parts: tuple[Part, ...], zones: tuple[Zone, ...], seams_m: float
) -> tuple[Task, ...]:
    """Make all work in the order of the trade, without opening and closing the site.

    Parameters
    ----------
    roof : Roof
        The roof [-].
    outputs : Outputs
        The firm's outputs [-].
    parts : tuple of Part
        The bays in the order of work [-].
    zones : tuple of tuple of int
        Bays that get boards and sheet together [-].
    seams_m : float
        Seams between the sheets of the zones [m].

    Returns
    -------
    tuple of Task
        Each with what comes before it [-].
    """
    return _with_holds(list(_all(roof, outputs, parts, zones, seams_m)))


def _with_holds(made: list[Task]) -> tuple[Task, ...]:
    """Give the hold point of a group to the last work of it that a part of the roof has."""
    given = set()
    for n in range(len(made) - 1, -1, -1):
        task = made[n]
        number = order.LAST_HOLDS.get(task.id.removeprefix("task:").split("@", 1)[0])
        key = (number, task.bay, task.bays)
        if number is not None and key not in given:
            given.add(key)
            made[n] = replace(task, hold_point=number)
    return tuple(made)


def _all(
    roof: Roof, outputs: Outputs, parts: tuple[Part, ...], zones: tuple[Zone, ...], seams_m: float
) -> Iterator[Task]:
    making, all_ = _Making(roof, outputs), replace(whole(roof), night_m=seams_m)
    for row in order.START:
        named = making.ids(row.after)
        task = making.make(row, all_, named)
        if task is not None:
            yield task
    last = making.ids((order.FIRST_CUT,))
    closed: dict[int, list[str]] = {}
    for number, part in enumerate(parts, 1):
        for task in making.chain(order.BAY, part, last, f"@{number}", number):
            last = [task.id]
            yield task
        closed[number] = last
    sheeted: list[str] = []
    for n, zone in enumerate(zones, 1):
        part, mark = joined(tuple(parts[b - 1] for b in zone)), f"@zone-{n}"
        before = [*dict.fromkeys(i for b in zone for i in closed[b]), *sheeted]
        rows = (*order.BOARDING, *order.SHEETING)
        for task in making.chain(rows, part, before, mark if len(zones) > 1 else "", None, zone):
            sheeted = [task.id]
            yield task
    yield from _rest(making, all_, sheeted)


def _rest(making: _Making, all_: Part, sheeted: list[str]) -> Iterator[Task]:
    """Make what keeps no rain out: details, edges, paint, and clearing up at the end."""
    for row in (*order.DETAILS, *order.DRAINING):
        for place in making.places_of(row, all_) if row.apart else [""]:
            named = (place,) if place else ()
            after = making.ids(row.after, place) or sheeted
            task = making.make(row, all_, after, f"/{place}" if place else "", named=named)
            if task is not None:
                yield task
    everything = [i for ids in making.made.values() for i in ids]
    yield from making.chain(order.END, all_, everything, "")


def opening(outputs: Outputs, person_days: int) -> Task:
    """Make the task of opening and closing the site, every person every day.

    Parameters
    ----------
    outputs : Outputs
        The firm's outputs [-].
    person_days : int
        People times days [-].

    Returns
    -------
    Task
        Its hours [h].
    """
    name, says = order.OPEN_AND_CLOSE, "Open the site, close it for the night"
    named = (("people times days", float(person_days)),)
    count = order.Count(name, "person_day", lambda roof, part: named)
    quantity, hours, low, high = hours_of(count, says, named, outputs)
    return Task(f"task:{name}", says, None, quantity, hours, low, high, ())

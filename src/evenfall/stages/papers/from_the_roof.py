"""What the log of the roof puts into the handover file, and what it does not: by whom it comes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from evenfall.model.logbook import HoldEntry, PhotoEntry, WeatherEntry
from evenfall.model.roof_log import HoldState
from evenfall.model.words import day
from evenfall.stages.papers.words import listed, sentence, spoken
from evenfall.stages.papers.worked import WorkedRoof
from evenfall.stages.programme.site import kind
from evenfall.standards.hold_asks import HOLD_ASKS
from evenfall.standards.programme_practice import HOLD_POINTS
from evenfall.working import figure

SITE, OFFICE, CLIENT = "the crew", "the office", "the client"
LAST_HOLD = 9  # the finish, as hold points are numbered
VCL_HOLD = 3  # as hold points are numbered
BOARDS_HOLD = 4  # likewise
SHEET_HOLD = 6  # likewise
STATES = {
    "open": "", "incomplete": "not passed", "stopped": "STOPPED", "passed": "passed",
    "put_right": "put right", "agreed": "agreed",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of the file: in it, or missing, and who brings it."""

    what: str
    held: bool
    says: str
    who: str


@dataclass(frozen=True, slots=True)
class HoldRow:
    """A hold point of a part of the roof as it was found."""

    number: str
    where: str
    passes: str
    state: str  # empty where nobody has looked
    values: str
    photos: int
    batches: str
    by: str
    says: str  # what is not in order


@dataclass(frozen=True, slots=True)
class DayOfWeather:
    """The weather seen on a day."""

    on: str
    seen: str
    whole: bool  # morning and evening


@dataclass(frozen=True, slots=True)
class BayBuilt:
    """A bay as it was built: what came on it, when, and from which packs."""

    number: int
    area_m2: float
    vcl: str
    boards: str
    sheet: str
    batches: str


@dataclass(frozen=True, slots=True)
class HoursRow:
    """Hours of one kind of work."""

    says: str
    planned_h: float
    used_h: float | None


def pieces_of_roof(worked: WorkedRoof) -> Iterator[Piece]:
    """Tell which pieces of the file the roof has given.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Yields
    ------
    Piece
        Hold points, batches, photographs, weather, extra work, marks that are normal [-].
    """
    holds = worked.record.holds
    closed = sum(h.closed for h in holds)
    says = f"{closed} of {len(holds)} hold points passed, put right or agreed."
    if missing := _not_closed(holds):
        says += f" Not yet: {missing}."
    yield Piece("Readings and hold points", closed == len(holds), says, _who(closed == len(holds)))
    bare = [h for h in holds if not h.photos]
    count = len({p for h in holds for p in h.photos} | {p.sha256 for _, p in worked.record.photos})
    says = f"{count} in order of the hold points."
    if bare:
        says += f" None at {_points(bare)}."
    yield Piece("Photographs by hold point", not bare, says, _who(not bare))
    yield _weather_piece(worked)
    yield from _extra_piece(worked)
    marks = signed_at_handover(worked)
    says = f"Read and initialled by {marks}." if marks else "Read with the client, and initialled."
    yield Piece("Marks that are normal", bool(marks), says, "" if marks else CLIENT)


def _who(held: bool) -> str:
    return "" if held else SITE


def _points(holds: list[HoldState]) -> str:
    """Name hold points, those of one number once."""
    parts: dict[int, list[HoldState]] = {}
    for h in holds:
        parts.setdefault(h.number, []).append(h)
    return listed([f"{n} ({listed([h.where for h in some])})" for n, some in parts.items()])


def _not_closed(holds: tuple[HoldState, ...]) -> str:
    return _points([h for h in holds if not h.closed])


def _weather_piece(worked: WorkedRoof) -> Piece:
    days = weather_days(worked)
    missing = [d.on for d in days if not d.whole]
    if not days:
        says = "Nothing was recorded: each morning and each evening of the work."
    elif missing:
        says = f"{len(days) - len(missing)} of {len(days)} days whole; not {listed(missing)}."
    else:
        says = f"Morning and evening of {len(days)} days."
    held = bool(days) and not missing
    return Piece("Weather of the days", held, says, _who(held))


def _extra_piece(worked: WorkedRoof) -> Iterator[Piece]:
    if worked.extras.slips:
        waits = [s.where for s in worked.extras.slips if s.signed_on is None]
        count = len(worked.extras.slips)
        slips = f"{count} slip{'s' * (count != 1)}"
        says = f"{slips}; not signed: {listed(waits)}." if waits else f"{slips}, signed."
        yield Piece("Extra work", not waits, says, CLIENT if waits else "")


def signed_at_handover(worked: WorkedRoof) -> str:
    """Name who signed at the last hold point, with the day.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    str
        Name and day; empty where nobody has [-].
    """
    last = {e.id for _, e in worked.record.kept.entries
            if isinstance(e, HoldEntry) and e.hold == LAST_HOLD}  # fmt: skip
    return next((f"{by} on {day(s.on)}" for of, by, s in worked.record.signed if of in last), "")


def hold_rows(worked: WorkedRoof) -> tuple[HoldRow, ...]:
    """Set out the hold points; of one number those that nobody has looked at share a row.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of HoldRow
        In their order [-].
    """
    rows = []
    for point in HOLD_POINTS:
        mine = [h for h in worked.record.holds if h.number == point.number]
        rows += [_row(h, sentence(f"{point.when}: {point.passes}") if h is mine[0] else "")
                 for h in mine if h.state != "open"]  # fmt: skip
        if waiting := [h for h in mine if h.state == "open"]:
            told = "" if len(waiting) < len(mine) else sentence(f"{point.when}: {point.passes}")
            where = listed([h.where for h in waiting])
            rows.append(HoldRow(f"{point.number}", where, told, "", "", 0, "", "", ""))
    return tuple(rows)


def _row(hold: HoldState, passes: str) -> HoldRow:
    asks = {a.what: a for a in HOLD_ASKS[hold.number].asks}
    values = [f"{spoken(w)} {figure(v)} {unit_of(asks[w].unit)}" for w, v in hold.values]
    stamp = hold.by[-1] if hold.by else None
    plain = hold.closed and hold.state != "agreed" and not hold.again
    return HoldRow(
        f"{hold.number}", hold.where, passes, STATES[hold.state], "; ".join(values),
        len(hold.photos), "; ".join(f"{p} {b}" for p, b in hold.batches),
        f"{stamp.who}, {stamp.on:%d %b} {stamp.at}" if stamp else "",
        "" if plain else " ".join([hold.says, *(sentence(a) for a in hold.again)]),
    )  # fmt: skip


def unit_of(unit: str) -> str:
    """Write a unit as a roofer reads it.

    Parameters
    ----------
    unit : str
        As it is asked [-].

    Returns
    -------
    str
        As it is printed [-].

    Examples
    --------
    >>> unit_of("degC"), unit_of("m2"), unit_of("mm")
    ('°C', 'm²', 'mm')
    """
    return {"degC": "°C", "m2": "m²"}.get(unit, unit)


def batches_of(worked: WorkedRoof, product: str) -> str:
    """List the batch numbers of a product.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].
    product : str
        As the handover file names it [-].

    Returns
    -------
    str
        Numbers, each once; empty for none [-].
    """
    name = product.casefold()
    found = [b for _, _, p, b in worked.record.batches if p.casefold() == name]
    return ", ".join(dict.fromkeys(found))


def weather_days(worked: WorkedRoof) -> tuple[DayOfWeather, ...]:
    """Set out the weather of every day on which something was recorded.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of DayOfWeather
        In their order; says where a morning or an evening is missing [-].
    """
    days: dict[date, list[WeatherEntry]] = {}
    for stamp, entry in worked.record.kept.entries:
        if entry.kind == "clock":
            continue
        seen = days.setdefault(stamp.on, [])
        if isinstance(entry, WeatherEntry):
            seen.append(entry)
    return tuple(
        DayOfWeather(
            day(on), "; ".join(_weather(days[on])),
            {"morning", "evening"} <= {e.when for e in days[on]},
        )
        for on in sorted(days)
    )  # fmt: skip


def _weather(seen: list[WeatherEntry]) -> Iterator[str]:
    for when in ("morning", "noon", "evening"):
        told = [e for e in seen if e.when == when]
        if told:
            e = told[-1]
            yield f"{when} {e.sky}, {e.air_c:.0f} °C, {e.wind}"
        elif when != "noon":
            yield f"no {when}"


def bays_built(worked: WorkedRoof) -> tuple[BayBuilt, ...]:
    """Tell of every bay when it was closed and covered, and from which packs.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of BayBuilt
        By number; days are empty where nothing was recorded [-].
    """
    done = {d.bay: d.stamp.on for d in worked.record.done if d.bay is not None}
    return tuple(
        BayBuilt(
            b.number, b.area_m2, _on(worked, VCL_HOLD, b.number) or _date(done.get(b.number)),
            _on(worked, BOARDS_HOLD, b.number), _on(worked, SHEET_HOLD, b.number),
            ", ".join(dict.fromkeys(f"{p} {n}" for p, n in _packs(worked, b.number))),
        )
        for b in worked.programme.bays
    )  # fmt: skip


def _date(on: date | None) -> str:
    return f"{on:%d %b}" if on else ""


def _on(worked: WorkedRoof, number: int, bay: int) -> str:
    for hold in worked.record.holds:
        if hold.number == number and hold.closed and (not hold.bays or bay in hold.bays):
            return _date(hold.by[-1].on)
    return ""


def _packs(worked: WorkedRoof, bay: int) -> Iterator[tuple[str, str]]:
    """Yield the batches of a bay: those of its hold points, and those written for it."""
    for hold in worked.record.holds:
        if not hold.bays or bay in hold.bays:
            yield from hold.batches
    for _, at, product, batch in worked.record.batches:
        if at == bay:
            yield product, batch


def hours_rows(worked: WorkedRoof) -> tuple[HoursRow, ...]:
    """Set hours used beside the hours planned, by kind of work.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of HoursRow
        In the order of the job; none where no hours were recorded [h].
    """
    used: dict[str, float] = {}
    for entry in worked.case.job.record.hours:
        used[entry.task] = used.get(entry.task, 0.0) + entry.people * entry.hours
    if not used:
        return ()
    planned: dict[str, tuple[str, float]] = {}
    for task in worked.tasks.tasks:
        name = kind(task.id)
        says, hours = planned.get(name, (sentence(task.says)[:-1], 0.0))
        planned[name] = says, hours + task.hours.value
    rows = [HoursRow(s, h, used.pop(n, None)) for n, (s, h) in planned.items() if h or n in used]
    return (*rows, *(HoursRow(sentence(spoken(n))[:-1], 0.0, h) for n, h in used.items()))


def photos_in_order(worked: WorkedRoof) -> tuple[tuple[str, str, str, PhotoEntry | None], ...]:
    """Put the photos in the order of the hold points, each once.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple
        SHA-256, heading, words and the entry of each that has one [-].
    """
    told = {p.sha256: (s, p) for s, p in worked.record.photos}
    found: dict[str, tuple[str, str, PhotoEntry | None]] = {}
    for hold in worked.record.holds:
        for sha in hold.photos:
            head = f"Hold point {hold.number}, {hold.where}"
            found.setdefault(sha, (head, _about(told.get(sha)), told.get(sha, (None, None))[1]))
    for stamp, entry in worked.record.kept.entries:
        for sha in entry.photos:
            head = f"{spoken(entry.kind)}, {stamp.on:%d %b}"
            found.setdefault(sha, (sentence(head)[:-1], _about(told.get(sha)),
                                   told.get(sha, (None, None))[1]))  # fmt: skip
    for sha, (stamp, photo) in told.items():
        found.setdefault(sha, (f"{stamp.on:%d %b}", _about((stamp, photo)), photo))
    return tuple((sha, *rest) for sha, rest in found.items())


def _about(told: tuple[object, PhotoEntry] | None) -> str:
    return sentence(told[1].about) if told else ""

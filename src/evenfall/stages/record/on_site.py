"""The job as the roof shows it: readings of the log in its survey, what was done in its record."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Any

from pydantic import TypeAdapter, ValidationError

from evenfall.model.job import Job, Survey
from evenfall.model.job import Reading as Moisture
from evenfall.model.kinds import Millimetres, MillimetresFrom0, Percent, PullOut
from evenfall.model.logbook import HoldEntry, Log, Read, ReadingEntry
from evenfall.model.programmed import Task
from evenfall.model.recorded import (
    CoverOnSite,
    DoneWork,
    Extra,
    HoursUsed,
    Photo,
    Signature,
    SiteRecord,
)
from evenfall.model.roof_log import FoundState, Logged
from evenfall.stages.programme.site import kind
from evenfall.stages.record.reading import read

FEEDS: tuple[Read, ...] = ("moisture", "level", "pull_out", "gap")
"""Readings that the calculation takes in."""
_FITS: dict[str, TypeAdapter[Any]] = {
    "moisture": TypeAdapter(Percent), "level": TypeAdapter(Millimetres),
    "gap": TypeAdapter(MillimetresFrom0), "pull_out": TypeAdapter(PullOut),
}  # fmt: skip


def on_site(job: Job, rates: frozenset[str] | None = None) -> Job:
    """Take what the log says into the job; without a log it is the job itself.

    Parameters
    ----------
    job : Job
        The job as it is kept [-].
    rates : frozenset of str, optional
        Rates agreed beforehand; what was found at any other is left out [-].

    Returns
    -------
    Job
        Levels, gaps, pull-outs and moisture read on the roof are in its survey; what was done,
        covers, hours and extra work in its record. The log stays as it is [-].
    """
    if not job.record.log:
        return job
    logged = _read(job.record.log)
    survey = _survey(job.survey, logged)
    record = _record(job.record, logged, rates)
    return job.model_copy(update={"survey": survey, "record": record})


MOST_LOGS = 8  # jobs that a desk has open at one time, or so


@lru_cache(maxsize=MOST_LOGS)
def _read(log: Log) -> Logged:
    return read(log)


def fits(what: str, value: float) -> bool:
    """Whether a reading is one that the calculation can take.

    Parameters
    ----------
    what : str
        Kind of reading [-].
    value : float
        As read [any].

    Returns
    -------
    bool
        False for what cannot be, such as a moisture of 140 % [-].

    Examples
    --------
    >>> fits("moisture", 17.5), fits("moisture", 140.0), fits("pull_out", -3)
    (True, False, False)
    """
    try:
        _FITS[what].validate_python(value)
    except ValidationError:
        return False
    return True


def _taken(logged: Logged) -> Iterator[tuple[str, str | None, float, int | None, bool]]:
    """Yield what feeds the calculation: single readings, and the worst of hold points."""
    for _, entry in logged.kept.entries:
        if isinstance(entry, ReadingEntry) and entry.what in FEEDS:
            if fits(entry.what, entry.value):
                yield entry.what, entry.name, entry.value, entry.bay, False
        elif isinstance(entry, HoldEntry):
            for what in FEEDS:
                read = [v.value for v in entry.values if v.what == what and fits(what, v.value)]
                whole = read if what == "pull_out" else [max(read)] if read else []
                yield from ((what, None, value, entry.bay, True) for value in whole)


def _survey(survey: Survey, logged: Logged) -> Survey:
    taken = list(_taken(logged))
    changes: dict[str, Any] = {}
    if gaps := [v for what, _, v, *_ in taken if what == "gap"]:
        changes["widest_gap_mm"] = max(survey.deck.widest_gap_mm, *gaps)
    if pulls := [v for what, _, v, *_ in taken if what == "pull_out"]:
        changes["pull_outs_n"] = (*survey.deck.pull_outs_n, *pulls)
    found: dict[str, Any] = {}
    if changes:
        found["deck"] = survey.deck.model_copy(update=changes)
    if levels := {n: v for what, n, v, *_ in taken if what == "level" and n}:
        found["levels"] = tuple(
            point.model_copy(update={"below_line_mm": levels[point.name]})
            if point.name in levels else point
            for point in survey.levels
        )  # fmt: skip
    if any(what == "moisture" for what, *_ in taken):
        found["readings"] = tuple(_moist(survey, taken))
    return survey.model_copy(update=found) if found else survey


def _moist(
    survey: Survey, taken: list[tuple[str, str | None, float, int | None, bool]]
) -> Iterator[Moisture]:
    """Set each reading at its joist or board, the last one there.

    Unnamed ones count by their bay: the wettest, until its hold point is read again.
    """
    named = {r.name: r.percent for r in survey.readings}
    for what, name, value, bay, held in taken:
        if what != "moisture":
            continue
        at = name or (f"bay-{bay}" if bay is not None else "deck-on-site")
        named[at] = value if name or held else max(value, named.get(at, value))
    for at, percent in named.items():
        yield Moisture(name=at, percent=percent)


def _record(record: SiteRecord, logged: Logged, rates: frozenset[str] | None) -> SiteRecord:
    known = {(d.bay, d.task) for d in record.done}
    done = tuple(
        DoneWork(bay=d.bay, task=d.task, on=d.stamp.on)
        for d in logged.done
        if (d.bay, d.task) not in known
    )
    hours = tuple(
        HoursUsed(task=kind(e.task), on=s.on, people=e.people, hours=e.hours)
        for s, e in logged.hours
    )
    covers = tuple(CoverOnSite(length_m=c.length_m, width_m=c.width_m) for c in logged.covers)
    extras = tuple(_extra(f) for f in logged.found if rates is None or f.entry.rate in rates)
    return record.model_copy(update={
        "done": (*record.done, *done), "hours": (*record.hours, *hours),
        "covers": covers or record.covers, "extras": (*record.extras, *extras),
    })  # fmt: skip


def _extra(found: FoundState) -> Extra:
    entry, signed = found.entry, None
    if found.signed is not None:
        signed = Signature(by=found.signed_by, on=found.signed.on)
    return Extra(
        name=found.name, rate=entry.rate, found=entry.quantity, where=entry.where,
        found_on=found.stamp.on, photo=Photo(file=f"photos/{entry.photos[0]}",
                                             sha256=entry.photos[0]) if entry.photos else None,
        signed=signed,
    )  # fmt: skip


def planned(site: SiteRecord, given: SiteRecord, tasks: tuple[Task, ...]) -> SiteRecord:
    """Leave out what the log tells of work that the plan no longer has; the record's own stays.

    Parameters
    ----------
    site, given : SiteRecord
        The record with and without what the log says [-].
    tasks : tuple of Task
        All work of the plan [-].

    Returns
    -------
    SiteRecord
        The record, fit for the plan [-].
    """
    kinds = {kind(t.id) for t in tasks}
    ids = kinds | {t.id.removeprefix("task:") for t in tasks}
    bays = {t.bay for t in tasks}
    own_done, own_hours = len(given.done), len(given.hours)
    done = [d for d in site.done[own_done:] if (d.task in ids if d.task else d.bay in bays)]
    hours = [h for h in site.hours[own_hours:] if h.task in kinds]
    return site.model_copy(update={
        "done": (*site.done[:own_done], *done), "hours": (*site.hours[:own_hours], *hours),
    })  # fmt: skip

"""The record of a roof in plain lines: passed, missing, stopped, used."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.model.words import day
from evenfall.stages.papers.from_the_roof import hours_rows, weather_days
from evenfall.stages.papers.handover import handover
from evenfall.stages.papers.notes_of_roof import note_rows
from evenfall.stages.papers.worked import WorkedRoof

HOURS_APART = 0.25  # share by which hours used differ from those planned before it is told


def told(worked: WorkedRoof) -> tuple[str, ...]:
    """Tell the record.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of str
        Lines [-].
    """
    record = worked.record
    if not record.kept.entries:
        return ("Nothing is recorded yet.",)
    return (
        f"{len(record.kept.entries)} records stand, {len(record.kept.replaced)} were put right.",
        *_stops(worked), *_holds(worked), *_missing(worked), *_hours(worked), *_extras(worked),
        *_notes(worked),
    )  # fmt: skip


def _stops(worked: WorkedRoof) -> Iterator[str]:
    for finding in worked.record.findings:
        if finding.level == "stop":
            cure = f" {finding.remedy.says}" if finding.remedy else ""
            yield f"STOP: {finding.says}{cure}"


def _holds(worked: WorkedRoof) -> Iterator[str]:
    closed = sum(h.closed for h in worked.record.holds)
    yield f"Hold points: {closed} of {len(worked.record.holds)} passed, put right or agreed."
    for hold in worked.record.holds:
        yield f"  {hold.number}  {hold.where}: {hold.says}"
        yield from (f"     {again}" for again in hold.again)


def _missing(worked: WorkedRoof) -> Iterator[str]:
    missing = [p for p in handover(worked).pieces if not p.held]
    if missing:
        yield "Still missing for the handover file:"
        yield from (f"  {p.what} ({p.who}): {p.says}" for p in missing)
    yield f"Weather: {len(weather_days(worked))} days."


def _hours(worked: WorkedRoof) -> Iterator[str]:
    rows = [r for r in hours_rows(worked) if r.used_h is not None]
    if rows:
        used, planned = (sum(v or 0 for v in vs) for vs in zip(
            *((r.used_h, r.planned_h) for r in rows), strict=True))  # fmt: skip
        yield f"Hours: {used:.1f} used where {planned:.1f} were planned."
    for r in rows:
        if abs((r.used_h or 0) - r.planned_h) > HOURS_APART * r.planned_h:
            yield f"  {r.says}: {r.used_h:.1f} h, planned {r.planned_h:.1f}"


def _extras(worked: WorkedRoof) -> Iterator[str]:
    for slip in worked.extras.slips:
        by = f"signed by {slip.signed_by}" if slip.signed_on else "not signed: not in the price"
        yield f"Extra work: {slip.where}, £{slip.total.value / 100:,.2f} with VAT, {by}."
    if worked.extras.slips:
        total = worked.extras.total.value / 100
        done = worked.case.job.record.finished_on
        ends = f"finished on {day(done)}" if done else f"finish {day(worked.extras.finish_on)}"
        yield f"New total £{total:,.2f}, {ends}."


def _notes(worked: WorkedRoof) -> Iterator[str]:
    rows = note_rows(worked)
    if rows:
        yield "Notes:"
        yield from (f"  {row.line}" for row in rows)

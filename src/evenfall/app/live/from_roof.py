"""What the roof changed in a job: by its last records, and by all of them against the plan."""

from __future__ import annotations

from dataclasses import dataclass, replace

from evenfall.app.live.desk import Desk
from evenfall.app.store.logged import log_of
from evenfall.flow import WorkedJob, changed, without_log, work_out
from evenfall.model.case import Case

MOST_KEPT = 16
"""Jobs worked without their last records that are kept; one shares nearly all with its job."""


@dataclass(frozen=True, slots=True)
class FromRoof:
    """What records changed; ``last`` those that came last, ``all`` together since the plan."""

    records: int
    by: str  # who brought the last ones
    at: str  # when, ISO 8601
    last: tuple[str, ...]
    all: tuple[str, ...]


def from_roof(desk: Desk, job: str, worked: WorkedJob, *, prices: bool = True) -> FromRoof:
    """Tell what the records of the roof changed in a job.

    Parameters
    ----------
    desk : Desk
        Jobs kept and worked [-].
    job : str
        Id of the job [-].
    worked : WorkedJob
        Its newest revision, worked to its end [-].
    prices : bool
        Whether the sum of the work is told; a phone is told of agreed extra work alone [-].

    Returns
    -------
    FromRoof
        Lines, those that stop work first; none where nothing is otherwise [-].
    """
    log = worked.given.job.record.log
    brought = next((r for r in desk.store.history(job) if r.kind == "site"), None)
    if not log or brought is None:
        return FromRoof(len(log), "", "", (), _lines(desk, worked, prices=prices) if log else ())
    before = desk.store.contents(desk.store.revision(job, brought.number - 1))
    known = {str(e["id"]) for e in log_of(before.document)}
    record = worked.given.job.record
    early = record.model_copy(update={"log": tuple(e for e in log if e.id in known)})
    was = replace(worked.given, job=worked.given.job.model_copy(update={"record": early}))
    last = changed(_beside(desk, was, worked), worked, prices=prices)
    return FromRoof(len(log), brought.who, brought.at, last, _lines(desk, worked, prices=prices))


def _lines(desk: Desk, worked: WorkedJob, *, prices: bool) -> tuple[str, ...]:
    return changed(_beside(desk, without_log(worked.given), worked), worked, prices=prices)


def _beside(desk: Desk, case: Case, worked: WorkedJob) -> WorkedJob:
    """Work the job with fewer records; what is equal is taken over, and the last ones are kept."""
    for kept in desk.beside:
        if kept.given == case:
            return kept
    found = work_out(case, worked)
    desk.beside = (found, *desk.beside)[:MOST_KEPT]
    return found

"""The record of the roof: hold points, stops, what was found, and what to do about it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from evenfall.model.finding import Finding, Remedy
from evenfall.model.kinds import Nation
from evenfall.model.logbook import Log, ReadingEntry
from evenfall.model.programmed import Task
from evenfall.model.rates import EmergencyLine
from evenfall.model.roof_log import HoldState, Kept, Logged, StopState
from evenfall.stages.programme.site import kind
from evenfall.stages.record.holds import dues
from evenfall.stages.record.on_site import FEEDS, fits
from evenfall.stages.record.reading import read
from evenfall.stages.record.whom_to_ring import Ring, rings
from evenfall.standards.hold_asks import HOLD_ASKS
from evenfall.working import Basis

WHERE = "record.log"
ON_SITE: Basis = "measured"
CLOCK_OFF_S = 300  # a telephone whose clock is five minutes out is told of
DANGERS = {
    "asbestos": ("something that may be asbestos", "Nobody touches it, the room is shut. Ring an "
                 "asbestos surveyor, and a licensed contractor before anything is moved."),
    "cable": ("a cable", "Nobody touches it. Ring a registered electrician; if it is damaged or "
              "the supply's own, ring the network operator."),
    "gas": ("gas", "No switch, no flame, everybody off and out. Ring the gas emergency service; "
            "afterwards a registered gas engineer."),
    "structure": ("damage to what carries the roof", "Nobody stands on it. Ring the structural "
                  "engineer."),
    "other": ("a danger", "Ring the office; nobody goes on before somebody who may has cleared "
              "it."),
}  # fmt: skip


def work(
    log: Log, tasks: tuple[Task, ...], rates: tuple[str, ...], levels: tuple[str, ...],
    nation: Nation = "england", tried: tuple[EmergencyLine, ...] = (),
) -> Logged:  # fmt: skip
    """Read the log of a job against its programme.

    Parameters
    ----------
    log : tuple of Entry
        The log [-].
    tasks : tuple of Task
        All work, with its hold points [-].
    rates : tuple of str
        Rates agreed beforehand [-].
    levels : tuple of str
        Level points of the survey [-].
    nation : str
        Whose emergency lines answer [-].
    tried : tuple of EmergencyLine
        Numbers that the firm has tried itself [-].

    Returns
    -------
    Logged
        What it says, and findings [-].
    """
    logged = read(log, dues(tasks))
    found = (
        *(f for s in logged.standing for f in _stopped(s, rings(s.entry.danger, nation, tried))),
        *(f for h in logged.holds for f in _held(h)),
        *_unpriced(logged, rates),
        *_odd(logged.kept, levels),
        *_unplanned(logged, tasks),
        *_clocks(logged.kept),
    )
    return replace(logged, findings=found)


def _stopped(stop: StopState, rung: tuple[Ring, ...]) -> Iterator[Finding]:
    what, do = DANGERS[stop.entry.danger]
    if rung:
        do += f" {'; '.join(ring.says for ring in rung)}."
    if any(ring.remembered for ring in rung):
        do += " Numbers from memory: try them before you rely on them."
    note = f" {stop.entry.note}" if stop.entry.note else ""
    says = f"Stopped on the roof for {what}: {stop.stamp.says}.{note}"
    yield Finding("stopped-on-site", f"stop:{stop.entry.danger}-{stop.entry.id[:6]}", "stop", says,
                  WHERE, ON_SITE, remedy=Remedy(do))  # fmt: skip


def _held(hold: HoldState) -> Iterator[Finding]:
    subject = f"hold:{hold.number}" + (f"/bay-{hold.bays[0]}" if hold.bays else "")
    name = f"Hold point {hold.number}, {hold.where}"
    source, basis = HOLD_ASKS[hold.number].source, HOLD_ASKS[hold.number].basis
    if hold.state == "stopped":
        cure = Remedy("Put it right and read it again, or have it agreed in writing, by name.")
        yield Finding("hold-stopped", subject, "stop", f"{name}. {hold.says}", source, basis,
                      remedy=cure)  # fmt: skip
    elif hold.state == "incomplete":
        cure = Remedy("Add what is missing; until then it is not passed.")
        yield Finding("hold-incomplete", subject, "note", f"{name}. {hold.says}", source, basis,
                      remedy=cure)  # fmt: skip
    elif hold.state == "agreed":
        yield Finding("hold-agreed", subject, "note", f"{name}. {hold.says}", source, basis)
    for told in hold.again:
        yield Finding("hold-read-again", subject, "note", f"{name}: {told}.", source, basis)


def _unpriced(logged: Logged, rates: tuple[str, ...]) -> Iterator[Finding]:
    for found in logged.found:
        if found.entry.rate not in rates:
            says = (f'{found.entry.where}: found at the rate "{found.entry.rate}", which was not '
                    "agreed; it is in no slip.")  # fmt: skip
            cure = Remedy("Agree a rate in writing, or correct the entry.")
            yield Finding("found-without-rate", f"extra:{found.name}", "agree", says, WHERE,
                          ON_SITE, remedy=cure)  # fmt: skip


def _odd(kept: Kept, levels: tuple[str, ...]) -> Iterator[Finding]:
    """Tell readings that the calculation leaves out."""
    for stamp, e in kept.entries:
        if not isinstance(e, ReadingEntry) or e.what not in FEEDS:
            continue
        told = f"{e.what.replace('_', '-')} {e.value:g} {e.unit}, {stamp.says}"
        if not fits(e.what, e.value):
            says = f"Left out, it cannot be: {told}."
        elif e.what == "level" and e.name not in levels:
            says = f'Left out, the survey has no level point "{e.name or ""}": {told}.'
        else:
            continue
        yield Finding("reading-left-out", f"reading:{e.id[:6]}", "note", says, WHERE, ON_SITE,
                      remedy=Remedy("Correct the entry on the telephone."))  # fmt: skip


def _unplanned(logged: Logged, tasks: tuple[Task, ...]) -> Iterator[Finding]:
    """Tell records of work that the plan does not have; it may have changed since."""
    if not tasks:
        return
    kinds, bays = {kind(t.id) for t in tasks}, {t.bay for t in tasks}
    told = [(s, e.id, e.task) for s, e in logged.hours if kind(e.task) not in kinds]
    for d in logged.done:
        if (kind(d.task) not in kinds) if d.task else (d.bay not in bays):
            told.append((d.stamp, d.stamp.id, d.task or f"bay {d.bay}"))
    for stamp, id_, what in told:
        says = f"Left out, the plan has no {what}: recorded by {stamp.says}."
        yield Finding("record-of-no-work", f"reading:{id_[:6]}", "note", says, WHERE, ON_SITE,
                      remedy=Remedy("The plan may have changed; correct the entry."))  # fmt: skip


def _clocks(kept: Kept) -> Iterator[Finding]:
    for device, ahead in kept.moved:
        if abs(ahead) >= CLOCK_OFF_S:
            way = "ahead" if ahead > 0 else "behind"
            says = (f"The clock of telephone {device[:6]} is {abs(ahead) / 60:.0f} minutes {way}; "
                    "its entries are told by the desk's clock.")  # fmt: skip
            yield Finding("clock-off", f"telephone:{device[:6]}", "note", says, WHERE, ON_SITE)

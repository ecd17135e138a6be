"""The log of a job as a set: no two entries share an id, and an entry knows its own unit."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.model.job import Job
from evenfall.model.logbook import UNIT_OF, Entry, ReadingEntry
from evenfall.model.slip import Slip


def log_slips(job: Job) -> Iterator[Slip]:
    """Find entries that cannot stand in one log.

    Parameters
    ----------
    job : Job
        A job whose single values are sound [-].

    Yields
    ------
    Slip
        One for each [-].
    """
    seen: dict[str, Entry] = {}
    for number, entry in enumerate(job.record.log):
        path = f"record.log[{number}]"
        if entry.id in seen:
            same = seen[entry.id] == entry
            yield Slip(
                f"{path}.id", f"{entry.id} twice{'' if same else ', saying two things'}",
                "each entry once", do="take one out" if same else
                "ask whose is right; entries are never changed, a correction has an id of its own",
            )  # fmt: skip
        seen[entry.id] = entry
        for slip in shape_slips(entry):
            yield Slip(f"{path}.{slip.path}", slip.found, slip.expected, slip.words, slip.do)


def shape_slips(entry: Entry) -> Iterator[Slip]:
    """Find what does not fit within one entry; paths are its own keys.

    Parameters
    ----------
    entry : Entry
        An entry whose single values are sound [-].

    Yields
    ------
    Slip
        One for each [-].
    """
    if isinstance(entry, ReadingEntry) and entry.unit != UNIT_OF[entry.what]:
        yield Slip("unit", f'"{entry.unit}"', f"{UNIT_OF[entry.what]} for {entry.what}",
                   (UNIT_OF[entry.what],), "give the reading in that unit")  # fmt: skip
    if entry.replaces == entry.id:
        yield Slip("replaces", "the entry itself", "the id of an earlier entry")
    if entry.kind == "done" and entry.task is None and entry.bay is None:
        yield Slip("task", "neither task nor bay", "what is done", do="name a bay or a task")
    if entry.kind == "found" and not entry.photos:
        yield Slip("photos", "no photo", "a photo before anything is mended", do="take it first")
    if entry.kind == "note" and entry.note is None:
        yield Slip("note", "nothing", "the words of the note", do="write what it is")
    if entry.kind == "note" and entry.about == "agreed" and entry.by is None:
        yield Slip("by", "nobody", "who agreed to it", do="give the name")

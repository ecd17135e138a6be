"""The desk behind its routes: the store, the worker, and what an edit does to both."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from evenfall.app.live.cases import Cases, Sound
from evenfall.app.live.later import Later
from evenfall.app.live.worker import Run, Worker
from evenfall.app.store.kept import Contents, Data, Revision
from evenfall.app.store.logged import LOG, RECORD
from evenfall.app.store.shelves import PHOTOS
from evenfall.app.store.store import Store
from evenfall.app.yaml_core import DEEPEST
from evenfall.errors import InvalidInput
from evenfall.flow import WorkedJob
from evenfall.model.change import look_up, loosened, put, steps, take_out
from evenfall.model.rates import Rates

JOB, RATES = "job", "rates"
"""What a revision holds; a path that begins with the second leads into the rates."""


@dataclass(frozen=True, slots=True)
class Edited:
    """A new revision, and whether it can be worked."""

    revision: Revision
    sound: Sound
    run: Run | None = None


class Desk:
    """Jobs that are kept and worked.

    Parameters
    ----------
    folder : Path
        Where the jobs live [-].
    today : callable
        Says which day it is [-].
    """

    def __init__(self, folder: Path, today: Callable[[], date] = date.today) -> None:
        self.store = Store(folder)
        self.cases = Cases(folder / "rates.yaml")
        self.worker = Worker()
        self.later = Later(self.run)  # what the roof brings is kept first, and worked then
        self.today = today
        self.papers: tuple[WorkedJob, dict[str, bytes]] | None = None  # of the job last printed
        self.beside: tuple[WorkedJob, ...] = ()  # jobs with fewer records than they have now

    @property
    def photos(self) -> Path:
        """Folder of the photos of all jobs, each named by its SHA-256."""
        return self.store.folder / PHOTOS

    def close(self) -> None:
        """End the work and let the file go."""
        self.later.close()
        self.worker.close()
        self.store.close()

    def on(self, job: str) -> date:
        """Give the day as on which a job is worked: today, but for the example."""
        told = self.store.job(job).worked_on
        return date.fromisoformat(told) if told else self.today()

    def sound(self, revision: Revision) -> Sound:
        """Give the case of a revision, or its problems."""
        return self.cases.of(
            revision.job, revision.number, self.on(revision.job),
            lambda: self.store.contents(revision),
        )  # fmt: skip

    def rates_of(self, revision: Revision) -> Rates:
        """Give the rates that a revision is worked with; the firm's where its own are wrong."""
        case = self.sound(revision).case
        return case.rates if case else self.cases.rates

    def run(self, job: str) -> tuple[Revision, Sound, Run | None]:
        """See that the newest revision of a job is worked; None where it cannot be."""
        head = self.store.head(job)
        sound = self.sound(head)
        run = self.worker.ask(job, head.number, sound.case) if sound.case else None
        return head, sound, run

    def edit(
        self, job: str, began: int, changes: Sequence[Data], who: str, why: str = "",
        tell: Callable[[Run], None] = lambda _: None,
    ) -> Edited:  # fmt: skip
        """Save changes as a new revision and begin to work it; what does not work out is saved too.

        Parameters
        ----------
        job : str
            Id of the job [-].
        began : int
            The revision that the changes began from [-].
        changes : sequence of dict
            ``path`` with ``value``, or with ``remove`` [-].
        who, why : str
            Who changes it, and why [-].
        tell : callable
            Told of the run as soon as it begins, while the revision is written; if it cannot be
            written, an error follows and the run is left [-].

        Returns
        -------
        Edited
            The new revision, on the disk, and its problems [-].

        Raises
        ------
        Behind
            The job has changed since; nothing is written.
        InvalidInput
            A path that leads nowhere.
        """
        old, on, begun = self.store.revision(job, began), self.on(job), list[Run | None]()
        contents = self.changed(self.store.contents(old), changes)
        sound = self.cases.make(contents, on)

        def begin(new: Revision) -> None:
            kept = self.cases.keep(job, new.number, on, sound)
            run = self._begun(new, kept, unhurried=True)
            begun.append(run)
            if run:
                tell(run)

        try:
            new = self.store.save(job, began, contents, who, why, changes, begin=begin)
        except BaseException:
            if begun:  # it could not be written after all
                self.worker.stop(job)
            raise
        if begun[0]:
            self.worker.hurry(begun[0])
        return Edited(new, sound, begun[0])

    def copied(self, job: str, who: str) -> Edited:
        """Make a copy of a job, which begins with its rooms."""
        new = self.store.copy(job, who)
        self.worker.like(new.job, job)
        return self.saved(new)

    def saved(self, revision: Revision) -> Edited:
        """Begin to work a new revision."""
        sound = self.sound(revision)
        return Edited(revision, sound, self._begun(revision, sound))

    def _begun(self, revision: Revision, sound: Sound, *, unhurried: bool = False) -> Run | None:
        """Begin the work on a revision; where it cannot be worked, the older work stops."""
        if sound.case is None:
            self.worker.stop(revision.job)
            return None
        case = sound.case
        return self.worker.ask(revision.job, revision.number, case, unhurried=unhurried)

    def changed(self, contents: Contents, changes: Sequence[Data]) -> Contents:
        """Make some changes to what a revision holds; that stays as it is.

        Parameters
        ----------
        contents : Contents
            As it is [-].
        changes : sequence of dict
            ``path`` with ``value``, or with ``remove`` [-].

        Returns
        -------
        Contents
            As it is then [-].

        Raises
        ------
        InvalidInput
            A path that leads nowhere, or values without end.
        """
        data: Any = {JOB: contents.document, RATES: contents.rates}
        if contents.rates is None and any(_in_rates(c) for c in changes):
            data[RATES] = self.cases.rates_data()
        for change in changes:
            path, in_rates = str(change["path"]), _in_rates(change)
            if steps(path)[:2] == (RECORD, LOG):
                do = "leave it, and add an entry that replaces it"
                raise InvalidInput("an entry of the record", "no change", where=path[:80], do=do)
            if len(steps(path)) > DEEPEST or _deep(change.get("value")) > DEEPEST:
                raise InvalidInput("tables within tables without end", "a job", where=path[:80])
            data = loosened(data, path if in_rates else f"{JOB}.{path}")
            target = data if in_rates else data[JOB]
            if change.get("remove"):
                take_out(target, path)
            else:
                put(target, path, change.get("value"), make=not in_rates)
        same = (data[JOB] is contents.document, data[RATES] is contents.rates, True)
        hashes = tuple(h if s else None for h, s in zip(contents.hashes, same, strict=True))
        return Contents(data[JOB], data[RATES], contents.weather, hashes)

    def bounded(self, contents: Contents) -> Contents:
        """Refuse what is far too deep to be a job."""
        for data in (contents.document, contents.rates):
            if _deep(data) > DEEPEST:
                raise InvalidInput("tables within tables without end", "a job", where="document")
        return contents

    def theirs(self, job: str, began: int, changes: Sequence[Data]) -> list[Data]:
        """Say what stands now at the places that somebody else wanted to change."""
        now = self.store.contents(self.store.head(job))
        data = {**now.document, RATES: now.rates or {}}
        return [{"path": c["path"], "value": look_up(data, str(c["path"]))} for c in changes]


def _in_rates(change: Data) -> bool:
    return steps(str(change["path"]))[:1] == (RATES,)


def _deep(value: Any, depth: int = 0) -> int:
    if depth > DEEPEST or not isinstance(value, dict | list):
        return depth
    inner = value.values() if isinstance(value, dict) else value
    return max((_deep(v, depth + 1) for v in inner), default=depth)

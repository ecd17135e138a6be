"""The jobs of a desk and their whole history: revisions are added, and never changed.

A save names the revision that it began from; where that is not the newest, nothing is written and
`Behind` hands the newest back. An undo is a new revision that shows what stood before.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Sequence

from evenfall.app.store import rows
from evenfall.app.store.kept import Contents, Data, Kind, Revision
from evenfall.app.store.listing import Listing
from evenfall.app.store.logged import with_log, without_log
from evenfall.errors import InvalidInput
from evenfall.model.job import FORMAT


class Store(Listing):
    """The jobs in one folder, with all their revisions."""

    def make(
        self, contents: Contents, who: str, why: str = "", *,
        worked_on: str | None = None, file: str | None = None, copied_from: str | None = None,
    ) -> Revision:  # fmt: skip
        """Make a job.

        Parameters
        ----------
        contents : Contents
            What it holds [-].
        who, why : str
            Who made it, and why [-].
        worked_on : str, optional
            The day as on which it is always worked; else today's [-].
        file : str, optional
            The file that it was brought in from [-].
        copied_from : str, optional
            The job that it is a copy of [-].

        Returns
        -------
        Revision
            Its first [-].
        """
        name, place, words, invented = rows.about(contents.document)
        id_, at = rows.new_id(name), rows.now()
        first = Revision(id_, 1, None, 1, "made", at, who, why, FORMAT, ())
        with self.writing() as base:
            base.execute(
                "INSERT INTO jobs (id, head, made, changed, name, place, words, invented, "
                "worked_on, file, copied_from) VALUES (?,?,?,?,?,?,?,?,?,?,?)",
                (id_, 1, at, at, name, place, words, invented, worked_on, file, copied_from),
            )
            rows.insert(base, first, rows.put(base, contents))
            rows.name_entries(base, id_, contents.document)
        return first

    def copy(self, job: str, who: str) -> Revision:
        """Make a job out of another, as that stands now.

        Parameters
        ----------
        job : str
            Id of the other [-].
        who : str
            Who does it [-].

        Returns
        -------
        Revision
            The first of the new one [-].
        """
        listed = self.job(job)
        contents = self.contents(self.head(job))
        document = without_log(contents.document)
        if document is not contents.document:  # the record belongs to the other roof
            contents = Contents(document, contents.rates, contents.weather)
        why = f"a copy of {listed.name}"
        return self.make(contents, who, why, worked_on=listed.worked_on, copied_from=job)

    def head(self, job: str) -> Revision:
        """Find the newest revision of a job.

        Parameters
        ----------
        job : str
            Its id [-].

        Returns
        -------
        Revision
            The newest [-].

        Raises
        ------
        KeyError
            There is no such job.
        """
        return self.revision(job, None)

    def revision(self, job: str, number: int | None) -> Revision:
        """Find a revision of a job.

        Parameters
        ----------
        job : str
            Its id [-].
        number : int or None
            Its number; None for the newest [-].

        Returns
        -------
        Revision
            The revision [-].

        Raises
        ------
        KeyError
            There is no such job or revision.
        """
        with self.reading() as base:
            return rows.revision(base, job, number)

    def history(self, job: str) -> tuple[Revision, ...]:
        """List all revisions of a job, the newest first.

        Parameters
        ----------
        job : str
            Its id [-].

        Returns
        -------
        tuple of Revision
            All of them [-].
        """
        self.job(job)
        sql = "SELECT * FROM revisions WHERE job = ? ORDER BY number DESC"
        with self.reading() as base:
            return tuple(rows.read(row) for row in base.execute(sql, (job,)).fetchall())

    def contents(self, revision: Revision) -> Contents:
        """Give what a revision holds.

        Parameters
        ----------
        revision : Revision
            The revision [-].

        Returns
        -------
        Contents
            Job, rates and weather as data [-].
        """
        with self.reading() as base:
            return rows.contents_of(base, revision.job, revision.number)

    def save(
        self, job: str, began: int, contents: Contents, who: str, why: str = "",
        changes: Sequence[Data] = (), kind: Kind = "edit",
        begin: Callable[[Revision], None] = lambda _: None,
    ) -> Revision:  # fmt: skip
        """Add a revision.

        Parameters
        ----------
        job : str
            Id of the job [-].
        began : int
            Number of the revision that the save began from [-].
        contents : Contents
            What the new one holds [-].
        who, why : str
            Who saves, and why [-].
        changes : sequence of dict
            What was changed, in words of paths and values [-].
        kind : str
            How it came about [-].
        begin : callable
            Told of the new one while it is written, so that its work need not wait for the disk;
            if it cannot be written, an error follows [-].

        Returns
        -------
        Revision
            The new one, on the disk [-].

        Raises
        ------
        Behind
            There is a newer revision than the one that it began from.
        """
        with self.writing() as base:
            head = rows.at(base, job, began)
            new = rows.add(base, head, head.number + 1, contents, who, why, tuple(changes), kind)
            begin(new)
            return new

    def append(
        self, job: str, choose: Callable[[sqlite3.Connection, Data], Sequence[Data]],
        who: str, why: str,
    ) -> Revision | None:  # fmt: skip
        """Add entries to the log of a job as it stands now; this is never too late.

        Parameters
        ----------
        job : str
            Id of the job [-].
        choose : callable
            Given the newest document, says which entries are added; nobody writes meanwhile [-].
        who, why : str
            Who brings them, and in what words the history tells of it [-].

        Returns
        -------
        Revision or None
            The new one, on the disk; None where there was nothing to add [-].

        Raises
        ------
        KeyError
            There is no such job.
        """
        with self.writing() as base:
            head = rows.revision(base, job, None)
            old = rows.contents_of(base, job, head.number)
            document = with_log(old.document, choose(base, old.document))
            if document is old.document:
                return None
            new = Contents(document, old.rates, old.weather, (None, *old.hashes[1:]))
            return rows.add(base, head, head.shows, new, who, why, (), "site")

    def undo(self, job: str, began: int, who: str) -> Revision:
        """Show what stood before the last change.

        Parameters
        ----------
        job : str
            Id of the job [-].
        began : int
            Number of the newest revision, as the person knows it [-].
        who : str
            Who does it [-].

        Returns
        -------
        Revision
            A new one [-].

        Raises
        ------
        Behind
            There is a newer revision.
        InvalidInput
            Nothing stood before.
        """
        with self.writing() as base:
            head = rows.at(base, job, began)
            shown = rows.revision(base, job, head.shows)
            if shown.parent is None:
                raise InvalidInput("nothing to undo", "an earlier change", where="from")
            before = rows.revision(base, job, shown.parent)
            return rows.show(base, head, before.shows, who, "undo", f"without: {rows.words(shown)}")

    def redo(self, job: str, began: int, who: str) -> Revision:
        """Show again what the last undo took away.

        Parameters
        ----------
        job : str
            Id of the job [-].
        began : int
            Number of the newest revision, as the person knows it [-].
        who : str
            Who does it [-].

        Returns
        -------
        Revision
            A new one [-].

        Raises
        ------
        Behind
            There is a newer revision.
        InvalidInput
            Nothing was undone.
        """
        sql = (
            "SELECT max(e.number) FROM revisions e JOIN revisions p ON p.job = e.job AND "
            "p.number = e.parent WHERE e.job = ? AND e.shows = e.number AND p.shows = ?"
        )
        with self.writing() as base:
            head = rows.at(base, job, began)
            number = base.execute(sql, (job, head.shows)).fetchone()[0]
            if number is None:
                raise InvalidInput("nothing to do again", "an undo before", where="from")
            again = rows.revision(base, job, number)
            return rows.show(base, head, number, who, "redo", f"again: {rows.words(again)}")

    def restore(self, job: str, began: int, to: int, who: str) -> Revision:
        """Take up an earlier revision as it was; this can be undone like any change.

        Parameters
        ----------
        job : str
            Id of the job [-].
        began : int
            Number of the newest revision, as the person knows it [-].
        to : int
            Number of the earlier one [-].
        who : str
            Who does it [-].

        Returns
        -------
        Revision
            A new one [-].

        Raises
        ------
        Behind
            There is a newer revision.
        KeyError
            There is no such revision.
        """
        with self.writing() as base:
            head = rows.at(base, job, began)
            old = rows.revision(base, job, to)
            return rows.show(base, head, head.number + 1, who, "restore", f"as at {to}", old.number)

"""The open file of the store, and its list of jobs."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import RLock

from evenfall.app.store import rows
from evenfall.app.store.database import NAME, busy, connect
from evenfall.app.store.kept import Listed

LIST_MOST = 500
"""Jobs in one list; a search finds the others."""


class Listing:
    """The jobs in one folder, as a list.

    Parameters
    ----------
    folder : Path
        Where they live; made where it does not exist [-].
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._base, self._lock = connect(folder), RLock()

    def close(self) -> None:
        """Let the file go."""
        with self._lock:
            self._base.close()

    @property
    def base(self) -> sqlite3.Connection:
        """The open database, for the shelves beside the revisions."""
        return self._base

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """Read with nobody else on the connection."""
        with self._lock:
            yield self._base

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """Write all or nothing; on the disk when this is left."""
        with self._lock:
            try:
                self._base.execute("BEGIN IMMEDIATE")
            except sqlite3.OperationalError as error:
                if "locked" in str(error):
                    raise busy(self.folder / NAME) from None
                raise
            try:
                yield self._base
            except BaseException:
                self._base.execute("ROLLBACK")
                raise
            self._base.execute("COMMIT")

    def jobs(self, search: str = "", archived: bool = False) -> tuple[Listed, ...]:
        """List the jobs, the last changed first.

        Parameters
        ----------
        search : str
            Words that must all stand in title, client, address or reference [-].
        archived : bool
            Whether those put away are listed, instead of the others [-].

        Returns
        -------
        tuple of Listed
            At most `LIST_MOST` [-].
        """
        words = search.casefold().split()
        asked = " ".join("AND instr(words, ?)" for _ in words)
        sql = f"SELECT * FROM jobs WHERE archived = ? {asked} ORDER BY changed DESC, id LIMIT ?"
        with self.reading() as base:
            found = base.execute(sql, (int(archived), *words, LIST_MOST)).fetchall()
        return tuple(rows.listed(row) for row in found)

    def job(self, job: str) -> Listed:
        """Find one job of the list.

        Parameters
        ----------
        job : str
            Its id [-].

        Returns
        -------
        Listed
            The job [-].

        Raises
        ------
        KeyError
            There is no such job.
        """
        with self.reading() as base:
            row = base.execute("SELECT * FROM jobs WHERE id = ?", (job,)).fetchone()
        if row is None:
            raise KeyError(job)
        return rows.listed(row)

    def from_file(self, file: str) -> Listed | None:
        """Find the job that was brought in from a file.

        Parameters
        ----------
        file : str
            The file, as it was named then [-].

        Returns
        -------
        Listed or None
            The job [-].
        """
        sql = "SELECT * FROM jobs WHERE file = ? ORDER BY changed DESC LIMIT 1"
        with self.reading() as base:
            row = base.execute(sql, (file,)).fetchone()
        return rows.listed(row) if row else None

    def archive(self, job: str, archived: bool = True) -> None:
        """Put a job away, or take it out again.

        Parameters
        ----------
        job : str
            Its id [-].
        archived : bool
            Whether it is put away [-].
        """
        self.job(job)
        with self.writing() as base:
            base.execute("UPDATE jobs SET archived = ? WHERE id = ?", (int(archived), job))

    def tell_stops(self, job: str, revision: int, stops: int) -> None:
        """Note how many findings stop a job, for the list.

        Parameters
        ----------
        job : str
            Its id [-].
        revision : int
            The revision that was worked [-].
        stops : int
            How many [-].
        """
        sql = "UPDATE jobs SET stops = ?, stops_of = ? WHERE id = ? AND head = ? AND "
        sql += "(stops IS NOT ? OR stops_of IS NOT ?)"
        with self.writing() as base:
            base.execute(sql, (stops, revision, job, revision, stops, revision))

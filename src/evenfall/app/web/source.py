"""The job behind the desk: read once, and read again when one of its files has changed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from threading import Lock

from evenfall.app.loading import Loaded, load
from evenfall.app.reading import in_file
from evenfall.errors import EvenfallError, InvalidFile, InvalidInput
from evenfall.flow import WorkedJob, work_out

BESIDE = ("rates.yaml", "weather.yaml")


@dataclass(frozen=True)
class Seen:
    """What the desk has to show."""

    worked: WorkedJob = field(metadata={"help": "The job, as last worked without a mistake."})
    own_rates: bool = field(metadata={"help": "Whether the firm's own rates were found."})
    file: str = field(metadata={"help": "Name of the job file."})
    trouble: tuple[str, ...] = field(
        default=(), metadata={"help": "Mistakes of the file as it is now; then `worked` is older."}
    )


def read(job: Path, on: date, before: WorkedJob | None = None) -> tuple[Loaded, WorkedJob]:
    """Read a job and work it out.

    Parameters
    ----------
    job : Path
        A job file, or a folder with one [-].
    on : date
        The date on which it is worked [-].
    before : WorkedJob, optional
        The same job as worked before [-].

    Returns
    -------
    tuple
        The files, and the job worked out [-].

    Raises
    ------
    InvalidInput
        A file that cannot be used, with every mistake and its place.
    """
    loaded = load(job, on)
    try:
        return loaded, work_out(loaded.case, before)
    except InvalidFile:
        raise
    except InvalidInput as error:
        raise in_file(error, loaded.job) from error


class Source:
    """One job on disk.

    Parameters
    ----------
    job : Path
        A job file, or a folder with one [-].
    today : callable
        Gives the date on which the job is worked [-].
    """

    def __init__(self, job: Path, today: Callable[[], date]) -> None:
        self._job, self._today, self._lock = job, today, Lock()
        loaded, worked = read(job, today())
        self._file = Path(loaded.job.file)
        self._stamp = self._stamps()
        self._seen = Seen(worked, loaded.own_rates, self._file.name)

    def __call__(self) -> Seen:
        """Give the job as it is now; a file that has gone wrong leaves the last good answer."""
        with self._lock:
            stamp = self._stamps()
            if stamp != self._stamp:
                self._stamp, self._seen = stamp, self._again(self._seen)
            return self._seen

    def _again(self, seen: Seen) -> Seen:
        try:
            loaded, worked = read(self._job, self._today(), seen.worked)
        except (EvenfallError, OSError) as error:
            told = tuple(str(error).splitlines())
            return Seen(seen.worked, seen.own_rates, seen.file, told)
        return Seen(worked, loaded.own_rates, self._file.name)

    def _stamps(self) -> tuple[object, ...]:
        files = (self._file, *(self._file.with_name(name) for name in BESIDE))
        return self._today(), *(_stamp(f) for f in files)


def _stamp(file: Path) -> tuple[int, int] | None:
    try:
        found = file.stat()
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size

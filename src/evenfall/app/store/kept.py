"""What the store hands out: revisions, what they hold, and the list of jobs."""

from __future__ import annotations

import hashlib
import json
import zlib
from dataclasses import dataclass, field
from typing import Any, Literal

from evenfall.errors import Conflict, InvalidInput

Kind = Literal["made", "edit", "undo", "redo", "restore", "file", "site"]
"""How a revision came about; ``file`` is a job file that was brought in again, ``site`` entries of
the log that came from the roof: they stand beside whatever else is done, and no undo takes them."""

Data = dict[str, Any]

LARGEST = 2_000_000
"""Bytes of a document; a long job has a hundredth of it."""
LARGEST_LOGGED = 10_000_000
"""Bytes of one with a record of the roof; a month of records has a tenth of it."""


@dataclass(frozen=True, slots=True)
class Contents:
    """What a revision holds: the job file as data, its own rates and weather where it has any."""

    document: Data
    rates: Data | None = None
    weather: Data | None = None
    hashes: tuple[str | None, ...] = field(default=(None, None, None), compare=False, repr=False)
    """Of the three, where they are kept already."""

    @property
    def parts(self) -> tuple[Data | None, ...]:
        """The three, as they are kept."""
        return self.document, self.rates, self.weather


@dataclass(frozen=True, slots=True)
class Revision:
    """One revision of a job; ``shows`` is the revision whose contents it has."""

    job: str
    number: int
    parent: int | None
    shows: int
    kind: Kind
    at: str
    who: str
    why: str
    format: int
    changes: tuple[Data, ...]


@dataclass(frozen=True, slots=True)
class Listed:
    """One job of the list."""

    id: str
    name: str
    where: str
    revision: int
    made: str
    changed: str
    archived: bool
    invented: bool
    worked_on: str | None
    stops: int | None
    copied_from: str | None


class Behind(Conflict):
    """A save that began from a revision which is no longer the newest."""

    def __init__(self, began: int, head: Revision) -> None:
        self.began, self.head = began, head
        super().__init__("the job has changed", f"from revision {began}", f"at {head.number}")


def packed(data: Data, largest: int = LARGEST) -> tuple[str, bytes]:
    """Pack a document.

    Parameters
    ----------
    data : dict
        Plain data [-].
    largest : int
        The most bytes that it may have [-].

    Returns
    -------
    tuple
        Hash of its text, and the text pressed together [-].

    Raises
    ------
    InvalidInput
        It is far too long to be a job.

    Examples
    --------
    >>> unpacked(packed({"format": 1})[1])
    {'format': 1}
    """
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode()
    if len(text) > largest:
        raise InvalidInput(f"more than {largest:,} bytes", "a job", where="document")
    return hashlib.sha256(text).hexdigest(), zlib.compress(text, 1)


def unpacked(body: bytes) -> Data:
    """Unpack a document.

    Parameters
    ----------
    body : bytes
        What `packed` gave [-].

    Returns
    -------
    dict
        Plain data [-].
    """
    found: Data = json.loads(zlib.decompress(body))
    return found

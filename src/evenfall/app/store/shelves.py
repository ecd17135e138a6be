"""What lies beside the revisions: papers as they were sent, and photos by the hash of their bytes.

A photo is a file in a folder beside the database, written to a file of its own first and renamed
when it is whole and on the disk, so that a name never stands for half a photo.
"""

from __future__ import annotations

import hashlib
import os
import re
import tempfile
from collections.abc import Iterable, Mapping
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

from evenfall.app.store import rows
from evenfall.app.store.pictured import look
from evenfall.app.store.store import Store
from evenfall.errors import InvalidInput

PHOTOS = "photos"
LARGEST_PHOTO = 25_000_000
"""Bytes; a photo of a phone has three to twelve million."""
SUFFIX = {"image/jpeg": ".jpg", "image/png": ".png", "image/webp": ".webp"}


@dataclass(frozen=True, slots=True)
class Issued:
    """A paper as it was sent; ``worked`` is the digest of the worked job that it was made of."""

    id: int
    paper: str
    revision: int
    at: str
    who: str
    worked_on: str
    worked: str
    hash: str
    bytes: int


@dataclass(frozen=True, slots=True)
class Photo:
    """A photo of a job."""

    hash: str
    type: str
    bytes: int
    wide: int
    high: int
    about: str
    at: str
    who: str


def keep_issued(
    store: Store, job: str, revision: int, paper: str, body: bytes, *,
    who: str, worked_on: str, worked: str,
) -> Issued:  # fmt: skip
    """Keep a paper as it is sent; it is never made anew.

    Parameters
    ----------
    store : Store
        The jobs [-].
    job : str
        Id of the job [-].
    revision : int
        The revision that it was made of [-].
    paper : str
        Its file name [-].
    body : bytes
        The file [-].
    who : str
        Who sends it [-].
    worked_on : str
        The day as on which the job was worked [-].
    worked : str
        Digest of the worked job [-].

    Returns
    -------
    Issued
        What was kept [-].
    """
    hash_, at = hashlib.sha256(body).hexdigest(), rows.now()
    with store.writing() as base:
        number = base.execute(
            "INSERT INTO issued (job, revision, paper, at, who, worked_on, worked, hash, body) "
            "VALUES (?,?,?,?,?,?,?,?,?)",
            (job, revision, paper, at, who, worked_on, worked, hash_, body),
        ).lastrowid
    return Issued(number or 0, paper, revision, at, who, worked_on, worked, hash_, len(body))


def issued(store: Store, job: str) -> tuple[Issued, ...]:
    """List the papers that were sent, the last first.

    Parameters
    ----------
    store : Store
        The jobs [-].
    job : str
        Id of the job [-].

    Returns
    -------
    tuple of Issued
        All of them [-].
    """
    sql = (
        "SELECT id, paper, revision, at, who, worked_on, worked, hash, length(body) FROM issued "
        "WHERE job = ? ORDER BY id DESC"
    )
    with store.reading() as base:
        return tuple(Issued(*row) for row in base.execute(sql, (job,)).fetchall())


def issued_body(store: Store, job: str, number: int) -> tuple[str, bytes]:
    """Give a paper back as it was sent.

    Parameters
    ----------
    store : Store
        The jobs [-].
    job : str
        Id of the job [-].
    number : int
        Its number among those sent [-].

    Returns
    -------
    tuple
        File name and bytes [-].

    Raises
    ------
    KeyError
        There is no such paper.
    """
    with store.reading() as base:
        row = base.execute(
            "SELECT paper, body FROM issued WHERE job = ? AND id = ?", (job, number)
        ).fetchone()
    if row is None:
        raise KeyError(number)
    return row[0], row[1]


def keep_photo(
    store: Store,
    job: str,
    parts: Iterable[bytes | memoryview],
    about: str,
    who: str,
    said: str | None = None,
) -> Photo:
    """Keep a photo of a job; the same photo twice is kept once.

    Parameters
    ----------
    store : Store
        The jobs [-].
    job : str
        Id of the job [-].
    parts : iterable of bytes
        The file, piece by piece [-].
    about : str
        What it shows [-].
    who : str
        Who took it [-].
    said : str, optional
        The hash under which it was announced [-].

    Returns
    -------
    Photo
        What was kept [-].

    Raises
    ------
    InvalidInput
        It is too large, no photo, or another one than was announced.
    """
    with Coming(store.folder / PHOTOS) as coming:
        photo = coming.take(parts, about, who, said)
        coming.settle()
    _noted(store, job, [photo])
    return photo


def keep_photos(
    store: Store, job: str, photos: Mapping[str, bytes | memoryview], who: str
) -> tuple[list[str], dict[str, InvalidInput]]:
    """Keep many photos at once; one that cannot be kept stops no other.

    All files are on the disk, with their names, and then all rows in one transaction, before the
    first of them is acknowledged.

    Parameters
    ----------
    store : Store
        The jobs [-].
    job : str
        Id of the job [-].
    photos : mapping
        Photos by the SHA-256 of their bytes [-].
    who : str
        Who brings them [-].

    Returns
    -------
    tuple
        Hashes of those that are kept now, and what is wrong with the others [-].
    """
    refused: dict[str, InvalidInput] = {}
    kept = []
    with Coming(store.folder / PHOTOS) as coming:
        for said, body in photos.items():
            try:
                kept.append(coming.take([body], "", who, said))
            except InvalidInput as error:
                refused[said] = error
        coming.settle()
    if kept:
        _noted(store, job, kept)
    return [photo.hash for photo in kept], refused


class Coming:
    """Photos on their way to the disk: each is waited for while the next is looked at, then named.

    Parameters
    ----------
    folder : Path
        Where photos lie [-].
    """

    def __init__(self, folder: Path) -> None:
        folder.mkdir(parents=True, exist_ok=True)
        self.folder = folder
        self.written: list[tuple[int, Path, Path]] = []  # open file, its name yet, its name then
        self.hands, self.waits = ThreadPoolExecutor(1), list[Future[None]]()

    def __enter__(self) -> Coming:
        """Begin."""
        return self

    def __exit__(self, *why: object) -> None:
        """Close what is open, and take away what did not become a photo."""
        self.hands.shutdown(cancel_futures=True)
        for file, name, _ in self.written:
            os.close(file)
            name.unlink(missing_ok=True)

    def take(
        self, parts: Iterable[bytes | memoryview], about: str, who: str, said: str | None
    ) -> Photo:
        """Write one; it is not on the disk yet."""
        file, name = tempfile.mkstemp(prefix=".coming-", dir=self.folder)
        coming = Path(name)
        try:
            hash_, size = _streamed(parts, file)
            if said not in (None, hash_):
                do = "send it again; it was broken on the way"
                raise InvalidInput("other bytes than were announced", str(said), where="photo",
                                   do=do)  # fmt: skip
            picture = look(coming)
        except BaseException:
            os.close(file)
            coming.unlink(missing_ok=True)
            raise
        self.written.append((file, coming, self.folder / f"{hash_}{SUFFIX[picture.type]}"))
        self.waits.append(self.hands.submit(os.fsync, file))  # while the next one is looked at
        return Photo(hash_, picture.type, size, picture.wide, picture.high, about, rows.now(), who)

    def settle(self) -> None:
        """Wait until all are on the disk, give them their names, and wait for those."""
        for wait in self.waits:
            wait.result()
        for _, name, place in self.written:
            if not place.exists():  # else it is there already, the very same
                name.replace(place)
        if os.name == "posix" and self.written:
            folder = os.open(self.folder, os.O_RDONLY)
            try:
                os.fsync(folder)
            finally:
                os.close(folder)


def _streamed(parts: Iterable[bytes | memoryview], file: int) -> tuple[str, int]:
    """Write the pieces to a file; give their hash and size."""
    digest, size = hashlib.sha256(), 0
    for part in parts:
        size += len(part)
        if size > LARGEST_PHOTO:
            most = f"at most {LARGEST_PHOTO:,} bytes"
            raise InvalidInput(
                "a file larger than that", most, where="photo", do="send a smaller one"
            )
        digest.update(part)
        view = memoryview(part)
        while view:
            view = view[os.write(file, view) :]
    return digest.hexdigest(), size


def _noted(store: Store, job: str, photos: Iterable[Photo]) -> None:
    """Write the rows of photos whose files are on the disk; all in one transaction."""
    with store.writing() as base:
        base.executemany(
            "INSERT INTO photos (hash, job, type, bytes, wide, high, about, at, who) "
            "VALUES (?,?,?,?,?,?,?,?,?) "
            "ON CONFLICT (job, hash) DO UPDATE SET about = excluded.about",
            [(p.hash, job, p.type, p.bytes, p.wide, p.high, p.about, p.at, p.who) for p in photos],
        )


def photos(store: Store, job: str) -> tuple[Photo, ...]:
    """List the photos of a job, the first first.

    Parameters
    ----------
    store : Store
        The jobs [-].
    job : str
        Id of the job [-].

    Returns
    -------
    tuple of Photo
        All of them [-].
    """
    sql = (
        "SELECT hash, type, bytes, wide, high, about, at, who FROM photos WHERE job = ? ORDER BY at"
    )
    with store.reading() as base:
        return tuple(Photo(*row) for row in base.execute(sql, (job,)).fetchall())


def missing(store: Store, job: str, hashes: Iterable[str]) -> list[str]:
    """Say which photos of a job are still to come.

    Parameters
    ----------
    store : Store
        The jobs [-].
    job : str
        Id of the job [-].
    hashes : iterable of str
        Photos that are spoken of [-].

    Returns
    -------
    list of str
        Those that are not here, in the order given, each once [-].
    """
    with store.reading() as base:
        found = base.execute("SELECT hash FROM photos WHERE job = ?", (job,)).fetchall()
    here = {row[0] for row in found}
    return [h for h in dict.fromkeys(hashes) if h not in here]


def photo_file(store: Store, hash_: str) -> tuple[Path, str]:
    """Find the file of a photo.

    Parameters
    ----------
    store : Store
        The jobs [-].
    hash_ : str
        Its hash [-].

    Returns
    -------
    tuple
        The file, and its type [-].

    Raises
    ------
    KeyError
        There is no such photo.
    """
    if not re.fullmatch(r"[0-9a-f]{64}", hash_):
        raise KeyError(hash_)
    with store.reading() as base:
        row = base.execute("SELECT type FROM photos WHERE hash = ? LIMIT 1", (hash_,)).fetchone()
    file = store.folder / PHOTOS / f"{hash_}{SUFFIX[row[0]]}" if row else None
    if file is None or not file.is_file():
        raise KeyError(hash_)
    return file, row[0]

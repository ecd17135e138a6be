"""What lies beside the revisions: papers as they were sent, and photos by the hash of their bytes.

A photo is a file in a folder beside the database, written to a file of its own first and renamed
when it is whole and on the disk, so that a name never stands for half a photo.
"""

from __future__ import annotations

import hashlib
import os
import re
import tempfile
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from evenfall.app.store import rows
from evenfall.app.store.pictured import Picture, look
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
    store: Store, job: str, parts: Iterable[bytes], about: str, who: str, said: str | None = None
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
    folder = store.folder / PHOTOS
    folder.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(prefix=".coming-", dir=folder)
    coming = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            hash_, size = _streamed(parts, file)
        if said not in (None, hash_):
            do = "send it again; it was broken on the way"
            raise InvalidInput("other bytes than were announced", str(said), where="photo", do=do)
        picture = look(coming)
        _settle(coming, folder / f"{hash_}{SUFFIX[picture.type]}")
    finally:
        coming.unlink(missing_ok=True)
    return _noted(store, job, hash_, size, picture, about, who)


def _streamed(parts: Iterable[bytes], file: object) -> tuple[str, int]:
    """Write the pieces to the disk; give their hash and size."""
    digest, size = hashlib.sha256(), 0
    for part in parts:
        size += len(part)
        if size > LARGEST_PHOTO:
            most = f"at most {LARGEST_PHOTO:,} bytes"
            raise InvalidInput(
                "a file larger than that", most, where="photo", do="send a smaller one"
            )
        digest.update(part)
        file.write(part)  # type: ignore[attr-defined]
    file.flush()  # type: ignore[attr-defined]
    os.fsync(file.fileno())  # type: ignore[attr-defined]
    return digest.hexdigest(), size


def _settle(coming: Path, place: Path) -> None:
    """Give the file its name, and see that the name is on the disk too."""
    coming.replace(place)
    if os.name == "posix":
        folder = os.open(place.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)


def _noted(
    store: Store, job: str, hash_: str, size: int, picture: Picture, about: str, who: str
) -> Photo:
    photo = Photo(hash_, picture.type, size, picture.wide, picture.high, about, rows.now(), who)
    with store.writing() as base:
        base.execute(
            "INSERT INTO photos (hash, job, type, bytes, wide, high, about, at, who) "
            "VALUES (?,?,?,?,?,?,?,?,?) "
            "ON CONFLICT (job, hash) DO UPDATE SET about = excluded.about",
            (hash_, job, photo.type, size, photo.wide, photo.high, about, photo.at, who),
        )
    return photo


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

"""The file that a day sheet gives back: read with its checksum before anything in it is believed.

Its first line holds the checksum, its second the records and the photos, its third closes it; the
checksum is that of the second line, byte for byte. It finds a file that was broken on its way or
changed by hand; who wrote it, it does not prove.
"""

from __future__ import annotations

import base64
import binascii
import codecs
import json
import re
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from pydantic import BaseModel, ConfigDict, ValidationError

from evenfall.errors import InvalidInput

FORMAT = 1
ENDING = ".evenfall-day.json"
LARGEST = 120_000_000
"""Bytes of a file; a day of forty photos has a fifth of it."""
_HEAD = re.compile(rb'\{"evenfall_day":(\d{1,4}),"checksum":"([0-9a-f]{64})","body":\r?')
_SHA = re.compile(r"[0-9a-f]{64}")
_WHAT = f"the file that a day sheet gave back (*{ENDING})"
_AGAIN = "hand it over from the telephone again; the records are still there"

Data = dict[str, Any]


class _Sent(BaseModel):
    """The second line, read with its photos in one go, which is many times as fast."""

    model_config = ConfigDict(extra="allow", val_json_bytes="base64")
    photos: dict[str, bytes]


@dataclass(frozen=True, slots=True)
class Returned:
    """What came back from a telephone: whose job it says it is of, its records and its photos."""

    reference: str
    title: str
    day: int | None
    device: str
    made: str
    entries: tuple[Data, ...]
    photos: dict[str, bytes]


def read_returned(content: bytes) -> Returned:
    r"""Read a file that a day sheet gave back.

    Parameters
    ----------
    content : bytes
        The file [-].

    Returns
    -------
    Returned
        Records and photos as they were written on the roof [-].

    Raises
    ------
    InvalidInput
        It is another file, was broken on its way, or was changed.

    Examples
    --------
    >>> body = '{"format":1,"job":"EXT-1","entries":[],"photos":{}}'
    >>> head = '{"evenfall_day":1,"checksum":"%s","body":' % sha256(body.encode()).hexdigest()
    >>> read_returned(f"{head}\n{body}\n}}\n".encode()).reference
    'EXT-1'
    """
    if len(content) > LARGEST:
        raise InvalidInput(f"a file of {len(content):,} bytes", f"at most {LARGEST:,}",
                           where="file", do="load the days one by one")  # fmt: skip
    head, _, rest = content.removeprefix(codecs.BOM_UTF8).partition(b"\n")
    found = _HEAD.fullmatch(head)
    if found is None:
        raise InvalidInput("another kind of file", _WHAT, where="file", do="look at its name")
    if int(found[1]) != FORMAT:
        raise InvalidInput(f"format {int(found[1])}", f"format {FORMAT}", where="file",
                           do="bring Evenfall up to date")  # fmt: skip
    body = bytes(memoryview(rest)[: _end(rest)])
    if sha256(body).hexdigest() != found[2].decode():
        raise InvalidInput("a file that was broken on its way, or changed since",
                           "one that still has its checksum", where="file", do=_AGAIN)  # fmt: skip
    return _told(body)


def _end(rest: bytes) -> int:
    """Find where the second line ends, before the brace that closes the file."""
    end = len(rest)
    for closing in (b"", b"}"):
        end -= rest.endswith(closing, 0, end) * len(closing)
        while end and rest[end - 1 : end].isspace():
            end -= 1
    return end


def _read(body: bytes) -> Any:
    """Read the second line, the photos as bytes where they are written well."""
    try:
        sent = _Sent.model_validate_json(body)
        return {**(sent.model_extra or {}), "photos": sent.photos}
    except ValidationError:  # said more exactly further on
        return json.loads(body)


def _told(body: bytes) -> Returned:
    try:
        told = _read(body)
        entries, photos = tuple(dict(e) for e in told["entries"]), dict(told["photos"])
        return Returned(
            str(told["job"]), str(told.get("title", "")), told.get("day"),
            str(told.get("device", "")), str(told.get("made", "")), entries,
            {str(sha): _photo(str(sha), text) for sha, text in photos.items()},
        )  # fmt: skip
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError) as error:
        if isinstance(error, InvalidInput):
            raise
        raise InvalidInput("records that cannot be read", _WHAT, where="file", do=_AGAIN) from None


def _photo(sha: str, sent: bytes | str) -> bytes:
    """Give a photo, which must be the one that its name says."""
    try:
        content = sent if isinstance(sent, bytes) else base64.b64decode(sent, validate=True)
    except (binascii.Error, ValueError, TypeError):
        content = b""
    if not _SHA.fullmatch(sha) or sha256(content).hexdigest() != sha:
        what = f"photo {sha[:12]}, which is not what it was"
        raise InvalidInput(what, "photos as they were taken", where="file", do=_AGAIN)
    return content


def check_job(returned: Returned, reference: str) -> None:
    """Refuse the file of another job.

    Parameters
    ----------
    returned : Returned
        What came back [-].
    reference : str
        Reference of the job that it is loaded into [-].

    Raises
    ------
    InvalidInput
        It says another reference.
    """
    if returned.reference != reference:
        raise InvalidInput(
            f'a day of job "{returned.reference}" ({returned.title})', f'a day of "{reference}"',
            where="file", do="load it into its own job",
        )  # fmt: skip

"""Records from the roof written into a job file: its log grows, all else stays as it stands."""

from __future__ import annotations

import json
import os
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from evenfall.app.reading import read
from evenfall.app.site.as_kept import as_kept, refuse_clock
from evenfall.app.site.returned import Data, Returned, check_job
from evenfall.app.store.logged import photos_of, with_log
from evenfall.errors import InvalidInput
from evenfall.model.job import Job
from evenfall.model.job_checks import slips

PHOTOS = "photos"
"""Folder beside the job file; each photo is named by the SHA-256 of its bytes."""
_KEY = re.compile(r"^( *)(record|log)( *:)(.*)$")


@dataclass(frozen=True, slots=True)
class Loaded:
    """What became of a file: ids written now, there before, and refused with the reason."""

    new: tuple[str, ...]
    before: tuple[str, ...]
    refused: tuple[tuple[str, str], ...]
    photos: int
    to_come: tuple[str, ...]


def load_into(file: Path, returned: Returned) -> Loaded:
    """Write what came back into a job file, and its photos beside it.

    Parameters
    ----------
    file : Path
        The job file [-].
    returned : Returned
        What came back from a telephone [-].

    Returns
    -------
    Loaded
        What was new, what was there already, and what was refused [-].

    Raises
    ------
    InvalidInput
        It is of another job, or the job file cannot be written into.
    """
    raw = file.read_bytes()
    found = read(raw, str(file), Job, slips)
    check_job(returned, found.value.job.reference)
    log = [_plain(e) for e in found.value.record.log]
    new, before, refused = sorted_out(log, returned.entries)
    photos = _kept_photos(file.parent / PHOTOS, returned.photos)
    if new:
        _replace(file, _written(raw.decode("utf-8-sig"), file, [*log, *new]))
    named = {p for e in (*log, *new) for p in photos_of(e)}
    there = {p for p in named if (file.parent / PHOTOS / f"{p}.jpg").is_file()}
    to_come = tuple(sorted(named - there))
    return Loaded(tuple(e["id"] for e in new), before, refused, photos, to_come)


def sorted_out(
    log: Sequence[Data], entries: Sequence[Data]
) -> tuple[list[Data], tuple[str, ...], tuple[tuple[str, str], ...]]:
    """Part what is new from what is there already and what cannot be taken.

    Parameters
    ----------
    log : sequence of dict
        Entries that are kept [-].
    entries : sequence of dict
        Entries that came [-].

    Returns
    -------
    tuple
        New entries, ids of those there before, ids and reasons of those refused [-].
    """
    known, new, before = {e["id"]: e for e in log}, list[Data](), list[str]()
    refused: list[tuple[str, str]] = []
    for sent in entries:
        try:
            entry = as_kept(sent)
            there = known.get(entry["id"])
            if there is None:
                refuse_clock(entry)
        except InvalidInput as error:
            refused.append((str(sent.get("id", ""))[:32], str(error)))
            continue
        if there is None:
            known[entry["id"]] = entry
            new.append(entry)
        elif there == entry:
            before.append(entry["id"])
        else:
            why = "a record with this mark is kept already, and says otherwise"
            refused.append((entry["id"], why))
    return new, tuple(before), tuple(refused)


def _plain(entry: Any) -> Data:
    plain: Data = entry.model_dump(mode="json", exclude_defaults=True)
    return plain


def _kept_photos(folder: Path, photos: dict[str, bytes]) -> int:
    """Lay photos beside the job; one that is there already is left alone."""
    new = {sha: content for sha, content in photos.items() if not (folder / f"{sha}.jpg").is_file()}
    if new:
        folder.mkdir(exist_ok=True)
    for sha, content in new.items():
        _replace(folder / f"{sha}.jpg", content)
    return len(new)


def _replace(file: Path, content: bytes) -> None:
    """Write a file whole or not at all, and onto the disk."""
    half = file.with_name(f".{file.name}.half")
    with half.open("wb") as stream:
        stream.write(content)
        stream.flush()
        os.fsync(stream.fileno())
    half.replace(file)


def _written(text: str, file: Path, log: Sequence[Data]) -> bytes:
    """Give the job file with a log; its comments and its order stay."""
    log = sorted(log, key=lambda e: str(e["id"]))
    if text.lstrip().startswith("{"):
        data = with_log(json.loads(text), log)
        return (json.dumps(data, indent=1, ensure_ascii=False) + "\n").encode()
    new = _in_yaml(text, [f"- {json.dumps(e, ensure_ascii=False)}" for e in log])
    if new is not None:
        before, after = (read(t.encode(), str(file), Job, slips).value for t in (text, new))
        empty = {"record": after.record.model_copy(update={"log": before.record.log})}
        grown = [_plain(e) for e in after.record.log] == log
        if grown and after.model_copy(update=empty) == before:
            return new.encode()
    raise InvalidInput(
        "a record that cannot be added to", "record: and log: on lines of their own",
        where=str(file), do="write `record:` as the last line, and load again",
    )  # fmt: skip


def _in_yaml(text: str, entries: Sequence[str]) -> str | None:
    """Put the lines of a log under ``record:`` in place of those that stand there."""
    lines = text.splitlines()
    record = _place(lines, "record", 0, len(lines), 0)
    if record is None:
        return "\n".join([*lines, "record:", "  log:", *(f"    {e}" for e in entries), ""])
    start, end = record
    if _KEY.match(lines[start])[4].partition("#")[0].strip():  # type: ignore[index]
        return None  # it stands in braces, on one line
    inner = next((_indent(x) for x in lines[start + 1 : end] if _told(x)), 2)
    log = _place(lines, "log", start + 1, end, inner)
    at, to = log if log is not None else (end, end)
    pad = " " * inner
    block = [f"{pad}log:", *(f"{pad}  {e}" for e in entries)]
    return "\n".join([*lines[:at], *block, *lines[to:], ""])


def _place(
    lines: Sequence[str], key: str, first: int, last: int, indent: int
) -> tuple[int, int] | None:
    """Find the lines of a table: its key, and up to what no longer belongs to it."""
    for n in range(first, last):
        found = _KEY.match(lines[n])
        if found is None or found[2] != key or len(found[1]) != indent:
            continue
        end = n + 1
        while end < last and (not _told(lines[end]) or _within(lines[end], indent)):
            end += 1
        while end > n + 1 and not _told(lines[end - 1]):
            end -= 1
        return n, end
    return None


def _told(line: str) -> bool:
    """Whether a line says something."""
    return bool(line.strip()) and not line.lstrip().startswith("#")


def _within(line: str, indent: int) -> bool:
    """Whether a line belongs to a key: it is set in, or is a dash of its list."""
    here = _indent(line)
    return here > indent or (here == indent and line[here:].startswith("- "))


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip(" "))

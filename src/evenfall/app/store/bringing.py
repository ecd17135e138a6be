"""Job files brought in and taken out: what comes out loads again as the same job."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml

from evenfall.app.loading import JOB_NAMES
from evenfall.app.reading import read, read_file
from evenfall.app.store.kept import Contents, Data, Revision
from evenfall.app.store.logged import carried, log_of, photos_of
from evenfall.app.store.shelves import PHOTOS, keep_photos, missing
from evenfall.app.store.store import Store
from evenfall.app.yaml_core import plain
from evenfall.errors import InvalidFile, Mistake
from evenfall.model.job import Job
from evenfall.model.job_checks import slips
from evenfall.model.rates import Rates
from evenfall.model.weather import Weather

BESIDE = ("rates", "weather")


@dataclass(frozen=True, slots=True)
class Brought:
    """A job file in the store, and whether it was new, changed on disk, or the same as before."""

    revision: Revision
    how: str


def read_folder(job: Path) -> tuple[Path, Contents]:
    """Read a job file and what belongs to it, as data.

    Parameters
    ----------
    job : Path
        A job file, or a folder with one [-].

    Returns
    -------
    tuple
        The file, and what it holds [-].

    Raises
    ------
    InvalidFile
        A file that cannot be used, with every mistake in it.
    """
    file = next((job / n for n in JOB_NAMES if (job / n).is_file()), job)
    if file.is_dir():
        mistake = Mistake(1, 1, "", "a folder without a job file", f"{JOB_NAMES[0]} in it")
        raise InvalidFile(str(job), (mistake,))
    document = read_file(file, Job, slips).document.data
    beside = [file.with_name(f"{name}.yaml") for name in BESIDE]
    rates = read_file(beside[0], Rates).document.data if beside[0].is_file() else None
    weather = read_file(beside[1], Weather).document.data if beside[1].is_file() else None
    return file.resolve(), Contents(document, rates, weather)


def bring(store: Store, job: Path, who: str, worked_on: str | None = None) -> Brought:
    """Bring a job file in, or find it again; one that changed on disk becomes a new revision.

    Photos that its record names, and that lie in ``photos`` beside it, are kept with the job.

    Parameters
    ----------
    store : Store
        The jobs [-].
    job : Path
        A job file, or a folder with one [-].
    who : str
        Who does it [-].
    worked_on : str, optional
        The day as on which it is always worked [-].

    Returns
    -------
    Brought
        The newest revision of the job, and how it came [-].

    Raises
    ------
    InvalidFile
        A file that cannot be used, with every mistake in it.
    """
    file, contents = read_folder(job)
    brought = _brought(store, file, contents, who, worked_on)
    _keep_photos(store, brought.revision.job, file.parent / PHOTOS, contents.document, who)
    return brought


def _brought(
    store: Store, file: Path, contents: Contents, who: str, worked_on: str | None
) -> Brought:
    known = store.from_file(str(file))
    if known is None:
        why = f"brought in from {file.name}"
        return Brought(store.make(contents, who, why, worked_on=worked_on, file=str(file)), "new")
    from_disk = [r for r in store.history(known.id) if r.kind in ("file", "made")]
    if carried(contents, store.contents(from_disk[0])) == store.contents(from_disk[0]):
        return Brought(store.head(known.id), "same")
    why = f"{file.name} had changed on disk"
    new = store.save(known.id, known.revision, contents, who, why, kind="file")
    return Brought(new, "changed")


def _keep_photos(store: Store, job: str, folder: Path, document: Data, who: str) -> None:
    """Keep the photos of a record that lie beside its file and are not kept yet."""
    named = [photo for entry in log_of(document) for photo in photos_of(entry)]
    files = {sha: folder / f"{sha}.jpg" for sha in missing(store, job, named)} if named else {}
    here = {sha: file.read_bytes() for sha, file in files.items() if file.is_file()}
    if here:
        keep_photos(store, job, here, who)


def read_texts(job: bytes, name: str, rates: bytes | None, weather: bytes | None) -> Contents:
    """Read job, rates and weather that were sent as files.

    Parameters
    ----------
    job : bytes
        The job file [-].
    name : str
        Its name, for mistakes [-].
    rates, weather : bytes or None
        What belongs to it [-].

    Returns
    -------
    Contents
        As data [-].

    Raises
    ------
    InvalidFile
        A file that cannot be used, with every mistake in it.
    """
    return Contents(
        read(job, name, Job, slips).document.data,
        read(rates, "rates", Rates).document.data if rates else None,
        read(weather, "weather", Weather).document.data if weather else None,
    )


class _Writer(yaml.SafeDumper):
    """Writes what our reader reads: a word stays bare unless it would be taken for more."""

    def ignore_aliases(self, data: Any) -> bool:
        """Write every value out where it stands."""
        return True

    def increase_indent(self, flow: bool = False, indentless: bool = False) -> Any:
        """Set the dashes of a list in from its key."""
        return super().increase_indent(flow, False)


_Writer.yaml_implicit_resolvers = {}
_BARE = re.compile(r"[A-Za-z0-9][\w .,()£%°/+²³&-]*(:[\w.-]+)*")


def _text(writer: yaml.SafeDumper, text: str) -> yaml.ScalarNode:
    bare = _BARE.fullmatch(text) and plain(text) == text and text == text.strip()
    style = None if bare else '"'
    return writer.represent_scalar("tag:yaml.org,2002:str", text, style=style)


def _number(writer: yaml.SafeDumper, number: float) -> yaml.ScalarNode:
    return writer.represent_scalar("tag:yaml.org,2002:str", repr(number), style="")


def _word(writer: yaml.SafeDumper, word: Any) -> yaml.ScalarNode:
    said = "null" if word is None else str(word).lower()
    return writer.represent_scalar("tag:yaml.org,2002:str", said, style="")


_Writer.add_representer(str, _text)
_Writer.add_representer(float, _number)
_Writer.add_representer(int, _number)
_Writer.add_representer(bool, _word)
_Writer.add_representer(type(None), _word)


def as_yaml(document: Data) -> str:
    """Write a document as a job file.

    Parameters
    ----------
    document : dict
        A job, rates or weather as data [-].

    Returns
    -------
    str
        YAML that reads again as the same data [-].

    Examples
    --------
    >>> print(as_yaml({"format": 1, "at": "16:00", "nos": ["0123", "1e3", "no"]}), end="")
    format: 1
    at: 16:00
    nos:
      - 0123
      - "1e3"
      - no
    """
    return yaml.dump(
        document, Dumper=_Writer, sort_keys=False, allow_unicode=True, width=100,
        default_flow_style=False,
    )  # fmt: skip

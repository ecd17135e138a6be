"""Job and rates files read into their models, with every mistake told at once.

A mistake says where it stands (file, line, column, path), what was found, what is expected, the
nearest valid word and what to do. What cannot be read as YAML at all is told alone.
"""

from __future__ import annotations

import codecs
import copy
import json
import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import Any, Generic, Protocol, TypeVar

from pydantic import BaseModel, ValidationError

from evenfall.app import mistakes as told
from evenfall.app.expected import at, guessed, schema_of
from evenfall.app.migrations import upgrade
from evenfall.app.yaml_core import LARGEST, Broken, Document, Path, Place, parse
from evenfall.errors import InvalidFile, InvalidInput, Mistake
from evenfall.model.change import position, steps

RATES = "the rates"  # before the place of what is wrong in the price book
M = TypeVar("M", bound=BaseModel)

MOST = 200
"""Mistakes that are told of one file; nobody reads more."""


class Slip(Protocol):
    """Something that a check of the whole file found, such as `evenfall.model.job_checks.Slip`."""

    @property
    def path(self) -> str:
        """Where."""

    @property
    def found(self) -> str:
        """What."""

    @property
    def expected(self) -> str:
        """What should be there."""

    @property
    def words(self) -> tuple[str, ...]:
        """Valid words, if it is one of some."""

    @property
    def do(self) -> str:
        """What to do."""


@dataclass(frozen=True)
class Read(Generic[M]):
    """A file that was read: its model, and the places of its keys and values."""

    file: str
    value: M
    document: Document


def read_file(
    path: FilePath, model: type[M], checks: Callable[[M], Iterable[Slip]] | None = None
) -> Read[M]:
    """Read a file into a model.

    Parameters
    ----------
    path : Path
        The file [-].
    model : type
        The pydantic model of the whole file [-].
    checks : callable, optional
        Finds what does not fit together in a model whose single values are sound [-].

    Returns
    -------
    Read
        Model and places [-].

    Raises
    ------
    InvalidFile
        The file cannot be used; with every mistake in it.
    """
    try:
        with path.open("rb") as stream:
            raw = stream.read(LARGEST + 1)
    except OSError as error:
        raise InvalidFile(str(path), (_unreadable(path, error),)) from None
    return read(raw, str(path), model, checks)


def _unreadable(path: FilePath, error: OSError) -> Mistake:
    if path.is_dir():
        return Mistake(1, 1, "", "a folder", "a file", do="name the file in it")
    if isinstance(error, FileNotFoundError):
        return Mistake(1, 1, "", "no such file", "a file", do="look at its name and folder")
    return Mistake(1, 1, "", f"a file that cannot be opened ({error.strerror})", "a readable file")


def read_model(text: str | bytes, file_name: str, model: type[M]) -> M:
    """Read a text into a model; see `read`.

    Parameters
    ----------
    text : str or bytes
        What stands in the file [-].
    file_name : str
        Its name, for the mistakes [-].
    model : type
        The pydantic model of the whole file [-].

    Returns
    -------
    BaseModel
        The model [-].

    Raises
    ------
    InvalidFile
        With every mistake in the file.
    """
    return read(text, file_name, model).value


def read(
    text: str | bytes,
    file_name: str,
    model: type[M],
    checks: Callable[[M], Iterable[Slip]] | None = None,
) -> Read[M]:
    """Read a text into a model, and keep the places of all keys and values.

    Parameters
    ----------
    text : str or bytes
        What stands in the file [-].
    file_name : str
        Its name, for the mistakes [-].
    model : type
        The pydantic model of the whole file [-].
    checks : callable, optional
        Finds what does not fit together in a model whose single values are sound [-].

    Returns
    -------
    Read
        Model and places [-].

    Raises
    ------
    InvalidFile
        With every mistake in the file.
    """
    try:
        document = parse(_text(text))
        if not isinstance(document.data, dict):
            found = told.found(document, ())
            raise Broken(Mistake(*document.place(()), "", found, "a table of key: value lines"))
        if "format" in model.model_fields:
            upgrade(document)
    except Broken as broken:
        raise InvalidFile(file_name, (broken.mistake,)) from None
    return checked(document, file_name, model, checks)


def read_data(
    data: dict[str, Any],
    file_name: str,
    model: type[M],
    checks: Callable[[M], Iterable[Slip]] | None = None,
    sound: Any = None,
) -> Read[M]:
    """Read plain data, such as the desk keeps, into a model.

    Parameters
    ----------
    data : dict
        The data; they stay as they are [-].
    file_name : str
        What to call them in mistakes [-].
    model : type
        The pydantic model of the whole [-].
    checks : callable, optional
        Finds what does not fit together in a model whose single values are sound [-].
    sound : dict, optional
        Data that were read without a mistake before; parts that are shared are not looked at [-].

    Returns
    -------
    Read
        The model; it has no places [-].

    Raises
    ------
    InvalidFile
        With every mistake in the data.
    """
    document = Document(data)
    if (
        "format" in model.model_fields
        and data.get("format") != model.model_fields["format"].default
    ):
        document = Document(copy.deepcopy(data))
        try:
            upgrade(document)
        except Broken as broken:
            raise InvalidFile(file_name, (broken.mistake,)) from None
    return checked(document, file_name, model, checks, sound)


def checked(
    document: Document,
    file_name: str,
    model: type[M],
    checks: Callable[[M], Iterable[Slip]] | None = None,
    sound: Any = None,
) -> Read[M]:
    """Check data that were read from any kind of file against a model.

    Parameters
    ----------
    document : Document
        The data with the places of keys and values [-].
    file_name : str
        Name of the file, for the mistakes [-].
    model : type
        The pydantic model of the whole file [-].
    checks : callable, optional
        Finds what does not fit together in a model whose single values are sound [-].
    sound : dict, optional
        Data that were read without a mistake before; parts that are shared are not looked at [-].

    Returns
    -------
    Read
        Model and places [-].

    Raises
    ------
    InvalidFile
        With every mistake in the data.
    """
    value, mistakes = _validated(document, model, sound)
    if checks and value is not None and not mistakes:
        mistakes = [_slip(document, slip) for slip in checks(value)]
    if value is None or mistakes:
        raise InvalidFile(file_name, _most(mistakes))
    return Read(file_name, value, document)


def _text(text: str | bytes) -> str:
    """Decode a file, or say why that cannot be."""
    if len(text) > LARGEST:
        raise Broken(Mistake(1, 1, "", f"more than {LARGEST:,} bytes", "a job or rates file"))
    if isinstance(text, str):
        return text.removeprefix("\ufeff")
    try:
        return text.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = text.count(b"\n", 0, error.start) + 1
        column = error.start - text.rfind(b"\n", 0, error.start)
        what = "a binary file" if b"\0" in text else "signs that are not UTF-8"
        if text.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
            what = "text in UTF-16"
        raise Broken(Mistake(line, column, "", what, "UTF-8 text", do="save it as UTF-8")) from None


def _validated(
    document: Document, model: type[M], sound: Any = None
) -> tuple[M | None, list[Mistake]]:
    """Check the data against the model. Strict: no text is taken for a number, no 1 for yes."""
    schema = schema_of(model)
    doubtful = guessed(schema, at(schema, (), document.data), document.data, sound=sound)
    mistakes = [told.wrong_value(document, schema, path) for path in doubtful]
    known = {m.path for m in mistakes}
    mistakes += document.mistakes
    try:
        value = model.model_validate_json(json.dumps(document.data), strict=True)
    except ValidationError as error:
        more = told.translated(error, document, schema, MOST)
        return None, mistakes + [m for m in more if m.path not in known]
    return value, mistakes


def _most(mistakes: list[Mistake]) -> tuple[Mistake, ...]:
    """Keep the first ones of a hopeless file, and say so."""
    first = sorted(mistakes)[:MOST]
    if len(mistakes) <= MOST:
        return tuple(first)
    last = first[-1]
    rest = Mistake(last.line, last.column + 1, "", "more mistakes below", "none")
    return (*first, rest)


def _slip(document: Document, slip: Slip) -> Mistake:
    place = locate(document, slip.path)
    word = re.fullmatch(r'.*?"([^"]*)"', slip.found)
    near = told.nearest(word[1], list(slip.words)) if word else ""
    return Mistake(*place, slip.path, slip.found, slip.expected, near, slip.do)


def locate(document: Document, dotted: str) -> Place:
    r"""Find the line of a path such as ``survey.tapes[3]`` or ``survey.tapes[A-B].length_m``.

    Parameters
    ----------
    document : Document
        The file as read [-].
    dotted : str
        Keys joined by dots; an entry of a list by its number (from 0), name, side or corners [-].

    Returns
    -------
    tuple of int
        Line and column, from 1; of the nearest table around it where the file has no such key [-].

    Examples
    --------
    >>> locate(parse("tapes:\n- {between: A-B, length_m: 6.2}"), "tapes[A-B].length_m")
    (2, 28)
    """
    path: Path = ()
    data: Any = document.data
    for step in steps(dotted):
        key: Any = position(data, step) if isinstance(data, list) else step
        if key is None or not isinstance(data, dict | list) or (key == step and key not in data):
            break
        data, path = data[key], (*path, key)
    return document.place(path)


def in_file(error: InvalidInput, source: Read[Any], rates: Read[Any] | None = None) -> InvalidFile:
    """Give a mistake that was found later, in working a job out, its line in the file.

    What stands in the rates is told with ``the rates`` before its path, and its line is there.

    Parameters
    ----------
    error : InvalidInput
        The mistake; its ``where`` is a path [-].
    source : Read
        The file that the job was read from [-].
    rates : Read, optional
        The file that the rates were read from [-].

    Returns
    -------
    InvalidFile
        The same with file, line and column [-].
    """
    where = error.where
    if rates is not None and where.startswith(RATES):
        source, where = rates, where.removeprefix(RATES).removeprefix(": ")
    place = locate(source.document, where)
    mistake = Mistake(*place, where, error.what, error.expected, do=error.do)
    return InvalidFile(source.file, (mistake,))

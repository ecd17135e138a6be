"""YAML (and so JSON) read by the 1.2 core rules, with the place of every key and value.

Only ``null``, ``true``, ``false`` and plain decimal (or ``0x``, ``0o``) numbers are more than text:
``1:40``, ``16:00``, ``0123``, ``no``, ``1_000`` and ``2026-11-25`` stay what the person wrote. The
file is read as a stream of events, so that neither depth nor aliases can hurt.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any, NamedTuple

import yaml

from evenfall.app.yaml_words import broken, refused_character
from evenfall.errors import Mistake

Path = tuple[str | int, ...]
Place = tuple[int, int]

DEEPEST = 32
"""Tables within tables; a job needs five."""

LARGEST = 2_000_000
"""Bytes of a file; a long job has a hundredth of it."""

MOST_VALUES = 100_000
"""Values in a file; a job has some hundred, ten years of daily weather some ten thousand."""

LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class Broken(Exception):
    """A file that cannot be read to its end; its one mistake."""

    def __init__(self, mistake: Mistake) -> None:
        self.mistake = mistake
        super().__init__(mistake.found)


@dataclass
class Document:
    """Plain data with the place of each key and value, line and column counted from 1."""

    data: Any = None
    values: dict[Path, Place] = field(default_factory=dict)
    keys: dict[Path, Place] = field(default_factory=dict)
    written: dict[Path, str] = field(default_factory=dict)  # scalars as the person wrote them
    mistakes: list[Mistake] = field(default_factory=list)
    refused: set[Path] = field(default_factory=set)  # told already; what stands there is unknown

    def place(self, path: Path) -> Place:
        """Say where a value stands; a table stands where its key does; else where it would."""
        while path and path not in self.values:
            path = path[:-1]
        if path not in self.written and path in self.keys:
            return self.keys[path]
        return self.values.get(path, (1, 1))

    def rename(self, old: Path, key: str) -> None:
        """Give a key a new name, for it and for all that lies within."""
        parent: Any = self.data
        for step in old[:-1]:
            parent = parent[step]
        renamed = {key if k == old[-1] else k: v for k, v in parent.items()}
        parent.clear()
        parent.update(renamed)
        new, size = (*old[:-1], key), len(old)
        tables: tuple[dict[Path, Any], ...] = (self.values, self.keys, self.written)
        for places in tables:
            for path in [p for p in places if p[:size] == old]:
                places[(*new, *path[size:])] = places.pop(path)


def path_text(path: Path) -> str:
    """Write a path as a person reads it.

    Parameters
    ----------
    path : tuple
        Keys and indexes [-].

    Returns
    -------
    str
        Such as ``survey.tapes[3].length_m`` [-].

    Examples
    --------
    >>> path_text(("survey", "tapes", 3, "length_m"))
    'survey.tapes[3].length_m'
    """
    text = "".join(f"[{step}]" if isinstance(step, int) else f".{step}" for step in path)
    return text.removeprefix(".")


def named_path(path: Path, data: Any) -> str:
    """Write a path with an entry of a top table by its own name, so that a person finds it.

    Parameters
    ----------
    path : tuple
        Keys and indexes [-].
    data : dict
        The whole file [-].

    Returns
    -------
    str
        Such as ``items[foam-can].covers``; with its number where it has no name of its own [-].

    Examples
    --------
    >>> named_path(("items", 0, "covers"), {"items": [{"name": "foam-can"}]})
    'items[foam-can].covers'
    """
    table = data.get(path[0]) if path and isinstance(data, dict) else None
    if len(path) > 1 and isinstance(path[1], int) and isinstance(table, list):
        entry = table[path[1]] if path[1] < len(table) else None
        for key in ("name", "task"):
            name = entry.get(key) if isinstance(entry, dict) else None
            alike = [e for e in table if isinstance(e, dict) and e.get(key) == name]
            if isinstance(name, str) and _NAME.fullmatch(name) and len(alike) == 1:
                return path_text((f"{path[0]}[{name}]", *path[2:]))
    return path_text(path)


_NAME = re.compile(r"[A-Za-z][A-Za-z0-9_-]*")
_INT = re.compile(r"[-+]?(0|[1-9][0-9]{0,299})")
_FLOAT = re.compile(r"[-+]?(\.[0-9]+|(0|[1-9][0-9]*)(\.[0-9]*)?)([eE][-+]?[0-9]+)?")
_WORDS: dict[str, Any] = {
    **dict.fromkeys(("", "~", "null", "Null", "NULL")),
    **dict.fromkeys(("true", "True", "TRUE"), True),
    **dict.fromkeys(("false", "False", "FALSE"), False),
}


def plain(text: str) -> Any:
    """Tell what an unquoted word stands for.

    Parameters
    ----------
    text : str
        The word [-].

    Returns
    -------
    None, bool, int, float or str
        The text itself, unless it is one of the few that are more [-].

    Examples
    --------
    >>> [plain(t) for t in ("no", "16:00", "0123", "1_000", ".5", "1e3", "0x1F", "~", "true")]
    ['no', '16:00', '0123', '1_000', 0.5, 1000.0, 31, None, True]
    """
    if text in _WORDS:
        return _WORDS[text]
    if _INT.fullmatch(text):
        return int(text)
    if re.fullmatch(r"0o[0-7]{1,40}|0x[0-9a-fA-F]{1,40}", text):
        return int(text, 0)
    if _FLOAT.fullmatch(text):
        return float(text)
    if re.fullmatch(r"[-+]?\.(inf|Inf|INF)", text):
        return float(text.replace(".", ""))
    return float("nan") if text in (".nan", ".NaN", ".NAN") else text


def parse(text: str) -> Document:
    """Read a text into plain data with places.

    Parameters
    ----------
    text : str
        YAML or JSON [-].

    Returns
    -------
    Document
        The data; what can be read on after (a key twice, an anchor, a tag) is in ``mistakes`` [-].

    Raises
    ------
    Broken
        The text cannot be read to its end.

    Examples
    --------
    >>> found = parse("tapes: [{length_m: 6.214}]")
    >>> found.data, found.place(("tapes", 0, "length_m"))
    ({'tapes': [{'length_m': 6.214}]}, (1, 20))
    """
    if mistake := refused_character(text):
        raise Broken(mistake)
    builder = _Builder()
    try:
        for event in _events(text):
            builder.take(event)
    except yaml.MarkedYAMLError as error:
        raise Broken(broken(error, text)) from None
    if not builder.documents:
        raise Broken(Mistake(1, 1, "", "an empty file", "a job", do="begin with format: 1"))
    return builder.document


_JSON_WORD_OR_TAB = re.compile(r'"(?:\\.|[^"\\])*"|\t', re.S)
_SURROGATE = re.compile(r"\\u[dD][89a-fA-F]")


def _events(text: str) -> Iterator[Any]:
    """Yield the events of a text; JSON may have tabs between its words, and paired escapes."""
    if text.lstrip()[:1] in ("{", "["):
        text = _JSON_WORD_OR_TAB.sub(lambda m: " " if m[0] == "\t" else m[0], text)
    loader = yaml.SafeLoader if _SURROGATE.search(text) else LOADER
    yield from yaml.parse(text, Loader=loader)


class _Frame(NamedTuple):
    """A table or list that is being filled."""

    box: Any
    path: Path


class _Builder:
    """Fills a Document from events, with a stack of its own."""

    def __init__(self) -> None:
        self.document, self.documents = Document(), 0
        self.stack: list[_Frame] = []
        self.key: list[tuple[str, bool] | None] = []  # of each open table: the key, whether new

    def take(self, event: Any) -> None:
        if isinstance(event, yaml.DocumentStartEvent):
            self.documents += 1
            if self.documents > 1:
                self._break(event, "a second document (---)", "one document in a file")
        elif isinstance(event, yaml.MappingEndEvent | yaml.SequenceEndEvent):
            self.stack.pop()
            self.key.pop()
        elif isinstance(event, yaml.NodeEvent):
            self._node(event)

    def _node(self, event: Any) -> None:
        if self.stack and isinstance(self.stack[-1].box, dict) and self.key[-1] is None:
            self._key(event)
            return
        path = self._next_path()
        self.document.values[path] = _place(event)
        if len(self.document.values) > MOST_VALUES:
            self._break(event, f"more than {MOST_VALUES:,} values", "a job or rates file")
        self._refuse_extras(event, path)
        value = self._value(event, path)
        self._put(value)
        if isinstance(event, yaml.CollectionStartEvent):
            if len(self.stack) == DEEPEST:
                self._break(event, f"more than {DEEPEST} tables within one another", "fewer")
            self.stack.append(_Frame(value, path))
            self.key.append(None)

    def _key(self, event: Any) -> None:
        if not isinstance(event, yaml.ScalarEvent):
            self._break(event, "a list, table or alias as a key", "a word before the colon")
        frame, word = self.stack[-1], self._text(event, ())
        self._refuse_extras(event, (*frame.path, word))
        new = word not in frame.box
        if new:
            self.document.keys[(*frame.path, word)] = _place(event)
        else:
            line = self.document.keys[(*frame.path, word)][0]
            said, once = f'key "{word}" a second time', f"each key once (first on line {line})"
            self._tell(event, (*frame.path, word), said, once, "take one of the two out")
        self.key[-1] = (word, new)

    def _next_path(self) -> Path:
        if not self.stack:
            return ()
        frame, key = self.stack[-1], self.key[-1]
        if key is None:
            return (*frame.path, len(frame.box))
        word, new = key
        return (*frame.path, word if new else f"{word} (again)")

    def _put(self, value: Any) -> None:
        if not self.stack:
            self.document.data = value
            return
        box, key = self.stack[-1].box, self.key[-1]
        if isinstance(box, list):
            box.append(value)
        elif key and key[1]:
            box[key[0]] = value
        self.key[-1] = None

    def _value(self, event: Any, path: Path) -> Any:
        if isinstance(event, yaml.MappingStartEvent):
            return {}
        if isinstance(event, yaml.SequenceStartEvent):
            return []
        if isinstance(event, yaml.AliasEvent):
            self.document.refused.add(path)
            return None
        text, unquoted = self._text(event, path), event.style in (None, "")
        self.document.written[path] = text if unquoted else f'"{text}"'
        return plain(text) if unquoted else text

    def _text(self, event: Any, path: Path) -> str:
        """Return the text of a scalar; two escapes of JSON that make one sign become one."""
        text = str(event.value)
        if not re.search("[\ud800-\udfff]", text):
            return text
        try:
            return text.encode("utf-16", "surrogatepass").decode("utf-16")
        except UnicodeDecodeError:
            self._tell(event, path, "half a sign (a lone \\ud800 escape)", "whole signs")
            return "?"

    def _refuse_extras(self, event: Any, path: Path) -> None:
        whole = "write the value out at each place"
        if isinstance(event, yaml.AliasEvent):
            self._tell(event, path, f"an alias (*{event.anchor})", "a value", whole)
        elif event.anchor:
            self._tell(event, path, f"an anchor (&{event.anchor})", "a value", whole)
        if getattr(event, "tag", None):
            self._tell(event, path, f"a tag ({_short(event.tag)})", "a value without tag",
                       "take it out, or put the words in quotation marks")  # fmt: skip

    def _tell(self, event: Any, path: Path, found: str, expected: str, do: str = "") -> None:
        where = path_text(path)
        self.document.mistakes.append(Mistake(*_place(event), where, found, expected, do=do))

    def _break(self, event: Any, found: str, expected: str) -> None:
        raise Broken(Mistake(*_place(event), "", found, expected))


def _place(event: Any) -> Place:
    return event.start_mark.line + 1, event.start_mark.column + 1


def _short(tag: str) -> str:
    return tag.replace("tag:yaml.org,2002:", "!!")

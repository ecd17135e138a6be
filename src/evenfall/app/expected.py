"""What a model expects at a place of a file, in plain words; read from its JSON Schema."""

from __future__ import annotations

import functools
import re
from collections.abc import Iterator
from typing import Any, get_args

from pydantic import BaseModel

from evenfall.app.key_units import UNITS, unit_of
from evenfall.app.yaml_core import Path
from evenfall.model import kinds, logbook

Node = dict[str, Any]


def _pattern(kind: Any) -> str:
    return str(get_args(kind)[1].pattern)


PATTERNS = {
    _pattern(kinds.Name): "a short name of letters, figures, - and _, without spaces",
    _pattern(kinds.CornerName): "the name of a corner, such as A",
    _pattern(kinds.Between): "two corners, such as A-B",
    _pattern(kinds.TaskName): "a task as the programme names it, such as strip-felt@1",
    _pattern(logbook.Mark): "a mark of 32 hexadecimal figures, as the telephone made it",
    _pattern(logbook.PhotoMark): "the SHA-256 of a photo, 64 hexadecimal figures",
    _pattern(logbook.Moment): "a moment with its zone, such as 2026-11-25T16:30:00Z",
    _pattern(logbook.Taken): "a moment such as 2026-11-25T16:30:00",
}
"""What the forms of text of the job file are called."""

_KEYS_TOLD = 12


@functools.cache
def schema_of(model: type[BaseModel]) -> Node:
    """Return the JSON Schema of a model.

    Parameters
    ----------
    model : type
        A pydantic model [-].

    Returns
    -------
    dict
        Its schema, as files are read (by alias) [-].
    """
    return model.model_json_schema()


def at(root: Node, path: Path, data: Any) -> list[Node]:
    """Find what may stand at a path; several where the model leaves a choice.

    Parameters
    ----------
    root : dict
        Schema of the whole file [-].
    path : tuple
        Keys and indexes [-].
    data : object
        The data of the file, which decide between choices [-].

    Returns
    -------
    list of dict
        Schemas; empty where the model knows no such place [-].
    """
    nodes = _choices(root, root, data)
    for step in path:
        data = _entered(data, step)
        nodes = [n for node in nodes for n in inner(root, node, step, data)]
    return nodes


def inner(root: Node, node: Node, step: str | int, data: Any) -> list[Node]:
    """Go one step into a table or list.

    Parameters
    ----------
    root, node : dict
        Schema of the whole file, and of the table or list [-].
    step : str or int
        Key or index [-].
    data : object
        What stands there [-].

    Returns
    -------
    list of dict
        Schemas [-].
    """
    found: Any = None
    if isinstance(step, int):
        first = node.get("prefixItems", [])
        found = first[step] if step < len(first) else node.get("items")
    else:
        found = node.get("properties", {}).get(step, node.get("additionalProperties"))
    return list(_choices(root, found, data)) if isinstance(found, dict) else []


def _entered(data: Any, step: str | int) -> Any:
    if isinstance(data, dict):
        return data.get(step)
    if isinstance(data, list) and isinstance(step, int) and step < len(data):
        return data[step]
    return None


def _choices(root: Node, node: Node, data: Any) -> list[Node]:
    """Resolve references and open choices; those whose fixed words differ from the data go."""
    while "$ref" in node:
        node = root["$defs"][node["$ref"].rsplit("/", 1)[1]]
    options = node.get("anyOf") or node.get("oneOf") or node.get("allOf")
    if not options:
        return [node]
    found = [n for option in options for n in _choices(root, option, data)]
    kept = [n for n in found if n.get("type") != "null" and _fits(n, data)]
    return kept or [n for n in found if n.get("type") != "null"]


def _fits(node: Node, data: Any) -> bool:
    fixed = {k: p["const"] for k, p in node.get("properties", {}).items() if "const" in p}
    return not isinstance(data, dict) or all(data.get(k, v) == v for k, v in fixed.items())


def keys_of(nodes: list[Node]) -> list[str]:
    """List the keys that a table may have.

    Parameters
    ----------
    nodes : list of dict
        Schemas of the table [-].

    Returns
    -------
    list of str
        Keys in the order of the model [-].
    """
    return list(dict.fromkeys(k for node in nodes for k in node.get("properties", {})))


def words_of(nodes: list[Node]) -> list[str]:
    """List the words that a value may be.

    Parameters
    ----------
    nodes : list of dict
        Schemas of the value [-].

    Returns
    -------
    list of str
        The words; empty where it is free [-].
    """
    return [str(word) for node in nodes for word in _fixed(node)]


def _fixed(node: Node) -> list[Any]:
    return [node["const"]] if "const" in node else list(node.get("enum", []))


def listed(words: list[str]) -> str:
    """Name some words, or the first of many.

    Parameters
    ----------
    words : list of str
        Any [-].

    Returns
    -------
    str
        One text [-].

    Examples
    --------
    >>> listed(["wall", "eaves"])
    'wall, eaves'
    """
    return ", ".join(words[:_KEYS_TOLD]) + (" and others" if len(words) > _KEYS_TOLD else "")


def described(nodes: list[Node], key: str) -> str:
    """Say what is expected.

    Parameters
    ----------
    nodes : list of dict
        Schemas of the value [-].
    key : str
        The key that it stands at, for its unit [-].

    Returns
    -------
    str
        Such as ``a number of metres, more than 0, at most 100`` [-].

    Examples
    --------
    >>> described([{"type": "number", "exclusiveMinimum": 0, "maximum": 100}], "length_m")
    'a number of metres, more than 0, at most 100'
    """
    if words := words_of(nodes):
        return f"one of {listed(words)}" if len(words) > 1 else words[0]
    return " or ".join(dict.fromkeys(_one(node, key) for node in nodes)) or "something else"


def _one(node: Node, key: str) -> str:
    kind = node.get("type")
    if kind in ("number", "integer"):
        unit = UNITS.get(unit_of(key)[1])
        of = f" of {unit}" if unit else ""
        return ", ".join(
            [("a number" if kind == "number" else "a whole number") + of, *_range(node)]
        )
    if kind == "array":
        return ", ".join(["a list", *_size(node, "minItems", "maxItems", "entries")])
    if kind == "object":
        keys = list(node.get("required", ()))
        return f"a table with {listed(keys)}" if keys else "a table"
    if kind == "boolean":
        return "true or false"
    return _text(node)


def _text(node: Node) -> str:
    form = node.get("format")
    if form in ("date", "time", "date-time"):
        return {"date": "a date such as 2026-11-25", "time": "a time such as 16:30"}.get(
            form, "a date and time such as 2026-11-25T16:30"
        )
    if pattern := node.get("pattern"):
        return PATTERNS.get(pattern, f"text of the form {pattern}")
    if node.get("minLength") == 1 and node.get("maxLength"):
        return f"words, at most {node['maxLength']} characters"
    return ", ".join(["words", *_size(node, "minLength", "maxLength", "characters")])


def _range(node: Node) -> Iterator[str]:
    for mark, says in (
        ("exclusiveMinimum", "more than"), ("minimum", "at least"),
        ("exclusiveMaximum", "less than"), ("maximum", "at most"), ("multipleOf", "a multiple of"),
    ):  # fmt: skip
        if mark in node:
            yield f"{says} {node[mark]:,g}".replace(",", "")


def _size(node: Node, least: str, most: str, of: str) -> Iterator[str]:
    low, high = node.get(least), node.get(most)
    if low is not None and low == high:
        yield f"exactly {low} {of}"
        return
    if low is not None:
        yield f"at least {low} {of}"
    if high is not None:
        yield f"at most {high} {of}"


_FIGURES = re.compile(r"[-+]?[0-9]+(\.[0-9]+)?")


def guessed(
    root: Node, nodes: list[Node], data: Any, path: Path = (), sound: Any = None
) -> Iterator[Path]:
    """Find values that a model would take although it has to guess what they mean.

    ``true`` for the number 1, and figures (seconds since 1970) for a date.

    Parameters
    ----------
    root : dict
        Schema of the whole file [-].
    nodes : list of dict
        What may stand here [-].
    data : object
        What stands here [-].
    path : tuple
        Where that is [-].
    sound : object
        What stood here when nothing was found; what it shares with the data is passed over [-].

    Returns
    -------
    iterator of tuple
        Paths [-].
    """
    if isinstance(data, dict | list):
        if data is sound:
            return
        steps = data.items() if isinstance(data, dict) else enumerate(data)
        for step, value in steps:
            before = _entered(sound, step)
            if isinstance(value, dict | list) and value is before:
                continue
            within = [n for node in nodes for n in inner(root, node, step, value)]
            yield from guessed(root, within, value, (*path, step), before)
    elif isinstance(data, bool):
        fixed = [word for node in nodes for word in _fixed(node)]
        if fixed and not any(isinstance(word, bool) for word in fixed):
            yield path
    elif (
        isinstance(data, str)
        and _FIGURES.fullmatch(data)
        and nodes
        and all("format" in n for n in nodes)
    ):
        yield path

"""What a model refused, translated into plain words: found, expected, nearest word, what to do."""

from __future__ import annotations

import difflib
import re
from math import log
from typing import Any

from pydantic import ValidationError

from evenfall.app.expected import Node, at, described, keys_of, listed, words_of
from evenfall.app.key_units import UNITS, converted, number_help, same_thing, unit_of
from evenfall.app.yaml_core import Document, Path, named_path
from evenfall.errors import InvalidInput, Mistake
from evenfall.model.scopes import scope_of

_LONGEST = 60
HAND_M = 0.1  # a shorter length is not taped
USUAL_M = 4.0  # sides and diagonals of a roof are about so long: what is nearest is told first
_UNKNOWN, _MISSING = "unknown key", "missing"
_WORDS_HELP = {
    "asbestos": "a suspicion is written not_sampled: nothing is stripped before the laboratory's "
    "answer, which is then written none_found or found",
    "nation": "the Republic of Ireland is not worked out: its wind, snow and rain follow Irish "
    "annexes and recommendations that were not at hand, so that numbers for it would be guesses; "
    "an engineer and a supplier there work it out",
}
"""What to do where a key is given a word that is none of its own."""
_IRISH = ("ireland", "republic_of_ireland", "eire", "éire", "ie", "roi")
"""Words for a nation that is not worked out: no other one is offered in its place."""


def found(document: Document, path: Path) -> str:
    """Say what stands at a path, as the person wrote it.

    Parameters
    ----------
    document : Document
        The file as read [-].
    path : tuple
        Keys and indexes [-].

    Returns
    -------
    str
        A number as written, words in quotation marks, or what kind of thing it is [-].
    """
    value = value_at(document, path)
    if isinstance(value, dict | list):
        return "a table" if isinstance(value, dict) else "a list"
    if value is None:
        return "nothing"
    written = document.written.get(path, _said(value))
    text = written if not isinstance(value, str) or written[:1] == '"' else f'"{written}"'
    text = text.replace("\n", " ")
    return text if len(text) <= _LONGEST else f"{text[: _LONGEST - 3]}..."


def _said(value: Any) -> str:
    return str(value).lower() if isinstance(value, bool) else str(value)


def value_at(document: Document, path: Path) -> Any:
    """Return the value at a path.

    Parameters
    ----------
    document : Document
        The file as read [-].
    path : tuple
        Keys and indexes that exist [-].

    Returns
    -------
    object
        The value [-].
    """
    data: Any = document.data
    for step in path:
        data = data[step]
    return data


def nearest(word: str, valid: list[str]) -> str:
    """Find the valid word nearest to one that is not.

    Parameters
    ----------
    word : str
        As written [-].
    valid : list of str
        The valid words [-].

    Returns
    -------
    str
        The nearest, or nothing where none is near [-].

    Examples
    --------
    >>> nearest("Eves", ["wall", "eaves", "verge"]), nearest("roof", ["wall"])
    ('eaves', '')
    """
    alike = {v.lower().replace("-", "_"): v for v in valid}
    plain = _plain(word)
    close = [] if _irish(word) else difflib.get_close_matches(plain, alike, 1)
    return alike[close[0]] if close else ""


def _plain(word: str) -> str:
    return re.sub(r"[\s-]+", "_", word.strip().lower())


def _irish(word: str) -> bool:
    return _plain(word) in _IRISH


def wrong_value(document: Document, schema: Node, path: Path, do: str = "") -> Mistake:
    """Say that a value is not what is expected at its place.

    Parameters
    ----------
    document : Document
        The file as read [-].
    schema : dict
        JSON Schema of the model [-].
    path : tuple
        Where it stands [-].
    do : str
        What to do, where that is known already [-].

    Returns
    -------
    Mistake
        With all that helps [-].
    """
    key = next((s for s in reversed(path) if isinstance(s, str)), "")
    nodes, value = at(schema, path, document.data), value_at(document, path)
    near = nearest(value, words_of(nodes)) if isinstance(value, str) else ""
    expected, number = described(nodes, key), isinstance(value, int | float)
    if number and not do and (scope := scope_of(named_path(path, document.data))) is not None:
        expected, do = f"{expected} ({scope.why})", _beside(scope.do, value, nodes, key)
    return Mistake(
        *document.place(path), named_path(path, document.data), found(document, path), expected,
        near, do or _help(value, document.written.get(path, ""), nodes, key),
    )  # fmt: skip


def _beside(do: str, value: Any, nodes: list[Node], key: str) -> str:
    """Add feet or metres read as another unit, where a hand may have measured so."""
    told = {"m": converted(value, "ft", "m"), "mm": converted(value, "m", "mm")}
    said = told.get(unit_of(key)[1], "")
    fits = said and _holds(nodes, float(said.split()[-2]))
    return f"{do}; or is it {said.replace(' is ', ', which is ')}?" if fits else do


def _help(value: Any, written: str, nodes: list[Node], key: str) -> str:
    """Say what to do about a value of the wrong kind or out of range."""
    kinds = {str(node.get("type")) for node in nodes if not words_of([node])}
    formats = {node.get("format") for node in nodes}
    if isinstance(value, str) and key in _WORDS_HELP:
        return _WORDS_HELP[key] if key != "nation" or _irish(value) else ""
    if kinds & {"number", "integer"}:
        if isinstance(value, str):
            return number_help(value, key)
        return _number_out(value, nodes, key)
    if "boolean" in kinds:
        word = written.strip('"').lower()
        meant = {"yes": "true", "y": "true", "on": "true", "1": "true"}
        meant |= {"no": "false", "n": "false", "off": "false", "0": "false"}
        return f"write {meant[word]}" if word in meant else ""
    if "date" in formats:
        return _date(written.strip('"'))
    if (
        kinds == {"string"}
        and formats == {None}
        and not isinstance(value, str | list | dict | None)
    ):
        return f'put it in quotation marks: "{written}"'
    if kinds == {"array"} and isinstance(value, str | int | float | dict):
        return "begin each entry with a dash, or put [ ] around"
    return ""


def _number_out(value: Any, nodes: list[Node], key: str) -> str:
    """See a whole number written as 6.0, and metres given for millimetres or the reverse."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return ""
    if isinstance(value, float) and value.is_integer() and _holds(nodes, value):
        return f"write {value:.0f}"
    unit, read = unit_of(key)[1], list[tuple[float, str]]()
    others = {"m": ("mm", "cm", "ft", "in"), "mm": ("m", "cm"), "pence": ("pounds",)}
    for other in others.get(unit, ()):
        if told := converted(value, other, unit):
            number = float(told.split()[-2])
            if number and _holds(nodes, number) and (unit != "m" or number >= HAND_M):
                read.append((abs(log(number / USUAL_M)) if unit == "m" else 0.0, told))
    return f"give {UNITS[unit]}; {', or '.join(told for _, told in sorted(read))}" if read else ""


def _holds(nodes: list[Node], number: float) -> bool:
    return any(
        node.get("minimum", number) <= number <= node.get("maximum", number)
        and node.get("exclusiveMinimum", number - 1) < number
        and number < node.get("exclusiveMaximum", number + 1)
        for node in nodes
        if node.get("type") in ("number", "integer")
    )


def _date(text: str) -> str:
    if re.fullmatch(r"\d{4}-\d{2}-\d{2}", text):
        return "no calendar has that day"
    if parts := re.fullmatch(r"(\d{4})(\d{2})(\d{2})", text):
        return f"write {parts[1]}-{parts[2]}-{parts[3]}"
    parts = re.fullmatch(r"(\d{1,2})[./-](\d{1,2})[./-](\d{4})", text)
    if parts and int(parts[1]) > len("JFMAMJJASOND") >= int(parts[2]):
        return f"write {parts[3]}-{int(parts[2]):02}-{int(parts[1]):02}"
    return "write the year first, then month and day"


def translated(
    error: ValidationError, document: Document, schema: Node, most: int
) -> list[Mistake]:
    """Translate what a model refused.

    Parameters
    ----------
    error : ValidationError
        All of it [-].
    document : Document
        The file as read [-].
    schema : dict
        JSON Schema of the model [-].
    most : int
        How many mistakes are translated, one more than which is given [-].

    Returns
    -------
    list of Mistake
        In the order of the file, one for each place [-].
    """
    raw = [(_path(e, document.data), e) for e in error.errors(include_url=False)]
    raw = [(p, e) for p, e in raw if document.refused.isdisjoint(_around(p, 1))]
    raw.sort(key=lambda pe: document.place(pe[0]))
    tables = {table for p, _ in raw for table in _around(p)}  # those with a mistake inside
    told: dict[Path, Mistake] = {}
    for path, e in raw:
        if len(told) > most:
            break
        if path not in told and not _hollow(path, e, document, schema, tables):
            told[path] = _one(path, e, document, schema)
    return _without_meant_otherwise(told)


def _around(path: Path, own: int = 0) -> list[Path]:
    """List the tables around a place, the place itself too where asked."""
    return [path[:k] for k in range(len(path) + own)]


def _path(e: Any, data: Any) -> Path:
    """Drop from a place the names of choices, which the file does not have."""
    path: Path = ()
    missing, steps = e["type"] == "missing", e["loc"]
    for number, step in enumerate(steps, 1):
        inside = isinstance(data, dict) and step in data
        inside = inside or (isinstance(data, list) and isinstance(step, int) and step < len(data))
        if inside and _is_choice(data, steps[number - 1 :], missing=missing):
            continue
        if inside:
            data, path = data[step], (*path, step)
        elif number == len(steps) and missing:
            path = (*path, step)
    return path


def _is_choice(data: Any, steps: tuple[Any, ...], *, missing: bool) -> bool:
    """Tell a choice that is called as one of its own keys is: another key of it comes after."""
    if len(steps) == 1 or not isinstance(data, dict) or isinstance(data[steps[0]], (dict, list)):
        return False
    return missing or steps[1] in data


def _hollow(path: Path, e: Any, document: Document, schema: Node, tables: set[Path]) -> bool:
    """See that a refusal only follows from others.

    A list is called short when its entries are wrong; a table is refused because it could have
    been a word.
    """
    if e["type"] == "too_short":
        count = len(value_at(document, path))
        return any(count >= n.get("minItems", 0) for n in at(schema, path, document.data))
    return path in tables and e["type"].endswith("_type")


def _without_meant_otherwise(told: dict[Path, Mistake]) -> list[Mistake]:
    """Leave out a missing key that stands there under a wrong name, which is told already."""
    meant = {
        (*path[:-1], mistake.nearest or mistake.expected.split(":")[0])
        for path, mistake in told.items()
        if mistake.found.startswith(_UNKNOWN)
    }
    return [m for path, m in told.items() if m.found != _MISSING or path not in meant]


def _one(path: Path, e: Any, document: Document, schema: Node) -> Mistake:
    kind, context = e["type"], e.get("ctx", {})
    if kind == "extra_forbidden":
        return _unknown(path, document, schema)
    if kind in ("missing", "union_tag_not_found"):
        return _missing(path, context, document, schema)
    if kind in ("value_error", "assertion_error"):
        return _own_words(path, context.get("error", e["msg"]), document)
    if kind == "union_tag_invalid":
        path = (*path, str(context["discriminator"]).strip("'"))
        words = re.findall(r"'([^']*)'", str(context["expected_tags"]))
        near = nearest(str(context["tag"]), words)
        where = named_path(path, document.data)
        return Mistake(*document.place(path), where, found(document, path),
                       f"one of {listed(words)}", near)  # fmt: skip
    return wrong_value(document, schema, path, _count(kind, value_at(document, path)))


def _count(kind: str, value: Any) -> str:
    return f"it has {len(value)}" if kind in ("too_short", "too_long") else ""


def _unknown(path: Path, document: Document, schema: Node) -> Mistake:
    key, place = str(path[-1]), document.keys.get(path, document.place(path))
    valid = keys_of(at(schema, path[:-1], document.data))
    said, where = f'{_UNKNOWN} "{key}"', named_path(path, document.data)
    if key.isdigit() and value_at(document, path) is None:
        do = "write a point for the decimals: within { } a comma parts two entries"
        return Mistake(*place, where, f"a comma before {key}", "a point, or a key", do=do)
    if right := same_thing(key, valid):
        unit = unit_of(right)[1]
        told = converted(value_at(document, path), unit_of(key)[1], unit)
        return Mistake(*place, where, said, f"{right}: give {UNITS[unit]}", do=told)
    expected = f"one of {listed(valid)}" if valid else "no keys here"
    return Mistake(*place, where, said, expected, nearest(key, valid))


def _missing(path: Path, context: Any, document: Document, schema: Node) -> Mistake:
    if "discriminator" in context:
        path = (*path, str(context["discriminator"]).strip("'"))
    nodes = at(schema, path, document.data)
    key = next((s for s in reversed(path) if isinstance(s, str)), "")
    where, expected = named_path(path, document.data), described(nodes, key)
    scope = scope_of(where)
    why, do = (f"{expected} ({scope.why})", scope.do) if scope else (expected, "")
    return Mistake(*document.place(path), where, _MISSING, why, do=do)


def _own_words(path: Path, error: Any, document: Document) -> Mistake:
    """Pass on what a check of the model says: it speaks plainly already."""
    place, where = document.place(path), named_path(path, document.data)
    if isinstance(error, InvalidInput):
        return Mistake(*place, where, error.what, error.expected, do=error.do)
    text = str(error).removeprefix("Value error, ").removeprefix("Assertion failed, ")
    return Mistake(*place, where, "values that do not fit together", "that they do", do=text)

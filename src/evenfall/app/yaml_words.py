"""Plain words for a text that is no YAML: what was found, what is expected, what to do."""

from __future__ import annotations

import re
from typing import Any

from evenfall.errors import Mistake

_NO_TEXT = re.compile(r"[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def refused_character(text: str) -> Mistake | None:
    r"""Find the first character that no text file has.

    Parameters
    ----------
    text : str
        The whole text [-].

    Returns
    -------
    Mistake or None
        None where all is text [-].

    Examples
    --------
    >>> refused_character("a: b\x00").found
    'a character that is no text (code 0)'
    """
    found = _NO_TEXT.search(text)
    if not found:
        return None
    line = text.count("\n", 0, found.start()) + 1
    column = found.start() - (text.rfind("\n", 0, found.start()) + 1) + 1
    what = f"a character that is no text (code {ord(found[0])})"
    return Mistake(line, column, "", what, "a plain text file", do="save it again as UTF-8 text")


_QUOTE = "put the words in quotation marks"
_SAYINGS: tuple[tuple[str, str, str, str], ...] = (
    ("tab character", "a tab", "spaces", "put spaces in its place"),
    ("unexpected end of stream", "a quotation mark that is never closed", "its other half",
     "close it"),
    ("escape c", "a backslash in double quotation marks", "no backslash",
     "put the words in single quotation marks"),
    ("',' or ']'", "a list in [ ] that does not go on", "a comma or ]",
     "close the bracket, or put the missing comma"),
    ("',' or '}'", "a table in { } that does not go on", "a comma or }",
     "close the bracket, or put the missing comma"),
    ("sequence entries are not allowed", "a dash in the middle of a line",
     "each entry of a list on a line of its own", ""),
    ("could not find expected ':'", "a line without a colon", "key: value", ""),
    ("document start", "something after the end", "nothing more", ""),
    ("node content", "a bracket or sign that closes nothing", "a value", "take it out"),
    ("nesting depth", "brackets within brackets without end", "fewer of them", ""),
    ("incompatible", "a line %YAML of another version", "no such line", "take it out"),
    ("duplicate %", "a line with % twice", "at most one", ""),
    ("directive", "a line that begins with %", "a key", _QUOTE),
)  # fmt: skip


def broken(error: Any, text: str) -> Mistake:
    """Say in plain words why a text cannot be read.

    Parameters
    ----------
    error : yaml.MarkedYAMLError
        What the reader said [-].
    text : str
        The whole text [-].

    Returns
    -------
    Mistake
        Its place and plain words [-].
    """
    problem, mark = str(error.problem or ""), error.problem_mark or error.context_mark
    lines = text.splitlines() or [""]
    row, column = (mark.line, mark.column) if mark else (0, 0)
    if error.context_mark and ("end of stream" in problem or "expected ':'" in problem):
        row, column = error.context_mark.line, error.context_mark.column
    if row >= len(lines) and "node content" in problem:
        return Mistake(row + 1, 1, "", "a bracket that is never closed", "] or }", do="close it")
    line = lines[min(row, len(lines) - 1)]
    found, expected, do = _told(problem, str(error.context or ""), line, column)
    return Mistake(row + 1, column + 1, "", found, expected, do=do)


def _told(problem: str, context: str, line: str, column: int) -> tuple[str, str, str]:
    if "mapping values" in problem:
        return _colon(line, column)
    if "cannot start any token" in problem:
        sign = line[column : column + 1]
        if sign == "\t":
            return "a tab", "spaces", "put spaces in its place"
        return f"{sign} at the beginning of a value", "words that begin otherwise", _QUOTE
    for part, *words in _SAYINGS:
        if part in problem:
            return words[0], words[1], words[2]
    if "block" in context:
        return _out_of_line(line, column)
    return "something that cannot be read", "key: value, or a list of - entries", ""


def _colon(line: str, column: int) -> tuple[str, str, str]:
    if re.search(r":\s", line[:column]):
        return "a second colon", "one key: value on a line", _QUOTE
    return (
        "a key that stands within the value above",
        "each key: value on a line of its own, in line with its neighbours",
        "look for a missing colon on the line above, or for spaces too many on this one",
    )


def _out_of_line(line: str, column: int) -> tuple[str, str, str]:
    if line[column : column + 1] in ("]", "}"):
        return "a bracket that closes nothing", "nothing more", "take it out"
    if line[:column].strip():
        return f"{line[column : column + 12]!r} after the end of a value", "nothing more", _QUOTE
    return (
        "a line that does not line up with those above",
        "the same number of spaces as its neighbours",
        "keys of one table and dashes of one list stand in line",
    )

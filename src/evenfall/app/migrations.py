"""Older job and rates files brought to the format of today, step by step; newer ones refused.

The file itself is never rewritten. A step renames keys in the data and in their places, so that a
mistake is still told with the line that the person wrote.

Format 0 was the draft: its list of taped distances was ``survey.tape``.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from evenfall.app.yaml_core import Broken, Document
from evenfall.errors import Mistake
from evenfall.model.job import FORMAT

Step = Callable[[Document], None]


def upgrade(document: Document) -> None:
    r"""Bring a document to the current format, in place.

    Parameters
    ----------
    document : Document
        A table; a ``format`` that is missing or wrong is told in its ``mistakes`` [-].

    Raises
    ------
    Broken
        The format is newer than this program.

    Examples
    --------
    >>> from evenfall.app.yaml_core import parse
    >>> draft = parse("format: 0\nsurvey: {tape: []}")
    >>> upgrade(draft)
    >>> draft.data
    {'format': 1, 'survey': {'tapes': []}}
    """
    for number in range(_number(document), FORMAT):
        STEPS[number](document)
    document.data["format"] = FORMAT


def _number(document: Document) -> int:
    number: Any = document.data.get("format")
    said = document.written.get(("format",), "a list or table")
    if "format" not in document.data:
        document.mistakes.append(_mistake(document, "no format", f"first key format: {FORMAT}"))
    elif isinstance(number, bool) or not isinstance(number, int) or number < 0:
        document.mistakes.append(_mistake(document, f"format {said}", f"format: {FORMAT}"))
    elif number > FORMAT:
        found = f"format {number}, written by a newer Evenfall"
        raise Broken(_mistake(document, found, f"format {FORMAT} or older", "update Evenfall"))
    else:
        return number
    return FORMAT


def _mistake(document: Document, found: str, expected: str, do: str = "") -> Mistake:
    return Mistake(*document.place(("format",)), "format", found, expected, do=do)


def _from_draft(document: Document) -> None:
    survey = document.data.get("survey")
    if isinstance(survey, dict) and "tape" in survey and "tapes" not in survey:
        document.rename(("survey", "tape"), "tapes")


STEPS: dict[int, Step] = {0: _from_draft}
"""From each older format to the next one."""

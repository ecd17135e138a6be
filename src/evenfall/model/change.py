"""Change a job by paths such as ``survey.heights[back-door].drained_channel``."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from typing import Any

from pydantic import ValidationError

from evenfall.errors import InvalidInput
from evenfall.model.finding import Change
from evenfall.model.job import Job

_STEP = re.compile(r"([^.\[\]]+)|\[([^\]]+)\]")
_NAMED_BY = ("name", "side", "between")


def steps(path: str) -> tuple[str, ...]:
    """Split a path into its steps.

    Parameters
    ----------
    path : str
        Keys joined by dots; an entry of a list by its name or number in brackets [-].

    Returns
    -------
    tuple of str
        The steps [-].

    Examples
    --------
    >>> steps("survey.tapes[A-B].length_m")
    ('survey', 'tapes', 'A-B', 'length_m')
    """
    return tuple(a or b for a, b in _STEP.findall(path))


def position(entries: Iterable[Mapping[str, Any]], step: str) -> int | None:
    """Find an entry of a list by its name, side or corners, or by its number.

    Parameters
    ----------
    entries : iterable of mapping
        The list [-].
    step : str
        Name or number [-].

    Returns
    -------
    int or None
        Its index [-].

    Examples
    --------
    >>> position([{"name": "sill-1"}, {"name": "door"}], "door")
    1
    """
    listed = list(entries)
    for key in _NAMED_BY:  # a name goes before the side that an entry lies on
        for index, entry in enumerate(listed):
            if isinstance(entry, Mapping) and entry.get(key) == step:
                return index
    return int(step) if step.isdigit() and int(step) < len(listed) else None


def apply(job: Job, changes: Iterable[Change]) -> Job:
    """Return the job with some changes made; each value is checked like that of a file.

    Parameters
    ----------
    job : Job
        The job as it is; it stays as it is [-].
    changes : iterable of Change
        Paths and new values [-].

    Returns
    -------
    Job
        The changed job [-].

    Raises
    ------
    InvalidInput
        A path that leads nowhere, or a value that the job cannot hold.
    """
    data = job.model_dump(mode="json")
    for change in changes:
        _put(data, change)
    try:
        return Job.model_validate_json(json.dumps(data, default=str), strict=True)
    except ValidationError as wrong:
        first = wrong.errors()[0]
        where = ".".join(str(s) for s in first["loc"])
        raise InvalidInput(repr(first["input"]), first["msg"], where=where) from None


def _put(data: Any, change: Change) -> None:
    *way, last = steps(change.path)
    for step in way:
        data = _enter(data, step, change.path)
    if isinstance(data, list):
        index = position(data, last)
        if index is None:
            raise InvalidInput(last, "an entry of the list", where=change.path)
        data[index] = change.value
    elif isinstance(data, dict):
        data[last] = change.value
    else:
        raise InvalidInput(last, "a key of a table", where=change.path)


def _enter(data: Any, step: str, path: str) -> Any:
    if isinstance(data, list):
        index = position(data, step)
        if index is not None:
            return data[index]
    elif isinstance(data, dict) and step in data:
        return data[step]
    raise InvalidInput(step, "a key or a name that the job has", where=path)

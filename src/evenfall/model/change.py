"""Change a job by paths such as ``survey.heights[back-door].drained_channel``."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from itertools import pairwise
from typing import Any, cast

from pydantic import ValidationError

from evenfall.errors import InvalidInput
from evenfall.model.finding import Change
from evenfall.model.job import Job
from evenfall.model.scopes import scope_of

_STEP = re.compile(r"([^.\[\]]+)|\[([^\]]+)\]")
_NAMED_BY = ("name", "task", "side", "between")


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
        put(data, change.path, change.value)
    try:
        return Job.model_validate_json(json.dumps(data, default=str), strict=True)
    except ValidationError as wrong:
        first = wrong.errors()[0]
        where = ".".join(str(s) for s in first["loc"])
        scope = scope_of(where) if isinstance(first["input"], int | float) else None
        expected, do = (f"{first['msg']} ({scope.why})", scope.do) if scope else (first["msg"], "")
        raise InvalidInput(repr(first["input"]), expected, where=where, do=do) from None


def put(data: Any, path: str, value: object, make: bool = False) -> None:
    """Put a value at a path of plain data, in place; ``[+]`` at its end adds to a list.

    Parameters
    ----------
    data : dict
        A job as plain data [-].
    path : str
        Where [-].
    value : object
        What [-].
    make : bool
        Whether tables and lists that are missing on the way are made [-].

    Raises
    ------
    InvalidInput
        The path leads nowhere.

    Examples
    --------
    >>> job = {}
    >>> put(job, "survey.corners[+]", "A", make=True)
    >>> job
    {'survey': {'corners': ['A']}}
    """
    *way, last = _STEP.findall(path) or [("", "")]
    for step, after in pairwise([*way, last]):
        data = _enter(
            data, step[0] or step[1], path, (list if after[1] else dict) if make else None
        )
    name = last[0] or last[1]
    if isinstance(data, list) and name == "+":
        data.append(value)
    elif isinstance(data, list):
        data[_index(data, name, path)] = value
    elif isinstance(data, dict) and last[0]:
        data[name] = value
    else:
        raise InvalidInput(name or "no path", "a key of a table", where=path)


def loosened(data: dict[str, Any], path: str) -> dict[str, Any]:
    """Copy the tables and lists on the way to a path, so that it may be changed there alone.

    Parameters
    ----------
    data : dict
        A job as plain data; it stays as it is [-].
    path : str
        What is about to be changed [-].

    Returns
    -------
    dict
        Equal data; what does not lie on the way is shared [-].

    Examples
    --------
    >>> job = {"design": {"board": "a"}, "crew": {"people": 2}}
    >>> new = loosened(job, "design.board")
    >>> new == job, new["design"] is job["design"], new["crew"] is job["crew"]
    (True, False, True)
    """
    found: Any = dict(data)
    at, new = data, found
    for step in steps(path):
        key: Any = position(at, step) if isinstance(at, list) else step
        inside = isinstance(at, list) or (isinstance(at, dict) and key in at)
        if key is None or not inside or not isinstance(at[key], dict | list):
            break
        new[key] = at[key].copy()
        at, new = at[key], new[key]
    return cast("dict[str, Any]", found)


def take_out(data: Any, path: str) -> None:
    """Take a key of a table or an entry of a list out of plain data, in place.

    Parameters
    ----------
    data : dict
        A job as plain data [-].
    path : str
        Which [-].

    Raises
    ------
    InvalidInput
        The path leads nowhere.

    Examples
    --------
    >>> job = {"tapes": [{"between": "A-B"}, {"between": "B-C"}]}
    >>> take_out(job, "tapes[A-B]")
    >>> job
    {'tapes': [{'between': 'B-C'}]}
    """
    *way, last = steps(path) or ("",)
    for step in way:
        data = _enter(data, step, path)
    if isinstance(data, list):
        del data[_index(data, last, path)]
    elif isinstance(data, dict) and last in data:
        del data[last]
    else:
        raise InvalidInput(last or "no path", "a key or a name that the job has", where=path)


def look_up(data: Any, path: str) -> Any:
    """Return what stands at a path of plain data; None where nothing does.

    Parameters
    ----------
    data : dict
        A job as plain data [-].
    path : str
        Where [-].

    Returns
    -------
    object
        The value [-].

    Examples
    --------
    >>> look_up({"tapes": [{"between": "A-B", "length_m": 6.2}]}, "tapes[A-B].length_m")
    6.2
    """
    try:
        for step in steps(path):
            data = _enter(data, step, path)
    except InvalidInput:
        return None
    return data


def _index(data: list[Any], name: str, path: str) -> int:
    index = position(data, name)
    if index is None:
        raise InvalidInput(name, "an entry of the list", where=path)
    return index


def _enter(data: Any, step: str, path: str, make: type | None = None) -> Any:
    if isinstance(data, list):
        index = position(data, step)
        if index is not None:
            return data[index]
    elif isinstance(data, dict):
        if make and data.get(step) is None:
            data[step] = make()
        if step in data:
            return data[step]
    raise InvalidInput(step, "a key or a name that the job has", where=path)

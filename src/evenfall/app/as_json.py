"""A worked job as plain data: what ``--json`` prints and the desk receives."""

from __future__ import annotations

import dataclasses
import json
from datetime import date
from typing import Any

from pydantic import BaseModel

from evenfall.flow import KEYS, WorkedJob
from evenfall.working import Known, Table, Working


def plain(value: Any) -> Any:
    """Turn a result into plain data; a number keeps its unit, source and basis.

    Parameters
    ----------
    value : object
        Any part of a worked job [-].

    Returns
    -------
    object
        Dictionaries, lists, texts and numbers [-].
    """
    if isinstance(value, Working):
        return _working(value)
    if isinstance(value, Known):
        return {
            "value": value.value, "unit": value.unit, "source": value.source, "where": value.where,
            "basis": value.basis,
        }  # fmt: skip
    if isinstance(value, Table):
        return _table(value)
    if isinstance(value, BaseModel):
        return value.model_dump(mode="json")
    if dataclasses.is_dataclass(value):
        return {f.name: plain(getattr(value, f.name)) for f in dataclasses.fields(value)}
    if isinstance(value, tuple | list):
        return [plain(v) for v in value]
    if isinstance(value, dict):
        return {k: plain(v) for k, v in value.items()}
    return value.isoformat() if isinstance(value, date) else value


def _working(working: Working) -> dict[str, Any]:
    return {
        "title": working.title,
        "symbol": working.symbol,
        "value": working.value,
        "unit": working.unit,
        "expression": working.expression,
        "numbers": working.numbers,
        "source": working.source,
        "basis": working.basis,
        "of": [{"symbol": s, "unit": u, "number": plain(v)} for s, u, v in working.of],
    }


def _table(table: Table) -> dict[str, Any]:
    return {
        "title": table.title,
        "columns": [{"name": n, "unit": u} for n, u in table.columns],
        "rows": [list(row) for row in table.rows],
        "source": table.source,
        "basis": table.basis,
    }


def worked_data(worked: WorkedJob) -> dict[str, Any]:
    """Give a worked job as plain data under its top-level keys.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].

    Returns
    -------
    dict
        One entry for each key of `flow.KEYS` [-].
    """
    return {key: plain(getattr(worked, key)) for key in KEYS}


def as_json(worked: WorkedJob) -> str:
    """Print a worked job as JSON.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].

    Returns
    -------
    str
        Indented JSON, the same bytes for the same job [-].
    """
    return json.dumps(worked_data(worked), indent=1, ensure_ascii=False, allow_nan=False)

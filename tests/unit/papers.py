"""Worked jobs for the tests of what papers say and draw."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import Any

from evenfall.app.loading import load
from evenfall.flow import WorkedJob, work_out
from evenfall.model.change import apply
from evenfall.model.finding import Change

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("garage", "rear-extension", "courtyard")
ON = date(2026, 11, 25)


@lru_cache
def worked(name: str) -> WorkedJob:
    """Work an example out, once."""
    return work_out(load(EXAMPLES / name, ON).case)


@lru_cache
def changed(name: str, *changes: tuple[str, Any]) -> WorkedJob:
    """Work an example out with some keys changed."""
    before = worked(name)
    job = apply(before.case.job, [Change(path, _loose(value)) for path, value in changes])
    return work_out(replace(before.case, job=job), before)


def _loose(value: Any) -> Any:
    return list(value) if isinstance(value, tuple) else value


def words(value: Any) -> str:
    """Gather every text and number of a paper's data, a line each."""
    if is_dataclass(value) and not isinstance(value, type):
        return "\n".join(words(getattr(value, f.name)) for f in fields(value))
    if isinstance(value, tuple):
        return "\n".join(words(v) for v in value)
    return str(value)

"""Any part of a job completes to a whole job that validates, and nothing given is changed."""

from __future__ import annotations

import copy
import json
import random
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenfall.app.loading import DEMO_RATES, load
from evenfall.app.reading import read_file
from evenfall.drafting.complete import Drafted, complete
from evenfall.model.change import steps
from evenfall.model.rates import Rates

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("rear-extension", "garage", "courtyard")
ON = date(2026, 11, 25)
RATES = read_file(DEMO_RATES, Rates).value
ATOMS = {"ties", "options", "corners", "inner_corners", "points"}
"""Lists that are one entry: half of them says something else."""


def document(name: str) -> dict[str, Any]:
    """Give an example as plain data, as a person would have written it: no empty keys."""
    job = load(EXAMPLES / name, ON).case.job
    data: dict[str, Any] = json.loads(job.model_dump_json(exclude_unset=True))
    data["design"].pop("options", None)  # they change what may be missing
    data.get("record", {}).pop("agreed", None)
    return data


DOCUMENTS = {name: document(name) for name in NAMES}


def thinned(data: Any, keep: float, chance: random.Random, key: str = "") -> Any:
    """Leave out entries at random; tables and lists that are left empty go too."""
    if isinstance(data, dict):
        kept = {k: thinned(v, keep, chance, k) for k, v in data.items()}
        return {k: v for k, v in kept.items() if v is not None} or None
    if isinstance(data, list) and data and isinstance(data[0], dict) and key not in ATOMS:
        return [e for v in data if (e := thinned(v, keep, chance)) is not None] or None
    return data if chance.random() < keep else None


def stands(part: Any, whole: Any) -> bool:
    """Tell whether all that a part says stands in the whole."""
    if isinstance(part, dict):
        return isinstance(whole, dict) and all(
            k in whole and stands(v, whole[k]) for k, v in part.items()
        )
    if isinstance(part, list) and part and isinstance(part[0], dict):
        return all(any(stands(p, w) for w in whole) for p in part)
    if part == []:
        return isinstance(whole, list)
    return bool(part == whole)


def kept(part: dict[str, Any], drafted: Drafted) -> dict[str, Any]:
    """Leave out of a part what the draft says it set aside."""
    part = copy.deepcopy(part)
    gone: list[tuple[Any, Any]] = []
    for slip in drafted.aside:
        table: Any = part
        *way, last = (int(s) if s.isdigit() else s for s in steps(slip.path))
        for step in way:
            table = table[step]
        gone.append((table, last))
    for table, last in gone:
        table[last] = None
    return without_none(part)


def without_none(data: Any) -> Any:
    if isinstance(data, dict):
        return {k: without_none(v) for k, v in data.items() if v is not None}
    if isinstance(data, list):
        return [without_none(v) for v in data if v is not None]
    return data


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=25, deadline=None)
@given(keep=st.floats(0, 1), seed=st.integers(0, 10**6))
def test_any_part_of_a_job_completes_to_a_whole_job_and_nothing_given_is_changed(
    name: str, keep: float, seed: int
) -> None:
    part = thinned(DOCUMENTS[name], keep, random.Random(seed)) or {}
    before = copy.deepcopy(part)
    drafted = complete(part, RATES, ON)
    assert part == before
    assert drafted.problems == ()
    assert drafted.job is not None
    assert stands(kept(part, drafted), drafted.document)


@pytest.mark.parametrize("name", NAMES)
def test_a_whole_job_stays_as_it_is(name: str) -> None:
    drafted = complete(DOCUMENTS[name], RATES, ON)
    assert drafted.aside == ()
    assert stands(DOCUMENTS[name], drafted.document)


def test_the_same_part_gives_the_same_draft() -> None:
    part = thinned(DOCUMENTS["courtyard"], 0.4, random.Random(7))
    assert complete(part, RATES, ON).document == complete(part, RATES, ON).document


def test_completing_what_was_completed_fills_nothing_more() -> None:
    once = complete({}, RATES, ON)
    again = complete(once.document, RATES, ON)
    assert again.filled == ()
    assert again.document == once.document


def test_a_change_to_what_was_given_is_seen() -> None:
    assert not stands({"a": [{"b": 1}]}, {"a": [{"b": 2, "c": 3}]})
    assert stands({"a": [{"b": 1}]}, {"a": [{"c": 3}, {"b": 1, "c": 3}]})

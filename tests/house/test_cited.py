"""Every number of `standards` is Cited, or stands in a row that names source and basis."""

from __future__ import annotations

import dataclasses
import importlib
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from evenfall.working import BASES, Cited, Known

STANDARDS = Path(__file__).parents[2] / "src" / "evenfall" / "standards"

COMMON_KNOWLEDGE = {
    "iso_13788.DAYS": "days of the months, which no document sets",
    "bs_6399_2.COUNTRY_DISTANCES_KM": "heads of the columns of S_B_COUNTRY",
    "bs_6399_2.TOWN_DISTANCES_KM": "heads of the columns of S_B_TOWN",
    "en_12056_3.FALLS_MM_M": "heads of the columns of LENGTH_FACTORS",
    "en_12056_3._LEVEL_SECOND_HAND": "which rows of LENGTH_FACTORS have the weaker basis",
    "en_12056_3._ROW_SECOND_HAND": "which rows of LENGTH_FACTORS have the weaker basis",
    "en_1991_1_4._H": "a cell that all rows of TABLE_7_2 share, Cited there",
}
"""Plain numbers of a module that need no source of their own, each with its reason."""

DOCUMENTS = [p.stem for p in sorted(STANDARDS.glob("*.py")) if p.stem != "__init__"]


def faults(value: Any, name: str) -> Iterator[str]:
    """Yield the numbers within a value that nobody vouches for."""
    if isinstance(value, Known):
        yield from incomplete(value, name)
    elif isinstance(value, bool) or value is None or value == float("inf"):
        return
    elif isinstance(value, int | float | complex):
        yield f"{name} = {value}: a bare number"
    elif dataclasses.is_dataclass(value) and not isinstance(value, type):
        yield from _row(value, name)
    elif isinstance(value, dict):
        for key, item in value.items():
            yield from faults(item, f"{name}[{key!r}]")
    elif isinstance(value, list | tuple | set | frozenset):
        heads = _heads(list(value)) if "[" in name else 0
        for index, item in list(enumerate(value))[heads:]:
            yield from faults(item, f"{name}[{index}]")
    elif type(value).__module__ == "numpy":
        yield f"{name}: an array carries no source"


def _heads(row: list[Any]) -> int:
    """Count what stands before the first Cited of a table's row: words and heads of the row."""
    return next((n for n, item in enumerate(row) if any(_known(item))), 0)


def _known(value: Any) -> Iterator[bool]:
    """Look for a Cited, or a row with source and basis, anywhere within a value."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        yield bool(getattr(value, "source", "")) and getattr(value, "basis", "") in BASES
        value = [getattr(value, f.name) for f in dataclasses.fields(value)]
    if isinstance(value, dict):
        value = list(value.values())
    if isinstance(value, list | tuple):
        yield from (known for item in value for known in _known(item))
    yield isinstance(value, Known)


def _row(row: Any, name: str) -> Iterator[str]:
    """A row vouches for its plain numbers by source and basis, or by a Cited beside them."""
    fields = {f.name: getattr(row, f.name) for f in dataclasses.fields(row)}
    vouched = any(_known(row))
    for key, value in fields.items():
        plain = isinstance(value, int | float) and not isinstance(value, Known)
        if not (vouched and (plain or fields.get("basis"))):
            yield from faults(value, f"{name}.{key}")


def incomplete(value: Known, name: str) -> Iterator[str]:
    for part in ("unit", "source", "where"):
        if not str(getattr(value, part)).strip():
            yield f"{name}: no {part}"
    if not isinstance(value, Cited) or value.basis not in BASES:
        yield f"{name}: neither measured nor demo numbers stand in standards"


def of_module(module: ModuleType) -> list[str]:
    short = module.__name__.rsplit(".", 1)[1]
    own = {k: v for k, v in vars(module).items() if not k.startswith("__")}
    names = {f"{short}.{k}": v for k, v in own.items() if f"{short}.{k}" not in COMMON_KNOWLEDGE}
    return [fault for name, value in names.items() for fault in faults(value, name)]


def test_every_number_has_source_and_basis() -> None:
    loaded = [importlib.import_module(f"evenfall.standards.{name}") for name in DOCUMENTS]
    found = [fault for module in loaded for fault in of_module(module)]
    assert not found, "\n".join(found)


def test_every_document_says_what_it_is() -> None:
    texts = {n: importlib.import_module(f"evenfall.standards.{n}").__doc__ for n in DOCUMENTS}
    assert [name for name, text in texts.items() if not text] == []


def test_common_knowledge_still_exists() -> None:
    for name in COMMON_KNOWLEDGE:
        module, _, key = name.partition(".")
        assert hasattr(importlib.import_module(f"evenfall.standards.{module}"), key)


@dataclasses.dataclass
class Row:
    name: str
    value: float
    source: str = ""
    basis: str = ""


GOOD = Cited(0.04, "m2K/W", "ISO 6946", "Table 7", "from memory")


@pytest.mark.parametrize(
    "value",
    [0.04, 3, {"a": 0.1}, (GOOD, 0.2), ((GOOD, 0.2),), ((1, "a"),), [[1.5]], Row("a", 0.1),
     Row("a", 0.1, "ISO 6946"), Row("a", 0.1, "ISO 6946", "hearsay"),
     Cited(0.04, "m2K/W", "ISO 6946", " ", "from memory")],
)  # fmt: skip
def test_a_planted_number_is_found(value: Any) -> None:
    assert len(list(faults(value, "x"))) == 1


def test_a_planted_module_is_found() -> None:
    module = ModuleType("evenfall.standards.planted")
    module.__dict__.update(R_SI=0.13, R_SE=GOOD, MONTHS=("Jan",))
    assert of_module(module) == ["planted.R_SI = 0.13: a bare number"]


@pytest.mark.parametrize(
    "value",
    [
        GOOD,
        {1: GOOD},
        ((0.3, GOOD),),
        (("A", 2, Row("b", 0.1, "ISO 6946", "published")),),
        (GOOD, GOOD),
        "words",
        True,
        None,
        Row("a", 0.1, "ISO 6946", "published"),
    ],
)
def test_numbers_with_source_and_basis_are_let_through(value: Any) -> None:
    assert list(faults(value, "x")) == []

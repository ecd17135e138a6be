"""The shape of the price book: which tables it has, and what a workbook calls their columns."""

from __future__ import annotations

import types
import typing
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal

from pydantic import BaseModel

from evenfall.model.rates import Rates

Kind = Literal["one", "many", "inner"]
OWNER = "of"
"""Column of an inner table that names the entry it belongs to."""


@dataclass(frozen=True, slots=True)
class SheetShape:
    """One sheet: a table of keys and values, a list of tables, or a list within each of a list."""

    name: str  # boards, boards.sizes
    kind: Kind
    model: type[BaseModel]

    @property
    def columns(self) -> tuple[str, ...]:
        """Keys of its plain values, a table's within it after a point: ``in_timber.diameter_mm``.

        Lists of tables have sheets of their own.
        """
        return tuple(_columns(self.model))


def _columns(model: type[BaseModel]) -> Iterator[str]:
    for name, field in model.model_fields.items():
        held = _held(field.annotation)
        if held is not None:
            yield from (f"{name}.{key}" for key in _columns(held))
        elif inner(field.annotation) is None:
            yield name


def _held(kind: Any) -> type[BaseModel] | None:
    """Find the model of a table within a table, which may be left out."""
    if typing.get_origin(kind) is tuple:
        return None
    parts = typing.get_args(kind) or (kind,)
    return next((p for p in parts if isinstance(p, type) and issubclass(p, BaseModel)), None)


def shapes() -> tuple[SheetShape, ...]:
    """List the sheets of a price book in the order of its file.

    Returns
    -------
    tuple of SheetShape
        One for each table [-].

    Examples
    --------
    >>> [s.name for s in shapes()][:5]
    ['rates', 'firm', 'firm.emergency', 'boards', 'boards.sizes']
    """
    return tuple(_shapes())


def _shapes() -> Iterator[SheetShape]:
    for name, field in Rates.model_fields.items():
        listed = inner(field.annotation)
        if listed is not None:
            yield from _listed(name, "many", listed)
        elif isinstance(field.annotation, type) and issubclass(field.annotation, BaseModel):
            yield from _listed(name, "one", field.annotation)


def _listed(name: str, kind: Kind, model: type[BaseModel]) -> Iterator[SheetShape]:
    yield SheetShape(name, kind, model)
    for key, field in model.model_fields.items():
        listed = inner(field.annotation)
        if listed is not None:
            yield SheetShape(f"{name}.{key}", "inner", listed)


def inner(kind: Any) -> type[BaseModel] | None:
    """Find the model of a list of tables; None for anything else.

    Parameters
    ----------
    kind : type
        Annotation of a field [-].

    Returns
    -------
    type or None
        The model of its entries [-].
    """
    args = typing.get_args(kind)
    if typing.get_origin(kind) is typing.Annotated:
        return inner(args[0])
    if typing.get_origin(kind) is tuple and isinstance(args[0], type):
        return args[0] if issubclass(args[0], BaseModel) else None
    return None


def is_list(kind: Any) -> bool:
    """Tell whether a field holds a list of plain values.

    Parameters
    ----------
    kind : type
        Annotation of a field [-].

    Returns
    -------
    bool
        Whether its cell holds several values [-].

    Examples
    --------
    >>> is_list(tuple[int, ...]), is_list(int), is_list(tuple[int, ...] | None)
    (True, False, True)
    """
    origin = typing.get_origin(kind)
    if origin is typing.Annotated:
        return is_list(typing.get_args(kind)[0])
    if origin in (typing.Union, types.UnionType):
        return any(is_list(a) for a in typing.get_args(kind))
    return origin is tuple and inner(kind) is None
